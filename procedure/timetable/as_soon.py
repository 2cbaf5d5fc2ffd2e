"""A plan pushed to the left: each step as soon as it can be, where that costs nothing.

What a search leaves behind when it runs out of time may have a step late for no reason: a bath
that is poured away days after it could be. So each step that is not bound to its place is tried
sooner, all others staying where they are, and is put there if the plan is no longer by that and
somebody comes on fewer days, or on as many with no more running about, as
:mod:`procedure.timetable.calming` counts it with what waits and lies. That goes on for as long as
something moves. Nothing is searched, so it takes no time to speak of and is the same everywhere.

Steps stay in the order of the text as far as they are in it, uses of one tub in theirs, and what
is warm or cold stays so; vats, whose warmth hangs on every dip, are left as they are.
"""

from __future__ import annotations

from bisect import bisect_right
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, replace

from procedure.timetable.calming import (
    LATE_IN_A_DAY,
    LENGTH_OF_A_DAY,
    weight_of_a_wait,
    weight_over_a_wish,
)
from procedure.timetable.first_plan import shut_out, takes
from procedure.timetable.planned import Placed, Timetable
from procedure.timetable.warming import stands
from procedure.timetable.work import Activity, Hold, Lag, Point, Work, stretches

_ROUNDS, _MOST_TRIES = 4, 4000
"""How often all steps are tried, and how many places at the most: a few tenths of a second."""
_Use = tuple[int, int, int]


def as_soon_as_can_be(made: Timetable) -> Timetable:
    """The same with every step as soon as it can be where nothing is lost by that."""
    if made.least_running or not made.searched:
        return made  # nothing better is there, or a rule that puts all as soon as it fits made it
    sheet = _Sheet(made)
    for _ in range(_ROUNDS):
        keys = sorted(sheet.movable, key=lambda key: (sheet.at[key].start, sheet.at[key].end, key))
        if not sum(sheet.push(key) for key in keys):
            break
    if sheet.at == made.at:
        return made
    return replace(made, placed=tuple(sheet.at[each.key] for each in made.placed))


@dataclass(frozen=True, slots=True)
class _OfADay:
    """The hands-on work of a day: from when to when, and when the place opens first."""

    opens: int
    first: int
    last: int

    @property
    def counts(self) -> int:
        """What its length and its lateness weigh."""
        return LENGTH_OF_A_DAY * (self.last - self.first) + LATE_IN_A_DAY * (self.last - self.opens)


class _Sheet:
    """A plan in which steps are moved, one at a time."""

    def __init__(self, made: Timetable) -> None:
        self.made = made
        self.work = made.work
        self.at = dict(made.at)
        self.lags: dict[str, list[Lag]] = defaultdict(list)
        self.holds: dict[str, list[Hold]] = defaultdict(list)
        self.tries = 0
        for lag in self.work.lags:
            for key in {lag.before, lag.after}:
                self.lags[key].append(lag)
        for hold in self.work.holds:
            for key in {hold.first, hold.last}:
                self.holds[key].append(hold)
        self.opens = [opens for opens, _ in self.work.days]
        there = self.work.there_now is not None
        self.today = {bisect_right(self.opens, self.work.now) - 1} if there else set[int]()
        self.rank = {key: i for i, key in enumerate(self.work.in_order)}
        self.vessels = _vessels(self.work)
        fixed = {key for vat in self.work.vats for key, _ in vat.made_warm}
        fixed |= {dip.key for vat in self.work.vats for dip in vat.dips}
        fixed |= self.work.happened.keys()
        self.movable = [each.key for each in self.work.activities if each.key not in fixed]
        self.warm = self._warm(made)
        self.hands = {key: self._hands_at(place) for key, place in self.at.items()}
        self.taken = {key: self._taken_at(place) for key, place in self.at.items()}

    def _hands_at(self, place: Placed) -> tuple[tuple[int, int], ...]:
        return tuple(stretches(self.work.activity[place.key], place.start, place.end))

    def _taken_at(self, place: Placed) -> list[tuple[str, int, int, int]]:
        return takes(self.work.activity[place.key], place.start, place.end)

    def push(self, key: str) -> bool:
        """Move a step to the first place before its own where it may be; whether there is one."""
        place = self.at[key]
        earliest = self._earliest(key)
        if earliest >= place.start:
            return False
        activity, used = self.work.activity[key], self._used_but(key)
        before = self._counts(key, place)
        for start in self._starts(key, earliest):
            self.tries += 1
            if self.tries > _MOST_TRIES:
                return False
            moved = Placed(key, start, start + place.end - place.start)
            if self._fits(activity, moved, used) and self._no_worse(key, moved, before):
                self.at[key] = moved
                self.hands[key], self.taken[key] = self._hands_at(moved), self._taken_at(moved)
                return True
        return False

    def _earliest(self, key: str) -> int:
        """When a step may begin by its waits, the others staying where they are."""
        place, earliest = self.at[key], self.work.now
        length = place.end - place.start
        for lag in self.lags[key]:
            if lag.before == lag.after:
                continue
            if lag.after == key:
                back = length if lag.reaches is Point.END else 0
                earliest = max(earliest, self._moment(lag.before, lag.leaves) + lag.least - back)
            else:
                forth = length if lag.leaves is Point.END else 0
                limit = self._limit(lag)
                if limit is not None and lag.after not in self.work.happened:
                    reached = self._moment(lag.after, lag.reaches)
                    earliest = max(earliest, reached - limit - forth)
        return earliest

    def _limit(self, lag: Lag) -> int | None:
        """How long a wait may become: as is wished, or as it is where it is longer already."""
        if lag.wished is None:
            return lag.most
        took = self._moment(lag.after, lag.reaches) - self._moment(lag.before, lag.leaves)
        return max(took, lag.wished)

    def _moment(self, key: str, point: Point) -> int:
        return self.at[key].start if point is Point.START else self.at[key].end

    def _starts(self, key: str, earliest: int) -> list[int]:
        """The places to try before its own: where the place opens, or another step is over."""
        place = self.at[key]
        found = {earliest, *self.opens}
        found |= {window.opens for window in self.work.windows}
        for other, each in self.at.items():
            found |= {each.start, each.end, *(end for _, end in self.hands[other])}
        return sorted(start for start in found if earliest <= start < place.start)

    def _used_but(self, key: str) -> dict[str, list[_Use]]:
        """What is taken of each resource, without a step and what is held from or to it."""
        used: dict[str, list[_Use]] = defaultdict(list)
        over, now = self.work.over, self.work.now
        for other, taken in self.taken.items():
            if other == key or over(other):
                continue
            for resource, begin, end, amount in taken:
                used[resource].append((begin, end, amount))
        for hold in self.work.holds:
            if key not in (hold.first, hold.last) and not over(hold.last):
                begin = self._moment(hold.first, hold.begins)
                begin = max(begin, now) if hold.first in self.work.happened else begin
                use = begin, self._moment(hold.last, hold.ends), hold.need.amount
                used[hold.need.resource].append(use)
        return used

    def _fits(self, activity: Activity, moved: Placed, used: dict[str, list[_Use]]) -> bool:
        if shut_out(self.work, activity, moved.start, moved.end) != (0, 0):
            return False
        wanted = list(takes(activity, moved.start, moved.end))
        for hold in self.holds[activity.key]:
            begin, end = self._held(hold, moved)
            if end < begin or (not hold.night and self.work.closing_within(begin, end)):
                return False
            wanted.append((hold.need.resource, begin, end, hold.need.amount))
        return all(self._free(used, wanted, each) for each in wanted)

    def _free(
        self,
        used: dict[str, list[_Use]],
        wanted: list[tuple[str, int, int, int]],
        one: tuple[str, int, int, int],
    ) -> bool:
        """Whether there is enough of a resource for all that wants it, at each of its moments."""
        resource, start, end, _ = one
        if start >= end:
            return True
        there = [
            *(each for each in used[resource] if each[0] < end and start < each[1]),
            *(tuple(each[1:]) for each in wanted if each[0] == resource),
        ]
        capacity = self.work.resource[resource].capacity
        moments = {start, *(begin for begin, _, _ in there if start < begin < end)}
        return all(
            sum(amount for a, b, amount in there if a <= moment < b) <= capacity
            for moment in moments
        )

    def _held(self, hold: Hold, moved: Placed) -> tuple[int, int]:
        """From when to when a pot is held, with one step moved."""
        first = moved if hold.first == moved.key else self.at[hold.first]
        last = moved if hold.last == moved.key else self.at[hold.last]
        begin = first.start if hold.begins is Point.START else first.end
        if hold.first in self.work.happened:
            begin = max(begin, self.work.now)
        return begin, last.start if hold.ends is Point.START else last.end

    def _no_worse(self, key: str, moved: Placed, before: tuple[int, int]) -> bool:
        """Whether nothing is lost by a move: no day more, no more running about, all in order."""
        days, counted = self._counts(key, moved)
        if (days, counted) > before:
            return False
        if not self._in_order(key, moved) or not self._in_turn(key, moved):
            return False
        placed = tuple(moved if each == key else place for each, place in self.at.items())
        return self._warm(replace(self.made, placed=placed)) == self.warm

    def _counts(self, key: str, place: Placed) -> tuple[int, int]:
        """How many days there is work on, and what the running about weighs that may change."""
        days = self._days(key, place)
        waits = sum(self._waits(key, place))
        return len({*days, *self.today}), waits + sum(each.counts for each in days.values())

    def _waits(self, key: str, place: Placed) -> Iterator[int]:
        for lag in self.lags[key]:
            if lag.leaves is Point.END and lag.reaches is Point.START:
                before = place if lag.before == key else self.at[lag.before]
                after = place if lag.after == key else self.at[lag.after]
                wait = after.start - before.end
                yield weight_of_a_wait(lag) * wait
                yield weight_over_a_wish(lag) * max(0, wait - (lag.wish or 0))

    def _days(self, key: str, moved: Placed) -> dict[int, _OfADay]:
        found: dict[int, tuple[int, int]] = {}
        happened = self.work.happened
        for other, own in self.hands.items():
            if other in happened:
                continue
            for begin, end in self._hands_at(moved) if other == key else own:
                day = bisect_right(self.opens, begin) - 1
                first, last = found.get(day, (begin, end))
                found[day] = min(begin, first), max(end, last)
        return {day: _OfADay(self.opens[day], *ends) for day, ends in found.items()}

    def _in_order(self, key: str, moved: Placed) -> bool:
        """Whether no step that is written before it begins after it now, which did not."""
        rank = self.rank.get(key)
        if rank is None or key in self.work.at_leisure:
            return True
        was = self.at[key].start
        return not any(
            moved.start < self.at[other].start <= was
            for other in self.work.in_order[:rank]
            if other not in self.work.at_leisure
        )

    def _in_turn(self, key: str, moved: Placed) -> bool:
        """Whether no other use of the same vessel comes after it now that came before."""
        was = self.at[key].start
        return not any(
            moved.start < self.at[other].end and self.at[other].start < was
            for other in self.vessels.get(key, ())
        )

    def _warm(self, made: Timetable) -> list[bool]:
        return [stands(made, each) for each in self.work.warmth]


def _vessels(work: Work) -> dict[str, tuple[str, ...]]:
    """The other uses of the vessels in which each step may leave something."""
    of_vessel: dict[str, list[str]] = defaultdict(list)
    for use in work.waters:
        of_vessel[use.vessel].append(use.key)
    found: dict[str, tuple[str, ...]] = {}
    for keys in of_vessel.values():
        for key in keys:
            found[key] = (*found.get(key, ()), *(other for other in keys if other != key))
    return found
