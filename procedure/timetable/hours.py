"""The windows of minutes that opening hours make, and moments as people say them.

A plan counts minutes as they pass. Where the beginning has a time zone, the night in which
the clocks change is an hour shorter or longer, and the clock times come out right.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from itertools import pairwise

from procedure.collection.opening_hours import BadHours, Hours
from procedure.timetable.work import Window

MOST_DAYS = 60
"""How many open days are looked at, at the most."""
_FARTHEST = 400
_YEARS = range(1900, 3000)
"""Beyond them the calendar of the computer may come to its end within a plan."""


def moment_of(text: str, like: datetime) -> datetime:
    """A moment from ``2026-11-28 09:00``, in the zone of ``like``. Raises :class:`BadHours`.

    A moment that the clocks leap over, when they go forward, is none.
    """
    try:
        found = datetime.fromisoformat(text.strip())
    except ValueError:
        raise BadHours(f"“{text}” is no date with a time; write 2026-11-28 09:00, say.") from None
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
        raise BadHours(f"On that day the clocks go forward, and “{text}” is no time at all.")
    return found


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


def _windows(
    begins: datetime, hours: Hours, until: datetime | None, since: datetime
) -> Iterator[Window]:
    open_days = 0
    for number in range(max(0, (since - begins).days) + _FARTHEST):
        day = begins.date() + timedelta(days=number)
        if open_days >= MOST_DAYS or (until is not None and day > until.date()):
            return
        if not hours.open_on(day):
            continue
        opened = False
        for opens, closes in hours.times:
            first = datetime.combine(day, opens, begins.tzinfo)
            last = datetime.combine(day, closes, begins.tzinfo)
            start = max(0, minutes_between(begins, first))
            end = minutes_between(begins, last)
            if until is not None:
                end = min(end, minutes_between(begins, until))
            if start < end:
                opened = True
                yield Window(start, end, number)
        open_days += opened and day >= since.date()
