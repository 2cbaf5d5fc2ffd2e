"""“Just below the boil” is a heat of its own, with both ends; “below the boil” is a bound."""

from fractions import Fraction

import pytest
from expecting import findings, plan_of

from procedure.quantity.interval import Interval

TEXT = """wet out yarn in tub with water 5 L at 30 °C for 1 h
gold-bath: prepare in kettle with water 4 L, weld 50 g at 30 °C
{step}
discard gold-bath to "foul drain"
"""


def heat_of(step: str) -> Interval | None:
    """The heats of the third step, in °C."""
    return plan_of(TEXT.format(step=step)).trace.moments[2].heat


# A simmer is 80 to 95 °C here (common practice; words.csv).
@pytest.mark.parametrize(
    "step",
    [
        "heat gold-bath to just below the boil",
        "hold gold-bath at just below the boil for 1 h",
        "simmer gold-bath just under the boil for 1 h",
        "simmer gold-bath below the boil for 1 h",
    ],
)
def test_just_below_the_boil_keeps_its_lower_end(step: str) -> None:
    assert heat_of(step) == Interval(Fraction(80), Fraction(95))


def test_just_below_a_number_is_a_bound_still() -> None:
    heat = heat_of("heat gold-bath to just below 60 °C")
    assert heat is not None
    assert heat.low < 20
    assert heat.high == 60


def test_a_simmer_with_a_ceiling_keeps_the_heat_at_which_it_begins() -> None:
    assert heat_of("simmer gold-bath for 1 h never above 90 °C") == Interval(
        Fraction(80), Fraction(90)
    )
    assert heat_of("simmer gold-bath below 90 °C for 1 h") == Interval(Fraction(80), Fraction(90))


@pytest.mark.parametrize("most", ["below 80 °C", "never above 80 °C", "never above 70 °C"])
def test_a_simmer_below_the_heat_at_which_one_begins_is_an_error(most: str) -> None:
    told = findings(TEXT.format(step=f"simmer gold-bath for 1 h {most}"), "error")
    assert {one.rule for one in told} == {"above-its-ceiling"}


def test_a_simmer_that_may_be_as_hot_as_it_begins_and_more_is_none() -> None:
    assert not findings(TEXT.format(step="simmer gold-bath for 1 h below 85 °C"), "error")
