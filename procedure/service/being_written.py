"""The step that is being written, which notes what is read of it.

Each letter that is written on makes another step. What has been found out by looking at nothing
of it that has changed still holds, and need not be found out again.
"""

from __future__ import annotations

import threading
from collections.abc import Iterator, Mapping
from typing import Any

from procedure.flow import Flow, FlowNode
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


class _Noting(threading.local):
    """Where it is noted what is read just now, by thread; None while nobody asks."""

    read: Read | None = None


_NOTING = _Noting()


class noting:  # noqa: N801 - it is used as ``with noting(read):``
    """While this lasts, what is read of the step that is being written is noted."""

    __slots__ = ("_before", "_read")

    def __init__(self, read: Read | None) -> None:
        self._read = read

    def __enter__(self) -> None:
        self._before = _NOTING.read
        _NOTING.read = self._read

    def __exit__(self, *_: object) -> None:
        _NOTING.read = self._before


def note_all(read: Read) -> None:
    """Note what was read before, by another who found out something for whoever asks now."""
    if read and _NOTING.read is not None:
        _NOTING.read.update(read)


def _noted(kind: type, name: str, under: str = "") -> property:
    plain, key = getattr(kind, name), under + name

    def value(holder: object) -> Any:
        read = _NOTING.read
        if read is None:
            return plain.__get__(holder)
        with noting(None):  # what it is made of in turn is of no account
            found = read[key] = plain.__get__(holder)
        return found

    return property(value)


def _whole(name: str) -> Any:
    plain = getattr(tuple, name)

    def act(holder: object, *more: Any) -> Any:
        if _NOTING.read is not None:
            _NOTING.read[ALL] = None
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


class WatchedProcedure(Procedure):
    """A procedure that notes where its written quantities are asked for, by whatever way."""


class WatchedFlow(Flow):
    """A flow that notes where its slips are asked for."""


def _held_noted(name: str, under: str = "") -> property:
    key = under + name

    def value(holder: object) -> Any:
        found = holder.__dict__[name]
        if _NOTING.read is not None:
            _NOTING.read[key] = found
        return found

    def put(holder: object, made: Any) -> None:
        holder.__dict__[name] = made

    return property(value, put)


class WatchedNode(FlowNode):
    """The step that is being written in its place; it notes what is read of it."""


# What the flow finds out of a step, by its words and by those of the steps above it.
FOUND_OUT = frozenset(
    "lots bath pot to_pot makes moved materials cleaned own_water present left bag poured".split()
)


WatchedProcedure.written = _held_noted("written")  # type: ignore[assignment]
WatchedFlow.slips = _held_noted("slips")  # type: ignore[assignment]
for _name in FOUND_OUT:
    setattr(WatchedNode, _name, _held_noted(_name, OF_THE_NODE))


class StepNow(NamedTuple):
    """The step that is being written, as it is now, and what happens at it.

    ``written`` and ``slips`` hold where these lists say the same as before.
    """

    step: Step
    node: FlowNode | None
    moment: Moment | None
    written: bool
    slips: bool


def as_read(read: Read, now: StepNow) -> bool:
    """True where all that was read is the same now."""
    if (
        ALL in read
        or ("written" in read and not now.written)
        or ("slips" in read and not now.slips)
    ):
        return False
    return all(_as_noted(name, value, now) for name, value in read.items())


def _as_noted(name: str, value: Any, now: StepNow) -> bool:
    if name in _LISTS:
        return True
    if name.startswith(OF_THE_NODE):
        field = name.removeprefix(OF_THE_NODE)
        return now.node is not None and in_order(getattr(now.node, field), value)
    if name.startswith(OF_THE_MOMENT):
        field = name.removeprefix(OF_THE_MOMENT)
        return now.moment is not None and same_state(getattr(now.moment, field), value)
    return bool(getattr(now.step, name) == value)


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
    made.__class__ = WatchedProcedure


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


def watched_plan(flow: Flow, trace: Trace) -> Trace:
    """The trace of a plan, which notes from now on what is read of the step being written."""
    flow.__class__ = WatchedFlow
    nodes = [one for one in flow.nodes if isinstance(one.step, BeingWritten)]
    if len(nodes) == 1:
        nodes[0].__class__ = WatchedNode
    here = [at for at, one in enumerate(trace.moments) if isinstance(one.step, BeingWritten)]
    if len(here) != 1:
        return trace
    moments = list(trace.moments)
    moments[here[0]] = tuple.__new__(HappeningNow, moments[here[0]])
    return trace._replace(moments=tuple(moments))


def node_watched(flow: Flow) -> FlowNode | None:
    """The step that is being written, in its place; None where it is in none or in several."""
    return next((one for one in flow.nodes if isinstance(one, WatchedNode)), None)


def moment_watched(trace: Trace) -> Moment | None:
    """What happens at the step that is being written; None where it happens never or often."""
    return next((one for one in trace.moments if isinstance(one, HappeningNow)), None)
