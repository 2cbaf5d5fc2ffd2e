"""Hazard signs as outlines, so that any Graphviz draws them: the GHS pictograms of the steps."""

from __future__ import annotations

import re
from functools import cache
from typing import TYPE_CHECKING

from procedure.chart.symbols import Outline, Point
from procedure.paper.hazard_signs import picture
from procedure.quantity.record import NamedTuple

if TYPE_CHECKING:
    from xml.etree.ElementTree import Element

CLEAR = ("none", "")
_NAMED = {
    "red": "#ff0000", "#f00": "#ff0000", "white": "#ffffff", "#fff": "#ffffff",
    "black": "#000000", "#000": "#000000",
}  # fmt: skip


class Patch(NamedTuple):
    """A filled outline of a sign whose box is 1 by 1; ``pen`` is drawn ``width`` wide around it."""

    outline: Outline
    fill: str
    pen: str
    width: float


class _Style(NamedTuple):
    """How an element is drawn: what it says, else what is around it says."""

    fill: str = "#000000"
    stroke: str = "none"
    width: float = 1.0


@cache
def patches(code: str) -> tuple[Patch, ...]:
    """A pictogram as filled outlines, the lowest first; none where the package is not there."""
    from xml.etree import ElementTree

    drawn = picture(code)
    if not drawn:
        return ()
    root = ElementTree.fromstring(drawn)
    _, _, wide, _ = (float(part) for part in root.get("viewBox", "0 0 1 1").split())
    found: list[Patch] = []
    _walk(root, (1 / wide, 0.0, 0.0), _Style(), found)
    return tuple(found)


_Place = tuple[float, float, float]
"""A scale, and how far aside and down."""


def _walk(element: Element, place: _Place, style: _Style, found: list[Patch]) -> None:
    style = _styled(element, style)
    place = _moved(place, element.get("transform", ""))
    for contour, depth in _nested(_contours(element)):
        scaled = tuple(_at(point, place) for point in contour)
        fill = style.fill if depth % 2 == 0 else "#ffffff"
        stroked = style.stroke not in CLEAR
        pen, wide = (style.stroke, style.width * place[0]) if stroked else (fill, 0.0)
        if style.fill not in CLEAR:
            found.append(Patch(Outline(scaled, True), fill, pen, wide))
    for child in element:
        _walk(child, place, style, found)


def _styled(element: Element, around: _Style) -> _Style:
    said = dict(part.split(":", 1) for part in element.get("style", "").split(";") if ":" in part)
    told = [
        said.get(name, element.get(name, before)).strip().lower()
        for name, before in (("fill", around.fill), ("stroke", around.stroke))
    ]
    fill, stroke = (_NAMED.get(colour, colour) for colour in told)
    return _Style(
        fill, stroke, float(said.get("stroke-width", element.get("stroke-width", around.width)))
    )


def _moved(place: _Place, transform: str) -> _Place:
    scale, x, y = place
    for kind, said in re.findall(r"(\w+)\(([^)]*)\)", transform):
        numbers = [float(part) for part in re.split(r"[ ,]+", said.strip())]
        if kind == "scale":
            scale *= numbers[0]
        elif kind == "translate":
            x, y = x + scale * numbers[0], y + scale * (numbers[1:] or [0.0])[0]
        elif kind == "matrix":
            x, y = x + scale * numbers[4], y + scale * numbers[5]
            scale *= numbers[0]
    return scale, x, y


def _at(point: Point, place: _Place) -> Point:
    scale, x, y = place
    return scale * point[0] + x, scale * point[1] + y


def _contours(element: Element) -> list[tuple[Point, ...]]:
    """The closed outlines of an element as cubic curves, end to end."""
    from fontTools.pens.recordingPen import RecordingPen
    from fontTools.svgLib.path import parse_path

    tag = element.tag.rsplit("}", 1)[-1]
    if tag == "ellipse":
        cx, cy, rx, ry = (float(element.get(name, "0")) for name in ("cx", "cy", "rx", "ry"))
        said = f"M{cx - rx},{cy} A{rx},{ry} 0 0 1 {cx + rx},{cy} A{rx},{ry} 0 0 1 {cx - rx},{cy} Z"
    elif tag == "path":
        said = element.get("d", "")
    else:
        return []
    pen = RecordingPen()
    parse_path(said, pen)
    found: list[list[Point]] = []
    for name, points in pen.value:
        if name == "moveTo":
            found.append([points[0]])
        elif name == "lineTo" and found:
            found[-1] += [found[-1][-1], points[0], points[0]]
        elif name == "curveTo" and found:
            found[-1] += list(points)
        elif name == "qCurveTo" and found:
            one, end = points[0], points[-1]
            start = found[-1][-1]
            found[-1] += [_between(start, one), _between(end, one), end]
    return [tuple(contour) for contour in found if len(contour) > 3]


def _between(end: Point, control: Point) -> Point:
    """The control point of a cubic curve that is the same as a quadratic one."""
    return end[0] + (control[0] - end[0]) * 2 / 3, end[1] + (control[1] - end[1]) * 2 / 3


def _nested(contours: list[tuple[Point, ...]]) -> list[tuple[tuple[Point, ...], int]]:
    """The contours of one path from the largest on, each with how many others it lies in."""
    by_size = sorted(contours, key=lambda contour: -abs(_area(contour)))
    return [
        (contour, sum(_inside(contour[0], other) for other in by_size[:place]))
        for place, contour in enumerate(by_size)
    ]


def _area(contour: tuple[Point, ...]) -> float:
    return sum(
        a[0] * b[1] - b[0] * a[1] for a, b in zip(contour, (*contour[1:], contour[0]), strict=True)
    )


def _inside(point: Point, contour: tuple[Point, ...]) -> bool:
    x, y = point
    found = False
    for (x1, y1), (x2, y2) in zip(contour, (*contour[1:], contour[0]), strict=True):
        if (y1 > y) != (y2 > y) and x < (x2 - x1) * (y - y1) / (y2 - y1) + x1:
            found = not found
    return found
