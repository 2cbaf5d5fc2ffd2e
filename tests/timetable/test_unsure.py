"""What a plan is not sure of is told in each form: estimated coolings, hot baths, sour baths."""

from __future__ import annotations

import csv
import io
import json
import re
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

import procedure
from procedure.collection.opening_hours import Hours, days_of, times_of
from procedure.timetable import Agenda, Timetable, agenda, as_json, fitted, noted, rows_by_start
from procedure.timetable.by_day import report
from procedure.timetable.drawing import draw
from procedure.timetable.from_plans import work_of
from procedure.timetable.icalendar_file import calendar
from procedure.timetable.terms import Asked
from procedure.timetable.unsure import estimates

if TYPE_CHECKING:
    from ical.event import Event

EXAMPLES = Path(__file__).parents[2] / "examples"
SATURDAY = datetime(2099, 11, 28, 9)


def facts(example: str, days: str = "") -> Agenda:
    opening = Hours(times_of("9:00-18:00"), *days_of(days)) if days else Hours()
    plan = procedure.load(EXAMPLES / f"{example}.dye")
    made = fitted(work_of([plan], Asked(SATURDAY, opening)).work, 0.05).made
    assert isinstance(made, Timetable)
    return agenda(noted(made, estimates(made)))


def events_of(written: str) -> list[Event]:
    """The events of a calendar, as the library ical reads them.

    It is imported here alone: it takes a tenth of the time that finding all tests does.
    """
    from ical.calendar_stream import IcsCalendarStream

    return IcsCalendarStream.calendar_from_ics(written).events


@pytest.fixture(scope="module")
def onions() -> Agenda:
    return facts("first-onion-skins")


def test_a_cooling_that_may_take_longer_is_told_in_each_form(onions: Agenda) -> None:
    """What follows the cooling in line 25 of onion skins begins when its middle is over."""
    made = onions.made
    (cooled,) = (each for each in made.work.activities if each.place.line == 25)
    slowest, place = cooled.lasting.slowest, made.at[cooled.key]
    assert slowest > place.end - place.start
    told = f"“{cooled.name}” ({cooled.printed}) up to {slowest // 60} h {slowest % 60} min"
    heads = " ".join(report(onions).split())
    assert told.replace("\u202f", " ") in heads.replace("\u202f", " ")
    table = list(csv.DictReader(io.StringIO(rows_by_start.report(onions))))
    assert [each["may_take_minutes"] for each in table if each["line"] == "25"] == [f"{slowest}"]
    document = json.loads(as_json.report(onions))
    assert [s["may_take_minutes"] for s in document["steps"] if s["line"] == 25] == [slowest]
    assert any("Planned for the middle" in note for note in document["notes"])
    drawn = "".join(draw(onions))
    assert "Planned for the middle" in drawn and "may take" in drawn
    cool = SATURDAY + timedelta(minutes=place.start + slowest)
    written = calendar(onions, datetime(2099, 1, 1, tzinfo=UTC)).decode().replace("\r\n ", "")
    assert "Planned for the middle" in written
    (strained,) = (
        each
        for each in events_of(written)
        if each.start == SATURDAY + timedelta(minutes=place.end) and each.summary
    )
    assert f"may go on until {cool:%H:%M}: this waits" in (strained.description or "")


def test_nothing_is_told_of_a_cooling_that_has_its_time() -> None:
    """Cochineal cools in line 41 while the silk lies in its alum until the next morning."""
    silk = facts("cochineal-pink-silk")
    (said,) = estimates(silk.made)
    number = {each.place.line: each.printed for each in silk.made.work.activities}
    assert f"({number[44]})" in said and f"({number[41]})" not in said and "line" not in said


def test_until_when_somebody_stays_is_told_in_each_form(onions: Agenda) -> None:
    written = calendar(onions, datetime(2099, 1, 1, tzinfo=UTC)).decode()
    events = [each for each in events_of(written) if (each.summary or "").startswith("Stay near")]
    (hot,) = (each for each in onions.made.work.activities if each.hot_for and each.overnight)
    place = onions.made.at[hot.key]
    cool = SATURDAY + timedelta(minutes=place.start + hot.hot_for)
    assert [each.end for each in events] == [cool]
    assert f"hotter than {hot.too_hot}" in (events[0].description or "")
    table = list(csv.DictReader(io.StringIO(rows_by_start.report(onions))))
    assert [each["hot_until"] for each in table if each["line"] == f"{hot.place.line}"] == [
        cool.isoformat(timespec="minutes")
    ]
    assert f"hot, stay near until {cool:%H:%M}" in _without_breaks("".join(draw(onions)))
    (step,) = (s for s in json.loads(as_json.report(onions))["steps"] if s["key"] == hot.key)
    assert step["hot_until"] == cool.isoformat(timespec="minutes")


def _without_breaks(drawn: str) -> str:
    """The words of a drawing, whose lines are elements of their own."""
    from xml.etree import ElementTree

    texts = ElementTree.fromstring(drawn).iter("{http://www.w3.org/2000/svg}text")
    return " ".join(each.text or "" for each in texts)


def test_a_bath_that_waits_for_a_week_is_told_once() -> None:
    """On a Saturday and a Sunday alone, walnut is strained on one and dyed with on the next."""
    walnut = facts("walnut-brown-wool", "sat,sun")
    said = " ".join(report(walnut).split()).replace("\u202f", " ")
    assert len(re.findall("Nothing is done to brown-bath in the pot until ..:.. on Sat", said)) == 1
    assert "and a dye bath goes sour after 3 days: keep it in the cold" in said


def test_why_nothing_is_said_of_one_more_where_steps_are_short(onions: Agenda) -> None:
    short = replace(onions, made=replace(onions.made, bound=0, to_the_limit=True))
    said = " ".join(report(short).split())
    assert "since steps are planned shorter" in said and "so many steps" not in said


def test_a_vat_that_stands_for_a_week_is_no_bath_that_waits() -> None:
    assert "Nothing is done to" not in report(facts("indigo-madder-bran-vat"))


def test_a_bath_that_is_heated_and_then_held_is_watched_once() -> None:
    said = report(facts("weld-on-silk"))
    assert "stay near for weld-bath in the pot." in said and "“heat weld-bath” and" not in said
