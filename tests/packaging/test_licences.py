"""The licences of everything that the program is installed with, and that they go with its own.

What a package says of itself is read from its metadata: ``License-Expression`` (PEP 639), else
the classifier, else the ``License`` field. ``python tests/packaging/test_licences.py`` prints them.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from importlib.metadata import PackageNotFoundError, metadata, requires

import pytest
from lowest import dependencies
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

# SPDX identifiers of licences under which a program under MIT may be installed with a library
# unchanged, as far as the Open Source Initiative's list and the texts themselves go. No lawyer
# has looked at it.
FITTING = {
    "0BSD", "Apache-2.0", "BSD-2-Clause", "BSD-3-Clause", "CC0-1.0", "HPND", "ISC", "MIT",
    "MIT-CMU", "MPL-2.0", "PSF-2.0", "Python-2.0", "Unlicense", "Zlib",
}  # fmt: skip
# What packages wrote before there were identifiers.
WRITTEN = {
    "Apache Software License": "Apache-2.0",
    "Apache 2.0": "Apache-2.0",
    "Apache License 2.0": "Apache-2.0",
    "Apache License, Version 2.0": "Apache-2.0",
    "BSD License": "BSD-3-Clause",
    "ISC License (ISCL)": "ISC",
    "3-Clause BSD License": "BSD-3-Clause",
    "MIT License": "MIT",
    "Python Software Foundation License": "PSF-2.0",
    "Mozilla Public License 2.0 (MPL 2.0)": "MPL-2.0",
}
# What the direct dependencies were under when they were chosen: a change is to be looked at.
CHOSEN = {
    "anyascii": {"ISC"},
    "argcomplete": {"Apache-2.0"},
    "colour-science": {"BSD-3-Clause"},
    "fonttools": {"MIT"},
    "ghs-hazard-pictogram": {"MIT"},
    "graphviz": {"MIT"},
    "icalendar": {"BSD-2-Clause", "BSD-3-Clause"},
    "lark": {"MIT"},
    "networkx": {"BSD-3-Clause"},
    "numpy": {"BSD-3-Clause", "0BSD", "MIT", "Zlib", "CC0-1.0"},
    "ortools": {"Apache-2.0"},
    "platformdirs": {"MIT"},
    "pygls": {"Apache-2.0"},
    "pygraphviz": {"BSD-3-Clause"},
    "pypdf": {"BSD-3-Clause"},
    "segno": {"BSD-3-Clause"},
    "typst": {"Apache-2.0"},
    "tzdata": {"Apache-2.0"},
}


def licence_of(name: str) -> set[str]:
    """The SPDX identifiers that a package's own metadata gives; what is no identifier as written.

    Raises ``PackageNotFoundError`` where it is not installed.
    """
    about = metadata(name)
    said = _first(about.get_all("License-Expression"))
    if said:
        return set(re.split(r"\s+(?:AND|OR|WITH)\s+", said.replace("(", "").replace(")", "")))
    listed = [
        line.rpartition(" :: ")[2]
        for line in about.get_all("Classifier") or []
        if line.startswith("License :: OSI Approved :: ")
    ]
    field = _first(about.get_all("License")).partition("\n")[0].strip()
    return {WRITTEN.get(one, one) for one in listed or [field or "nothing"]}


def _first(values: list[str] | None) -> str:
    return values[0] if values else ""


def installed() -> Iterator[str]:
    """Every package that the program brings with it here, direct or not, by name."""
    seen: set[str] = set()
    due = dependencies()
    while due:
        one = due.pop()
        name = canonicalize_name(one.name)
        if name in seen or (one.marker is not None and not one.marker.evaluate({"extra": ""})):
            continue
        seen.add(name)
        yield name
        due += [Requirement(said) for said in requires(name) or []]


@pytest.mark.parametrize("name", sorted(installed()))
def test_every_licence_goes_with_ours(name: str) -> None:
    assert licence_of(name) <= FITTING


@pytest.mark.parametrize("name", sorted({canonicalize_name(one.name) for one in dependencies()}))
def test_what_was_chosen_is_still_under_its_licence(name: str) -> None:
    try:
        said = licence_of(name)
    except PackageNotFoundError:  # not for this system
        assert name in CHOSEN
        return
    # Newer metadata of a package may name the parts that it carries more exactly.
    assert said & CHOSEN[name]


if __name__ == "__main__":
    for each in sorted(installed()):
        print(f"{each}: {', '.join(sorted(licence_of(each)))}")
