"""The third aim: among the shortest plans on the fewest days, the one with least running about."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from functools import cache
from pathlib import Path

import pytest
from ical.calendar_stream import IcsCalendarStream
from verifying import wrongs

import procedure
from procedure.collection.opening_hours import Hours
from procedure.timetable import Timetable, agenda, fitted
from procedure.timetable.by_day import report
from procedure.timetable.calming import LITTLE, least_running
from procedure.timetable.from_plans import work_of
from procedure.timetable.icalendar_file import calendar
from procedure.timetable.terms import Asked

EXAMPLES = Path(__file__).parents[2] / "examples"
BEGINS = datetime(2099, 11, 28, 9)


@cache
def planned(name: str, participants: tuple[str, ...] = ()) -> Timetable:
    hands = ("Ada", "Bo") if participants else ("you",)
    asked = Asked(BEGINS, Hours(), "9:00-18:00", hands=hands, participants=participants)
    made = fitted(work_of([procedure.load(EXAMPLES / f"{name}.dye")], asked).work).made
    assert isinstance(made, Timetable)
    return made


@pytest.mark.parametrize(
    "name",
    ["tansy-gold-and-moss", "shade-card-madder", "three-lots-one-bath"],
)
def test_it_is_sought_as_a_whole_and_proven(name: str) -> None:
    made = planned(name)
    assert made.shortest and made.fewest_days and made.least_running


def test_of_much_work_it_is_sought_day_by_day() -> None:
    asked = Asked(BEGINS, Hours(), "9:00-18:00", hands=("Ada", "Bo"))
    plan = procedure.load(EXAMPLES / "plans/madder-walnut-iron.dye")
    made = fitted(work_of([plan], asked).work).made
    assert isinstance(made, Timetable) and made.days > 2
    assert len(made.work.activities) > LITTLE
    # Without the order of the text there may be less, which is sought from the plan on.
    found = least_running(made, 1.0)
    assert found.status == "feasible"
    calm = replace(made, placed=found.placed)
    assert not wrongs(made.work, {each.key: (each.start, each.end) for each in found.placed})
    assert calm.finish <= made.finish and calm.days <= made.days


def test_no_soap_is_left_in_while_somebody_is_free() -> None:
    """One skein waits for the other to be dried with it: it is washed later, not rinsed later."""
    made = planned("goldenrod-and-olive")
    named = {each.name: made.at[each.key] for each in made.work.activities}
    assert named["rinse yellow in tub"].start == named["wash yellow in tub"].end


def test_what_is_over_by_night_is_over_about_then() -> None:
    said = " ".join(report(agenda(planned("raven-grey"))).split())
    assert "Cool logwood-bath; it goes on by itself until about 23:40." in said
    assert "00:00" not in said


def test_of_what_is_over_by_day_the_time_is_told() -> None:
    made = planned("raven-grey")
    key = next(each.key for each in made.work.activities if each.name == "cool grey-bath")
    assert made.work.begins is not None
    over = made.work.begins + timedelta(minutes=made.at[key].end)
    said = " ".join(report(agenda(made)).split())
    assert f"Cool grey-bath; it goes on by itself until {over:%H:%M}." in said


def test_what_stands_for_days_at_a_heat_is_seen_to_on_each_of_them() -> None:
    made = planned("indigo-madder-bran-vat")
    said = " ".join(report(agenda(made)).split())
    assert "and looks in every day between to see to “stand vat” (2)" in said
    written = calendar(agenda(made), datetime.now().astimezone())
    events = IcsCalendarStream.calendar_from_ics(written.decode()).events
    looks = [each.dtstart for each in events if each.summary == "See to “stand vat”"]
    assert sorted(f"{each:%m-%d %H:%M}" for each in looks) == [
        "11-29 09:20", "11-30 09:20", "12-01 09:20", "12-02 09:20", "12-03 09:20", "12-04 09:20",
        "12-05 09:20",
    ]  # fmt: skip
    assert len({each.uid for each in events}) == len(events)


def test_a_vat_that_stands_for_an_hour_wants_no_days() -> None:
    assert planned("tansy-gold-and-moss").seen_to == ()


@pytest.mark.parametrize(
    ("name", "bath", "before"),
    [
        ("heather-purple-wool", "discard vat", "dry yarn"),
        ("old-gold", "discard alum-bath", "dry wool"),
    ],
)
def test_a_bath_is_poured_away_when_somebody_has_time_though_that_is_written_last(
    name: str, bath: str, before: str
) -> None:
    made = planned(name)
    at = [made.at[each.key] for each in made.work.activities if each.name.startswith(bath)]
    last = [made.at[each.key] for each in made.work.activities if each.name.startswith(before)]
    assert at and last
    assert at[-1].end <= last[-1].start
