"""The grid of a chart: how wide each lane is on a sheet, and where the words begin."""

from __future__ import annotations

from typing import NamedTuple

from procedure.chart.lanes import Lanes
from procedure.chart.lanes import LIKE_EACH_OTHER
from procedure.chart.lettering import width

NAME = 7.0
"""The size of the names at the heads of lanes."""
AXIS = 30.0
LEAST_WORDS = 215.0
NARROW_WORDS = 150.0
WIDEST_LANE = 74.0
NARROWEST = 27.0
THINNEST = 6.5
INSET = 4.5
BETWEEN = 8.0


class Grid(NamedTuple):
    """Lanes with their left edges and widths, then the column of words; all in points.

    ``axis`` is how wide the days at the left are, ``size`` that of the letters of the words.
    """

    width: float
    height: float
    axis: float
    lefts: tuple[float, ...]
    widths: tuple[float, ...]
    words: float
    room: float
    size: float

    def middle(self, lane: int) -> float:
        """The x of the line of a lane."""
        return self.lefts[lane] + self.widths[lane] / 2

    def inset(self, lane: int) -> float:
        """How far a symbol stays away from the edges of its lane."""
        return min(INSET, self.widths[lane] * 0.08)

    def across(self, low: int, high: int) -> tuple[float, float]:
        """Left edge and width of a symbol across a run of lanes."""
        left = self.lefts[low] + self.inset(low)
        right = self.lefts[high] + self.widths[high] - self.inset(high)
        return left, right - left

    def right(self, lane: int) -> float:
        """The right edge of a lane."""
        return self.lefts[lane] + self.widths[lane]


def grid(
    lanes: Lanes, names: list[list[str]], wide: float, tall: float, days: bool, size: float
) -> Grid:
    """The grid on a sheet so wide and tall inside its margins (tall 0 for one without an end).

    ``names`` are all that may stand at the head of each lane.
    """
    axis = AXIS if days else 0.0
    wanted = [_wanted(each) for each in names]
    room = wide - axis - BETWEEN
    widths = _fitted(lanes, wanted, room - LEAST_WORDS)
    if sum(widths) > room - NARROW_WORDS:
        share = (room - NARROW_WORDS) / sum(widths)
        widths = [each * share for each in widths]
    lefts: list[float] = []
    x = axis
    for each in widths:
        lefts.append(x)
        x += each
    words = x + BETWEEN
    return Grid(wide, tall, axis, tuple(lefts), tuple(widths), words, wide - words, size)


def _wanted(names: list[str]) -> float:
    longest = max((width(word, NAME, True) for name in names for word in name.split()), default=0.0)
    return min(max(longest + 5.0, NARROWEST + 8.0), WIDEST_LANE)


def _fitted(lanes: Lanes, wanted: list[float], room: float) -> list[float]:
    """The widths wanted, or smaller ones where they are too much: first of many that are alike."""
    if sum(wanted) <= room:
        return wanted
    members = [lanes.alike.count(group) for group in lanes.alike]
    thin = [
        max(THINNEST, (NARROWEST + 14.0) / count) if count >= LIKE_EACH_OTHER else each
        for each, count in zip(wanted, members, strict=True)
    ]
    if sum(thin) <= room:
        return thin
    least = [min(each, NARROWEST) for each in thin]
    spare = max(0.0, room - sum(least))
    over = sum(thin) - sum(least)
    share = spare / over if over else 0.0
    return [low + (high - low) * share for low, high in zip(least, thin, strict=True)]


def fits(found: Grid, lanes: Lanes) -> bool:
    """True where no lane is too narrow for its symbols, and the words have room."""
    least = [
        THINNEST if lanes.alike.count(group) >= LIKE_EACH_OTHER else NARROWEST
        for group in lanes.alike
    ]
    roomy = all(each >= low - 0.1 for each, low in zip(found.widths, least, strict=True))
    return roomy and found.room >= LEAST_WORDS - 1
