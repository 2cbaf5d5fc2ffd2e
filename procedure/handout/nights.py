"""Baths that stand over a night, by the days on which the steps of a plan fall."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from itertools import pairwise

from procedure.facts.handling import grave, in_bath, plants_left_in
from procedure.handout.phrasebook import Telling
from procedure.model import Quantity, Step
from procedure.paper.blocks import StepCard
from procedure.paper.pieces import Phrase, sentence
from procedure.pipeline import Judged
from procedure.quantity.record import NamedTuple
from procedure.trace import BathState
from procedure.vocabulary.thresholds import threshold


class Night(NamedTuple):
    """A bath that is there when a day is over: the last step with it before, the first after,
    by their nodes in the flow, and how it is left."""

    bath: str
    evening: int
    morning: int
    left: BathState


def over_night(plan: Judged, days: Mapping[int, int] | None) -> tuple[Night, ...]:
    """Every bath that stands from one day to another, harmful or not, with each such time.

    ``days`` is that of :func:`stand_a_night`; where it is None, none is known.
    """
    found = []
    for bath in plan.flow.baths if days else ():
        here = [moment for moment in plan.trace.moments if moment.node.bath == bath]
        for one, two in pairwise(here):
            state = one.after.baths.get(bath)
            first, then = (days or {}).get(one.node.id), (days or {}).get(two.node.id)
            if state is not None and first is not None and then is not None and first < then:
                found.append(Night(bath, one.node.id, two.node.id, state))
    return tuple(found)


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
    nights = over_night(plan, days)
    found = (one.bath for one in nights if plants_left_in(plan.study, one.left))
    return tuple(dict.fromkeys(found))


def said_at_steps(
    telling: Telling, days: Mapping[int, int] | None
) -> tuple[tuple[str, Phrase], ...]:
    """What a step is to say of the night after it or before it, with the step's number.

    In the evening that a bath is covered and has a label, where the writer does not say so; in
    the morning that it is cold and has to be warmed again (``heat by morning``).
    """
    said: dict[tuple[str, Phrase], None] = {}
    for one in over_night(telling.plan, days):
        bath = telling.the(one.bath)
        evening = telling.numbers.get(one.evening)
        if evening is not None and not (one.left.covered and one.left.labelled):
            told = sentence(bath, " stands overnight: lid on, labelled")
            said[evening, told] = None
        wanted = _wanted_warm(telling.plan, one)
        morning = telling.numbers.get(wanted[0]) if wanted is not None else None
        if morning is not None and wanted is not None:
            warm = telling.heat(wanted[1], "to")
            told = sentence(bath, " is cold by morning: warm it ", warm, " first")
            said[morning, told] = None
    return tuple(said)


def _wanted_warm(plan: Judged, night: Night) -> tuple[int, Quantity] | None:
    """The first step after a night that says how hot its bath is, by its node, with that heat;
    None where the bath may be as cold as it is then, or is heated by that step."""
    here = [moment.node for moment in plan.trace.moments if moment.node.bath == night.bath]
    at = next(n for n, (a, b) in enumerate(pairwise(here)) if (a.id, b.id) == night[1:3])
    for node in here[at + 1 :]:
        if node.does.tops_up or node.does.adds:  # the heat is that of what comes into it
            continue
        step = node.step
        items = (step.source, step.at, step.to) if isinstance(step, Step) else ()
        heats = [one.quantity for one in items if one is not None and one.quantity is not None]
        heat = next((one for one in heats if one.kind == "temperature"), None)
        if heat is not None:
            # A simmering or a vat that is left is heated by its own step.
            to_be = isinstance(step, Step) and (step.source is not None or bool(node.lots))
            warm = heat.low is not None and heat.low > threshold("heat by morning").value
            return (node.id, heat) if to_be and warm and not node.does.brings_to_heat else None
    return None


def noted(
    cards: tuple[StepCard, ...], at_steps: tuple[tuple[str, Phrase], ...]
) -> tuple[StepCard, ...]:
    """Step cards with what is said at their steps; a card may be for several (9–11)."""
    return tuple(
        replace(
            card,
            notes=(
                *card.notes,
                *(said for number, said in at_steps if number in set(_numbers(card.number))),
            ),
            inner=noted(card.inner, at_steps),
        )
        for card in cards
    )


def _numbers(number: str) -> Iterator[str]:
    """Each step that a card is for: ``4.9–11`` is 4.9, 4.10 and 4.11."""
    first, _, last = number.partition("–")
    before, dot, own = first.rpartition(".")
    if not last or not own.isdigit() or not last.isdigit():
        yield first
        return
    yield from (f"{before}{dot}{one}" for one in range(int(own), int(last) + 1))
