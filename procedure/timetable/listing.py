"""A first plan at once, by a simple rule: take the steps in order, each as soon as it fits.

Two orders are tried (the step with the longest way to the end first; the order of the
text) and the shorter plan is taken. Where a greatest wait cannot be kept, the step from
which it is counted is put off by as much as is missing, and the plan is made again. The
rule finds a plan in most cases, not in all; it proves nothing but a simple bound.
"""

from __future__ import annotations

import time
from collections import defaultdict
from collections.abc import Callable
from dataclasses import dataclass, field

from procedure.timetable.planned import Method, Placed, Timetable
from procedure.timetable.work import (
    Activity,
    Attendance,
    Lag,
    Point,
    Work,
    stretches,
)

PATIENCE = 0.8
"""Seconds after which no further order is tried."""
_TRIES = 400
_FAR = 10**9


@dataclass
class _Sheet:
    """A plan being written: what is placed, what is taken when."""

    work: Work
    placed: dict[str, Placed] = field(default_factory=dict)
    taken: dict[str, list[tuple[int, int, int]]] = field(
        default_factory=lambda: defaultdict(list)
    )
    held: dict[str, tuple[int, int, int]] = field(default_factory=dict)


@dataclass(frozen=True)
class _PutOff(Exception):
    """An activity has to be put off by so many minutes for another to come in time."""

    key: str
    by: int


class _Stuck(Exception):
    """By this order nothing more can be placed."""


def first_plan(work: Work) -> Timetable | None:
    """A plan by the list rule, or None where the rule finds none.

    The work has no faults (:func:`procedure.timetable.faults.faults`).
    """
    tails = _tails(work)
    rank = {each.key: i for i, each in enumerate(work.activities)}
    orders: tuple[Callable[[str], tuple[int, int]], ...] = (
        lambda key: (-tails[key], rank[key]),
        lambda key: (rank[key], 0),
    )
    until = time.monotonic() + PATIENCE
    best: Timetable | None = None
    for order in orders:
        made = _by(work, order, until)
        if made is not None and (best is None or made.finish < best.finish):
            best = made
    return best


def _tails(work: Work) -> dict[str, int]:
    """The least time from each activity's start to the end of all, by the waits alone."""
    tails = {each.key: each.lasting.most for each in work.activities}
    for _round in range(len(work.activities)):
        moved = False
        for lag in work.lags:
            least = _least_between_starts(work, lag) + tails[lag.after]
            if least > tails[lag.before]:
                tails[lag.before] = least
                moved = True
        if not moved:
            break
    return tails


def _least_between_starts(work: Work, lag: Lag) -> int:
    before, after = work.activity[lag.before].lasting, work.activity[lag.after].lasting
    return (
        lag.least
        + (before.most if lag.leaves is Point.END else 0)
        - (after.longest if lag.reaches is Point.END else 0)
    )


def least_length(work: Work) -> int:
    """A bound that is proven by the waits alone: the longest chain of steps."""
    tails = _tails(work)
    open_tails = (tail for key, tail in tails.items() if key not in work.happened)
    return work.now + max(open_tails, default=0)


def _by(
    work: Work, order: Callable[[str], tuple[int, int]], until: float
) -> Timetable | None:
    release = dict.fromkeys(work.activity, work.now)
    for _try in range(_TRIES):
        sheet = _Sheet(work)
        try:
            _fill(sheet, order, release)
        except _PutOff as later:
            if later.key in work.happened or time.monotonic() > until:
                return None
            release[later.key] = max(release[later.key], later.by)
            if release[later.key] > work.horizon:
                return None
            continue
        except _Stuck:
            return None
        placed = tuple(sheet.placed[each.key] for each in work.activities)
        made = Timetable(work, placed, least_length(work), Method.LIST_RULE, searched=False)
        late = work.finish_by is not None and made.finish > work.finish_by
        return None if late or _over_used(sheet) or not _waits_kept(made) else made
    return None


def _waits_kept(made: Timetable) -> bool:
    """Whether all waits are kept, also those counted to an end that was let come later."""
    for lag in made.work.lags:
        if lag.after in made.work.happened:
            continue
        wait = made.moment(lag.after, lag.reaches) - made.moment(lag.before, lag.leaves)
        if wait < lag.least or (lag.most is not None and wait > lag.most):
            return False
    return True


def _over_used(sheet: _Sheet) -> bool:
    """Whether a step that also begins or ends a hold has taken more than there is."""
    for key, uses in sheet.taken.items():
        for moment, _, _ in uses:
            there = (amount for start, end, amount in uses if start <= moment < end)
            if sum(there) > sheet.work.resource[key].capacity:
                return True
    return False


def _fill(
    sheet: _Sheet, order: Callable[[str], tuple[int, int]], release: dict[str, int]
) -> None:
    work = sheet.work
    into: dict[str, list[Lag]] = defaultdict(list)
    for lag in work.lags:
        into[lag.after].append(lag)
    for done in work.done:
        _enter_done(sheet, done.key)
    waiting = sorted((key for key in work.activity if key not in sheet.placed), key=order)
    while waiting:
        for key in waiting:
            if _may_come(sheet, key, into[key]):
                _enter(sheet, key, release[key], into[key])
                waiting.remove(key)
                break
        else:
            raise _Stuck


def _enter_done(sheet: _Sheet, key: str) -> None:
    work = sheet.work
    done, activity = work.happened[key], work.activity[key]
    end = done.end
    if end is None:
        end = max(work.now, done.start + activity.lasting.most)
        for need in activity.needs:
            sheet.taken[need.resource].append((work.now, end, need.amount))
    sheet.placed[key] = Placed(key, done.start, end)
    _holds_after(sheet, key)


def _may_come(sheet: _Sheet, key: str, lags: list[Lag]) -> bool:
    """Whether all before it is placed and the pots that it starts to hold are not held."""
    for lag in lags:
        if lag.least >= 0 and lag.before not in sheet.placed and lag.before != key:
            return False
    for hold in sheet.work.holds:
        if hold.first != key or hold.last in sheet.placed:
            continue
        capacity = sheet.work.resource[hold.need.resource].capacity
        endless = sum(
            amount
            for _, end, amount in (
                *sheet.taken[hold.need.resource],
                *(
                    sheet.held[other.key]
                    for other in sheet.work.holds
                    if other.key in sheet.held and other.need.resource == hold.need.resource
                ),
            )
            if end >= _FAR
        )
        if endless + hold.need.amount > capacity:
            return False
    return True


def _enter(sheet: _Sheet, key: str, release: int, lags: list[Lag]) -> None:
    """Place an activity at the first time that fits, or say what has to be put off for it."""
    work, activity = sheet.work, sheet.work.activity[key]
    earliest, latest = release, _FAR
    binding: Lag | None = None
    for lag in lags:
        before = sheet.placed.get(lag.before)
        if before is None:
            continue
        at = before.start if lag.leaves is Point.START else before.end
        back = activity.lasting.most if lag.reaches is Point.END else 0
        earliest = max(earliest, at + lag.least - back)
        if lag.most is not None and at + lag.most - back < latest:
            latest, binding = at + lag.most - back, lag
    for lag in work.lags:
        after = sheet.placed.get(lag.after)
        if lag.before == key and after is not None and lag.after not in work.happened:
            at = after.start if lag.reaches is Point.START else after.end
            forth = activity.lasting.most if lag.leaves is Point.END else 0
            if lag.most is not None:
                earliest = max(earliest, at - lag.most - forth)
            if at - lag.least - forth < latest:
                latest, binding = at - lag.least - forth, lag
    start, end = _first_fit(sheet, activity, earliest)
    if start > latest and binding is not None:
        other = binding.before if binding.after == key else binding.after
        raise _PutOff(other, sheet.placed[other].start + start - latest)
    _check_night_of_holds(sheet, key, end)
    sheet.placed[key] = Placed(key, start, end)
    for resource, begin, finish, amount in _takes(activity, start, end):
        sheet.taken[resource].append((begin, finish, amount))
    _holds_after(sheet, key)


def _check_night_of_holds(sheet: _Sheet, key: str, end: int) -> None:
    """What may not lie there at night is begun so late that it is over the same day."""
    for hold in sheet.work.holds:
        if hold.last != key or hold.night or hold.first not in sheet.placed:
            continue
        first = sheet.placed[hold.first]
        begun = first.start if hold.begins is Point.START else first.end
        for closes, opens in sheet.work.closed:
            if begun < opens and closes < end:
                raise _PutOff(hold.first, max(first.start + 1, opens))


def _holds_after(sheet: _Sheet, key: str) -> None:
    for hold in sheet.work.holds:
        resource = hold.need.resource
        if hold.first == key and hold.last not in sheet.placed:
            first = sheet.placed[key]
            begun = first.start if hold.begins is Point.START else first.end
            sheet.held[hold.key] = (begun, _FAR, hold.need.amount)
        elif hold.last == key and hold.first in sheet.placed:
            first, last = sheet.placed[hold.first], sheet.placed[key]
            sheet.held.pop(hold.key, None)
            begun = first.start if hold.begins is Point.START else first.end
            over = last.start if hold.ends is Point.START else last.end
            sheet.taken[resource].append((begun, over, hold.need.amount))


def _takes(activity: Activity, start: int, end: int) -> list[tuple[str, int, int, int]]:
    """What an activity takes of which resource, from when to when."""
    whole = [(need.resource, start, end, need.amount) for need in activity.needs]
    hands = [
        (need.resource, begin, finish, need.amount)
        for begin, finish in stretches(activity, start, end)
        for need in activity.hands
    ]
    return whole + hands


def _first_fit(sheet: _Sheet, activity: Activity, earliest: int) -> tuple[int, int]:
    """The first start, not before ``earliest``, at which an activity fits, and its end."""
    start = max(0, earliest)
    while start <= sheet.work.horizon:
        end = start + activity.lasting.most
        later, needs_longer = _hindrance(sheet, activity, start, end)
        while later and needs_longer and end < start + activity.lasting.longest:
            end = min(max(end + 1, needs_longer), start + activity.lasting.longest)
            later, needs_longer = _hindrance(sheet, activity, start, end)
        if not later:
            return start, end
        start = max(start + 1, later)
    raise _Stuck


def _hindrance(sheet: _Sheet, activity: Activity, start: int, end: int) -> tuple[int, int]:
    """Where an activity does not fit: the next start, and the next end, to try; else noughts.

    The next end is nought where a later end would not help.
    """
    closed = _closed(sheet, activity, start, end)
    if closed != (0, 0):
        return closed
    for hold in sheet.work.holds:
        if hold.first == activity.key and hold.last not in sheet.placed:
            begun = start if hold.begins is Point.START else end
            free = _free_from(sheet, hold.need.resource, begun, _FAR, hold.need.amount)
            if free:
                return start + free - begun, 0
    for resource, begin, finish, amount in _takes(activity, start, end):
        free = _free_from(sheet, resource, begin, finish, amount)
        if free:
            at_end = begin > start
            return start + free - begin, (end + free - begin if at_end else 0)
    return 0, 0


def _closed(sheet: _Sheet, activity: Activity, start: int, end: int) -> tuple[int, int]:
    """The same for opening hours and nights."""
    work = sheet.work
    if activity.in_hours:
        for closes, opens in work.closed:
            if start < opens and closes < end:
                return opens, 0
    if activity.overnight and not any(start <= a and b <= end for a, b in work.nights):
        coming = [(a, b) for a, b in work.nights if a >= start]
        if not coming:
            return _FAR, 0
        late = coming[0][1] - activity.lasting.longest
        return max(start + 1, late), coming[0][1]
    for begin, finish in stretches(activity, start, end):
        for closes, opens in work.closed:
            if begin < opens and closes < finish:
                at_end = begin > start and activity.attendance is not Attendance.WHOLE
                later = max(start + 1, start + opens - begin)
                if at_end:
                    wanted = opens + finish - begin
                    return max(start + 1, wanted - activity.lasting.longest), wanted
                return later, 0
    return 0, 0


def _free_from(sheet: _Sheet, key: str, start: int, end: int, amount: int) -> int:
    """The next time to try where a resource does not suffice from start to end; else nought."""
    if start >= end:
        return 0
    capacity = sheet.work.resource[key].capacity
    over = [
        each
        for each in (
            *sheet.taken[key],
            *(
                sheet.held[hold.key]
                for hold in sheet.work.holds
                if hold.key in sheet.held and hold.need.resource == key
            ),
        )
        if each[0] < end and start < each[1]
    ]
    moments = sorted({start, *(begin for begin, _, _ in over if begin > start)})
    for moment in moments:
        there = [each for each in over if each[0] <= moment < each[1]]
        if sum(taken for _, _, taken in there) + amount > capacity:
            return max(start + 1, min(finish for _, finish, _ in there))
    return 0
