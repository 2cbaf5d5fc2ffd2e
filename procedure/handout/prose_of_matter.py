"""Sentences for what is done to bags, and to plants in them."""

from __future__ import annotations

from collections.abc import Callable

from procedure.flow import FlowNode
from procedure.handout.heat_and_time import course
from procedure.handout.phrasebook import Telling
from procedure.model import Step
from procedure.paper.pieces import Phrase, joined, phrase, sentence, worded

Say = Callable[[Telling, FlowNode, Step], Phrase]


def _says(step: Step) -> str:
    assert step.verb is not None
    return step.verb.says


def _bag(telling: Telling, node: FlowNode) -> Phrase:
    return telling.the(node.bag) if node.bag else ("the bag",)


def _fill(telling: Telling, node: FlowNode, step: Step) -> Phrase:
    what = joined([telling.brings(node), telling.as_written(node)])
    return sentence(worded(_says(step), _bag(telling, node)), " with " if what else "", what)


def _lower(telling: Telling, node: FlowNode, step: Step) -> Phrase:
    bath = telling.the(node.bath) if node.bath else ("the bath",)
    said = phrase(worded(_says(step), _bag(telling, node)), " into ", bath)
    if node.present:
        said = phrase(said, ", on top of ", telling.the_all(node.present))
    how, _ = course(telling, step, "the bath")
    return sentence(said, " " if how else "", how)


def _move(telling: Telling, node: FlowNode, step: Step) -> Phrase:
    return sentence(worded(_says(step), _bag(telling, node)), ", so that there is room")


def _take_out(telling: Telling, node: FlowNode, step: Step) -> Phrase:
    bath = telling.the(node.bath) if node.bath else ("the bath",)
    place: Phrase = ()
    if step.into:
        place = phrase(" and put it into ", telling.item(node, step.into[0]))
    elif step.to is not None:
        place = phrase(" and take it to ", telling.item(node, step.to))
    return sentence(
        worded(_says(step), _bag(telling, node)), " of ", bath, ", and let it drip", place
    )


def _empty(telling: Telling, node: FlowNode, step: Step) -> Phrase:
    said = worded(_says(step), _bag(telling, node))
    if step.to is not None:
        said = phrase(said, ": ", telling.item(node, step.to))
    return sentence(said)


def _lift_out(telling: Telling, node: FlowNode, step: Step) -> Phrase:
    said = worded(_says(step), telling.brings(node) or ("the plants",))
    if node.bath:
        said = phrase(said, " of ", telling.the(node.bath))
    elif node.lots:
        said = phrase(said, " of ", telling.the_all(node.lots))
    if step.to is not None:
        said = phrase(said, ": ", telling.item(node, step.to))
    return sentence(said)


def _press_out(telling: Telling, node: FlowNode, step: Step) -> Phrase:
    what = telling.brings(node) or _bag(telling, node)
    said = worded(_says(step), what)
    if node.moved and node.bag:
        said = phrase(said, " through ", telling.the(node.bag))
    if step.into:
        said = phrase(said, " into ", telling.item(node, step.into[0]))
    elif step.source is not None:
        said = phrase(said, " over ", telling.item(node, step.source))
    return sentence(said)


SAYINGS: dict[str, Say] = {
    "fill bag": _fill,
    "lower bag": _lower,
    "move bag": _move,
    "take out bag": _take_out,
    "empty bag": _empty,
    "lift out": _lift_out,
    "press out": _press_out,
}
