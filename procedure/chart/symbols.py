"""The symbols of a flowchart: their outlines, and how much room they leave for words.

The outlines follow ISO 5807; what each is called, stands for and comes from is in
``symbols.csv`` beside this file, and the lines in ``lines.csv``. All measures are in
points, with y growing down the page.
"""

from __future__ import annotations

import csv
from functools import cache
from pathlib import Path

from procedure.quantity.record import NamedTuple

Point = tuple[float, float]

SLOPE = 9.0
BAR = 6.0
WAVE = 6.0
ROUND = 10.0
BULGE = 12.0
PAD_X = 5.0
PAD_Y = 3.0


class Symbol(NamedTuple):
    """A symbol as the legend tells it."""

    name: str
    called: str
    means: str
    source: str


class LineKind(NamedTuple):
    """A line as the legend tells it; style and head in Graphviz's words, width in points."""

    kind: str
    means: str
    style: str
    width: float
    colour: str
    head: str
    source: str


@cache
def symbols() -> dict[str, Symbol]:
    """The symbols by name, in the order of the legend."""
    return {row["symbol"]: Symbol(*row.values()) for row in _rows("symbols")}


@cache
def lines() -> dict[str, LineKind]:
    """The kinds of line by what flows along them, in the order of the legend."""
    return {row["kind"]: _line(row) for row in _rows("lines")}


def _line(row: dict[str, str]) -> LineKind:
    kind, means, style, wide, colour, head, source = row.values()
    return LineKind(kind, means, style, float(wide), colour, head, source)


def _rows(name: str) -> list[dict[str, str]]:
    with (Path(__file__).parent / f"{name}.csv").open(encoding="utf-8", newline="") as table:
        return list(csv.DictReader(table))


class Outline(NamedTuple):
    """A closed outline. ``curved`` says that the points are those of cubic curves, end to end."""

    points: tuple[Point, ...]
    curved: bool = False


def outline(symbol: str, x: float, y: float, w: float, h: float) -> tuple[Outline, ...]:
    """The outlines of a symbol whose upper left corner is at x, y; the first is the whole."""
    r, b = x + w, y + h
    cx, cy = x + w / 2, y + h / 2
    s = min(SLOPE, w / 4)
    if symbol == "manual":
        return (Outline(((x, y), (r, y), (r - s, b), (x + s, b))),)
    if symbol == "preparation":
        return (Outline(((x, cy), (x + s, y), (r - s, y), (r, cy), (r - s, b), (x + s, b))),)
    if symbol == "data":
        return (Outline(((x + s, y), (r, y), (r - s, b), (x, b))),)
    if symbol == "decision":
        return (Outline(((cx, y), (r, cy), (cx, b), (x, cy))),)
    if symbol == "loop begin":
        return (Outline(((x, b), (x, y + s), (x + s, y), (r - s, y), (r, y + s), (r, b))),)
    if symbol == "loop end":
        return (Outline(((x, y), (r, y), (r, b - s), (r - s, b), (x + s, b), (x, b - s))),)
    if symbol == "predefined":
        bar = min(BAR, w / 5)
        inner = Outline(((x + bar, y), (r - bar, y), (r - bar, b), (x + bar, b)))
        return (Outline(((x, y), (r, y), (r, b), (x, b))), inner)
    if symbol == "terminator":
        return (_rounded(x, y, r, b, min(h / 2, ROUND)),)
    if symbol == "delay":
        return (_delay(x, y, r, b),)
    if symbol == "document":
        return (_document(x, y, r, b),)
    return (Outline(((x, y), (r, y), (r, b), (x, b))),)


def _straight(start: Point, *to: Point) -> list[Point]:
    """Straight runs as cubic curves, without the first point."""
    points: list[Point] = []
    for point in to:
        points += [start, point, point]
        start = point
    return points


# A quarter of a circle is nearly a cubic curve whose handles are this share of its radius.
_QUARTER = 0.5523


def _rounded(x: float, y: float, r: float, b: float, radius: float) -> Outline:
    k = radius * (1 - _QUARTER)
    points: list[Point] = [(x + radius, y)]
    points += _straight(points[-1], (r - radius, y))
    points += [(r - k, y), (r, y + k), (r, y + radius)]
    points += _straight(points[-1], (r, b - radius))
    points += [(r, b - k), (r - k, b), (r - radius, b)]
    points += _straight(points[-1], (x + radius, b))
    points += [(x + k, b), (x, b - k), (x, b - radius)]
    points += _straight(points[-1], (x, y + radius))
    points += [(x, y + k), (x + k, y), (x + radius, y)]
    return Outline(tuple(points), True)


def _delay(x: float, y: float, r: float, b: float) -> Outline:
    bulge = min(BULGE, (r - x) / 2)
    points: list[Point] = [(x, y)]
    points += _straight((x, y), (r - bulge, y))
    cy = (y + b) / 2
    lift = (b - y) / 2 * _QUARTER
    points += [(r - bulge + bulge * _QUARTER, y), (r, cy - lift), (r, cy)]
    points += [(r, cy + lift), (r - bulge + bulge * _QUARTER, b), (r - bulge, b)]
    points += _straight((r - bulge, b), (x, b), (x, y))
    return Outline(tuple(points), True)


def _document(x: float, y: float, r: float, b: float) -> Outline:
    wave = min(WAVE, (b - y) / 4)
    third = (r - x) / 3
    points: list[Point] = [(x, y)]
    points += _straight((x, y), (r, y), (r, b - wave))
    points += [(r - third, b - 3 * wave), (x + third, b + wave), (x, b - wave)]
    points += _straight((x, b - wave), (x, y))
    return Outline(tuple(points), True)


def top_at(symbol: str, w: float, h: float, dx: float) -> float:
    """How far below the top of its box a symbol's outline lies, ``dx`` beside the middle."""
    s = min(SLOPE, w / 4)
    corner = max(0.0, abs(dx) - (w / 2 - s)) / s if s else 0.0
    if symbol == "decision":
        return min(abs(dx) / (w / 2), 1.0) * h / 2
    if symbol == "preparation":
        return corner * h / 2
    if symbol == "loop begin":
        return corner * s
    if symbol == "data" and dx < 0:
        return corner * h
    if symbol == "terminator":
        return _round_corner(min(h / 2, ROUND), abs(dx) - w / 2)
    if symbol == "delay" and dx > 0:
        bulge = min(BULGE, w / 2)
        return _round_corner(bulge, dx - w / 2) * h / 2 / bulge
    return 0.0


def _round_corner(radius: float, beyond: float) -> float:
    """How far a round corner lies below the level of its side, at a place before its end."""
    across = min(max(0.0, beyond + radius), radius)
    return float(radius - (radius * radius - across * across) ** 0.5)


def bottom_at(symbol: str, w: float, h: float, dx: float) -> float:
    """How far above the bottom of its box a symbol's outline lies, ``dx`` beside the middle."""
    s = min(SLOPE, w / 4)
    corner = max(0.0, abs(dx) - (w / 2 - s)) / s if s else 0.0
    if symbol == "manual":
        return corner * h
    if symbol == "loop end":
        return corner * s
    if symbol == "loop begin":
        return 0.0
    if symbol == "data":
        return corner * h if dx > 0 else 0.0
    return top_at(symbol, w, h, dx)
