"""What goes on for days and is seen to on each of them, on days that are closed too."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from itertools import pairwise

from procedure.quantity.number_words import listed
from procedure.timetable.hours import calendar_day
from procedure.timetable.planned import Timetable
from procedure.timetable.planned_words import day_of, numbered
from procedure.timetable.work import SEE_TO_ITS_HEAT, Activity

_MOST_NAMED = 4


def closed_days(made: Timetable) -> dict[str, list[int]]:
    """The days on which what goes on for days is seen to and the place is closed, by the steps.

    Days count from the beginning of the work as those of its windows do. Where the work has no
    beginning on the clock, nothing is known of days.
    """
    begins = made.work.begins
    found: dict[str, list[int]] = {}
    if begins is None:
        return found
    for key, minute in made.seen_to:
        day = calendar_day(begins, minute)
        if day not in made.work.open_on:
            found.setdefault(key, []).append(day)
    return found


def looks_on_closed_days(made: object) -> list[str]:
    """Sentences on what has to be seen to while the place is closed: somebody must look in."""
    if not isinstance(made, Timetable):
        return []
    return [
        f"{_has_to_be_seen_to(made.work.activity[key])} every day, and the "
        f"place is closed {listed(_told(made, days))}: somebody must look in on "
        f"{'that day' if len(days) == 1 else 'these days'} too, or it cannot be done so."
        for key, days in closed_days(made).items()
    ]


def _has_to_be_seen_to(each: Activity) -> str:
    if each.daily == SEE_TO_ITS_HEAT:
        return f"{numbered(each)} and its heat have to be seen to"
    return f"{numbered(each)} has to be seen to ({each.daily})"


def _told(made: Timetable, days: list[int]) -> list[str]:
    """“on Monday 30 November”, “from Monday 30 November to Friday 4 December”."""
    assert made.work.begins is not None
    first = made.work.begins
    runs = list(_runs(days))
    said = []
    for run in runs[:_MOST_NAMED]:
        opens, closes = (day_of(first + timedelta(days=day)) for day in (run[0], run[-1]))
        said.append(f"on {opens}" if len(run) == 1 else f"from {opens} to {closes}")
    more = sum(map(len, runs[_MOST_NAMED:]))
    return [*said, f"on {more} more days"] if more else said


def _runs(days: list[int]) -> Iterator[list[int]]:
    """Days in runs of those that follow one another."""
    run = days[:1]
    for before, day in pairwise(days):
        if day > before + 1:
            yield run
            run = []
        run.append(day)
    yield run
