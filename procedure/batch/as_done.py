"""The procedure as it was done: its text with what a record says in place of what was planned.

Nothing is written to any file. Lines keep their numbers, so that what the rules say of what
was done is at the step that it is about.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from procedure.batch.changed_since import Matched
from procedure.batch.heat_series import hottest
from procedure.batch.side_of_form import FormBlank, PlannedStep
from procedure.batch.types import Answer, HeatReading, Record, StepDone
from procedure.findings import Edit, Finding, Says, say
from procedure.model.quantity import Place, Quantity
from procedure.model.types import Lot
from procedure.pipeline import Judged
from procedure.quantity.number_words import plain, ranged
from procedure.quantity.record import NamedTuple
from procedure.rework.mend import edited

# What holds the weight of a lot against its parts, and says nothing where only the lot was weighed.
_OF_PARTS = frozenset(("split-does-not-add-up",))
# Rules that speak of how a procedure is written, and say nothing of a day's work. A thermometer
# in °F beside a plan in °C is none of its faults; the deviation says how far apart they are.
_OF_WRITING = frozenset(("never-used", "useless-allow", "heat-in-other-scale"))


class AsDone(NamedTuple):
    """The text as it was done, and what of the record could not be put into it."""

    text: str
    left_out: tuple[Says, ...]


def as_done(
    plan: Judged,
    record: Record,
    matched: Matched,
    logs: Mapping[str, Sequence[HeatReading]] | None = None,
) -> AsDone:
    """Put what a record says was done into the text of its procedure.

    ``logs`` are readings of loggers by step. Where a step's heat was left blank and a
    thermometer was read, its hottest reading is taken.
    """
    edits: list[Edit] = []
    gone: list[int] = []
    left: list[Says] = []
    answered: dict[int, tuple[object, ...]] = {}
    for done, step in matched.pairs:
        if step is not None and step.line and not done.added:
            said = (done.skipped is None, *(one.done for one in done.answers if one.done))
            if answered.setdefault(step.line, said) != said:
                left.append(
                    say(
                        "Step {number} was done in another way for each lot; the rules look at "
                        "the first of them.",
                        number=done.number,
                    )
                )
                continue
        if done.added:
            left.append(
                say("“{step}” was done besides; the rules do not look at it.", step=done.words)
            )
        elif step is None or not step.line:
            if step is not None:
                left.append(
                    say(
                        "Step {number} is of a file that is followed; it is left as planned.",
                        number=step.number,
                    )
                )
        elif done.skipped is not None:
            gone.append(step.line)
        else:
            edits += _edits(plan.text, done, step, gone)
            series = (logs or {}).get(done.number) or done.heats
            heated = list(_hottest(plan.text, done, step, series))
            edits += heated
            if heated:
                left.append(
                    say(
                        "Step {number}: its heat is taken from the thermometer, at its hottest.",
                        number=done.number,
                    )
                )
    edits += _weights(plan, record, left)
    text = edited(plan.text, _apart(edits))
    return AsDone(_without(text, gone), tuple(dict.fromkeys(left)))


def _edits(text: str, done: StepDone, step: PlannedStep, gone: list[int]) -> Iterator[Edit]:
    blanks = {(blank.word, blank.name): blank for blank in step.blanks}
    for answer in done.answers:
        blank = blanks.get((answer.word, answer.name))
        if blank is None or blank.place is None or answer.done is None:
            continue
        if answer.word == "taken":
            if str(answer.done).casefold() == "no":
                gone.append(step.line)
            else:
                yield from _first(text, step.line, r'if\s+(?:"[^"]*"|“[^”]*”)', "repeat 1 times")
        elif answer.word == "times":
            if isinstance(answer.done, Quantity):
                until = r"repeat\s+(?:(?!times|until)\S+\s+)*(?:times|(?=until))"
                yield from _first(text, step.line, until, f"repeat {answer.done.text} times ")
        else:
            yield from _amount(text, answer, blank)


def _hottest(
    text: str, done: StepDone, step: PlannedStep, series: Sequence[HeatReading]
) -> Iterator[Edit]:
    if not series:
        return
    for blank in step.blanks:
        answer = done.answer(blank.word)
        if blank.word in ("to", "at") and blank.kind == "temperature" and blank.place is not None:
            if answer is None or answer.done is None:
                place = blank.place
                heat = f"{plain(hottest(series).heat)} °C"
                yield Edit(place.line, place.column, _end(text, place), heat)
            return


def _amount(text: str, answer: Answer, blank: FormBlank) -> Iterator[Edit]:
    done, place = answer.done, blank.place
    assert place is not None
    if not isinstance(done, Quantity) or done.kind in ("unstated", "loose", "number"):
        return
    named_wait = blank.word == "for" and not any(mark.isdigit() for mark in blank.text)
    said = f"for {done.text}" if named_wait else done.text
    yield Edit(place.line, place.column, _end(text, place), said)


def _end(text: str, place: Place) -> int:
    """The column after a quantity, with the bracket that closes its second reading."""
    line = _lines(text)[place.line - 1]
    inside = "(" in line[place.column - 1 : place.to - 1]
    closed = re.match(r"\s*\)", line[place.to - 1 :])
    return place.to + closed.end() if inside and closed else place.to


def _first(text: str, line: int, pattern: str, new: str) -> Iterator[Edit]:
    lines = _lines(text)
    found = re.search(pattern, lines[line - 1]) if line <= len(lines) else None
    if found is not None:
        yield Edit(line, found.start() + 1, found.end() + 1, new)


def _weights(plan: Judged, record: Record, left: list[Says]) -> Iterator[Edit]:
    """Each lot's weight; where the procedure says that of one piece, the share of a piece."""
    for used in record.lots:
        lot = plan.model.lots.get(used.name)
        if lot is None or lot.weight is None or not isinstance(used.amount, Quantity):
            continue
        if used.amount.kind != "mass":
            continue
        pieces = _pieces(lot)
        if pieces is None:
            left.append(
                say(
                    "How many pieces “{lot}” has is not one number; its weight is left as planned.",
                    lot=lot.name.text,
                )
            )
            continue
        place = lot.weight.place
        said = _weight_of_one(used.amount, pieces)
        yield Edit(place.line, place.column, _end(plan.text, place), said)


def _pieces(lot: Lot) -> Fraction | None:
    """By how many a lot's weight is divided where it is written: 1 where the whole is; None
    where the number of its pieces is no single one."""
    if lot.pieces is None or lot.pieces.each is None:
        return Fraction(1)
    low, high = lot.pieces.low, lot.pieces.high
    return low if low is not None and low > 0 and low == high else None


def _weight_of_one(whole: Quantity, pieces: Fraction) -> str:
    """The weight of a piece in the unit in which the whole is written."""
    if pieces == 1 and whole.each is None:
        return whole.text
    assert whole.low is not None and whole.high is not None
    unit = whole.unit
    holds, name = (unit.factor, unit.name) if unit is not None else (Fraction(1), "g")
    ends = (plain(end / pieces / holds, 6) for end in (whole.low, whole.high))
    return f"{ranged(*ends)} {name}"


def _apart(edits: list[Edit]) -> list[Edit]:
    """The edits that do not touch one another; the first by place stays."""
    kept: list[Edit] = []
    for edit in sorted(edits):
        if not kept or kept[-1].line != edit.line or kept[-1].to <= edit.column:
            kept.append(edit)
    return kept


def _lines(text: str) -> list[str]:
    return text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n").split("\n")


def _without(text: str, gone: list[int]) -> str:
    """The text with some lines and what is deeper below them made blank."""
    lines = _lines(text)
    for start in gone:
        depth = _depth(lines[start - 1])
        for at in range(start - 1, len(lines)):
            line = lines[at]
            told = line.strip() and not line.lstrip().startswith("#")
            if at >= start and told and _depth(line) <= depth:
                break
            lines[at] = ""
    return "\n".join(lines)


def _depth(line: str) -> int:
    margin = line[: len(line) - len(line.lstrip())]
    return len(margin.expandtabs(4))


def new_findings(
    planned: tuple[Finding, ...], done: tuple[Finding, ...], record: Record
) -> tuple[Finding, ...]:
    """What the rules say of what was done and did not say of what was planned."""
    known = {_what_and_where(one) for one in planned}
    silent = _OF_WRITING if _parts_weighed(record) else _OF_WRITING | _OF_PARTS
    return tuple(
        one for one in done if _what_and_where(one) not in known and one.rule not in silent
    )


def _parts_weighed(record: Record) -> bool:
    """True where the record says what a part of a lot that was split weighed."""
    lots = {result.lot for result in record.results}
    return any(
        answer.name in lots and answer.done is not None
        for step in record.steps
        for answer in step.answers
    )


def _what_and_where(one: Finding) -> tuple[str, str, int, str]:
    return one.rule, one.key or one.file, one.line, one.level
