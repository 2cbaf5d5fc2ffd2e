"""Intervals of exact numbers: both ends belong to them."""

from __future__ import annotations

from fractions import Fraction

Interval = tuple[Fraction, Fraction]

ZERO: Interval = (Fraction(0), Fraction(0))


def hull(one: Interval | None, two: Interval | None) -> Interval | None:
    """The least interval that holds both; None where either is unknown."""
    if one is None or two is None:
        return None
    return min(one[0], two[0]), max(one[1], two[1])
