"""Routes: where the lines run between the figures of one panel, and how much room they need.

Figures stand in rows and lanes. A line leaves below a figure and enters above the next.
It runs straight down where nothing is in the way, else along the space between two
rows and down a gutter beside the lanes. Lines that share a space get tracks of their own.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from procedure.chart import symbols
from procedure.chart.lettering import SMALL, width
from procedure.chart.symbols import Point

GUTTER = 22.0
GAP = 21.0
FAR = (-40.0, 0.0, 40.0)
GAP_ABOVE = 10.0
GAP_BELOW = 13.0
PITCH = 7.0
LABEL_PITCH = 11.5
TWIN = 9.0
SLOT = 10.0
FIRST_SLOT = 16.0
# Lines that arrive stand a little aside of those that leave, so that no two lie on each other.
ASIDE = 5.0


@dataclass(slots=True)
class Box:
    """A figure with its size and place. x and y are its upper left corner, in points."""

    key: int
    symbol: str
    lo: int
    hi: int
    w: float
    h: float
    x: float = 0.0
    y: float = 0.0
    row: int = 0
    aside: float = 0.0
    """How far its middle stands beside the middle of its lane, as a share of the lane."""
    heading: tuple[str, ...] = ()
    details: tuple[str, ...] = ()
    mark: tuple[str, ...] = ()

    @property
    def middle(self) -> float:
        """The x of its middle."""
        return self.x + self.w / 2


@dataclass(slots=True)
class Strand:
    """One line of one kind between two boxes, with the words that stand by it."""

    before: Box
    after: Box
    kind: str
    label: str
    answer: str = ""
    points: list[Point] = field(default_factory=list)
    label_at: Point = (0.0, 0.0)
    label_side: int = 0
    """-1 left of the line, 1 right of it, 0 on it."""

    lane: int | None = None
    """The lane of the lot that it carries, among those that the panel shows."""
    twin: float = 0.0
    """How far aside it runs of the middle of the lines between its two boxes."""
    straight: float | None = None
    column: float | None = None
    out_x: float = 0.0
    in_x: float = 0.0
    gaps: tuple[int, int] = (0, 0)
    gutter: int | None = None
    down_x: float = 0.0
    tracks: list[int] = field(default_factory=list)

    @property
    def words(self) -> str:
        """The answer and the label together."""
        return ": ".join(part for part in (self.answer, self.label) if part)


class Panel:
    """Rows of boxes with the lines between them. Its own corner is at 0, 0.

    ``shown`` are the lanes of the chart that it has, by number; those in which nothing
    stands here are left out.
    """

    def __init__(
        self,
        rows: list[list[Box]],
        strands: list[Strand],
        shown: tuple[int, ...],
        lane_width: float,
        clear_of_connectors: bool = False,
    ) -> None:
        # Connectors are narrow: to keep clear of them, a way down is looked along more closely.
        self.looked_along = (-40.0, -20.0, 0.0, 20.0, 40.0) if clear_of_connectors else FAR
        self.rows = rows
        self.strands = strands
        self.shown = shown
        self.lanes = lanes = len(shown)
        self.lane_width = lane_width
        self.width = lanes * lane_width + (lanes + 1) * GUTTER
        self.height = 0.0
        for number, row in enumerate(rows):
            for box in row:
                box.row = number
                left, right = self.lane(box.lo)[0], self.lane(box.hi)[1]
                if box.w > right - left or not box.w:
                    box.w = right - left
                box.x = (left + right - box.w) / 2 + box.aside * (right - left)
        self._plan()
        self._ports()
        heights = self._gaps()
        self._rows_down(heights)
        self._draw(heights)

    def lane(self, lane: int) -> tuple[float, float]:
        """The left and right edge of a lane."""
        left = GUTTER + lane * (self.lane_width + GUTTER)
        return left, left + self.lane_width

    def gutter_middle(self, gutter: int) -> float:
        """The x of the middle of a gutter; gutter n lies left of lane n."""
        return gutter * (self.lane_width + GUTTER) + GUTTER / 2

    # ------------------------------------------------------------ which way

    def _clear(self, x: float, above: int, below: int) -> bool:
        """True where no box stands at x in the rows between two rows."""
        return not any(
            box.x - 3 <= x <= box.x + box.w + 3
            for row in self.rows[above + 1 : below]
            for box in row
        )

    def _plan(self) -> None:
        pairs: dict[tuple[int, int], list[Strand]] = {}
        for strand in self.strands:
            pairs.setdefault((strand.before.key, strand.after.key), []).append(strand)
        for twins in pairs.values():
            for place, strand in enumerate(twins):
                strand.twin = (place - (len(twins) - 1) / 2) * TWIN
                if strand.answer == "no" or not self._straight(strand, strand.twin):
                    self._round(strand)

    def _straight(self, strand: Strand, offset: float) -> bool:
        one, two = strand.before, strand.after
        if two.row <= one.row:
            return False
        for middle in (two.middle, one.middle) if two.w <= one.w else (one.middle, two.middle):
            x = middle + offset
            within = all(
                abs(x - box.middle) <= max(abs(offset), box.w / 2 - 12) for box in (one, two)
            )
            if within and self._clear(x, one.row, two.row):
                strand.straight = x
                return True
        return False

    def _round(self, strand: Strand) -> None:
        """A way round: through the free column of one end, else down a gutter."""
        one, two = strand.before, strand.after
        first, second = one.row + 1, two.row
        strand.gaps = (first, second)
        if strand.answer != "no" and first <= second:
            if strand.lane is not None and two.lo <= strand.lane <= two.hi:
                left, right = self.lane(strand.lane)
                if self._clear_column((left + right) / 2, one.row, two.row):
                    strand.gaps, strand.column = (first, first), (left + right) / 2
                    return
            if self._clear_column(two.middle, one.row, two.row):
                strand.gaps = (first, first)
                return
            if self._clear_column(one.middle, one.row, two.row):
                strand.gaps = (second, second)
                return
        rows = range(min(first, second), max(first, second))
        free = [g for g in range(self.lanes + 1) if not self._covered(g, rows)]
        used = [other.gutter for other in self.strands if other.gutter is not None]

        def cost(gutter: int) -> float:
            x = self.gutter_middle(gutter)
            crowd = 12.0 * used.count(gutter)
            away = abs(x - one.middle) + abs(x - two.middle) + crowd
            return away + (1000.0 if strand.answer == "no" and x < one.middle else 0.0)

        strand.gutter = min(free or [0, self.lanes], key=cost)

    def _clear_column(self, middle: float, above: int, below: int) -> bool:
        return all(self._clear(middle + dx, above, below) for dx in self.looked_along)

    def _covered(self, gutter: int, rows: range) -> bool:
        return any(box.lo < gutter <= box.hi for row in rows for box in self.rows[row])

    # ------------------------------------------------------------ where at a box

    def _ports(self) -> None:
        leaving: dict[tuple[int, int], int] = {}
        arriving: dict[tuple[int, int], int] = {}
        for strand in self.strands:
            one, two = strand.before, strand.after
            if strand.straight is not None:
                strand.out_x = strand.in_x = strand.straight
                continue
            if strand.gutter is not None:
                via = self.gutter_middle(strand.gutter)
                sides = (via - one.middle, via - two.middle)
            elif strand.column is not None:
                sides = (strand.column - one.middle, 0.0)
            else:
                sides = (two.middle - one.middle, one.middle - two.middle)
            if strand.answer == "no":
                strand.out_x = one.x + one.w
            else:
                strand.out_x = self._port(one, sides[0], leaving, 0.0)
            strand.in_x = strand.column or self._port(two, sides[1], arriving, ASIDE)

    def _port(
        self, box: Box, side: float, taken: dict[tuple[int, int], int], aside: float
    ) -> float:
        sign = 1 if side >= 0 else -1
        place = taken.get((box.key, sign), 0)
        taken[box.key, sign] = place + 1
        most = 0.0 if box.w < 16 else box.w / 2 - 11 if box.w > 60 else box.w / 4
        return box.middle + sign * min(FIRST_SLOT + aside + place * SLOT, most)

    # ------------------------------------------------------------ room between rows

    def _gaps(self) -> list[float]:
        """Give every line its track in each gap it runs along; the height of each gap."""
        gaps: list[list[tuple[float, float, Strand, int]]] = [[] for _ in range(len(self.rows) + 1)]
        self._gutters()
        for strand in self.strands:
            if strand.straight is not None:
                continue
            first, second = strand.gaps
            if strand.gutter is None:
                gaps[first].append((strand.out_x, strand.in_x, strand, 0))
                strand.tracks = [0]
            else:
                strand.tracks = [0, 0]
                if strand.answer != "no":
                    gaps[first].append((strand.out_x, strand.down_x, strand, 0))
                gaps[second].append((strand.down_x, strand.in_x, strand, 1))
        heights: list[float] = []
        for number, runs in enumerate(gaps):
            ends: list[list[tuple[float, float]]] = []
            labelled = False
            for one, two, strand, place in sorted(runs, key=lambda run: min(run[:2])):
                low, high = min(one, two) - 4, max(one, two) + 4
                labelled = labelled or bool(strand.words)
                track = next(
                    (i for i, held in enumerate(ends) if all(high < a or low > b for a, b in held)),
                    len(ends),
                )
                if track == len(ends):
                    ends.append([])
                ends[track].append((low, high))
                strand.tracks[place] = track
            pitch = LABEL_PITCH if labelled else PITCH
            for _, _, strand, place in runs:
                strand.tracks[place] = round(GAP_ABOVE + strand.tracks[place] * pitch)
            needed = GAP_ABOVE + (len(ends) - 1) * pitch + GAP_BELOW if ends else 0.0
            edge = number in (0, len(self.rows))
            heights.append(needed if edge else max(GAP, needed))
        return heights

    def _gutters(self) -> None:
        for gutter in range(self.lanes + 1):
            tracks: list[list[tuple[int, int]]] = []
            placed: list[tuple[Strand, int]] = []
            for strand in self.strands:
                if strand.gutter != gutter:
                    continue
                low, high = min(strand.gaps), max(strand.gaps)
                track = next(
                    (
                        i
                        for i, held in enumerate(tracks)
                        if all(high < a or low > b for a, b in held)
                    ),
                    len(tracks),
                )
                if track == len(tracks):
                    tracks.append([])
                tracks[track].append((low, high))
                placed.append((strand, track))
            step = min(6.0, (GUTTER - 8) / max(1, len(tracks) - 1))
            for strand, track in placed:
                middle = self.gutter_middle(gutter)
                strand.down_x = middle + (track - (len(tracks) - 1) / 2) * step

    def _rows_down(self, heights: list[float]) -> None:
        y = 0.0
        for number, row in enumerate(self.rows):
            y += heights[number]
            for box in row:
                box.y = y
            y += max((box.h for box in row), default=0.0)
        self.height = y + heights[-1]

    # ------------------------------------------------------------ the lines themselves

    def _gap_top(self, gap: int, heights: list[float]) -> float:
        if gap == 0:
            return 0.0
        return max(box.y + box.h for box in self.rows[gap - 1])

    def _draw(self, heights: list[float]) -> None:
        crossing: list[Strand] = []
        for strand in self.strands:
            one, two = strand.before, strand.after
            out_y = (
                one.y
                + one.h
                - symbols.bottom_at(one.symbol, one.w, one.h, strand.out_x - one.middle)
            )
            in_y = two.y + symbols.top_at(two.symbol, two.w, two.h, strand.in_x - two.middle)
            if strand.straight is not None:
                strand.points = [(strand.out_x, out_y), (strand.in_x, in_y)]
                self._beside(strand)
                continue
            ys = [
                self._gap_top(gap, heights) + track
                for gap, track in zip(strand.gaps, strand.tracks, strict=False)
            ]
            if strand.gutter is None:
                turns = [(strand.out_x, ys[0]), (strand.in_x, ys[0])]
            else:
                x = strand.down_x
                turns = [(strand.out_x, ys[0]), (x, ys[0]), (x, ys[1]), (strand.in_x, ys[1])]
                if strand.answer == "no":
                    out_y = one.y + one.h / 2
                    turns[:2] = [(x, out_y)]
            strand.points = [(strand.out_x, out_y), *turns, (strand.in_x, in_y)]
            crossing.append(strand)
        for strand in crossing:
            self._along(strand)

    def _beside(self, strand: Strand) -> None:
        (x, top), (_, _) = strand.points
        strand.label_side = -1 if strand.twin < 0 else 1
        bottom = self._gap_top(strand.before.row + 1, [])
        strand.label_at = (x, max(top, bottom) + GAP / 2 - 3)

    def _along(self, strand: Strand) -> None:
        """The label lies on the longest level stretch; a no stands at its corner."""
        if strand.answer == "no":
            x, y = strand.points[0]
            strand.label_at, strand.label_side = (x - 2, y - 8), 1
            return
        runs = [
            (abs(b[0] - a[0]), a, b)
            for a, b in zip(strand.points, strand.points[1:], strict=False)
            if a[1] == b[1]
        ]
        if not runs:
            return
        length, a, b = max(runs)
        strand.label_side = 0
        while strand.label and width(strand.words, SMALL) > length - 8:
            strand.label = shorter(strand.label)
        half = width(strand.words, SMALL) / 2
        low, high = min(a[0], b[0]) + half + 4, max(a[0], b[0]) - half - 4
        middle = (low + high) / 2
        choices = sorted(
            (low + (high - low) * share / 8 for share in range(9)), key=lambda x: abs(x - middle)
        )
        free = [x for x in choices if not self._written(x - half, x + half, a[1])]
        strand.label_at = ((free or choices)[0], a[1])

    def _written(self, left: float, right: float, y: float) -> bool:
        """True where the label of a straight line stands in the way of another."""
        for other in self.strands:
            if (
                other.straight is None
                or not other.words
                or abs(other.label_at[1] - y) > LABEL_PITCH
            ):
                continue
            x, long = other.label_at[0], width(other.words, SMALL) + 6
            start = x if other.label_side > 0 else x - long
            if start < right and left < start + long:
                return True
        return False


def shorter(label: str) -> str:
    """A label with one letter less, and dots where it goes on; in the end nothing."""
    less = label.rstrip("…")[:-1].rstrip()
    return f"{less}…" if less else ""
