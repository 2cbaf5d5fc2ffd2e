"""What is left for days though it could be done sooner, and ranges that cost no day."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

import pytest
from example_work import step
from verifying import wrongs

import procedure
from procedure.collection.opening_hours import Hours, days_of, times_of
from procedure.timetable import Timetable, fitted
from procedure.timetable.from_plans import work_of
from procedure.timetable.idle_days import without_idle_days
from procedure.timetable.left_over import left_for_another_day
from procedure.timetable.planned import Placed
from procedure.timetable.planned_words import how_good
from procedure.timetable.terms import Asked
from procedure.timetable.work import Attendance, Lag, Resource, Window, Work

SATURDAY = datetime(2099, 11, 28, 9)
DAY = 24 * 60
HANDS = Resource("hands", "a person", "people")
FOUR_DAYS = tuple(Window(n * DAY, n * DAY + 540, n) for n in range(4))
HEAD = """procedure "Ranges"
  by "Fellside Dye Circle"
  place ventilated
  wearing gloves
fibre
  silk: silk, 100 g, scoured
equipment
  pan: stainless steel pot, 6 L, lidded, for dyeing only
  tub: plastic tub, 10 L, for dyeing only
  ring: hotplate, 1500 W
materials
  weld: weld, dried
steps
"""


def made_of(steps: str, days: str = "daily", hours: str = "9-18") -> Timetable:
    asked = Asked(SATURDAY, Hours(times_of(hours), *days_of(days)), hours)
    made = fitted(work_of([procedure.read(HEAD + steps, "ranges.dye")], asked).work).made
    assert isinstance(made, Timetable)
    times = {each.key: (each.start, each.end) for each in made.placed}
    assert wrongs(made.work, times) == []
    return made


def lasting(made: Timetable, name: str) -> tuple[int, int, int]:
    each = next(a for a in made.work.activities if a.name.startswith(name))
    return each.lasting.least, each.lasting.most, each.lasting.longest


def test_what_a_search_leaves_for_weeks_later_is_done_as_soon_as_it_may_be() -> None:
    steps = (step("dye", "dye", 60), step("pour", "pour away", 10), step("clean", "clean", 10))
    lags = (Lag("dye", "pour"), Lag("pour", "clean"))
    work = Work(steps, lags, resources=(HANDS,), windows=FOUR_DAYS, begins=SATURDAY)
    late = 3 * DAY
    placed = (Placed("dye", 0, 60), Placed("pour", late, late + 10))
    made = Timetable(work, (*placed, Placed("clean", late + 10, late + 20)), 80)
    sooner = without_idle_days(made)
    assert sooner.finish == 80
    assert wrongs(work, {each.key: (each.start, each.end) for each in sooner.placed}) == []


def test_but_nothing_moves_that_has_to_wait() -> None:
    steps = (step("dye", "dye", 60), step("pour", "pour away", 10))
    lags = (Lag("dye", "pour", least=3 * DAY - 60),)
    work = Work(steps, lags, resources=(HANDS,), windows=FOUR_DAYS, begins=SATURDAY)
    made = Timetable(work, (Placed("dye", 0, 60), Placed("pour", 3 * DAY, 3 * DAY + 10)), 70)
    assert without_idle_days(made) == made


def left_over(lag: Lag = Lag("dye", "clean"), minutes: int = 10) -> list[str]:  # noqa: B008
    steps = (step("dye", "dye yarn", 535), step("clean", "clean tub", minutes))
    windows = (Window(0, 540, 0), Window(7 * DAY, 7 * DAY + 540, 7))
    work = Work(steps, (lag,), resources=(HANDS,), windows=windows, begins=SATURDAY)
    placed = (Placed("dye", 0, 535), Placed("clean", 7 * DAY, 7 * DAY + minutes))
    return left_for_another_day(Timetable(work, placed, 545))


def test_a_little_that_is_left_for_a_week_later_is_told_with_what_would_do() -> None:
    said = left_over()[0].replace("\u202f", " ")
    assert "All that is left for 09:00 on Saturday 5 December is “clean tub”, 10 min" in said
    assert "10 min longer" in said and "until 18:10" in said


@pytest.mark.parametrize("lag", [Lag("dye", "clean", least=6 * 60)])
def test_but_not_where_it_could_not_be_done_then(lag: Lag) -> None:
    assert left_over(lag) == [] == left_over(minutes=90)


def test_nor_where_it_is_the_next_morning() -> None:
    steps = (step("dye", "dye yarn", 535), step("clean", "clean tub", 10))
    work = Work(steps, resources=(HANDS,), windows=FOUR_DAYS, begins=SATURDAY)
    placed = (Placed("dye", 0, 535), Placed("clean", DAY, DAY + 10))
    assert left_for_another_day(Timetable(work, placed, 545)) == []


@pytest.mark.parametrize(("bound", "said"), [(900, "within 12"), (100, "none is over before")])
def test_how_far_from_the_shortest_is_told_in_a_number_where_that_is_of_use(
    bound: int, said: str
) -> None:
    work = Work((step("dye", "dye", 60),), resources=(HANDS,), windows=FOUR_DAYS, begins=SATURDAY)
    made = Timetable(work, (Placed("dye", 940, 1000),), bound)
    told = how_good(made)
    assert said in told and ("%" in told) is (bound == 900)


def test_a_soak_of_half_an_hour_to_half_a_day_costs_no_night() -> None:
    steps = "  wet out silk in tub with water 5 L at 30 °C for {}\n  dry silk\n"
    wide = made_of(steps.format("30 min to 12 h"))
    (soak,) = [each for each in wide.work.activities if each.name.startswith("wet out")]
    assert lasting(wide, "wet out")[:2] == (30, 30)
    assert soak.lasting.written == 720
    assert wide.finish == made_of(steps.format("30 min")).finish
    assert lasting(made_of(steps.format("30 min to 1 h")), "wet out")[:2] == (30, 60)


def test_a_rise_is_planned_at_its_long_end_where_the_time_at_heat_is_open() -> None:
    bath = "  bath: prepare in pan with water 4 L, weld 50 g at 40 °C\n"
    wet = "  wet out silk in tub with water 5 L at 30 °C for 1 h\n" + bath
    dye = "  dye silk in bath from 40 °C to 80 °C over 30 min to 1 h for {}30 min\n  dry silk\n"
    for at_least in ("", "at least "):
        assert lasting(made_of(wet + dye.format(at_least)), "dye silk")[:2] == (60, 90)
    unsaid = dye.replace("over 30 min to 1 h", "over at least 30 min")
    assert lasting(made_of(wet + unsaid.format("")), "dye silk")[0] == 60


def test_a_bath_is_cool_enough_as_soon_as_it_is_at_the_most_that_is_written() -> None:
    bath = "  bath: prepare in pan with water 4 L, weld 50 g at 85 °C\n  cool bath to {}40 °C\n"
    at_most, sharp = made_of(bath.format("at most ")), made_of(bath.format(""))
    assert lasting(at_most, "cool") == lasting(sharp, "cool")


def test_what_cools_while_the_place_is_open_is_not_said_to_go_on_when_it_is_closed() -> None:
    from procedure.timetable.told_first import _left

    cool = replace(
        step("cool", "cool bath", 60, how=Attendance.ENDS, stretch=300, night=True), at_a_pinch=300
    )
    work = Work((cool,), resources=(HANDS,), windows=FOUR_DAYS, begins=SATURDAY)
    made = Timetable(work, (Placed("cool", 0, 300),), 300)
    assert "closed" not in " ".join(_left(made, ("cool",), 0))
    later = Timetable(work, (Placed("cool", 400, 700),), 300)
    assert "closed" in " ".join(_left(later, ("cool",), 0))
