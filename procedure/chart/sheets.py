"""Sheets: the head of the chart, its rows, the legend and the notes, set on paper."""

from __future__ import annotations

from procedure.chart import drawn_lines, drawn_rows, step_words, symbols
from procedure.chart.lettering import HEADING, SMALL, TITLE, at_most, clean, height, wrap
from procedure.chart.marks import Marks
from procedure.chart.notes import Note
from procedure.chart.plotted import Plotted
from procedure.chart.rows import set_on_sheets
from procedure.chart.sheet import BoxedWords, Shape, Sheet
from procedure.model import Procedure
from procedure.quantity.number_words import listed
from procedure.quantity.record import NamedTuple

FOOT = 12.0
RUNNING = 16.0
BELOW = 7.0
ENDLESS = float("inf")
# How much less air a row has where that spares a sheet, in points.
LESS_AIR = 0.4
# How much more air a row may have where sheets have room for it, in points.
MORE_AIR = (10.0, 8.0, 6.0, 5.0, 4.0, 3.0, 2.0, 1.0, 0.5, 0.0)

Heading = tuple[tuple[str, ...], tuple[str, ...]]


def heading(
    procedure: Procedure, marks: Marks, room: float, cautions: tuple[str, ...] = ()
) -> Heading:
    """The words at the head of the chart: the title's lines, and the lines below it.

    ``cautions`` are of what can kill, and come before all else that is said.
    """
    inner = room - 2 * symbols.PAD_X
    title = step_words.name_text(procedure.title) or "Procedure without a title"
    wear = listed([name.text for name in procedure.wearing])
    said = [
        procedure.by and f"by {procedure.by.text}",
        procedure.revised and f"revised {procedure.revised.text}",
        procedure.version and f"version {procedure.version.text}",
        procedure.makes and f"makes {procedure.makes.text}",
        procedure.source and f"source: {procedure.source.text}",
        procedure.setting and f"place: {procedure.setting.text}",
        f"wear {wear}" if wear else "",
    ]
    below = [line for caution in cautions for line in wrap(clean(caution), inner, SIZE)]
    below += at_most(wrap(clean("; ".join(part for part in said if part)), inner, SIZE), 6)
    errors = marks.counts["error"]
    if errors:
        s = "s" if errors > 1 else ""
        title = f"DRAFT: {title}"
        draft = f"{errors} error{s} must be put right before this is followed."
        below = [*wrap(draft, inner, SIZE), *below]
    return at_most(wrap(title, inner, TITLE, bold=True), 3), tuple(below)


SIZE = 7.5


def head_height(words: Heading) -> float:
    """How high the head of the first sheet is, with the air below it."""
    title, said = words
    inside = height(len(title), TITLE) + height(len(said), SIZE)
    return inside + 2 * symbols.PAD_Y + symbols.WAVE + BELOW


class Setting(NamedTuple):
    """What is needed to set the rows on paper besides themselves."""

    words: Heading
    legend: Note
    below: list[Note]
    trimmed: bool


def pages(plotted: Plotted, setting: Setting) -> int:
    """Set the rows on sheets; how many sheets those and the notes need."""
    _rows_on_paper(plotted, setting)
    return len(_notes_places(plotted, setting)[1])


def spread(plotted: Plotted, setting: Setting) -> None:
    """Give every row more air while that needs no further sheet: none is left half empty."""
    if setting.trimmed or not plotted.grid.height:
        return
    every = list(plotted.rows.values())
    own = [row.air for row in every]
    needed = pages(plotted, setting)
    for more in MORE_AIR:
        for row, air in zip(every, own, strict=True):
            row.air = air + more
        if pages(plotted, setting) == needed:
            return


def closer(plotted: Plotted, setting: Setting, most: int) -> bool:
    """Give every row a little less air if no more than so many sheets are needed then."""
    every = [row for row in plotted.rows.values() if row.figure.symbol != "join"]
    own = [row.air for row in every]
    for row in every:
        row.air -= LESS_AIR
    if pages(plotted, setting) <= most:
        return True
    for row, air in zip(every, own, strict=True):
        row.air = air
    return False


def _rows_on_paper(plotted: Plotted, setting: Setting) -> None:
    heads = drawn_rows.head_height(plotted)
    tall = plotted.grid.height or ENDLESS
    every = list(plotted.rows.values())
    first = head_height(setting.words) + heads
    foot = setting.legend.height + BELOW
    alone = first + sum(row.height for row in every) + sum(note.height for note in setting.below)
    if alone + BELOW + foot > tall:
        foot += FOOT

    def room(number: int) -> tuple[float, float]:
        if number == 0:
            return first, tall - foot
        return RUNNING + heads, tall - FOOT - BELOW

    count = set_on_sheets(every, room) if every else 1
    plotted.tops = [room(number)[0] for number in range(count)]
    ends = list(plotted.tops)
    for row in every:
        ends[row.sheet] = max(ends[row.sheet], row.y + row.height)
    plotted.bottoms = [end + BELOW / 2 for end in ends]


def _notes_places(
    plotted: Plotted, setting: Setting
) -> tuple[list[tuple[int, float]], list[float]]:
    """The sheet and y of each note, and how far each sheet is filled then."""
    tall = plotted.grid.height or ENDLESS
    filled = list(plotted.bottoms)
    places: list[tuple[int, float]] = []
    together = sum(note.height for note in setting.below)
    for note in setting.below:
        number = len(filled) - 1
        foot = setting.legend.height if number == 0 else 0.0
        if len(filled) > 1 or filled[0] + BELOW + together > tall - foot:
            foot += FOOT
        if filled[-1] + BELOW + note.height > tall - foot and filled[-1] > RUNNING:
            filled.append(RUNNING - BELOW)
            number += 1
        first = not places or places[-1][0] != number
        y = filled[-1] + (BELOW if first else 0.0)
        places.append((number, y))
        filled[-1] = y + note.height
    return places, filled


def sheets(plotted: Plotted, setting: Setting) -> list[Sheet]:
    """All sheets of a chart; trimmed ones leave out the empty foot of each, for a screen."""
    _rows_on_paper(plotted, setting)
    places, filled = _notes_places(plotted, setting)
    grid = plotted.grid
    made = [Sheet(grid.width, grid.height) for _ in filled]
    _head(made[0], setting.words)
    drawn_rows.grounds(made, plotted)
    drawn_rows.heads(made, plotted)
    drawn_lines.bands(made, plotted)
    drawn_rows.frames(made, plotted)
    drawn_rows.figures(made, plotted)
    drawn_rows.axis(made, plotted)
    drawn_lines.lines(made, plotted)
    for note, (number, y) in zip(setting.below, places, strict=True):
        note.draw(made[number], y)
    first, *more = setting.words[0]
    title = f"{first} …" if more else first
    for number, sheet in enumerate(made):
        legend = setting.legend.height if number == 0 else 0.0
        if setting.trimmed or not sheet.height:
            sheet.height = filled[number] + legend + (FOOT if len(made) > 1 else 2.0)
        foot = sheet.height - (FOOT if len(made) > 1 else 0.0)
        if number == 0:
            setting.legend.draw(sheet, foot - legend)
        if len(made) > 1:
            _foot(sheet, title, number + 1, len(made))
    return made


def _head(sheet: Sheet, words: Heading) -> None:
    title, said = words
    tall = head_height(words) - BELOW
    sheet.shapes.append(Shape(symbols.outline("document", 0, 0, sheet.width, tall)[0]))
    x, room = symbols.PAD_X, sheet.width - 2 * symbols.PAD_X
    y = sheet.write(
        BoxedWords("title", x, symbols.PAD_Y, room, title, TITLE, True, drawn_as="document")
    )
    sheet.write(BoxedWords("heading", x, y, room, said, SIZE, drawn_as="document"))


def _foot(sheet: Sheet, title: str, number: int, count: int) -> None:
    if number > 1:
        line = BoxedWords(f"running head {number}", 0, 0, sheet.width, (title,), HEADING, True,
                     drawn_as="note")  # fmt: skip
        sheet.write(line)
    text = f"sheet {number} of {count}"
    y = sheet.height - height(1, SMALL)
    sheet.write(BoxedWords(text, 0, y, sheet.width, (text,), SMALL, centred=True, drawn_as="note"))
