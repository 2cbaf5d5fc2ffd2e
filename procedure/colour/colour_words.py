"""Colours and differences in words: what a dyer would say of them.

The bounds of the words are in ``words.csv``, each with its source.
"""

from __future__ import annotations

import csv
from functools import cache
from pathlib import Path

from procedure.colour.difference import parts
from procedure.colour.space import Colour

# Where the axes of CIELAB point. A hue is said to move to the next of them, unless that
# one is so near that the colour is of its kind already: a yellow turns greener or redder.
AXES = ((0.0, "redder"), (90.0, "yellower"), (180.0, "greener"), (270.0, "bluer"))
NEAR_AXIS = 22.5


@cache
def _bounds(kind: str) -> tuple[tuple[float, str], ...]:
    with (Path(__file__).parent / "words.csv").open(encoding="utf-8", newline="") as lines:
        return tuple(
            (float(row["below"]), row["word"])
            for row in csv.DictReader(lines)
            if row["kind"] == kind
        )


def _word(kind: str, value: float) -> str:
    found = _bounds(kind)
    return next((word for below, word in found if value < below), found[-1][1])


def called(colour: Colour) -> str:
    """A colour in words: “light strong yellow”, “dark grey”."""
    if colour.chroma < _bounds("grey")[0][0]:
        return _word("grey lightness", colour.lightness)
    said = [_word("lightness", colour.lightness), _word("chroma", colour.chroma)]
    if colour.lightness < 50 and colour.chroma < 45 and 30 <= colour.hue < 90:
        hue = "brown"
    elif colour.lightness < 55 and colour.chroma < 60 and 90 <= colour.hue < 115:
        hue = "olive"  # a dark yellow that leans to green, as dyers call it (common practice)
    else:
        hue = _word("hue", colour.hue)
    return " ".join(word for word in (*said, hue) if word)


def compared(one: Colour, other: Colour) -> str:
    """How another colour differs from one: “a little redder, clearly paler”.

    “the same to the eye” where no part of the difference would be seen.
    """
    found = parts(one, other)
    if found.whole < _bounds("degree")[0][0]:
        return "the same to the eye"
    said: list[tuple[float, str]] = []
    lightness, chroma = found.lightness, found.chroma
    grey = min(one.chroma, other.chroma) < _bounds("grey")[0][0]
    if not grey and lightness > 0 > chroma and _seen(lightness) and _seen(chroma):
        said.append((max(lightness, -chroma), "paler"))
    elif not grey and lightness < 0 < chroma and _seen(lightness) and _seen(chroma):
        said.append((max(-lightness, chroma), "deeper"))
    else:
        said.append((abs(lightness), "lighter" if lightness > 0 else "darker"))
        said.append((abs(chroma), "brighter" if chroma > 0 else "duller"))
    if not grey:
        said.append((abs(found.hue), _towards(one.hue, found.hue)))
    told = [f"{_word('degree', much)} {word}" for much, word in sorted(said, reverse=True)
            if _seen(much)]  # fmt: skip
    return ", ".join(told) or f"{_word('degree', found.whole)} different"


def _seen(part: float) -> bool:
    return abs(part) >= _bounds("degree")[0][0]


def _towards(hue: float, turn: float) -> str:
    """What a hue turns to: the next axis that is not its own."""
    if turn > 0:
        return min(AXES, key=lambda axis: _way(axis[0] - hue))[1]
    return min(AXES, key=lambda axis: _way(hue - axis[0]))[1]


def _way(angle: float) -> float:
    way = angle % 360
    return way if way >= NEAR_AXIS else way + 360
