"""Small pieces of work made by chance, and the best plan of each by trying every one.

Trying shares no code with the planner: it goes through all starts and lengths, minute by
minute, and lets the verifier say which of them is a plan.
"""

from __future__ import annotations

import random
from dataclasses import replace

from verifying import wrongs, wrongs_alone

from procedure.timetable.work import (
    Activity,
    Attendance,
    Hold,
    Lag,
    Lasting,
    Need,
    Point,
    Resource,
    WarmAgain,
    Window,
    Work,
)


def made_by_chance(seed: int) -> Work:
    """Two to four activities with waits, pots, hands, hot baths, a night or two."""
    chance = random.Random(seed)
    count = chance.choice((2, 3, 3, 3, 4))
    keys = [f"a{i}" for i in range(count)]
    activities = tuple(_activity(chance, key) for key in keys)
    lags = tuple(_lag(chance, keys) for _ in range(chance.randint(0, count)))
    holds: tuple[Hold, ...] = ()
    if chance.random() < 0.5:
        first, last = sorted(chance.sample(range(count), 2))
        holds = (
            Hold(
                "held",
                Need("pot"),
                keys[first],
                keys[last],
                chance.choice(list(Point)),
                chance.choice(list(Point)),
                chance.random() < 0.7,
            ),
        )
        lags = (*lags, Lag(keys[first], keys[last], 0, None))
    resources = (
        Resource("pot", "the pot", "pot"),
        Resource("line", "the line", "line", 3),
        Resource("hands", "a hand", "people", chance.choice((1, 1, 2))),
    )
    windows = chance.choice(
        (
            (Window(0, 14),),
            (Window(0, 6), Window(8, 14, 1)),
            (Window(1, 4), Window(5, 8), Window(11, 16, 1)),
        )
    )
    finish_by = chance.choice((None, None, None, 9))
    warmth: tuple[WarmAgain, ...] = ()
    if chance.random() < 0.4:
        before, after = sorted(chance.sample(range(count), 2))
        warmth = (WarmAgain(keys[before], keys[after], chance.randint(0, 2), chance.randint(1, 2)),)
        lags = (*lags, Lag(keys[before], keys[after], 0, None))
    if chance.random() < 0.5:
        activities = tuple(_hot(chance, each) for each in activities)
    if chance.random() < 0.3:
        activities = tuple(map(_with_hands_that_meet, activities))
    return Work(activities, lags, holds, resources, windows, finish_by=finish_by, warmth=warmth)


def _with_hands_that_meet(each: Activity) -> Activity:
    """The same activity, if it may be longer: at its shortest its two pairs of hands are one."""
    if each.attendance in (Attendance.WHOLE, Attendance.NONE) or not each.lasting.elastic:
        return each
    return replace(each, at_start=each.lasting.most, at_end=min(2, each.lasting.most))


def _hot(chance: random.Random, each: Activity) -> Activity:
    """The same activity, by chance with a bath too hot to be alone at first or afterwards."""
    begins, leaves = chance.choice(((0, 0), (0, 1), (0, 2), (0, 3), (1, 0), (2, 0), (1, 1)))
    needs = (Need("line"),) if chance.random() < 0.3 else ()
    begins = min(begins, each.lasting.most)
    return replace(each, hot_for=begins, hot_after=leaves, too_hot="hot", hot_needs=needs)


def _activity(chance: random.Random, key: str) -> Activity:
    most = chance.randint(1, 4)
    stretch = most + chance.choice((0, 0, 0, 1, 3))
    attendance = chance.choice(list(Attendance))
    if attendance is Attendance.WHOLE:
        stretch = most
    at_start, at_end = chance.randint(0, 1), chance.randint(0, 1)
    if at_start + at_end > most:
        at_end = 0
    needs = {
        0: (),
        1: (Need("pot"),),
        2: (Need("line", chance.randint(1, 3)),),
    }[chance.choice((0, 0, 1, 2))]
    night = chance.random() < 0.5
    free = night and attendance in (Attendance.ENDS, Attendance.NONE)
    return Activity(
        key,
        key,
        Lasting(1, most, stretch),
        needs,
        attendance,
        at_start=at_start,
        at_end=at_end,
        night=night,
        overnight=free and chance.random() < 0.2,
    )


def _lag(chance: random.Random, keys: list[str]) -> Lag:
    before, after = sorted(chance.sample(range(len(keys)), 2))
    least = chance.choice((0, 0, 1, 2, -1))
    most = chance.choice((None, None, least, least + 1, least + 4))
    return Lag(
        keys[before],
        keys[after],
        least,
        most,
        chance.choice((Point.END, Point.END, Point.START)),
        chance.choice((Point.START, Point.START, Point.END)),
    )


def shortest_by_trying(work: Work, until: int) -> int | None:
    """When the shortest plan is over, or None where there is none that ends by ``until``."""
    places = _places(work, until)
    first_ones = [_of_the_first(work, count + 1) for count in range(len(places))]
    return _shortest(first_ones, places, {}, until + 1)


def fewest_days_by_trying(work: Work, until: int) -> int | None:
    """On how few days somebody has to be there in a plan that is over by ``until``, or None."""
    places = _places(work, until)
    first_ones = [_of_the_first(work, count + 1) for count in range(len(places))]
    return _fewest(first_ones, places, {}, len(work.windows) + 1)


def _places(work: Work, until: int) -> list[list[tuple[int, int]]]:
    """Where each activity may be, were it alone."""
    return [
        [
            (start, start + length + more)
            for more in {0, *(one.minutes for one in work.warmth if one.after == each.key)}
            for length in range(each.lasting.most, max(each.lasting.most, each.lasting.stretch) + 1)
            for start in range(work.now, until - length - more + 1)
            if not list(wrongs_alone(work, each, start, start + length + more, more))
        ]
        for each in work.activities
    ]


def _fewest(
    first_ones: list[Work],
    places: list[list[tuple[int, int]]],
    times: dict[str, tuple[int, int]],
    best: int,
) -> int | None:
    """The fewest days below ``best`` of all ways to go on, or None."""
    if len(times) == len(places):
        return len(_days_there(first_ones[-1], times))
    work, key, found = first_ones[len(times)], first_ones[-1].activities[len(times)].key, None
    for place in places[len(times)]:
        times[key] = place
        days = len(_days_there(work, times))
        if days < best and _waits_kept(work, times) and not wrongs(work, times):
            fewer = _fewest(first_ones, places, times, best)
            if fewer is not None and fewer < best:
                best = found = fewer
        del times[key]
    return found


def _days_there(work: Work, times: dict[str, tuple[int, int]]) -> set[int]:
    """The days on which hands are wanted at some minute."""
    minutes = set[int]()
    for each in work.activities:
        if not each.hands or each.attendance is Attendance.NONE:
            continue
        start, end = times[each.key]
        at_start = end - start if each.attendance is Attendance.WHOLE else each.at_start
        at_end = 0 if each.attendance is Attendance.WHOLE else each.at_end
        minutes |= {n for n in range(start, end) if n < start + at_start or n >= end - at_end}
    return {w.day for w in work.windows if minutes & set(range(w.opens, w.closes))}


def _of_the_first(work: Work, count: int) -> Work:
    """The work of the first activities alone: what breaks a rule there does so in the whole."""
    keys = {each.key for each in work.activities[:count]}
    return replace(
        work,
        activities=work.activities[:count],
        lags=tuple(each for each in work.lags if {each.before, each.after} <= keys),
        holds=tuple(each for each in work.holds if {each.first, each.last} <= keys),
        warmth=tuple(each for each in work.warmth if {each.before, each.after} <= keys),
    )


def _shortest(
    first_ones: list[Work],
    places: list[list[tuple[int, int]]],
    times: dict[str, tuple[int, int]],
    best: int,
) -> int | None:
    """The best end below ``best`` of all ways to go on, or None."""
    if len(times) == len(places):
        return max(end for _, end in times.values())
    work, key, found = first_ones[len(times)], first_ones[-1].activities[len(times)].key, None
    for start, end in places[len(times)]:
        if end >= best:
            continue
        times[key] = (start, end)
        if _waits_kept(work, times) and not wrongs(work, times):
            shorter = _shortest(first_ones, places, times, best)
            if shorter is not None and shorter < best:
                best = found = shorter
        del times[key]
    return found


def _waits_kept(work: Work, times: dict[str, tuple[int, int]]) -> bool:
    """Whether what is placed keeps its waits; the verifier says so too, but takes longer."""
    for lag in work.lags:
        left = times[lag.before][lag.leaves is Point.END]
        reached = times[lag.after][lag.reaches is Point.END]
        if reached - left < lag.least or (lag.most is not None and reached - left > lag.most):
            return False
    return True
