"""Opening hours and days as people say them."""

from __future__ import annotations

import re
from datetime import date, time, timedelta
from itertools import pairwise

from procedure.quantity.day import A_DAY
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
    dates alone there are no weekdays. Where a time closes no later than it opens, it closes on the
    next day: (16:00, 0:00) is until midnight.
    """

    times: tuple[tuple[time, time], ...] = ((time(9), time(18)),)
    weekdays: frozenset[int] = frozenset(range(7))
    dates: frozenset[date] = frozenset()

    def open_on(self, day: date) -> bool:
        """Whether the place opens on that day."""
        return day in self.dates or day.weekday() in self.weekdays


def times_of(text: str) -> tuple[tuple[time, time], ...]:
    """Times of the day from ``9:00-18:00``, ``10 to 16``, ``9-12, 13-17`` or ``16:00-10:00``.

    What closes before it opens goes on past midnight. Raises :class:`BadHours`.
    """
    found = []
    for part in re.split(r"\s*[,;]\s*|\s+and\s+", text.strip()):
        ends = re.split(_BETWEEN, part)
        if len(ends) != 2 or not all(ends):
            raise BadHours(f"“{part}” does not say from when to when; write 9:00-18:00, say.")
        opens, closes = time_of_day(ends[0]), _closing(ends[1])
        if closes == opens and closes != time():
            raise BadHours(
                f"“{part}” closes as it opens; write 9:00-18:00, say, or 0:00-24:00 for day and "
                "night."
            )
        found.append((opens, closes))
    found.sort()
    around = [*found, found[0]]
    for i, ((opens, closes), (again, _)) in enumerate(pairwise(around)):
        until = minutes_open(opens, closes)
        if until > (minutes_open(opens, again) if i + 1 == len(found) else _between(opens, again)):
            raise BadHours(
                f"The hours “{text.strip()}” overlap; write 9:00-12:00,13:00-18:00, say."
            )
    return tuple(found)


def _closing(text: str) -> time:
    """A time at which a place closes: midnight at the end of the day is 24:00, or 0:00."""
    return time() if re.fullmatch(r"\s*24(?:[:.h]00)?\s*", text) else time_of_day(text)


def minutes_open(opens: time, closes: time) -> int:
    """For how many minutes a place is open; what closes no later than it opens, past midnight."""
    minutes = _between(opens, closes)
    return minutes if minutes > 0 else minutes + A_DAY


def _between(opens: time, closes: time) -> int:
    return 60 * (closes.hour - opens.hour) + closes.minute - opens.minute


def closing_on(day: date, opens: time, closes: time) -> date:
    """The day on which a place closes that opens on a day."""
    return day if closes > opens else day + timedelta(days=1)


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
