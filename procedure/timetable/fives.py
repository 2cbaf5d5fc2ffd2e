"""Clock times on full five minutes, where nothing in the work forbids it.

Where all lengths and waits are whole fives, every start and end of a plan can go back to the
five minutes before it, or all be rounded in another way that is the same for all: what came
after something still does, no wait grows or shrinks beyond what it may, and two that took
turns still do. Only hands that are wanted for less than five minutes may be wanted twice then,
and a bath may have to be warmed that had not, or the other way round: that is looked for.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from procedure.timetable.planned import Placed, Timetable
from procedure.timetable.warming import stands
from procedure.timetable.work import Work, stretches

FIVE = 5
_ROUNDINGS = (0, 2, 4, 1, 3)
"""Minutes that are added before all times go back to the five minutes before, in turn."""


def on_fives(made: Timetable) -> Timetable:
    """The plan with all its times on full five minutes; the plan itself where that cannot be."""
    if not _all_fives(made):
        return made
    warm = [stands(made, each) for each in made.work.warmth]
    for more in _ROUNDINGS:
        placed = tuple(
            Placed(each.key, _five(each.start + more), _five(each.end + more))
            for each in made.placed
        )
        back = replace(made, placed=placed)
        as_warm = warm == [stands(back, each) for each in back.work.warmth]
        if as_warm and back.finish <= made.finish and _hands_suffice(back):
            return back
    return made


def _five(minute: int) -> int:
    return minute // FIVE * FIVE


def _all_fives(made: Timetable) -> bool:
    return all(minutes % FIVE == 0 for minutes in _minutes(made))


def _minutes(made: Timetable) -> Iterator[int]:
    """All that the plan is bound to, in minutes; and the minute of the hour at which it begins."""
    work = made.work
    yield work.begins.minute if work.begins is not None else 0
    yield work.now
    for window in work.windows:
        yield from (window.opens, window.closes)
    for lag in work.lags:
        yield from (lag.least, lag.most or 0)
    for each in work.activities:
        place = made.at[each.key]
        yield each.at_end
        if each.lasting.elastic or place.end - place.start != each.lasting.most:
            yield from (each.lasting.least, each.lasting.most, each.lasting.longest)
        else:
            yield each.lasting.most
    for one in work.done:
        yield from (one.start, one.end or 0)


def _hands_suffice(made: Timetable) -> bool:
    """Whether nobody is wanted twice at a time."""
    return all(
        _most_at_once(made, resource.key) <= resource.capacity
        for resource in made.work.resources
        if resource.kind == "people"
    )


def _most_at_once(made: Timetable, key: str) -> int:
    work: Work = made.work
    changes: list[tuple[int, int]] = []
    for place in made.placed:
        each = work.activity[place.key]
        amount = sum(need.amount for need in each.hands if need.resource == key)
        for start, end in stretches(each, place.start, place.end) if amount else ():
            changes += [(start, amount), (end, -amount)]
    most = now = 0
    for _, change in sorted(changes):
        now += change
        most = max(most, now)
    return most
