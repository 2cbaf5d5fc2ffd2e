"""What a record says has happened, for the timetable: when each step began and ended."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, time, tzinfo

from procedure.batch.changed_since import match
from procedure.batch.from_plan import planned_batch
from procedure.batch.types import Record, StepDone
from procedure.pipeline import Judged
from procedure.timetable.terms import Happened
from procedure.timetable.written_out import Turn, unrolled


class OfAnother(ValueError):
    """A record is of another procedure; a plain sentence."""


def happened(
    plan: Judged, record: Record, zone: tzinfo | None = None
) -> tuple[tuple[Happened, ...], tuple[str, ...]]:
    """The steps of a plan that a record gives a time for, by the key of the timetable.

    With them come sentences on steps of the record that are in the procedure no longer. All
    passes of a repeat are done with their step. A time without a day is on the record's first
    day. What was left out is over when the step before it was: nobody does it any more.

    Raises :class:`OfAnother` where the record is of another procedure altogether.
    """
    first = record.begun or record.ended
    by_number: dict[str, list[Turn]] = {}
    steps, gone = _as_numbered_now(plan, record)
    begun = [each.number for each in steps if each.begun or each.ended]
    for turn in unrolled(plan, happened=begun).turns:
        by_number.setdefault(_number(turn), []).append(turn)
    return tuple(_happened(steps, by_number, first, zone)), gone


def _as_numbered_now(plan: Judged, record: Record) -> tuple[tuple[StepDone, ...], tuple[str, ...]]:
    """The steps of a record with the numbers that they have in the procedure as it is now.

    They are known by what they mean; by their number only where the record is of this very text,
    or says of no text that it is of.
    """
    planned = planned_batch(plan)
    matched = match(record, planned)
    if matched.other:
        own = f"“{record.titled or record.title}”"
        if record.titled == planned.title or not planned.title:
            raise OfAnother(
                f"Hardly a step of the record {own} is in this procedure, so nothing here is known "
                "to be done; give the record that was made from this procedure."
            )
        raise OfAnother(
            f"The record is of {own}, and this procedure is “{planned.title}”, so nothing here is "
            "known to be done; give the record that was made from this procedure."
        )
    taken = {step.number for _, step in matched.pairs if step is not None}
    found, gone = [], []
    for done, step in matched.pairs:
        if step is not None:
            found.append(done._replace(number=step.number))
        elif done.added or not (done.begun or done.ended or done.skipped is not None):
            continue
        elif matched.changed or done.number in taken:
            gone.append(
                f"Step {done.number} “{done.words}” of the record is not in the procedure any "
                "more; nothing is taken as done by it."
            )
        else:
            found.append(done)
    return tuple(found), tuple(gone)


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
