"""By how little longer the place would have to be open for the work to be over days sooner.

What is saved is counted by the calendar. Where work may be over days sooner still, the next longer
hours are asked about as well, and told if they save more by days: an hour that saves a week is
better news than half an hour that saves one day.

Answered by planning it again, as it would be in those hours; only for work of which one more pot or
plate can be told as well (:mod:`procedure.timetable.relief`).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import datetime, time, timedelta
from functools import cache

from procedure.collection.opening_hours import Hours
from procedure.pipeline import Judged
from procedure.quantity.day import A_DAY
from procedure.timetable.bounding import least_length, least_length_at_any_hour
from procedure.timetable.calming import least_days
from procedure.timetable.first_plan import first_plan
from procedure.timetable.from_plans import work_of
from procedure.timetable.hours import calendar_day
from procedure.timetable.planned import Timetable
from procedure.timetable.planned_words import moment_in_words, time_of
from procedure.timetable.planning import fitted, giving_all, is_as_written, tries
from procedure.timetable.programme import build
from procedure.timetable.searching import search
from procedure.timetable.solving import Aim, NotKnown
from procedure.timetable.terms import Asked
from procedure.timetable.unplannable import CannotPlan
from procedure.timetable.unsure import may_take
from procedure.timetable.work import Work

_STEPS = ((30, "half an hour"), (60, "an hour"), (120, "two hours"))
_FAR_MORE = 2
"""Days of the calendar for which longer hours still are worth telling."""
_A_WEEK = 7
_MOST, _EFFORT, _EFFORT_OF_A_LOOK = 45, 0.1, 0.03
"""Of more activities than this nothing is asked; the solver's seconds for each question, and for
whether it is worth asking."""


def saves_a_day(made: Timetable, plans: Sequence[Judged], asked: Asked) -> str:
    """A sentence on the least of some longer hours that would save a day; empty where none would.

    Hours are longer at the end of each day. What has begun already is not asked about. Raises
    ``ImportError`` where the solver is missing.
    """
    if asked.happened or not is_asked_about(made):
        return ""
    if made.finish <= least_length_at_any_hour(made.work):
        return ""
    best, told = made, ""
    steps = [(_longer(asked.hours, minutes), said) for minutes, said in _STEPS]
    longest = [hours for hours, _ in steps if hours is not None]
    drawn = cache(lambda hours: work_of(list(plans), replace(asked, hours=hours)).work)
    if not longest or not _may_save(made, drawn, asked.hours, longest[-1]):
        return ""
    for hours, said in steps:
        other = _planned(made, drawn, asked.hours, hours) if hours is not None else None
        if hours is None or other is None:
            continue
        if not told or _over_on(best) - _over_on(other) >= _FAR_MORE:
            best, told = other, _told(made, other, hours, said)
        if _over_on(best) - _day_at(best, least_length_at_any_hour(best.work)) < _FAR_MORE:
            break
    return told


def is_asked_about(made: Timetable) -> bool:
    """Whether what would save days is asked of a plan: not of very much, nor of a single day."""
    small = len(made.work.activities) <= _MOST
    return small and not made.to_the_limit and made.searched and _over_on(made) >= 1


def _over_on(made: Timetable) -> int:
    """The day on which all is over, from 0."""
    return _day_at(made, made.finish)


def _day_at(made: Timetable, minute: int) -> int:
    assert made.work.begins is not None
    return calendar_day(made.work.begins, minute)


def _longer(hours: Hours, minutes: int) -> Hours | None:
    """The hours with a later end; None where that would be past midnight."""
    opens, closes = hours.times[-1]
    day = datetime.combine(datetime.min, closes)
    later = day + timedelta(minutes=minutes)
    if later.date() != day.date() or later.time() <= time(opens.hour, opens.minute):
        return None
    return hours._replace(times=(*hours.times[:-1], (opens, later.time())))


def _planned(
    made: Timetable, drawn: Callable[[Hours], Work], usual: Hours, hours: Hours
) -> Timetable | None:
    """The plan in these hours where it saves a day; None where it does not, or is not known.

    ``drawn`` gives the work as it is in some hours, ``usual`` are those of the plan.
    """
    try:
        work = drawn(hours)
        if made.days == 1 and least_length(work) >= made.finish:
            return None
        if not _may_save(made, drawn, usual, hours):
            return None
        if _is_hard(work) and _is_hard(drawn(usual)):
            return None
        found = fitted(work, _EFFORT, Aim.DAYS, reasons=False).made
    except (CannotPlan, NotKnown):
        return None
    if not isinstance(found, Timetable) or found.to_the_limit:
        return None
    days, over = (found.days, made.days), (_over_on(found), _over_on(made))
    no_worse = days[0] <= days[1] and over[0] <= over[1]
    return found if no_worse and (days[0] < days[1] or over[0] < over[1]) else None


def saved(made: Timetable, other: Timetable) -> str:
    """What is saved: days of the calendar, or where it is none of these, days to come on."""
    sooner = _over_on(made) - _over_on(other)
    if sooner:
        weeks = sooner % _A_WEEK == 0
        return _so_many(sooner // _A_WEEK, "week") if weeks else _so_many(sooner, "day")
    fewer = made.days - other.days
    return "coming on a day more" if fewer == 1 else f"coming on {fewer} days more"


def _so_many(count: int, what: str) -> str:
    return f"a {what}" if count == 1 else f"{count} {what}s"


def _may_save(made: Timetable, drawn: Callable[[Hours], Work], usual: Hours, hours: Hours) -> bool:
    """Whether it is not seen at once that a day cannot be saved in some hours.

    Where every step and wait of a plan is as written, they are so in longer hours; else anything
    that may give does so.
    """
    try:
        work = drawn(hours)
        as_written = is_as_written(drawn(usual), made)
    except CannotPlan:
        return False
    loose = next(tries(replace(work, warmth=()))) if as_written else giving_all(work)
    day_before = made.finish
    while day_before > 0 and _day_at(made, day_before) >= _over_on(made):
        day_before -= 1
    if least_length(loose) <= day_before:
        sooner = search(build(loose, (), day_before), _EFFORT_OF_A_LOOK)
        if sooner.status != "impossible":
            return True
    return least_days(loose, day_before + A_DAY, _EFFORT_OF_A_LOOK) < made.days


def _is_hard(work: Work) -> bool:
    """Whether the list rule finds no plan that keeps the usual waits: looking takes long."""
    return all(first_plan(each) is None for each in tries(work))


def _told(made: Timetable, other: Timetable, hours: Hours, said: str) -> str:
    until = time_of(datetime.combine(datetime.min, hours.times[-1][1]))
    days = "1 day" if other.days == 1 else f"{other.days} days"
    over = moment_in_words(other.work, other.finish)
    slow = any(may_take(other, each.key) for each in other.placed)
    cooled = ", if no bath cools more slowly than is planned for it" if slow else ""
    return (
        f"{said[:1].upper()}{said[1:]} longer, until {until}, would save {saved(made, other)}: "
        f"all would be over at {over}, with somebody there on {days}{cooled}."
    )
