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
    if node.does.adds and node.to_pot:  # a whole bath into an empty pot
        return phrase("Pour ", telling.name(node.bath), " into ", telling.name(node.to_pot))
    things = _things(telling, node)
    verb = step.verb.name[:1].upper() + step.verb.name[1:]
    return phrase(verb, " " if things else "", listed(things))


def _things(telling: Telling, node: FlowNode) -> list[Phrase]:
    """What a step acts on: what it cleans, a bag, plants, lots or a bath, whichever comes first."""
    if node.cleaned:
        return [_this_or(telling, pot, "pot") for pot in node.cleaned]
    if node.does.bags:
        return [(telling.name(node.bag),)] if node.bag else []
    if acts_on_plants(node):
        return [telling.brings(node) or ("the plants",)]
    if node.lots:
        return [_lot(telling, lot) for lot in node.lots]
    verb = node.step.verb if isinstance(node.step, Step) else None
    if verb is not None and verb.group == "fibre":  # a lot that is not there, or not any more
        return [telling.as_written(node) or ("fibre",)]
    if node.does.readies and node.moved:
        return [telling.real_name(thing) for thing, _ in node.moved]
    if node.does.adds:
        return [("to ", telling.name(node.bath))] if node.bath else []
    named = node.bath or node.bag
    said = (telling.name(named),) if named else telling.as_written(node)
    return [said] if said else []


def acts_on_plants(node: FlowNode) -> bool:
    """True for a step that takes plants out of a bath, or liquor out of plants."""
    does = node.does
    loose = does.lifts_matter or does.throws_matter_out or does.presses_plants
    return loose and not does.bags


def told_in_title(node: FlowNode) -> bool:
    """True where the title says all that a step brings: it has no amounts to tell."""
    bare = node.does.readies and not any(item.quantity for _, item in node.moved)
    return bare or acts_on_plants(node)


def _this_or(telling: Telling, thing: str, kind: str) -> Phrase:
    return (f"this {kind}",) if thing == telling.turn else (telling.name(thing),)


def _lot(telling: Telling, lot: str) -> Phrase:
    """A lot's name; with the word lot after what else reads as something done: mordanted lot."""
    if lot == telling.turn:
        return ("this lot",)
    name = telling.name(lot)
    return phrase(name, " lot" if name.text.endswith("ed") else "")
