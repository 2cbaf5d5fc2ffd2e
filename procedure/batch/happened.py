"""What a record says has happened, for the timetable: when each step began and ended."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, time, tzinfo

from procedure.batch.types import Record, StepDone
from procedure.pipeline import Judged
from procedure.timetable.terms import Happened
from procedure.timetable.written_out import Turn, unrolled


def happened(plan: Judged, record: Record, zone: tzinfo | None = None) -> tuple[Happened, ...]:
    """The steps of a plan that a record gives a time for, by the key of the timetable.

    A record's step is found by the number that the handout prints; all passes of a repeat
    are done with it. A time without a day is on the record's first day. What was left out is over
    when the step before it was: nobody does it any more.
    """
    first = record.begun or record.ended
    by_number: dict[str, list[Turn]] = {}
    begun = [each.number for each in record.steps if each.begun or each.ended]
    for turn in unrolled(plan, happened=begun).turns:
        by_number.setdefault(_number(turn), []).append(turn)
    return tuple(_happened(record.steps, by_number, first, zone))


def _number(turn: Turn) -> str:
    calls = [call.step.number for call in turn.node.calls]
    return ".".join(str(each) for each in (*calls, turn.node.step.number))


def _happened(
    steps: tuple[StepDone, ...],
    by_number: dict[str, list[Turn]],
    first: date | None,
    zone: tzinfo | None,
) -> Iterator[Happened]:
    times = [(_moment(each.begun, first, zone), _moment(each.ended, first, zone)) for each in steps]
    since = min((m for pair in times for m in pair if m is not None), default=None)
    for done, (began, ended) in zip(steps, times, strict=True):
        since = ended or began or since
        turns = by_number.get(done.number, ())
        if done.skipped is not None and since is not None:
            yield from (Happened(turn.key, since, since, left_out=True) for turn in turns)
        elif began is not None or ended is not None:
            yield from (Happened(turn.key, ended, began) for turn in turns)


def _moment(
    said: tuple[date | None, time] | None, first: date | None, zone: tzinfo | None
) -> datetime | None:
    day = said[0] or first if said is not None else None
    return datetime.combine(day, said[1], zone) if said is not None and day is not None else None
