"""A record of a procedure that has changed since: which of its steps are still there.

Steps are matched by what they mean (their verb and the things that they name) and by their
words, in order; a number alone proves nothing, because one new line moves them all.
"""

from __future__ import annotations

from collections.abc import Sequence
from difflib import SequenceMatcher

from procedure.batch.side_of_form import Blank, PlannedBatch, PlannedStep, PlannedUse
from procedure.batch.types import Answer, Done, Record, Used
from procedure.model.quantity import Quantity
from procedure.quantity.record import NamedTuple

# Two steps are alike from this share of their words on (common practice of comparing texts).
ALIKE = 0.72


# So many steps are named one by one; more are listed by their numbers.
_FEW = 3


class Match(NamedTuple):
    """A recorded step and the step of the procedure as it is now; None where there is none."""

    done: Done
    planned: PlannedStep | None


class Matched(NamedTuple):
    """All recorded steps with theirs; the steps that no record names; and what no longer fits."""

    pairs: tuple[Match, ...]
    missing: tuple[PlannedStep, ...]
    changed: bool
    sentences: tuple[str, ...]


def match(record: Record, planned: PlannedBatch) -> Matched:
    """Match the steps of a record with those of a procedure, and say what no longer fits."""
    changed = bool(record.content) and record.content != planned.content
    left = list(planned.steps)
    others = list(planned.others)
    pairs: list[Match] = []
    for done in record.steps:
        found = None if done.added else _nearest(done, left)
        if found is not None:
            # What was passed over may still be named further down: order is kept where it can be.
            left.remove(found)
        elif not done.added and (found := _nearest(done, others)) is not None:
            others.remove(found)
        pairs.append(Match(done, found))
    sentences: list[str] = []
    if changed and record.titled and planned.title and record.titled != planned.title:
        sentences.append(
            f"The record is of “{record.titled}”, and the procedure that it names is "
            f"“{planned.title}”: look whether that is the right file."
        )
    elif changed:
        sentences.append("The procedure has changed since this record was begun.")
    for done, step in pairs:
        if step is None and not done.added:
            longer = "no longer" if changed else "not"
            sentences.append(f"Step {done.number} “{done.words}” is {longer} in the procedure.")
        elif step is not None:
            sentences += _blanks(done, step)
    sentences += _names(record, planned)
    if changed and len(left) <= _FEW:
        sentences += [f"Step {one.number} “{one.words}” is not in the record." for one in left]
    elif left:
        numbers = ", ".join(step.number for step in left)
        sentences.append(f"The record has nothing of step{'s' * (len(left) > 1)} {numbers}.")
    return Matched(tuple(pairs), tuple(left), changed, tuple(sentences))


def _names(record: Record, planned: PlannedBatch) -> list[str]:
    """Lots and materials of a record that the procedure does not have."""
    lots = {lot.name for lot in planned.lots}
    materials = {material.name for material in planned.materials}
    for step in planned.steps:
        materials |= {blank.name for blank in step.blanks if blank.word == "with"}
    strange = [one.name for one in record.lots if one.name not in lots]
    strange += [one.lot for one in record.results if one.lot not in {*lots, *planned.results}]
    sentences = [f"The procedure has no lot “{name}”." for name in dict.fromkeys(strange) if name]
    known = materials | lots
    return sentences + [
        f"The procedure has no material “{one.name}”."
        for one in record.materials
        if one.name not in known
    ]


def _nearest(done: Done, left: list[PlannedStep]) -> PlannedStep | None:
    """The step most alike; of those quite alike the one of the same number, then the first."""
    best: tuple[float, bool, PlannedStep] | None = None
    for step in left:
        score = SequenceMatcher(None, done.words.casefold(), step.words.casefold()).ratio()
        if score < ALIKE or not _means(done, step):
            continue
        same = step.number == done.number
        if best is None or (score, same) > best[:2]:
            best = (score, same, step)
    return None if best is None else best[2]


def _means(done: Done, step: PlannedStep) -> bool:
    """True where a recorded step names the verb and one of the things of a planned one."""
    words = done.words.casefold()
    if step.verb and step.verb.casefold() not in words:
        return False
    return not step.things or any(thing.casefold() in words for thing in step.things)


def _blanks(done: Done, step: PlannedStep) -> list[str]:
    known = {(blank.word, blank.name) for blank in step.blanks}
    gone = [one for one in done.answers if (one.word, one.name) not in known]
    return [
        f"Step {step.number} “{step.words}” no longer asks for {one.word} {one.name}".rstrip() + "."
        for one in gone
    ]


def with_plan(record: Record, matched: Matched, plan: PlannedBatch) -> Record:
    """A record with the procedure's plan beside each amount that was written without one.

    A procedure that has changed since is no plan of what was done before, and adds nothing.
    """
    if matched.changed:
        return record
    return record._replace(
        steps=tuple(
            done
            if step is None
            else done._replace(answers=tuple(_planned(one, step) for one in done.answers))
            for done, step in matched.pairs
        ),
        lots=tuple(_planned_use(one, plan.lots) for one in record.lots),
        materials=tuple(_planned_use(one, plan.materials) for one in record.materials),
    )


def _planned_use(used: Used, planned: Sequence[PlannedUse]) -> Used:
    """A lot or a material with the whole that the procedure takes, where the record says none."""
    found = next((one for one in planned if one.name == used.name), None)
    done = used.amount
    if used.planned is not None or found is None or not isinstance(done, Quantity):
        return used
    if not found.text or (found.low is None and found.high is None):
        return used
    return used._replace(
        planned=Quantity(found.kind, found.low, found.high, found.text, used.place)
    )


def _planned(answer: Answer, step: PlannedStep) -> Answer:
    if answer.planned is not None:
        return answer
    asked = (answer.word, answer.name)
    blank = next((one for one in step.blanks if (one.word, one.name) == asked), None)
    return answer if blank is None else answer._replace(planned=_amount(blank, answer))


def _amount(blank: Blank, answer: Answer) -> Quantity | None:
    """The planned amount of a blank; None where it is no number."""
    if blank.low is None and blank.high is None:
        return None
    kind = "number" if blank.kind == "count" else blank.kind
    return Quantity(kind, blank.low, blank.high, blank.text, answer.place)
