"""Colours in CIELAB, with the light they were measured under, and the ways to and from it."""

from __future__ import annotations

import csv
from functools import cache
from math import atan2, degrees, hypot
from pathlib import Path

from procedure.quantity.record import NamedTuple

HERE = Path(__file__).parent

Triple = tuple[float, float, float]
Matrix = tuple[Triple, Triple, Triple]


class Light(NamedTuple):
    """What a colour was measured under: an illuminant and an observer of 2 or 10 degrees."""

    illuminant: str
    observer: int

    def __str__(self) -> str:
        return f"{self.illuminant}/{self.observer}°"


# sRGB is defined for D65 and the observer of 2 degrees (IEC 61966-2-1).
SCREEN = Light("D65", 2)
# What a meter for textiles writes unless it is told otherwise (common practice).
USUAL = Light("D65", 10)


class Colour(NamedTuple):
    """A colour in CIELAB: lightness 0 to 100, ``a`` green to red, ``b`` blue to yellow."""

    lightness: float
    a: float
    b: float
    light: Light = USUAL

    @property
    def chroma(self) -> float:
        """How far it is from grey."""
        return hypot(self.a, self.b)

    @property
    def hue(self) -> float:
        """The hue angle in degrees from 0 up to 360: near 0 red, 90 yellow, 180 green, 270 blue."""
        return degrees(atan2(self.b, self.a)) % 360


class Srgb(NamedTuple):
    """A colour of a screen, each channel 0 to 255; ``outside`` where a screen cannot show it."""

    red: int
    green: int
    blue: int
    outside: bool = False

    @property
    def hex(self) -> str:
        """As pages write it: ``#c8a232``."""
        return f"#{self.red:02x}{self.green:02x}{self.blue:02x}"


@cache
def white_points() -> dict[Light, Triple]:
    """The white of each light in XYZ, Y = 100; from ``white_points.csv`` with its source."""
    with (HERE / "white_points.csv").open(encoding="utf-8", newline="") as lines:
        return {
            Light(row["illuminant"], int(row["observer"])): (
                float(row["x"]),
                float(row["y"]),
                float(row["z"]),
            )
            for row in csv.DictReader(lines)
        }


# ISO/CIE 11664-4: the cube root, and the straight line below it.
_EDGE = 6 / 29


def _root(share: float) -> float:
    if share > _EDGE**3:
        return float(share ** (1 / 3))
    return share / (3 * _EDGE**2) + 4 / 29


def _cube(root: float) -> float:
    return root**3 if root > _EDGE else 3 * _EDGE**2 * (root - 4 / 29)


def from_xyz(xyz: Triple, light: Light = USUAL, white: Triple | None = None) -> Colour:
    """CIELAB from tristimulus values, Y of white = 100 (ISO/CIE 11664-4).

    Raises ``KeyError`` for a light whose white is not known.
    """
    whole = white or white_points()[light]
    x, y, z = (_root(value / most) for value, most in zip(xyz, whole, strict=True))
    return Colour(116 * y - 16, 500 * (x - y), 200 * (y - z), light)


def to_xyz(colour: Colour, white: Triple | None = None) -> Triple:
    """Tristimulus values of a colour under its own light, Y of white = 100.

    Raises ``KeyError`` for a light whose white is not known.
    """
    most = white or white_points()[colour.light]
    y = (colour.lightness + 16) / 116
    return (
        _cube(y + colour.a / 500) * most[0],
        _cube(y) * most[1],
        _cube(y - colour.b / 200) * most[2],
    )


# Bradford: XYZ to sharpened cones and back (ISO 15076-1, annex E).
_TO_CONES: Matrix = (
    (0.8951, 0.2664, -0.1614),
    (-0.7502, 1.7135, 0.0367),
    (0.0389, -0.0685, 1.0296),
)
# IEC 61966-2-1:1999: linear sRGB to XYZ (Y of white = 1) and back.
_FROM_LINEAR: Matrix = (
    (0.4124, 0.3576, 0.1805),
    (0.2126, 0.7152, 0.0722),
    (0.0193, 0.1192, 0.9505),
)


def _times(matrix: Matrix, values: Triple) -> Triple:
    x, y, z = (sum(a * b for a, b in zip(row, values, strict=True)) for row in matrix)
    return x, y, z


def _inverse(m: Matrix) -> Matrix:
    (a, b, c), (d, e, f), (g, h, i) = m
    whole = a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g)
    return (
        ((e * i - f * h) / whole, (c * h - b * i) / whole, (b * f - c * e) / whole),
        ((f * g - d * i) / whole, (a * i - c * g) / whole, (c * d - a * f) / whole),
        ((d * h - e * g) / whole, (b * g - a * h) / whole, (a * e - b * d) / whole),
    )


_FROM_CONES = _inverse(_TO_CONES)
_TO_LINEAR = _inverse(_FROM_LINEAR)
# The white of sRGB as its matrix has it, so that a screen's greys have no hue.
_SCREEN_WHITE: Triple = tuple(100 * sum(row) for row in _FROM_LINEAR)  # type: ignore[assignment]


def adapted(colour: Colour, light: Light) -> Colour:
    """The colour as it would be under another light, by the Bradford adaptation.

    An estimate: two dyes that match under one light may part under another. Raises
    ``KeyError`` for a light whose white is not known.
    """
    if colour.light == light:
        return colour
    here, there = white_points()[colour.light], white_points()[light]
    cones = _times(_TO_CONES, to_xyz(colour))
    old, new = _times(_TO_CONES, here), _times(_TO_CONES, there)
    moved = tuple(one * b / a for one, a, b in zip(cones, old, new, strict=True))
    return from_xyz(_times(_FROM_CONES, moved), light)  # type: ignore[arg-type]


def light_of_channel(channel: float) -> float:
    """IEC 61966-2-1:1999: a channel 0 to 1 to linear light."""
    return channel / 12.92 if channel <= 0.04045 else ((channel + 0.055) / 1.055) ** 2.4


def channel_of_light(light: float) -> float:
    """The same the other way."""
    return light * 12.92 if light <= 0.0031308 else 1.055 * light ** (1 / 2.4) - 0.055


def from_srgb(red: float, green: float, blue: float) -> Colour:
    """CIELAB (D65, 2 degrees) from sRGB channels 0 to 255 (IEC 61966-2-1:1999)."""
    linear = (
        light_of_channel(red / 255),
        light_of_channel(green / 255),
        light_of_channel(blue / 255),
    )
    x, y, z = _times(_FROM_LINEAR, linear)
    return from_xyz((100 * x, 100 * y, 100 * z), SCREEN, _SCREEN_WHITE)


def to_srgb(colour: Colour) -> Srgb:
    """The nearest that a screen shows, under D65 (IEC 61966-2-1:1999).

    Channels that go over are cut off, and ``outside`` says so. Raises ``KeyError`` for a
    light whose white is not known.
    """
    shown = adapted(colour, SCREEN)
    x, y, z = to_xyz(shown, _SCREEN_WHITE)
    linear = _times(_TO_LINEAR, (x / 100, y / 100, z / 100))
    # A thousandth over is the rounding of the matrix and no colour that is missing.
    outside = any(not -0.001 <= one <= 1.001 for one in linear)
    red, green, blue = (round(255 * min(max(channel_of_light(one), 0.0), 1.0)) for one in linear)
    return Srgb(red, green, blue, outside)


def from_hex(text: str) -> Colour:
    """CIELAB from ``#c8a232`` or ``c8a232``, three digits as well. Raises ``ValueError``."""
    digits = text.strip().removeprefix("#")
    if len(digits) == 3:
        digits = "".join(2 * digit for digit in digits)
    if len(digits) != 6 or not all(digit in "0123456789abcdefABCDEF" for digit in digits):
        raise ValueError(f"“{text[:40]}” is not a colour such as #c8a232")
    red, green, blue = (int(digits[at : at + 2], 16) for at in (0, 2, 4))
    return from_srgb(red, green, blue)


def to_hex(colour: Colour) -> str:
    """The nearest colour that a screen shows, as pages write it: ``#c8a232``."""
    return to_srgb(colour).hex
