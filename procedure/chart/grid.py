"""The grid of a chart: how wide each lane is on a sheet, and where the words begin."""

from __future__ import annotations

from procedure.chart.lanes import LIKE_EACH_OTHER, Lanes
from procedure.chart.lettering import width
from procedure.chart.paper import PaperSize
from procedure.quantity.record import NamedTuple

NAME = 7.0
"""The size of the names at the heads of lanes."""
AXIS = 24.0
NARROW_WORDS = 150.0
WIDEST_LANE = 74.0
NARROWEST = 20.0
LONGEST_PART = 44.0
ROOMY = 48.0
# So few lanes may all be so wide that their symbols have room for a verb.
FEW = 4
GROUP = 30.0
THINNEST = 5.4
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
    lanes: Lanes,
    names: list[list[str]],
    paper: PaperSize,
    days: bool,
    size: float,
    least: float,
    numbers: tuple[float, ...],
) -> Grid:
    """The grid on a paper.

    ``names`` are all that may be at the head of each lane, ``numbers`` how wide it must be for
    those of its steps; ``least`` is how wide the column of words must be, if the lanes
    can be so narrow.
    """
    wide = paper.width
    axis = AXIS if days else 0.0
    room = wide - axis - BETWEEN
    widths = _fitted(lanes, names, room - least, numbers)
    if sum(widths) > room - NARROW_WORDS:
        share = (room - NARROW_WORDS) / sum(widths)
        widths = [each * share for each in widths]
    lefts: list[float] = []
    x = axis
    for each in widths:
        lefts.append(x)
        x += each
    words = x + BETWEEN
    return Grid(wide, paper.height, axis, tuple(lefts), tuple(widths), words, wide - words, size)


def _wanted(names: list[str], few: bool) -> float:
    """As wide as the longest word of a name at its head; of a few lanes, as wide as may be."""
    return min(max(_longest(names, False) + 5.0, WIDEST_LANE if few else ROOMY), WIDEST_LANE)


def _least(names: list[str], number: float) -> float:
    """As wide as the longest part of a name that a line may end with, and as a number needs."""
    return min(max(_longest(names, True) + 3.0, NARROWEST, number), LONGEST_PART)


def _longest(names: list[str], parted: bool) -> float:
    words = [word for name in names for word in name.replace(".", " ").split()]
    if parted:
        words = [part for word in words for part in word.replace("-", "- ").split()]
    return max((width(word, NAME, True) for word in words), default=0.0)


def _fitted(
    lanes: Lanes, names: list[list[str]], room: float, numbers: tuple[float, ...]
) -> list[float]:
    """The widths wanted, or smaller ones where they are too much: first of many that are alike."""
    wanted = [_wanted(each, len(names) <= FEW) for each in names]
    if sum(wanted) <= room:
        return wanted
    least = _narrow(lanes, names, numbers)
    thin = [
        low if lanes.alike.count(group) >= LIKE_EACH_OTHER else each
        for each, low, group in zip(wanted, least, lanes.alike, strict=True)
    ]
    if sum(thin) <= room:
        return thin
    spare = max(0.0, room - sum(least))
    over = sum(thin) - sum(least)
    share = spare / over if over else 0.0
    return [low + (high - low) * share for low, high in zip(least, thin, strict=True)]


def _narrow(lanes: Lanes, names: list[list[str]], numbers: tuple[float, ...]) -> list[float]:
    """How narrow each lane may be; those that are alike have one name together."""
    found: list[float] = []
    for each, group, number in zip(names, lanes.alike, numbers, strict=True):
        count = lanes.alike.count(group)
        alone = _least(each, number)
        found.append(alone if count < LIKE_EACH_OTHER else max(THINNEST, GROUP / count))
    return found


def fits(found: Grid, lanes: Lanes, names: list[list[str]], numbers: tuple[float, ...]) -> bool:
    """True where no lane is too narrow for its symbols and its name."""
    least = _narrow(lanes, names, numbers)
    return all(each >= low - 0.1 for each, low in zip(found.widths, least, strict=True))
