"""What is written in a record and can hardly be: a weight, a day, a time of no such batch.

Each is told as a warning and kept as it is written, since only the dyer knows what was meant.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from fractions import Fraction

from procedure.batch.times_taken import ends_too_soon
from procedure.batch.types import Record, Result, StepDone, Used, Value
from procedure.findings import Count, Says, say
from procedure.model.quantity import Place, Quantity
from procedure.quantity.record import NamedTuple
from procedure.quantity.rounding import two_figures

# Dry fibre takes up far less than half its weight of dye and mordant, and raw fleece loses no
# more than three quarters of it in the scour (common practice).
HEAVIER, LIGHTER = Fraction(3, 2), Fraction(1, 4)


class Unlikely(NamedTuple):
    """Something that can hardly be: where it is written, what is odd, and what to look at."""

    place: Place
    says: Says
    remedy: Says


def unlikely(record: Record) -> Iterator[Unlikely]:
    """All that can hardly be as it is written, in the order of a record."""
    first = record.begun
    for used in (*record.lots, *record.materials):
        if first is not None and used.harvested is not None and used.harvested > first:
            yield _harvested(used, first)
    for step in record.steps:
        yield from _of_step(step, first)
    for result in record.results:
        before = _before(record, result.lot)
        if before:
            yield from _weight(result, before)
        yield from _tests(result, first)


def _day(day: date) -> str:
    return day.isoformat()


def _harvested(used: Used, first: date) -> Unlikely:
    assert used.harvested is not None
    return Unlikely(
        used.place,
        say(
            "“{name}” was harvested on {day}, and the batch was begun on {first}.",
            name=used.name, day=_day(used.harvested), first=_day(first),
        ),
        say("Look at the two days again."),
    )  # fmt: skip


def _of_step(step: StepDone, first: date | None) -> Iterator[Unlikely]:
    if ends_too_soon(step):
        assert step.begun is not None and step.ended is not None
        yield Unlikely(
            step.place,
            say(
                "The step ends at {ended}, before it begins at {begun}.",
                ended=step.ended[1].strftime("%H:%M"), begun=step.begun[1].strftime("%H:%M"),
            ),
            say("If it ended on the next day, write the days too: {days}.", days=_DAYS),
        )  # fmt: skip
    days = [moment[0] for moment in (step.begun, step.ended) if moment is not None]
    early = next((day for day in days if day and first and day < first), None)
    if early is not None and first is not None:
        yield Unlikely(
            step.place,
            say(
                "The step is on {day}, and the batch was begun on {first}.",
                day=_day(early), first=_day(first),
            ),
            say("Look at the two days again."),
        )  # fmt: skip


_DAYS = "begun 2026-04-18 21:30 and ended 2026-04-19 08:00"


def _before(record: Record, name: str) -> Fraction | None:
    """What a lot weighed before it was dyed, in grams: by itself, or as a part of a split."""
    lot = next((one for one in record.lots if one.name == name), None)
    if lot is not None:
        return _grams(lot.amount) or _grams(lot.planned)
    parts = [answer for step in record.steps if (answer := step.answer("with", name)) is not None]
    return next((_grams(one.done) or _grams(one.planned) for one in parts), None)


def _weight(result: Result, before: Fraction) -> Iterator[Unlikely]:
    """A finished lot that is heavier or lighter than its dry fibre can be."""
    after = _grams(result.weight)
    if not after or LIGHTER <= after / before <= HEAVIER:
        return
    assert isinstance(result.weight, Quantity)
    share = after / before
    yield Unlikely(
        result.weight.place,
        say(
            "“{lot}” weighs {weight}, {times} times what it weighed before.",
            lot=result.lot,
            weight=result.weight.text,
            times=Count(two_figures(share)),
        ),
        say("Look at the unit, and weigh it when it is dry."),
    )


def _grams(value: Value) -> Fraction | None:
    if not isinstance(value, Quantity) or value.kind != "mass":
        return None
    return None if value.low is None or value.high is None else (value.low + value.high) / 2


def _tests(result: Result, first: date | None) -> Iterator[Unlikely]:
    if first is None:
        return
    tests = [(one.place, one.begun, "light") for one in result.lights]
    tests += [(one.place, one.day, "wash") for one in result.washes]
    for place, day, kind in tests:
        if day is not None and day < first:
            yield Unlikely(
                place,
                say(
                    "The {kind} test is of {day}, and the batch was begun on {first}.",
                    kind=kind, day=_day(day), first=_day(first),
                ),
                say("Look at the two days again."),
            )  # fmt: skip
