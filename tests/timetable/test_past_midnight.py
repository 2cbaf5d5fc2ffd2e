"""A place that is open past midnight, or day and night: what goes on at a heat goes on there."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest
from verifying import wrongs

import procedure
from procedure.collection.opening_hours import Hours, times_of
from procedure.timetable import Agenda, Timetable, agenda, fitted
from procedure.timetable.by_day import report
from procedure.timetable.days_in_words import day_in_words
from procedure.timetable.from_plans import work_of
from procedure.timetable.hours import windows
from procedure.timetable.taking import Taking, time_taken
from procedure.timetable.terms import Asked
from procedure.timetable.work import Window

KEPT_WARM = """procedure "A vat kept warm"
  makes "a blue vat"
equipment
  vat-pot: stainless steel pot, 12 L, lidded
  hob: hotplate, 1 kW
materials
  indigo: natural indigo, powder
  soda: soda ash
steps
  vat: prepare in vat-pot with water 8 L, indigo 8 g, soda 40 g at 50 °C covered
  hold vat at 50 °C for 14 h attended
"""


def planned(hours: str, begins: datetime) -> Agenda:
    asked = Asked(begins, Hours(times_of(hours)), hours)
    made = fitted(work_of([procedure.read(KEPT_WARM)], asked).work, reasons=False).made
    assert isinstance(made, Timetable)
    times = {each.key: (each.start, each.end) for each in made.placed}
    assert wrongs(made.work, times) == []
    return agenda(made)


def test_hours_past_midnight_are_of_the_day_on_which_they_begin() -> None:
    begins = datetime(2030, 6, 1, 16)
    found = windows(begins, Hours(times_of("16:00-10:00")), datetime(2030, 6, 3))
    assert found[:2] == (Window(0, 18 * 60, 0), Window(24 * 60, 42 * 60 - 10 * 60, 1))


def test_who_begins_in_the_morning_is_still_there_from_the_evening_before() -> None:
    found = windows(datetime(2030, 6, 1, 9), Hours(times_of("16:00-10:00")))
    assert found[:2] == (Window(0, 60, 0), Window(7 * 60, 25 * 60, 0))
    assert windows(datetime(2030, 6, 1, 9), Hours())[0] == Window(0, 9 * 60, 0)


@pytest.mark.parametrize(
    ("hours", "head"),
    [
        ("16:00-12:00", "open 16:00 to 12:00 on Sunday"),
        ("0-24", "open 16:00 to 24:00"),
        ("16-24, 0-12", "open 16:00 to 24:00"),
    ],
)
def test_a_night_can_be_covered_and_midnight_parts_nothing(hours: str, head: str) -> None:
    told = planned(hours, datetime(2030, 6, 1, 16))
    hold = next(each for each in told.made.placed if each.end - each.start == 14 * 60)
    assert (hold.start, told.made.finish) == (20, 14 * 60 + 20)
    said = report(told)
    assert head in said
    assert "when the place is closed" not in said
    assert "until 06:20 on Sunday" in said


def test_papers_tell_a_night_in_days_and_clock_times(tmp_path: Path) -> None:
    (tmp_path / "vat.dye").write_text(KEPT_WARM, encoding="utf-8")
    (tmp_path / "vatwright.toml").write_text('[workshop]\nhours = "16-12"\n', encoding="utf-8")
    taken = time_taken(procedure.load(tmp_path / "vat.dye"))
    assert isinstance(taken, Taking)
    (day,) = taken.days
    assert not taken.refused
    said = day_in_words(taken, day, dict.fromkeys(day.nodes, "1"), {})
    assert said.startswith("Day 1, 16:00 to 6:20")
