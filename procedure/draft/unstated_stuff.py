"""Stuff that a bath holds unstated, where the prose has its amount in another place."""

from __future__ import annotations

from collections.abc import Iterator

from procedure.draft.amount import Amount
from procedure.draft.course import Course, called_in_draft, plain_name
from procedure.draft.plausible import may_measure
from procedure.draft.sentences import Sentence
from procedure.draft.things import Thing
from procedure.draft.unsettled_steps import Brought, Step

MEASURES = frozenset(("mass", "volume", "spoon", "share", "count", "relative", "odd"))


def give_what_is_said_elsewhere(course: Course) -> None:
    """Give each material that is brought unstated the one amount that the prose has of it.

    "Chop the weld ... you want 200 g of it": where nothing else brings the material, and no
    other amount of it is left over, the two are of one thing. Of water, which every bath
    holds, only an amount counts that the sentence itself has, and brings to no other bath.
    """
    over = list(_left_over(course))
    for step in course.steps:
        for one in step.brought:
            if one.amounts:
                continue
            if one.name == "water":
                found = _of_this_sentence(course, step, over)
            elif _is_brought_once(course, one):
                found = [a for a, thing, _ in over if _name(thing) == one.name]
            else:
                continue
            if len(found) == 1 and may_measure(found[0], one.name):
                one.amounts = (course.resolved(found[0], None),)
                course.used.add(found[0].start)
                over = [each for each in over if each[0] is not found[0]]


def _left_over(course: Course) -> Iterator[tuple[Amount, Thing, Sentence]]:
    for sentence in course.told:
        if sentence.words.rstrip(")\"' ").endswith("?") or course.is_quoted(sentence):
            continue
        for part in sentence.parts:
            for amount in part.amounts:
                of = sentence.of.get(amount.start)
                fits = amount.kind in MEASURES and not amount.base
                apart = amount.start in course.used or amount.start in course.for_each
                if of is not None and fits and not apart:
                    yield amount, of, sentence


def _name(thing: Thing) -> str:
    return "water" if thing.kind == "water" else plain_name(called_in_draft(thing))


def _is_brought_once(course: Course, one: Brought) -> bool:
    every = [each for step in course.steps for each in step.brought if each.name == one.name]
    return len(every) == 1


def _of_this_sentence(
    course: Course, step: Step, over: list[tuple[Amount, Thing, Sentence]]
) -> list[Amount]:
    here = [one for one in course.steps if one.sentence == step.sentence]
    waters = [each for one in here for each in one.brought if each.name == "water"]
    if len(waters) != 1:
        return []
    return [
        amount
        for amount, thing, sentence in over
        if thing.kind == "water" and sentence.number == step.sentence
    ]
