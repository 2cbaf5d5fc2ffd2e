"""Measures of a drawing, taken from its DOT: what stands where, and in the way of what."""

from __future__ import annotations

import re
from itertools import combinations, pairwise

from drawn import Box, Line, Node, Point, Read, bare

from procedure.chart.lettering import width
from procedure.chart.symbols import symbols

# Letters keep some air in their boxes; boxes that only touch do not lie on each other.
TOUCH = 0.6
SYMBOLS = {name.replace(" ", "-") for name in symbols()} - {"document"}


def words(read: Read) -> list[Node]:
    """All nodes with words."""
    return [node for node in read.nodes if node.says]


def drawn_symbols(read: Read) -> list[Node]:
    """The symbols of the steps, each part by itself."""
    return [node for node in read.nodes if node.symbol in SYMBOLS]


def letters(node: Node) -> list[Box]:
    """The box that the letters of each line fill: from the left, or in the middle."""
    found = []
    bold = "Bold" in node.attributes["fontname"]
    for line, (left, bottom, right, top) in zip(node.lines, node.rows, strict=True):
        wide, tall = width(line, node.size, bold), node.size * 1.2
        x, y = (left + right) / 2, (bottom + top) / 2
        if "\\l" in node.attributes["label"]:
            x = left + wide / 2
        found.append((x - wide / 2, y - tall / 2, x + wide / 2, y + tall / 2))
    return found


def too_wide(read: Read) -> list[str]:
    """Words that do not fit the box that is theirs."""
    return [
        f"{node.name}: {node.says}"
        for node in words(read)
        for inner, box in zip(letters(node), node.rows, strict=True)
        if inner[0] < box[0] - TOUCH or inner[2] > box[2] + TOUCH or inner[3] > box[3] + TOUCH
    ]


def overlaps(read: Read) -> list[tuple[str, str]]:
    """Pairs of words or symbols that lie on each other."""
    boxes = [
        (node.name, box)
        for node in words(read)
        if node.symbol not in SYMBOLS
        for box in letters(node)
    ]
    boxes += [(node.name, node.box) for node in drawn_symbols(read)]
    return [
        (one, two)
        for (one, a), (two, b) in combinations(boxes, 2)
        if min(a[2], b[2]) - max(a[0], b[0]) > TOUCH and min(a[3], b[3]) - max(a[1], b[1]) > TOUCH
    ]


def pieces(line: Line) -> list[tuple[Point, Point]]:
    """The straight pieces of a line."""
    return list(pairwise(line.points))


def _through(piece: tuple[Point, Point], box: Box) -> bool:
    (x1, y1), (x2, y2) = piece
    return (
        min(max(x1, x2), box[2]) - max(min(x1, x2), box[0]) > -0.01
        and min(max(y1, y2), box[3]) - max(min(y1, y2), box[1]) > TOUCH
    ) or (
        min(max(x1, x2), box[2]) - max(min(x1, x2), box[0]) > TOUCH
        and box[1] + TOUCH < y1 < box[3] - TOUCH
        and abs(y1 - y2) < 0.01
    )


def _on(node: Node) -> str:
    """The sheet of a node as its name begins with it."""
    found = re.match(r"sheet \d+ ", node.name)
    return found[0] if found else ""


def lines_through(read: Read) -> list[tuple[str, str]]:
    """Lines that go through words, or through a symbol that is not one of their ends."""
    found = []
    for line in read.lines:
        for node in read.nodes:
            if node.symbol in SYMBOLS:
                own = bare(node.name).split(" part ")[0] in (line.before, line.after)
                boxes = [] if own else [node.box]
            else:
                boxes = letters(node) if node.says else []
            if any(_through(piece, box) for piece in pieces(line) for box in boxes):
                found.append((f"{line.before} to {line.after} ({line.kind})", node.name))
    return found


def crossed(read: Read) -> int:
    """How many lines the steps reach over, from one part of a symbol to the next."""
    count = 0
    names = {bare(node.name).split(" part ")[0] for node in drawn_symbols(read)}
    for name in names:
        parts = read.parts(name)
        for one, two in pairwise(parts):
            level = (one.box[1] + one.box[3]) / 2
            count += sum(
                one.box[2] < x < two.box[0] and bottom < level < top
                for line in read.lines
                for (x, a), (x2, b) in pieces(line)
                for bottom, top in [sorted((a, b))]
                if abs(x - x2) < 0.01
            )
    return count


def crossings(read: Read) -> int:
    """How often two lines cross."""
    found = 0
    straight = [(line, piece) for line in read.lines for piece in pieces(line)]
    for (one, a), (two, b) in combinations(straight, 2):
        if one is not two:
            found += _cross(a, b) or _cross(b, a)
    return found


def _cross(level: tuple[Point, Point], upright: tuple[Point, Point]) -> bool:
    (x1, y1), (x2, y2) = level
    (x3, y3), (x4, y4) = upright
    if abs(y1 - y2) > 0.01 or abs(x3 - x4) > 0.01:
        return False
    between = min(x1, x2) + TOUCH < x3 < max(x1, x2) - TOUCH
    return between and min(y3, y4) + TOUCH < y1 < max(y3, y4) - TOUCH


def outside(read: Read) -> list[str]:
    """Nodes that reach over the edge of the paper."""
    return [
        node.name
        for node in read.nodes
        if min(node.box[:2]) < -TOUCH
        or node.box[2] > read.right + TOUCH
        or node.box[3] > read.top + TOUCH
    ]


def smallest(read: Read) -> float:
    """The size of the smallest letters, in points."""
    return min(node.size for node in words(read))
