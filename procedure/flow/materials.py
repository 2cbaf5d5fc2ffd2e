"""What steps do with materials by themselves, with equipment, and with whatever ``do`` names."""

from __future__ import annotations

from procedure.flow.clauses import missing_clauses, missing_object
from procedure.flow.graph import WATER
from procedure.flow.names import (
    bath_of,
    free_pot,
    new_bath,
    new_bath_by_its_pot,
    resolve,
    slip_if_full,
    unnamed,
)
from procedure.flow.walk import Here
from procedure.model import Item, Name, Step


def material(here: Here, step: Step) -> None:
    """Materials are collected, cut, ground."""
    missing_clauses(here, step)
    missing_object(here, step, "the material")
    found: list[tuple[str, Item]] = []
    for item in step.objects:
        if item.name is None:
            here.slip("wrong kind", unnamed(item), wanted="a material")
            continue
        thing = resolve(here, item.name, "a material")
        if thing is None:
            continue
        if thing not in here.flow.materials:
            here.slip("wrong kind", item.name, wanted="a material")
            continue
        here.edge("material", thing)
        found.append((thing, item))
    here.node.moved = tuple(found)


def in_water(here: Here, step: Step) -> None:
    """Materials go into water: a bath, named by the step's label or by the pot."""
    material(here, step)
    node = here.node
    if step.within is None:
        return
    node.pot = free_pot(here, step.within)
    if step.label is not None or (step.using and node.does.known_by_pot):
        if step.label is not None:
            new_bath(here, step.label.text)
        else:
            new_bath_by_its_pot(here, step.within.name)
        node.makes = (node.bath,)
    elif node.pot:
        here.edge("pot", node.pot)


def clean(here: Here, step: Step) -> None:
    """Pots and tools lose what they held; a pot has to be empty for it."""
    missing_object(here, step, "the pot")
    cleaned: list[str] = []
    wanted = "a pot or tool"
    for item in step.objects:
        if item.name is None:
            here.slip("wrong kind", Name("", item.place), wanted=wanted)
            continue
        thing = resolve(here, item.name, wanted)
        if thing is None:
            continue
        if thing not in here.flow.pots:
            here.slip("wrong kind", item.name, wanted=wanted)
            continue
        slip_if_full(here, thing, item.name)
        here.edge("pot", thing)
        cleaned.append(thing)
    here.node.cleaned = tuple(cleaned)


def do(here: Here, step: Step) -> None:
    """A step in free words: what it names is used, and nothing is known of what it does."""
    things = [*step.using, *step.into]
    things += [item for item in (step.within, step.source, step.to) if item is not None]
    lots: list[str] = []
    here.node.names = here.scope.names
    for item in things:
        if item.name is None:
            continue
        thing = resolve(here, item.name, "a name of this procedure")
        if thing is None:
            continue
        if thing in here.flow.materials or thing == WATER:
            here.node.materials = (*here.node.materials, (thing, item))
        if thing in here.flow.lots:
            lots.append(thing)
            here.edge("lot", thing)
        elif thing in here.flow.baths:
            bath_of(here, item.name, "a bath")
            here.edge("bath", thing)
    here.node.lots = tuple(lots)
