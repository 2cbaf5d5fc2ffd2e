"""Whether a timetable keeps to what was asked, minute by minute.

This shares no code with the planner: it reads the work and the times, fills in who and what
is taken at every minute, and says each thing that is wrong.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping

from procedure.timetable.work import Activity, Attendance, Point, Work

Times = Mapping[str, tuple[int, int]]


def wrongs(work: Work, times: Times) -> list[str]:
    """Everything that the times break; empty where the plan is sound."""
    known = {each.key for each in work.activities}
    if set(times) != known:
        return [f"not planned, or planned and unknown: {sorted(known ^ set(times))}"]
    happened = {each.key: each for each in work.done}
    found = []
    for each in work.activities:
        done = happened.get(each.key)
        start, end = times[each.key]
        if done is not None:
            if start != done.start or (done.end is not None and end != done.end):
                found.append(f"{each.key} was not left as it happened")
            continue
        more = _warming_again(work, times, each.key)
        found += [f"{each.key} {wrong}" for wrong in wrongs_alone(work, each, start, end, more)]
    found += list(_waits(work, times))
    found += list(_over_used(work, times))
    if work.finish_by is not None and max(end for _, end in times.values()) > work.finish_by:
        found.append("it is finished too late")
    return found


def _hands_on(each: Activity, start: int, end: int) -> list[tuple[int, int]]:
    if not each.hands or each.attendance is Attendance.NONE:
        return []
    if each.attendance is Attendance.WHOLE:
        return [(start, end)]
    return [(start, min(end, start + each.at_start)), (max(start, end - each.at_end), end)]


def _warming_again(work: Work, times: Times, key: str) -> int:
    """The minutes that warming its bath again takes before an activity: nought where it is warm."""
    length = {each.key: each.lasting.most for each in work.activities}
    for one in work.warmth:
        if one.after == key and not one.again:
            warm_from = times[one.before][0] + length[one.before]
            warm_from += _warming_again(work, times, one.before)
            return one.minutes if times[key][0] - warm_from > one.within else 0
    return 0


def wrongs_alone(work: Work, each: Activity, start: int, end: int, more: int = 0) -> Iterator[str]:
    """What is wrong with one activity by itself; ``more`` minutes are for warming its bath."""
    if start < work.now:
        yield "starts in the past"
    longest = max(each.lasting.most, each.lasting.stretch) + more
    if not each.lasting.most + more <= end - start <= longest:
        yield f"takes {end - start} min"
    by_day = each.attendance in (Attendance.WHOLE, Attendance.NOW_AND_THEN) or not each.night
    for a, b in [(start, end)] if by_day else []:
        if not any(w.opens <= a and b <= w.closes for w in work.windows):
            yield "goes on while the place is closed"
    for a, b in _hands_on(each, start, end):
        if a < b and not any(w.opens <= a and b <= w.closes for w in work.windows):
            yield "takes hands while the place is closed"
    for a, b in ((start, start + each.hot_for), (end, end + each.hot_after)):
        if a < b and not any(w.opens <= a and b <= w.closes for w in work.windows):
            yield "has a hot bath while the place is closed"
    alone = each.night and each.attendance in (Attendance.ENDS, Attendance.NONE)
    somebody_there = any(w.opens <= start <= w.closes for w in work.windows)
    if alone and each.hands and not each.at_start and not somebody_there:
        yield "begins by itself while the place is closed"
    if each.overnight:
        pairs = zip(work.windows, work.windows[1:], strict=False)
        spans = [(a.closes, b.opens) for a, b in pairs if a.day != b.day]
        if not any(start <= a and b <= end for a, b in spans):
            yield "is not overnight"


def _waits(work: Work, times: Times) -> Iterator[str]:
    done = {each.key for each in work.done}
    for lag in work.lags:
        if lag.after in done:
            continue
        left = times[lag.before][lag.leaves is Point.END]
        reached = times[lag.after][lag.reaches is Point.END]
        if reached - left < lag.least:
            yield f"{lag.after} comes too soon after {lag.before}"
        if lag.most is not None and reached - left > lag.most:
            yield f"{lag.after} comes too late after {lag.before}"


def _over_used(work: Work, times: Times) -> Iterator[str]:  # noqa: C901
    over = {each.key for each in work.done if each.end is not None}
    begun = {each.key for each in work.done}
    taken: dict[str, dict[int, int]] = defaultdict(lambda: defaultdict(int))

    def take(key: str, start: int, end: int, amount: int) -> None:
        for minute in range(start, end):
            taken[key][minute] += amount

    for each in work.activities:
        start, end = times[each.key]
        for need in each.needs if each.key not in over else ():
            take(
                need.resource,
                max(start, work.now) if each.key in begun else start,
                end,
                need.amount,
            )
        busy = {m for a, b in _hands_on(each, start, end) for m in range(a, b)}
        for need in each.hands if each.key not in over else ():
            for minute in busy:
                if each.key not in begun or minute >= work.now:
                    taken[need.resource][minute] += need.amount
    for hold in work.holds:
        if hold.last in over:
            continue
        start = times[hold.first][hold.begins is Point.END]
        end = times[hold.last][hold.ends is Point.END]
        if hold.first in begun:
            start = work.now
        if start > end:
            yield f"{hold.key} ends before it begins"
        take(hold.need.resource, start, end, hold.need.amount)
        inside = any(w.opens <= start and end <= w.closes for w in work.windows)
        if not hold.night and start < end and not inside:
            yield f"{hold.key} is there while the place is closed"
    for resource in work.resources:
        for minute, amount in sorted(taken[resource.key].items()):
            if amount > resource.capacity:
                yield f"{resource.key} is over-used at minute {minute}"
                break
