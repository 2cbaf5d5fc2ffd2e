"""Waits that contradict each other, seen without a search.

Where each of some waits can be kept only if another is not, every way round them takes longer than
it may. The solver finds that out by putting all of them off, minute by minute, to the last of its
days, which takes seconds; the longest ways between the steps show it at once.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator

from procedure.timetable.programme import ConstraintGroup
from procedure.timetable.work import Point, Work

_Wait = tuple[int, int, int]
"""From which moment to which, by their numbers, and how many minutes lie between at the least."""


def waits_contradict(work: Work, without: Collection[ConstraintGroup] = ()) -> bool:
    """Whether lengths and waits alone cannot be kept, whatever the hours and whoever is there.

    ``without`` are parts of the programme that do not count. Of work of which something has
    happened nothing is said.
    """
    if work.done:
        return False
    waits = list(_waits(work, frozenset(without)))
    least = [0] * (2 * len(work.activities))
    for _round in range(len(least) + 1):
        moved = False
        for before, after, minutes in waits:
            if least[before] + minutes > least[after]:
                least[after] = least[before] + minutes
                moved = True
        if not moved:
            return False
    return True


def _waits(work: Work, left_out: frozenset[ConstraintGroup]) -> Iterator[_Wait]:
    warming: dict[str, int] = {}
    for bath in work.warmth:
        warming[bath.after] = max(bath.minutes, warming.get(bath.after, 0))
    kept = [a for a in work.activities if ConstraintGroup("activity", a.key) not in left_out]
    number = {each.key: 2 * i for i, each in enumerate(kept)}
    for each in kept:
        start = number[each.key]
        yield start, start + 1, each.lasting.most
        yield start + 1, start, -each.lasting.longest - warming.get(each.key, 0)
    for i, lag in enumerate(work.lags):
        if lag.before not in number or lag.after not in number:
            continue
        before = number[lag.before] + (lag.leaves is Point.END)
        after = number[lag.after] + (lag.reaches is Point.END)
        if ConstraintGroup("least wait", str(i)) not in left_out:
            yield before, after, lag.least
        if lag.most is not None and ConstraintGroup("greatest wait", str(i)) not in left_out:
            yield after, before, -lag.most
