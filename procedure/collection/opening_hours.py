"""Opening hours and days as people say them."""

from __future__ import annotations

import re
from datetime import date, time
from itertools import pairwise

from procedure.quantity.record import NamedTuple

_NAMES = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_GROUPS = {
    "weekdays": range(5),
    "weekends": range(5, 7),
    "weekend": range(5, 7),
    "daily": range(7),
    "every day": range(7),
    "all": range(7),
}
_HOUR = r"(?i)(\d{1,2})(?:[:.h](\d{2}))?\s*(am|pm)?"
_BETWEEN = r"(?i)\s*(?:-|–|—|\bto\b|\buntil\b)\s*"


class BadHours(ValueError):
    """Hours, days or moments that cannot be understood or are never open; a plain sentence."""


class Hours(NamedTuple):
    """When the place is open: times of the day, on days of the week and on dates of their own.

    ``weekdays`` count from Monday as 0. It is open on them and on the ``dates`` besides; for
    dates alone there are no weekdays.
    """

    times: tuple[tuple[time, time], ...] = ((time(9), time(18)),)
    weekdays: frozenset[int] = frozenset(range(7))
    dates: frozenset[date] = frozenset()

    def open_on(self, day: date) -> bool:
        """Whether the place opens on that day."""
        return day in self.dates or day.weekday() in self.weekdays


def times_of(text: str) -> tuple[tuple[time, time], ...]:
    """Times of the day from ``9:00-18:00``, ``10 to 16`` or ``9-12, 13-17``.

    Raises :class:`BadHours`.
    """
    found = []
    for part in re.split(r"\s*[,;]\s*|\s+and\s+", text.strip()):
        ends = re.split(_BETWEEN, part)
        if len(ends) != 2 or not all(ends):
            raise BadHours(f"“{part}” does not say from when to when; write 9:00-18:00, say.")
        opens, closes = (time_of_day(end) for end in ends)
        if closes <= opens:
            when = "as" if closes == opens else "before"
            raise BadHours(
                f"“{part}” closes {when} it opens, and it closes later on the same day; write "
                "9:00-18:00, say."
            )
        found.append((opens, closes))
    found.sort()
    for (_, closes), (opens, _) in pairwise(found):
        if opens < closes:
            raise BadHours(
                f"The hours “{text.strip()}” overlap; write 9:00-12:00,13:00-18:00, say."
            )
    return tuple(found)


def time_of_day(text: str) -> time:
    """A time of the day from ``9``, ``9:00``, ``17.30`` or ``5 pm``. Raises :class:`BadHours`."""
    match = re.fullmatch(_HOUR, text.strip())
    if match is None:
        raise BadHours(f"“{text}” is no time of the day; write 9:00 or 17:30, say.")
    hour, minute = int(match[1]), int(match[2] or 0)
    half = (match[3] or "").lower()
    if half:
        if not 1 <= hour <= 12:
            raise BadHours(f"“{text}” is no time of the day; write 5 pm, say.")
        hour = hour % 12 + (12 if half == "pm" else 0)
    if (hour, minute) == (24, 0):
        return time(23, 59)
    if hour > 23 or minute > 59:
        raise BadHours(f"“{text}” is no time of the day; write 9:00 or 17:30, say.")
    return time(hour, minute)


def days_of(text: str) -> tuple[frozenset[int], frozenset[date]]:
    """Days of the week and dates from ``sat,sun``, ``weekdays`` or ``2026-11-28``, or of both.

    Raises :class:`BadHours`.
    """
    weekdays: set[int] = set()
    dates: set[date] = set()
    for word in filter(None, re.split(r"\s*[,;]\s*|\s+and\s+", text.strip().lower())):
        if word in _GROUPS:
            weekdays.update(_GROUPS[word])
            continue
        span = [_weekday(end) for end in re.split(_BETWEEN, word)] if "20" not in word else []
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
