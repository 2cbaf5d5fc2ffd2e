"""How long one day would have to be for work that does not go into it."""

from __future__ import annotations

from dataclasses import replace

from procedure.timetable.first_plan import first_plan
from procedure.timetable.hours import clock
from procedure.timetable.planned import Timetable
from procedure.timetable.planned_words import time_of
from procedure.timetable.planning import shortest_with
from procedure.timetable.reasons import NoPlan
from procedure.timetable.solving import Aim, NotKnown, best
from procedure.timetable.work import Activity, Attendance, Window, Work

_LONGEST = 14 * 60
"""Longer than this is no day of anybody's."""
_EFFORT = 0.1
_FIVE = 5


def long_enough(unfit: NoPlan) -> str:
    """A sentence on hours of one day in which it could be done; empty where none are known.

    It is for work that is asked for on one day alone and wants no night.
    """
    work = unfit.work
    one_day = len(work.days) == 1
    if not one_day or work.done or work.begins is None or any(a.overnight for a in work.activities):
        return ""
    opens = work.windows[0].opens
    day = replace(
        work,
        windows=(Window(opens, opens + _LONGEST, work.windows[0].day),),
        activities=tuple(_hung_up(work, each) for each in work.activities),
        finish_by=None,
    )
    # A first plan tells at once that there is none; only a whole one holds what is told.
    made = shortest_with(day) if _planned(day) is not None else None
    if made is None or made.days > 1:
        return ""
    last = max((piece.end for piece in made.hands_on), default=made.finish)
    closes = max([last, *(piece.end for piece in made.hot)])
    if unfit.stay and closes > work.windows[-1].closes + unfit.stay:
        return ""  # what is told already is shorter
    until = clock(work.begins, -(-closes // _FIVE) * _FIVE)
    return (
        "With every step as long as it may take, it could be done in one day from "
        f"{time_of(clock(work.begins, opens))} to {time_of(until)}; or make some of it ready "
        "the day before."
    )


def _planned(day: Work) -> Timetable | None:
    first = first_plan(day)
    try:
        return best(day, first, _EFFORT, Aim.LENGTH)
    except (NotKnown, ImportError):
        return first


def _hung_up(work: Work, each: Activity) -> Activity:
    """What dries or stands when all else is over is done for the day once it is begun."""
    last = not any(lag.before == each.key for lag in work.lags)
    if not last or each.by_day or each.at_end or each.attendance is not Attendance.ENDS:
        return each
    begun = max(each.at_start, 1)
    lasting = replace(each.lasting, least=min(begun, each.lasting.least), most=begun, stretch=begun)
    return replace(each, lasting=lasting)
