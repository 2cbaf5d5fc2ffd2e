"""Whether a plan comes out the same but for the step that is being written; and that plan.

A note, or a sign to wait for, is written letter by letter. Where all that the flow and the trace
have read of the step is as it was, both are kept, with the new step in the place of the old one.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from procedure.flow import Flow, FlowNode, LotOrigin, Slip
from procedure.model import Block, Procedure, Step
from procedure.service.being_written import (
    FOUND_OUT,
    BeingWritten,
    HappeningNow,
    WatchedFlow,
    WatchedNode,
    flat,
    in_order,
    same_state,
)
from procedure.trace import Moment, Trace


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
    noted = isinstance(one, WatchedNode) and isinstance(two, WatchedNode)
    apart = _APART | FOUND_OUT if noted else _APART
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
    now = WatchedFlow(made)
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
