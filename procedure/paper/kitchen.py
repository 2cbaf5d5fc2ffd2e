"""Customary amounts as cooks and dyers measure them: ½ imp pt, 3½ US gal, 1 lb 9 oz.

A vulgar fraction is printed where it strays by no more than :data:`STRAYS` from the
amount, the plainest first; where none does, the amount is printed in decimals. How far it
may stray is the project's choice: scales and jugs in a kitchen tell no less.
"""

from __future__ import annotations

from fractions import Fraction
from math import floor

from procedure.vocabulary import vocabulary

HARD_SPACE = "\u00a0"
STRAYS = Fraction(1, 50)
# The plainest first: whole ones, halves, quarters, eighths.
_STEPS = (Fraction(1), Fraction(1, 2), Fraction(1, 4), Fraction(1, 8))
_SIGNS = {
    Fraction(1, 8): "⅛",
    Fraction(1, 4): "¼",
    Fraction(3, 8): "⅜",
    Fraction(1, 2): "½",
    Fraction(5, 8): "⅝",
    Fraction(3, 4): "¾",
    Fraction(7, 8): "⅞",
}
# From half a unit on, that unit is used; below, the next.
_VOLUMES = {
    "us": ("US gal", "US qt", "US pt", "US fl oz"),
    "imperial": ("imp gal", "imp pt", "imp fl oz"),
}
LEAST = Fraction(49, 100)
# Of a smaller unit than the largest, nobody counts more: four gallons are no 35 pints.
MOST = 16


def plain(value: Fraction, strays: Fraction = STRAYS) -> Fraction | None:
    """The plainest fraction near a number; None where none is near enough.

    ``strays`` is how far it may be from it, as a share of it.
    """
    for step in _STEPS:
        near = floor(value / step + Fraction(1, 2)) * step
        if near and abs(near - value) <= value * strays:
            return near
    return None


def written(value: Fraction) -> str:
    """A number of whole ones and eighths: ``3½``, ``¼``, ``12``."""
    whole, part = divmod(value, 1)
    return f"{whole or ''}{_SIGNS.get(part, '')}" or "0"


def volume(system: str, low: Fraction, high: Fraction, strays: Fraction = STRAYS) -> str:
    """Litres in US or imperial measures; empty where no plain fraction is near them."""
    for name in _VOLUMES[system]:
        holds = vocabulary().units[name].factor
        if high / holds < LEAST and name != _VOLUMES[system][-1]:
            continue
        if high / holds > MOST and name != _VOLUMES[system][0]:
            continue
        ends = plain(low / holds, strays) if low else Fraction(0), plain(high / holds, strays)
        if ends[0] is not None and ends[1] is not None:
            return _range(written(ends[0]), written(ends[1]), name)
    return ""


def mass(low: Fraction, high: Fraction) -> str:
    """Grams in pounds and ounces; empty where no plain fraction is near them."""
    units = vocabulary().units
    ounce, pound = units["oz"].factor, units["lb"].factor
    pounds = plain(low / pound) if low else Fraction(0), plain(high / pound)
    quarters = all(end is not None and end % Fraction(1, 4) == 0 for end in pounds)
    if high >= pound and quarters and pounds[0] is not None and pounds[1] is not None:
        return _range(written(pounds[0]), written(pounds[1]), "lb")
    ends = plain(low / ounce) if low else Fraction(0), plain(high / ounce)
    if ends[0] is None or ends[1] is None:
        return ""
    if high < pound:
        return _range(written(ends[0]), written(ends[1]), "oz")
    first, last = pounds_of(ends[0]), pounds_of(ends[1])
    return first if first == last else f"{first} to {last}"


def pounds_of(ounces: Fraction) -> str:
    """Whole ounces and eighths as pounds and ounces: ``1 lb 9½ oz``."""
    whole, rest = divmod(ounces, 16)
    parts = [f"{whole}{HARD_SPACE}lb"] if whole else []
    parts += [f"{written(rest)}{HARD_SPACE}oz"] if rest or not whole else []
    return HARD_SPACE.join(parts)


def _range(first: str, last: str, unit: str) -> str:
    said = first if first == last else f"{first} to {last}"
    return f"{said}{HARD_SPACE}{unit}"
