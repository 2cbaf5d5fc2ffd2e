"""A record of a procedure that has changed since: which of its steps are still there.

Steps are matched by what they mean (their verb and the things that they name) and by their
words, in order; a number alone proves nothing, because one new line moves them all.
"""

from __future__ import annotations

from collections.abc import Sequence
from difflib import SequenceMatcher
from fractions import Fraction

from procedure.batch.record_words import words_of
from procedure.batch.recorded_amounts import NotAnAmount, measured
from procedure.batch.side_of_form import FormBlank, PlannedBatch, PlannedStep, PlannedUse
from procedure.batch.types import Answer, Record, StepDone, Used
from procedure.findings import Says, listed, say
from procedure.model.quantity import Place, Quantity
from procedure.quantity.record import NamedTuple
from procedure.wording import said

# Two steps are alike from this share of their words on (common practice of comparing texts).
ALIKE = 0.72


# So many steps are named one by one; more are listed by their numbers.
_FEW = 3
# Where fewer of a record's steps than this are in the procedure, it is of another: any two have
# their rinsing and drying in common. Under the same title it must be very few (the project's
# choice).
OTHER_TITLE, SAME_TITLE = Fraction(3, 4), Fraction(1, 4)


class Match(NamedTuple):
    """A recorded step and the step of the procedure as it is now; None where there is none."""

    done: StepDone
    planned: PlannedStep | None


class Matched(NamedTuple):
    """All recorded steps with theirs; the steps that no record names; and what no longer fits.

    ``other`` where the record is of another procedure altogether, so that nothing of it can be
    held against this one; ``says`` then says that and nothing more.
    """

    pairs: tuple[Match, ...]
    missing: tuple[PlannedStep, ...]
    changed: bool
    says: tuple[Says, ...]
    other: bool = False

    @property
    def sentences(self) -> tuple[str, ...]:
        """What no longer fits, in words."""
        return tuple(said(one) for one in self.says)


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
    if _is_other(record, planned, pairs):
        return Matched(tuple(pairs), tuple(left), changed, (_other(record, planned),), other=True)
    says = _no_longer_fits(record, planned, pairs, left, changed)
    return Matched(tuple(pairs), tuple(left), changed, tuple(says))


def _is_other(record: Record, planned: PlannedBatch, pairs: Sequence[Match]) -> bool:
    """True where a record is of another procedure: by its title, and by its steps or materials."""
    if record.content == planned.content:
        return False
    named = [pair for pair in pairs if not pair.done.added]
    retitled = bool(record.titled and planned.title) and record.titled != planned.title
    if retitled and _strange_materials(record, planned):
        return True
    if not named:
        return retitled
    share = Fraction(sum(pair.planned is not None for pair in named), len(named))
    return share < (OTHER_TITLE if retitled else SAME_TITLE)


def _other(record: Record, planned: PlannedBatch) -> Says:
    if record.titled and planned.title and record.titled != planned.title:
        return say(
            "The record is of “{titled}”, and the procedure that it names is “{title}”: what was "
            "done could not be held against its plan, and the rules did not look at it. Put the "
            "right file after “of”.",
            titled=record.titled,
            title=planned.title,
        )
    return say(
        "Hardly a step of the record is in the procedure that it names: what was done could not "
        "be held against its plan, and the rules did not look at it. Look whether the file after "
        "“of” is the right one."
    )


def _no_longer_fits(
    record: Record,
    planned: PlannedBatch,
    pairs: Sequence[Match],
    left: Sequence[PlannedStep],
    changed: bool,
) -> list[Says]:
    says: list[Says] = []
    if changed and record.titled and planned.title and record.titled != planned.title:
        says.append(
            say(
                "The record is of “{titled}”, and the procedure that it names is “{title}”: look "
                "whether that is the right file.",
                titled=record.titled,
                title=planned.title,
            )
        )
    elif changed:
        says.append(say("The procedure has changed since this record was begun."))
    for done, step in pairs:
        if step is None and not done.added:
            gone = "no longer" if changed else "not"
            says.append(
                say(
                    "Step {number} “{step}” is {gone} in the procedure.",
                    number=done.number,
                    step=done.words,
                    gone=gone,
                )
            )
        elif step is not None:
            says += _blanks(done, step)
    says += _names(record, planned)
    if changed and len(left) <= _FEW:
        says += [
            say("Step {number} “{step}” is not in the record.", number=one.number, step=one.words)
            for one in left
        ]
    elif left:
        numbers = listed([step.number for step in left], last=", ")
        many = "steps" if len(left) > 1 else "step"
        says.append(say("The record has nothing of {many} {numbers}.", many=many, numbers=numbers))
    return says


def _names(record: Record, planned: PlannedBatch) -> list[Says]:
    """Lots and materials of a record that the procedure does not have."""
    lots = {lot.name for lot in planned.lots}
    strange = [one.name for one in record.lots if one.name not in lots]
    strange += [one.lot for one in record.results if one.lot not in {*lots, *planned.results}]
    says = [
        say("The procedure has no lot “{name}”.", name=name)
        for name in dict.fromkeys(strange)
        if name
    ]
    return says + [
        say("The procedure has no material “{name}”.", name=name)
        for name in _strange_materials(record, planned)
    ]


def _strange_materials(record: Record, planned: PlannedBatch) -> list[str]:
    """The materials of a record that the procedure does not have."""
    known = {one.name for one in (*planned.lots, *planned.materials)}
    for step in planned.steps:
        known |= {blank.name for blank in step.blanks if blank.word == "with"}
    return [one.name for one in record.materials if one.name not in known]


def _nearest(done: StepDone, left: list[PlannedStep]) -> PlannedStep | None:
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


def _means(done: StepDone, step: PlannedStep) -> bool:
    """True where a recorded step names the verb and one of the things of a planned one."""
    words = done.words.casefold()
    if step.verb and step.verb.casefold() not in words:
        return False
    return not step.things or any(thing.casefold() in words for thing in step.things)


def _blanks(done: StepDone, step: PlannedStep) -> list[Says]:
    known = {(blank.word, blank.name) for blank in step.blanks}
    gone = [one for one in done.answers if (one.word, one.name) not in known]
    return [
        say(
            "Step {number} “{step}” no longer asks for {what}.",
            number=step.number,
            step=step.words,
            what=f"{one.word} {one.name}".rstrip(),
        )
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
    ends = (found.low, found.high)
    return used._replace(planned=_as_written(found.kind, ends, found.text, used.place))


def _planned(answer: Answer, step: PlannedStep) -> Answer:
    if answer.planned is not None:
        return answer
    asked = (answer.word, answer.name)
    blank = next((one for one in step.blanks if (one.word, one.name) == asked), None)
    return answer if blank is None else answer._replace(planned=_amount(blank, answer))


def _amount(blank: FormBlank, answer: Answer) -> Quantity | None:
    """The planned amount of a blank; None where it is no number."""
    if blank.low is None and blank.high is None:
        return None
    return _as_written(
        "number" if blank.kind == "count" else blank.kind,
        (blank.low, blank.high),
        blank.text,
        answer.place,
    )


def _as_written(
    kind: str, ends: tuple[Fraction | None, Fraction | None], text: str, place: Place
) -> Quantity:
    """A planned amount as its text says it, so that what is rounded there is no deviation."""
    try:
        read = measured([token._replace(line=1) for token in words_of(text, 1)[0]])
    except (NotAnAmount, IndexError):
        return Quantity(kind, *ends, text, place)
    if read.kind != kind:
        return Quantity(kind, *ends, text, place)
    return read._replace(text=text, place=place)
