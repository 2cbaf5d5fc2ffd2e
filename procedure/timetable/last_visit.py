"""A visit at the end that is for a few minutes alone, days after the one before.

A tub that is not cleaned before the place closes waits until it is open again, which may be in a
week. That is no fault of the pots or of how long the steps are, and whoever reads the plan may
rather stay for it.
"""

from __future__ import annotations

from procedure.quantity.day import A_DAY
from procedure.quantity.number_words import listed
from procedure.timetable.hours import clock
from procedure.timetable.planned import Timetable
from procedure.timetable.planned_words import day_of, moment_in_words, numbered, span
from procedure.timetable.work import Window

_FEW_MINUTES = 60


def all_of_last_visit(made: Timetable) -> tuple[str, ...]:
    """What somebody comes for on the last day alone, though it could be done on the one before.

    Nothing where that is no little, or waits for something that is over later than that day.
    """
    days = _visits(made)
    if len(days) < 2 or made.work.begins is None:
        return ()
    before, last = days[-2][-1], days[-1][0]
    keys = tuple(
        each.key for each in made.placed if each.start >= last.opens and _is_to_come(made, each.key)
    )
    minutes = sum(made.at[key].end - made.at[key].start for key in keys)
    if not keys or minutes > _FEW_MINUTES or last.opens - before.closes < A_DAY // 2:
        return ()
    ready = all(
        made.moment(lag.before, lag.leaves) + lag.least <= before.closes
        for lag in made.work.lags
        if lag.after in keys and lag.before not in keys and lag.least >= 0
    )
    return keys if ready else ()


def last_visit(made: Timetable) -> str:
    """A sentence on that; empty where there is no such visit."""
    keys, work = all_of_last_visit(made), made.work
    if not keys or work.begins is None:
        return ""
    before, last = (clock(work.begins, day[0].opens) for day in _visits(made)[-2:])
    names = listed([numbered(work.activity[key]) for key in keys])
    minutes = sum(made.at[key].end - made.at[key].start for key in keys)
    over = max((each.end for each in made.placed if each.key not in keys), default=0)
    return (
        f"{names}, {span(minutes)}, {'is' if len(keys) == 1 else 'are'} all that somebody comes "
        f"for on {day_of(last)}: there was no time for that before the place closed on "
        f"{day_of(before)}. Done then, all would be over at {moment_in_words(work, over)}."
    )


def _visits(made: Timetable) -> list[list[Window]]:
    """The hours of each day on which somebody is there, from now on."""
    days: dict[int, list[Window]] = {}
    for window in made.work.windows:
        if any(p.start < window.closes and window.opens < p.end for p in made.to_come):
            days.setdefault(window.day, []).append(window)
    return list(days.values())


def _is_to_come(made: Timetable, key: str) -> bool:
    return key not in made.work.happened
