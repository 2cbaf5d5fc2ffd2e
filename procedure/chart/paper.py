"""Paper: how large the sheets are, and how wide lanes may be on them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from procedure.chart.routes import GUTTER

MARGIN = 34.0


class Paper(NamedTuple):
    """A sort of sheet: width and height inside the margins, in points; height 0 has no end."""

    name: str
    width: float
    height: float

    @property
    def turned(self) -> Paper:
        """The same on its side."""
        return Paper(self.name, self.height, self.width)


# ISO 216: A4 is 210 mm by 297 mm; ANSI/ASME Y14.1: size A is 8 1/2 in by 11 in. 72 points to the
# inch.
SIZES = {"a4": (595.28, 841.89), "letter": (612.0, 792.0)}
ROLL = "roll"
SHEETS = (*SIZES, ROLL)


# Lane widths for a roll, which is as wide as its lanes need: one lane, or several.
ROLL_ALONE = 270.0
ROLL_LANE = 165.0
WIDEST = 205.0
MOST_UPRIGHT = 4


@dataclass(frozen=True, slots=True)
class Plot:
    """How a chart is laid out: the paper held upright, and how many panels stand beside each other.

    A sheet that shows more than four lanes is turned on its side.
    """

    paper: Paper
    across: int
    upright: bool = False
    """True where the paper is never turned."""

    def held(self, lanes: int) -> Paper:
        """The paper as it is held for so many lanes."""
        turned = lanes > MOST_UPRIGHT and self.paper.height and not self.upright
        return self.paper.turned if turned else self.paper

    def lane_width(self, lanes: int) -> float:
        """How wide lanes are where a panel shows so many, in points."""
        if not self.paper.height:
            return ROLL_ALONE if lanes == 1 else ROLL_LANE
        room = self.held(lanes).width / self.across
        return min((room - (lanes + 1) * GUTTER) / lanes, WIDEST)


def plot(lanes: int, sort: str) -> Plot:
    """The layout for a chart of so many lanes on a sort of paper."""
    if sort == ROLL:
        wide = ROLL_ALONE if lanes == 1 else ROLL_LANE
        return Plot(Paper(ROLL, lanes * wide + (lanes + 1) * GUTTER, 0.0), 1)
    size = SIZES[sort]
    paper = Paper(sort, size[0] - 2 * MARGIN, size[1] - 2 * MARGIN)
    return Plot(paper, 2 if lanes == 1 else 1)
