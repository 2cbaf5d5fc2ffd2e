"""What a plan is not sure of: coolings that are estimated, and until when a bath is hot.

How long a bath cools depends on its pot, its lid and the room, and its estimates lie far apart.
A plan takes the long end of them where that costs no night, else the middle (see
:mod:`procedure.timetable.slow_coolings`); which it is, and how long it may take, is told in each
form.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from datetime import datetime

from procedure.quantity.number_words import listed
from procedure.quantity.record import NamedTuple
from procedure.timetable.hours import clock
from procedure.timetable.planned import Stretch, Timetable
from procedure.timetable.planned_words import moment_in_words, numbered, span
from procedure.timetable.work import Point, Window, hot_times

_MOST_NAMED = 3
_WORTH_A_LOOK = 30
_HOT_STILL = "It may be hot still: mind the steam and the splashes."


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
    # Of one bath the latest time holds, and what was done to it last where two are the same.
    last: dict[str, Stretch] = {}
    for each in hot:
        bath = bath_of(made, each.key)
        if bath not in last or each.end >= last[bath].end:
            last[bath] = each
    return tuple(Stay(each.key, done, each.end) for each in last.values())


def bath_of(made: Timetable, key: str) -> str:
    """What holds the pot in which a step is done; where nothing does, the step is by itself."""
    holds = made.work.holds
    return next((h.key for h in holds if key in (h.first, *h.inside, h.last)), key)


def hot_until(made: Timetable, key: str) -> int | None:
    """The minute until which the bath of a step is too hot to be alone, None where it is not."""
    place = made.at[key]
    times = hot_times(made.work.activity[key], place.start, place.end)
    return max((end for _, end in times), default=None)


def cautions_at(made: Timetable, key: str) -> tuple[str, ...]:
    """The words beside a step of a plan; whether a bath poured away is hot hangs on the plan."""
    if made.work.begins is not None and not made.work.over(key):
        return (*_cooled_already(made, key, made.work.begins), *_hot_or_not(made, key))
    return _hot_or_not(made, key)


def _cooled_already(made: Timetable, key: str, begins: datetime) -> tuple[str, ...]:
    """That a bath which is to cool has stood off the heat for so long that it may have cooled.

    The text has the cooling after other work, so its length is planned; whoever is there measures.
    """
    activity, start = made.work.activity[key], made.at[key].start
    if not activity.lasting.slowest:
        return ()
    since = _last_heated(made, key)
    if start - since < max(_WORTH_A_LOOK, activity.lasting.least):
        return ()
    when = moment_in_words(made.work, since, clock(begins, start))
    return (f"It has stood off the heat since {when}: measure it first, it may be cool by now.",)


def _hot_or_not(made: Timetable, key: str) -> tuple[str, ...]:
    activity = made.work.activity[key]
    minutes = activity.hot_still
    if not minutes or made.at[key].start - _last_heated(made, key) >= minutes:
        return activity.cautions
    return (_HOT_STILL, *activity.cautions)


def _last_heated(made: Timetable, key: str) -> int:
    """When the bath of a step was on a plate last, or else when something was done to it last."""
    bath, start = bath_of(made, key), made.at[key].start
    before = [
        each
        for each in made.placed
        if each.key != key and each.end <= start and bath_of(made, each.key) == bath
    ]
    plates = {each.key for each in made.work.resources if each.kind == "burner"}
    heated = [
        each.end
        for each in before
        if any(need.resource in plates for need in made.work.activity[each.key].needs)
    ]
    return max(heated or [each.end for each in before], default=start)


def may_take(made: Timetable, key: str) -> int:
    """The minutes that a step of estimated length may take at the long end.

    It is nought where the plan has room for that, or where nothing is estimated so.
    """
    place, slowest = made.at[key], made.work.activity[key].lasting.slowest
    over = made.work.over(key)
    return slowest if slowest > place.end - place.start and not over else 0


def estimates(made: object, shortened: Collection[str] = ()) -> list[str]:
    """Which estimated coolings are planned for the long end, and which for the middle.

    Not those after which there is so much time in any case, nor those that are ``shortened``, of
    which more is said.
    """
    if not isinstance(made, Timetable):
        return []
    placed = sorted(made.placed, key=lambda each: each.start)
    placed = [each for each in placed if each.key not in shortened]
    slow = [each.key for each in placed if _slow_and_waited_for(made, each.key)]
    waited = {key for each in made.placed for key in waited_for(made, each.key)}
    middle = [each.key for each in placed if each.key in waited]
    said: list[str] = []
    if slow:
        names = [numbered(made.work.activity[key]) for key in slow]
        said.append(f"Planned for the long end: {_few(names)}; go on as soon as it has cooled.")
    if middle:
        names = [
            f"{numbered(made.work.activity[key])} up to {span(may_take(made, key))}"
            for key in middle
        ]
        said.append(
            f"Planned for the middle: {_few(names)}. If it is still too hot then, what follows "
            "waits for it."
        )
    return [" ".join(("How long a bath cools is estimated.", *said))] if said else []


def _few(names: list[str]) -> str:
    """The first of the names, and how many more there are."""
    names = list(dict.fromkeys(names))
    more = len(names) - _MOST_NAMED
    return listed([*names[:_MOST_NAMED], *([f"{more} more likewise"] if more > 0 else [])])


def _slow_and_waited_for(made: Timetable, key: str) -> bool:
    """Whether an estimated cooling is planned for its long end, and something waits for it."""
    place, lasting = made.at[key], made.work.activity[key].lasting
    slow = 0 < lasting.slowest == lasting.most == place.end - place.start
    return slow and not made.work.over(key) and _next_begins(made, key) == place.end


def _next_begins(made: Timetable, key: str) -> int:
    """When the first of what follows a step begins; after all is over where nothing does."""
    return min(
        (
            made.at[lag.after].start
            for lag in made.work.lags
            if lag.before == key and (lag.leaves, lag.reaches) == (Point.END, Point.START)
        ),
        default=made.finish + 1,
    )


def waited_for(made: Timetable, key: str) -> dict[str, int]:
    """The estimated coolings that may go on into a step, with the minute when they may be over."""
    if key in made.work.happened:
        return {}
    befores = [
        lag.before
        for lag in made.work.lags
        if lag.after == key and (lag.leaves, lag.reaches) == (Point.END, Point.START)
    ]
    over = {each: made.at[each].start + may_take(made, each) for each in befores}
    return {each: minute for each, minute in over.items() if minute > made.at[key].start}
