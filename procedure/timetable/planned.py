"""A timetable: when each activity starts and ends, and how good the plan is known to be."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from functools import cached_property

from procedure.quantity.day import A_DAY
from procedure.timetable.work import Activity, Attendance, Point, Work, hot_times, stretches


class HowFound(Enum):
    """How a plan was found."""

    SOLVER = "solved"
    LIST_RULE = "put together step by step, each as soon as it fits"


@dataclass(frozen=True, slots=True)
class Placed:
    """An activity in its place, in minutes since the plan begins."""

    key: str
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Stretch:
    """A piece of hands-on work: of which activity, from when to when."""

    key: str
    start: int
    end: int


def _not_left(each: Activity) -> bool:
    """Whether somebody stays near while it goes on, though not at it all the time.

    What only has to be over before the place closes, since fibre lies in it, may be left.
    """
    if each.attendance is Attendance.NOW_AND_THEN:
        return True
    return each.by_day and each.attendance is not Attendance.WHOLE and not each.at_a_pinch


_MUCH_LONGER = 60
"""Minutes beyond what is written of which nothing is said."""


@dataclass(frozen=True)
class Timetable:
    """A plan of the work.

    ``bound`` is a length of which it is proven that no plan is shorter; where it equals
    ``finish`` the plan is the shortest there is. ``fewest_days`` and ``least_running`` say
    whether that was proven too, in that order, among the plans of this length.
    ``searched`` is false where ``ortools`` is missing, so that nothing better was looked for.
    ``to_the_limit`` says that not the shortest plan was sought but one in time, in which as few
    steps as can be are shorter than they may take.
    ``cut_short`` says that the clock ended a search, so that another run may give another plan.
    ``undried`` is the plan before time was found for fibre that is dried and wetted out again,
    or for vats that are warmed again between dips.
    """

    work: Work
    placed: tuple[Placed, ...]
    bound: int
    method: HowFound = HowFound.SOLVER
    fewest_days: bool = False
    least_running: bool = False
    searched: bool = True
    cut_short: bool = False
    to_the_limit: bool = False
    undried: Timetable | None = None

    @cached_property
    def at(self) -> dict[str, Placed]:
        """The places by the activities' keys."""
        return {each.key: each for each in self.placed}

    @cached_property
    def finish(self) -> int:
        """When the last activity is over."""
        return max((each.end for each in self.placed), default=0)

    @cached_property
    def seen_to(self) -> tuple[tuple[str, int], ...]:
        """What goes on for days and is seen to on each of them, and when: as late as it began."""
        return tuple(
            (each.key, minute)
            for each in self.placed
            if self.work.activity[each.key].every == A_DAY and not self.work.over(each.key)
            for minute in range(each.start + A_DAY, each.end - A_DAY // 2, A_DAY)
            if minute >= self.work.now
        )

    @property
    def shortest(self) -> bool:
        """Whether it is proven that no plan is shorter."""
        return self.bound >= self.finish

    @property
    def within(self) -> float:
        """By what share of the shortest possible it may be longer: 0.04 is 4 %."""
        beyond = self.finish - self.work.now
        least = max(1, self.bound - self.work.now)
        return 0.0 if self.shortest else max(0.0, (beyond - least) / least)

    @cached_property
    def hands_on(self) -> tuple[Stretch, ...]:
        """The pieces of hands-on work, by their start."""
        found = [
            Stretch(each.key, start, end)
            for each in self.placed
            for start, end in stretches(self.work.activity[each.key], each.start, each.end)
        ]
        return tuple(sorted(found, key=lambda piece: (piece.start, piece.end, piece.key)))

    @cached_property
    def to_come(self) -> tuple[Stretch, ...]:
        """The hands-on work of what is not over yet."""
        return tuple(
            piece
            for piece in self.hands_on
            if not self.work.over(piece.key) and piece.end > self.work.now
        )

    @property
    def days(self) -> int:
        """On how many calendar days someone has to be there, from now on."""
        return len(self.days_there)

    @property
    def days_counted(self) -> int:
        """The same with the day on which somebody is there in any case."""
        today = self.work.there_now
        return len(self.days_there | (set() if today is None else {today}))

    @cached_property
    def days_there(self) -> frozenset[int]:
        """The days on which someone has to be there, by their numbers, from now on."""
        return frozenset(
            window.day
            for piece in self.to_come
            for window in self.work.windows
            if piece.start < window.closes and window.opens < piece.end
        )

    def moment(self, key: str, point: Point) -> int:
        """When an activity starts or ends."""
        placed = self.at[key]
        return placed.start if point is Point.START else placed.end

    def watched(self, start: int, end: int) -> tuple[str, ...]:
        """What may not be left alone at some time between two moments.

        That is what is looked at now and then, what may not go on at night, and what is too hot.
        """
        hot = {each.key for each in self.hot if each.start < end and start < each.end}
        return tuple(
            each.key
            for each in sorted(self.placed, key=lambda place: (place.start, place.key))
            if each.key in hot
            or (_not_left(self.work.activity[each.key]) and each.start < end and start < each.end)
        )

    @cached_property
    def hot(self) -> tuple[Stretch, ...]:
        """When a bath is too hot to be alone, though nothing is done to it, by the start.

        Not of what has cooled by now; but what is over may have left its bath hot.
        """
        found = [
            Stretch(each.key, start, end)
            for each in self.placed
            for start, end in hot_times(self.work.activity[each.key], each.start, each.end)
            if end > self.work.now or not self.work.done
        ]
        return tuple(sorted(found, key=lambda piece: (piece.start, piece.end, piece.key)))


def longer_than_written(made: Timetable) -> dict[str, int]:
    """The steps that go on for much longer than is written, by their keys, with their minutes."""
    took = {each.key: each.end - each.start for each in made.placed}
    return {
        each.key: took[each.key]
        for each in made.work.activities
        if 0 < each.lasting.written < took[each.key] - _MUCH_LONGER and not made.work.over(each.key)
    }
