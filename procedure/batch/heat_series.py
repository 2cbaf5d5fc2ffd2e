"""What can be said of a series of heats, from a record or a logger's file.

Minutes are counted from midnight of the first day, heats are °C. Between two readings the
heat is taken to go straight from the one to the other.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise

from procedure.batch.types import HeatReading, StepDone
from procedure.model.quantity import Quantity
from procedure.quantity.record import NamedTuple


class Rise(NamedTuple):
    """The fastest rise: °C in a minute, and between which minutes."""

    rate: Fraction
    begins: Fraction
    ends: Fraction


class Band(NamedTuple):
    """What was planned at a minute from the step's beginning: from ``low`` to ``high`` °C."""

    minute: Fraction
    low: Fraction
    high: Fraction


# ------------------------------------------------------------------ what it says


def time_above(series: Sequence[HeatReading], limit: Fraction) -> Fraction:
    """Minutes for which the heat was above a limit."""
    total = Fraction(0)
    for one, two in pairwise(series):
        low, high = sorted((one.heat, two.heat))
        if low >= limit:
            total += two.minute - one.minute if high > limit else 0
        elif high > limit:
            total += (two.minute - one.minute) * (high - limit) / (high - low)
    return total


def hottest(series: Sequence[HeatReading]) -> HeatReading:
    """The first reading of the greatest heat. Raises ``ValueError`` where there is none."""
    return max(series, key=lambda one: (one.heat, -one.minute))


def fastest_rise(series: Sequence[HeatReading], least: Fraction = Fraction(1)) -> Rise | None:
    """The fastest rise over at least so many minutes; None where the heat never rose.

    Readings closer together than ``least`` are joined, because a thermometer's last digit
    makes any two readings of one second look steep.
    """
    best: Rise | None = None
    begin = 0
    for end in range(1, len(series)):
        while begin + 1 < end and series[end].minute - series[begin + 1].minute >= least:
            begin += 1
        one, two = series[begin], series[end]
        if two.minute - one.minute < least or two.heat <= one.heat:
            continue
        rate = (two.heat - one.heat) / (two.minute - one.minute)
        if best is None or rate > best.rate:
            best = Rise(rate, one.minute, two.minute)
    return best


def integral(series: Sequence[HeatReading], base: Fraction = Fraction(0)) -> Fraction:
    """Degree hours above a base heat: how much warmth the fibre had in all."""
    total = Fraction(0)
    for one, two in pairwise(series):
        above = [max(one.heat - base, Fraction(0)), max(two.heat - base, Fraction(0))]
        minutes = two.minute - one.minute
        if (one.heat - base) * (two.heat - base) < 0:  # it crosses the base on the way
            minutes *= max(above) / abs(two.heat - one.heat)
        total += minutes * sum(above) / 2 / 60
    return total


# ------------------------------------------------------------------ the plan


def planned_band(step: StepDone) -> tuple[Band, ...]:
    """The heats that a step planned, from its beginning on; empty where it planned none.

    The rise goes from ``from`` to ``to`` (or ``at``) over ``over``, and is then held for
    ``for``. Where a time was planned as a range, its middle is taken.
    """
    begin = _planned(step, "from", "temperature")
    end = _planned(step, "to", "temperature") or _planned(step, "at", "temperature")
    rise = _middle(_planned(step, "over", "time"))
    hold = _middle(_planned(step, "for", "time"))
    if end is None:
        return ()
    points: list[Band] = []
    if begin is not None and rise:
        points.append(Band(Fraction(0), *begin))
    points.append(Band(rise if points else Fraction(0), *end))
    if hold:
        points.append(Band(points[-1].minute + hold, *end))
    return tuple(points) if len(points) > 1 else ()


def _planned(step: StepDone, word: str, kind: str) -> tuple[Fraction, Fraction] | None:
    answer = step.answer(word)
    planned = answer.planned if answer is not None else None
    if not isinstance(planned, Quantity) or planned.kind != kind:
        return None
    low, high = planned.low, planned.high
    if low is None and high is None:
        return None
    return (high if low is None else low), (low if high is None else high)  # type: ignore[return-value]


def _middle(ends: tuple[Fraction, Fraction] | None) -> Fraction:
    return Fraction(0) if ends is None else (ends[0] + ends[1]) / 2


def planned_integral(
    band: Sequence[Band], base: Fraction = Fraction(0)
) -> tuple[Fraction, Fraction]:
    """Degree hours above a base that a plan gives, from least to most."""
    low = [HeatReading(point.minute, point.low) for point in band]
    high = [HeatReading(point.minute, point.high) for point in band]
    return integral(low, base), integral(high, base)
