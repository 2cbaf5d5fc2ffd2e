"""The calendar, read back by another library than the one that wrote it.

RFC 5545 is *Internet Calendaring and Scheduling Core Object Specification (iCalendar)*.
"""

from __future__ import annotations

import io
import re
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from dateutil.tz import tzical
from example_work import LONDON, day_of_eight, weekend
from ical.calendar_stream import IcsCalendarStream
from ical.event import Event

import procedure
from procedure.collection.opening_hours import Hours
from procedure.timetable import Agenda, NoPlan, Timetable, Work, agenda, fitted, plan
from procedure.timetable.from_plans import work_of
from procedure.timetable.hours import clock
from procedure.timetable.icalendar_file import calendar
from procedure.timetable.terms import Asked

EXAMPLES = Path(__file__).parents[2] / "examples"
WRITTEN = datetime(2026, 10, 20, 12, 0, tzinfo=UTC)


def facts(work: Work) -> Agenda:
    made = plan(work)
    assert isinstance(made, Timetable)
    return agenda(made)


def read_back(written: bytes) -> list[Event]:
    return list(IcsCalendarStream.calendar_from_ics(written.decode()).events)


@pytest.fixture(scope="module")
def autumn() -> Agenda:
    """A plan over the night of 24 to 25 October 2026, when the clocks go back."""
    return facts(weekend("2026-10-24 09:00"))


def test_there_is_an_event_for_each_stretch_of_hands_on_work(autumn: Agenda) -> None:
    made = autumn.made
    events = read_back(calendar(autumn, WRITTEN))
    assert made.work.begins is not None
    wanted = sorted(
        (clock(made.work.begins, each.start), clock(made.work.begins, each.end))
        for each in made.hands_on
    )
    assert sorted((each.dtstart, each.dtend) for each in events) == wanted
    assert all(each.summary and each.summary[0].isupper() for each in events)


def test_the_times_are_right_on_both_sides_of_the_change_of_clocks(autumn: Agenda) -> None:
    events: dict[str, Event] = {}
    for each in sorted(read_back(calendar(autumn, WRITTEN)), key=lambda event: event.start):
        events.setdefault(str(each.summary), each)
    before, after = (
        next(
            each for name, each in events.items() if name.startswith("Turn the plate off (“keep")
        ).dtstart,
        next(each for name, each in events.items() if name.startswith("Lift the yarn")).dtstart,
    )
    assert isinstance(before, datetime) and isinstance(after, datetime)
    turned_off = next(each.start for each in autumn.made.hands_on if each.key == "gold 1:mordant")
    passed = after.astimezone(UTC) - before.astimezone(UTC)
    lifted = next(each.start for each in autumn.made.hands_on if each.key == "gold 1:cool alum")
    assert passed == timedelta(minutes=lifted - turned_off)
    every = [each.dtstart for each in events.values() if isinstance(each.dtstart, datetime)]
    assert {moment.utcoffset() for moment in every} == {timedelta(hours=1), timedelta(0)}


def test_a_second_import_moves_events_and_adds_none(autumn: Agenda) -> None:
    later = facts(weekend("2026-10-25 10:00"))
    first = {each.uid: each for each in read_back(calendar(autumn, WRITTEN))}
    second = {each.uid: each for each in read_back(calendar(later, WRITTEN + timedelta(hours=1)))}
    assert first.keys() == second.keys()
    for uid, event in first.items():
        assert event.summary == second[uid].summary
        assert (event.sequence or 0) < (second[uid].sequence or 0)
        assert event.dtstamp < second[uid].dtstamp
    assert any(first[uid].dtstart != second[uid].dtstart for uid in first)


def test_an_event_calls_itself_to_mind_where_nobody_is_at_work_already(autumn: Agenda) -> None:
    events = sorted(
        read_back(calendar(autumn, WRITTEN, alarm=15)), key=lambda event: (event.start, event.end)
    )
    until: datetime | None = None
    for event in events:
        assert isinstance(event.dtstart, datetime) and isinstance(event.dtend, datetime)
        busy = until is not None and event.dtstart - until < timedelta(minutes=15)
        alarms = [] if busy else [(timedelta(minutes=-15), "DISPLAY")]
        assert [(each.trigger, each.action) for each in event.alarm] == alarms, event.summary
        until = event.dtend
    assert 3 < sum(bool(event.alarm) for event in events) < len(events)


@pytest.mark.parametrize("zone", ["Europe/London", "America/New_York", "Australia/Sydney"])
def test_the_clocks_change_in_the_file_when_they_do(zone: str) -> None:
    """The VTIMEZONE read by dateutil agrees with the tz database over both changes of a year."""
    begins = datetime(2027, 3, 1, 9, tzinfo=ZoneInfo(zone))
    written = calendar(facts(replace(weekend(), begins=begins)), WRITTEN).decode()
    start = written.index("BEGIN:VTIMEZONE")
    read = tzical(io.StringIO(written[start : written.index("END:VCALENDAR")])).get(zone)
    moment = datetime(2027, 1, 10, tzinfo=UTC)
    while moment.year == 2027:
        there = moment.astimezone(ZoneInfo(zone))
        # An hour that comes twice is one too many for dateutil.
        if there.utcoffset() == there.replace(fold=1 - there.fold).utcoffset():
            assert moment.astimezone(read).utcoffset() == there.utcoffset(), moment
        moment += timedelta(minutes=30)


def test_a_comment_more_moves_no_event(tmp_path: Path) -> None:
    text = (EXAMPLES / "goldenrod-and-olive.dye").read_text(encoding="utf-8")
    found = []
    for number, more in enumerate(("", "# one more comment\n", "")):
        file = tmp_path / "plan.dye"
        lines = more + text
        if number == 2:  # a line of notes within the steps
            lines = text.replace("\n  clean pot\n", "\n  # the pot\n\n  clean pot\n")
            assert lines != text
        file.write_text(lines, encoding="utf-8")
        asked = Asked(datetime(2099, 11, 28, 9, tzinfo=LONDON), Hours(), "9:00-18:00")
        made = fitted(work_of([procedure.load(file)], asked).work).made
        assert not isinstance(made, NoPlan)
        found.append({str(each.uid) for each in read_back(calendar(agenda(made), WRITTEN))})
    assert found[0] == found[1] == found[2] and len(found[0]) > 20


def test_lines_are_short_and_end_as_the_standard_says(autumn: Agenda) -> None:
    """RFC 5545, section 3.1: lines of 75 octets at the most, ended by CRLF."""
    lines = calendar(autumn, WRITTEN).split(b"\r\n")
    assert lines[-1] == b""
    assert all(len(line) <= 75 and b"\n" not in line for line in lines)


def test_each_zone_that_is_named_is_described(autumn: Agenda) -> None:
    """RFC 5545, section 3.2.19: a VTIMEZONE for every TZID."""
    written = calendar(autumn, WRITTEN).decode()
    named = set(re.findall(r"TZID=([^:;]+)", written))
    assert named == {"Europe/London"} == set(re.findall(r"^TZID:(.*)\r$", written, re.MULTILINE))
    assert ZoneInfo("Europe/London") == LONDON


def test_each_person_can_have_a_calendar_of_their_own() -> None:
    eight = facts(day_of_eight())
    own = read_back(calendar(eight, WRITTEN, who="Ada"))
    all_of_it = read_back(calendar(eight, WRITTEN))
    assert 0 < len(own) < len(all_of_it)
    assert {each.uid for each in own} < {each.uid for each in all_of_it}
    assert all("Ada" in str(each.description) for each in own)
    with pytest.raises(ValueError, match="Nobody in this plan is called Zoe"):
        calendar(eight, WRITTEN, who="Zoe")
