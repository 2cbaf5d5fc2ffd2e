"""Baths that harm and that stand over a night, by the days on which the steps of a plan fall."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import pairwise

from procedure.facts.handling import grave, in_bath, plants_left_in
from procedure.pipeline import Judged


def harms(plan: Judged, bath: str) -> bool:
    """Whether a bath ever holds what poisons, burns or is nothing for children, at its strength."""
    return any(
        grave(hazard) or hazard.yes("no_children")
        for moment in plan.trace.moments
        if moment.node.bath == bath and (state := moment.after.baths.get(bath)) is not None
        for thing in state.contents
        for hazard in in_bath(plan.study, state, thing)
    )


def stand_a_night(plan: Judged, days: Mapping[int, int] | None) -> tuple[str, ...]:
    """The baths that harm and that are there on more than one day.

    ``days`` gives the day on which each step begins, by its node; None where no timetable can
    be made: then every bath that harms may stand.
    """
    found = []
    for bath, maker in plan.flow.baths.items():
        nodes = {moment.node.id for moment in plan.trace.moments if moment.node.bath == bath}
        on = {days[node] for node in nodes if node in days} if days is not None else set()
        if maker >= 0 and (days is None or len(on) > 1) and harms(plan, bath):
            found.append(bath)
    return tuple(found)


def plant_left_in(plan: Judged, days: Mapping[int, int] | None) -> tuple[str, ...]:
    """The baths in which pieces of a plant that harms are when a day is over.

    ``days`` is that of :func:`stand_a_night`; where it is None, none is known.
    """
    found = []
    for bath in plan.flow.baths:
        here = [moment for moment in plan.trace.moments if moment.node.bath == bath]
        for one, two in pairwise(here):
            state = one.after.baths.get(bath)
            first, then = (days or {}).get(one.node.id), (days or {}).get(two.node.id)
            over = first is not None and then is not None and first < then
            if over and state is not None and plants_left_in(plan.study, state):
                found.append(bath)
                break
    return tuple(found)
