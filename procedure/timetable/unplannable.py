"""Work that cannot be planned as it is given: a sentence a fault, before anything is solved."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from procedure.timetable.amounts_told import amount_of
from procedure.timetable.work import Activity, Lag, Point, Resource, Work

# More than this and the plan is of no use to a person, nor solved in a bearable time.
MOST_ACTIVITIES = 600


class CannotPlan(ValueError):
    """The work cannot be planned as it is given; the text says why, a sentence a line."""


def faults(work: Work) -> tuple[str, ...]:
    """What is wrong with the work itself, in whole sentences; empty where nothing is."""
    shape = tuple(_shape(work))
    if shape:
        return shape
    return tuple(dict.fromkeys((*_names(work), *_amounts(work), *_circle(work))))


def _shape(work: Work) -> Iterator[str]:
    if not work.activities:
        yield "There is nothing to plan: no step takes any time or hands."
    if len(work.activities) > MOST_ACTIVITIES:
        yield (
            f"{len(work.activities):,} steps are too many for one timetable; "
            f"plan at most {MOST_ACTIVITIES} at once."
        )
    if not work.windows:
        yield "The place is never open in the days asked for; give hours and days when it is."
    for window in work.windows:
        if window.closes <= window.opens:
            yield "The place closes before it opens; give the earlier hour first."
            break
    for key, count in Counter(each.key for each in work.activities).items():
        if count > 1:
            yield f"Two steps are called {key}; each needs a name of its own."


def _names(work: Work) -> Iterator[str]:
    known = work.resource
    for activity in work.activities:
        for need in (*activity.needs, *activity.hands):
            if need.resource not in known:
                yield f"“{activity.name}” needs {need.resource}, which the workshop does not have."
    for hold in work.holds:
        if hold.need.resource not in known:
            yield f"{hold.name or hold.key} needs {hold.need.resource}, which is not there."
        for key in (hold.first, hold.last):
            if key not in work.activity:
                yield f"{hold.name or hold.key} hangs on {key}, which is no step of this work."
    for lag in work.lags:
        for key in (lag.before, lag.after):
            if key not in work.activity:
                yield f"A wait hangs on {key}, which is no step of this work."
    yield from _happened(work)


def _happened(work: Work) -> Iterator[str]:
    for done in work.done:
        if done.key not in work.activity:
            yield f"{done.key} is said to be done, but no step is called that."
        elif done.end is not None and done.end < done.start:
            yield f"“{work.activity[done.key].name}” is said to have ended before it began."


def _amounts(work: Work) -> Iterator[str]:
    for activity in work.activities:
        lasting = activity.lasting
        if not 0 <= lasting.least <= lasting.most:
            yield f"“{activity.name}” takes less than no time, or less than its least."
        for need in (*activity.needs, *activity.hands):
            name, line = f"“{activity.name}”", work.resource.get(need.resource)
            if line is not None and line.kind == "line" and need.amount > line.capacity:
                yield _too_short_a_line(activity, need.amount, line)
            else:
                yield from _too_much(work, need.resource, need.amount, name)
    for hold in work.holds:
        need = hold.need
        yield from _too_much(work, need.resource, need.amount, hold.name or hold.key)


def _too_short_a_line(activity: Activity, grams: int, line: Resource) -> str:
    """That a step hangs up more than there is room for, and what to do about it."""
    where = f"Line {activity.place.line}: " if activity.place.line else ""
    room, hangs = amount_of(line, line.capacity), amount_of(line, grams)
    way = "dry its lots one after the other, each in a step of its own"
    if len(activity.lots) == 1:
        way = f"split {activity.lots[0]} into lots that are dried one after the other"
    return (
        f"{where}“{activity.name}” hangs up {hangs} at once, and {line.name} has room for {room}: "
        f"have a line for {hangs}, or {way}."
    )


def _too_much(work: Work, key: str, amount: int, what: str) -> Iterator[str]:
    resource = work.resource.get(key)
    if resource is None or amount <= resource.capacity:
        return
    if resource.kind == "people" and resource.capacity == 0:
        yield "A step needs a person, and nobody is there; say how many hands there are."
        return
    yield (
        f"{what} needs {amount_of(resource, amount)} of {resource.name}, "
        f"and there is only {amount_of(resource, resource.capacity)}."
    )


def _circle(work: Work) -> Iterator[str]:
    """Waits that ask a step to come before itself."""
    known = work.activity
    edges: list[tuple[str, str, int, Lag | None]] = []
    for lag in work.lags:
        if lag.before not in known or lag.after not in known:
            return
        edges.append((*_from_start_to_start(work, lag), lag))
    after: dict[str, tuple[str, Lag | None]] = {}
    earliest = dict.fromkeys(known, 0)
    for _round in range(len(known) + 1):
        moved = ""
        for before, later, least, lag_of in edges:
            if earliest[before] + least > earliest[later]:
                earliest[later] = earliest[before] + least
                after[later] = (before, lag_of)
                moved = later
        if not moved:
            return
    yield _circle_in_words(work, after, moved)


def _from_start_to_start(work: Work, lag: Lag) -> tuple[str, str, int]:
    """The least wait of a lag between two starts, at the shortest that each can be."""
    before, later = work.activity[lag.before].lasting, work.activity[lag.after].lasting
    least = lag.least
    if lag.leaves is Point.END:
        least += before.most
    if lag.reaches is Point.END:
        least -= later.longest
    return lag.before, lag.after, least


def _circle_in_words(work: Work, after: dict[str, tuple[str, Lag | None]], start: str) -> str:
    seen: list[str] = []
    here = start
    while here not in seen:
        seen.append(here)
        here = after[here][0]
    ring = seen[seen.index(here) :][::-1]
    names = [f"“{work.activity[key].name}”" for key in ring]
    if len(names) == 1:
        return f"{names[0]} would have to come before itself."
    return f"These steps go round in a circle, each after the one before: {', '.join(names)}."
