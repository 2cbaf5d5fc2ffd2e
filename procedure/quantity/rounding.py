"""Rounding to what a scale can weigh, so that rows add up to their total.

The total is rounded, and the rows share it: each is rounded down, and the steps that
are left go to the rows that lost most. No row strays by a whole step.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from math import floor

from procedure.quantity.interval import ENDLESS, Interval

# The finest step for a least amount of so many (g or L): about one part in a hundred.
MASS_STEPS = (
    (Fraction(10_000), Fraction(10)),
    (Fraction(100), Fraction(1)),
    (Fraction(1), Fraction(1, 10)),
    (Fraction(1, 10), Fraction(1, 100)),
    (Fraction(0), Fraction(1, 1000)),
)
# Of much water nobody measures a tenth of a litre.
VOLUME_STEPS = (
    (Fraction(100), Fraction(1)),
    (Fraction(20), Fraction(1, 2)),
    (Fraction(5), Fraction(1, 10)),
    (Fraction(1), Fraction(1, 100)),
    (Fraction(0), Fraction(1, 1000)),
)
# Ounces, and gallons or fluid ounces, in the same manner.
OUNCE_STEPS = (
    (Fraction(160), Fraction(1, 2)),
    (Fraction(16), Fraction(1, 10)),
    (Fraction(1, 5), Fraction(1, 100)),
    (Fraction(0), Fraction(1, 1000)),
)
GALLON_STEPS = (
    (Fraction(25), Fraction(1, 2)),
    (Fraction(10), Fraction(1, 10)),
    (Fraction(1, 4), Fraction(1, 100)),
    (Fraction(0), Fraction(1, 1000)),
)
FLUID_OUNCE_STEPS = (
    (Fraction(10), Fraction(1, 10)),
    (Fraction(0), Fraction(1, 100)),
)


def sensible_step(least: Fraction, steps: Sequence[tuple[Fraction, Fraction]]) -> Fraction:
    """The step for amounts of which the least is so much; the finest for less than nothing."""
    return next((step for above, step in steps if least >= above), steps[-1][1])


def two_figures(value: Fraction) -> Fraction:
    """A number to two figures, for what is only told and not weighed."""
    return Fraction(f"{float(value):.2g}")


def at_most(weights: Mapping[str, Fraction], ounce: Fraction | None = None) -> dict[str, Fraction]:
    """Weights in grams that a scale can tell, never more than these: for what is promised.

    All are told as finely as the least of them, so that they keep their proportion.
    ``ounce`` is how many grams one is where the scale tells ounces: in tenths and quarters, and
    more finely below half an ounce.
    """
    if ounce is not None:
        return {name: _ounces_at_most(grams, ounce) for name, grams in weights.items()}
    step = sensible_step(min(weights.values(), default=Fraction(1)), MASS_STEPS)
    return {name: floor(grams / step) * step or grams for name, grams in weights.items()}


def _ounces_at_most(grams: Fraction, ounce: Fraction) -> Fraction:
    many = grams / ounce
    parts = (10, 4) if many >= Fraction(1, 2) else (1 / sensible_step(many, OUNCE_STEPS),)
    return max(Fraction(floor(many * part)) / part for part in parts) * ounce or grams


def nearest(one: Interval, step: Fraction) -> Interval:
    """A range with each end at the nearest whole step; an open end stays open."""
    half = Fraction(1, 2)
    low = floor(one.low / step + half) * step
    return Interval(low, ENDLESS if one.open else floor(one.high / step + half) * step)


def shared(values: Sequence[Fraction], step: Fraction) -> list[Fraction]:
    """Values rounded to steps so that they add up to their rounded sum."""
    return [count * step for count in _steps([value / step for value in values], None)]


def shared_ranges(ranges: Sequence[Interval], step: Fraction) -> list[Interval]:
    """Ranges rounded so that both their ends add up, and no low end passes its high end."""
    ended = [high / step for _, high in ranges if high != ENDLESS]
    rounded = iter(_steps(ended, None))
    lows_alone = [floor(low / step) + 1 for low, _ in ranges]
    highs = [
        alone if high == ENDLESS else next(rounded)
        for (_, high), alone in zip(ranges, lows_alone, strict=True)
    ]
    lows = _steps([low / step for low, _ in ranges], highs)
    return [
        Interval(low * step, ENDLESS if one.open else high * step)
        for low, high, one in zip(lows, highs, ranges, strict=True)
    ]


def _steps(values: list[Fraction], ceilings: list[int] | None) -> list[int]:
    """Whole steps for each value; ``ceilings`` are passed only where nothing else adds up."""
    counts = [floor(value) for value in values]
    left = floor(sum(values, Fraction(0)) + Fraction(1, 2)) - sum(counts)
    lost = sorted(
        range(len(values)),
        key=lambda i: (
            ceilings is not None and counts[i] >= ceilings[i],
            -(values[i] - counts[i]),
            i,
        ),
    )
    for i in lost[:left]:
        counts[i] += 1
    return counts
