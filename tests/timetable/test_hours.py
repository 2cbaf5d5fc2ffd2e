"""Hours, days and moments as people write them, over a change of the clocks too."""

from __future__ import annotations

from datetime import UTC, date, datetime, time
from zoneinfo import ZoneInfo

import pytest

from procedure.collection.opening_hours import BadHours, Hours, days_of, times_of
from procedure.timetable.hours import clock, minutes_between, moment_of, windows

LONDON = ZoneInfo("Europe/London")


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("9:00-18:00", ((time(9), time(18)),)),
        ("10 to 16", ((time(10), time(16)),)),
        ("9-12, 13:30–17", ((time(9), time(12)), (time(13, 30), time(17)))),
        ("9am to 5 pm", ((time(9), time(17)),)),
        ("16:00-24:00", ((time(16), time()),)),
        ("16:00-10:00", ((time(16), time(10)),)),
        ("20 to 6, 9-12", ((time(9), time(12)), (time(20), time(6)))),
    ],
)
def test_hours_are_read_as_they_are_said(said: str, meant: object) -> None:
    assert times_of(said) == meant


@pytest.mark.parametrize(
    ("said", "why"),
    [
        ("9:00-9:00", "closes as it opens"),
        ("9:00", "from when to when"),
        ("9:75-10:00", "no time of the day"),
        ("nine to five", "no time of the day"),
        ("9-12, 11-14", "overlap"),
        ("16-10, 9-12", "overlap"),
        ("0-24, 9-12", "overlap"),
        ("13pm-14", "no time of the day"),
    ],
)
def test_hours_that_mean_nothing_are_refused(said: str, why: str) -> None:
    with pytest.raises(BadHours, match=why):
        times_of(said)


def test_days_are_read_as_they_are_said() -> None:
    assert days_of("sat,sun") == (frozenset({5, 6}), frozenset())
    assert days_of("Mon-Wed, saturdays") == (frozenset({0, 1, 2, 5}), frozenset())
    assert days_of("weekdays") == (frozenset(range(5)), frozenset())
    assert days_of("2026-11-28") == (frozenset(), frozenset({date(2026, 11, 28)}))
    both = (frozenset({5, 6}), frozenset({date(2026, 11, 30)}))
    assert days_of("sat, sun, 2026-11-30") == both
    for wrong in ("someday", "t", "2026-13-01", ""):
        with pytest.raises(BadHours):
            days_of(wrong)


def test_a_moment_needs_a_date_and_a_time_that_there_is() -> None:
    like = datetime(2026, 3, 1, tzinfo=LONDON)
    assert moment_of("2026-11-28 09:00", like) == datetime(2026, 11, 28, 9, tzinfo=LONDON)
    with pytest.raises(BadHours, match="no date"):
        moment_of("next saturday", like)
    with pytest.raises(BadHours, match="clocks go forward"):
        moment_of("2026-03-29 01:30", like)
    abroad = moment_of("2026-11-28T10:00+01:00", like)
    assert abroad == datetime(2026, 11, 28, 9, tzinfo=LONDON)
    with pytest.raises(BadHours, match="the plan has none; write the time of the clock"):
        moment_of("2026-11-28T10:00+01:00", datetime(2026, 11, 25))


@pytest.mark.parametrize(
    ("evening", "night"),
    [
        # The clocks of the EU and the UK change on the last Sundays of March and October
        # (Directive 2000/84/EC; The Summer Time Order 2002).
        (datetime(2026, 3, 28, 18, tzinfo=LONDON), 14 * 60),
        (datetime(2026, 10, 24, 18, tzinfo=LONDON), 16 * 60),
        (datetime(2026, 11, 28, 18, tzinfo=LONDON), 15 * 60),
    ],
)
def test_a_night_is_as_long_as_it_is_when_the_clocks_change(evening: datetime, night: int) -> None:
    open_at = windows(evening.replace(hour=9), Hours())
    assert open_at[1].opens - open_at[0].closes == night
    assert clock(evening.replace(hour=9), open_at[1].opens).hour == 9


def test_minutes_and_the_clock_agree_without_a_zone_too() -> None:
    begins = datetime(2026, 10, 24, 9)
    assert minutes_between(begins, datetime(2026, 10, 25, 9)) == 1440
    assert clock(begins, 1440) == datetime(2026, 10, 25, 9)
    zoned = datetime(2026, 10, 24, 9, tzinfo=LONDON)
    assert minutes_between(zoned, datetime(2026, 10, 25, 9, tzinfo=UTC)) == 1500


def test_the_open_days_of_what_began_long_ago_are_those_to_come() -> None:
    begins, since = datetime(2026, 1, 1, 9), datetime(2026, 11, 28, 9)
    alone, found = windows(begins, Hours()), windows(begins, Hours(), since=since)
    assert clock(begins, alone[-1].closes) < since
    to_come = [w for w in found if clock(begins, w.opens) >= since]
    assert len(to_come) == len(alone) and found[: len(alone)] == alone


def test_windows_begin_with_the_plan_and_end_with_the_finish() -> None:
    begins = datetime(2026, 11, 28, 11, 30)
    found = windows(begins, Hours(), datetime(2026, 11, 29, 12))
    assert [(w.opens, w.closes, w.day) for w in found] == [(0, 390, 0), (1290, 1470, 1)]
    with pytest.raises(BadHours, match="never open"):
        windows(begins, Hours(), datetime(2026, 11, 28, 11, 30))
    with pytest.raises(BadHours, match="never open"):
        windows(begins, Hours((), *days_of("2026-11-01")))


def test_days_of_the_week_and_dates_are_both_open() -> None:
    both = Hours((), *days_of("sat,sun,2026-11-30"))
    week = [date(2026, 11, 28), date(2026, 11, 29), date(2026, 11, 30), date(2026, 12, 1)]
    assert [both.open_on(day) for day in week] == [True, True, True, False]
    assert both.open_on(date(2026, 12, 5)) and not both.open_on(date(2026, 12, 7))
    dates_alone = Hours((), *days_of("2026-11-30"))
    assert [dates_alone.open_on(day) for day in week] == [False, False, True, False]
