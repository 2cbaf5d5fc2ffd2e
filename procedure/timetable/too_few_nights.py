"""Steps that each take a night, one after the other, where there are fewer nights than that.

What is to go on overnight lies from one open day to the next, and what comes after it and takes a
night as well lies in a later one. If a row of such steps is longer than the nights of the place, in
which one of them may lie at all, there is no plan, whatever pots and hands there are. That is
counting, and its reason is one sentence.
"""

from __future__ import annotations

from collections import defaultdict

from procedure.timetable.work import Activity, Point, Work


def too_few_nights(work: Work) -> tuple[tuple[Activity, ...], int] | None:
    """The longest row of steps that take a night each, and how many nights there are for them.

    None where there are enough. Of work of which something has happened nothing is said.
    """
    if work.done or not work.windows:
        return None
    row = _longest_row(work)
    until = work.finish_by if work.finish_by is not None else work.windows[-1].closes
    longest = max((each.lasting.longest for each in row), default=0)
    nights = sum(
        opens <= until and opens - closes <= longest and opens > work.now
        for closes, opens in work.nights
    )
    return (row, nights) if len(row) > nights else None


def _longest_row(work: Work) -> tuple[Activity, ...]:
    """The most steps that go on overnight of which each begins when the one before it is over."""
    after: dict[str, list[str]] = defaultdict(list)
    for lag in work.lags:
        in_turn = (lag.leaves, lag.reaches) == (Point.END, Point.START) and lag.least >= 0
        if in_turn and lag.before != lag.after:
            after[lag.before].append(lag.after)
    rows: dict[str, tuple[Activity, ...]] = {}
    under_way: set[str] = set()

    def row_from(key: str) -> tuple[Activity, ...]:
        if key not in rows and key not in under_way:
            under_way.add(key)
            rest = max((row_from(each) for each in after[key]), key=len, default=())
            each = work.activity[key]
            rows[key] = (each, *rest) if each.overnight else rest
            under_way.discard(key)
        return rows.get(key, ())

    # From the end of the work to its beginning, so that no row is followed deeply.
    return max((row_from(each.key) for each in reversed(work.activities)), key=len, default=())
