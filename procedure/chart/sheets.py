"""Sheets: panels, their heads and what stands below them, laid out on paper."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from procedure.chart import symbols, wording
from procedure.chart.lanes import Lanes, head
from procedure.chart.lettering import (
    HEADING,
    SMALL,
    TEXT,
    TITLE,
    clean,
    height,
    wrap,
)
from procedure.chart.marks import Marks
from procedure.chart.notes import Note
from procedure.chart.panels import ASIDE, Folded
from procedure.chart.paper import Plot
from procedure.chart.placed_symbols import Drawing
from procedure.chart.routes import Box, Panel
from procedure.chart.sheet import EDGE, INK, LANE, PAPER, Lane, Line, Shape, Sheet, Words, box
from procedure.chart.sizing import MARK_PAD, mark_height
from procedure.model import Procedure

LANE_HEAD = 18.0
FOOT = 14.0
RUNNING = 18.0
BELOW = 14.0
FRAME = 6.0
# Beside a connector, room for the word “step” before its number.
WORDY = 90.0


def heading(procedure: Procedure, marks: Marks, width: float) -> tuple[tuple[str, ...], ...]:
    """The words at the head of the chart: the title's lines, and the lines below it."""
    inner = width - 2 * symbols.PAD_X
    title = wording.name_text(procedure.title) or "Procedure without a title"
    said = [
        ", ".join(
            part
            for part in (
                procedure.by and f"by {procedure.by.text}",
                procedure.revised and f"revised {procedure.revised.text}",
                procedure.version and f"version {procedure.version.text}",
            )
            if part
        ),
        f"makes {procedure.makes.text}" if procedure.makes else "",
        f"source: {procedure.source.text}" if procedure.source else "",
    ]
    place = f"place: {procedure.setting.text}" if procedure.setting else ""
    wear = wording.listed([name.text for name in procedure.wearing])
    said.append("; ".join(part for part in (place, f"wear {wear}" if wear else "") if part))
    errors = marks.counts["error"]
    if errors:
        s = "s" if errors > 1 else ""
        said.append(f"DRAFT: {errors} error{s} must be put right before this is followed.")
    return (
        tuple(wrap(title, inner, TITLE, bold=True)[:4]),
        tuple(line for text in said for line in wrap(clean(text), inner, TEXT)[:4]),
    )


def head_height(words: tuple[tuple[str, ...], ...]) -> float:
    """How high the head of the first sheet is, with the air below it."""
    title, said = words
    return (
        height(len(title), TITLE)
        + height(len(said), TEXT)
        + 2 * symbols.PAD_Y
        + symbols.WAVE
        + BELOW
    )


def room_for(
    layout: Plot, words: tuple[tuple[str, ...], ...], lanes_have_heads: bool
) -> Callable[[int, int], float]:
    """What tells how high a panel may be, from its number and how many lanes it shows."""
    common = FOOT + (LANE_HEAD if lanes_have_heads else 0.0)
    first = head_height(words)

    def room(number: int, lanes: int) -> float:
        tall = layout.held(lanes).height
        head = first if number < layout.across else RUNNING
        return tall - common - head if tall else float("inf")

    return room


class _Setting(NamedTuple):
    """What is needed to set a panel on its sheet."""

    drawing: Drawing
    folded: Folded
    lanes: Lanes
    by: str
    across: int


def sheets(
    drawing: Drawing,
    folded: Folded,
    lanes: Lanes,
    by: str,
    layout: Plot,
    words: tuple[tuple[str, ...], ...],
    below: list[list[Note]],
    trimmed: bool,
) -> list[Sheet]:
    """All sheets of a chart; ``trimmed`` leaves out the empty foot of each, for a screen."""
    setting = _Setting(drawing, folded, lanes, by, layout.across)
    made: list[Sheet] = []
    y = 0.0
    for start in range(0, max(1, len(folded.panels)), layout.across):
        panels = folded.panels[start : start + layout.across]
        held = layout.held(max((panel.lanes for panel in panels), default=1))
        sheet = Sheet(held.width, held.height)
        made.append(sheet)
        top = _head(sheet, words) if start == 0 else RUNNING
        y = top
        tall = max((panel.height for panel in panels), default=0.0)
        for place, panel in enumerate(panels):
            room = held.width / layout.across
            x = place * room + (room - panel.width) / 2
            y = max(y, _panel(sheet, panel, setting, start + place, x, top, tall))
    y += BELOW
    for group in below:
        together = sum(note.height for note in group)
        fits = together < layout.paper.height - RUNNING - FOOT
        for place, note in enumerate(group):
            needed = together if place == 0 and fits else note.height
            if made[-1].height and y + needed > made[-1].height - FOOT and y > RUNNING:
                made.append(Sheet(layout.paper.width, layout.paper.height))
                y = RUNNING
            note.draw(made[-1], y)
            y += note.height
    title = words[0][0]
    for number, sheet in enumerate(made, 1):
        bottom = max((thing.y + thing.h for thing in sheet.words), default=0.0)
        bottom = max([bottom, *[lane.y + lane.h + BELOW / 2 for lane in sheet.lanes]])
        if trimmed or not sheet.height:
            sheet.height = bottom + (FOOT if len(made) > 1 else 0.0)
        if len(made) > 1:
            _foot(sheet, title, number, len(made))
    return made


def _head(sheet: Sheet, words: tuple[tuple[str, ...], ...]) -> float:
    title, said = words
    tall = head_height(words) - BELOW
    sheet.shapes.append(Shape(symbols.outline("document", 0, 0, sheet.width, tall)[0]))
    x, room = symbols.PAD_X, sheet.width - 2 * symbols.PAD_X
    y = sheet.write(Words("title", x, symbols.PAD_Y, room, title, TITLE, True, drawn_as="document"))
    sheet.write(Words("heading", x, y, room, said, TEXT, drawn_as="document"))
    return tall + BELOW


def _foot(sheet: Sheet, title: str, number: int, count: int) -> None:
    if number > 1:
        line = Words(f"running head {number}", 0, 0, sheet.width, (title,), HEADING, True,
                     drawn_as="note")  # fmt: skip
        sheet.write(line)
    text = f"sheet {number} of {count}"
    y = sheet.height - height(1, SMALL)
    sheet.write(Words(text, 0, y, sheet.width, (text,), SMALL, centred=True, drawn_as="note"))


# ---------------------------------------------------------------- one panel


def _panel(
    sheet: Sheet, panel: Panel, setting: _Setting, number: int, x: float, y: float, tall: float
) -> float:
    """Set a panel on a sheet with its lanes; gives the y below it."""
    drawing = setting.drawing
    shown = [drawing.figures[key] for key in setting.folded.keys[number]]
    heads = setting.by != "none"
    body = y + (LANE_HEAD if heads else 0.0)
    lanes: list[Lane] = []
    for place, lane in enumerate(panel.shown):
        left, right = panel.lane(place)
        things = setting.lanes.things[lane]
        here = [
            f
            for f in shown
            if setting.lanes.spans[f.key][0] <= lane <= setting.lanes.spans[f.key][1]
        ]
        words = head(things, here, drawing, setting.by)
        w = right - left
        area = Lane(f"lane {lane + 1} panel {number + 1}", words, x + left, y, w, body - y + tall)
        lanes.append(area)
        if heads:
            edge = box(x + left - 4, y, w + 8, body - y + tall + 4)
            band = box(x + left - 4, y, w + 8, LANE_HEAD - 1)
            sheet.shapes += [Shape(edge, None, EDGE, 0.7), Shape(band, LANE, LANE)]
            room = wrap(words, w, HEADING, bold=True)
            said = (room[0] + " …",) if len(room) > 1 else tuple(room)
            sheet.write(
                Words(f"{area.name} head", x + left, y + 3, w, said, HEADING, True, True,
                      drawn_as="lane")
            )  # fmt: skip
    sheet.lanes += lanes
    for frame in _frames(panel, setting, number):
        fx, fy, fw, fh = frame
        sheet.shapes.append(Shape(box(x + fx, body + fy, fw, fh), None, "#555555", 0.8, "dashed"))
    names: dict[int, str] = {}
    for row in panel.rows:
        for each in row:
            names[each.key] = _box(sheet, each, setting, number, x, body, lanes)
    for place, strand in enumerate(panel.strands):
        points = tuple((x + px, body + py) for px, py in strand.points)
        ends = (names[strand.before.key], names[strand.after.key])
        sheet.lines.append(Line(*ends, strand.kind, points, strand.words))
        if strand.words:
            lx, ly = strand.label_at
            name = f"label {number + 1}.{place + 1}"
            sheet.label(name, x + lx, body + ly, strand.words, strand.label_side)
    return body + tall


def _frames(
    panel: Panel, setting: _Setting, number: int
) -> list[tuple[float, float, float, float]]:
    """A frame around each block, or the part of it that this panel shows."""
    drawing = setting.drawing
    here = set(setting.folded.keys[number])
    boxes = {each.key: each for row in panel.rows for each in row if each.key in here}
    found: list[tuple[float, float, float, float]] = []
    for start, end in drawing.ends.items():
        inside = [
            each
            for key, each in boxes.items()
            if key in (start, end) or start in drawing.figures[key].within
        ]
        if not inside:
            continue
        depth = len(drawing.figures[start].within)
        out = FRAME - 2 * min(depth, 2)
        left = min(each.x for each in inside) - out
        right = max(each.x + each.w for each in inside) + out
        left = min(left, panel.lane(min(each.lo for each in inside))[0] - out)
        right = max(right, panel.lane(max(each.hi for each in inside))[1] + out)
        top = min(each.y for each in inside) - out
        bottom = max(each.y + each.h for each in inside) + out
        found.append((left, top, right - left, bottom - top))
    return found


def _box(
    sheet: Sheet,
    each: Box,
    setting: _Setting,
    number: int,
    x: float,
    y: float,
    lanes: list[Lane],
) -> str:
    """Draw a figure with its words; gives the name that lines know it by."""
    connector = setting.folded.connectors[number].get(each.key)
    if connector is not None:
        return _connector(sheet, each, setting, number, x, y, lanes)
    figure = setting.drawing.figures[each.key]
    left, top = x + each.x, y + each.y
    marked = bool(each.mark)
    for place, one in enumerate(symbols.outline(each.symbol, left, top, each.w, each.h)):
        fill = INK if each.symbol == "join" else PAPER if place == 0 else None
        sheet.shapes.append(Shape(one, fill, width=2.4 if marked else 1.1))
    name = figure.name
    inset = symbols.insets(each.symbol)
    if each.symbol == "decision":
        room = each.w * symbols.DECISION_SHARE
        tall = height(len(each.heading), HEADING) + mark_height(each.mark)
        inner = (left + (each.w - room) / 2, top + (each.h - tall) / 2)
    else:
        room = each.w - inset.left - inset.right - 2 * symbols.PAD_X
        inner = (left + inset.left + symbols.PAD_X, top + inset.top + symbols.PAD_Y)
    lane = lanes[each.lo]
    centred = each.symbol in ("decision", "terminator", "left out")
    if each.symbol == "join":
        sheet.points.append((name, (left + each.w / 2, top + each.h / 2)))
    cx, cy = inner
    cy = sheet.write(
        Words(name, cx, cy, room, each.heading, HEADING, True, centred, drawn_as=each.symbol)
    )
    details = f"{name} details"
    cy = sheet.write(
        Words(details, cx, cy, room, each.details, TEXT, centred=centred, drawn_as="details")
    )
    lane.holds += [name] if each.symbol != "join" else []
    lane.holds += [details] if each.details else []
    if marked:
        strip = mark_height(each.mark) - MARK_PAD
        sheet.shapes.append(Shape(box(cx - 2, cy + MARK_PAD, room + 4, strip), INK, INK))
        words = Words(f"{name} mark", cx, cy + 1.6 * MARK_PAD, room, each.mark, TEXT, True, True,
                      colour=PAPER, drawn_as="mark")  # fmt: skip
        sheet.write(words)
        lane.holds.append(words.name)
    return name


def _connector(
    sheet: Sheet,
    each: Box,
    setting: _Setting,
    number: int,
    x: float,
    y: float,
    lanes: list[Lane],
) -> str:
    cut, comes_in = setting.folded.connectors[number][each.key]
    room = _beside(each, x, lanes)
    other = cut.out_of if comes_in else cut.into
    same_sheet = other // setting.across == number // setting.across
    symbol = "connector" if same_sheet else "off-page"
    left, top = x + each.x, y + each.y
    for one in symbols.outline(symbol, left, top, each.w, each.h):
        sheet.shapes.append(Shape(one))
    name = f"connector {cut.letter} {'in' if comes_in else 'out'}"
    letters = Words(name, left, top + 4, each.w, (cut.letter,), HEADING, True, True,
                    drawn_as=symbol)  # fmt: skip
    sheet.write(letters)
    figure = setting.drawing.figures[cut.link[0] if comes_in else cut.link[1]]
    where = figure.number if room < WORDY else f"step {figure.number}"
    if not figure.number:
        where = "the start" if comes_in else "the end"
    elif figure.is_end:
        where = f"end of {figure.number}"
    at = "" if same_sheet else f", sheet {other // setting.across + 1}"
    said = f"{'from' if comes_in else 'to'} {where}{at}"
    things = wrap(cut.words, room, SMALL)
    if len(things) > 2:
        things = [things[0], f"{things[1].rstrip(',')} …"]
    lines = tuple(things + wrap(said, room, SMALL)[:3])
    words = Words(
        f"{name} words", left + each.w + 4, top, room, lines, SMALL, fill=PAPER, drawn_as="label"
    )
    sheet.write(words)
    lanes[each.lo].holds += [name, words.name]
    return name


def _beside(each: Box, x: float, lanes: list[Lane]) -> float:
    """The room beside a connector up to the edge of its lane."""
    lane = lanes[each.lo]
    right = lane.x + lane.w * (0.5 if each.aside == ASIDE[0] else 1.0)
    return right - (x + each.x + each.w) - 4
