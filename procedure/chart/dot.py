"""Sheets to DOT, Graphviz's language. Every place is fixed, so Graphviz only draws.

The graph names ``nop2`` as its layout, which keeps all places as they are; the outlines
of the symbols are in ``_background``, since Graphviz has no shapes for most of them.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from procedure.chart.lettering import clean, height
from procedure.chart.sheet import EDGE, BoxedWords, Shape, Sheet, box
from procedure.chart.symbols import Point, lines
from procedure.paper.letters import set_apart

if TYPE_CHECKING:
    import graphviz

FACE = "Helvetica"
BOLD = "Helvetica-Bold"
ROUNDING = 4.0
ARROW = 0.62
ARROW_LENGTH = 10.0
# Graphviz makes no node smaller than a hundredth of an inch.
SMALLEST_NODE = 0.72


def escaped(text: str) -> str:
    """A text as a DOT label that shows it letter for letter.

    Graphviz reads escapes (``\\N``) and entities (``&amp;``) in labels, so backslashes
    and ampersands are doubled and named; quotes are the graphviz package's care.
    """
    return clean(text).replace("\\", "\\\\").replace("&", "&amp;")


def dot(
    sheets: list[Sheet], title: str, margin: float, per_column: int = 0, gap: float = 0.0
) -> str:
    """All sheets in one graph, one below the other (or in columns of ``per_column``).

    ``margin`` is the white edge of each sheet; with a ``gap`` between them (in points) the
    edges of the paper are drawn.
    """
    import graphviz

    places, (wide, tall) = _spread(sheets, margin, per_column or len(sheets), gap)
    graph = graphviz.Digraph(
        name="chart",
        comment="Places are fixed; draw it with: dot -Tsvg",
        graph_attr={
            "layout": "nop2",
            "bb": f"0,0,{_n(wide)},{_n(tall)}",
            "outputorder": "edgesfirst",
            "pad": "0",
            "margin": "0",
            "bgcolor": "white",
            "charset": "UTF-8",
            "title": _not_markup(escaped(title)),
        },
        node_attr={"shape": "plaintext", "fixedsize": "shape", "margin": "0", "fontname": FACE},
        edge_attr={"arrowsize": str(ARROW)},
    )
    pen = _Pen(tall)
    background = [
        op
        for sheet, at in zip(sheets, places, strict=True)
        for op in pen.sheet(sheet, at, margin if gap else 0.0)
    ]
    # Graphviz reads no more than 16 384 signs of a text at a stretch; an escaped line end parts it.
    graph.graph_attr["_background"] = " \\\n".join(background)
    inset = SMALLEST_NODE / 2
    corners = (("corner", (inset, inset)), ("far corner", (wide - inset, tall - inset)))
    for name, point in corners:  # the paper is as large as what is on it
        graph.node(
            name, label="", pos=pen.at(point, (0.0, 0.0)), width="0", height="0", id=_id(name)
        )
    for number, (sheet, at) in enumerate(zip(sheets, places, strict=True), 1):
        _sheet(graph, pen, sheet, at, f"sheet {number} " if len(sheets) > 1 else "")
    return str(graph.source)


def whole(sheets: list[Sheet], margin: float, gap: float = 0.0) -> tuple[float, float]:
    """The width and height in points of all sheets below each other."""
    return _spread(sheets, margin, len(sheets), gap)[1]


def _spread(
    sheets: list[Sheet], margin: float, deep: int, gap: float
) -> tuple[list[Point], tuple[float, float]]:
    """The corner of each sheet inside its margin, and the size of all, in columns so deep."""
    places: list[Point] = []
    tallest: list[float] = []
    wide = 0.0
    for start in range(0, len(sheets), deep):
        y = gap
        column = sheets[start : start + deep]
        for sheet in column:
            places.append((wide + gap + margin, y + margin))
            y += sheet.height + 2 * margin + gap
        tallest.append(y)
        wide += max(sheet.width for sheet in column) + 2 * margin + gap
    return places, (wide + gap, max(tallest))


def _n(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")


class _Pen:
    """Turns places that grow down the page into Graphviz's, which grow up it."""

    def __init__(self, tall: float) -> None:
        self.tall = tall

    def at(self, point: Point, place: Point) -> str:
        return f"{_n(place[0] + point[0])},{_n(self.tall - place[1] - point[1])}"

    def sheet(self, sheet: Sheet, place: Point, edge: float = 0.0) -> list[str]:
        """The shapes of a sheet in Graphviz's drawing operations (xdot)."""
        if edge:
            around = box(-edge, -edge, sheet.width + 2 * edge, sheet.height + 2 * edge)
            return [*self.shape(Shape(around, None, EDGE, 0.7), place), *self.sheet(sheet, place)]
        return [op for shape in sheet.shapes for op in self.shape(shape, place)]

    def shape(self, shape: Shape, place: Point) -> list[str]:
        style = f"setlinewidth({_n(shape.width)})"
        ops = [_text("S", shape.style), _text("S", style), _text("c", shape.pen)]
        filled = shape.fill is not None
        if shape.fill is not None:
            ops.append(_text("C", shape.fill))
        points = shape.outline.points
        letter = "b" if shape.outline.curved else "P"
        if not filled:
            letter = "B" if shape.outline.curved else "p"
        said = " ".join(self.at(point, place).replace(",", " ") for point in points)
        return [*ops, f"{letter} {len(points)} {said}"]


def _text(letter: str, text: str) -> str:
    return f"{letter} {len(text.encode())} -{text}"


def _sheet(graph: graphviz.Digraph, pen: _Pen, sheet: Sheet, at: Point, prefix: str) -> None:
    words = {each.name: each for each in sheet.words}
    inside: set[str] = set()
    for lane in sheet.lanes:
        corner = (lane.x, lane.y + lane.h)
        other = (lane.x + lane.w, lane.y)
        with graph.subgraph(name=f"cluster {prefix}{lane.name}") as area:
            area.attr(
                bb=f"{pen.at(corner, at)},{pen.at(other, at)}",
                penwidth="0",
                bgcolor="transparent",
                comment=_not_markup(escaped(lane.words)),
            )
            for name in lane.holds:
                if name in words and name not in inside:
                    inside.add(name)
                    _words(area, pen, words[name], at, prefix)
    for each in sheet.words:
        if each.name not in inside:
            _words(graph, pen, each, at, prefix)
    for name, point in sheet.points:
        graph.node(
            prefix + name, label="", pos=pen.at(point, at), width="0.01", height="0.01",
            id=_id(prefix + name),
        )  # fmt: skip
    kinds = lines()
    for number, line in enumerate(sheet.lines, 1):
        kind = kinds[line.kind]
        more = {"carries": _not_markup(escaped(line.carries))} if line.carries else {}
        graph.edge(
            prefix + line.before,
            prefix + line.after,
            pos=_route(pen, line.points, at, kind.head != "none"),
            style=kind.style,
            penwidth=_n(kind.width),
            color=kind.colour,
            arrowhead=kind.head,
            id=_id(f"{prefix}line {number}"),
            **{"class": kind.kind, **more},
        )


def _words(graph: graphviz.Digraph, pen: _Pen, words: BoxedWords, at: Point, prefix: str) -> None:
    """A node for each line of words, since Graphviz sets lines as wide apart as a font says."""
    lead = height(1, words.size)
    top = words.y + (words.h - lead * len(words.lines)) / 2
    for place, line in enumerate(words.lines):
        tall = words.h if len(words.lines) == 1 else lead
        y = words.y if len(words.lines) == 1 else top + place * lead
        name = prefix + words.name + (f" line {place + 1}" if place else "")
        graph.node(
            name,
            label=_not_markup(set_apart(escaped(line)) + ("" if words.centred else "\\l")),
            pos=pen.at((words.x + words.w / 2, y + tall / 2), at),
            width=f"{words.w / 72:.4f}",
            height=f"{tall / 72:.4f}",
            fontsize=_n(words.size),
            fontname=BOLD if words.bold else FACE,
            fontcolor=words.colour,
            id=_id(name),
            **{"class": words.drawn_as.replace(" ", "-")},
        )


def _not_markup(label: str) -> str:
    """A label that the graphviz package does not take for markup, whatever signs are around it."""
    import graphviz

    made: str = graphviz.nohtml(label)
    return made


def _id(name: str) -> str:
    """A name as the id of an element of the SVG."""
    return re.sub(r"[^\w.]+", "-", name).strip("-")


def _route(pen: _Pen, points: tuple[Point, ...], at: Point, tipped: bool) -> str:
    """A line with small round corners as the curve that Graphviz draws, and its arrow's tip."""
    if not tipped:
        return " ".join(pen.at(point, at) for point in _curve(list(points)))
    *before, tip = points
    last = before[-1]
    length = ARROW_LENGTH * ARROW
    span = max(abs(tip[0] - last[0]) + abs(tip[1] - last[1]), 0.01)
    share = min(1.0, length / span)
    neck = (tip[0] + (last[0] - tip[0]) * share, tip[1] + (last[1] - tip[1]) * share)
    said = " ".join(pen.at(point, at) for point in _curve([*before, neck]))
    return f"e,{pen.at(tip, at)} {said}"


def _curve(run: list[Point]) -> list[Point]:
    """A line along some points with round corners, as cubic curves end to end."""
    curve: list[Point] = [run[0]]
    for place in range(1, len(run) - 1):
        corner = run[place]
        into = _short_of(corner, run[place - 1])
        out = _short_of(corner, run[place + 1])
        curve += [curve[-1], into, into, corner, corner, out]
    return [*curve, curve[-1], run[-1], run[-1]]


def _short_of(corner: Point, other: Point) -> Point:
    dx, dy = other[0] - corner[0], other[1] - corner[1]
    length = (dx * dx + dy * dy) ** 0.5
    if length == 0:
        return corner
    share = min(ROUNDING, length / 2) / length
    return corner[0] + dx * share, corner[1] + dy * share
