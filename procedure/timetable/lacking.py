"""By how much the hours are too short for a step by itself, and whether so much longer ones do.

That they would do is told only where there is a plan in hours that are longer by that: what comes
before and after the step, such as heating its bath, wants its time as well.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from procedure.quantity.day import A_DAY
from procedure.timetable.reasons import NoPlan, over_if_longer
from procedure.timetable.work import Activity, Work


def longest_day(work: Work) -> int:
    """The most minutes for which the place is open at a stretch."""
    return max((each.closes - each.opens for each in work.spells), default=0)


def of_the_night(unfit: NoPlan, each: Activity) -> int:
    """By how many minutes the shortest night is too long for a step that goes on over one."""
    nights = [opens - closes for closes, opens in unfit.work.nights]
    if not nights or not unfit.has("overnight", each.key):
        return 0
    alone = each.lasting.longest - each.hot_for  # until it may be left, somebody is there
    return min(nights) - alone if alone < min(nights) <= max(alone, A_DAY) else 0


def of_the_day(unfit: NoPlan, each: Activity) -> int:
    """By how many minutes the longest day is too short for a step, or while its bath is hot."""
    most, hot = each.lasting.most, unfit.has("hot", each.key)
    if hot:
        most = max(each.hot_for, each.hot_after + (most if each.by_day else 0))
    if not hot and not (unfit.has("night", each.key) and each.by_day):
        return 0
    return max(0, most - longest_day(unfit.work))


def with_what_does(unfit: NoPlan, others: Sequence[Work]) -> NoPlan:
    """The same with those of these minutes by which the days may be longer for there to be a plan.

    ``others`` are the work as people are given a plan of it.
    """
    lacking = {
        minutes
        for each in unfit.activities
        for minutes in (of_the_night(unfit, each), of_the_day(unfit, each))
        if minutes
    }
    if not lacking or unfit.work.done:
        return unfit
    do = tuple(each for each in sorted(lacking) if over_if_longer(others, each) is not None)
    return replace(unfit, enough=do)
