"""What the timetable is asked: by its options, else by the workshop file, else as is usual.

Every option is read by one reader, whose refusal quotes what was typed and proposes something that
it would take.
"""

from __future__ import annotations

import argparse
import re
from collections.abc import Callable, Iterator
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from procedure.command.main import CannotRun

if TYPE_CHECKING:
    from procedure.collection.opening_hours import Hours
    from procedure.collection.workshop import Opening
    from procedure.findings import Finding
    from procedure.pipeline import Judged
    from procedure.timetable.terms import Asked, Happened

T = TypeVar("T")
_MORNING, _EVENING = "09:00", "18:00"
_SOME_DAYS = timedelta(days=7)
_MOST_TOLD = 6


def what_is_asked(
    arguments: argparse.Namespace, plans: list[Judged]
) -> tuple[Asked, tuple[str, ...]]:
    """What is asked, and sentences on what was taken: a moment that comes twice, a record.

    Raises ``BadHours``, and ``CannotRun`` for a record that cannot be used.
    """
    from procedure.collection.opening import line_of, people_of
    from procedure.collection.workshop import Opening
    from procedure.timetable.terms import Asked

    here = next((p.study.workshop.opening for p in plans if p.study.workshop), Opening())
    moments = _Moments(arguments.zone if arguments.zone is not None else here.zone or None)
    moments.now = moments.read(arguments.now, "--now", moments.now, moments.now.date())
    recorded, remarks = _recorded(arguments, plans, moments.now)
    begins = _begins(arguments.start, moments, recorded)
    happened = (*recorded, *(_happened(x, begins, moments, plans) for x in arguments.done))
    if arguments.start is None and happened:
        begins = _first_day(begins, happened)
    finish = _finish(arguments.finish_by, moments, begins)
    if not happened and _minutes(moments.now, begins) < -1:
        said = arguments.start if arguments.start is not None else f"{begins:%Y-%m-%d %H:%M}"
        raise _refused(
            f"“{said}” has passed; begin later, or say what is --done",
            "--start",
            moments.some(_MORNING),
        )
    if arguments.now is not None and not happened:
        raise _refused(
            "With --now say what is --done, or give a --record; to begin", "--start",
            moments.some(_MORNING),
        )  # fmt: skip
    ends = [m for each in happened for m in (each.start, each.end) if m is not None]
    hours, said_hours = _hours(arguments, here)
    rings = _count(arguments.rings, "ring", "Without a ring nothing can be heated")
    sinks = _count(arguments.sinks, "sink", "Without a sink nothing can be poured away")
    asked = Asked(
        begins,
        hours,
        said_hours,
        finish,
        _option(arguments.hands, "--hands", "2", people_of) or here.people or ("you",),
        rings if rings is not None else here.rings,
        line_of(arguments.line) if arguments.line is not None else here.line,
        happened,
        max((*ends, _next_five(moments.now)), key=_instant) if ends else None,
        here.power,
        _option(arguments.participants, "--participants", _lots(plans), people_of) or (),
        _pots(arguments.pots, plans) if arguments.pots is not None else here.pots,
        sinks if sinks is not None else here.sinks,
    )
    return asked, (*moments.twice, *_taken_as_of_today(arguments, moments.now, begins), *remarks)


def _taken_as_of_today(
    arguments: argparse.Namespace, now: datetime, begins: datetime
) -> Iterator[str]:
    """That times without a day are read as of another day than that of --start."""
    from procedure.quantity.number_words import listed
    from procedure.timetable.planned_words import day_of

    if arguments.start is None or now.date() >= begins.date():
        return
    said = [("--done", each) for each in arguments.done]
    said += [("--now", arguments.now)] if arguments.now else []
    bare = [(option, each) for option, each in said if not _has_a_day(each)]
    if bare:
        time = bare[0][1].rpartition("=")[2].strip()
        yield (
            f"Taken as of {day_of(now)}, since --start is still to come: "
            f"{listed([f'{option} {quoted(each)}' for option, each in bare])}. If it was on the "
            f"day of --start, say the day with each, and --now: “{begins:%Y-%m-%d} {time}”."
        )


def _has_a_day(said: str) -> bool:
    return bool(re.search(r"\d{4}-\d\d-\d\d", said.rpartition("=")[2]))


class _Moments:
    """Reads moments in the zone of the plan, and keeps which of them come twice."""

    def __init__(self, zone: str | None) -> None:
        self.now = _present(zone)
        self.twice: list[str] = []

    def read(
        self, said: str | None, option: str, like: datetime, on: date | None = None, step: str = ""
    ) -> datetime:
        """The moment that is said for an option, else ``like``. Raises ``BadHours``.

        A time alone is one of the day ``on``. ``step`` is what comes before the moment.
        """
        from procedure.collection.opening_hours import BadHours
        from procedure.timetable.hours import comes_twice, moment_of

        if said is None:
            return like
        proposed = self.some(_MORNING) if on is None else f"{self.now:%H:%M}"
        try:
            found = moment_of(said, like, on, f"{option} {quoted(step + proposed)}")
        except BadHours as reason:
            raise BadHours(str(reason).replace(f"“{said}”", f"“{step}{said}”", 1)) from None
        told = comes_twice(said, found)
        if told:
            self.twice.append(told)
        return found

    def some(self, clock: str, after: datetime | None = None) -> str:
        """A moment that is still to come, to be proposed."""
        return f"{(after or self.now) + _SOME_DAYS:%Y-%m-%d} {clock}"


def quoted(said: str) -> str:
    """A value of an option as it is typed: between quotation marks where it has blanks."""
    return f'"{said}"' if " " in said else said


def _refused(why: str, option: str, proposed: str) -> Exception:
    from procedure.collection.opening_hours import BadHours

    return BadHours(f"{why}; write {option} {quoted(proposed)}, say.")


def _option(said: str | None, option: str, proposed: str, read: Callable[[str], T]) -> T | None:
    """An option as it is read, None where it is not given. Raises ``BadHours``."""
    from procedure.collection.opening_hours import BadHours

    if said is None:
        return None
    try:
        return read(said)
    except BadHours as reason:
        why = re.split("; (?:write|give) ", str(reason))[0].removesuffix(".")
        raise _refused(why, option, proposed) from None


def _lots(plans: list[Judged]) -> str:
    """Names of lots, as of people who work at their own."""
    lots = [plan.study.called(lot) for plan in plans for lot in plan.flow.lots]
    return ",".join(dict.fromkeys(lots[:2])) or "Ada,Bo"


def _minutes(since: datetime, until: datetime) -> int:
    from procedure.timetable.hours import minutes_between

    return minutes_between(since, until)


def _instant(moment: datetime) -> float:
    """Moments in the turn in which they come, those of a night when the clocks go back too."""
    return moment.timestamp()


def _finish(said: str | None, moments: _Moments, begins: datetime) -> datetime | None:
    from procedure.collection.opening_hours import BadHours

    if said is None:
        return None
    later = moments.some(_EVENING, begins)
    if ":" not in said and len(said.strip()) == len("2026-11-28"):
        try:
            date.fromisoformat(said.strip())
        except ValueError:
            pass
        else:
            said_day = f"“{said}” does not say by what time of that day"
            raise _refused(said_day, "--finish-by", f"{said.strip()} {_EVENING}")
    try:
        finish = moments.read(said, "--finish-by", begins)
    except BadHours as reason:
        if "no date with a time" not in str(reason):
            raise
        raise _refused(f"“{said}” is no date with a time", "--finish-by", later) from None
    if _minutes(begins, finish) <= 0:
        raise _refused(
            f"“{said}” is no later than {begins:%Y-%m-%d %H:%M}, when it begins: it would have to "
            "be finished before it begins",
            "--finish-by",
            later,
        )
    return finish


def _count(said: str | None, what: str, without: str) -> int | None:
    """How many rings or sinks there are, where that is said. Raises ``BadHours``."""
    from procedure.collection.opening import MOST_RINGS
    from procedure.collection.opening_hours import BadHours

    if said is None:
        return None
    count = int(said) if said.strip().isdecimal() else -1
    if count == 0:
        raise BadHours(f"{without}; give --{what}s 1 or more.")
    if not 1 <= count <= MOST_RINGS:
        raise BadHours(f"“{said}” is no number of {what}s from 1 to {MOST_RINGS}.")
    return count


def _pots(said: str, plans: list[Judged]) -> tuple[tuple[str, int], ...]:
    from procedure.collection.opening import pots_of

    found = pots_of(said)
    known = {
        plan.study.called(name): None
        for plan in plans
        for name, (pot, _) in plan.flow.pots.items()
        if pot.holds
    }
    for name, _ in found:
        if name not in known:
            raise CannotRun(f"No pot is called {name}; there are {', '.join(known)}.")
    return found


def _hours(arguments: argparse.Namespace, here: Opening) -> tuple[Hours, str]:
    from procedure.collection.opening_hours import Hours, days_of, times_of

    stated = here.hours or Hours()
    times, weekdays, dates = stated
    times = _option(arguments.hours, "--hours", "9:00-18:00", times_of) or times
    days = _option(arguments.days, "--days", "sat,sun", days_of)
    if days is not None:
        weekdays, dates = days
    said = here.said or "9:00-18:00"
    if arguments.hours or arguments.days:
        said = f"{arguments.hours or here.said.split(',')[0] or '9:00-18:00'}"
        said += f", {arguments.days}" if arguments.days else ""
    return Hours(times, weekdays, dates), said


def _next_five(moment: datetime) -> datetime:
    """The next full five minutes: nobody begins at seven minutes past."""
    from procedure.timetable.hours import clock

    whole = moment.replace(second=0, microsecond=0)
    more = 1 if (moment.second, moment.microsecond) != (0, 0) else 0
    return clock(whole, more + -(whole.minute + more) % 5)


def _present(zone: str | None) -> datetime:
    from zoneinfo import ZoneInfo

    if zone is None:
        return datetime.now()
    try:
        return datetime.now(ZoneInfo(zone))
    except (KeyError, ValueError, OSError):
        raise _refused(f"“{zone}” is no time zone", "--zone", "Europe/London") from None


def _recorded(
    arguments: argparse.Namespace, plans: list[Judged], now: datetime
) -> tuple[tuple[Happened, ...], tuple[str, ...]]:
    """What a batch record says has happened, and sentences on what of it was not taken."""
    if arguments.record is None:
        return (), ()
    from procedure.batch.folder import CannotRead, batch_of
    from procedure.batch.happened import OfAnother, happened

    if len(plans) > 1:
        raise CannotRun("A record is of one procedure; plan that one by itself.")
    try:
        batch = batch_of(Path(arguments.record))
    except CannotRead as reason:
        raise CannotRun(str(reason)) from None
    unread = [each for each in batch.findings if each.level == "error"]
    if unread:
        raise CannotRun(*_unread(arguments.record, unread))
    try:
        found, gone = happened(plans[0], batch.record, now.tzinfo)
    except OfAnother as reason:
        raise CannotRun(f"{arguments.record}: {reason}") from None
    if not found:
        raise CannotRun(
            f"{arguments.record} does not say when any step was begun or ended; "
            "write begun 10:40 or ended 11:40 under a step."
        )
    unlikely = [f"Line {x.line} of the record: {x.sentence} {x.remedy}" for x in batch.findings]
    return found, (*gone, *unlikely)


def _unread(file: str, findings: list[Finding]) -> Iterator[str]:
    """Where a record cannot be read, and the remedy: of what it says nothing is left out."""
    for each in findings[:_MOST_TOLD]:
        yield f"{file}, line {each.line}: {each.sentence} {each.remedy}"
    if len(findings) > _MOST_TOLD:
        yield f"{len(findings) - _MOST_TOLD} more; “vatwright record {file} --check” tells them."


def _begins(start: str | None, moments: _Moments, recorded: tuple[Happened, ...]) -> datetime:
    from procedure.timetable.hours import clock

    known = [m for each in recorded for m in (each.start, each.end) if m is not None]
    if start is None and known:
        return min(known, key=_instant)
    now = moments.now
    hour = clock(now.replace(minute=0, second=0, microsecond=0), 60)
    return moments.read(start, "--start", now) if start is not None else hour


def _first_day(begins: datetime, happened: tuple[Happened, ...]) -> datetime:
    """The first minute of the first day on which something happened: its hours are told whole."""
    ends = [m for each in happened for m in (each.start, each.end) if m is not None]
    return min(begins, *ends, key=_instant).replace(hour=0, minute=0, second=0, microsecond=0)


def _happened(said: str, begins: datetime, moments: _Moments, plans: list[Judged]) -> Happened:
    from procedure.timetable.terms import Happened

    step, equals, when = said.rpartition("=")
    now = moments.now
    first = f"{'A' if len(plans) > 1 else ''}1={now:%H:%M}"
    only_a_day = len(when.strip()) == len("2026-11-28") and ":" not in when
    if not equals or not step.strip() or not when.strip() or only_a_day:
        raise _refused(f"“{said}” does not say which step and when", "--done", first)
    hour = when.strip()
    if hour.isdecimal() and len(hour) < 3 and int(hour) < 24:
        most = max(len(plan.flow.nodes) for plan in plans)
        several = ", or two steps; of two steps each has a --done and a time of its own"
        raise _refused(
            f"“{said}” may be a time, {int(hour):02}:00{several if int(hour) <= most else ''}",
            "--done",
            f"{step.strip()}={int(hour):02}:00",
        )
    on = min(begins, now, key=_instant).date()
    end = moments.read(when.strip(), "--done", begins, on, f"{step}=")
    if _minutes(now, end) > 1:
        raise _refused(
            f"“{said}”: that time is still to come, and --done is for a step that is over, with "
            "the time at which it was",
            "--done",
            f"{step.strip()}={now:%Y-%m-%d %H:%M}",
        )
    return Happened(step.strip(), end)
