"""A class is found by its name: it stands once in the house.

The room that reads prose has its own ideas of a step, a lot or an amount, which are not yet those
of the language; they are listed, and no others may be called alike.
"""

from __future__ import annotations

import ast
from collections import defaultdict

from test_order_of_rooms import HOUSE

# What the prose says, beside what the language means by the same word.
OF_PROSE = frozenset("Amount Course Line Lot Measured Named Note Part Placed Step Stock".split())


def test_a_name_of_a_class_stands_once() -> None:
    found: dict[str, list[str]] = defaultdict(list)
    for file in sorted(HOUSE.rglob("*.py")):
        for one in ast.parse(file.read_text("utf-8")).body:
            if isinstance(one, ast.ClassDef) and not one.name.startswith("_"):
                found[one.name].append(file.relative_to(HOUSE).as_posix())
    assert len(found) > 400
    twice = {name: files for name, files in found.items() if len(files) > 1}
    beside = {
        name
        for name, files in twice.items()
        if len(files) == 2 and sum(file.startswith("draft/") for file in files) == 1
    }
    assert {name: twice[name] for name in twice.keys() - (beside & OF_PROSE)} == {}
    assert beside == OF_PROSE, "a name that stands once by now: take it off the list"
