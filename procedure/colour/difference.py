"""How far two colours are apart: CIELAB, CIEDE2000, and what makes the difference."""

from __future__ import annotations

from math import atan2, cos, degrees, exp, hypot, radians, sin, sqrt

from procedure.colour.space import Colour, adapted
from procedure.quantity.record import NamedTuple


class Parts(NamedTuple):
    """A difference by CIEDE2000 and its parts, each weighted as the eye weighs it.

    ``lightness`` is above nought where the second colour is lighter, ``chroma`` where it
    is stronger, ``hue`` where its hue angle is larger (from red towards yellow).
    """

    whole: float
    lightness: float
    chroma: float
    hue: float


def cielab_difference(one: Colour, other: Colour) -> float:
    """The straight distance in CIELAB, under the light of the first (ISO/CIE 11664-4)."""
    other = adapted(other, one.light)
    return hypot(other.lightness - one.lightness, other.a - one.a, other.b - one.b)


def ciede2000(one: Colour, other: Colour) -> float:
    """The colour difference CIEDE2000 with all weights 1 (CIE 142:2001; ISO/CIE 11664-6).

    Both are taken under the light of the first.
    """
    return parts(one, other).whole


def parts(one: Colour, other: Colour) -> Parts:
    """The difference from one colour to another and what it is made of.

    Follows G. Sharma, W. Wu and E. N. Dalal, Color Research and Application 30 (2005),
    pages 21 to 30, whose 34 pairs are in the tests.
    """
    other = adapted(other, one.light)
    mean = (one.chroma + other.chroma) / 2
    stretch = 1 + 0.5 * (1 - sqrt(mean**7 / (mean**7 + 25**7)))
    first, second = hypot(stretch * one.a, one.b), hypot(stretch * other.a, other.b)
    hue, turned = _angle(stretch * one.a, one.b), _angle(stretch * other.a, other.b)
    grey = first * second == 0
    turn = 0.0 if grey else (turned - hue + 180) % 360 - 180
    if not grey and turned - hue == 180:  # the paper keeps half a turn as it is
        turn = 180.0
    lighter = other.lightness - one.lightness
    stronger = second - first
    around = 2 * sqrt(first * second) * sin(radians(turn / 2))

    lightness = (one.lightness + other.lightness) / 2
    chroma = (first + second) / 2
    middle = _mean_hue(hue, turned, grey)
    shape = (
        1
        - 0.17 * cos(radians(middle - 30))
        + 0.24 * cos(radians(2 * middle))
        + 0.32 * cos(radians(3 * middle + 6))
        - 0.20 * cos(radians(4 * middle - 63))
    )
    from_half = (lightness - 50) ** 2
    lighter /= 1 + 0.015 * from_half / sqrt(20 + from_half)
    stronger /= 1 + 0.045 * chroma
    around /= 1 + 0.015 * chroma * shape
    twist = 30 * exp(-(((middle - 275) / 25) ** 2))
    blue = -2 * sqrt(chroma**7 / (chroma**7 + 25**7)) * sin(radians(2 * twist))
    squared = lighter**2 + stronger**2 + around**2 + blue * stronger * around
    return Parts(sqrt(max(squared, 0.0)), lighter, stronger, around)


def _angle(a: float, b: float) -> float:
    return degrees(atan2(b, a)) % 360 if a or b else 0.0


def _mean_hue(one: float, other: float, grey: bool) -> float:
    if grey:
        return one + other
    # The 34 pairs test this edge to the last digit of a degree.
    if abs(one - other) <= 180 + 1e-9:
        return (one + other) / 2
    return (one + other + 360) / 2 if one + other < 360 else (one + other - 360) / 2
