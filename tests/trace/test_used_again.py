"""Plants that came out of a bath and are boiled again: their weight is known, and bought once."""

from __future__ import annotations

from fractions import Fraction

import pytest
from expecting import findings, plan_of

from procedure.pipeline import read
from procedure.quantity.interval import Interval
from procedure.rework.scaling import scale
from procedure.rules.example_kit import whole
from procedure.weigh.weighing import weigh

HUNDRED = Interval(Fraction(100), Fraction(100))
FIRST = """materials
  weld: weld tops, dried
equipment
  bag: net bag, for dyeing only
steps
  first: prepare in kettle with water 4 L, weld 100 g
  simmer first at 85 °C for 1 h
"""
OUT = ("strain first into pan", "lift out weld from first", "take the plants out of first")
AGAIN = (
    "second: boil weld in tub with water 4 L for 1 h",
    "second: boil the weld again for 1 h in tub with water 4 L",
    "second: boil the spent weld a second time in tub with water 4 L",
    "second: boil the same weld once more in tub with fresh water 4 L",
    "second: prepare in tub with water 4 L and the strained weld",
    "second: put the weld back in tub with water 4 L",
    "second: boil the plants again in tub with water 4 L",
    "second: boil the tops again in tub with water 4 L",
    "second: boil the plant matter again in tub with water 4 L",
)


@pytest.mark.parametrize("out", OUT)
@pytest.mark.parametrize("again", AGAIN)
def test_nothing_new_is_weighed(out: str, again: str) -> None:
    text = f"{FIRST}  {out}\n  {again}\n"
    told = {one.rule for one in findings(text)}
    assert not told & {"amount-unstated", "cannot-read", "not-declared", "clause-out-of-place"}
    weighing = weigh(plan_of(text))
    total = weighing.total("weld", "mass")
    assert total is not None and (total.low, total.high) == (Fraction(100), Fraction(100))
    rows = [row for row in weighing.rows if row.thing == "weld"]
    assert [row.counts for row in rows][:1] == [True]
    assert not rows[-1].counts and rows[-1].note == "the same as before, used again"
    assert plan_of(text).trace.final.baths["second"].contents["weld"].grams == HUNDRED


def test_it_grows_with_the_fibre() -> None:
    text = FIRST.replace("weld 100 g", "weld 100 % of yarn") + f"  {OUT[0]}\n  {AGAIN[0]}\n"
    doubled = weigh(scale(read(whole(text), "x.dye"), {"yarn": Fraction(200)}).plan)
    assert doubled.total("weld", "mass").low == 200  # type: ignore[union-attr]


@pytest.mark.parametrize(
    "gone", ['throw out weld to "compost"', "third: boil weld in pan with water 4 L"]
)
def test_what_is_away_is_asked_about(gone: str) -> None:
    text = f"{FIRST}  strain first\n  {gone}\n  {AGAIN[0]}\n"
    assert [one.rule for one in findings(text)].count("amount-unstated") == 1


def test_what_was_never_said_is_asked_once() -> None:
    text = FIRST.replace("weld 100 g", "weld") + f"  {OUT[0]}\n  {AGAIN[0]}\n"
    assert [one.rule for one in findings(text)].count("amount-unstated") == 1


def test_plants_put_back_into_their_own_bath_are_no_more_than_before() -> None:
    text = f"{FIRST}  strain first\n  add weld to first\n"
    assert plan_of(text).trace.final.baths["first"].contents["weld"].grams == HUNDRED


def test_a_name_that_nothing_has_is_one_finding() -> None:
    text = f"{FIRST}  strain first into pan\n  boil the nettles again in tub with water 4 L\n"
    assert [one.rule for one in findings(text, "error")] == ["not-declared"]


def test_half_of_what_nobody_knows_is_asked_about() -> None:
    text = "  b: prepare in kettle with water 4 L, half of weld\n"
    assert "amount-unstated" in {one.rule for one in findings(text)}


def test_two_liquors_of_the_same_plants_hold_no_more_than_the_plants_did() -> None:
    text = f"{FIRST}  {OUT[0]}\n  {AGAIN[0]}\n  strain second\n  add second to first\n"
    assert plan_of(text).trace.final.baths["first"].contents["weld"].grams == HUNDRED


IN_A_BAG = """materials
  weld: weld tops, dried
equipment
  bag: net bag, for dyeing only
steps
  fill bag with weld 100 g
  first: prepare in kettle with water 4 L
  lower bag into first
  simmer first at 85 °C for 1 h
"""


@pytest.mark.parametrize(
    ("further", "bath", "grams"),
    [
        ("take out bag from first\n  lower bag into first", "first", 100),
        ("repeat twice\n    take out bag from first\n    lower bag into first", "first", 100),
        ('if "it is pale"\n    take out bag from first\n    lower bag into first', "first", 100),
        ("second: prepare in tub with water 4 L\n  lower bag into second", "second", 100),
        (
            "take out bag from first\n  second: prepare in tub with water 4 L\n"
            "  lower bag into second\n  take out bag from second\n  add second to first",
            "first",
            100,
        ),
        (
            "take out bag from first\n  fill bag with weld 50 g\n  lower bag into first",
            "first",
            150,
        ),
        ("fill bag with weld 50 g", "first", 150),
        ("sack: fill net with weld 50 g\n  lower net into first", "first", 150),
    ],
)
def test_the_same_bag_lowered_again_brings_nothing_new(further: str, bath: str, grams: int) -> None:
    text = IN_A_BAG.replace("steps", "  net: net bag, for dyeing only\nsteps") + f"  {further}\n"
    found = plan_of(text).trace.final.baths[bath].contents["weld"]
    assert found.grams == Interval(Fraction(grams), Fraction(grams))
