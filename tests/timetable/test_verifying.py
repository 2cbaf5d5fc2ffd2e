"""The verifier sees each kind of fault in a plan that was sound before it."""

from __future__ import annotations

from dataclasses import replace

import pytest
import verified_always
from example_work import weekend
from verifying import Times, wrongs

from procedure.timetable import Timetable, plan
from procedure.timetable.work import Done, Work


@pytest.fixture(scope="module")
def made() -> Timetable:
    found = plan(weekend(pots=("kettle", "pot")))
    assert isinstance(found, Timetable)
    return found


def moved(made: Timetable, key: str, by: int, longer: int = 0) -> dict[str, tuple[int, int]]:
    times = {each.key: (each.start, each.end) for each in made.placed}
    start, end = times[key]
    return {**times, key: (start + by, end + by + longer)}


def said(work: Work, times: Times) -> str:
    return "; ".join(wrongs(work, times))


def test_a_sound_plan_has_nothing_wrong(made: Timetable) -> None:
    assert wrongs(made.work, moved(made, "gold 1:dry", 0)) == []


@pytest.mark.parametrize(
    ("key", "by", "longer", "wrong"),
    [
        ("gold 1:dry", -60, 0, "too soon after"),
        ("gold 1:rinse dye", 200, 0, "too late after"),
        ("gold 1:clean", 12 * 60, 0, "while the place is closed"),
        ("gold 1:dye", 0, 10, "takes 100 min"),
        ("gold 1:cool alum", -240, 0, "is not overnight"),
        ("gold 1:wet", -3000, 0, "starts in the past"),
    ],
)
def test_a_step_that_is_moved_is_seen(
    made: Timetable, key: str, by: int, longer: int, wrong: str
) -> None:
    if key == "gold 1:cool alum":
        assert made.at[key].end - made.at[key].start > 0
    assert wrong in said(made.work, moved(made, key, by, longer))


@pytest.mark.parametrize("resource", ["hands", "rings", "kettle", "line"])
def test_less_of_what_is_there_is_seen(made: Timetable, resource: str) -> None:
    less = tuple(
        replace(each, capacity=0) if each.key == resource else each for each in made.work.resources
    )
    times = moved(made, "gold 1:dry", 0)
    assert f"{resource} is over-used" in said(replace(made.work, resources=less), times)


def test_a_finish_that_is_missed_is_seen(made: Timetable) -> None:
    times = moved(made, "gold 1:dry", 0)
    assert "too late" in said(replace(made.work, finish_by=made.finish - 1), times)


def test_what_has_happened_and_was_moved_is_seen(made: Timetable) -> None:
    times = moved(made, "gold 1:wet", 0)
    done = Done("gold 1:wet", times["gold 1:wet"][0] + 5)
    assert "as it happened" in said(replace(made.work, done=(done,)), times)


def test_what_must_not_lie_there_at_night_is_seen(made: Timetable) -> None:
    by_day = tuple(replace(each, night=False) for each in made.work.holds)
    times = moved(made, "gold 1:dry", 0)
    assert "is there while the place is closed" in said(replace(made.work, holds=by_day), times)


def test_plans_of_every_test_are_looked_at(monkeypatch: pytest.MonkeyPatch) -> None:
    """What is wrong with a plan is kept until the end of the test that has made it."""
    monkeypatch.setattr(verified_always, "wrongs", lambda work, times: ["something"])
    plan(weekend(pots=("kettle", "pot")))
    assert verified_always.BROKEN == ["something", "something"]  # of the first plan and the best
    verified_always.BROKEN.clear()
