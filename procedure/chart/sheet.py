"""A sheet as it is drawn: shapes, words and lines at their places, y growing down the page."""

from __future__ import annotations

from dataclasses import dataclass, field

from procedure.chart.lettering import height
from procedure.chart.symbols import Outline, Point

INK = "#1a1a1a"
EDGE = "#c8c8c8"
LANE = "#ececec"
POT = "#e2eaf2"
BAND = "#f7f6f3"
HAIR = "#dedede"
PAPER = "#ffffff"


@dataclass(frozen=True, slots=True)
class Shape:
    """An outline with its fill (None for none), the colour and width of its pen, and its style."""

    outline: Outline
    fill: str | None = PAPER
    pen: str = INK
    width: float = 1.0
    style: str = "solid"


@dataclass(frozen=True, slots=True)
class BoxedWords:
    """Lines of text in a box of width ``w`` whose upper left corner is at x, y.

    ``name`` is unique on all sheets; ``drawn_as`` says what the words belong to: the
    name of a symbol, ``label``, ``lane``, ``note``.
    """

    name: str
    x: float
    y: float
    w: float
    lines: tuple[str, ...]
    size: float
    bold: bool = False
    centred: bool = False
    colour: str = INK
    drawn_as: str = ""
    tall: float = 0.0
    """How high its box is, where that is more than the lines need."""

    @property
    def h(self) -> float:
        """How high its box is, in points."""
        return self.tall or height(len(self.lines), self.size)


@dataclass(frozen=True, slots=True)
class DrawnLine:
    """A line from one named thing to another, of one of the kinds of the legend."""

    before: str
    after: str
    kind: str
    points: tuple[Point, ...]
    carries: str


@dataclass(slots=True)
class Lane:
    """The area of a lane: its words, its box, and the names of the words that are in it."""

    name: str
    words: str
    x: float
    y: float
    w: float
    h: float
    holds: list[str] = field(default_factory=list)


@dataclass(slots=True)
class Sheet:
    """What is on one sheet of paper, in points from the corner inside its margins."""

    width: float
    height: float = 0.0
    shapes: list[Shape] = field(default_factory=list)
    words: list[BoxedWords] = field(default_factory=list)
    lines: list[DrawnLine] = field(default_factory=list)
    lanes: list[Lane] = field(default_factory=list)
    points: list[tuple[str, Point]] = field(default_factory=list)
    """Places without words that lines begin or end at."""

    def write(self, words: BoxedWords) -> float:
        """Put words on the sheet; gives the y just below them."""
        if words.lines:
            self.words.append(words)
        return words.y + words.h


def box(x: float, y: float, w: float, h: float) -> Outline:
    """A plain rectangle."""
    return Outline(((x, y), (x + w, y), (x + w, y + h), (x, y + h)))
