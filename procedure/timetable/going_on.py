"""What goes on by itself already: begun when the step before it was over, over when it can be.

A bath whose plate is off cools from then on, whoever comes back to it and when; a vat that is made
up stands. So nobody begins such a step, and no plan can refuse it: it is there. What is still to be
fitted in is its end, where somebody is wanted then.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from procedure.timetable.work import (
    Activity,
    Attendance,
    Done,
    Lag,
    Point,
    Work,
)

Span = tuple[int, int]


def begun_by_themselves(
    going: Mapping[str, str], lags: Iterable[Lag], done: Iterable[Done], now: int
) -> list[Done]:
    """What has begun since what comes before it is over, and is not over itself.

    ``going`` are the keys of what goes on by itself behind the step before it. A bath cools since
    the step that it is given with, though the fibre is to be lifted first; else all has to be over
    that comes before.
    """
    happened = {each.key: each for each in done}
    before: dict[str, list[Lag]] = {}
    for lag in lags:
        if lag.least >= 0 and lag.reaches is Point.START:
            before.setdefault(lag.after, []).append(lag)
    found = []
    for key, left_hot in going.items():
        if key in happened or key not in before:
            continue
        since = [_left(happened.get(lag.before), lag) for lag in before[key]]
        off = _left(happened.get(left_hot), Lag(left_hot, key))
        if off is not None:
            since = [off]
        known = [each for each in since if each is not None]
        if len(known) == len(since) and max(known) <= now:
            found.append(Done(key, max(known)))
    return found


def _left(done: Done | None, lag: Lag) -> int | None:
    if done is None or done.left_out or (done.end is None and lag.leaves is Point.END):
        return None
    return done.start if lag.leaves is Point.START else done.end


def ends_of(work: Work, activity: Activity, done: Done) -> tuple[Span, ...]:
    """Between which minutes what has begun may end, the soonest first.

    It takes as long as it takes, and over a night where that is written; whoever is wanted at its
    end is there then. Where there is no such time, it ends as soon after it as there is one.
    """
    lasting = activity.lasting
    by_hand = activity.hands and activity.attendance not in (Attendance.NONE, Attendance.WHOLE)
    at_end = activity.at_end if by_hand else 0
    least = max(work.now + at_end, done.start + lasting.most)
    if activity.overnight:
        mornings = (opens for closes, opens in work.nights if closes >= done.start)
        least = max(least, next(mornings, least))
    most = max(least, done.start + lasting.longest)
    if not at_end:
        return ((least, most),)
    open_at = [(max(least, w.opens + at_end), w.closes) for w in work.windows]
    later = [span for span in open_at if span[0] <= span[1]]
    within = [(low, min(high, most)) for low, high in later if low <= most]
    return tuple(within or later[:1]) or ((least, most),)
