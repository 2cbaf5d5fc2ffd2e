"""What a remedy puts in quotation marks can be written: a step is read, an amount is an amount.

The remedies are those of every rule's example, of the faulty examples and of the beginners'
texts. A piece with “...” in it shows the form only; each gap is first filled with a word or an
amount.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from expecting import findings

import procedure
from procedure.language.everyday_order import heads
from procedure.pipeline import read
from procedure.rules import RULES

HERE = Path(__file__).parents[1]
FAULTY = sorted((HERE.parent / "examples" / "faulty").glob("*.dye"))
BEGINNERS = sorted((HERE / "trials" / "beginners" / "open").glob("*.dye"))
_AMOUNT = re.compile(r"^(?:about )?[\d½¼¾⅓⅔][\d./ ]*(?: to [\d./ ]+)?(?: ?(?:°?[^\W\d_]|%|:)|$)")
_QUOTED = re.compile(r"“([^”]*)”")


def quoted(remedy: str) -> Iterator[str]:
    """The pieces of a remedy that stand in curly quotation marks."""
    yield from _QUOTED.findall(remedy)


def as_line(piece: str) -> str | None:
    """A line of steps that has the piece in it; None where it is a single word or a heading."""
    measured = re.sub(r"\b(water|soap) \.\.\.", r"\1 5 g", piece)
    filled = measured.replace("...", "kettle").strip()
    first = filled.split(" ", 1)[0].lower()
    if first in heads() and " " in filled:
        return filled
    if _AMOUNT.match(filled):
        heat = "°" in filled
        return f"hold it at {filled}" if heat else f"add alum {filled} to it"
    return None


def unread(remedy: str) -> list[str]:
    """The pieces of a remedy that the language would refuse."""
    refused = []
    for piece in quoted(remedy):
        line = as_line(piece)
        if line is None:
            continue
        text = f"steps\n  {line}\n"
        told = [one for one in read(text, "x.dye").findings if one.rule == "cannot-read"]
        if told:
            refused.append(f"“{piece}” of “{remedy}”: {told[0].sentence}")
    return refused


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_a_rules_remedy_can_be_written(rule) -> None:  # type: ignore[no-untyped-def]
    told = [one for one in findings(rule.trips) if one.rule == rule.name]
    assert [piece for one in told for piece in unread(one.remedy)] == []


@pytest.mark.parametrize("path", (*FAULTY, *BEGINNERS), ids=lambda path: path.stem)
def test_a_remedy_for_beginners_can_be_written(path: Path) -> None:
    told = {one.remedy for one in procedure.load(path).findings}
    assert [piece for remedy in sorted(told) for piece in unread(remedy)] == []


@pytest.mark.parametrize(
    ("remedy", "refused"),
    [
        ("Write “wet out yarn in tub with water 5 L for 1 h”.", 0),
        ("Write “wet out yarn onto 5 with”.", 1),
        ("Write “12 g”.", 0),
        ("Write “12 g of of”.", 1),
        ("Write “85 °C (185 °F)”.", 0),
        ("Did you mean “pan”?", 0),
    ],
)
def test_the_reading_back_can_fail(remedy: str, refused: int) -> None:
    assert len(unread(remedy)) == refused
