"""An amount that comes after what it measures was named: "Now the alum. Three ounces"."""

from __future__ import annotations

import re

from procedure.draft.amount import Amount
from procedure.draft.course import Course
from procedure.draft.of_each import EACH
from procedure.draft.sentences import Sentence
from procedure.draft.things import Thing

MEASURES = frozenset(("mass", "share", "spoon"))
STUFF = frozenset(("material", "part"))
# What may stand before the amount at the head of its sentence.
LEADS = re.compile(
    r"[\W\d]*(?:(?:i|we|you|so|and|that|this|it|they|there|allow|use|used|take|took|need|weighed?|weighs?|want|have|had"
    r"|about|some|say|is|are|was|were|of|came|comes?|to|only|just|roughly|nearly|all|in|here|let's|lets|mine|for|example)\b\W*)*",
    re.I,
)
# Between a thing and its amount in one sentence: "eucalyptus, fallen ones will do: 450 g".
BEHIND = re.compile(
    r"(?:[^.;:!?]{0,40}:|\s+instead,|[^.;:!?]{0,100}\bfull\s*,|[^.;:!?]{0,100}\b(?:they|it|which|that|these|those|all)\s+(?:came|comes?|weigh(?:s|ed)|made)"
    r"(?:\s+up)?(?:\s+to)?)\s*(?:about\s+|some\s+|nearly\s+|just\s+)?",
    re.I,
)


OF_ALL = re.compile(r"(?:every|each|the|per|for)\b", re.I)  # what other amounts are for
WEIGHS = re.compile(r"\bweigh\b", re.I)


def with_what_is_spoken_of(course: Course, sentence: Sentence) -> Sentence:
    """The sentence with its first amount as one of the thing just named, if only that is meant."""
    spoken, course.spoken_of = course.spoken_of, None
    both, course.spoken_together = course.spoken_together, ()
    every = [amount for part in sentence.parts for amount in part.amounts]
    things = [thing for part in sentence.parts for thing in part.things]
    free = [one for one in every if one.kind in MEASURES and sentence.of.get(one.start) is None]
    measured = {thing.start for thing in sentence.of.values()}
    unmeasured = [one for one in things if one.kind in STUFF and one.start not in measured]
    if not free or free[0].each or free[0].base or OF_ALL.match(free[0].words):
        course.spoken_of = _named(sentence, unmeasured, every)
        course.spoken_together = _named_together(things, every)
        return sentence
    first = free[0]
    before = [one for one in things if one.end <= first.start]
    if not before:
        lead = course.text[sentence.start : first.start]
        if EACH.match(course.text, first.end):
            return _given_each(sentence, first, both) if LEADS.fullmatch(lead) else sentence
        return _given(sentence, first, spoken) if spoken and LEADS.fullmatch(lead) else sentence
    stuff = [one for one in things if one.kind in STUFF]
    plants = [one for one in stuff if one.kind == "material"] or stuff  # "weld, stalks will do"
    if len(plants) != 1 or plants[0] not in unmeasured or stuff[0] is not plants[0]:
        return sentence
    taken = any(one.kind in MEASURES and one.end <= first.start for one in every)
    if BEHIND.fullmatch(course.text[plants[0].end : first.start]) and not taken:
        return _given(sentence, first, plants[0])
    return sentence


def _named(sentence: Sentence, unmeasured: list[Thing], every: list[Amount]) -> Thing | None:
    """The one thing that a sentence without any measure of stuff names; None for more or none."""
    if WEIGHS.search(sentence.words) and not unmeasured:
        unmeasured = [t for part in sentence.parts for t in part.things if t.kind == "fibre"]
    plants = [one for one in unmeasured if one.kind == "material"]
    unmeasured = plants if len(plants) == 1 else unmeasured  # "sumac leaf" is sumac
    names = {one.name for one in unmeasured}
    if len(names) != 1 or any(one.kind in (*MEASURES, "volume", "ratio", "time") for one in every):
        return None
    return unmeasured[-1]


def _named_together(things: list[Thing], every: list[Amount]) -> tuple[Thing, ...]:
    """The one fibre and the one stuff that a sentence without any measure names; else none."""
    if any(one.kind in (*MEASURES, "volume", "ratio", "time") for one in every):
        return ()
    here = {one.name: one for one in things if one.kind in ("material", "fibre")}
    kinds = sorted(one.kind for one in here.values())
    return tuple(here.values()) if kinds == ["fibre", "material"] else ()


def _given_each(sentence: Sentence, amount: Amount, things: tuple[Thing, ...]) -> Sentence:
    """The sentence in which an amount measures each of several things: "Two pounds of each."."""
    for index, thing in enumerate(things):
        one = amount._replace(start=amount.start + index, each=False)
        part = next(part for part in sentence.parts if amount in part.amounts)
        added = part._replace(amounts=(*part.amounts, one)) if index else part
        sentence = sentence._replace(
            parts=tuple(added if each is part else each for each in sentence.parts)
        )
        sentence = _given(sentence, one, thing)
    return sentence


def _given(sentence: Sentence, amount: Amount, thing: Thing) -> Sentence:
    """The sentence in which an amount measures a thing that stands elsewhere."""
    here = thing._replace(start=amount.start, end=amount.start)
    parts = tuple(
        part._replace(things=(here, *part.things)) if amount in part.amounts else part
        for part in sentence.parts
    )
    return sentence._replace(of=sentence.of | {amount.start: here}, parts=parts)
