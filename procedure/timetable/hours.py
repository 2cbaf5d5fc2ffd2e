"""Opening hours as people say them, and the windows of minutes that they make.

A plan counts minutes as they pass. Where the beginning has a time zone, the night in which
the clocks change is an hour shorter or longer, and the clock times come out right.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from itertools import pairwise

from procedure.timetable.work import Window

MOST_DAYS = 60
"""How many open days are looked at, at the most."""
_FARTHEST = 400
_NAMES = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_GROUPS = {
    "weekdays": range(5),
    "weekends": range(5, 7),
    "weekend": range(5, 7),
    "daily": range(7),
    "every day": range(7),
    "all": range(7),
}
_HOUR = re.compile(r"(\d{1,2})(?:[:.h](\d{2}))?\s*(am|pm)?", re.IGNORECASE)
_BETWEEN = re.compile(r"\s*(?:-|–|—|\bto\b|\buntil\b)\s*", re.IGNORECASE)


class BadHours(ValueError):
    """Hours, days or moments that cannot be understood or are never open; a plain sentence."""


@dataclass(frozen=True, slots=True)
class Hours:
    """When the place is open: times of the day, on days of the week and on dates of their own.

    ``weekdays`` count from Monday as 0. Where ``dates`` are given, only these count.
    """

    times: tuple[tuple[time, time], ...] = ((time(9), time(18)),)
    weekdays: frozenset[int] = frozenset(range(7))
    dates: frozenset[date] = frozenset()

    def open_on(self, day: date) -> bool:
        """Whether the place opens on that day."""
        return day in self.dates if self.dates else day.weekday() in self.weekdays


def times_of(text: str) -> tuple[tuple[time, time], ...]:
    """Times of the day from ``9:00-18:00``, ``10 to 16`` or ``9-12, 13-17``.

    Raises :class:`BadHours`.
    """
    found = []
    for part in re.split(r"\s*[,;]\s*|\s+and\s+", text.strip()):
        ends = _BETWEEN.split(part)
        if len(ends) != 2:
            raise BadHours(f"“{part}” does not say from when to when; write 9:00-18:00, say.")
        opens, closes = (_hour(end) for end in ends)
        if closes <= opens:
            raise BadHours(
                f"“{part}” closes before it opens; the place has to close on the day it opens."
            )
        found.append((opens, closes))
    found.sort()
    for (_, closes), (opens, _) in pairwise(found):
        if opens < closes:
            raise BadHours(f"The hours “{text.strip()}” overlap.")
    return tuple(found)


def _hour(text: str) -> time:
    match = _HOUR.fullmatch(text.strip())
    if match is None:
        raise BadHours(f"“{text}” is no time of the day; write 9:00 or 17:30, say.")
    hour, minute = int(match[1]), int(match[2] or 0)
    half = (match[3] or "").lower()
    if half:
        if not 1 <= hour <= 12:
            raise BadHours(f"“{text}” is no time of the day.")
        hour = hour % 12 + (12 if half == "pm" else 0)
    if (hour, minute) == (24, 0):
        return time(23, 59)
    if hour > 23 or minute > 59:
        raise BadHours(f"“{text}” is no time of the day.")
    return time(hour, minute)


def days_of(text: str) -> tuple[frozenset[int], frozenset[date]]:
    """Days of the week and dates from ``sat,sun``, ``weekdays`` or ``2026-11-28``.

    Raises :class:`BadHours`.
    """
    weekdays: set[int] = set()
    dates: set[date] = set()
    for word in filter(None, re.split(r"\s*[,;]\s*|\s+and\s+", text.strip().lower())):
        if word in _GROUPS:
            weekdays.update(_GROUPS[word])
            continue
        span = [_weekday(end) for end in _BETWEEN.split(word)] if "20" not in word else []
        if len(span) == 1 and span[0] >= 0:
            weekdays.add(span[0])
        elif len(span) == 2 and min(span) >= 0:
            weekdays.update((span[0] + i) % 7 for i in range((span[1] - span[0]) % 7 + 1))
        else:
            dates.add(_date(word))
    if not weekdays and not dates:
        raise BadHours("No days are given; name days of the week (sat, sun) or dates (2026-11-28).")
    return frozenset(weekdays), frozenset(dates)


def _weekday(word: str) -> int:
    word = word.rstrip("s") if word.endswith("days") else word
    fits = [i for i, name in enumerate(_NAMES) if len(word) >= 2 and name.startswith(word)]
    return fits[0] if len(fits) == 1 else -1


def _date(word: str) -> date:
    try:
        return date.fromisoformat(word)
    except ValueError:
        raise BadHours(
            f"“{word}” is no day; write a day of the week (sat) or a date (2026-11-28)."
        ) from None


def moment_of(text: str, like: datetime) -> datetime:
    """A moment from ``2026-11-28 09:00``, in the zone of ``like``. Raises :class:`BadHours`.

    A moment that the clocks leap over, when they go forward, is none.
    """
    try:
        found = datetime.fromisoformat(text.strip())
    except ValueError:
        raise BadHours(f"“{text}” is no date with a time; write 2026-11-28 09:00, say.") from None
    if found.tzinfo is not None:
        return found if like.tzinfo is None else found.astimezone(like.tzinfo)
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


def windows(begins: datetime, hours: Hours, until: datetime | None = None) -> tuple[Window, ...]:
    """When the place is open from the beginning on, in minutes; ``until`` ends the last.

    Raises :class:`BadHours` where that is never.
    """
    found = tuple(_windows(begins, hours, until))
    if not found:
        before = f" before {until:%Y-%m-%d %H:%M}" if until is not None else ""
        raise BadHours(
            f"From {begins:%Y-%m-%d %H:%M} on{before} the place is never open; "
            "give hours and days when it is."
        )
    return found


def _windows(begins: datetime, hours: Hours, until: datetime | None) -> Iterator[Window]:
    open_days = 0
    for number in range(_FARTHEST):
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
        open_days += opened
