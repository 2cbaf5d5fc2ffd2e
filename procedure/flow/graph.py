"""The flow graph: who uses what after whom.

Lots, baths and pots are versioned: each step takes the version that the last
step gave and gives the next, so an edge names what flows along it.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

from procedure.model import Block, Equipment, Item, Lot, Material, Name, Procedure, Quantity, Step

if TYPE_CHECKING:
    import networkx

WATER = "water"


class Call(NamedTuple):
    """A place where a procedure follows another: the calling file and its step."""

    procedure: Procedure
    step: Step


class Edge(NamedTuple):
    """Something flows from one step to a later one.

    ``kind`` is lot, bath, material, pot (freed for its next use), order (said by
    ``after``) or block (into and out of a repeat, an if or a followed procedure).
    """

    before: int
    after: int
    kind: str
    thing: str


class LotOrigin(NamedTuple):
    """A lot of the plan: as declared, or made by a split or a join (``parts``)."""

    id: str
    name: str
    declared: Lot | None
    node: int | None
    parts: tuple[str, ...]
    share: Quantity | None
    procedure: Procedure


@dataclass(slots=True)
class FlowNode:
    """A step of the plan in its place: what it acts on, by the plan's own names.

    ``kind`` is step, do, repeat, if, for, follow, or ``end`` for the end of a
    block. ``bath`` is what fibre goes into or what a bath verb acts on; ``pot``
    the vessel where it happens; ``own_water`` holds where the step brings its own
    water. ``present`` are the lots in the bath at this step, ``left`` the lots that
    come out of a bath here, with that bath.
    """

    id: int
    kind: str
    step: Step | Block
    procedure: Procedure
    calls: tuple[Call, ...]
    inner: list[FlowNode] = field(default_factory=list)
    lots: tuple[str, ...] = ()
    bath: str = ""
    pot: str = ""
    to_pot: str = ""
    makes: tuple[str, ...] = ()
    moved: tuple[tuple[str, Item], ...] = ()
    materials: tuple[tuple[str, Item], ...] = ()
    cleaned: tuple[str, ...] = ()
    own_water: bool = False
    present: tuple[str, ...] = ()
    left: dict[str, str] = field(default_factory=dict)
    names: dict[str, str] = field(default_factory=dict)

    @property
    def effect(self) -> str:
        """What its verb does; empty for blocks and for do."""
        return self.step.effect if isinstance(self.step, Step) else ""


@dataclass(slots=True)
class Slip:
    """Something that the flow found amiss with names or order; a rule puts it in words."""

    kind: str
    procedure: Procedure
    name: Name
    node: FlowNode | None = None
    calls: tuple[Call, ...] = ()
    other: tuple[Procedure, Name] | None = None
    path: str = ""
    wanted: str = ""
    near: str | None = None


@dataclass(slots=True)
class Flow:
    """The whole plan: nodes in the order of the text, edges, things and slips."""

    procedure: Procedure
    nodes: list[FlowNode] = field(default_factory=list)
    top: list[FlowNode] = field(default_factory=list)
    edges: list[Edge] = field(default_factory=list)
    lots: dict[str, LotOrigin] = field(default_factory=dict)
    pots: dict[str, tuple[Equipment, Procedure]] = field(default_factory=dict)
    materials: dict[str, tuple[Material, Procedure]] = field(default_factory=dict)
    baths: dict[str, int] = field(default_factory=dict)
    treats: dict[str, list[str]] = field(default_factory=dict)
    procedures: list[Procedure] = field(default_factory=list)
    slips: list[Slip] = field(default_factory=list)
    cycle: tuple[FlowNode, ...] = ()

    def networkx(self) -> networkx.MultiDiGraph[int]:
        """The graph as networkx has it: nodes carry ``node``, edges ``kind`` and ``thing``."""
        import networkx

        graph: networkx.MultiDiGraph[int] = networkx.MultiDiGraph()
        for node in self.nodes:
            graph.add_node(node.id, node=node)
        for edge in self.edges:
            graph.add_edge(edge.before, edge.after, kind=edge.kind, thing=edge.thing)
        return graph
