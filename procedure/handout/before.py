"""Before you start: how long it takes, over how many days, and what the day before is for."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction

from procedure.facts.handling import hazards
from procedure.flow import FlowNode
from procedure.handout.nights import (
    NightWords,
    cover_of,
    over_night,
    said_at_steps,
    stand_a_night,
    to_take_out,
)
from procedure.handout.numbered_steps import titles_followed
from procedure.handout.phrasebook import Telling
from procedure.handout.spoken_names import names_as_words
from procedure.model import Block, Item
from procedure.paper.pieces import Phrase, plain_text, spaced
from procedure.quantity.interval import ZERO, Interval
from procedure.quantity.number_words import listed
from procedure.timetable.days_in_words import day_in_words
from procedure.timetable.taking import DayTaken, Taking, time_taken
from procedure.vocabulary.troubles import spoil_when_kept


@dataclass(frozen=True, slots=True)
class WorkingDay:
    """A day on which someone has to be there, as the timetable has it.

    ``starts`` is its number, from 1, twice; ``minutes`` its hands-on work; ``said`` all of it
    in a sentence, with the steps and the hours.
    """

    first: str
    last: str
    starts: tuple[int, int]
    minutes: Interval
    said: str


@dataclass(frozen=True, slots=True)
class Before:
    """What a reader plans with. ``work`` are the minutes of hands-on work; ``said`` is how long
    it takes, or why that cannot be told; ``ready`` are the steps that may be done the day
    before, ``nights`` says which baths that harm stand over a night, ``whose`` for how many
    people and which hours all that is planned, in a few words, and ``at_steps`` what to say of
    the nights at the steps, by their numbers."""

    work: Interval
    days: tuple[WorkingDay, ...]
    ready: tuple[str, ...]
    said: tuple[str, ...]
    nights: tuple[str, ...] = ()
    whose: str = ""
    at_steps: tuple[NightWords, ...] = ()

    @property
    def sentences(self) -> tuple[Phrase, ...]:
        """How long it takes, in sentences, but for the list of days."""
        return tuple((text,) for text in self.said)

    @property
    def day_before(self) -> tuple[Phrase, ...]:
        """What can be done the day before."""
        said: list[str] = [
            "Weigh out the materials, label every jar, and look that all the equipment is there "
            "and clean."
        ]
        if len(self.ready) == 1:
            said.append(f"Step {self.ready[0]} may be done then too.")
        elif self.ready:
            steps = listed(self.ready)
            said.append(f"Steps {steps} may be done then too: no fibre is wanted for them.")
        return tuple((text,) for text in said)


def before(telling: Telling) -> Before:
    """What the timetable, the flow and the trace tell about a plan's time."""
    ready = tuple(_ready(telling))
    taken = time_taken(telling.plan)
    if isinstance(taken, str):
        return Before(ZERO, (), ready, (names_as_words(telling.plan, taken),))
    titles = titles_followed(telling)
    turns = turns_of(telling)
    days = tuple(_day(telling, taken, each, titles, turns) for each in taken.days)
    work = Fraction(taken.hands_on)
    begins = {node: day for node, (day, _) in taken.begins.items()}
    nights = tuple(_nights(telling, begins))
    said = tuple(names_as_words(telling.plan, text) for text in taken.sentences)
    at_steps = said_at_steps(telling, begins)
    return Before(Interval(work, work), days, ready, said, nights, taken.whose, at_steps)


def lots_named(telling: Telling) -> Callable[[str], str]:
    """What gives a lot's printed name, with its article, from what its writer calls it."""
    called = {telling.plan.study.called(lot): lot for lot in telling.plan.flow.lots}

    def the(name: str) -> str:
        return plain_text(telling.the(called.get(name, name)), telling.voice)

    return the


def turns_of(telling: Telling) -> dict[int, str]:
    """The values of a ``for each`` that nodes are done for, by the nodes, as papers say them."""
    found: dict[int, str] = {}
    for node in telling.plan.flow.nodes:
        if node.kind == "for" and isinstance(node.step, Block):
            inner = [one for one in node.inner if one.kind != "end"]
            values = [value.name.text for value in node.step.values if value.name is not None]
            count = len(inner) // len(values) if values else 0
            for at, one in enumerate(inner if count else ()):
                said = spaced(values[min(at // count, len(values) - 1)])
                for each in _and_within(one):
                    found.setdefault(each.id, said)  # within another, the outer one tells more
    return found


def _and_within(node: FlowNode) -> Iterator[FlowNode]:
    yield node
    for one in node.inner:
        yield from _and_within(one)


def _nights(telling: Telling, begins: dict[int, int]) -> Iterator[str]:
    """What is to be minded of each bath that harms and stands a night."""
    out: dict[str, dict[str, None]] = {}
    pots: dict[str, str] = {}
    for one in over_night(telling.plan, begins):
        said = plain_text(to_take_out(telling, one), telling.voice)
        pots[one.bath] = one.left.pot
        out.setdefault(one.bath, {}).update({said: None} if said else {})
    for bath in stand_a_night(telling.plan, begins):
        lid = cover_of(telling.plan, pots.get(bath, ""))
        stands = f"The {telling.name(bath).text} stands over a night: {lid}, a label on it, "
        taken = listed(list(out.get(bath, ())))
        plant = f" {taken[:1].upper()}{taken[1:]} of it before you go, hot if need be."
        yield f"{stands}out of reach.{plant if taken else ''}"


def _day(
    telling: Telling, taken: Taking, day: DayTaken, titles: dict[str, str], turns: dict[int, str]
) -> WorkingDay:
    numbers = [telling.numbers[each] for each in day.nodes if each in telling.numbers]
    minutes = Fraction(day.hands_on)
    return WorkingDay(
        numbers[0] if numbers else "",
        numbers[-1] if numbers else "",
        (day.number, day.number),
        Interval(minutes, minutes),
        day_in_words(taken, day, telling.numbers, titles, lots_named(telling), turns),
    )


def _ready(telling: Telling) -> list[str]:
    """Top steps that touch no fibre and wait only for such steps: good for the day before."""
    flow = telling.plan.flow
    top = {node.id: node for node in flow.top if node.kind == "step"}
    behind: dict[int, set[int]] = {}
    for edge in flow.edges:
        behind.setdefault(edge.after, set()).add(edge.before)
    free: set[int] = set()
    # Baths are left for the day: they would be cold by then (common practice).
    hidden = {node.id for node in flow.nodes if _hides_fibre(node)}
    for number, node in top.items():
        if not node.does.ahead or number in hidden or _spoils(telling, node):
            continue
        if behind.get(number, set()) <= free:
            free.add(number)
    return [telling.numbers[number] for number in sorted(free)]


def _spoils(telling: Telling, node: FlowNode) -> bool:
    """True for what loses its strength overnight, or does harm where it lies about.

    A reducer in water, tin in water, and a poison that has been made small (common practice); a
    plant that spoils where it lies, such as walnut husks (its source is in ``troubles.csv``).
    """
    if node.does.gathers:
        return any(
            _must_be_fresh(telling, node, item) for item in getattr(node.step, "objects", ())
        )
    for moment in telling.moments.get(node.id, []):
        for thing, _, _ in moment.amounts:
            found = telling.plan.flow.materials.get(thing)
            if found is None:
                continue
            tin = found[0].entry is not None and found[0].entry.facts.get("metal") == "tin"
            if tin or "reducer" in found[0].roles or hazards(found[0]):
                return True
    return False


def _must_be_fresh(telling: Telling, node: FlowNode, item: Item) -> bool:
    named = item.name.text if item.name is not None else ""
    found = telling.plan.flow.materials.get(node.names.get(named, named))
    if found is None or found[0].entry is None or found[0].state != "fresh":
        return False
    return found[0].entry.name in spoil_when_kept()


def _hides_fibre(node: FlowNode) -> bool:
    return bool(node.lots or node.present or node.left)
