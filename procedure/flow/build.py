"""A procedure to its flow graph: one walk through the steps in the order of the text."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from procedure.flow import baths, ends, fibre, materials, matter, through_blocks
from procedure.flow.clauses import brought, is_for_drying
from procedure.flow.graph import Flow, FlowNode
from procedure.flow.names import EQUIPMENT, declare, resolve
from procedure.flow.scope import Scope
from procedure.flow.walk import Find, Here, Walk
from procedure.model import Block, Procedure, Step
from procedure.vocabulary.effects import fit

# What the flow does with a step, by the part that its verb's effect plays in the flow.
PARTS: Mapping[str, Callable[[Here, Step], None]] = {
    "fibre": fibre.fibre,
    "split": fibre.split,
    "join": fibre.join,
    "make bath": baths.make_bath,
    "add": baths.add,
    "bath": baths.bath,
    "strain": baths.strain,
    "draw off": baths.draw_off,
    "empty": baths.empty,
    "keep": baths.keep,
    "material": materials.material,
    "in water": materials.in_water,
    "clean": materials.clean,
    "fill bag": matter.fill,
    "lower bag": matter.lower,
    "move bag": matter.move_aside,
    "take out bag": matter.take_out,
    "empty bag": matter.empty,
    "lift out": matter.lift_out,
    "press out": matter.press_out,
}
fit("part", PARTS, "procedure/flow/build.py")

_BLOCKS = {
    "repeat": through_blocks.repeat,
    "if": through_blocks.choice,
    "either": through_blocks.either,
    "for": through_blocks.each,
}


def build(procedure: Procedure, find: Find) -> Flow:
    """The flow graph of a procedure, with what it follows traced in place.

    ``find`` gives the procedure that a caller names with ``follow``, or in one word why
    there is none: missing, outside, absolute, unreadable or nowhere. Never raises for
    what a procedure says: what is amiss is in the slips of the flow.
    """
    walk = Walk(procedure, find)
    scope = Scope(procedure, "", ())
    declare(walk, scope)
    walk.flow.top = _body(walk, procedure.body, scope)
    ends.orders(walk)
    ends.left_over(walk)
    ends.never_used(walk, scope)
    ends.find_circle(walk)
    return walk.flow


def _body(walk: Walk, body: tuple[Step | Block, ...], scope: Scope) -> list[FlowNode]:
    return [
        _block(walk, step, scope) if isinstance(step, Block) else _visit(walk, step, scope)
        for step in body
    ]


def _block(walk: Walk, block: Block, scope: Scope) -> FlowNode:
    node = walk.node(block.kind, block, scope)
    walk.label(block.label, scope, node)
    _BLOCKS[block.kind](Here(walk, scope, node), block, _walking(walk))
    return node


def _walking(walk: Walk) -> through_blocks.Body:
    """Blocks and follows have steps in them, and need this to walk them."""
    return lambda body, scope: _body(walk, body, scope)


def _visit(walk: Walk, step: Step, scope: Scope) -> FlowNode:
    kind = step.kind if step.kind in ("follow", "do") else "step"
    node = walk.node(kind, step, scope)
    here = Here(walk, scope, node)
    walk.label(step.label, scope, node)
    if not walk.again:
        walk.orders += [(scope, name, node) for name in step.after]
    if kind == "follow":
        from procedure.flow.follow import follow

        follow(here, step, _walking(walk))
    elif kind == "do":
        materials.do(here, step)
    else:
        _done(here, step)
    return node


def _done(here: Here, step: Step) -> None:
    """A step with a verb: what it brings, what its part in the flow is, what it is done with."""
    node = here.node
    node.names = here.scope.names
    node.left = {}
    node.left_either = False
    brought(here, step)
    PARTS[step.does.part](here, step)
    matter.held_back(here, step)
    baths.measured_by_its_pot(here, step)
    for name in (step.on, step.through):
        if name is not None and not (name is step.on and is_for_drying(here, name.text)):
            thing = resolve(here, name, EQUIPMENT)
            if thing is not None and thing not in here.flow.pots:
                here.slip("wrong kind", name, wanted=EQUIPMENT)
    if node.bath:
        node.present = tuple(dict.fromkeys((*here.places.lots_in(node.bath), *node.lots)))
