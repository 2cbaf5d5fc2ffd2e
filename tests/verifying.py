"""Whether a timetable keeps to what was asked, minute by minute.

This shares no code with the planner: it reads the work and the times, adds up who and what
is taken from each minute on, and says each thing that is wrong.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterator, Mapping
from dataclasses import replace

from procedure.timetable.work import Activity, Attendance, Hold, Need, Point, Window, Work

Times = Mapping[str, tuple[int, int]]


def wrongs(work: Work, times: Times, told: Collection[tuple[str, str]] = ()) -> list[str]:
    """Everything that the times break; empty where the plan is sound.

    Waits that are ``told``, from what to what, may be as long as they may at a pinch.
    """
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
            if done.end is None:
                found += [f"{each.key} {wrong}" for wrong in _goes_on(work, each, start, end)]
            continue
        more = _warming_again(work, times, each.key)
        found += [f"{each.key} {wrong}" for wrong in wrongs_alone(work, each, start, end, more)]
    found += list(_waits(work, times, told))
    found += list(_over_used(work, times))
    if work.finish_by is not None and max(end for _, end in times.values()) > work.finish_by:
        found.append("it is finished too late")
    return found


def _spells(work: Work) -> list[Window]:
    """For how long the place is open at a stretch: where it opens as it closes, that is one."""
    found: list[Window] = []
    for each in work.windows:
        if found and each.opens == found[-1].closes:
            each = replace(found.pop(), closes=each.closes)
        found.append(each)
    return found


def _goes_on(work: Work, each: Activity, start: int, end: int) -> Iterator[str]:
    """What is wrong with the end of what has begun; that it goes on by night is as it is."""
    if end < work.now or end - start < each.lasting.most:
        yield f"takes {end - start} min, or is over before now"
    last = _hands_on(each, start, end)[-1:]
    for a, b in last:
        a = max(a, end - each.at_end)
        if a < b and not any(w.opens <= a and b <= w.closes for w in _spells(work)):
            yield "takes hands at its end while the place is closed"


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
    yield from _by_day(work, each, start, end)
    for a, b in _hands_on(each, start, end):
        if a < b and not any(w.opens <= a and b <= w.closes for w in _spells(work)):
            yield "takes hands while the place is closed"
    for a, b in ((start, start + each.hot_for), (end, end + each.hot_after)):
        if a < b and not any(w.opens <= a and b <= w.closes for w in _spells(work)):
            yield "has a hot bath while the place is closed"
    alone = each.attendance in (Attendance.ENDS, Attendance.NONE) and (each.night or each.breaks)
    somebody_there = any(w.opens <= start <= w.closes for w in work.windows)
    if alone and each.hands and not each.at_start and not somebody_there:
        yield "begins by itself while the place is closed"
    if each.overnight:
        pairs = zip(work.windows, work.windows[1:], strict=False)
        spans = [(a.closes, b.opens) for a, b in pairs if a.day != b.day]
        if not any(start <= a and b <= end for a, b in spans):
            yield "is not overnight"


def _by_day(work: Work, each: Activity, start: int, end: int) -> Iterator[str]:
    watched = each.attendance in (Attendance.WHOLE, Attendance.NOW_AND_THEN)
    if each.night and not watched:
        return
    if each.breaks and not watched:
        if not any(_first(work, w.day) <= start and end <= w.closes for w in work.windows):
            yield "goes on over a night"
    elif not any(w.opens <= start and end <= w.closes for w in _spells(work)):
        yield "goes on while the place is closed"


def _first(work: Work, day: int) -> int:
    """When the place opens first on a day."""
    return min(w.opens for w in work.windows if w.day == day)


def _waits(work: Work, times: Times, told: Collection[tuple[str, str]]) -> Iterator[str]:
    done = {each.key for each in work.done}
    for lag in work.lags:
        if lag.after in done:
            continue
        left = times[lag.before][lag.leaves is Point.END]
        reached = times[lag.after][lag.reaches is Point.END]
        if reached - left < lag.least:
            yield f"{lag.after} comes too soon after {lag.before}"
        most = lag.most
        if (lag.before, lag.after) in told and most is not None:
            most = max(most, lag.at_a_pinch or 0, lag.at_last or 0)
        if most is not None and reached - left > most:
            yield f"{lag.after} comes too late after {lag.before}"


def to_be_told(work: Work, times: Times) -> set[tuple[str, str]]:
    """The waits, from what to what, that are longer than is wished, or than they may be."""
    found = set()
    for lag in work.lags:
        left = times[lag.before][lag.leaves is Point.END]
        reached = times[lag.after][lag.reaches is Point.END]
        limits = [each for each in (lag.wish, lag.most) if each is not None]
        gives = (lag.wish, lag.at_a_pinch, lag.at_last) != (None, None, None)
        if gives and reached - left > min(limits, default=reached):
            found.add((lag.before, lag.after))
    return found


def _over_used(work: Work, times: Times) -> Iterator[str]:
    begun = {each.key for each in work.done}
    taken: dict[str, list[tuple[int, int]]] = defaultdict(list)
    for need, key, start, end in (*_taken_by_steps(work, times), *_taken_by_holds(work, times)):
        first = max(start, work.now) if key in begun else start
        if first < end:
            taken[need.resource] += [(first, need.amount), (end, -need.amount)]
    for resource in work.resources:
        amount = 0
        # What ends at a minute is free again before what begins at it.
        for minute, more in sorted(taken[resource.key]):
            amount += more
            if amount > resource.capacity:
                yield f"{resource.key} is over-used at minute {minute}"
                break
    for hold in work.holds:
        start, end = _held(hold, times)
        if work.over(hold.last):
            continue
        if hold.first in begun:
            start = work.now
        if start > end:
            yield f"{hold.key} ends before it begins"
        inside = any(w.opens <= start and end <= w.closes for w in _spells(work))
        if not hold.night and start < end and not inside:
            yield f"{hold.key} is there while the place is closed"


def _taken_by_steps(work: Work, times: Times) -> Iterator[tuple[Need, str, int, int]]:
    for each in work.activities:
        start, end = times[each.key]
        if not work.over(each.key):
            yield from ((need, each.key, start, end) for need in each.needs)
            for a, b in ((start, start + each.hot_for), (end, end + each.hot_after)):
                yield from ((need, each.key, a, b) for need in each.hot_needs if a < b)
            for a, b in _union(_hands_on(each, start, end)):
                yield from ((need, each.key, a, b) for need in each.hands)


def _taken_by_holds(work: Work, times: Times) -> Iterator[tuple[Need, str, int, int]]:
    for hold in work.holds:
        if not work.over(hold.last):
            yield (hold.need, hold.first, *_held(hold, times))


def _held(hold: Hold, times: Times) -> tuple[int, int]:
    start = times[hold.first][hold.begins is Point.END]
    return start, times[hold.last][hold.ends is Point.END]


def _union(pieces: list[tuple[int, int]]) -> list[tuple[int, int]]:
    """The same times where two that overlap are one."""
    if len(pieces) == 2 and pieces[1][0] <= pieces[0][1]:
        return [(pieces[0][0], max(pieces[0][1], pieces[1][1]))]
    return pieces
