"""The windows of minutes that opening hours make, and moments as people say them.

A plan counts minutes as they pass. Where the beginning has a time zone, the night in which
the clocks change is an hour shorter or longer, and the clock times come out right.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import UTC, date, datetime, time, timedelta
from itertools import pairwise

from procedure.collection.opening_hours import BadHours, Hours, closing_on, time_of_day
from procedure.timetable.work import Window

MOST_DAYS = 60
"""How many open days are looked at, at the most."""
_FARTHEST = 400
_YEARS = range(1900, 3000)
"""Beyond them the calendar of the computer may come to its end within a plan."""


def moment_of(text: str, like: datetime, on: date | None = None, example: str = "") -> datetime:
    """A moment from ``2026-11-28 09:00``, in the zone of ``like``. Raises :class:`BadHours`.

    It may end in an offset of its own, ``+01:00``. A time of the day alone is one of the day
    ``on``, where that is given. A moment that the clocks leap over, when they go forward, is none;
    of one that comes twice, when they go back, the first is taken (:func:`comes_twice`).
    ``example`` is what a refusal proposes, else nine o'clock a week after ``like``.
    """
    found = _read(text, on)
    if found is None:
        what = "date with a time" if on is None else "time of the day, nor a date with one"
        example = example or f"{like + timedelta(days=7):%Y-%m-%d} 09:00"
        raise BadHours(f"“{text}” is no {what}; write {example}, say.")
    if found.year not in _YEARS:
        raise BadHours(f"“{text}” is not in our time; write a year from 1900 to 2999.")
    if found.tzinfo is not None and like.tzinfo is None:
        raise BadHours(
            f"“{text}” has a time zone of its own, and the plan has none; write the time of the "
            "clock on the wall, or name the zone of the whole plan (--zone Europe/London)."
        )
    if found.tzinfo is not None:
        return found.astimezone(like.tzinfo)
    found = found.replace(tzinfo=like.tzinfo)
    if like.tzinfo is not None and _there_and_back(found) != found.replace(tzinfo=None):
        raise BadHours(
            f"On that day the clocks go forward, and “{text}” is no time at all; write an hour "
            "later or sooner."
        )
    return found


_MOMENT = re.compile(
    r"(?P<date>\d{4}-\d{2}-\d{2})?(?:(?:^|\s+|(?<=\d)T)(?P<clock>\d{1,2}(?:[:.h]\d{2})?\s*(?:am|pm)?))?"
    r"\s*(?P<offset>[+-]\d{2}:\d{2}|Z)?",
    re.IGNORECASE,
)


def _read(text: str, on: date | None) -> datetime | None:
    """A moment as it is said, with the offset that it has; None where it is none."""
    match = _MOMENT.fullmatch(text.strip())
    try:
        if match is None:
            return datetime.fromisoformat(text.strip())
        day = date.fromisoformat(match["date"]) if match["date"] else on
        if day is None or (match["clock"] is None and (on is not None or match["offset"])):
            return None
        clock_time = time_of_day(match["clock"]) if match["clock"] else time()
        found = datetime.combine(day, clock_time)
        offset = datetime.fromisoformat(f"{found.isoformat()}{(match['offset'] or '').upper()}")
        return offset if match["offset"] else found
    except (BadHours, ValueError):
        return None


def comes_twice(text: str, moment: datetime) -> str:
    """Which of two was taken where the clocks go back and a moment comes twice; else nothing."""
    first, second = moment.replace(fold=0), moment.replace(fold=1)
    offset = second.utcoffset()
    if moment.tzinfo is None or first.utcoffset() == offset or _has_offset(text):
        return ""
    hours = f"{second:%z}"
    clock_time = f"{moment:%H:%M:%S}" if moment.second else f"{moment:%H:%M}"
    return (
        f"The clocks go back that night, so “{text}” comes twice; the first is taken. For the "
        f"second write {moment:%Y-%m-%d} {clock_time}{hours[:3]}:{hours[3:5]}."
    )


def _has_offset(text: str) -> bool:
    said = _read(text, date.min)
    return said is not None and said.tzinfo is not None


def _there_and_back(moment: datetime) -> datetime:
    return moment.astimezone(UTC).astimezone(moment.tzinfo).replace(tzinfo=None)


def minutes_between(begins: datetime, moment: datetime) -> int:
    """Minutes that pass from the one to the other, whatever the clocks do."""
    if begins.tzinfo is not None:
        passed = moment.astimezone(UTC) - begins.astimezone(UTC)
    else:
        passed = moment.replace(tzinfo=None) - begins
    return int(passed.total_seconds() // 60)


def clock(begins: datetime, minute: int) -> datetime:
    """What the clock shows so many minutes after the beginning."""
    if begins.tzinfo is None:
        return begins + timedelta(minutes=minute)
    return (begins.astimezone(UTC) + timedelta(minutes=minute)).astimezone(begins.tzinfo)


def calendar_day(begins: datetime, minute: int) -> int:
    """On which day of the calendar a minute is, counted from that of the beginning."""
    return (clock(begins, minute).date() - begins.date()).days


def windows(
    begins: datetime,
    hours: Hours,
    until: datetime | None = None,
    since: datetime | None = None,
) -> tuple[Window, ...]:
    """When the place is open from the beginning on, in minutes; ``until`` ends the last.

    There are so many open days and no more, counted from ``since`` where that is later.

    Raises :class:`BadHours` where that is never.
    """
    found = tuple(_windows(begins, hours, until, since or begins))
    if not found:
        before = f" before {until:%Y-%m-%d %H:%M}" if until is not None else ""
        raise BadHours(
            f"From {begins:%Y-%m-%d %H:%M} on{before} the place is never open; "
            "give hours and days when it is."
        )
    return found


def longest_night(open_at: tuple[Window, ...]) -> int:
    """The minutes from the close of one day to the opening of the next, of the longest such night.

    It is nought where the place is never open on two days running.
    """
    nights = (b.opens - a.closes for a, b in pairwise(open_at) if b.day == a.day + 1)
    return max(nights, default=0)


def _past_midnight(hours: Hours) -> bool:
    return any(time() < closes <= opens for opens, closes in hours.times)


def _windows(
    begins: datetime, hours: Hours, until: datetime | None, since: datetime
) -> Iterator[Window]:
    open_days = 0
    before = (-1,) if begins.date() > date.min and _past_midnight(hours) else ()
    for number in (*before, *range(max(0, (since - begins).days) + _FARTHEST)):
        day = begins.date() + timedelta(days=number)
        if open_days >= MOST_DAYS or (until is not None and day > until.date()):
            return
        if not hours.open_on(day):
            continue
        opened = False
        for opens, closes in hours.times:
            first = datetime.combine(day, opens, begins.tzinfo)
            last = datetime.combine(closing_on(day, opens, closes), closes, begins.tzinfo)
            start = max(0, minutes_between(begins, first))
            end = minutes_between(begins, last)
            if until is not None:
                end = min(end, minutes_between(begins, until))
            if start < end:
                opened = True
                yield Window(start, end, max(0, number))
        open_days += opened and day >= since.date()
