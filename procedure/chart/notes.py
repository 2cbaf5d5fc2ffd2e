"""What stands below the chart: the legend, the findings that are marked, and the caution."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from procedure.chart.lettering import HEADING, SMALL, TEXT, clean, height, wrap
from procedure.chart.marks import Marks
from procedure.chart.sheet import INK, PAPER, Shape, Sheet, Words, box
from procedure.chart.symbols import lines, outline, symbols

CELL = 168.0
SAMPLE_W = 36.0
SAMPLE_H = 20.0
AIR = 5.0

CAUTION = (
    "Local rules and the supplier’s safety data sheet come before anything that is said here; "
    "ask those licensed to answer about health and about getting rid of what is left."
)
MARK_MEANS = "the program has something to say here; the numbered list says what"


class Note(NamedTuple):
    """Something below the chart that is not cut in two: how high it is, and how it is drawn."""

    height: float
    draw: Callable[[Sheet, float], None]


def notes(
    used: set[str],
    kinds: set[str],
    marks: Marks,
    frames: bool,
    width: float,
    count: int,
    elsewhere: int = 0,
) -> list[list[Note]]:
    """All notes in order for a sheet that is ``width`` points wide; those of one list belong
    together.

    ``used`` are the symbols drawn, ``kinds`` the kinds of lines; ``count`` is how many
    findings of lighter levels are not shown, ``elsewhere`` how many that this drawing has no
    room or no step for.
    """
    legend = [_heading("What the symbols and lines mean")]
    legend += _legend(used, kinds, bool(marks.by_figure), frames, width)
    found: list[Note] = []
    if marks.listed:
        found.append(_heading("What the program has to say"))
        found += [_paragraph(f"finding {n}", text, width) for n, text in marks.listed]
    rest: list[Note] = []
    if elsewhere:
        s = "s" if elsewhere > 1 else ""
        text = f"{elsewhere} finding{s} not told here; the whole chart and “vatwright check” do."
        rest.append(_paragraph("findings elsewhere", text, width))
    if count:
        s = "s" if count > 1 else ""
        text = f"{count} lighter finding{s} not shown; “vatwright check --at-least note” tells all."
        rest.append(_paragraph("lighter findings", text, width))
    rest.append(_paragraph("caution", CAUTION, width))
    return [group for group in (legend, found, rest) if group]


def _heading(text: str) -> Note:
    def draw(sheet: Sheet, y: float) -> None:
        sheet.write(Words(text, 0, y + AIR, sheet.width, (text,), HEADING, True, drawn_as="note"))

    return Note(height(1, HEADING) + 2 * AIR, draw)


def _paragraph(name: str, text: str, width: float) -> Note:
    said = tuple(wrap(clean(text), width, TEXT))

    def draw(sheet: Sheet, y: float) -> None:
        sheet.write(Words(name, 0, y, width, said, TEXT, drawn_as="note"))

    return Note(height(len(said), TEXT) + AIR, draw)


class _Cell(NamedTuple):
    name: str
    called: str
    means: tuple[str, ...]
    sample: Callable[[Sheet, float, float], None]

    @property
    def height(self) -> float:
        return max(SAMPLE_H, height(1, TEXT) + height(len(self.means), SMALL)) + AIR


def _legend(
    used: set[str], kinds: set[str], marked: bool, frames: bool, width: float
) -> list[Note]:
    across = max(1, int(width // CELL))
    wide = width / across
    room = wide - SAMPLE_W - 16
    cells: list[_Cell] = []
    for symbol in symbols().values():
        if symbol.name in used:
            cells.append(
                _Cell(symbol.name, symbol.called, _wrapped(symbol.means, room), _shape(symbol.name))
            )
    for line in lines().values():
        if line.kind in kinds:
            cells.append(_Cell(line.kind, line.means, (), _line(line.kind)))
    if marked:
        cells.append(_Cell("mark", "finding", _wrapped(MARK_MEANS, room), _mark))
    if frames:
        means = _wrapped("the steps of a loop, a choice or a procedure of its own", room)
        cells.append(_Cell("frame", "frame", means, _frame))
    found: list[Note] = []
    for start in range(0, len(cells), across):
        row = cells[start : start + across]
        row = [_fitted(cell, room) for cell in row]
        found.append(Note(max(cell.height for cell in row), _drawn_row(row, wide)))
    return found


def _fitted(cell: _Cell, room: float) -> _Cell:
    """A name too long for one line goes on among the words below it."""
    first, *rest = wrap(cell.called, room, TEXT, bold=True)
    return cell._replace(called=first, means=(*rest, *cell.means))


def _wrapped(text: str, room: float) -> tuple[str, ...]:
    return tuple(wrap(text, room, SMALL))


def _drawn_row(row: list[_Cell], wide: float) -> Callable[[Sheet, float], None]:
    def draw(sheet: Sheet, y: float) -> None:
        for place, cell in enumerate(row):
            x = place * wide
            cell.sample(sheet, x, y)
            left, room = x + SAMPLE_W + 8, wide - SAMPLE_W - 14
            name = f"legend {cell.name}"
            words = Words(name, left, y, room, (cell.called,), TEXT, True, drawn_as="legend")
            below = sheet.write(words)
            more = Words(f"{name} means", left, below, room, cell.means, SMALL, drawn_as="legend")
            sheet.write(more)

    return draw


def _shape(symbol: str) -> Callable[[Sheet, float, float], None]:
    def draw(sheet: Sheet, x: float, y: float) -> None:
        w, h = SAMPLE_W, SAMPLE_H
        if symbol in ("connector", "off-page", "join"):
            w = h = 9.0 if symbol == "join" else 16.0
        left, top = x + (SAMPLE_W - w) / 2, y + (SAMPLE_H - h) / 2
        for each in outline(symbol, left, top, w, h):
            sheet.shapes.append(Shape(each, INK if symbol == "join" else PAPER))

    return draw


def _line(kind: str) -> Callable[[Sheet, float, float], None]:
    def draw(sheet: Sheet, x: float, y: float) -> None:
        from procedure.chart.sheet import Line

        level = y + SAMPLE_H / 2
        ends = (f"legend {kind} from", f"legend {kind} to")
        points = ((x, level), (x + SAMPLE_W, level))
        sheet.points += list(zip(ends, points, strict=True))
        sheet.lines.append(Line(*ends, kind, points, ""))

    return draw


def _mark(sheet: Sheet, x: float, y: float) -> None:
    sheet.shapes.append(Shape(box(x, y, SAMPLE_W, SAMPLE_H), width=2.2))
    sheet.shapes.append(Shape(box(x, y + SAMPLE_H - 11, SAMPLE_W, 11), INK))
    words = Words("legend mark sample", x, y + SAMPLE_H - 10.5, SAMPLE_W, ("see 1",), SMALL, True,
                  True, colour=PAPER, drawn_as="legend")  # fmt: skip
    sheet.write(words)


def _frame(sheet: Sheet, x: float, y: float) -> None:
    sheet.shapes.append(Shape(box(x, y, SAMPLE_W, SAMPLE_H), None, "#555555", 0.8, "dashed"))
