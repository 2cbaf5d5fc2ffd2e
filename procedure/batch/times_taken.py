"""How long a step took by the clock, beside how long it was to take."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date as day_of
from datetime import datetime
from fractions import Fraction

from procedure.batch.types import Answer, StepDone
from procedure.findings import Says, Span, say
from procedure.model.quantity import Quantity
from procedure.quantity.day import A_DAY
from procedure.quantity.interval import ENDLESS
from procedure.quantity.record import NamedTuple

DAY = Fraction(A_DAY)
# Without their days, an end that is earlier by the clock is of the next day; a step that would
# then have taken longer than this was written down wrong (common practice: nobody stands at a
# pot so long), unless it was planned so long.
LONGEST = Fraction(12 * 60)
# Clauses that say how long a step takes: to warm, and to stay.
LASTS = ("over", "for")
# So much shorter than it is said to have lasted is a slip of the clock, and no rounding.
SLIP = Fraction(9, 10)


class AgainstClock(NamedTuple):
    """What the clock says against a step: ``by`` minutes of the ``of`` that were meant."""

    by: Fraction
    of: Fraction
    says: Says


def taken(step: StepDone) -> Fraction | None:
    """Minutes from the beginning of a step to its end; None where either is not written down,
    or the end is before the beginning.

    Where not both have their days, the end is within a day of the beginning.
    """
    if step.begun is None or step.ended is None:
        return None
    (first, began), (last, ended) = step.begun, step.ended
    base = day_of(2000, 1, 1)
    dated = first is not None and last is not None
    start = datetime.combine(first if dated and first else base, began)
    end = datetime.combine(last if dated and last else base, ended)
    minutes = Fraction(int((end - start).total_seconds()), 60)
    if dated:
        return minutes if minutes >= 0 else None
    return minutes % DAY


def ends_too_soon(step: StepDone) -> bool:
    """True where a step can only have ended before it began, since its days are not said."""
    if step.begun is None or step.ended is None or (step.begun[0] and step.ended[0]):
        return False
    minutes = taken(step)
    most = _most(step)
    return (
        minutes is not None
        and step.ended[1] < step.begun[1]
        and minutes > max(LONGEST, most * 3 / 2)
    )


def _most(step: StepDone) -> Fraction:
    """How long a step may take by its plan, or by what is said of it; nothing where neither is."""
    found = [value for answer in _lasting(step) for value in (answer.planned, answer.done)]
    ends = [one.high for one in found if isinstance(one, Quantity) and one.high is not None]
    return sum(ends, Fraction(0))


def _lasting(step: StepDone) -> list[Answer]:
    return [answer for answer in step.answers if answer.word in LASTS]


def times_told(step: StepDone) -> Iterator[AgainstClock]:
    """What the clock says against what is said of a step, or against its plan.

    A bath that is heated without a time to heat it takes as long as it does: that it took
    longer is then no deviation.
    """
    minutes = taken(step)
    lasting = _lasting(step)
    if minutes is None or not lasting or ends_too_soon(step):
        return
    if any(isinstance(answer.done, Quantity) for answer in lasting):
        least = sum(_end(answer.done, True) for answer in lasting)
        if minutes < least * SLIP:
            yield AgainstClock(
                minutes - least,
                Fraction(least),
                say(
                    "From begun to ended is {clock}, and the step is said to have taken {said}.",
                    clock=Span(minutes),
                    said=Span(Fraction(least)),
                ),
            )
        return
    low = sum((_end(answer.planned, True) for answer in lasting), Fraction(0))
    high = sum((_end(answer.planned, False) for answer in lasting), Fraction(0))
    planned = Span(low, high if high != low else None)
    if not low:
        return
    if minutes < low:
        says = say(
            "From begun to ended took {clock}, planned {plan}: {far} shorter.",
            clock=Span(minutes), plan=planned, far=Span(low - minutes),
        )  # fmt: skip
        yield AgainstClock(minutes - low, low, says)
    elif minutes > high and high != ENDLESS and not _heats_as_it_will(step):
        says = say(
            "From begun to ended took {clock}, planned {plan}: {far} longer.",
            clock=Span(minutes), plan=planned, far=Span(minutes - high),
        )  # fmt: skip
        yield AgainstClock(minutes - high, high, says)


def _end(value: object, low: bool) -> Fraction:
    """An end of a time; nothing where it is none, and where the end is open."""
    if not isinstance(value, Quantity) or value.kind != "time":
        return Fraction(0)
    end = value.low if low else value.high
    return Fraction(0) if end is None else end


def _heats_as_it_will(step: StepDone) -> bool:
    """True for a step that goes to a heat without a word of how long that takes."""
    if any(answer.word == "over" for answer in step.answers):
        return False
    return any(
        answer.word in ("to", "at")
        and isinstance(answer.planned, Quantity)
        and answer.planned.kind == "temperature"
        for answer in step.answers
    )
