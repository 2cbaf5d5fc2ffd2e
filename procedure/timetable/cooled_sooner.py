"""What is gained where a bath has cooled sooner than is planned.

How long a bath cools is estimated, and planned at the long end or for the middle. Somebody who is
there sees when it has cooled, and goes on. What that gains is told by planning the rest again, as
it would be from the soonest minute at which it may have cooled.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from procedure.timetable.bounding import least_length
from procedure.timetable.first_plan import first_plan
from procedure.timetable.planned import Placed, Timetable
from procedure.timetable.searching import VERY_MUCH
from procedure.timetable.solving import soon_shortened
from procedure.timetable.work import Activity, Done, Point, Work

_EFFORT = 0.02
_MOST_ASKED = 6


def soonest_cooled(made: Timetable) -> dict[str, int]:
    """The minute at which a cooling may be over at the soonest, where the next step waits for it.

    Only where somebody may be there to see it, and it has not begun yet.
    """
    found = {}
    for place in sorted(made.placed, key=lambda each: each.start):
        activity = made.work.activity[place.key]
        lasting = activity.lasting
        soonest = place.start + lasting.least
        if not lasting.slowest or activity.overnight or place.key in made.work.happened:
            continue
        there = any(w.opens <= soonest <= w.closes for w in made.work.windows)
        if there and soonest < place.end and _waited_for(made, place):
            found[place.key] = soonest
    return found


def gained(made: Timetable) -> dict[str, int]:
    """By how many minutes all is over sooner where a bath has cooled as soon as it may have.

    Nothing is said of very much work, nor of more than the first few coolings. Raises
    ``ImportError`` where the solver is missing.
    """
    if len(made.work.activities) > VERY_MUCH:
        return {}
    soonest = list(soonest_cooled(made).items())[:_MOST_ASKED]
    return {key: _gained(made, key, minute) for key, minute in soonest}


def _waited_for(made: Timetable, place: Placed) -> bool:
    return any(
        lag.before == place.key
        and (lag.leaves, lag.reaches) == (Point.END, Point.START)
        and made.at[lag.after].start == place.end
        for lag in made.work.lags
    )


def _as_long(made: Timetable, done: Iterable[Done]) -> Work:
    """The work in which no step that is to come is shorter than it is planned.

    Only what goes on for longer than is written, to suit the hours, is as short as is written
    where the hours come otherwise: what is gained is by the bath that has cooled, and not by the
    short end of a range.
    """
    over = {each.key for each in done if each.end is not None}
    return replace(
        made.work,
        activities=tuple(
            each if each.key in over else _no_shorter(each, made.at[each.key])
            for each in made.work.activities
        ),
    )


def _no_shorter(each: Activity, place: Placed) -> Activity:
    lasting = each.lasting
    took = min(place.end - place.start, lasting.longest)
    if each.overnight or lasting.written or lasting.slowest or took <= lasting.most:
        return each
    return replace(each, lasting=replace(lasting, most=took, stretch=lasting.longest))


def _gained(made: Timetable, key: str, minute: int) -> int:
    begun = [each for each in made.placed if each.start < minute]
    done = tuple(
        Done(
            each.key,
            each.start,
            minute if each.key == key else each.end if each.end <= minute else None,
        )
        for each in begun
    )
    rest = replace(_as_long(made, done), done=done, now=minute)
    if least_length(rest) >= made.finish:
        return 0
    placed = tuple(replace(p, end=minute) if p.key == key else p for p in made.placed)
    known = replace(made, work=rest, placed=placed)
    first = first_plan(rest)
    if first is not None and first.finish < known.finish:
        known = first
    found = soon_shortened(rest, _EFFORT, known)
    return max(0, made.finish - min(known.finish, found.value or known.finish))
