"""Customary amounts as cooks and dyers measure them: ½ imp pt, 3½ US gal, 1 lb 9 oz.

Of a volume a vulgar fraction is printed where it strays by no more than :data:`STRAYS` from
the amount, the plainest first; where none does, the amount is printed in decimals. How far
it may stray is the project's choice: jugs in a kitchen tell no less. A weight is told as a
scale in ounces tells it.
"""

from __future__ import annotations

from fractions import Fraction
from math import floor

from procedure.quantity.interval import ENDLESS
from procedure.quantity.number_words import in_two, mixed, ranged
from procedure.vocabulary import vocabulary

HARD_SPACE = "\u00a0"
STRAYS = Fraction(1, 50)
# The plainest first: whole ones, halves, quarters, eighths.
_STEPS = (Fraction(1), Fraction(1, 2), Fraction(1, 4), Fraction(1, 8))
# From half a unit on, that unit is used; below, the next.
_VOLUMES = {
    "us": ("US gal", "US qt", "US pt", "US fl oz"),
    "imperial": ("imp gal", "imp pt", "imp fl oz"),
}
LEAST = Fraction(49, 100)
# From so many gallons on, what no plain fraction tells is said in gallons and pints.
MANY_GALLONS = 2
# A scale in ounces tells tenths; a quarter is what strays from one by no more than these, a
# part of it and so many ounces. Half an ounce is the least that tenths are fine enough for:
# below it, where a tenth strays by more than that, the grams are given too (the project's
# choice).
OUNCES = 16
EXACT, NEAR, TOO_COARSE = Fraction(1, 200), Fraction(3, 100), Fraction(3, 100)
HALF_OUNCE = Fraction(1, 2)
# Of a smaller unit than the largest, nobody counts more: four gallons are no 35 pints.
MOST = 16


def plainest(value: Fraction, strays: Fraction = STRAYS) -> Fraction | None:
    """The plainest fraction near a number; None where none is near enough.

    ``strays`` is how far it may be from it, as a share of it.
    """
    for step in _STEPS:
        near = floor(value / step + Fraction(1, 2)) * step
        if near and abs(near - value) <= value * strays:
            return near
    return None


def for_script(customary_mass: bool, system: str) -> dict[str, object]:
    """What ``recalculate.js`` needs to tell amounts as this file does; ``system`` is that of
    the volumes (metric, us, imperial)."""
    units = vocabulary().units
    imperial = system == "imperial"
    return {
        "ounce": str(units["oz"].factor) if customary_mass else "",
        "volumes": [[name, str(units[name].factor)] for name in _VOLUMES.get(system, ())],
        "gallons": str(units["imp gal"].factor * MANY_GALLONS) if imperial else "",
        "pint": str(units["imp pt"].factor),
        "least": str(LEAST),
        "strays": str(STRAYS),
        "exact": str(EXACT),
        "near": str(NEAR),
        "most": str(MOST),
        "coarse": str(TOO_COARSE),
    }


def volume(system: str, low: Fraction, high: Fraction, strays: Fraction = STRAYS) -> str:
    """Litres in US or imperial measures; empty where no plain fraction is near them."""
    for name in _VOLUMES[system]:
        holds = vocabulary().units[name].factor
        if name == "imp pt" and high >= vocabulary().units["imp gal"].factor * MANY_GALLONS:
            break
        if high / holds < LEAST and name != _VOLUMES[system][-1]:
            continue
        if high / holds > MOST and name != _VOLUMES[system][0]:
            continue
        ends = plainest(low / holds, strays) if low else Fraction(0), plainest(high / holds, strays)
        if ends[0] is not None and ends[1] is not None:
            return _range(mixed(ends[0]), mixed(ends[1]), name)
    gallon, pint = (vocabulary().units[f"imp {name}"].factor for name in ("gal", "pt"))
    if system == "imperial" and low == high and high >= gallon * MANY_GALLONS:
        return _gallons(floor(high / pint * 2 + Fraction(1, 2)) / Fraction(2))
    return ""


def _gallons(pints: Fraction) -> str:
    whole, rest = divmod(pints, 8)
    said = f"{whole}{HARD_SPACE}imp{HARD_SPACE}gal"
    return f"{said} {mixed(rest)}{HARD_SPACE}pt" if rest else said


def mass(low: Fraction, high: Fraction, fine: bool = False) -> str:
    """Grams in pounds and ounces, as a scale in ounces tells them: in tenths, and in quarters
    where that is what it is.

    Below half an ounce a tenth may be too coarse; then an eighth or two figures are given, with
    the grams besides, and where no tenth is left, the grams alone. ``fine`` gives three figures,
    for parts that add up to a whole.
    """
    if high == ENDLESS:
        return f"at least {mass(low, low, fine)}"
    units = vocabulary().units
    ounce, pound = units["oz"].factor, units["lb"].factor
    pounds = _quarters(low / pound), _quarters(high / pound)
    if high >= pound * (1 - EXACT) and pounds[0] is not None and pounds[1] is not None:
        return _range(mixed(pounds[0]), mixed(pounds[1]), "lb")
    ends = low / ounce, high / ounce
    told = _told(ends[0]), _told(ends[1])
    if fine and ends[1] >= HALF_OUNCE and told[1] < OUNCES:
        return _range(_parts(ends[0]), _parts(ends[1]), "oz")
    if told[1] >= OUNCES:
        first, last = pounds_of(told[0]), pounds_of(told[1])
        return first if first == last else f"{first} to {last}"
    coarse = ends[1] < HALF_OUNCE and any(
        abs(said - end) > end * TOO_COARSE for said, end in zip(told, ends, strict=True)
    )
    if not coarse and not (fine and ends[1] < HALF_OUNCE):
        return _range(_ounces(told[0]), _ounces(told[1]), "oz")
    grams = _range(decimal(_grams(low)), decimal(_grams(high)), "g")
    if not told[1] or (low and not told[0]):
        return grams
    if fine:
        return f"{_range(_parts(ends[0]), _parts(ends[1]), 'oz')} ({grams})"
    return f"{_range(_small(ends[0]), _small(ends[1]), 'oz')} ({grams})"


def small_ounces(low: Fraction, high: Fraction) -> str:
    """Grams as small parts of an ounce, to two figures: ``0.01 oz``, ``⅛ oz``."""
    ounce = vocabulary().units["oz"].factor
    return _range(_small(low / ounce), _small(high / ounce), "oz")


def _quarters(value: Fraction) -> Fraction | None:
    """The nearest quarter, where that is what the number is; nought stays nought."""
    near = floor(value * 4 + Fraction(1, 2)) / Fraction(4)
    strays = min(value * EXACT, NEAR)
    return near if (near or not value) and abs(near - value) <= strays else None


def _eighths(value: Fraction) -> Fraction | None:
    """The nearest eighth, where a number below one is one: nobody writes it as 0.13."""
    near = floor(value * 8 + Fraction(1, 2)) / Fraction(8)
    return near if near and value < 1 and abs(near - value) <= value * EXACT else None


def _told(ounces: Fraction) -> Fraction:
    """What a scale in ounces shows: a quarter where it is one, else the nearest tenth.

    Below an ounce an eighth is told where it is one: a tenth would stray too far from it.
    """
    near = _quarters(ounces)
    if near is None and HALF_OUNCE <= ounces < 1:
        near = _eighths(ounces)
    return near if near is not None else floor(ounces * 10 + Fraction(1, 2)) / Fraction(10)


def _figures(value: Fraction) -> Fraction:
    """A number to two decimals, to one from ten on."""
    step = Fraction(1, 10) if value >= 10 else Fraction(1, 100)
    return floor(value / step + Fraction(1, 2)) * step


def _grams(value: Fraction) -> Fraction:
    """Grams beside a small part of an ounce: to tenths, below one to hundredths."""
    return _to(value, 10 if value >= 1 else 100)


def _small(value: Fraction) -> str:
    """A small part of an ounce: an eighth where it is one, else to two figures."""
    near = _eighths(value)
    return mixed(near) if near else decimal(_to(value, 100 if value >= Fraction(1, 10) else 1000))


def _to(value: Fraction, parts: int) -> Fraction:
    return Fraction(floor(value * parts + Fraction(1, 2)), parts)


def decimal(value: Fraction) -> str:
    """A number of at most three decimals, without idle noughts."""
    return f"{float(value):.3f}".rstrip("0").rstrip(".")


def _parts(value: Fraction) -> str:
    near = _quarters(value)
    near = _eighths(value) if near is None else near
    return mixed(near) if near is not None else decimal(_figures(value))


def _ounces(value: Fraction) -> str:
    return mixed(value) if (value * 8).denominator == 1 else decimal(value)


def pounds_of(ounces: Fraction) -> str:
    """Ounces as pounds and ounces: ``1 lb 9½ oz``, ``1 lb 0.9 oz``."""
    return in_two(ounces, OUNCES, ("lb", "oz"), _ounces, HARD_SPACE)


def _range(first: str, last: str, unit: str) -> str:
    return f"{ranged(first, last)}{HARD_SPACE}{unit}"
