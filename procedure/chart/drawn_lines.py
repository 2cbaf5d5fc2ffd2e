"""The lines of a chart: each thread down its own lane, with the colour that a lot has there."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from procedure.chart.grid import NARROWEST
from procedure.chart.lanes import own_name
from procedure.chart.plotted import Plotted
from procedure.chart.rows import FigureRow
from procedure.chart.sheet import BoxedWords, DrawnLine, Shape, Sheet, box
from procedure.chart.threads import Thread

STUB = 5.0
WIDE_BAND = 8.0
THIN_BAND = 4.6
BAND_EDGE = "#8a8a8a"
NO_SIZE = 7.0

Stretch = tuple[int, float, float, bool, bool]
"""A piece of a line on a sheet: the sheet, where it begins and ends, and whether it comes
from the sheet before and goes on to the next."""


def bands(sheets: list[Sheet], plotted: Plotted) -> None:
    """The colour of each lot as a band behind its line, where it is known."""
    for number, thread in enumerate(plotted.threads):
        if thread.kind != "lot":
            continue
        lane = plotted.lanes.of[thread.place]
        wide = WIDE_BAND if plotted.grid.widths[lane] >= NARROWEST - 0.5 else THIN_BAND
        x = plotted.x(number)
        for one, two in pairwise(thread.stops):
            tint = plotted.tints.get((thread.thing, one))
            if tint is None:
                continue
            for sheet, top, bottom, _, _ in _stretches(plotted, number, one, two):
                area = box(x - wide / 2, top, wide, bottom - top)
                sheets[sheet].shapes.append(Shape(area, tint.swatch or None, BAND_EDGE, 0.4))


def lines(sheets: list[Sheet], plotted: Plotted) -> None:
    """Every thread between the figures that it meets, and the way round for each no."""
    for number, thread in enumerate(plotted.threads):
        for one, two in pairwise(thread.stops):
            _between(sheets, plotted, number, one, two)
        for other, key, up in (
            (thread.before, thread.stops[0], True),
            (thread.after, thread.stops[-1], False),
        ):
            if other is not None:
                _stub(sheets, plotted, number, key, up)
    for start, end in plotted.drawing.ends.items():
        if plotted.drawing.figures[start].symbol == "decision":
            _no(sheets, plotted, start, end)


def _carried(plotted: Plotted, thread: Thread) -> str:
    if thread.kind == "lot":
        return own_name(plotted.drawing, thread.place)
    return thread.thing


def _stretches(plotted: Plotted, number: int, one: int, two: int) -> Iterator[Stretch]:
    top, bottom = plotted.leaves(number, one), plotted.enters(number, two)
    yield from _over_sheets(plotted, plotted.rows[one], plotted.rows[two], top, bottom)


def _over_sheets(
    plotted: Plotted, one: FigureRow, two: FigureRow, top: float, bottom: float
) -> Iterator[Stretch]:
    for sheet in range(one.sheet, two.sheet + 1):
        comes, goes = sheet > one.sheet, sheet < two.sheet
        begins = plotted.tops[sheet] if comes else top
        ends = plotted.bottoms[sheet] if goes else bottom
        yield sheet, begins, ends, comes, goes


def _between(sheets: list[Sheet], plotted: Plotted, number: int, one: int, two: int) -> None:
    thread = plotted.threads[number]
    x = plotted.x(number)
    names = (plotted.rows[one].figure.name, plotted.rows[two].figure.name)
    for sheet, top, bottom, comes, goes in _stretches(plotted, number, one, two):
        ends = [
            f"thread {number + 1} sheet {sheet + 1} {edge}" if cut else name
            for cut, name, edge in zip((comes, goes), names, ("head", "foot"), strict=True)
        ]
        points = ((x, top), (x, bottom))
        for cut, name, point in zip((comes, goes), ends, points, strict=True):
            if cut:
                sheets[sheet].points.append((name, point))
        carried = _carried(plotted, thread)
        sheets[sheet].lines.append(DrawnLine(ends[0], ends[1], thread.kind, points, carried))


def _stub(sheets: list[Sheet], plotted: Plotted, number: int, key: int, up: bool) -> None:
    """The end of a line whose other end is not drawn."""
    thread = plotted.threads[number]
    row = plotted.rows[key]
    x = plotted.x(number)
    name = f"thread {number + 1} {'comes' if up else 'goes'}"
    at = plotted.enters(number, key) if up else plotted.leaves(number, key)
    far = at - STUB if up else at + STUB
    sheet = sheets[row.sheet]
    sheet.points.append((name, (x, far)))
    if up:
        line = DrawnLine(
            name, row.figure.name, thread.kind, ((x, far), (x, at)), _carried(plotted, thread)
        )
    else:
        line = DrawnLine(
            row.figure.name, name, thread.kind, ((x, at), (x, far)), _carried(plotted, thread)
        )
    sheet.lines.append(line)


def _no(sheets: list[Sheet], plotted: Plotted, start: int, end: int) -> None:
    """The way round a decision's steps: out at its right corner, down, and in at its end."""
    one, two = plotted.rows[start], plotted.rows[end]
    _, high, left, wide = plotted.parts(start)[-1]
    _, _, end_left, end_wide = plotted.parts(end)[-1]
    x = plotted.grid.right(high) - 2.0
    corner = (left + wide, one.top + one.symbol / 2)
    arrives = (end_left + end_wide, two.top + two.symbol / 2)
    for sheet, top, bottom, comes, goes in _over_sheets(plotted, one, two, corner[1], arrives[1]):
        points = [(x, top), (x, bottom)]
        ends = [one.figure.name, two.figure.name]
        if comes:
            ends[0] = f"no {start} sheet {sheet + 1} head"
            sheets[sheet].points.append((ends[0], points[0]))
        else:
            points.insert(0, corner)
        if goes:
            ends[1] = f"no {start} sheet {sheet + 1} foot"
            sheets[sheet].points.append((ends[1], points[-1]))
        else:
            points.append(arrives)
        sheets[sheet].lines.append(DrawnLine(ends[0], ends[1], "no", tuple(points), "no"))
    lines = [plotted.x(number) for number in range(len(plotted.threads))]
    if x - corner[0] >= 12.0 and not any(corner[0] < line < x for line in lines):
        y = corner[1] - NO_SIZE * 1.2 - 0.5
        no = BoxedWords(f"{one.figure.name} no", corner[0] + 1.5, y, 11.0, ("no",), NO_SIZE,
                   drawn_as="label")  # fmt: skip
        sheets[one.sheet].write(no)
