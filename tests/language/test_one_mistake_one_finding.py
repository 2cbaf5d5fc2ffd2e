"""One slip of the pen is one finding, at its line, and no train of what follows from it.

Only what safety says of a step that cannot be read is told beside it: that waits for nothing.
"""

from __future__ import annotations

import random
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from procedure.compare import compare
from procedure.pipeline import read
from procedure.rules import RULES
from procedure.rules.waiting import ASK_FOR_A_STEP

EXAMPLES = sorted(Path("examples").glob("*.dye"))
FAMILIES = {rule.name: rule.family for rule in RULES}
# What may be lost, and by what change it is: the slip and how a line with it looks.
SLIPS = (
    ("a misspelt verb", r"^(\s+(?:[\w-]+: )?[a-z]{2})([a-z])([a-z])([a-z]* )", r"\1\3\2\4"),
    ("a verb that there is not", r"^(\s+(?:[\w-]+: )?)[a-z]{4,} ", r"\1frobble "),
    ("no name behind in", r" in [a-z-]+ with", " in with"),
    ("a unit that there is not", r"(\d) (L|g|min|h)\b", r"\1 zork"),
    ("the last quotation mark", r'"([^"]*)"(?=[^"]*$)', r'"\1'),
    ("the first quotation mark", r'"([^"]*)"(?=[^"]*$)', r'\1"'),
    ("too deep", r"^", "    "),
    ("at the margin", r"^\s+", ""),
    ("a misspelt bath", r"^(\s+(?![\w-]+:)[^\"]*?\b[a-z]+)-bath\b", r"\1-baht"),
)


def slips(text: str, seed: int) -> Iterator[tuple[str, int, str]]:
    """Each slip in one line of the steps, with the number of the line and the changed text."""
    lines = text.split("\n")
    steps = lines.index("steps")
    chosen = random.Random(seed)
    read_as_steps = (at for at in range(steps + 2, len(lines)) if lines[at].strip())
    body = [at for at in read_as_steps if lines[at].split()[0] not in ("#", "note")]
    for name, was, now in SLIPS:
        fitting = [at for at in body if re.search(was, lines[at])]
        changed = [(at, re.sub(was, now, lines[at], count=1)) for at in fitting]
        changed = [(at, line) for at, line in changed if line != lines[at]]
        if changed:
            at, line = chosen.choice(changed)
            yield name, at + 1, "\n".join((*lines[:at], line, *lines[at + 1 :]))


def trains(path: Path) -> list[str]:
    text = path.read_text("utf-8")
    right = read(text, path.name, path)
    before = {(one.rule, one.sentence) for one in right.findings}
    found: list[str] = []
    for name, line, changed in slips(text, len(text)):
        made = read(changed, path.name, path)
        new = [
            f"{one.line} {one.rule}: {one.sentence}"
            for one in made.findings
            if (one.rule, one.sentence) not in before and FAMILIES[one.rule] != "safety"
        ]
        if not new and compare(right, made).same:
            continue  # deeper in a block whose first line it is: it says the same
        if len(new) != 1 or not new[0].startswith(f"{line} "):
            found.append(f"{name} in line {line}: {new}")
    return found


@pytest.mark.parametrize("path", EXAMPLES[::6], ids=lambda path: path.stem)
def test_each_slip_is_one_finding(path: Path) -> None:
    assert trains(path) == []


@pytest.mark.exhaustive
@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_each_slip_in_every_example_is_one_finding(path: Path) -> None:
    assert trains(path) == []


def test_nothing_of_safety_waits_for_a_line() -> None:
    assert {FAMILIES[name] for name in ASK_FOR_A_STEP}.isdisjoint({"safety"})
