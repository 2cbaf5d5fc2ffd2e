"""Charts for the tests: small plans, and what Graphviz itself reads in their DOT."""

from __future__ import annotations

import json
import re
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from procedure import Plan, load, read
from procedure.chart.render import render
from procedure.rules.example_kit import whole

HEAD = """procedure "{title}"
  by "Fellside Dye Circle"
  revised 2026-06-14
  place outdoors
  wearing gloves
"""

TWO_LOTS = (
    HEAD.format(title="Gold and moss")
    + """
fibre
  yarn: wool yarn, 240 g, 4 skeins, scoured
equipment
  kettle: stainless steel pot, 15 L, lidded, for dyeing only
  tub: plastic tub, 20 L, for dyeing only
  vat-pot: stainless steel pot, 10 L, for dyeing only
materials
  alum: potassium alum
  weld: weld, dried
  vat: bath
steps
  soak: wet out yarn in tub with water 10 L at 30 °C for 1 h
  alum-bath: prepare in kettle with water 30 : 1 of yarn, alum 12 % of yarn
  mordant yarn in alum-bath from 40 °C to 85 °C over 45 min for 1 h
  cool alum-bath to 30 °C overnight covered
  rinse yarn in tub with water 10 L until "the water runs clear"
  discard alum-bath to "foul drain"
  clean kettle
  split yarn into gold 120 g, moss 120 g
  repeat 3 times
    dip moss in vat at 50 °C for 5 min
    air moss for 15 min
  if "the green is too yellow"
    dip moss in vat at 50 °C for 5 min
    air moss for 15 min
  do "tie on the labels" with gold
  wash gold, moss in tub with water 10 L
  rinse gold, moss in tub with water 10 L
  dry gold, moss
  keep vat as old-vat
"""
)


def plan(text: str = TWO_LOTS) -> Plan:
    """A plan from a whole text."""
    return read(text, "example.dye")


def of_steps(steps: str) -> Plan:
    """A plan from a few steps, with the kit of the rules around them."""
    return read(whole(steps), "example.dye")


# What words belong to that do not stand in a symbol.
NOT_SYMBOLS = {
    "key", "letter",
    "words", "details", "colour", "mark", "label", "name", "lane", "day", "legend", "note",
    "document",
}  # fmt: skip

Point = tuple[float, float]
Box = tuple[float, float, float, float]


@dataclass(frozen=True)
class Node:
    """A node of a chart, with all its lines: its name, what it says, its attributes, its box."""

    name: str
    lines: tuple[str, ...]
    attributes: dict[str, str]
    rows: tuple[Box, ...]
    """The box of each line: left, bottom, right and top, in points."""

    @property
    def box(self) -> Box:
        """The box around all its lines."""
        left, bottom, right, top = zip(*self.rows, strict=True)
        return min(left), min(bottom), max(right), max(top)

    @property
    def says(self) -> str:
        """Its words as one line."""
        return " ".join(" ".join(self.lines).split())

    @property
    def symbol(self) -> str:
        """What its words belong to."""
        return self.attributes.get("class", "")

    @property
    def size(self) -> float:
        """The size of its letters."""
        return float(self.attributes["fontsize"])


@dataclass(frozen=True)
class Line:
    """A line of a chart: the names of both ends without their sheets, its kind, its words."""

    before: str
    after: str
    kind: str
    carries: str
    points: tuple[Point, ...] = ()


@dataclass(frozen=True)
class Read:
    """A DOT text as Graphviz itself reads it."""

    nodes: tuple[Node, ...]
    lines: tuple[Line, ...]
    lanes: dict[str, tuple[str, frozenset[str]]]
    """Each lane's area: the words at its head, and what stands in it alone (without sheets)."""
    right: float
    top: float

    def labels(self, drawn_as: str = "") -> list[str]:
        """What the nodes say; those of one class or all."""
        return [node.says for node in self.nodes if not drawn_as or node.symbol == drawn_as]

    def node(self, name: str) -> Node:
        """The node of a name, on whatever sheet it is."""
        return next(node for node in self.nodes if bare(node.name) == name)

    def has(self, name: str) -> bool:
        """True where there is a node of that name."""
        return any(bare(node.name) == name for node in self.nodes)

    def says(self, name: str) -> str:
        """The words of a node, of a step those beside its symbol: what it is (``step 3``), what
        belongs to that (``step 3 details``)."""
        if name.endswith(" details"):
            more = name.removesuffix(" details") + " more"
            return " ".join(self.node(each).says for each in (name, more) if self.has(each))
        beside = f"{name} words"
        return self.node(beside if self.has(beside) else name).says

    def parts(self, name: str) -> list[Node]:
        """The parts of the symbol of a step, from left to right."""
        found = [
            n for n in self.nodes if re.fullmatch(re.escape(name) + r"( part \d+)?", bare(n.name))
        ]
        return sorted(found, key=lambda node: node.box[0])

    def whole(self) -> list[Line]:
        """The lines with those put together that go on from sheet to sheet; none of the legend."""
        begun = {line.before: line for line in self.lines}
        found: list[Line] = []
        for line in self.lines:
            if line.before.endswith(" head") or line.before.startswith("legend"):
                continue
            end = line.after
            while match := re.fullmatch(r"(.*) sheet (\d+) foot", end):
                end = begun[f"{match[1]} sheet {int(match[2]) + 1} head"].after
            found.append(Line(line.before, end, line.kind, line.carries))
        return found

    def between(self, kind: str) -> set[tuple[str, str]]:
        """The ends of all lines of a kind."""
        return {(line.before, line.after) for line in self.whole() if line.kind == kind}


def bare(name: str) -> str:
    """A name without the sheet it is on."""
    return name.split(" ", 2)[2] if name.startswith("sheet ") and name.count(" ") > 1 else name


def _node(first: dict[str, str], more: list[dict[str, str]]) -> Node:
    """A node with those for its further lines as one."""
    every = [first, *more]
    lines = tuple(re.sub(r"\\[ln]", "", each["label"]) for each in every)
    return Node(first["name"], lines, first, tuple(_box(each) for each in every))


def _box(attributes: dict[str, str]) -> Box:
    x, y = map(float, attributes["pos"].split(","))
    w, h = (float(attributes[side]) * 72 for side in ("width", "height"))
    if attributes.get("class") in NOT_SYMBOLS:  # Graphviz tells how high the font would have it
        h = float(attributes["fontsize"]) * 1.2
    return x - w / 2, y - h / 2, x + w / 2, y + h / 2


def dot_of(made: Plan, **how: str | bool) -> Read:
    """The DOT of a plan, read by Graphviz."""
    text = made.chart(form="dot", **how)  # type: ignore[arg-type]
    assert isinstance(text, str)
    return read_dot(text)


@cache
def example(path: Path) -> Plan:
    """An example, read once for all tests."""
    return load(path)


@cache
def example_drawn(path: Path, lanes: str = "both", sheet: str = "a4", opened: bool = False) -> Read:
    """The DOT of an example, drawn once for all tests."""
    return dot_of(example(path), lanes=lanes, sheet=sheet, opened=opened)


def read_dot(text: str) -> Read:
    """A DOT text as Graphviz reads it."""
    told = json.loads(render(text, "json"))
    objects = {each["_gvid"]: each for each in told["objects"]}
    single = {
        each["name"]: each for each in objects.values() if "nodes" not in each and "pos" in each
    }
    nodes = [
        _node(each, [single[m] for n in range(2, 99) if (m := f"{name} line {n}") in single])
        for name, each in single.items()
        if not re.search(r" line \d+$", name)
    ]
    lanes = {
        each["name"]: (
            each.get("comment", ""),
            frozenset(bare(objects[n]["name"]) for n in each.get("nodes", ())),
        )
        for each in objects.values()
        if each["name"].startswith("cluster")
    }
    lines = tuple(
        Line(
            bare(objects[edge["tail"]]["name"]),
            bare(objects[edge["head"]]["name"]),
            edge["class"],
            edge.get("carries", ""),
            _points(edge["pos"]),
        )
        for edge in told.get("edges", ())
    )
    right, top = _box(single["far corner"])[2], _box(single["corner"])[3]
    return Read(tuple(nodes), lines, lanes, right, top)


def _points(pos: str) -> tuple[Point, ...]:
    """The corners of a line: its curve's knots, and the tip of its arrow."""
    tip: list[Point] = []
    knots: list[Point] = []
    for part in pos.split():
        x, y = (float(each) for each in part.split(",")[-2:])
        (tip if part.startswith("e,") else knots).append((x, y))
    return (*knots[::3], *tip)
