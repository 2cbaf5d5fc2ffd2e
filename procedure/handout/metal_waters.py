"""Waters and baths that hold a harmful metal, at every step that lets them out of hand."""

from __future__ import annotations

from dataclasses import dataclass, field

from procedure.facts.handling import hazards
from procedure.handout.phrasebook import Telling
from procedure.paper.pieces import joined, phrase, plain_text
from procedure.pipeline import Judged
from procedure.trace import Moment

METAL = "harmful metal"
# Annex IV of Regulation (EC) No 1272/2008, P273: avoid release to the environment. That the
# water of the rinses holds some of the metal, most of it the first, is common practice.
ITS_WATER = "This water holds the metal too: collect it with the spent bath."
LATER_WATER = "This water may still hold some of the metal: ask before you pour it away."


@dataclass
class MetalWater:
    """What a step's water, or the bath that it gets rid of, holds: materials of harmful metals.

    ``first`` holds for the first water after the metal; ``lots`` are those that bring it, and
    ``every`` all lots of the step; ``poured`` holds where the step gets rid of the bath itself.
    """

    things: dict[str, None] = field(default_factory=dict)
    first: bool = False
    lots: dict[str, None] = field(default_factory=dict)
    every: dict[str, None] = field(default_factory=dict)
    poured: bool = False


def metal_waters(plan: Judged, by_line: bool = False) -> dict[object, MetalWater]:
    """The steps whose water or bath holds a harmful metal, by their nodes in the flow.

    With ``by_line`` they are by file and line instead, for what is done to several lots in turn
    and told once.

    They are all rinses and washes of fibre up to its first wash with soap after the metal, and
    all pourings away of a bath that it is in.
    """
    found: dict[object, MetalWater] = {}
    for moment in plan.trace.moments:
        node = moment.node
        key = (node.procedure.key, node.step.place.line) if by_line else node.id
        here = found.get(key, MetalWater())
        here.every |= dict.fromkeys(node.lots)
        if node.does.washes_out:
            _from_fibre(plan, moment, here)
        elif node.does.empties and moment.bath_before is not None:
            held = [one for one in moment.bath_before.contents if of_metal(plan, one)]
            here.things |= dict.fromkeys(held)
            here.poured = here.poured or bool(held)
        found[key] = here
    return {key: one for key, one in found.items() if one.things}


def _from_fibre(plan: Judged, moment: Moment, here: MetalWater) -> None:
    for lot in moment.node.lots:
        state = moment.before.lots.get(lot)
        for one in state.carried.values() if state is not None else ():
            if one.kind == "poison" and of_metal(plan, one.thing):
                here.things[one.thing] = None
                here.lots[lot] = None
                here.first = here.first or not one.rinses


def of_metal(plan: Judged, thing: str) -> bool:
    """Whether a material of the plan holds a metal that harms people and water life."""
    made = plan.flow.materials.get(thing)
    return made is not None and any(entry.name == METAL for entry in hazards(made[0]))


def metal_notes(telling: Telling) -> dict[object, str]:
    """What papers say of it at each such step: a sentence, by the step's node in the flow and
    also by its file and line."""
    plan = telling.plan
    every = {**metal_waters(plan), **metal_waters(plan, by_line=True)}
    return {key: _said(telling, one) for key, one in every.items()}


def _said(telling: Telling, one: MetalWater) -> str:
    if one.poured:
        names = joined(telling.real_name(thing) for thing in one.things)
        held = plain_text(phrase(names), telling.voice)
        return f"It holds {held}: it goes nowhere but where such waste is taken."
    said = ITS_WATER if one.first else LATER_WATER
    if set(one.lots) == set(one.every):
        return said
    lots = plain_text(joined(telling.the(lot) for lot in one.lots), telling.voice)
    return f"After {lots}: {said[:1].lower()}{said[1:]}"
