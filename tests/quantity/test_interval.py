"""Arithmetic of intervals: held against numbers taken from each side, and an end left open."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from procedure.quantity.interval import ENDLESS, ONE, ZERO, Interval, hull, middle, plus, total

NUMBERS = st.fractions(min_value=0, max_value=1000, max_denominator=50)
SHARES = st.fractions(min_value=0, max_value=1, max_denominator=10)


@st.composite
def intervals(draw: st.DrawFn, above: Fraction = Fraction(0)) -> Interval:
    low, wide = draw(NUMBERS) + above, draw(NUMBERS)
    return Interval(low, low + wide)


def within(one: Interval, share: Fraction) -> Fraction:
    """A number of an interval, by how far it lies from the low end."""
    return one.low + (one.high - one.low) * share


@given(intervals(), intervals(Fraction(1, 7)), SHARES, SHARES)
def test_what_comes_of_two_numbers_is_in_what_comes_of_their_intervals(
    one: Interval, two: Interval, here: Fraction, there: Fraction
) -> None:
    a, b = within(one, here), within(two, there)
    assert one.plus(two).holds(a + b)
    assert one.times(two).holds(a * b)
    assert one.over(two).holds(a / b)
    assert one.minus(two).holds(max(a - b, Fraction(0)))
    assert one.hull(two).holds(a) and one.hull(two).holds(b)


@given(intervals(), intervals())
def test_intervals_overlap_where_some_number_is_in_both(one: Interval, two: Interval) -> None:
    both = max(one.low, two.low)
    assert one.overlaps(two) is (one.holds(both) and two.holds(both))


def test_a_heat_below_zero_is_multiplied_the_right_way_round() -> None:
    assert Interval(Fraction(-2), Fraction(3)).times(Interval(Fraction(1), Fraction(2))) == (-4, 6)


def test_it_is_still_a_pair() -> None:
    low, high = Interval(Fraction(1), Fraction(2))
    assert (low, high) == Interval(Fraction(1), Fraction(2)) == (1, 2)


@pytest.mark.parametrize("number", [Fraction(0), Fraction(10**30), 5, 1.5])
def test_no_end_is_above_every_number(number: Fraction) -> None:
    assert number < ENDLESS and number < ENDLESS and number <= ENDLESS and number <= ENDLESS
    assert not (number > ENDLESS or number > ENDLESS or number == ENDLESS)
    assert max(ENDLESS, number) is ENDLESS and min(number, ENDLESS) is number


def test_at_least_an_hour_and_half_an_hour_more() -> None:
    hour = Interval.at_least(Fraction(60))
    more = hour.plus(Interval.of(Fraction(30)))
    assert more.low == 90 and more.open
    assert more.surely_at_least(Fraction(90)) and not more.surely_at_most(Fraction(10**9))
    assert middle(more) == 90
    assert hour.over(60) == Interval.at_least(Fraction(1))
    assert hour.times(ONE) == hour
    assert hour.times(0) == ZERO


def test_taking_away_what_has_no_end_may_leave_nothing() -> None:
    five = Interval.of(Fraction(5))
    assert five.minus(Interval.at_least(Fraction(2))) == (0, 3)
    assert Interval.at_least(Fraction(5)).minus(five).open


def test_no_end_has_no_digits() -> None:
    with pytest.raises(OverflowError):
        round(ENDLESS)
    with pytest.raises(OverflowError):
        int(ENDLESS)
    with pytest.raises(ValueError, match="no end less no end"):
        ENDLESS - ENDLESS
    assert float(ENDLESS) == float("inf") and hash(ENDLESS) == hash(float("inf"))


def test_what_is_unknown_stays_unknown() -> None:
    assert plus(None, ONE) is None and hull(ONE, None) is None and middle(None) is None
    assert total([]) == ZERO and total([ONE, ONE]) == (2, 2)


def test_nothing_is_divided_by_what_may_be_nothing() -> None:
    with pytest.raises(ValueError, match="may be nothing"):
        ONE.over(Interval(Fraction(0), Fraction(2)))
