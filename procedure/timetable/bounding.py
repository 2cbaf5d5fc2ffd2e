"""How short no plan can be, seen without a search: by the waits, the nights and the hands.

Each step has an earliest start, by the steps before it and the opening hours. Of the hands-on work
that cannot begin before some minute, and after which so many minutes at the least have to pass to
the end of all, there is so much; the place is open for so long; so the end cannot come sooner.
Every such minute is tried. A search proves the same, but of much work only after a long time.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Collection, Iterator, Mapping, Sequence
from itertools import accumulate, pairwise

from procedure.quantity.record import NamedTuple
from procedure.timetable.work import Activity, Attendance, Lag, Point, Window, Work


def least_length(work: Work) -> int:
    """A minute before which the work cannot be over: proven by the waits, nights and hands.

    By the waits alone where something has happened already. Asked for at many places, it is worked
    out but once.
    """
    known: int | None = work.worked_out.get("least length")
    if known is None:
        known = work.worked_out["least length"] = _least_length(work)
    return known


def known_no_shorter(work: Work, minute: int) -> None:
    """Keep that the work cannot be over before a minute, which was proven of work that it holds.

    Whoever has proven it of work with less in it, or with less to keep to, spares the next search
    proving it again.
    """
    work.worked_out["least length"] = max(least_length(work), minute)


def _least_length(work: Work) -> int:
    tails = tails_of(work)
    by_waits = max((tail for key, tail in tails.items() if key not in work.happened), default=0)
    if work.done or not work.windows:
        return work.now + by_waits
    heads = _heads(work)
    ends = [_earliest_end(work, each, heads[each.key]) for each in work.activities]
    by_hands = (
        _by_hands(work, heads, tails, each.key, each.capacity)
        for each in work.resources
        if each.kind == "people"
    )
    return max(work.now + by_waits, *ends, *by_hands)


def least_length_at_any_hour(work: Work) -> int:
    """The minutes that steps and waits take one after another, were the place always open."""
    left = (tail for key, tail in tails_of(work).items() if key not in work.happened)
    return max(left, default=0)


def late_row(work: Work, limit: int | None) -> tuple[str, ...]:
    """The fewest steps, each after the one before, of which the last cannot be over by a minute.

    Where there is no such minute, the last has to begin after the place has closed for good. That
    is by the waits and the hours alone, whatever pots and hands there are; none where no row is
    late.
    """
    heads = _heads(work)
    binding: dict[str, Lag] = {}
    for lag in work.lags:
        after = work.activity[lag.after]
        if _possible_start(work, after, _earliest_after(work, lag, heads)) >= heads[lag.after]:
            binding.setdefault(lag.after, lag)
    found: tuple[str, ...] = ()
    for each in work.activities:
        if _is_late(work, each, heads[each.key], limit):
            row = _shortest_late(work, _row_to(each.key, binding), limit)
            if row and (not found or len(row) < len(found)):
                found = row
    return found


def _is_late(work: Work, activity: Activity, head: int, limit: int | None) -> bool:
    """Whether a step that begins no sooner than then is too late."""
    if limit is not None:
        return _earliest_end(work, activity, head) > limit
    least = _in_hours_from_its_start(activity)
    if not (least or activity.begun_by_hand):
        return False
    return all(max(w.opens, head) + least > w.closes for w in work.spells)


def _row_to(key: str, binding: Mapping[str, Lag]) -> list[Lag]:
    """The waits, the last of them first, by which a step begins no sooner than it does."""
    row: list[Lag] = []
    seen = {key}
    while key in binding and binding[key].before not in seen:
        row.append(binding[key])
        key = binding[key].before
        seen.add(key)
    return row


def _shortest_late(work: Work, row: Sequence[Lag], limit: int | None) -> tuple[str, ...]:
    """The last steps of a row, as few as are late if nothing came before the first of them."""
    for count in range(len(row) + 1):
        part = row[:count][::-1]
        key = part[0].before if part else (row[0].after if row else "")
        if not key:
            break
        heads = _heads_of_row(work, key, part)
        last = list(heads)[-1]
        if _is_late(work, work.activity[last], heads[last], limit):
            return tuple(heads)
    return ()


def _heads_of_row(work: Work, first: str, row: Sequence[Lag]) -> dict[str, int]:
    """The earliest start of steps that follow one another, if nothing came before the first."""
    heads = {first: _possible_start(work, work.activity[first], work.now)}
    for lag in row:
        after = work.activity[lag.after]
        heads[after.key] = _possible_start(work, after, _earliest_after(work, lag, heads))
    return heads


def row_over_at(work: Work, keys: Sequence[str]) -> int:
    """When the last of some steps is over at the soonest, each of them after the one before.

    That is in the hours and with the nights, if nothing came before the first of them.
    """
    between = {(lag.before, lag.after): lag for lag in work.lags if lag.least >= 0}
    row = [between[pair] for pair in pairwise(keys) if pair in between]
    heads = _heads_of_row(work, keys[0], row)
    last = list(heads)[-1]
    return _earliest_end(work, work.activity[last], heads[last])


class TimeBounds(NamedTuple):
    """Between when a step can begin, and between when it can end."""

    start: int
    latest_start: int
    end: int
    latest_end: int


def spans_of(work: Work, until: int) -> dict[str, TimeBounds]:
    """Between when each step lies in every plan that is over by a minute, as far as is seen.

    Where something has happened, or there are no hours, that is any time from now.
    """
    if work.done or not work.windows:
        return {each.key: TimeBounds(work.now, until, work.now, until) for each in work.activities}
    heads, tails = _heads(work), tails_of(work)
    after_ends = _tails_of_ends(work, tails)
    return {
        each.key: TimeBounds(
            heads[each.key],
            until - tails[each.key],
            _earliest_end(work, each, heads[each.key]),
            until - after_ends[each.key],
        )
        for each in work.activities
    }


def tails_of(work: Work) -> Mapping[str, int]:
    """The least time from each activity's start to the end of all, by the waits alone.

    Asked for at many places, it is worked out but once.
    """
    known: Mapping[str, int] | None = work.worked_out.get("tails")
    if known is None:
        known = work.worked_out["tails"] = _tails_of(work)
    return known


def _tails_of(work: Work) -> dict[str, int]:
    tails = {each.key: each.lasting.most for each in work.activities}
    # Most waits lead from what is written sooner to what is written later.
    apart = [(lag.before, lag.after, _least_between_starts(work, lag)) for lag in work.lags[::-1]]
    for _round in range(len(work.activities)):
        moved = False
        for before, after, least in apart:
            if least + tails[after] > tails[before]:
                tails[before] = least + tails[after]
                moved = True
        if not moved:
            break
    return tails


def _least_between_starts(work: Work, lag: Lag) -> int:
    before, after = work.activity[lag.before].lasting, work.activity[lag.after].lasting
    return (
        lag.least
        + (before.most if lag.leaves is Point.END else 0)
        - (after.longest + _warming(work, lag.after) if lag.reaches is Point.END else 0)
    )


def _heads(work: Work) -> Mapping[str, int]:
    """The earliest start of each activity, by the steps before it and by the hours.

    Worked out but once, as the tails are.
    """
    known: Mapping[str, int] | None = work.worked_out.get("heads")
    if known is None:
        known = work.worked_out["heads"] = _heads_of(work)
    return known


def _heads_of(work: Work) -> dict[str, int]:
    heads = {each.key: _possible_start(work, each, work.now) for each in work.activities}
    since: Collection[str] = heads
    for _round in range(len(work.activities)):
        moved: set[str] = set()
        for lag in work.lags:
            if lag.before not in since and lag.before not in moved:
                continue
            earliest = _earliest_after(work, lag, heads)
            if earliest > heads[lag.after]:
                heads[lag.after] = _possible_start(work, work.activity[lag.after], earliest)
                moved.add(lag.after)
        if not moved:
            break
        since = moved
    return heads


def _earliest_after(work: Work, lag: Lag, heads: Mapping[str, int]) -> int:
    """The first minute at which one step may begin after another, whatever the hours."""
    before, after = work.activity[lag.before], work.activity[lag.after]
    left = heads[before.key]
    if lag.leaves is Point.END:
        left = _earliest_end(work, before, left)
    back = after.lasting.longest + _warming(work, after.key) if lag.reaches is Point.END else 0
    return left + lag.least - back


def _warming(work: Work, key: str) -> int:
    return max((w.minutes for w in work.warmth if w.after == key), default=0)


def _possible_start(work: Work, activity: Activity, earliest: int) -> int:
    """The first minute from then on at which the hours let an activity begin."""
    least = _in_hours_from_its_start(activity)
    if not (least or activity.begun_by_hand):
        return earliest
    return _in_a_window(work, earliest, least)


def _in_hours_from_its_start(activity: Activity) -> int:
    """For how many minutes the place has to be open from the start of an activity on."""
    least = 0
    if activity.in_hours:
        least = activity.lasting.most + activity.hot_after
    elif activity.hands and activity.attendance is not Attendance.NONE:
        least = min(activity.at_start, activity.lasting.most)
    return max(least, activity.hot_for)


def _in_a_window(work: Work, earliest: int, length: int) -> int:
    """The first minute from then on that lies, with so many after it, within one window."""
    for number in range(bisect_left(work.closings, earliest + length), len(work.spells)):
        each = work.spells[number]
        start = max(each.opens, earliest)
        if start + length <= each.closes:
            return start
    return earliest  # in no window: there is no plan, which others find out


def _earliest_end(work: Work, activity: Activity, start: int) -> int:
    """The earliest end of an activity that begins no sooner than then."""
    end = start + activity.lasting.most
    if activity.overnight:
        end = max(end, next((b for a, b in work.nights if a >= start), end))
    at_end = min(activity.at_end, activity.lasting.most)
    looked_at = activity.hands and activity.attendance in (
        Attendance.ENDS,
        Attendance.NOW_AND_THEN,
    )
    if looked_at and at_end:
        end = _in_a_window(work, end - at_end, at_end) + at_end
    return end


def _tails_of_ends(work: Work, tails: Mapping[str, int]) -> dict[str, int]:
    """The least time from each activity's end to the end of all."""
    found = dict.fromkeys(work.activity, 0)
    for lag in work.lags:
        if lag.leaves is Point.END and lag.reaches is Point.START:
            found[lag.before] = max(found[lag.before], lag.least + tails[lag.after])
    return found


def _pieces(
    work: Work, heads: Mapping[str, int], tails: Mapping[str, int], people: str
) -> Iterator[tuple[int, int, int]]:
    """Hands-on pieces: the earliest start, the minutes of hands, the least time after them."""
    after_end = _tails_of_ends(work, tails)
    for each in work.activities:
        amount = sum(need.amount for need in each.hands if need.resource == people)
        if not amount or each.attendance is Attendance.NONE:
            continue
        head, most = heads[each.key], each.lasting.most
        first, last = min(each.at_start, most), min(each.at_end, most)
        if each.attendance is Attendance.WHOLE or first + last >= most:
            first, last = most, 0
        if first:
            yield head, first * amount, max(tails[each.key] - first, 0)
        if last:
            end = _earliest_end(work, each, head)
            yield end - last, last * amount, after_end[each.key]


def _by_hands(
    work: Work, heads: Mapping[str, int], tails: Mapping[str, int], people: str, capacity: int
) -> int:
    """The bound by the hands-on work of people who are there in the opening hours alone."""
    pieces = sorted(_pieces(work, heads, tails, people), key=lambda piece: -piece[2])
    opens = [window.opens for window in work.windows]
    before = [0, *accumulate(window.closes - window.opens for window in work.windows)]
    bound = 0
    for head in sorted({piece[0] for piece in pieces}):
        gone = _open_until(work.windows, opens, before, head)
        later = [piece for piece in pieces if piece[0] >= head]
        most = gone - (-sum(length for _, length, _ in later) // capacity)
        last = _when_open_for(work.windows, before, most)
        minutes = 0
        for _, length, tail in later:
            if last + tail <= bound:
                break  # if all were done before what leaves so much to come, it proved no more
            minutes += length
            there = gone - (-minutes // capacity)
            bound = max(bound, _when_open_for(work.windows, before, there) + tail)
    return bound


class TooFewHands(NamedTuple):
    """So many minutes of hands are wanted until a minute, and for so many the place is open.

    What has to come ``after`` takes so many minutes at the least.
    """

    minutes: int
    until: int
    there: int
    after: int


def too_few_hands(work: Work, people: str) -> TooFewHands | None:
    """Until when most hands are missing, where those that are there cannot suffice for the work.

    That is by what has to come after alone, whatever pots there are; None where something has
    happened, or where that does not show it.
    """
    if work.done or not work.windows or people not in work.resource:
        return None
    limit = work.windows[-1].closes if work.finish_by is None else work.finish_by
    capacity = work.resource[people].capacity
    opens = [window.opens for window in work.windows]
    before = [0, *accumulate(window.closes - window.opens for window in work.windows)]
    pieces = [
        (tail if work.finish_by is not None else 0, minutes)
        for _, minutes, tail in _pieces(work, _heads(work), tails_of(work), people)
    ]
    minutes, most, found = 0, (0, 0), None
    for tail, length in sorted(pieces, reverse=True):
        minutes += length
        there = _open_until(work.windows, opens, before, limit - tail)
        missing = minutes - there * capacity, -tail
        if there > 0 and missing[0] > 0 and missing > most:
            last = max((w for w in work.windows if w.opens < limit - tail), key=_closes)
            most = missing
            found = TooFewHands(minutes, min(limit - tail, last.closes), there, tail)
    return found


def _closes(window: Window) -> int:
    return window.closes


def _open_until(
    windows: tuple[Window, ...], opens: list[int], before: list[int], minute: int
) -> int:
    """For how many minutes the place has been open by then."""
    number = bisect_right(opens, minute) - 1
    if number < 0:
        return 0
    window = windows[number]
    return before[number] + min(minute, window.closes) - window.opens


def _when_open_for(windows: tuple[Window, ...], before: list[int], minutes: int) -> int:
    """The minute at which the place has been open for so long."""
    number = bisect_left(before, minutes, 1) - 1
    if number < len(windows):
        return windows[number].opens + max(0, minutes - before[number])
    return windows[-1].closes
