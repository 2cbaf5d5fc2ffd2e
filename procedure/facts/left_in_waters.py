"""What fibre leaves in the water that it is rinsed in: iron and other metals that it carries loose.

The least trace of iron dulls what comes into the same tub after it; copper, tin and chrome shift
its colour. Which metals those are is told by the relations, “spoils”. Alum does no harm.
"""

from __future__ import annotations

from collections.abc import Iterable

from procedure.facts.liquor import metal_of, metals_in, stuff
from procedure.facts.study import Study
from procedure.trace import Moment
from procedure.vocabulary.thresholds import in_relation


def what_spoils() -> tuple[str, ...]:
    """What does harm to other fibre or baths: iron, copper, and what else the data names."""
    return in_relation("spoils")


def metals_of(study: Study, moment: Moment, lot: str, *, loose: bool) -> frozenset[str]:
    """The metals that a lot has taken up, or carries loose, when it comes to a step."""
    state = moment.before.lots.get(lot)
    if state is None:
        return frozenset()
    things = [one.thing for one in state.carried.values()] if loose else list(state.mordants)
    return frozenset(metal_of(one.entry) for one in stuff(study, things)) - {""}


def spoiling_metals(study: Study, things: Iterable[str]) -> set[str]:
    """The metals of things that harm other fibre or baths."""
    return metals_in(study, things) & set(what_spoils())


def harmful_in(study: Study, moment: Moment) -> dict[str, str]:
    """The metals that a step rinses out and that harm other fibre, each with a lot that has it."""
    return {
        metal: lot
        for lot in moment.node.lots
        for metal in sorted(metals_of(study, moment, lot, loose=True))
        if metal in what_spoils()
    }


def without(study: Study, moment: Moment, metal: str) -> tuple[str, ...]:
    """The lots of a step that have not taken up a metal, which its least trace would harm."""
    lots = moment.node.lots
    return tuple(x for x in lots if metal not in metals_of(study, moment, x, loose=False))
