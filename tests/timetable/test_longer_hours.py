"""A day that is too short by a little: by how little longer it would do, and what is not said."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest
from example_work import NONE, step
from onion_day import ONION

import procedure
from procedure.collection.opening_hours import Hours, days_of, times_of
from procedure.command.main import main
from procedure.pipeline import Judged
from procedure.quantity.day import A_DAY
from procedure.timetable import Timetable, fitted, longer_hours
from procedure.timetable.from_plans import Drawn, work_of
from procedure.timetable.longer_hours import saved, saves_a_day
from procedure.timetable.planned import Placed
from procedure.timetable.terms import Asked
from procedure.timetable.work import Resource, Window, Work

SATURDAY = datetime(2099, 11, 28, 9)


def asked_for(hours: str, days: str = "daily") -> Asked:
    return Asked(SATURDAY, Hours(times_of(hours), *days_of(days)), hours)


def planned(asked: Asked) -> Timetable:
    made = fitted(work_of([procedure.read(ONION, "onion.dye")], asked).work, reasons=False).made
    assert isinstance(made, Timetable)
    return made


def said(hours: str, days: str = "daily") -> str:
    asked = asked_for(hours, days)
    plan = procedure.read(ONION, "onion.dye")
    return saves_a_day(planned(asked), [plan], asked).replace("\u202f", " ")


def test_it_is_as_the_plan_in_these_hours_is() -> None:
    short, longer = planned(asked_for("9:00-18:00")), planned(asked_for("9:00-18:30"))
    assert (short.days, longer.days) == (2, 1)
    assert said("9:00-18:00") == (
        "Half an hour longer, until 18:30, would save a day: all would be over at 18:05 on Sunday "
        "29 November, with somebody there on 1 day, if no bath cools more slowly than is planned "
        "for it."
    )


@pytest.mark.parametrize(
    ("hours", "begins"),
    [
        ("9:00-17:30", "An hour longer, until 18:30"),
        ("9:00-16:30", "Two hours longer, until 18:30"),
    ],
)
def test_it_is_the_least_that_does(hours: str, begins: str) -> None:
    assert said(hours).startswith(begins)


def test_the_work_is_drawn_once_for_each_length_of_hours(monkeypatch: pytest.MonkeyPatch) -> None:
    drawn: list[Hours] = []

    def counted(plans: Sequence[Judged], asked: Asked) -> Drawn:
        drawn.append(asked.hours)
        return work_of(plans, asked)

    asked = asked_for("9:00-16:30")
    made = planned(asked)
    monkeypatch.setattr(longer_hours, "work_of", counted)
    assert saves_a_day(made, [procedure.read(ONION, "onion.dye")], asked)
    assert len(drawn) == len(set(drawn)) == 4


@pytest.mark.parametrize("hours", ["9:00-20:00", "9:00-23:45"])
def test_where_none_of_them_saves_a_day_nothing_is_said(hours: str) -> None:
    assert said(hours) == ""


def test_nothing_is_said_of_what_was_not_searched_or_is_planned_shorter() -> None:
    asked = asked_for("9:00-18:00")
    plan, made = procedure.read(ONION, "onion.dye"), planned(asked)
    assert saves_a_day(replace(made, searched=False), [plan], asked) == ""
    assert saves_a_day(replace(made, to_the_limit=True), [plan], asked) == ""


def test_the_command_says_it(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "onion.dye"
    file.write_text(ONION, encoding="utf-8")
    assert main(["timetable", str(file), "--start", "2099-11-28 09:00"]) == 0
    told = " ".join(capsys.readouterr().out.split())
    assert "Half an hour longer, until 18:30, would save a day" in told
    assert "may save time" not in told


@pytest.mark.parametrize(
    ("day", "days", "said_of_it"),
    [(6, 3, "a week"), (11, 3, "2 days"), (12, 3, "a day"), (13, 3, "coming on a day more")],
)
def test_what_is_saved_is_counted_by_the_calendar(day: int, days: int, said_of_it: str) -> None:
    late = a_plan(13, range(days + 1))
    assert saved(late, a_plan(day, range(days))) == said_of_it


def a_plan(over_on: int, on: range) -> Timetable:
    """A plan that begins on the first day of a month and has work on the first so many days."""
    steps = tuple(step(f"step {day}", "work", 60) for day in on)
    waits = step("dry", "dry", 60, how=NONE, night=True)
    windows = tuple(Window(day * A_DAY, day * A_DAY + 480, day) for day in range(20))
    hands = (Resource("hands", "pair of hands", "people"),)
    work = Work((*steps, waits), (), (), hands, windows, begins=datetime(2099, 11, 1, 9))
    placed = [Placed(f"step {day}", day * A_DAY, day * A_DAY + 60) for day in on]
    end = over_on * A_DAY + 60
    return Timetable(work, (*placed, Placed("dry", end - 60, end)), 0)


@pytest.mark.parametrize(
    ("over_on", "told"),
    [
        ({30: 12, 60: 11, 120: 4}, "Two hours longer, until 20:00, would save 9 days"),
        ({30: 12, 60: 12, 120: 11}, "Half an hour longer, until 18:30, would save a day"),
        ({30: 6, 60: 5, 120: 5}, "Half an hour longer, until 18:30, would save a week"),
        ({60: 9, 120: 7}, "Two hours longer, until 20:00, would save 6 days"),
        ({}, ""),
    ],
)
def test_hours_that_save_days_more_are_told_instead(
    over_on: dict[int, int], told: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    late = a_plan(13, range(4))

    def planned_so(_made: object, _plans: object, _asked: object, hours: Hours) -> Timetable | None:
        closes = hours.times[-1][1]
        day = over_on.get(closes.hour * 60 + closes.minute - 18 * 60)
        return a_plan(day, range(4)) if day is not None else None

    monkeypatch.setattr(longer_hours, "_planned", planned_so)
    said_of_it = saves_a_day(late, [], asked_for("9:00-18:00")).replace("\u202f", " ")
    assert said_of_it.startswith(told) and bool(said_of_it) == bool(told)
