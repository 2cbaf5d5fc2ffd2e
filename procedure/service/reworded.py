"""What a plan keeps where free words of one step have changed, and nothing that is followed.

A note, or a sign to wait for, is written letter by letter, and each letter makes another step. So
the step that is being written notes what is read of it, and by whom: where all that the flow and
the trace have read is as it was, both are kept, with the new step in the place of the old one.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from procedure.flow import Flow, FlowNode, LotOrigin, Slip
from procedure.model import Block, Procedure, Step
from procedure.quantity.record import NamedTuple
from procedure.trace import BathState, LotState, Moment, PotState, Trace
from procedure.trace.states import State

Steps = tuple[Step | Block, ...]
Read = dict[str, Any]
"""What was read of the step that is being written: its value, by the name of the field."""

OF_THE_MOMENT = "moment."
OF_THE_NODE = "node."
ALL = "all of it"  # it was compared or taken apart, so that any change of it may count


class _Noting:
    """Where it is noted what is read just now; None while nobody asks."""

    read: Read | None = None


class noting:  # noqa: N801 - it is used as ``with noting(read):``
    """While this lasts, what is read of the step that is being written is noted."""

    __slots__ = ("_before", "_read")

    def __init__(self, read: Read | None) -> None:
        self._read = read

    def __enter__(self) -> None:
        self._before = _Noting.read
        _Noting.read = self._read

    def __exit__(self, *_: object) -> None:
        _Noting.read = self._before


def note_all(read: Read) -> None:
    """Note what was read before, by another who found out something for whoever asks now."""
    if read and _Noting.read is not None:
        _Noting.read.update(read)


def _noted(kind: type, name: str, under: str = "") -> property:
    plain, key = getattr(kind, name), under + name

    def value(holder: object) -> Any:
        read = _Noting.read
        if read is None:
            return plain.__get__(holder)
        with noting(None):  # what it is made of in turn is of no account
            found = read[key] = plain.__get__(holder)
        return found

    return property(value)


def _whole(name: str) -> Any:
    plain = getattr(tuple, name)

    def act(holder: object, *more: Any) -> Any:
        if _Noting.read is not None:
            _Noting.read[ALL] = None
        return plain(holder, *more)

    return act


# What a step says with more than one field, or with a part of one.
_MADE = ("manner", "effect", "does", "has_sign", "until_measured", "labelled")
_FIELDS = frozenset((*Step._fields, *_MADE))
_WAYS = ("__eq__", "__ne__", "__hash__", "__iter__", "__getitem__", "__lt__", "__contains__")
BeingWritten: Any = type(
    "BeingWritten",
    (Step,),
    {
        "__slots__": (),
        "__doc__": "A step that notes what is read of it.",
        **{name: _noted(Step, name) for name in _FIELDS},
        **{name: _whole(name) for name in _WAYS},
    },
)


HappeningNow: Any = type(
    "HappeningNow",
    (Moment,),
    {
        "__slots__": (),
        "__doc__": "What happens at the step that is being written; it notes what is read of it.",
        **{name: _noted(Moment, name, OF_THE_MOMENT) for name in Moment._fields[2:]},
        **{name: _whole(name) for name in _WAYS},
    },
)


class _WatchedProcedure(Procedure):
    """A procedure that notes where its written quantities are asked for, by whatever way."""


class _WatchedFlow(Flow):
    """A flow that notes where its slips are asked for."""


def _held_noted(name: str, under: str = "") -> property:
    key = under + name

    def value(holder: object) -> Any:
        found = holder.__dict__[name]
        if _Noting.read is not None:
            _Noting.read[key] = found
        return found

    def put(holder: object, made: Any) -> None:
        holder.__dict__[name] = made

    return property(value, put)


class _WatchedNode(FlowNode):
    """The step that is being written in its place; it notes what is read of it."""


# What the flow finds out of a step, by its words and by those of the steps above it.
_FOUND_OUT = frozenset(
    "lots bath pot to_pot makes moved materials cleaned own_water present left bag poured".split()
)


_WatchedProcedure.written = _held_noted("written")  # type: ignore[assignment]
_WatchedFlow.slips = _held_noted("slips")  # type: ignore[assignment]
for _name in _FOUND_OUT:
    setattr(_WatchedNode, _name, _held_noted(_name, OF_THE_NODE))


class Now(NamedTuple):
    """The step that is being written, as it is now, and what happens at it.

    ``written`` and ``slips`` hold where these lists say the same as before.
    """

    step: Step
    node: FlowNode | None
    moment: Moment | None
    written: bool
    slips: bool


def as_read(read: Read, now: Now) -> bool:
    """True where all that was read is the same now."""
    if (
        ALL in read
        or ("written" in read and not now.written)
        or ("slips" in read and not now.slips)
    ):
        return False
    return all(_as_noted(name, value, now) for name, value in read.items())


def _as_noted(name: str, value: Any, now: Now) -> bool:
    if name in _LISTS:
        return True
    if name.startswith(OF_THE_NODE):
        field = name.removeprefix(OF_THE_NODE)
        return now.node is not None and in_order(getattr(now.node, field), value)
    if name.startswith(OF_THE_MOMENT):
        field = name.removeprefix(OF_THE_MOMENT)
        return now.moment is not None and same_state(getattr(now.moment, field), value)
    return bool(getattr(now.step, name) == value)


def in_order(one: Any, two: Any) -> bool:
    """The same, in the same order: what a dictionary holds is met in its order."""
    if isinstance(one, dict) and isinstance(two, dict):
        return one == two and list(one) == list(two)
    return bool(one == two)


_LISTS = ("written", "slips")


# ------------------------------------------------------------ the step that is being written


def watch(made: Procedure, line: int) -> None:
    """The step at a line, or the last above it, notes from now on what is read of it."""
    step = None
    for one in flat(made.body):
        if isinstance(one, Step) and one.place.line <= line:
            step = one
    if step is None:
        return
    watched: Step = tuple.__new__(BeingWritten, step)
    made.body = _with(made.body, step, watched)
    made.written = [one._replace(step=watched) if one.step is step else one for one in made.written]
    made.__class__ = _WatchedProcedure


def watched_in(made: Procedure) -> Step | None:
    """The step of a procedure that notes what is read of it."""
    for one in flat(made.body):
        if isinstance(one, BeingWritten):
            return one  # type: ignore[no-any-return]
    return None


def flat(body: Steps) -> Iterator[Step | Block]:
    """Every step and block, each block before what is in it."""
    for one in body:
        yield one
        if isinstance(one, Block):
            yield from flat(one.body)


def how_many(made: Procedure) -> int:
    """The steps and blocks of a file."""
    return sum(1 for _ in flat(made.body))


def _with(body: Steps, old: Step, new: Step) -> Steps:
    return tuple(
        one._replace(body=_with(one.body, old, new))
        if isinstance(one, Block)
        else (new if one is old else one)
        for one in body
    )


def only_that_step(old: Procedure, new: Procedure) -> bool:
    """True where two readings of a file differ in nothing but the step that is being written.

    What is written of quantities, which holds those of that step, is not looked at.
    """
    before, after = vars(old), vars(new)
    if any(before[name] != after[name] for name in before if name not in ("body", "written")):
        return False
    ones, others = list(flat(old.body)), list(flat(new.body))
    return len(ones) == len(others) and all(map(_alike, ones, others))


def same_written(old: Procedure, new: Procedure) -> bool:
    """True where two readings of a file hold the same quantities, in the same places."""
    return len(old.written) == len(new.written) and all(
        (a.quantity, a.role, a.item) == (b.quantity, b.role, b.item)
        for a, b in zip(old.written, new.written, strict=True)
    )


def _alike(one: Step | Block, two: Step | Block) -> bool:
    if isinstance(one, BeingWritten):
        return isinstance(two, BeingWritten)
    if isinstance(one, Block) and isinstance(two, Block):
        same = len(one.body) == len(two.body)
        return same and one._replace(body=()) == two._replace(body=())
    return type(one) is type(two) and one == two


# ------------------------------------------------------------ a plan that comes out the same


def watched_plan(flow: Flow, trace: Trace) -> Trace:
    """The trace of a plan, which notes from now on what is read of the step being written."""
    flow.__class__ = _WatchedFlow
    nodes = [one for one in flow.nodes if isinstance(one.step, BeingWritten)]
    if len(nodes) == 1:
        nodes[0].__class__ = _WatchedNode
    here = [at for at, one in enumerate(trace.moments) if isinstance(one.step, BeingWritten)]
    if len(here) != 1:
        return trace
    moments = list(trace.moments)
    moments[here[0]] = tuple.__new__(HappeningNow, moments[here[0]])
    return trace._replace(moments=tuple(moments))


def node_watched(flow: Flow) -> FlowNode | None:
    """The step that is being written, in its place; None where it is in none or in several."""
    return next((one for one in flow.nodes if isinstance(one, _WatchedNode)), None)


def moment_watched(trace: Trace) -> Moment | None:
    """What happens at the step that is being written; None where it happens never or often."""
    return next((one for one in trace.moments if isinstance(one, HappeningNow)), None)


def same_plan(old: Trace, new: Trace) -> bool:
    """True where two plans, of one file each, differ only in what is noted: see :class:`Now`.

    The minute of the plan at which something was touched last is for the trace alone, which
    is made anew.
    """
    one, two = old.flow, new.flow
    if not _alone(one) or not _alone(two) or old.boiling != new.boiling:
        return False
    return (
        _same_things(one, two)
        and len(one.nodes) == len(two.nodes)
        and all(map(_same_node, one.nodes, two.nodes))
        and not (old.split_sums or new.split_sums)
        and same_state(old.final, new.final)
        and len(old.moments) == len(new.moments)
        and all(map(_same_moment, old.moments, new.moments))
    )


def _alone(flow: Flow) -> bool:
    return len(flow.procedures) == 1 and not (flow.follows or flow.cycle)


def _same_things(one: Flow, two: Flow) -> bool:
    return (
        (one.edges, one.baths, one.past, one.treats) == (two.edges, two.baths, two.past, two.treats)
        and list(one.baths) == list(two.baths)
        and [each.id for each in one.top] == [each.id for each in two.top]
        and [_with_no_file(each) for each in one.lots.values()]
        == [_with_no_file(each) for each in two.lots.values()]
        and [(name, pot) for name, (pot, _) in one.pots.items()]
        == [(name, pot) for name, (pot, _) in two.pots.items()]
        and [(name, made) for name, (made, _) in one.materials.items()]
        == [(name, made) for name, (made, _) in two.materials.items()]
    )


def _with_no_file(lot: LotOrigin) -> tuple[Any, ...]:
    return lot.id, lot.name, lot.declared, lot.node, lot.parts, lot.share


_APART = frozenset(("step", "procedure", "inner"))


def _same_node(one: FlowNode, two: FlowNode) -> bool:
    a, b = vars(one), vars(two)
    noted = isinstance(one, _WatchedNode) and isinstance(two, _WatchedNode)
    apart = _APART | _FOUND_OUT if noted else _APART
    return all(in_order(a[name], b[name]) for name in a if name not in apart) and (
        [each.id for each in one.inner] == [each.id for each in two.inner]
    )


def same_slips(one: Flow, two: Flow) -> bool:
    """True where what is amiss in two plans is the same, in the same places."""
    return [_slip(each) for each in one.slips] == [_slip(each) for each in two.slips]


def _slip(slip: Slip) -> tuple[Any, ...]:
    node = None if slip.node is None else slip.node.id
    other = None if slip.other is None else slip.other[1]
    return slip.kind, slip.name, node, other, slip.path, slip.wanted, slip.near


def _same_moment(one: Moment, two: Moment) -> bool:
    noted = isinstance(one, HappeningNow) and isinstance(two, HappeningNow)
    return bool(one.node.id == two.node.id) and (
        noted or all(same_state(a, b) for a, b in zip(one[2:], two[2:], strict=True))
    )


# The fields of a state that hold things by name, whose order counts, and the one that is of
# the clock.
_BY_NAME: Mapping[type, tuple[tuple[str, ...], str]] = {
    LotState: (("mordants", "dyes", "carried"), "out_since"),
    BathState: (("contents", "traces", "fouled"), "touched"),
    PotState: (("residues", "matter"), ""),
}


def same_state(one: Any, two: Any) -> bool:
    """True where two states, of the plan or of a part of it, differ in the clock at the most."""
    if one is two:
        return True
    if isinstance(one, State) and isinstance(two, State):
        return all(
            list(a) == list(b) and all(same_state(a[name], b[name]) for name in a)
            for a, b in zip(one, two, strict=True)
        )
    if type(one) is not type(two) or type(one) not in _BY_NAME:
        return bool(one == two)
    by_name, clock = _BY_NAME[type(one)]
    if clock and one != two:
        one, two = one._replace(**{clock: None}), two._replace(**{clock: None})
    return bool(one == two) and all(
        list(getattr(one, field)) == list(getattr(two, field)) for field in by_name
    )


# ------------------------------------------------------------ the plan with the new step in it


def reworded(flow: Flow, trace: Trace, made: Procedure) -> tuple[Flow, Trace] | None:
    """Flow and trace of a plan of one file, as they are with another reading of that file.

    None for a plan that follows other files, or that has steps which the file has not.
    """
    old = flow.procedure
    if not _alone(flow):
        return None
    steps = {id(a): b for a, b in zip(flat(old.body), flat(made.body), strict=True)}
    nodes = [_node(node, steps, made) for node in flow.nodes]
    known = [node for node in nodes if node is not None]
    if len(known) != len(nodes):
        return None
    for node in known:
        node.inner = [known[one.id] for one in node.inner]
    now = _flow(flow, made, known)
    moments = tuple(_moment(one, known, steps) for one in trace.moments)
    sums = tuple(one._replace(node=known[one.node.id]) for one in trace.split_sums)
    return now, trace._replace(flow=now, moments=moments, split_sums=sums)


def _node(node: FlowNode, steps: Mapping[int, Step | Block], made: Procedure) -> FlowNode | None:
    step = steps.get(id(node.step))
    if step is None or node.calls:
        return None
    copy = object.__new__(type(node))
    copy.__dict__.update(node.__dict__)
    copy.step, copy.procedure = step, made
    return copy


def _flow(flow: Flow, made: Procedure, nodes: list[FlowNode]) -> Flow:
    now = _WatchedFlow(made)
    now.__dict__.update(flow.__dict__)
    now.procedure, now.procedures = made, [made]
    now.nodes = nodes
    now.top = [nodes[one.id] for one in flow.top]
    now.lots = {name: lot._replace(procedure=made) for name, lot in flow.lots.items()}
    now.pots = {name: (pot, made) for name, (pot, _) in flow.pots.items()}
    now.materials = {name: (material, made) for name, (material, _) in flow.materials.items()}
    now.slips = [
        slip._replace(
            procedure=made,
            node=None if slip.node is None else nodes[slip.node.id],
            other=None if slip.other is None else (made, slip.other[1]),
        )
        for slip in flow.slips
    ]
    return now


def _moment(one: Moment, nodes: list[FlowNode], steps: Mapping[int, Step | Block]) -> Moment:
    step = steps[id(one.step)]
    assert isinstance(step, Step)
    return one._replace(node=nodes[one.node.id], step=step)
