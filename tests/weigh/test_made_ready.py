"""What was gathered or cut with its amount, and is then taken with none: all of it, once."""

from __future__ import annotations

from fractions import Fraction

import pytest
from expecting import findings, plan_of

from procedure.weigh.weighing import weigh

HEAD = """fibre
  yarn: wool yarn, 100 g, scoured
equipment
  bag: net bag, for dyeing only
materials
  meadow: goldenrod, fresh
steps
"""


def total(steps: str) -> Fraction | None:
    found = weigh(plan_of(HEAD + steps)).total("meadow", "mass")
    return found.low if found is not None and found.low == found.high else None


@pytest.mark.parametrize(
    "steps",
    [
        "  gather meadow 4 : 1 of yarn\n  put meadow in bag\n",
        "  gather meadow 400 g\n  chop meadow\n  b: prepare in kettle with water 5 L, meadow\n",
        "  chop meadow 400 g\n  b: prepare in kettle with water 5 L\n  add meadow to b\n",
    ],
)
def test_all_of_it_is_taken(steps: str) -> None:
    assert total(steps) == 400
    assert "amount-unstated" not in {one.rule for one in findings(HEAD + steps)}


def test_what_is_left_of_it_is_taken() -> None:
    steps = (
        "  chop meadow 300 g\n  a: prepare in kettle with water 5 L, meadow 100 g\n"
        "  b: prepare in pan with water 5 L, meadow\n"
    )
    assert total(steps) == 300
    rows = [one for one in weigh(plan_of(HEAD + steps)).rows if one.thing == "meadow"]
    first, second = (one for one in rows if one.counts)
    assert (first.low, first.note) == (Fraction(100), "")
    assert (second.low, second.note) == (Fraction(200), "all that was made ready")


def test_no_amount_stays_a_gap_where_none_was_made_ready() -> None:
    steps = "  chop meadow\n  b: prepare in kettle with water 5 L, meadow\n"
    assert "amount-unstated" in {one.rule for one in findings(HEAD + steps)}


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ("vinegar 1 US cup", "a cup is a loose measure"),
        ("vinegar 1 metric tablespoon", "a spoon is a loose measure"),
        ("alum 1 teaspoon", "a spoon is a loose measure"),
    ],
)
def test_a_cup_is_no_spoon(said: str, told: str) -> None:
    rows = weigh(plan_of(f"  b: prepare in kettle with water 5 L, {said}\n")).rows
    assert rows[-1].note == told
