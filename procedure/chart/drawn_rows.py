"""The rows of a chart on their sheets: bands, frames, symbols with their names, and the words."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from procedure.chart import symbols
from procedure.chart.cells import MARK_PAD, SIGN, SWATCH, PlacedText
from procedure.chart.days import said
from procedure.chart.grid import NAME
from procedure.chart.heads import Life, key_lines, together
from procedure.chart.in_symbols import SYMBOL_SIZE, in_symbol
from procedure.chart.lettering import height
from procedure.chart.plotted import Plotted
from procedure.chart.rows import FigureRow, in_lines, shared_name, side_by_side
from procedure.chart.sheet import (
    BAND,
    EDGE,
    HAIR,
    INK,
    LANE,
    PAPER,
    POT,
    BoxedWords,
    Lane,
    Shape,
    Sheet,
    box,
)
from procedure.chart.signs import patches
from procedure.chart.threads import BY_HAND, Place
from procedure.chart.unread import UNREAD

# Of each place the first and the last sheet.
Spans = dict[Place, tuple[int, int]]

JOINT = 2.6
CLEAR = 3.4
FRAME = "#777777"
DAY_SIZE = 7.0


def grounds(sheets: list[Sheet], plotted: Plotted) -> None:
    """What lies behind all else: every other row in a light band, and the edges of lanes."""
    grid = plotted.grid
    for place, row in enumerate(plotted.rows.values()):
        if place % 2:
            area = box(grid.axis, row.y, grid.width - grid.axis, row.height)
            sheets[row.sheet].shapes.append(Shape(area, BAND, BAND, 0.1))
    for number, sheet in enumerate(sheets[: len(plotted.tops)]):
        top, bottom = plotted.tops[number], plotted.bottoms[number]
        for x in (*grid.lefts, grid.right(len(grid.lefts) - 1)):
            sheet.shapes.append(Shape(box(x, top, 0.0, bottom - top), None, HAIR, 0.4))


def heads(sheets: list[Sheet], plotted: Plotted) -> None:
    """The names of those who live in each lane above the rows of each sheet.

    Lines side by side in thin lanes have one name together, and a letter each; what the letters
    are for is beside them.
    """
    grid = plotted.grid
    if plotted.lanes.places == ((BY_HAND,),):
        return
    spans = _spans(plotted)
    tall = head_height(plotted)
    for number, sheet in enumerate(sheets[: len(plotted.tops)]):
        top, bottom = plotted.tops[number], plotted.bottoms[number]
        used: set[str] = set()
        for low, high in side_by_side(plotted.lanes, grid, _all(plotted)):
            here = [_living(plotted, lane, number, spans) for lane in range(low, high + 1)]
            lettered = low < high and bool(plotted.letters.means)
            name = _named(here)
            left, right = grid.lefts[low], grid.right(high)
            pot = plotted.lanes.places[low][0][0] in ("pot", "bath")
            fill = POT if pot else LANE
            sheet.shapes.append(Shape(box(left, top - tall, right - left, tall), fill, PAPER, 0.8))
            room = right - left - 2.0
            lines = in_lines(name, room, True) if name else ()
            more = height(1, NAME) if lettered else 0.0
            y = top - tall + (tall - more - height(len(lines), NAME)) / 2
            called = f"lane {low + 1} head"
            words = BoxedWords(
                f"{called} sheet {number + 1}",
                left + 1.0,
                y,
                room,
                lines,
                NAME,
                True,
                True,
                drawn_as="lane",
            )
            sheet.write(words)
            if lettered:
                used |= _letters(sheet, plotted, low, here, (top - more - 1.0, number))
            area = Lane(
                f"lane {low + 1} sheet {number + 1}",
                name,
                left,
                top - tall,
                right - left,
                bottom - top + tall,
            )
            area.holds += [
                row.figure.name
                for row in plotted.rows.values()
                if row.sheet == number and row.lanes[0] >= low and row.lanes[-1] <= high
            ]
            sheet.lanes.append(area)
        said = key_lines(plotted.letters.key(used), grid.room)
        y = top - height(len(said), NAME) - 1.0
        sheet.write(
            BoxedWords(
                f"key sheet {number + 1}", grid.words, y, grid.room, said, NAME, drawn_as="key"
            )
        )


def _letters(
    sheet: Sheet, plotted: Plotted, low: int, here: list[list[Life]], at: tuple[float, int]
) -> set[str]:
    """A letter above each line of a bundle; which they were."""
    used: set[str] = set()
    y, number = at
    for lane, living in enumerate(here, low):
        if len(living) != 1:
            continue
        letter = plotted.letters.of.get(living[0].places[-1], "")
        used.add(letter)
        words = BoxedWords(
            f"lane {lane + 1} letter sheet {number + 1}",
            plotted.grid.lefts[lane],
            y,
            plotted.grid.widths[lane],
            (letter,),
            NAME,
            False,
            True,
            drawn_as="letter",
        )
        sheet.write(words)
    return used


def _all(plotted: Plotted) -> list[int]:
    return list(range(len(plotted.lanes.places)))


def _named(here: list[list[Life]]) -> str:
    """The name of a lane, or of lanes that run side by side, by those who live in them."""
    if len(here) == 1:
        return together([life.name for life in here[0]])
    names = [living[0].name if living else "" for living in here]
    return shared_name(names) if any(names) else ""


def head_height(plotted: Plotted) -> float:
    """How high the heads of the lanes must be for the names that may be there."""
    held = plotted.lanes.places
    if held == ((BY_HAND,),):
        return 0.0
    most = 1
    for low, high in side_by_side(plotted.lanes, plotted.grid, _all(plotted)):
        room = plotted.grid.right(high) - plotted.grid.lefts[low] - 2.0
        if low == high:
            names = [life.name for life in plotted.living[low]]
            pairs = [[one, two] for one, two in pairwise(names)]
            for some in (names, *pairs, *([name] for name in names)):
                most = max(most, len(in_lines(together(some), room, True)))
        else:
            said = shared_name([plotted.living[lane][-1].name for lane in range(low, high + 1)])
            lettered = bool(plotted.letters.means)
            most = max(most, len(in_lines(said, room, True)) + lettered)
    key = plotted.letters.key(set(plotted.letters.means))
    most = max(most, len(key_lines(key, plotted.grid.room)))
    return height(most, NAME) + 3.0


def _living(plotted: Plotted, lane: int, sheet: int, spans: Spans) -> list[Life]:
    """Who lives in a lane on a sheet, else who is still to come there."""
    every = plotted.living[lane]
    if every[0].places[0][0] != "lot":
        return [every[0]]
    here, later = [], []
    for life in every:
        ends = [spans[place] for place in life.places if place in spans]
        first, last = min(first for first, _ in ends), max(last for _, last in ends)
        here += [life] if first <= sheet <= last else []
        later += [life] if first > sheet else []
    return here or later[:1]


def _spans(plotted: Plotted) -> Spans:
    """The first and the last sheet of each place."""
    found: Spans = {}
    for thread in plotted.threads:
        sheets = [plotted.rows[key].sheet for key in (thread.stops[0], thread.stops[-1])]
        sheets += found.get(thread.place, ())
        found[thread.place] = (min(sheets), max(sheets))
    return found


def frames(sheets: list[Sheet], plotted: Plotted) -> None:
    """A frame around each block, or the part of it that a sheet has."""
    grid = plotted.grid
    for start, end in plotted.drawing.ends.items():
        inside = [
            row
            for key, row in plotted.rows.items()
            if key in (start, end) or start in row.figure.within
        ]
        low = min(row.lanes[0] for row in inside)
        high = max(row.lanes[-1] for row in inside)
        depth = len(plotted.drawing.figures[start].within)
        out = 0.6 - 1.2 * min(depth, 2)
        for sheet in sorted({row.sheet for row in inside}):
            here = [row for row in inside if row.sheet == sheet]
            top = here[0].y + 0.8 + depth * 0.4
            bottom = here[-1].y + here[-1].height - 0.8 - depth * 0.4
            left, right = grid.lefts[low] - out, grid.right(high) + out
            area = box(left, top, right - left, bottom - top)
            sheets[sheet].shapes.append(Shape(area, None, FRAME, 0.7, "dashed"))


def figures(sheets: list[Sheet], plotted: Plotted) -> None:
    """Every symbol across the lanes that take part, with its number, names and words."""
    passing = plotted.passing()
    for row in plotted.rows.values():
        sheet = sheets[row.sheet]
        _joints(sheet, row, plotted, passing.get(row.figure.key, ()))
        _symbol(sheet, row, plotted)
        _born(sheet, row, plotted)
        _cell(sheet, row, plotted)


def _joints(sheet: Sheet, row: FigureRow, plotted: Plotted, passing: Sequence[float]) -> None:
    """A double stroke between the parts of a symbol, open where a line passes by."""
    parts = plotted.parts(row.figure.key)
    if len(parts) < 2:
        return
    y = row.top + row.symbol / 2 - JOINT / 2
    for one, two in pairwise(parts):
        x, end = one[2] + one[3], two[2]
        for line in [each for each in passing if x < each < end]:
            if line - CLEAR > x:
                sheet.shapes.append(Shape(box(x, y, line - CLEAR - x, JOINT), PAPER, INK, 0.6))
            x = line + CLEAR
        if end > x:
            sheet.shapes.append(Shape(box(x, y, end - x, JOINT), PAPER, INK, 0.6))


def _symbol(sheet: Sheet, row: FigureRow, plotted: Plotted) -> None:
    figure = row.figure
    parts = plotted.parts(figure.key)
    widest = max(range(len(parts)), key=lambda place: parts[place][3])
    marked = bool(figure.mark)
    for place, (_, _, left, wide) in enumerate(parts):
        for deep, one in enumerate(symbols.outline(figure.symbol, left, row.top, wide, row.symbol)):
            fill = INK if figure.symbol == "join" else PAPER if deep == 0 else None
            style = "dashed" if figure.symbol == UNREAD else "solid"
            sheet.shapes.append(Shape(one, fill, width=2.0 if marked else 0.9, style=style))
        main = place == widest
        name = figure.name if main else f"{figure.name} part {place + 1}"
        text = in_symbol(figure, wide) if main else ""
        words = BoxedWords(name, left, row.top, wide, (text,), SYMBOL_SIZE, True, True,
                      drawn_as=figure.symbol, tall=row.symbol)  # fmt: skip
        sheet.write(words)


def _born(sheet: Sheet, row: FigureRow, plotted: Plotted) -> None:
    grid = plotted.grid
    y = row.top + row.symbol
    for one in row.names:
        left, right = grid.lefts[one.low] + 1.0, grid.right(one.high) - 1.0
        name = f"{row.figure.name} gives {one.low + 1}"
        tall = 0.0 if one.letters else row.strip
        words = BoxedWords(
            name, left, y, right - left, one.lines, NAME, False, True, drawn_as="name", tall=tall
        )
        sheet.write(words)
        below = y + height(len(one.lines), NAME)
        for lane, letter in one.letters:
            words = BoxedWords(
                f"{row.figure.name} letter {lane + 1}",
                grid.lefts[lane],
                below,
                grid.widths[lane],
                (letter,),
                NAME,
                False,
                True,
                drawn_as="letter",
            )
            sheet.write(words)


def _cell(sheet: Sheet, row: FigureRow, plotted: Plotted) -> None:
    size = plotted.grid.size
    left = plotted.grid.words
    top = row.top + (row.symbol - height(1, size)) / 2 - ABOVE
    name = row.figure.name
    for piece in row.cell.pieces:
        _piece(sheet, piece, name, left, top, size, INK)
    for x, y, colour in row.cell.swatches:
        area = box(left + x, top + y, SWATCH, size)
        sheet.shapes.append(Shape(area, colour or None, FRAME, 0.5))
    for x, y, code in row.cell.signs:
        draw_sign(sheet, code, left + x, top + y, SIGN * size)
    mark = row.cell.mark
    if mark is not None:
        tall = height(len(mark.lines), size) + MARK_PAD
        area = box(left, top + mark.y - MARK_PAD / 2, mark.w + 8.0, tall)
        sheet.shapes.append(Shape(area, INK, INK))
        _piece(sheet, mark, name, left, top, size, PAPER)


ABOVE = 0.6


def _piece(
    sheet: Sheet, piece: PlacedText, name: str, x: float, y: float, size: float, colour: str
) -> None:
    called = f"{name} {piece.suffix or 'words'}"
    words = BoxedWords(
        called,
        x + piece.x,
        y + piece.y,
        piece.w,
        piece.lines,
        size,
        piece.bold,
        colour=colour,
        drawn_as=piece.drawn_as,
    )
    sheet.write(words)


def draw_sign(sheet: Sheet, code: str, x: float, y: float, size: float) -> None:
    """A hazard sign in a box of that size."""
    for patch in patches(code):
        points = tuple((x + px * size, y + py * size) for px, py in patch.outline.points)
        outline = symbols.Outline(points, patch.outline.curved)
        sheet.shapes.append(Shape(outline, patch.fill, patch.pen, max(patch.width * size, 0.01)))


def axis(sheets: list[Sheet], plotted: Plotted) -> None:
    """The days at the left: where each begins, and again at the head of each sheet."""
    if not plotted.grid.axis:
        return
    x = plotted.grid.axis - 4.0
    day: tuple[int, int] | None = None
    for number, sheet in enumerate(sheets[: len(plotted.tops)]):
        top, bottom = plotted.tops[number], plotted.bottoms[number]
        sheet.shapes.append(Shape(box(x, top, 0.0, bottom - top), None, EDGE, 0.8))
        last, day = "", None
        words = BoxedWords(
            f"days sheet {number + 1}",
            0.0,
            top - height(1, DAY_SIZE) - 2.0,
            x - 4.0,
            ("day",),
            DAY_SIZE,
            True,
            True,
            drawn_as="day",
        )
        sheet.write(words)
        for row in plotted.rows.values():
            day = plotted.days.get(row.figure.key, day)
            if row.sheet != number or day is None or said(day) == last:
                continue
            last = said(day)
            sheet.shapes.append(Shape(box(x - 3.0, row.y + 1.0, 6.0, 0.0), None, INK, 0.8))
            words = BoxedWords(f"day {last} sheet {number + 1} {row.figure.name}", 0.0, row.y + 1.5,
                          x - 4.0, (last,), DAY_SIZE, True, True, drawn_as="day")  # fmt: skip
            sheet.write(words)
