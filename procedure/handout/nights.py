"""Baths that stand over a night, by the days on which the steps of a plan fall."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from itertools import pairwise

from procedure.facts.handling import grave, in_bath, plants, plants_left_in
from procedure.facts.left_overnight import warmest_by_morning
from procedure.facts.study import Study
from procedure.flow import FlowNode
from procedure.handout.phrasebook import Telling
from procedure.model import Quantity, Step
from procedure.paper.blocks import StepCard
from procedure.paper.pieces import Phrase, phrase, sentence
from procedure.pipeline import Judged
from procedure.quantity.record import NamedTuple
from procedure.trace import BathState, Moment
from procedure.trace.states import PotState


class Night(NamedTuple):
    """A bath that is there when a day is over: the last step with it before, the first after,
    by their nodes in the flow, and how it is left."""

    bath: str
    evening: int
    morning: int
    left: BathState
    pots: Mapping[str, PotState]

    def bags(self, study: Study) -> tuple[str, ...]:
        """The bags in it, where all the pieces of plants that harm are in them."""
        bags = {name: pot for name, pot in self.pots.items() if pot.within == self.bath}
        bagged = {thing for pot in bags.values() for thing in pot.matter}
        solid = {name for name, content in self.left.contents.items() if content.solid}
        loose = any(plants(study, thing) for thing in solid - bagged)
        return () if loose else tuple(bags)


class NightWords(NamedTuple):
    """What a step is to say of the night after it, in the ``evening``, or of the one before it:
    the step's number, and words that may have more before them. Of a step that is done
    ``again`` and again it is said of the last time."""

    number: str
    words: Phrase
    evening: bool
    again: bool = False

    def beside(self, numbers: tuple[str, ...]) -> Phrase:
        """The sentence for a card of these steps, which tells between which of them the night
        is where that is not at the card's own edge."""
        if self.evening and self.again:
            return sentence("after the last time ", self.words)
        if self.number == (numbers[-1] if self.evening else numbers[0]):
            return sentence(self.words)
        after = "after" if self.evening else "before"
        return sentence(f"{after} step {self.number} ", self.words)


def over_night(plan: Judged, days: Mapping[int, int] | None) -> tuple[Night, ...]:
    """Every bath that stands from one day to another, harmful or not, with each such time.

    ``days`` is that of :func:`stand_a_night`; where it is None, none is known.
    """
    found = []
    for bath in plan.flow.baths if days else ():
        here = [m for m in plan.trace.moments if bath in (m.node.bath, *m.node.left.values())]
        for one, two in pairwise(here):
            state = one.after.baths.get(bath)
            first, then = (days or {}).get(one.node.id), (days or {}).get(two.node.id)
            if state is not None and first is not None and then is not None and first < then:
                found.append(Night(bath, one.node.id, two.node.id, state, _pots(plan, one)))
    return tuple(found)


def _pots(plan: Judged, until: Moment) -> dict[str, PotState]:
    """All pots and bags as they are after a moment, which tells only those of its step."""
    found: dict[str, PotState] = {}
    for moment in plan.trace.moments:
        found.update(moment.after.pots)
        if moment is until:
            break
    return found


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


def cover_of(plan: Judged, pot: str) -> str:
    """What a pot that stands is covered with (common practice)."""
    found = plan.flow.pots.get(pot)
    return "lid on" if found is None or found[0].lidded else "a board over it"


def to_take_out(telling: Telling, night: Night) -> Phrase:
    """What is to be done so that no piece of a plant that harms stands in a bath overnight."""
    study = telling.plan.study
    if not plants_left_in(study, night.left):
        return ()
    bags = night.bags(study)
    return phrase("lift ", telling.the_all(bags), " out") if bags else ("strain the plant out",)


def said_at_steps(telling: Telling, days: Mapping[int, int] | None) -> tuple[NightWords, ...]:
    """What each step is to say of the night after it or before it.

    In the evening that a plant that harms is taken out, and that a bath is covered and has a
    label, where the writer does not say so; in the morning that it is cold and has to be warmed
    again (``heat by morning``).
    """
    said: dict[NightWords, None] = {}
    rounds = [node for node in telling.plan.flow.nodes if node.kind == "repeat"]
    again = {one.id for node in rounds for one in _within(node)}
    opened = {
        moment.node.id for moment in telling.plan.trace.moments if "uncovered" in moment.step.manner
    }
    for one in over_night(telling.plan, days):
        bath = telling.the(one.bath)
        evening = telling.numbers.get(one.evening)
        out = to_take_out(telling, one)
        covered = f"{cover_of(telling.plan, one.left.pot)}, labelled"
        lid = "" if one.left.covered and one.left.labelled else covered
        if one.evening in opened:
            lid = "" if one.left.labelled else "labelled"  # it is left open on purpose
        if evening is not None and (out or lid):
            between = ", " if out and lid else ""
            told = phrase(bath, " stands overnight: ", out, between, lid)
            said[NightWords(evening, told, True, one.evening in again)] = None
        wanted = _wanted_warm(telling.plan, one)
        morning = telling.numbers.get(wanted[0]) if wanted is not None else None
        if morning is not None and wanted is not None:
            warm = telling.heat(wanted[1], "to")
            told = phrase(bath, " is cold by morning: warm it ", warm, " first")
            said[NightWords(morning, told, False)] = None
    return tuple(said)


def _within(block: FlowNode) -> Iterator[FlowNode]:
    """All the steps of a block, those of blocks in it among them."""
    for node in block.inner:
        yield node
        yield from _within(node)


def _wanted_warm(plan: Judged, night: Night) -> tuple[int, Quantity] | None:
    """The first step after a night that says how hot its bath is, by its node, with that heat;
    None where the bath may be as cold as it is then, or is heated by that step."""
    every = [moment.node for moment in plan.trace.moments]
    here = [n for n in every if night.bath in (n.bath, *n.left.values())]
    at = next(n for n, (a, b) in enumerate(pairwise(here)) if (a.id, b.id) == night[1:3])
    for node in (one for one in here[at + 1 :] if one.bath == night.bath):
        if node.does.tops_up or node.does.adds:  # the heat is that of what comes into it
            continue
        step = node.step
        items = (step.source, step.at, step.to) if isinstance(step, Step) else ()
        heats = [one.quantity for one in items if one is not None and one.quantity is not None]
        heat = next((one for one in heats if one.kind == "temperature"), None)
        if heat is not None:
            # A simmering or a vat that is left is heated by its own step.
            to_be = isinstance(step, Step) and (step.source is not None or bool(node.lots))
            warm = heat.low is not None and heat.low > warmest_by_morning(node.does.dips)
            return (node.id, heat) if to_be and warm and not node.does.brings_to_heat else None
    return None


def noted(cards: tuple[StepCard, ...], at_steps: tuple[NightWords, ...]) -> tuple[StepCard, ...]:
    """Step cards with what is said at their steps; a card may be for several (9–11)."""
    made = []
    for card in cards:
        numbers = tuple(_numbers(card.number))
        here = (one.beside(numbers) for one in at_steps if one.number in numbers)
        notes = (*card.notes, *here)
        made.append(replace(card, notes=notes, inner=noted(card.inner, at_steps)))
    return tuple(made)


def _numbers(number: str) -> Iterator[str]:
    """Each step that a card is for: ``4.9–11`` is 4.9, 4.10 and 4.11."""
    first, _, last = number.partition("–")
    before, dot, own = first.rpartition(".")
    if not last or not own.isdigit() or not last.isdigit():
        yield first
        return
    yield from (f"{before}{dot}{one}" for one in range(int(own), int(last) + 1))
