"""``python tests/packaging/lowest.py`` prints pip constraints: every dependency at its lower bound.

The bounds are those of pyproject.toml. ``.ci/run`` installs with them, and runs the tests beside
this file, so that a bound which is too low is seen.
"""

from __future__ import annotations

import tomllib
from pathlib import Path

from packaging.requirements import Requirement

ROOT = Path(__file__).parents[2]


def dependencies() -> list[Requirement]:
    """What the program needs where it is installed, as pyproject.toml says it."""
    said = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    return [Requirement(one) for one in said["project"]["dependencies"]]


def lowest(requirement: Requirement) -> str:
    """The lower bound of a dependency. Raises ``ValueError`` where it is no plain one."""
    (only,) = requirement.specifier
    if only.operator != ">=":
        raise ValueError(f"{requirement} has no plain lower bound")
    return only.version


if __name__ == "__main__":
    for each in dependencies():
        print(f"{each.name}=={lowest(each)}")
