"""A day that is too short by a little: by how little longer it would do, and what is not said."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest
from onion_day import ONION

import procedure
from procedure.collection.opening_hours import Hours, days_of, times_of
from procedure.command.main import main
from procedure.timetable import Timetable, fitted
from procedure.timetable.from_plans import work_of
from procedure.timetable.longer_hours import saves_a_day
from procedure.timetable.terms import Asked

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
