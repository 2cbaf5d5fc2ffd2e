"""Amounts as a dyer reads them: grams and litres, ounces and gallons.

Everything stays exact up to here. Each thing of a weighing has one step, so that its
rows add up to its total in whichever measures they are printed.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from fractions import Fraction

from procedure.model.quantity import VULGAR
from procedure.paper import kitchen
from procedure.quantity.interval import ENDLESS, Interval, total
from procedure.quantity.number_words import decimals, in_two, ranged, to_places
from procedure.quantity.record import NamedTuple
from procedure.quantity.rounding import (
    FLUID_OUNCE_STEPS,
    GALLON_STEPS,
    MASS_STEPS,
    OUNCE_STEPS,
    VOLUME_STEPS,
    sensible_step,
    shared_ranges,
)
from procedure.vocabulary import vocabulary

SYSTEMS = ("metric", "us", "imperial", "both")
BLANK = "______"
OUNCES_IN_POUND = 16
# From so many grams on, kilograms read better.
KILOGRAMS_FROM = 10_000


class ScaleStep(NamedTuple):
    """What a scale can tell apart: ``kind`` mass (grams) or volume (litres), exact."""

    kind: str
    size: Fraction


class UnitOfSheet(NamedTuple):
    """A unit to print in: how many grams or litres one is, its name, and its steps."""

    factor: Fraction
    name: str
    steps: tuple[tuple[Fraction, Fraction], ...]


def measures(system: str, kind: str, largest: Fraction) -> tuple[UnitOfSheet, ...]:
    """The units in which a kind of amount is printed; ``both`` gives several.

    ``largest`` (grams or litres) chooses between gallons and fluid ounces.
    """
    units = vocabulary().units
    if kind == "mass":
        metric = UnitOfSheet(Fraction(1), "g", MASS_STEPS)
        other: tuple[UnitOfSheet, ...] = (UnitOfSheet(units["oz"].factor, "oz", OUNCE_STEPS),)
    else:
        metric = UnitOfSheet(Fraction(1), "L", VOLUME_STEPS)
        wanted = {"us": ("US",), "imperial": ("imp",), "both": ("US", "imp"), "metric": ()}[system]
        other = tuple(_liquid(nation, largest) for nation in wanted)
    if system == "metric":
        return (metric,)
    return (metric, *other) if system == "both" else other


def _liquid(nation: str, largest: Fraction) -> UnitOfSheet:
    units = vocabulary().units
    gallon = units[f"{nation} gal"]
    if largest >= gallon.factor:
        return UnitOfSheet(gallon.factor, f"{nation} gal", GALLON_STEPS)
    return UnitOfSheet(units[f"{nation} fl oz"].factor, f"{nation} fl oz", FLUID_OUNCE_STEPS)


def ounce_of(system: str) -> Fraction | None:
    """Grams of an ounce where a system weighs in them alone; None where it weighs in grams."""
    return vocabulary().units["oz"].factor if system in ("us", "imperial") else None


class Printed(NamedTuple):
    """Amounts of one thing in one measure, rounded so that they add up to ``total``."""

    measure: UnitOfSheet
    step: Fraction
    rows: tuple[Interval, ...]
    total: Interval


def rounded(
    ranges: Sequence[Interval], measure: UnitOfSheet, scale_step: ScaleStep | None
) -> Printed:
    """Exact amounts of one thing (grams or litres) as they are printed in a measure."""
    inside = [one.over(measure.factor) for one in ranges]
    above = [low for low, _ in inside if low > 0] or [high for _, high in inside if high > 0]
    least = min(above, default=Fraction(1))
    step = sensible_step(least, measure.steps)
    if scale_step is not None and (scale_step.kind == "mass") == (measure.name in ("g", "oz")):
        step = scale_step.size / measure.factor
    made = shared_ranges(inside, step)
    return Printed(measure, step, tuple(made), total(made))


def text_of(ends: Interval, measure: UnitOfSheet, step: Fraction) -> str:
    """A rounded amount with its unit: ``28.8 g``, ``72 to 96 g``, ``1 lb 9.4 oz``."""
    low, high = ends
    if high == ENDLESS:
        return f"at least {text_of(Interval.of(low), measure, step)}"
    name, factor = measure.name, Fraction(1)
    if name == "g" and high >= KILOGRAMS_FROM:
        name, factor = "kg", Fraction(1, 1000)
    elif name == "L" and high < 1 and high > 0:
        name, factor = "mL", Fraction(1000)
    elif name == "oz" and high >= OUNCES_IN_POUND:
        return ranged(_pounds(low, step), _pounds(high, step))
    places = decimals(step * factor)
    first, last = to_places(low * factor, places), to_places(high * factor, places)
    return f"{ranged(first, last)} {name}"


_SYSTEMS = {"US gal": "us", "US fl oz": "us"}


def as_a_kitchen_has_it(exact: Interval, measure: UnitOfSheet, fine: bool = False) -> str:
    """A customary amount as all papers print it; empty for metric ones, and where no jug tells it.

    ``exact`` is in the unit of the measure: ``1/2 imp pt`` for 0.0625 imperial gallons.
    ``fine`` is for parts of a weight, which add up to it.
    """
    if measure.name in ("g", "L") or exact.low < 0 or not exact.high or exact.low == ENDLESS:
        return ""
    if exact.high == ENDLESS:
        said = as_a_kitchen_has_it(Interval.of(exact.low), measure, fine)
        return f"at least {said}" if said else ""
    low, high = exact.low * measure.factor, exact.high * measure.factor
    if measure.name == "oz":
        said = kitchen.mass(low, high, fine)
    else:
        said = kitchen.volume(_SYSTEMS.get(measure.name, "imperial"), low, high)
    return in_plain_signs(said)


def in_plain_signs(said: str) -> str:
    """Fractions as they are typed, for a terminal: ``1 1/2 lb`` for ``1½ lb``."""
    made = ""
    for sign in said.replace(kitchen.HARD_SPACE, " "):
        value = VULGAR.get(sign)
        gap = " " if value is not None and made[-1:].isdigit() else ""
        made += sign if value is None else f"{gap}{value.numerator}/{value.denominator}"
    return made


# A number as it is printed, decimal or with a plain fraction, and the unit after it.
_PRINTED = re.compile(
    r"(?:(\d+(?:\.\d+)?)(?!\S*/) ?)?(?:(\d+)/(\d+) )?((?:US |imp )?[a-z]+(?: oz)?)", re.I
)


def as_printed(said: str) -> Fraction | None:
    """What an amount of customary units comes to as it is printed, in grams or litres.

    ``2 imp gal 1 1/2 pt`` is two gallons and one and a half of their pints. None for a range.
    """
    if " to " in said:
        return None
    units = vocabulary().units
    whole, nation = Fraction(0), ""
    for number, upper, lower, unit in _PRINTED.findall(
        said.removeprefix("at least ").partition(" (")[0]
    ):
        nation = next((one for one in ("US", "imp") if unit.startswith(f"{one} ")), nation)
        known = units.get(f"{nation} {unit}") or units.get(unit)
        part = Fraction(int(upper), int(lower)) if upper else Fraction(0)
        if known is None:
            return None
        whole += (Fraction(number or 0) + part) * known.factor
    return whole


def _pounds(ounces: Fraction, step: Fraction) -> str:
    places = decimals(step)
    return in_two(ounces, OUNCES_IN_POUND, ("lb", "oz"), lambda rest: to_places(rest, places))
