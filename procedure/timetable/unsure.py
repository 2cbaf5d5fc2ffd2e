"""What a plan is not sure of: coolings that are estimated, and until when a bath is hot.

How long a bath cools depends on its pot, its lid and the room, and its estimates lie far apart.
A plan takes the middle of them (see :mod:`procedure.timetable.lengths`), since at the long end
there is often no plan, or one of a day more; that it may take longer is told in each form.
"""

from __future__ import annotations

from collections.abc import Sequence

from procedure.quantity.number_words import listed
from procedure.quantity.record import NamedTuple
from procedure.timetable.planned import Timetable
from procedure.timetable.planned_words import span
from procedure.timetable.work import Point, Window, hot_times

_MOST_NAMED = 3


class Stay(NamedTuple):
    """A bath that is hot when all other work of a day is over; minutes of the plan.

    Somebody is there from ``start``, when the work is done, to ``end``, when it has cooled.
    """

    key: str
    start: int
    end: int


def stays(made: Timetable, windows: Sequence[Window]) -> tuple[Stay, ...]:
    """The baths of a day, open at ``windows``, for which somebody stays when the work is over.

    Only a bath that was begun too late, which has happened, is hot still at closing.
    """
    opens, closes = windows[0].opens, windows[-1].closes
    done = max((p.end for p in made.hands_on if opens <= p.start < closes), default=opens)
    hot = [each for each in made.hot if opens <= each.start <= closes and each.end > done]
    return tuple(
        Stay(key, done, max(each.end for each in hot if each.key == key))
        for key in dict.fromkeys(each.key for each in hot)
    )


def hot_until(made: Timetable, key: str) -> int | None:
    """The minute until which the bath of a step is too hot to be alone, None where it is not."""
    place = made.at[key]
    times = hot_times(made.work.activity[key], place.start, place.end)
    return max((end for _, end in times), default=None)


def may_take(made: Timetable, key: str) -> int:
    """The minutes that a step of estimated length may take at the long end.

    It is nought where the plan has room for that, or where nothing is estimated so.
    """
    place, slowest = made.at[key], made.work.activity[key].lasting.slowest
    over = made.work.over(key)
    return slowest if slowest > place.end - place.start and not over else 0


def estimates(made: object) -> list[str]:
    """That coolings are planned for the middle of what is estimated, and which may take longer.

    Not of those after which there is so much time in any case.
    """
    if not isinstance(made, Timetable):
        return []
    keys = list(dict.fromkeys(key for each in made.placed for key in waited_for(made, each.key)))
    if not keys:
        return []
    keys.sort(key=lambda key: made.at[key].start)
    named = [
        f"“{made.work.activity[key].name}” (line {made.work.activity[key].place.line}) up to "
        f"{span(may_take(made, key))}"
        for key in keys[:_MOST_NAMED]
    ]
    more = len(keys) - _MOST_NAMED
    named += [f"{more} more likewise"] if more > 0 else []
    return [
        "How long a bath cools is estimated, and planned for the middle: "
        f"{listed(named)}. If it is still too hot then, what follows waits for it."
    ]


def waited_for(made: Timetable, key: str) -> dict[str, int]:
    """The estimated coolings that may go on into a step, with the minute when they may be over."""
    befores = [
        lag.before
        for lag in made.work.lags
        if lag.after == key and (lag.leaves, lag.reaches) == (Point.END, Point.START)
    ]
    over = {each: made.at[each].start + may_take(made, each) for each in befores}
    return {each: minute for each, minute in over.items() if minute > made.at[key].start}
