"""What a plan keeps where free words of one step have changed, and nothing that is followed.

A note, or a sign to wait for, is written letter by letter, and each letter makes another step. So
the step that is being written notes what is read of it, and by whom: where all that the flow and
the trace have read is as it was, both are kept, with the new step in the place of the old one.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from procedure.flow import Flow, FlowNode
from procedure.model import Block, Procedure, Step
from procedure.trace import Moment, Trace

Steps = tuple[Step | Block, ...]
Read = dict[str, Any]
"""What was read of the step that is being written: its value, by the name of the field."""

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
    if _Noting.read is not None:
        _Noting.read.update(read)


def _noted(name: str) -> property:
    plain = getattr(Step, name)

    def value(step: Step) -> Any:
        read = _Noting.read
        if read is None:
            return plain.__get__(step)
        with noting(None):  # what it is made of in turn is of no account
            found = read[name] = plain.__get__(step)
        return found

    return property(value)


def _whole(name: str) -> Any:
    plain = getattr(tuple, name)

    def act(step: Step, *more: Any) -> Any:
        if _Noting.read is not None:
            _Noting.read[ALL] = None
        return plain(step, *more)

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
        **{name: _noted(name) for name in _FIELDS},
        **{name: _whole(name) for name in _WAYS},
    },
)


def as_read(read: Read, step: Step) -> bool:
    """True where all that was read of another step is the same in this one."""
    return ALL not in read and all(getattr(step, name) == value for name, value in read.items())


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
    made.written = [
        one._replace(step=watched) if one.step is step else one for one in made.written
    ]


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


def _with(body: Steps, old: Step, new: Step) -> Steps:
    return tuple(
        one._replace(body=_with(one.body, old, new))
        if isinstance(one, Block)
        else (new if one is old else one)
        for one in body
    )


def only_words_of_it(old: Procedure, new: Procedure) -> bool:
    """True where two readings of a file differ in nothing but the step being written."""
    before, after = vars(old), vars(new)
    if any(before[name] != after[name] for name in before if name not in ("body", "written")):
        return False
    if len(old.written) != len(new.written):
        return False
    same = all(
        (a.quantity, a.role, a.item) == (b.quantity, b.role, b.item)
        for a, b in zip(old.written, new.written, strict=True)
    )
    ones, others = list(flat(old.body)), list(flat(new.body))
    return same and len(ones) == len(others) and all(map(_alike, ones, others))


def _alike(one: Step | Block, two: Step | Block) -> bool:
    if isinstance(one, BeingWritten):
        return isinstance(two, BeingWritten)
    if isinstance(one, Block) and isinstance(two, Block):
        same = len(one.body) == len(two.body)
        return same and one._replace(body=()) == two._replace(body=())
    return type(one) is type(two) and one == two


# ------------------------------------------------------------ the plan with the new step in it


def reworded(flow: Flow, trace: Trace, made: Procedure) -> tuple[Flow, Trace] | None:
    """Flow and trace of a plan of one file, as they are with another reading of that file.

    None for a plan that follows other files, or that has steps which the file has not.
    """
    old = flow.procedure
    if flow.follows or flow.cycle or len(flow.procedures) != 1:
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
    copy = object.__new__(FlowNode)
    copy.__dict__.update(node.__dict__)
    copy.step, copy.procedure = step, made
    return copy


def _flow(flow: Flow, made: Procedure, nodes: list[FlowNode]) -> Flow:
    now = Flow(made)
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
