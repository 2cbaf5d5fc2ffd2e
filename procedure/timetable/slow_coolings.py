"""Which estimated coolings are planned at their long end: those by which there is no night more.

How long a bath cools depends on its pot, its lid and the room, so its estimates lie far apart. A
plan is to hold for the slowest of them. But where a day would not suffice for that, and all would
be over a night later for the sake of a pot that hardly anybody has, the middle is planned; the
papers say which coolings those are (:mod:`procedure.timetable.unsure`).
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace

from procedure.timetable.bounding import least_length
from procedure.timetable.first_plan import first_plan
from procedure.timetable.planned import Timetable
from procedure.timetable.programme import build
from procedure.timetable.searching import search
from procedure.timetable.work import Activity, Work

_MUCH = 60
"""Of more activities only the list rule is asked whether a longer cooling fits."""
_EFFORT = 0.02


def may_be_slow(work: Work) -> tuple[str, ...]:
    """The coolings that are planned for the middle of their estimate and are not over."""
    return tuple(
        each.key
        for each in work.activities
        if each.lasting.slowest > each.lasting.most and not work.over(each.key)
    )


def slower(work: Work, keys: Collection[str]) -> Work:
    """The work where some coolings are at the long end of their estimates."""
    return replace(
        work,
        activities=tuple(_slow(each) if each.key in keys else each for each in work.activities),
    )


def _slow(each: Activity) -> Activity:
    lasting = each.lasting
    longest = max(lasting.longest, lasting.slowest)
    return replace(each, lasting=replace(lasting, most=lasting.slowest, stretch=longest))


def sure_of_its_nights(work: Work, first: Timetable | None) -> bool:
    """Whether a first plan is over after as few nights as any plan is, as is seen at once."""
    return first is not None and _nights(work, first.finish) <= _nights(work, least_length(work))


def at_long_ends(work: Work, known: Timetable) -> Work | None:
    """The work with as many slow coolings as take no more nights than a plan that is known.

    Nor are there more days on which somebody has to come. All of them are tried together, then
    one after the other. None where there is no such cooling.
    """
    slow = may_be_slow(work)
    all_of_them = slower(work, slow)
    if _fits(all_of_them, known):
        return all_of_them
    chosen: list[str] = []
    best = None
    for key in slow:
        if len(chosen) == len(slow) - 1:
            break  # with this one it would be all of them
        tried = slower(work, [*chosen, key])
        if _fits(tried, known):
            chosen.append(key)
            best = tried
    return best


def _fits(work: Work, known: Timetable) -> bool:
    """Whether a plan of the work is found that takes no more nights and days than another."""
    nights = _nights(work, known.finish)
    if _nights(work, least_length(work)) > nights:
        return False
    first = first_plan(work)
    if first is not None and _nights(work, first.finish) <= nights and first.days <= known.days:
        return True
    if len(work.activities) > _MUCH or nights >= len(work.nights):
        return False
    try:
        found = search(build(work, (), work.nights[nights][0]), _EFFORT)
    except ImportError:
        return False
    return bool(found.placed) and Timetable(work, found.placed, 0).days <= known.days


def _nights(work: Work, minute: int) -> int:
    """How many nights have begun by then."""
    return sum(closes < minute for closes, _ in work.nights)
