"""Cooks' measures on the sheet: what is printed, and whether it adds up as it is read."""

from __future__ import annotations

from fractions import Fraction

import pytest
from expecting import plan_of

from procedure.paper.measures import Voice
from procedure.quantity.rounding import at_most
from procedure.report.weigh_measures import as_printed
from procedure.report.weigh_sheet import sheet
from procedure.report.weigh_text import Estimates, Request, report
from procedure.rework.whole_skeins import whole_pieces
from procedure.weigh.weighing import weigh

# Weights and Measures Act 1985, sch. 1: a pint is 0.56826125 L, a pound 453.59237 g.
PINT, OUNCE = Fraction("0.56826125"), Fraction("453.59237") / 16


@pytest.mark.parametrize(
    ("said", "grams_or_litres"),
    [
        ("1/2 imp pt", PINT / 2),
        ("2 imp gal 1 1/2 pt", PINT * Fraction(35, 2)),
        ("1 lb 12.2 oz", OUNCE * Fraction("28.2")),
        ("0.28 oz (8 g)", OUNCE * Fraction("0.28")),
        ("at least 9 imp gal", PINT * 72),
    ],
)
def test_what_is_printed_is_read_back(said: str, grams_or_litres: Fraction) -> None:
    assert as_printed(said) == grams_or_litres


def printed(steps: str, system: str) -> str:
    """The rows and totals of some steps as text, in one line."""
    made = weigh(plan_of(steps))
    return " ".join(report(made, [], Estimates([], [], []), Request((), None, ()), system).split())


ROUNDS = """repeat at least 3 times until "the water runs clear"
  rinse yarn in tub with water 3 imp gal at 30 °C
dry yarn
"""


def test_rounds_are_told_in_the_units_asked_for_and_their_sum_as_cooks_say_it() -> None:
    """Three times 3 imperial gallons (13.638 L) is 9: 10.81 US gallons, or 40.9 L."""
    assert "at least 9 imp gal water; 3 or more times 3 imp gal" in printed(ROUNDS, "imperial")
    assert "at least 41 L water; 3 or more times 13.6 L" in printed(ROUNDS, "metric")
    assert "at least 11 US gal water; 3 or more times 3 5/8 US gal" in printed(ROUNDS, "us")


def test_it_is_said_only_of_what_does_not_add_up_as_it_is_printed() -> None:
    """10 L is printed as 2 5/8 US gallons, 20 L as 5 1/4, and 30 L as 8: not thrice 2 5/8."""
    rinse = "rinse yarn in tub with water 10 L at 30 °C\n"
    made = sheet(weigh(plan_of(f"{rinse * 2}dry yarn\n")), "us")
    assert [shown[0].text for shown in (*made.rows, *made.totals)] == [
        "2 5/8 US gal",
        "2 5/8 US gal",
        "5 1/4 US gal",
    ]
    assert made.uneven == ()
    assert sheet(weigh(plan_of(f"{rinse * 3}dry yarn\n")), "us").uneven == ("water",)


def test_what_is_promised_is_never_more_and_told_in_the_units_asked_for() -> None:
    """A fifth of 14 oz is 2.8 oz, 3.27 oz is 3 1/4; 142.86 g beside 47.62 g go to a tenth."""
    told = at_most({"a": OUNCE * 14 / 5, "b": OUNCE * Fraction("3.27")}, OUNCE)
    assert told == {"a": OUNCE * Fraction("2.8"), "b": OUNCE * Fraction("3.25")}
    assert at_most({"a": Fraction(1000, 7), "b": Fraction(1000, 21)}) == {
        "a": Fraction("142.8"),
        "b": Fraction("47.6"),
    }


def test_what_is_promised_is_told_in_whole_skeins_where_one_would_be_cut() -> None:
    plan = plan_of("fibre\n  wool: wool yarn, 4 skeins of 50 g, scoured\nsteps\n  dry wool\n")
    assert whole_pieces(plan, {"wool": Fraction(170)}) == [
        "In whole skeins or pieces, none of them cut: 3 of wool."
    ]
    assert whole_pieces(plan, {"wool": Fraction(150)}) == []


@pytest.mark.parametrize("litres", ["54.4", "13.638", "20.26", "100.4"])
def test_the_sheet_and_the_handout_print_one_amount_alike(litres: str) -> None:
    """However little the other rows of the same thing are."""
    rinse = f"rinse yarn in tub with water {litres} L\nrinse yarn in tub with water 1.25 L\n"
    made = weigh(plan_of(rinse))
    shown = sheet(made)
    for row, (one,) in zip(made.rows, shown.rows, strict=True):
        assert one.text == _on_a_paper(row.low)
    for whole, (one,) in zip(made.totals, shown.totals, strict=True):
        assert one.text == _on_a_paper(whole.low)


def _on_a_paper(exact: Fraction | None) -> str:
    assert exact is not None
    return Voice("metric").amount("volume", exact, exact).replace("\u00a0", " ")
