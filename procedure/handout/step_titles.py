"""A step in its first words: a verb with its objects, as a title beside blanks and numbers."""

from __future__ import annotations

from procedure.flow import FlowNode
from procedure.handout.phrasebook import Telling
from procedure.model import Step
from procedure.paper.pieces import Phrase, Words, phrase
from procedure.paper.pieces import joined as listed


def in_short(telling: Telling, node: FlowNode) -> Phrase:
    """A step as a verb with its objects: ``Mordant yarn``; empty for a block."""
    step = node.step
    if not isinstance(step, Step):
        return ()
    if step.verb is None:
        return (Words(step.words.text if step.words else ""),)
    things: list[Phrase] = [
        ("this lot",) if lot == telling.turn else _lot(telling, lot) for lot in node.lots
    ]
    if not things and node.bath and not step.does.adds:
        things = [(telling.name(node.bath),)]
    if not things and node.bag:
        things = [(telling.name(node.bag),)]
    if node.cleaned:
        things = [(telling.name(pot),) for pot in node.cleaned]
    verb = step.verb.name[:1].upper() + step.verb.name[1:]
    return phrase(verb, " " if things else "", listed(things))


def _lot(telling: Telling, lot: str) -> Phrase:
    """A lot's name; with the word lot behind what else reads as something done: mordanted lot."""
    name = telling.name(lot)
    return phrase(name, " lot" if name.text.endswith("ed") else "")
