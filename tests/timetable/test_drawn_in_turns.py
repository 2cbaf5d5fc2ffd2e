"""Of much work it is sought once in which turn all comes, when all that belongs in it is known.

Until then a plan keeps all in its turn. Where what belongs in it makes it longer, it is drawn again
in any turn, and the sooner of the two is the plan.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from functools import cache
from pathlib import Path

import pytest
from verifying import wrongs
from verifying_plans import wrongs_of_plan

import procedure
from procedure.collection.opening_hours import Hours, times_of
from procedure.pipeline import Judged
from procedure.timetable import Fitted, Timetable, Work, fitted, planning
from procedure.timetable.calming import LATE_IN_A_DAY, LENGTH_OF_A_DAY, weight_of_a_wait
from procedure.timetable.from_plans import work_of
from procedure.timetable.planning import is_whole
from procedure.timetable.solving import Aim
from procedure.timetable.terms import Asked
from procedure.timetable.work import Activity, Attendance, Lasting

PLANS = Path(__file__).parents[2] / "examples" / "plans"
SATURDAY = datetime(2099, 11, 28, 9)
SHORT = "9:00-17:00"


@cache
def loaded(name: str) -> Judged:
    return procedure.load(PLANS / name)


def work_in(name: str, hours: str) -> Work:
    return work_of([loaded(name)], Asked(SATURDAY, Hours(times_of(hours)), hours)).work


@cache
def drawn(name: str, hours: str = SHORT) -> Fitted:
    return fitted(work_in(name, hours), reasons=False)


def plan_of(found: Fitted) -> Timetable:
    assert isinstance(found.made, Timetable)
    return found.made


def running_about(made: Timetable) -> int:
    """What its waits and its days count, each minute with its weight."""
    counted = sum(
        weight_of_a_wait(lag) * (made.at[lag.after].start - made.at[lag.before].end)
        for lag in made.work.lags
        if weight_of_a_wait(lag) and {lag.before, lag.after} <= set(made.at)
    )
    for opens, closes in made.work.days:
        there = [piece for piece in made.hands_on if opens <= piece.start < closes]
        if there:
            first, last = min(p.start for p in there), max(p.end for p in there)
            counted += LENGTH_OF_A_DAY * (last - first) + LATE_IN_A_DAY * (last - opens)
    return counted


@pytest.mark.parametrize(
    ("name", "hours"),
    [
        ("workshop-day.dye", SHORT),
        ("greens-and-teals.dye", "9:00-19:00"),
        ("shade-card-24.dye", "9:00-18:00"),
    ],
)
def test_the_plan_is_sound_and_whole(name: str, hours: str) -> None:
    found = drawn(name, hours)
    made = plan_of(found)
    times = {each.key: (each.start, each.end) for each in made.placed}
    assert wrongs(made.work, times, [(lag.before, lag.after) for lag in found.waits]) == []
    assert wrongs_of_plan(loaded(name), made.work, times, loose=bool(found.left)) == []
    assert is_whole(made)


def test_what_it_is_drawn_with_hangs_on_how_much_work_it_is() -> None:
    few, more, much = (_steps(count) for count in (30, 60, 101))
    aims = [planning._while_it_is_drawn(each) for each in (few, more, much)]
    assert aims == [Aim.ALL, Aim.TURNS, Aim.DAYS]


def _steps(count: int) -> Work:
    return Work(
        tuple(
            Activity(
                f"step {n}", f"step {n}", Lasting(5, 5), attendance=Attendance.NONE, night=True
            )
            for n in range(count)
        )
    )


def test_no_more_running_about_is_left_than_in_its_turns(monkeypatch: pytest.MonkeyPatch) -> None:
    """Without the last search the same plan has more of it: the search is worth its time."""
    name, hours = "greens-and-teals.dye", "9:00-18:00"
    calm = plan_of(drawn(name, hours))
    monkeypatch.setattr(planning, "_in_any_turn", lambda _work, found, *_: found)
    in_turns = plan_of(fitted(work_in(name, hours), reasons=False))
    assert (calm.finish, calm.days) <= (in_turns.finish, in_turns.days)
    assert running_about(calm) < running_about(in_turns)


def test_it_is_drawn_again_where_what_belongs_in_it_makes_it_longer(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """A plan of eight people's dips, whose vat is warmed again, is no longer than in any turn."""
    made = plan_of(drawn("workshop-day.dye"))
    work = work_in("workshop-day.dye", SHORT)
    monkeypatch.setattr(planning, "_while_it_is_drawn", lambda _: Aim.ALL)
    other = plan_of(fitted(work, reasons=False))
    assert is_whole(other)
    assert made.finish <= other.finish


def test_of_two_plans_the_sooner_is_taken(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the second is no sooner, or is not whole, the first stays."""
    found = drawn("workshop-day.dye")
    made = plan_of(found)
    assert made.undried is not None
    longer = Fitted(_ended(made, made.undried.finish + 60))
    monkeypatch.setattr(planning, "_fitted", lambda *_: found)
    monkeypatch.setattr(planning, "_rather_over_a_night", lambda _work, found, *_: found)
    monkeypatch.setattr(planning, "_made_whole", lambda _work, found, *_: found)
    work = work_in("workshop-day.dye", SHORT)
    assert planning._no_longer_for_its_turns(work, longer, 0.2) is found
    same = Fitted(_ended(made, made.undried.finish + 5))
    assert planning._no_longer_for_its_turns(work, same, 0.2) is same
    monkeypatch.setattr(planning, "is_whole", lambda _: False)
    assert planning._no_longer_for_its_turns(work, longer, 0.2) is longer


def _ended(made: Timetable, minute: int) -> Timetable:
    """The same plan, whose last step is over at another minute."""
    last = max(made.placed, key=lambda each: each.end)
    placed = tuple(replace(each, end=minute) if each is last else each for each in made.placed)
    placed = tuple(replace(each, end=min(each.end, minute)) for each in placed)
    return replace(made, placed=placed)
