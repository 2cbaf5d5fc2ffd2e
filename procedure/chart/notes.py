"""The legend at the foot of the first sheet, and what is below the chart: findings, caution."""

from __future__ import annotations

from collections.abc import Callable

from procedure.chart.drawn_rows import draw_sign
from procedure.chart.lettering import HEADING, clean, height, width, without_fonts, wrap
from procedure.chart.marks import Marks
from procedure.chart.sheet import INK, PAPER, BoxedWords, DrawnLine, Shape, Sheet, box
from procedure.chart.symbols import lines, outline, symbols
from procedure.chart.unread import UNREAD
from procedure.paper.hazard_signs import called
from procedure.paper.letters import told
from procedure.quantity.record import NamedTuple
from procedure.wording.spelling import in_spelling

SIZE = 7.0
SAMPLE_W = 20.0
SAMPLE_H = 8.5
PITCH = 10.5
AIR = 3.0
BETWEEN = 7.0

CAUTION = (
    "Local rules and the supplier’s safety data sheet come before anything that is said here; "
    "ask those licensed about health and waste."
)


class Note(NamedTuple):
    """Something below the chart that is not cut in two: how high it is, and how it is drawn."""

    height: float
    draw: Callable[[Sheet, float], None]


class LegendUse(NamedTuple):
    """What a chart shows, so that its legend tells of that alone."""

    symbols: frozenset[str]
    kinds: frozenset[str]
    signs: frozenset[str]
    marked: bool
    framed: bool
    parted: bool
    tinted: bool
    unknown: bool
    dated: bool
    planned: bool
    spelling: str


# ---------------------------------------------------------------- the legend


class _Cell(NamedTuple):
    name: str
    text: str
    sample: Callable[[Sheet, float, float], None]


def legend(used: LegendUse, room: float) -> Note:
    """A strip with what is used, as many beside each other as have room."""
    placed: list[tuple[float, int, _Cell, float]] = []
    filled: list[float] = []
    for cell in _cells(used):
        cell = cell._replace(text=in_spelling(cell.text, used.spelling))
        wide = min(width(cell.text, SIZE), room - SAMPLE_W - 4.0)
        taken = SAMPLE_W + 4.0 + wide
        row = next((n for n, x in enumerate(filled) if x + taken <= room), len(filled))
        if row == len(filled):
            filled.append(0.0)
        placed.append((filled[row], row, cell, wide))
        filled[row] += taken + BETWEEN

    def draw(sheet: Sheet, y: float) -> None:
        sheet.shapes.append(Shape(box(0.0, y, room, 0.0), None, "#bbbbbb", 0.6))
        for left, number, cell, wide in placed:
            top = y + AIR + number * PITCH
            cell.sample(sheet, left, top)
            words = BoxedWords(f"legend {cell.name}", left + SAMPLE_W + 4.0, top + 1.0, wide,
                          (cell.text,), SIZE, drawn_as="legend")  # fmt: skip
            sheet.write(words)

    return Note(AIR + len(filled) * PITCH, draw)


def _cells(used: LegendUse) -> list[_Cell]:
    cells = [
        _Cell(one.name, f"{one.called}: {one.means}", _shape(one.name))
        for one in symbols().values()
        if one.name in used.symbols
    ]
    cells += [
        _Cell(k.kind, k.means, _line(k.kind)) for k in lines().values() if k.kind in used.kinds
    ]
    if used.parted:
        cells.append(_Cell("joint", "one step, lines pass between", _joint))
    if used.framed:
        cells.append(_Cell("frame", "the steps of a block", _frame))
    if used.tinted:
        cells.append(_Cell("colour", "about the fibre’s colour", _colour))
    if used.unknown:
        cells.append(_Cell("no colour", "dyed, its colour not known", _no_colour))
    cells += [
        _Cell(code, f"hazard: {called().get(code, code)}", _sign(code))
        for code in sorted(used.signs)
    ]
    if used.marked:
        cells.append(_Cell("mark", "a finding, told below the chart", _mark))
    if used.dated:
        by = "as planned in the hours of the workshop"
        nights = "by the nights written, step after step"
        cells.append(_Cell("days", f"days, {by if used.planned else nights}", _day))
    return cells


def _shape(symbol: str) -> Callable[[Sheet, float, float], None]:
    def draw(sheet: Sheet, x: float, y: float) -> None:
        small = symbol == "join"
        w, h = SAMPLE_W, 3.0 if small else SAMPLE_H
        left, top = x + (SAMPLE_W - w) / 2, y + (SAMPLE_H - h) / 2
        for each in outline(symbol, left, top, w, h):
            style = "dashed" if symbol == UNREAD else "solid"
            sheet.shapes.append(Shape(each, INK if small else None, width=0.8, style=style))

    return draw


def _line(kind: str) -> Callable[[Sheet, float, float], None]:
    def draw(sheet: Sheet, x: float, y: float) -> None:
        level = y + SAMPLE_H / 2
        ends = (f"legend {kind} from", f"legend {kind} to")
        points = ((x, level), (x + SAMPLE_W, level))
        sheet.points += list(zip(ends, points, strict=True))
        sheet.lines.append(DrawnLine(*ends, kind, points, ""))

    return draw


def _sign(code: str) -> Callable[[Sheet, float, float], None]:
    def draw(sheet: Sheet, x: float, y: float) -> None:
        draw_sign(sheet, code, x + (SAMPLE_W - PITCH) / 2, y - (PITCH - SAMPLE_H) / 2, PITCH)

    return draw


def _joint(sheet: Sheet, x: float, y: float) -> None:
    middle = y + SAMPLE_H / 2
    for left, wide, tall in ((x, 5.0, 7.0), (x + 15.0, 5.0, 7.0), (x + 5.0, 3.0, 2.6),
                             (x + 12.0, 3.0, 2.6)):  # fmt: skip
        sheet.shapes.append(Shape(box(left, middle - tall / 2, wide, tall), PAPER, INK, 0.6))
    sheet.shapes.append(Shape(box(x + 9.0, y, 2.0, SAMPLE_H), lines()["lot"].colour, PAPER, 0.1))


def _frame(sheet: Sheet, x: float, y: float) -> None:
    sheet.shapes.append(Shape(box(x, y, SAMPLE_W, SAMPLE_H), None, "#777777", 0.7, "dashed"))


def _colour(sheet: Sheet, x: float, y: float) -> None:
    sheet.shapes.append(Shape(box(x + 6.0, y, 8.0, SAMPLE_H), "#d8b23a", "#8a8a8a", 0.4))
    colour = lines()["lot"].colour
    sheet.shapes.append(Shape(box(x + 9.0, y, 2.0, SAMPLE_H), colour, colour, 0.1))


def _no_colour(sheet: Sheet, x: float, y: float) -> None:
    sheet.shapes.append(Shape(box(x + 6.0, y, 8.0, SAMPLE_H), None, "#8a8a8a", 0.4))
    colour = lines()["lot"].colour
    sheet.shapes.append(Shape(box(x + 9.0, y, 2.0, SAMPLE_H), colour, colour, 0.1))


def _mark(sheet: Sheet, x: float, y: float) -> None:
    sheet.shapes.append(Shape(box(x, y, SAMPLE_W, SAMPLE_H), INK, INK))


def _day(sheet: Sheet, x: float, y: float) -> None:
    sheet.shapes.append(Shape(box(x + 10.0, y, 0.0, SAMPLE_H), None, "#c8c8c8", 0.8))
    sheet.shapes.append(Shape(box(x + 7.0, y + 3.0, 6.0, 0.0), None, INK, 0.8))


# ---------------------------------------------------------------- below the chart


def below(marks: Marks, room: float, size: float, lighter: int, elsewhere: int) -> list[Note]:
    """The findings that are marked, how many are not told here, and the caution.

    ``lighter`` is how many findings of lighter levels are not shown, ``elsewhere`` how many
    that this drawing has no room or no step for.
    """
    found: list[Note] = []
    if marks.listed:
        found.append(_heading("Look at this before you begin", room))
        found += [_paragraph(f"finding {n}", text, room, size) for n, text in marks.listed]
    if elsewhere:
        s = "s" if elsewhere > 1 else ""
        text = f"{elsewhere} finding{s} not told here; the whole chart and “vatwright check” do."
        found.append(_paragraph("findings elsewhere", text, room, size))
    if lighter:
        s = "s" if lighter > 1 else ""
        are = "are" if lighter > 1 else "is"
        text = f"{lighter} lighter remark{s} of the checker {are} not shown."
        found.append(_paragraph("lighter findings", text, room, size))
    written = without_fonts()
    if written:
        found.append(_paragraph("letters", told(written, on_paper=True), room, size))
    found.append(_paragraph("caution", CAUTION, room, SIZE))
    return found


def _heading(text: str, room: float) -> Note:
    def draw(sheet: Sheet, y: float) -> None:
        sheet.write(BoxedWords(text, 0, y + AIR, room, (text,), HEADING, True, drawn_as="note"))

    return Note(height(1, HEADING) + 2 * AIR, draw)


def _paragraph(name: str, text: str, room: float, size: float) -> Note:
    said = tuple(wrap(clean(text), room, size))

    def draw(sheet: Sheet, y: float) -> None:
        sheet.write(BoxedWords(name, 0, y, room, said, size, drawn_as="note"))

    return Note(height(len(said), size) + AIR, draw)
