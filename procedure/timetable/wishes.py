"""Waits that are wished for: kept where there is a plan with them, unless that costs a night.

Clean fibre is hung up at once, and soap rinsed out at once; but where several lots are hung up
together the first may well wait damp for the others. So no plan is refused, and none is a night
longer, for the sake of a wish. What waits longer is told by name.
"""

from __future__ import annotations

from dataclasses import replace

from procedure.timetable.bounding import least_length
from procedure.timetable.first_plan import first_plan
from procedure.timetable.planned import Timetable
from procedure.timetable.programme import build
from procedure.timetable.searching import search
from procedure.timetable.work import WarmAgain, Work

_MUCH, _EFFORT = 60, 0.02
"""Of more activities only the list rule is asked whether a night can be saved."""


def as_wished(work: Work) -> Work:
    """The work where no wait may be longer than is wished; the same work where none is wished."""
    if all(lag.wish is None or lag.before in work.happened for lag in work.lags):
        return work
    lags = tuple(
        lag
        if lag.wish is None or lag.before in work.happened
        else replace(lag, most=lag.wish, wish=None)
        for lag in work.lags
    )
    return replace(work, lags=lags)


def at_last(work: Work) -> Work:
    """The work where waits are as long as they may be where there is no other plan at all."""
    if all(lag.at_last is None for lag in work.lags):
        return work
    lags = (
        lag if lag.at_last is None else replace(lag, most=lag.at_last, wish=lag.wished)
        for lag in work.lags
    )
    return replace(work, lags=tuple(lags), warmth=cold_at_last(work))


def cold_at_last(work: Work) -> tuple[WarmAgain, ...]:
    """What has to be warmed again, where it has waited so long that it is quite cold."""
    return tuple(replace(each, minutes=each.from_cold or each.minutes) for each in work.warmth)


def costs_a_night(work: Work, known: Timetable) -> bool:
    """Whether a plan of the work is found that is over a night sooner than one that is known."""
    before = [closes for closes, _ in work.nights if closes < known.finish]
    if not before or least_length(work) > before[-1]:
        return False
    first = first_plan(work)
    if first is not None and first.finish <= before[-1]:
        return True
    if len(work.activities) > _MUCH:
        return False
    try:
        return bool(search(build(work, (), before[-1]), _EFFORT).placed)
    except ImportError:
        return False
