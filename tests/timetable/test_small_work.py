"""Every way of planning small work is tried, and the planner finds as short a one.

The work has least and greatest waits between starts and ends, steps that may be let go on,
pots held from one step to another, hands at the start and end, closed hours and nights. What is
seen without a search, how short no plan can be and between when each step lies, is true of it.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from small_work import made_by_chance, shortest_by_trying
from verifying import wrongs

from procedure.timetable.bounding import least_length, spans_of
from procedure.timetable.contradicting import waits_contradict
from procedure.timetable.first_plan import first_plan
from procedure.timetable.programme import ConstraintGroup, build
from procedure.timetable.searching import search
from procedure.timetable.solving import best, shorten
from procedure.timetable.unplannable import faults
from procedure.timetable.work import (
    Activity,
    Attendance,
    Lag,
    Lasting,
    Point,
    Resource,
    Window,
    Work,
)

UNTIL = 20
"""By when any of this work is over that can be done at all, and some minutes more."""


@pytest.mark.parametrize("hundred", (2, 4))
def test_no_way_of_planning_small_work_is_shorter(hundred: int) -> None:
    _compare(range(hundred * 100, hundred * 100 + 100))


@pytest.mark.exhaustive
@pytest.mark.parametrize("hundred", [each for each in range(30) if each not in (2, 4)])
def test_no_way_of_planning_more_small_work_is_shorter(hundred: int) -> None:
    _compare(range(hundred * 100, hundred * 100 + 100))


def _compare(seeds: range) -> None:
    possible = 0
    for seed in seeds:
        work = made_by_chance(seed)
        assert faults(work) == (), seed
        shortest = shortest_by_trying(work, UNTIL)
        first = first_plan(work)
        found = shorten(work, 10.0, first)
        if shortest is None:
            assert found.status == "impossible" or found.value > UNTIL, seed
        else:
            possible += 1
            assert (found.status, found.value, found.bound) == ("optimal", shortest, shortest), seed
            assert least_length(work) <= shortest, seed
            assert not waits_contradict(work), seed
            spans = spans_of(work, shortest)
            for each in found.placed:
                if each.key not in work.happened:
                    span = spans[each.key]
                    assert span.start <= each.start <= span.latest_start, (seed, each)
                    assert span.end <= each.end <= span.latest_end, (seed, each)
        for placed in (found.placed, first.placed if first else ()):
            if placed:
                times = {each.key: (each.start, each.end) for each in placed}
                assert wrongs(work, times) == [], seed
    assert possible >= len(seeds) // 4


def test_waits_that_contradict_each_other_are_seen_without_a_search() -> None:
    """A takes 20 minutes; B begins when it is over, and 15 minutes after its beginning at most."""
    one, two = Activity("A", "a", Lasting(20, 20)), Activity("B", "b", Lasting(5, 5))
    late = Lag("A", "B", 0, 15, Point.START, Point.START)
    wanted = Work((one, two), (Lag("A", "B"), late), windows=(Window(0, 540),))
    assert waits_contradict(wanted)
    assert not waits_contradict(wanted, [ConstraintGroup("greatest wait", "1")])
    assert not waits_contradict(wanted, [ConstraintGroup("least wait", "0")])
    assert not waits_contradict(wanted, [ConstraintGroup("activity", "A")])
    enough = replace(late, most=20)
    assert not waits_contradict(replace(wanted, lags=(wanted.lags[0], enough)))


def test_what_its_hours_contradict_is_seen_without_simplifying() -> None:
    """A goes on over a night, and B is over an hour after it: but that is a week later at least."""
    one = Activity("A", "a", Lasting(600, 600), attendance=Attendance.ENDS, at_start=5, night=True)
    two = Activity("B", "b", Lasting(30, 30))
    saturdays = tuple(Window(n * 7 * 1440, n * 7 * 1440 + 300, n * 7) for n in range(40))
    soon = Lag("A", "B", 0, 60)
    work = Work((one, two), (soon,), (), (Resource("hands", "you", "people", 1),), saturdays)
    assert first_plan(work) is None and not waits_contradict(work)
    glance = search(build(work), 0.001, simplified=False)
    assert glance.status == "impossible" and best(work, None) is None
    later = replace(work, lags=(replace(soon, most=7 * 1440),))
    assert search(build(later), 0.1, simplified=False).status != "impossible"
    assert best(later, None) is not None
