"""What can give: how much later each step could come, and when the hands are free.

A step's room is counted with every other step where the plan has it: it may start so many
minutes later and nothing else need move.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby, pairwise

from procedure.timetable.planned import Timetable
from procedure.timetable.work import Activity, Lag, Point, hot_times, stretches

LEAST_FREE = 15
"""Minutes below which a pause is not worth speaking of."""


@dataclass(frozen=True, slots=True)
class Room:
    """How many minutes later an activity could start, and how much sooner it may be over.

    ``shorter`` is what its range leaves: it is planned at its long end.
    """

    key: str
    later: int
    shorter: int


@dataclass(frozen=True, slots=True)
class Free:
    """A time with no hands-on work; ``watched`` are the activities to be looked at meanwhile.

    Where nothing is watched, one may leave.
    """

    start: int
    end: int
    watched: tuple[str, ...] = ()


def rooms(made: Timetable) -> tuple[Room, ...]:
    """What can give in each activity that has not begun, in the order of the plan."""
    happened = made.work.happened
    ordered = sorted(made.placed, key=lambda each: (each.start, each.end, each.key))
    found = []
    for each in ordered:
        if each.key in happened:
            continue
        activity = made.work.activity[each.key]
        found.append(Room(each.key, _later(made, activity), _sooner_over(made, activity)))
    return tuple(found)


def _sooner_over(made: Timetable, activity: Activity) -> int:
    """How much sooner a step may be over by its own range; at a night it lasts until morning."""
    lasting, place = activity.lasting, made.at[activity.key]
    took = place.end - place.start
    if activity.overnight:
        return max(0, min(took, lasting.most) - lasting.least)
    return max(0, took - lasting.least)


def _later(made: Timetable, activity: Activity) -> int:
    """By how many minutes an activity could come later with all else where it is."""
    place = made.at[activity.key]
    most = max(0, made.finish - place.end)
    for lag in made.work.lags:
        most = min(most, _left_by(made, lag, activity.key))
    most = min(most, _left_by_hours(made, activity))
    return max(0, min(most, _left_by_others(made, activity, most)))


def _left_by(made: Timetable, lag: Lag, key: str) -> int:
    far = made.finish
    if lag.before == lag.after:
        return far
    wait = made.moment(lag.after, lag.reaches) - made.moment(lag.before, lag.leaves)
    if lag.before == key:
        return wait - lag.least
    if lag.after == key and lag.wished is not None:
        return lag.wished - wait  # below nought where it has to wait in any case
    return far


def _left_by_hours(made: Timetable, activity: Activity) -> int:
    """Until the place closes on the first thing that must be over by then."""
    work, place = made.work, made.at[activity.key]
    by_day = list(stretches(activity, place.start, place.end))
    if activity.in_hours:
        by_day.append((place.start, place.end))
    by_day += hot_times(activity, place.start, place.end)
    for hold in work.holds:
        if not hold.night and activity.key in (hold.first, hold.last):
            by_day.append((place.start, place.end))
    left = made.finish
    if activity.by_day and not activity.in_hours:
        left = min(left, *(b - place.end for a, b in work.days if a <= place.start < b))
    for start, end in by_day:
        closing = [w.closes - end for w in work.spells if w.opens <= start and end <= w.closes]
        left = min(left, *closing) if closing else 0
    if activity.begun_by_hand:
        left = min(
            left,
            *(w.closes - place.start for w in work.windows if w.opens <= place.start <= w.closes),
        )
    if activity.overnight:
        left = min(
            left, max((a - place.start for a, b in work.nights if b <= place.end), default=0)
        )
    return left


def _left_by_others(made: Timetable, activity: Activity, most: int) -> int:
    """Until another takes what it needs."""
    work, place = made.work, made.at[activity.key]
    there: dict[str, list[tuple[int, int, int]]] = {}
    for more in range(1, most + 1):
        moved = (place.start + more, place.end + more)
        for resource, start, end, amount in _taken(made, activity, moved):
            if resource not in there:
                there[resource] = _others(made, resource, activity.key)
            others = there[resource]
            capacity = work.resource[resource].capacity
            if _busiest(others, start, end) + amount > capacity:
                return more - 1
    return most


def _taken(
    made: Timetable, activity: Activity, place: tuple[int, int]
) -> list[tuple[str, int, int, int]]:
    """What an activity and the holds that hang on it take when it is placed there."""
    start, end = place
    found = [(need.resource, start, end, need.amount) for need in activity.needs]
    found += [
        (need.resource, a, b, need.amount)
        for a, b in stretches(activity, start, end)
        for need in activity.hands
    ]
    found += [
        (need.resource, a, b, need.amount)
        for a, b in hot_times(activity, start, end)
        for need in activity.hot_needs
    ]
    for hold in made.work.holds:
        if activity.key not in (hold.first, hold.last):
            continue
        a = made.moment(hold.first, hold.begins)
        b = made.moment(hold.last, hold.ends)
        if hold.first == activity.key:
            a = start if hold.begins is Point.START else end
        if hold.last == activity.key:
            b = start if hold.ends is Point.START else end
        found.append((hold.need.resource, a, b, hold.need.amount))
    return found


def _others(made: Timetable, resource: str, key: str) -> list[tuple[int, int, int]]:
    work = made.work
    found = []
    for each in work.activities:
        if each.key == key:
            continue
        place = made.at[each.key]
        found += [(place.start, place.end, n.amount) for n in each.needs if n.resource == resource]
        found += [
            (a, b, need.amount)
            for need in each.hands
            if need.resource == resource
            for a, b in stretches(each, place.start, place.end)
        ]
        found += [
            (a, b, need.amount)
            for need in each.hot_needs
            if need.resource == resource
            for a, b in hot_times(each, place.start, place.end)
        ]
    for hold in work.holds:
        if hold.need.resource == resource and key not in (hold.first, hold.last):
            a, b = made.moment(hold.first, hold.begins), made.moment(hold.last, hold.ends)
            found.append((a, b, hold.need.amount))
    return found


def _busiest(uses: list[tuple[int, int, int]], start: int, end: int) -> int:
    """The most that is taken at once between two moments."""
    if start >= end:
        return 0
    there = [use for use in uses if use[0] < end and start < use[1]]
    moments = [start, *(a for a, _, _ in there if a > start)]
    return max(sum(n for a, b, n in there if a <= moment < b) for moment in moments)


def free_times(made: Timetable, least: int = LEAST_FREE) -> tuple[Free, ...]:
    """The pauses between the first and last hands-on work of each day, for all the hands.

    From now on, where something has happened. A pause is in parts where one may leave in some.
    """
    found: list[Free] = []
    now = made.work.now if made.work.done else None
    for opens, closes in made.work.days:
        pieces = [p for p in made.to_come if p.start < closes and opens < p.end]
        until = pieces[0].start if pieces else closes
        if now is not None and opens <= now < until:
            until = now
        for piece in pieces:
            if piece.start - until >= least:
                found += _in_parts(made, until, piece.start, least)
            until = max(until, piece.end)
    return tuple(found)


def _in_parts(made: Timetable, start: int, end: int, least: int) -> list[Free]:
    """A pause, parted where what must not be left begins or is over.

    Nobody leaves for less than ``least``.
    """
    moments = {start, end}
    moments |= {moment for each in made.placed for moment in (each.start, each.end)}
    moments |= {moment for each in made.hot for moment in (each.start, each.end)}
    spans = list(pairwise(sorted(each for each in moments if start <= each <= end)))
    stay: list[tuple[bool, int, int]] = []
    for near, some in groupby(spans, lambda each: bool(made.watched(*each))):
        first, *_, last = [*some] * 2
        near = near or last[1] - first[0] < least
        begins = stay.pop()[1] if stay and stay[-1][0] == near else first[0]
        stay.append((near, begins, last[1]))
    return [Free(a, b, made.watched(a, b)) for _, a, b in stay]
