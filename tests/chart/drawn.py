"""Charts for the tests: small plans, and what Graphviz itself reads in their DOT."""

from __future__ import annotations

import json
from dataclasses import dataclass

from procedure import Plan, read
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


@dataclass(frozen=True)
class Node:
    """A node of a chart: its name, what it says as one line, and its attributes."""

    name: str
    says: str
    attributes: dict[str, str]

    @property
    def symbol(self) -> str:
        """What its words belong to."""
        return self.attributes.get("class", "")

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Left, bottom, right and top, in points."""
        x, y = map(float, self.attributes["pos"].split(","))
        w, h = (float(self.attributes[side]) * 72 for side in ("width", "height"))
        return x - w / 2, y - h / 2, x + w / 2, y + h / 2


@dataclass(frozen=True)
class Line:
    """A line of a chart: the names of both ends without their sheets, its kind, its words."""

    before: str
    after: str
    kind: str
    carries: str


@dataclass(frozen=True)
class Read:
    """A DOT text as Graphviz itself reads it."""

    nodes: tuple[Node, ...]
    lines: tuple[Line, ...]
    lanes: dict[str, tuple[str, frozenset[str]]]
    """Each lane's area: the words at its head, and what stands in it (without sheets)."""
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
        """What a node says."""
        return self.node(name).says

    def between(self, kind: str) -> set[tuple[str, str]]:
        """The ends of all lines of a kind."""
        return {(line.before, line.after) for line in self.lines if line.kind == kind}


def bare(name: str) -> str:
    """A name without the sheet it is on."""
    return name.split(" ", 2)[2] if name.startswith("sheet ") and name.count(" ") > 1 else name


def _plain(label: str) -> str:
    return " ".join(label.replace("\\l", " ").replace("\\n", " ").split())


def dot_of(made: Plan, **how: str | bool) -> Read:
    """The DOT of a plan, read by Graphviz."""
    text = made.chart(form="dot", **how)  # type: ignore[arg-type]
    assert isinstance(text, str)
    told = json.loads(render(text, "json"))
    objects = {each["_gvid"]: each for each in told["objects"]}
    nodes = {
        gvid: Node(each["name"], _plain(each["label"]), each)
        for gvid, each in objects.items()
        if "nodes" not in each and "pos" in each
    }
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
        )
        for edge in told.get("edges", ())
    )
    right, top = (float(end) for end in told["bb"].split(",")[2:])
    return Read(tuple(nodes.values()), lines, lanes, right, top)
