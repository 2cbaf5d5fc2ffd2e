"""The walk through the steps in the order of the text: nodes, edges, slips.

One walk answers every question of names and order: which version of a lot, bath
or pot a step takes, what it makes, and what is amiss. What things *are* (wet,
hot, mordanted) is for the trace.
"""

from collections.abc import Callable

from procedure.flow.graph import Edge, Flow, FlowNode, Slip
from procedure.flow.places import Places
from procedure.flow.scope import Scope
from procedure.flow.undo_log import Watched
from procedure.model import Block, Name, Procedure, Step
from procedure.quantity.record import NamedTuple

DEEPEST_FOLLOW = 20
# A few lines of "for each" and follow, one inside the other, can ask for millions of
# steps; a plan that people can do stays far below this.
MOST_WRITTEN_OUT = 5_000

# The procedure that a caller names with ``follow``, or in one word why there is none.
Find = Callable[[str, Procedure], Procedure | str]


class Walk:
    """What one walk knows so far.

    ``last`` is the node that gave the present version of each thing; ``labels`` the
    nodes of labels, with their prefix; ``orders`` what ``after`` asks for, to be looked
    at when all labels are known; ``used`` the things that a step has named. ``again``
    holds while a repeat is walked a second time, when nodes and edges are there already;
    ``way`` is the turn of each ``for`` block around the step.
    """

    def __init__(self, procedure: Procedure, find: Find) -> None:
        self.flow = Flow(procedure)
        self.find = find
        self.places = Places()
        self.last: Watched[int] = Watched()
        self.labels: dict[str, int] = {}
        self.orders: list[tuple[Scope, Name, FlowNode]] = []
        self.used: set[str] = set()
        self.scopes: dict[tuple[object, ...], Scope] = {}  # of followed procedures, by step
        self.again = False
        self.way: tuple[object, ...] = ()
        # The choices that the walk is in, each with the way it is on; and the same of labels.
        self.on_ways: tuple[tuple[int, str], ...] = ()
        self._label_ways: dict[str, tuple[tuple[int, str], ...]] = {}
        self._nodes: dict[tuple[object, ...], FlowNode] = {}
        self._said: set[tuple[object, ...]] = set()
        self._written_out = 0

    @property
    def too_long(self) -> bool:
        """True where blocks and follows have asked for more steps than people can do."""
        return self._written_out > MOST_WRITTEN_OUT

    def slip(
        self,
        kind: str,
        scope: Scope,
        name: Name,
        node: FlowNode | None = None,
        other: tuple[Procedure, Name] | None = None,
        path: str = "",
        wanted: str = "",
        near_word: str | None = None,
    ) -> None:
        """Note a slip at the place of ``name``, once however often the walk comes by."""
        key = (kind, scope.procedure.key, name.place, scope.prefix)
        if key not in self._said:
            self._said.add(key)
            self.flow.slips.append(
                Slip(kind, scope.procedure, name, node, scope.calls, other, path, wanted, near_word)
            )

    def place_of(self, number: int) -> tuple[Procedure, Name] | None:
        """Where the step of a node is written, to point at; None for a number below nought."""
        if number < 0:
            return None
        node = self.flow.nodes[number]
        step = node.step
        words = step.label.text if step.label else said(step)
        return node.procedure, Name(words, step.place)

    def node(self, kind: str, step: Step | Block, scope: Scope, end: bool = False) -> FlowNode:
        """The node of a step in its place, made when the walk first comes to it."""
        key = (scope.prefix, self.way, step.number, end)
        known = self._nodes.get(key)
        if known is not None:
            return known
        made = FlowNode(len(self.flow.nodes), kind, step, scope.procedure, scope.calls)
        self._written_out += bool(self.way or scope.calls)
        self.flow.nodes.append(made)
        self._nodes[key] = made
        return made

    def edge(self, node: FlowNode, kind: str, *things: str) -> None:
        """Take the present version of things, and give the next."""
        if self.again:
            return
        for thing in things:
            before = self.last.get(thing)
            if before is not None and before != node.id:
                self.flow.edges.append(Edge(before, node.id, kind, thing))
            self.last[thing] = node.id

    def label(self, label: Name | None, scope: Scope, node: FlowNode) -> None:
        """Note the label of a step, and a slip where it is taken."""
        if label is None or self.again:
            return
        key = scope.prefix + label.text
        earlier = self.labels.get(key)
        apart = exclusive(self._label_ways.get(key, ()), self.on_ways)
        self._label_ways[key] = self.on_ways
        if earlier is not None and not apart and self.flow.nodes[earlier].step is not node.step:
            first = self.flow.nodes[earlier]
            assert first.step.label is not None
            self.slip("declared twice", scope, label, node, (first.procedure, first.step.label))
            return
        declared = scope.procedure.declared(label.text)
        if declared is not None and node.does.makes_bath:
            self.slip("declared twice", scope, label, node, (scope.procedure, declared.name))
        self.labels[key] = node.id


def exclusive(one: tuple[tuple[int, object], ...], other: tuple[tuple[int, object], ...]) -> bool:
    """True where two places are on different ways of one choice, each by its words or number."""
    ways = dict(other)
    return any(ways.get(choice, way) != way for choice, way in one)


class Here(NamedTuple):
    """A node of the walk with the names that count at it."""

    walk: Walk
    scope: Scope
    node: FlowNode

    @property
    def flow(self) -> Flow:
        """The plan so far."""
        return self.walk.flow

    @property
    def places(self) -> Places:
        """Where lots and baths are when the step begins."""
        return self.walk.places

    def slip(
        self,
        kind: str,
        name: Name,
        other: tuple[Procedure, Name] | None = None,
        path: str = "",
        wanted: str = "",
        near_word: str | None = None,
    ) -> None:
        """Note a slip of this step; see :meth:`Walk.slip`."""
        self.walk.slip(kind, self.scope, name, self.node, other, path, wanted, near_word)

    def edge(self, kind: str, *things: str) -> None:
        """This step takes the present version of things, and gives the next."""
        self.walk.edge(self.node, kind, *things)


def said(step: Step | Block) -> str:
    """What a step is called where it has no label: its verb, or its kind."""
    if isinstance(step, Block):
        return step.kind
    return step.verb.name if step.verb else step.kind
