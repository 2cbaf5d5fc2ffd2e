"""What would do where there is no plan, beside longer hours and other days.

One more of what there is too little of, one procedure less, a wait that may be longer: each is
planned, whole, before it is told, and no more than two are. Only what has a part in the reason is
tried; where nothing that is told would do by itself, every day and longer hours together are.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import islice

from procedure.quantity.day import A_DAY
from procedure.timetable.bounding import least_length
from procedure.timetable.planned import Timetable
from procedure.timetable.reasons import NoPlan, WayOut, daily, in_longer_hours
from procedure.timetable.relief import with_one_more
from procedure.timetable.work import Activity, Attendance, Lag, Lasting, Point, Work

_MOST_TOLD, _MOST_TRIED, _MUCH = 2, 4, 45
"""So many ways are told and tried, and longer waits of so many activities at the most."""
_A_NIGHT, _A_WEEK = 8 * 60, 7 * A_DAY
_LONGER = (60, 120, 180, 240)
"""By how many minutes the days may be longer before nobody would call it a day's work."""


def ways_out(
    work: Work, unfit: NoPlan, whole: Callable[[Work], Timetable | None]
) -> tuple[WayOut, ...]:
    """What would do for work of which there is no plan, the most welcome first.

    ``whole`` gives a whole plan of work, of which the length alone is sought, if there is one.
    """
    if work.done:
        return ()
    found = _planned(_more_or_less(work, unfit), whole, _MOST_TOLD)
    if found or unfit.stay or (unfit.finish is not None and unfit.every_day):
        return tuple(found)
    if unfit.has("finish"):
        return ()
    found += _every_day_and_longer(work, whole)
    if not found and len(work.activities) <= _MUCH:
        found = _planned(_longer_waits(work, unfit), whole, 1)
    return tuple(found)


def _planned(
    ways: Iterator[tuple[Work, WayOut]], whole: Callable[[Work], Timetable | None], most: int
) -> list[WayOut]:
    """The first of these ways by which there is a whole plan."""
    found: list[WayOut] = []
    for changed, way in islice(ways, _MOST_TRIED):
        made = whole(changed)
        if made is not None:
            found.append(replace(way, finish=made.finish))
        if len(found) == most:
            break
    return found


def _more_or_less(work: Work, unfit: NoPlan) -> Iterator[tuple[Work, WayOut]]:
    """The work but for what dries at its end, with one more of something, or one procedure less."""
    if unfit.has("finish"):
        yield from _left_to_itself(work)
    for each in (work.activity[each.key] for each in unfit.activities):
        if unfit.has("hours", each.key) and _lies_for_days(each):
            yield _for_at_least(work, each), WayOut(0, lasting=each)
    for resource in work.resources:
        if resource.one_more and unfit.has("resource", resource.key):
            changed, more = with_one_more(work, resource)
            yield changed, WayOut(0, resource, more)
    projects = list(dict.fromkeys(each.project for each in work.activities))
    concerned = {each.project for each in unfit.activities}
    for project in projects if len(projects) > 1 else ():
        if project in concerned:
            yield _without(work, project), WayOut(0, without=project)


def _left_to_itself(work: Work) -> Iterator[tuple[Work, WayOut]]:
    """The work where what comes last, and goes on by itself, need only be begun in time."""
    followed = {lag.before for lag in work.lags}
    last = tuple(
        each
        for each in work.activities
        if each.key not in followed and each.night and each.attendance is Attendance.ENDS
        if not each.at_end and each.at_start < each.lasting.most
    )
    begun = {each.key: _only_begun(each) for each in last}
    activities = tuple(begun.get(each.key, each) for each in work.activities)
    changed = replace(work, activities=activities)
    if last and work.finish_by is not None and least_length(changed) <= work.finish_by:
        yield changed, WayOut(0, left=last)


def _only_begun(each: Activity) -> Activity:
    return replace(each, lasting=Lasting(each.at_start, each.at_start))


def _lies_for_days(each: Activity) -> bool:
    """Whether it lies by itself for a night or for days that are written to the minute."""
    lasting = each.lasting
    by_itself = each.night and each.attendance is Attendance.ENDS
    return by_itself and lasting.least == lasting.most >= _A_NIGHT and not lasting.slowest


def _for_at_least(work: Work, longer: Activity) -> Work:
    """The work where a step goes on for as long as is written, or up to a week longer."""
    most = longer.lasting.most
    lasting = replace(longer.lasting, stretch=most + (A_DAY if most < A_DAY else _A_WEEK))
    changed = replace(longer, lasting=lasting)
    activities = tuple(changed if each is longer else each for each in work.activities)
    return replace(work, activities=activities)


def _longer_waits(work: Work, unfit: NoPlan) -> Iterator[tuple[Work, WayOut]]:
    """The work with a wait of the reason as long as may be."""
    lags_of: dict[tuple[str, str, Point, Point], Lag] = {_ends(lag): lag for lag in unfit.lags}
    for lag in lags_of.values():
        same = [i for i, each in enumerate(work.lags) if _ends(each) == _ends(lag) and each.most]
        if lag.most and lag.why and same:
            lags = [
                replace(each, most=None, at_a_pinch=None, at_last=None) if i in same else each
                for i, each in enumerate(work.lags)
            ]
            yield replace(work, lags=tuple(lags)), WayOut(0, lag=lag)


def _ends(lag: Lag) -> tuple[str, str, Point, Point]:
    return lag.before, lag.after, lag.leaves, lag.reaches


def _without(work: Work, project: str) -> Work:
    """The work without the steps of one procedure."""
    keys = {each.key for each in work.activities if each.project != project}
    vats = (
        replace(
            vat,
            dips=tuple(dip for dip in vat.dips if dip.key in keys),
            made_warm=tuple((key, heat) for key, heat in vat.made_warm if key in keys),
        )
        for vat in work.vats
    )
    return replace(
        work,
        activities=tuple(each for each in work.activities if each.key in keys),
        lags=tuple(lag for lag in work.lags if {lag.before, lag.after} <= keys),
        holds=tuple(hold for hold in work.holds if {hold.first, hold.last} <= keys),
        warmth=tuple(each for each in work.warmth if {each.before, each.after} <= keys),
        vats=tuple(vat for vat in vats if vat.dips),
        waters=tuple(each for each in work.waters if each.key in keys),
        in_order=tuple(key for key in work.in_order if key in keys),
    )


def _every_day_and_longer(
    work: Work, whole: Callable[[Work], Timetable | None]
) -> Iterator[WayOut]:
    """The least that every day would have to be longer, if the place were open on all."""
    every_day = replace(work, windows=daily(work))
    for minutes in _LONGER:
        windows = in_longer_hours(every_day, minutes)
        made = whole(replace(work, windows=windows)) if windows else None
        if made is not None:
            open_daily = every_day.windows == work.windows
            yield WayOut(made.finish, stay=minutes, already_daily=open_daily)
            return
