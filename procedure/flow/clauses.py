"""The clauses of a step that every part of the flow asks for: what it lacks, what it brings."""

from __future__ import annotations

from procedure.flow.graph import WATER
from procedure.flow.names import base_of, bath_of, resolve, unnamed
from procedure.flow.walk import Here, said
from procedure.model import Item, Name, Step
from procedure.vocabulary import vocabulary


def missing_object(here: Here, step: Step, wanted: str) -> None:
    """A slip where a step does not say what it is done to."""
    if not step.objects:
        here.slip("missing object", Name(step.word or said(step), step.verb_place), wanted=wanted)


def missing_clauses(here: Here, step: Step) -> None:
    """A slip for each clause that the verb needs and the step lacks."""
    assert step.verb is not None
    for need in step.verb.needs:
        options = need.split("|")
        if not any(_has(step, option) for option in options):
            name = Name(said(step), step.verb_place)
            here.slip("missing clause", name, wanted=" or ".join(options))


def _has(step: Step, clause: str) -> bool:
    fields = {
        "in": step.within,
        "into": step.into,
        "from": step.source,
        "with": step.using,
        "at": step.at,
        "to": step.to,
        "over": step.over,
        "for": step.lasting or {"overnight", "until-next-day"} & step.manner,
        "until": step.has_sign,
        "as": step.named,
        "on": step.on,
        "through": step.through,
    }
    if clause == "in" and step.within is not None and _is_spoon(step.within):
        return False  # a cup of water, which is no pot of the plan
    return bool(fields[clause])


def _is_spoon(item: Item) -> bool:
    """True where a clause holds a spoon or a cup alone, and no name."""
    quantity = item.quantity
    return (
        item.name is None
        and item.words is None
        and quantity is not None
        and (quantity.kind == "spoon")
    )


def brought(here: Here, step: Step) -> None:
    """What a step brings with ``with``; and the names that amounts are measured of."""
    found = [(thing, item) for item in step.using if (thing := _material(here, item)) is not None]
    here.node.materials = tuple(found)
    for item in (*step.objects, *step.using, *step.into):
        base = base_of(item)
        if base is not None:
            resolve(here, base, "a lot, bath or pot")
        more = item.quantity.more_bases if item.quantity is not None else ()
        for name in more:
            resolve(here, Name(name, item.place), "a lot")


def is_tool(here: Here, name: str) -> bool:
    """True for the knife or scissors that plants are cut with, which need not be declared."""
    return name not in here.scope.names and name in vocabulary().tables["tool"]


def is_for_drying(here: Here, name: str) -> bool:
    """True for the line or rack that fibre hangs on, which need not be declared."""
    entry = vocabulary().find(name, "tool") if name not in here.scope.names else None
    return entry is not None and entry.facts.get("meaning") == "for drying"


def _material(here: Here, item: Item) -> str | None:
    """What an item after ``with`` is in the plan: a material, water, a bath or a tool."""
    wanted = "a material"
    if item.name is None:
        base = base_of(item)
        if base is not None:
            thing = resolve(here, base, wanted)
            if thing not in here.flow.lots:
                return thing
            here.slip("wrong kind", base, wanted=wanted)
            return None
        if item.words is None:
            here.slip("wrong kind", unnamed(item), wanted=wanted)
        return None
    if here.node.does.readies and is_tool(here, item.name.text):
        return None
    thing = resolve(here, item.name, wanted)
    if thing is None:
        return None
    flow = here.flow
    if thing in flow.lots or thing in flow.pots:
        if thing in flow.lots or flow.pots[thing][0].holds:
            here.slip("wrong kind", item.name, wanted=wanted)
        elif flow.pots[thing][0].bag and here.node.does.prepares:
            here.node.bag = thing
        return None  # a spoon is no material, and no slip
    if thing in flow.baths:
        bath_of(here, item.name, "a bath")
        here.edge("bath", thing)
    elif thing != WATER:
        here.edge("material", thing)
    return thing
