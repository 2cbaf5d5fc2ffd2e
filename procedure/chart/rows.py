"""Rows: one for each figure, with its place on its sheet once the rows are set on paper."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from procedure.chart.cells import SMALLEST, FigureCell, cell, names_of
from procedure.chart.grid import NAME, NARROWEST, Grid
from procedure.chart.lanes import Lanes, own_name, runs
from procedure.chart.lettering import at_most, clean, height, width, wrap
from procedure.chart.placed_symbols import Drawing, PlacedSymbol
from procedure.chart.threads import Place, Thread
from procedure.chart.tints import Changes, Tint
from procedure.quantity.record import NamedTuple

# The least air around a row of the smallest letters, and what larger ones add for each point;
# sheets with room give more, but a roll has no end to be filled.
AIR = 1.0
AIR_OF_ROLL = 2.1
MORE_AIR = 1.4
DECISION = 24.0
JOIN = 3.0
# The way round a decision's steps bends before it comes to where the ways meet.
AIR_OF_JOIN = 3.0
NO_ROOM = 15.0
# A name is cut off only beyond so many lines; the words beside the steps then have it whole.
MOST_NAME_LINES = 8
MOST_WHOLE_LINES = 4
NAMED = ("lot", "bath", "material")
# A loop or a fibre that comes in is not parted from what follows it, if that has room.
WITH_NEXT = ("loop begin", "decision", "terminator", "data")


class NameBelow(NamedTuple):
    """A name below a symbol, where something is born: the lanes that it is across, and in each
    of those the letter of its line."""

    low: int
    high: int
    lines: tuple[str, ...]
    letters: tuple[tuple[int, str], ...] = ()

    @property
    def height(self) -> float:
        """How high the name is with its letters."""
        return height(len(self.lines) + bool(self.letters), NAME)


@dataclass(slots=True)
class FigureRow:
    """A figure with its words and the height that it needs; ``sheet`` and ``y`` are its place."""

    figure: PlacedSymbol
    cell: FigureCell
    lanes: tuple[int, ...]
    symbol: float
    names: tuple[NameBelow, ...]
    strip: float
    """How high the names below the symbol are."""
    air: float
    sheet: int = 0
    y: float = 0.0

    @property
    def height(self) -> float:
        """What the row takes, with the air around it."""
        return max(self.symbol + self.strip, self.cell.height) + self.air

    @property
    def top(self) -> float:
        """Where the symbol begins."""
        return self.y + self.air / 2

    def named(self, lane: int) -> bool:
        """True where a name is below the symbol in that lane."""
        return any(one.low <= lane <= one.high for one in self.names)


def rows(
    drawing: Drawing,
    lanes: Lanes,
    threads: list[Thread],
    grid: Grid,
    tints: Changes,
    signs: dict[int, tuple[str, ...]],
    letters: dict[Place, str],
) -> list[FigureRow]:
    """A row for each figure in the order of the text."""
    born: dict[int, list[Thread]] = {}
    for thread in threads:
        if thread.kind in NAMED and thread.before is None and len(thread.stops) > 1:
            born.setdefault(thread.stops[0], []).append(thread)
    made: list[FigureRow] = []
    air = (AIR if grid.height else AIR_OF_ROLL) + MORE_AIR * (grid.size - SMALLEST)
    for key, figure in drawing.figures.items():
        told = _together(drawing, tints.get(key, {}))
        words = cell(figure, grid.room, grid.size, told, signs.get(key, ()))
        names = tuple(_names(drawing, lanes, grid, born.get(key, []), letters))
        strip = max((name.height for name in names), default=0.0)
        above = max(air, AIR_OF_JOIN) if figure.symbol == "join" else air
        made.append(
            FigureRow(figure, words, lanes.spans[key], _tall(figure, grid), names, strip, above)
        )
    return made


def _tall(figure: PlacedSymbol, grid: Grid) -> float:
    if figure.symbol == "decision":
        return DECISION
    if figure.symbol == "join":
        return JOIN
    return height(1, grid.size) + 1.2 + MORE_AIR * (grid.size - SMALLEST)


def _together(drawing: Drawing, changed: dict[str, Tint | None]) -> list[tuple[str, Tint]]:
    """Each colour that a step gives, with all lots that have it."""
    by_tint: dict[Tint, list[str]] = {}
    for lot, tint in changed.items():
        if tint is not None:
            by_tint.setdefault(tint, []).append(own_name(drawing, ("lot", lot)))
    return [(clean(names_of(names)), tint) for tint, names in by_tint.items()]


def _names(
    drawing: Drawing, lanes: Lanes, grid: Grid, born: list[Thread], letters: dict[Place, str]
) -> list[NameBelow]:
    """Who is born: a lot by the last part of its name, a bath where that fits in one line."""
    by_lane: dict[int, str] = {}
    lettered: dict[int, str] = {}
    for thread in born:
        lane = lanes.of[thread.place]
        if thread.place in letters:
            lettered[lane] = letters[thread.place]
        name = own_name(drawing, thread.place if thread.kind == "lot" else ("", thread.thing))
        name = name.rsplit(".", 1)[-1]
        if thread.kind == "lot" or len(wrap(name, grid.widths[lane] - 2.0, NAME)) == 1:
            by_lane[lane] = f"{by_lane[lane]}, {name}" if lane in by_lane else name
    found: list[NameBelow] = []
    for low, high in side_by_side(lanes, grid, sorted(by_lane)):
        name = shared_name([by_lane[lane] for lane in range(low, high + 1)], counted=False)
        room = grid.right(high) - grid.lefts[low] - 2.0
        here = tuple((lane, lettered[lane]) for lane in range(low, high + 1) if lane in lettered)
        found.append(NameBelow(low, high, in_lines(name, room), here))
    return found


def side_by_side(lanes: Lanes, grid: Grid, some: list[int]) -> list[tuple[int, int]]:
    """Lanes one by one; those that are thin and alike together."""
    found: list[tuple[int, int]] = []
    for low, high in runs(tuple(some)):
        for lane in range(low, high + 1):
            thin = grid.widths[lane] < NARROWEST - 0.5
            if (
                found
                and thin
                and found[-1][1] == lane - 1
                and lanes.alike[found[-1][1]] == lanes.alike[lane]
            ):
                found[-1] = (found[-1][0], lane)
            else:
                found.append((lane, lane))
    return found


def shared_name(names: list[str], counted: bool = True) -> str:
    """What several lots are called together: plain ×6, where each is the plain of something."""
    if len(names) == 1:
        return names[0].replace(".", " ")
    last = {name.rsplit(".", 1)[-1] for name in names}
    if len(last) > 1:
        return f"{len(names)} lots"
    return f"{last.pop()} ×{len(names)}" if counted else last.pop()


def in_lines(name: str, room: float, bold: bool = False) -> tuple[str, ...]:
    """A name in lines of the smallest letters, whole unless it is absurdly long.

    Of a name with many words the first and the last are left, which mostly tell it from others:
    ``left-plain-without-an-after-bath`` is left…bath. The step that makes it has all of it.
    """
    whole = wrap(name, room, NAME, bold)
    if len(whole) <= MOST_WHOLE_LINES:
        return tuple(whole)
    lines = [""]
    for part in name.split(" "):
        for place, word in enumerate(_ends(part)):
            shown = _cut(word, room, bold)
            gap = " " if lines[-1] and not place else ""
            if lines[-1] and width(lines[-1] + gap + shown, NAME, bold) > room:
                lines.append(shown)
            else:
                lines[-1] += gap + shown
    return at_most(lines, MOST_NAME_LINES)


def _ends(part: str) -> list[str]:
    """A part of a name as the first and the last of its words, where it has more than two."""
    words = part.replace("-", "- ").split()
    return words if len(words) < 3 else [words[0].rstrip("-") + "…", words[-1]]


def _cut(word: str, room: float, bold: bool) -> str:
    """As much of a word as a line has room for."""
    if width(word, NAME, bold) <= room:
        return word
    stem = word.rstrip("-…")
    while len(stem) > 1 and width(stem + "…", NAME, bold) > room:
        stem = stem[:-1]
    return stem + "…"


Room = Callable[[int], tuple[float, float]]
"""Where the rows of a sheet may begin and must end, by the sheet's number from 0."""


def set_on_sheets(made: list[FigureRow], room: Room) -> int:
    """Give each row its sheet and place; the number of sheets."""
    sheet = 0
    y, bottom = room(0)
    place = 0
    while place < len(made):
        together = _unit(made, place)
        needed = sum(row.height for row in together)
        top = room(sheet)[0]
        if y + needed > bottom and y > top:
            if needed > room(sheet + 1)[1] - room(sheet + 1)[0]:
                together = together[:1]
            if y + sum(row.height for row in together) > bottom:
                sheet += 1
                y, bottom = room(sheet)
        for row in together:
            row.sheet, row.y = sheet, y
            y += row.height
        place += len(together)
    return sheet + 1


def _unit(made: list[FigureRow], place: int) -> list[FigureRow]:
    """A row with those that it is not to be parted from."""
    together = [made[place]]
    while together[-1].figure.symbol in WITH_NEXT and place + len(together) < len(made):
        if together[-1].figure.ends:
            break
        together.append(made[place + len(together)])
    return together
