"""Steps that follow one another so closely that no night goes between them, and fill no day.

What may not go on over a night begins and ends on one day. Where the longest wait that is allowed
between two such steps is shorter than any night, both are on the same day; and so are all that hang
together by such waits. If they take longer one after the other than any day is open, there is no
plan, whatever pots and hands there are. That is arithmetic, and its reason is one sentence.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass

from procedure.quantity.record import NamedTuple
from procedure.timetable.work import Activity, Attendance, Lag, Point, Work

_Moment = tuple[str, Point]


@dataclass(frozen=True)
class Unparted:
    """Steps of one day in their order, for how many minutes, and the longest wait among them."""

    steps: tuple[Activity, ...]
    minutes: int
    longest: Lag | None


class _Way(NamedTuple):
    """The longest way to a moment: so many minutes, by these steps."""

    minutes: int
    keys: tuple[str, ...]


def too_long_for_a_day(work: Work) -> Unparted | None:
    """The fewest steps of one day that take longer than any day; None where there are none.

    Of work of which something has happened nothing is said.
    """
    if work.done or not work.windows:
        return None
    links = _links(work)
    day = max(closes - opens for opens, closes in work.days)
    found: Unparted | None = None
    for together in _hanging_together(work, links):
        made = _longest_row(work, together, links)
        if made.minutes > day and (found is None or len(made.steps) < len(found.steps)):
            found = made
    return found


def _links(work: Work) -> list[Lag]:
    """The waits between moments at which somebody is there, too short for a night to go in."""
    nights = [opens - closes for closes, opens in work.nights]
    night = min(nights, default=None)
    return [
        lag
        for lag in work.lags
        if lag.most is not None
        and (night is None or lag.most < night)
        and _somebody_is_there(work.activity[lag.before], lag.leaves)
        and _somebody_is_there(work.activity[lag.after], lag.reaches)
    ]


def _somebody_is_there(each: Activity, point: Point) -> bool:
    """Whether the place is open whenever an activity starts, or ends."""
    if each.by_day:
        return True
    if not each.hands or each.attendance is Attendance.NONE:
        return False
    return bool(each.at_start) if point is Point.START else bool(each.at_end)


def _hanging_together(work: Work, links: list[Lag]) -> Iterator[set[_Moment]]:
    """The moments of one day: of a step that is over on the day, and by the waits."""
    beside: dict[_Moment, list[_Moment]] = defaultdict(list)
    for each in work.activities:
        if each.by_day:
            start, end = (each.key, Point.START), (each.key, Point.END)
            beside[start].append(end)
            beside[end].append(start)
    for lag in links:
        one, two = (lag.before, lag.leaves), (lag.after, lag.reaches)
        beside[one].append(two)
        beside[two].append(one)
    left = set(beside)
    while left:
        found, next_ones = set[_Moment](), [left.pop()]
        while next_ones:
            moment = next_ones.pop()
            found.add(moment)
            next_ones += [each for each in beside[moment] if each not in found]
        left -= found
        yield found


def _longest_row(work: Work, together: set[_Moment], links: list[Lag]) -> Unparted:
    """The steps that take longest one after the other, from one of some moments to another.

    What lies between two of them need not be one of them itself.
    """
    waits = [((a.key, Point.START), (a.key, Point.END), a.lasting.most) for a in work.activities]
    waits += [
        ((lag.before, lag.leaves), (lag.after, lag.reaches), lag.least)
        for lag in work.lags
        if lag.least >= 0
    ]
    ways = {moment: _Way(0, (moment[0],)) for moment in together}
    for _round in range(len(waits)):
        moved = False
        for before, after, minutes in waits:
            if before not in ways:
                continue
            way = ways[before]
            if after not in ways or way.minutes + minutes > ways[after].minutes:
                keys = way.keys if way.keys[-1] == after[0] else (*way.keys, after[0])
                ways[after], moved = _Way(way.minutes + minutes, keys), True
        if not moved:
            break
    longest = max((ways[each] for each in together), key=lambda way: (way.minutes, -len(way.keys)))
    inner = [lag for lag in links if {lag.before, lag.after} <= {*longest.keys}]
    return Unparted(
        tuple(work.activity[key] for key in longest.keys),
        longest.minutes,
        max(inner, key=lambda lag: lag.most or 0, default=None),
    )
