"""Plans on full five minutes keep all that the plan before kept."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest
from verifying import wrongs

import procedure
from procedure.collection.opening_hours import Hours
from procedure.timetable import Timetable, fitted
from procedure.timetable.fives import on_fives
from procedure.timetable.from_plans import work_of
from procedure.timetable.planned import Placed
from procedure.timetable.terms import Asked
from procedure.timetable.work import (
    HANDS,
    Activity,
    Attendance,
    Lag,
    Lasting,
    Resource,
    Window,
    Work,
)

EXAMPLES = Path(__file__).parents[2] / "examples"
BEGINS = datetime(2099, 11, 28, 9)
ONE = (Resource(HANDS, "pair of hands", "people"),)


@pytest.mark.parametrize("name", ["tansy-gold-and-moss", "madder-red-wool"])
def test_nothing_in_an_example_is_at_an_odd_minute(name: str) -> None:
    plan = procedure.load(EXAMPLES / f"{name}.dye")
    made = fitted(work_of([plan], Asked(BEGINS, Hours(), "9:00-18:00")).work).made
    assert isinstance(made, Timetable)
    times = {each.key: (each.start, each.end) for each in made.placed}
    assert all(minute % 5 == 0 for pair in times.values() for minute in pair)
    assert wrongs(made.work, times) == []


def _timetable(*placed: tuple[str, int, int], at_start: int = 0, lag: int = 0) -> Timetable:
    attendance = Attendance.ENDS if at_start else Attendance.WHOLE
    steps = tuple(
        Activity(key, key, Lasting(end - start, end - start), (), attendance, at_start=at_start)
        for key, start, end in placed
    )
    lags = (Lag(placed[0][0], placed[1][0], lag),)
    work = Work(steps, lags, (), ONE, (Window(0, 600),), BEGINS)
    return Timetable(work, tuple(Placed(*each) for each in placed), 0)


def test_times_go_back_to_the_five_minutes_before() -> None:
    back = on_fives(_timetable(("rinse", 7, 17), ("wash", 23, 38), lag=5))
    assert [(each.start, each.end) for each in back.placed] == [(5, 15), (20, 35)]


def test_hands_are_not_wanted_twice_for_it() -> None:
    back = on_fives(_timetable(("air", 6, 16), ("hang", 8, 13), at_start=2, lag=-10))
    assert [(each.start, each.end) for each in back.placed] == [(5, 15), (10, 15)]


@pytest.mark.parametrize(
    "made",
    [
        _timetable(("dip", 6, 9), ("rinse", 9, 19)),  # 3 min are written
        _timetable(("dip", 6, 11), ("rinse", 13, 23), lag=2),  # a wait of 2 min
        _timetable(
            ("air", 6, 16), ("hang", 8, 18), at_start=2, lag=-10
        ),  # both would be begun at 5
    ],
)
def test_what_would_not_hold_on_fives_stays_where_it_is(made: Timetable) -> None:
    assert on_fives(made) is made
