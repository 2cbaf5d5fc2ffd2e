"""The flow graph: who uses what after whom.

Lots, baths and pots are versioned: each step takes the version that the last
step gave and gives the next, so an edge names what flows along it.
"""

from procedure.model import (
    Block,
    Equipment,
    Item,
    Lot,
    Material,
    Name,
    Past,
    Procedure,
    Quantity,
    Step,
)
from procedure.quantity.record import TYPE_CHECKING, NamedTuple
from procedure.vocabulary.effects import NOTHING

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
    ``after``), block (into and out of a repeat, an if or a followed procedure) or matter
    (a bag or sieve with the plants in it).
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


class FlowNode:
    """A step of the plan in its place: what it acts on, by the plan's own names.

    ``kind`` is step, do, repeat, if, for, follow, or ``end`` for the end of a
    block. ``bath`` is what fibre goes into or what a bath verb acts on; ``pot``
    the vessel where it happens; ``own_water`` holds where the step brings its own
    water. ``effect`` names what its verb does, empty for blocks and for do; ``does`` are
    the traits of that. ``present``
    are the lots in the bath at this step, ``left`` the lots that come out of a bath
    here, with that bath. ``bag`` is the bag that the step handles, or the sieve that
    holds solids back; ``poured`` the bath that is strained into another.
    """

    def __init__(
        self,
        id: int,
        kind: str,
        step: Step | Block,
        procedure: Procedure,
        calls: tuple[Call, ...],
    ) -> None:
        self.id = id
        self.kind = kind
        self.step = step
        self.effect = step.effect if isinstance(step, Step) else ""
        self.does = step.does if isinstance(step, Step) else NOTHING
        self.procedure = procedure
        self.calls = calls
        self.inner: list[FlowNode] = []
        self.lots: tuple[str, ...] = ()
        self.bath: str = ""
        self.pot: str = ""
        self.to_pot: str = ""
        self.makes: tuple[str, ...] = ()
        self.moved: tuple[tuple[str, Item], ...] = ()
        self.materials: tuple[tuple[str, Item], ...] = ()
        self.cleaned: tuple[str, ...] = ()
        self.own_water: bool = False
        self.present: tuple[str, ...] = ()
        self.left: dict[str, str] = {}
        self.left_either: bool = False
        self.names: dict[str, str] = {}
        self.bag: str = ""
        self.poured: str = ""


class Slip(NamedTuple):
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


class Flow:
    """The whole plan: nodes in the order of the text, edges, things and slips."""

    def __init__(self, procedure: Procedure) -> None:
        self.procedure = procedure
        self.nodes: list[FlowNode] = []
        self.top: list[FlowNode] = []
        self.edges: list[Edge] = []
        self.lots: dict[str, LotOrigin] = {}
        self.pots: dict[str, tuple[Equipment, Procedure]] = {}
        self.materials: dict[str, tuple[Material, Procedure]] = {}
        self.baths: dict[str, int] = {}
        # What was done to each lot before: the plan's name of what it was done with.
        self.past: dict[str, list[tuple[str, Past]]] = {}
        self.treats: dict[str, list[str]] = {}
        self.procedures: list[Procedure] = []
        self.slips: list[Slip] = []
        self.cycle: tuple[FlowNode, ...] = ()
        # The way by which each followed procedure is first followed, by its key.
        self.called: dict[str, tuple[Call, ...]] = {}
        # What each caller (by its key) found under the words that it follows.
        self.follows: dict[tuple[str, str], Procedure | str] = {}

    def networkx(self) -> "networkx.MultiDiGraph[int]":
        """The graph as networkx has it: nodes carry ``node``, edges ``kind`` and ``thing``."""
        import networkx

        graph: networkx.MultiDiGraph[int] = networkx.MultiDiGraph()
        for node in self.nodes:
            graph.add_node(node.id, node=node)
        for edge in self.edges:
            graph.add_edge(edge.before, edge.after, kind=edge.kind, thing=edge.thing)
        return graph
