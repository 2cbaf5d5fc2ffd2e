"""A series of heats, by hand, and a logger's file in the forms that loggers write."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest
from batch_texts import FULL
from hypothesis import given
from hypothesis import strategies as st

from procedure.batch import read
from procedure.batch.deviations import deviations
from procedure.batch.heat_series import (
    fastest_rise,
    hottest,
    integral,
    planned_band,
    planned_integral,
    time_above,
)
from procedure.batch.loggers import BadLog, from_logger
from procedure.batch.tables import text_of_table
from procedure.batch.types import HeatReading


def series(*points: tuple[int, int]) -> tuple[HeatReading, ...]:
    return tuple(HeatReading(Fraction(minute), Fraction(heat)) for minute, heat in points)


HILL = series((0, 40), (45, 85), (60, 100), (120, 100), (150, 40))


def test_time_above_a_limit_by_hand() -> None:
    # Above 85 from minute 45, above it until the fall from 100 passes 85: 7.5 minutes of 30.
    assert time_above(HILL, Fraction(85)) == 15 + 60 + Fraction(15, 2)
    assert time_above(HILL, Fraction(100)) == 0
    assert time_above(HILL, Fraction(0)) == 150


def test_the_integral_by_hand() -> None:
    # 45 min from 40 to 85, 15 to 100, 60 at 100, 30 down to 40, in degree hours.
    by_hand = Fraction(45 * 125 + 15 * 185 + 60 * 200 + 30 * 140, 2 * 60)
    assert integral(HILL) == by_hand
    assert integral(series((0, 30), (60, 50)), Fraction(40)) == Fraction(10, 2) / 2
    assert integral(series((0, 50), (60, 30)), Fraction(40)) == Fraction(10, 2) / 2
    assert integral(series((0, 30), (60, 40)), Fraction(40)) == 0


def test_the_fastest_rise_and_the_hottest() -> None:
    rise = fastest_rise(series((0, 20), (10, 25), (20, 45), (30, 50)))
    assert rise is not None and (rise.rate, rise.begins, rise.ends) == (2, 10, 20)
    assert fastest_rise(series((0, 50), (10, 40))) is None
    assert hottest(HILL) == HeatReading(Fraction(60), Fraction(100))


_series = st.lists(
    st.tuples(st.integers(0, 500), st.integers(0, 100)),
    min_size=2,
    max_size=12,
    unique_by=lambda x: x[0],
).map(lambda points: series(*sorted(points)))


@given(_series, st.integers(0, 100))
def test_time_above_and_below_make_the_whole(points: tuple[HeatReading, ...], limit: int) -> None:
    below = tuple(HeatReading(one.minute, 200 - one.heat) for one in points)
    level = sum(
        two.minute - one.minute for one, two in pairwise(points) if one.heat == two.heat == limit
    )
    whole = points[-1].minute - points[0].minute
    assert time_above(points, Fraction(limit)) + time_above(below, Fraction(200 - limit)) == (
        whole - level
    )


@given(_series, st.integers(0, 100))
def test_the_integral_above_a_base_agrees_with_numpy(
    points: tuple[HeatReading, ...], base: int
) -> None:
    # numpy 2, trapezoid over a fine grid: a general reference library.
    numpy = pytest.importorskip("numpy")
    grid = numpy.linspace(float(points[0].minute), float(points[-1].minute), 20001)
    heats = numpy.interp(
        grid, [float(one.minute) for one in points], [float(one.heat) for one in points]
    )
    wanted = numpy.trapezoid(numpy.maximum(heats - base, 0), grid) / 60
    assert float(integral(points, Fraction(base))) == pytest.approx(float(wanted), abs=0.05)


LOGS = {
    "comma": "Time,Heat\n09:10,40\n09:55,85.5\n",
    "semicolon and decimal comma": "Zeit time;Temp °C\n09:10;40\n09:55;85,5\n",
    "tabs": "time\tprobe\n09:10\t40\n09:55\t85.5\n",
    "days": "Timestamp,Temperature (°C)\n2026-04-18 09:10:00,40\n2026-04-18T09:55:00,85.5\n",
    "Fahrenheit": "Time,Temperature (°F)\n09:10,104\n09:55,185.9\n",
    "no names": "09:10,40\n09:55,85.5\n",
    "lines before the names": "Logger 7,\nwritten by,itself\nTime,Heat\n9:10,40\n9:55,85.5\n",
    "Windows": "\ufeffTime,Heat\r\n09:10,40\r\n09:55,85.5\r\n",
    "a column for the day": "Date,Time,Temp F\n2026-09-26,9:10 AM,104\n2026-09-26,9:55 am,185.9\n",
    "days the other way": "Date/Time;Temp\n26.09.2026 09:10:00;40,0\n26.09.2026 09:55:00;85,5\n",
    "months first": "Date Time,Temp\n09/26/2026 09:10,40\n09/26/2026 09:55,85.5\n",
    "units in the cells": "Time,Probe 1\n09:10,104 °F\n09:55,185.9 °F\n",
}


def test_the_signs_of_other_code_pages() -> None:
    """A degree sign is 0xB0 in code page 1252 (the Unicode Consortium's CP1252.TXT)."""
    for data in (
        b"Time;Temp \xb0C\r\n09:10;40\r\n",
        "Time;Temp °C\n09:10;40\n".encode("utf-16"),
        "\ufeffTime;Temp °C\n09:10;40\n".encode(),
    ):
        assert text_of_table(data).startswith("Time;Temp °C\n")
        assert from_logger(text_of_table(data)).readings == (
            HeatReading(Fraction(550), Fraction(40)),
        )


def test_heats_that_no_bath_has_are_asked_about() -> None:
    with pytest.raises(BadLog, match="if that is °F"):
        from_logger("Time,Heat\n09:10,104\n09:55,185\n")
    with pytest.raises(BadLog, match="“Zeit”, “Wert”: name two of them"):
        from_logger("Zeit;Wert\n09:10;40\n")


@pytest.mark.parametrize("form", LOGS)
def test_a_logger_s_file_in_its_forms(form: str) -> None:
    found = from_logger(LOGS[form])
    assert found.readings == (
        HeatReading(Fraction(550), Fraction(40)),
        HeatReading(Fraction(595), Fraction(171, 2)),
    )
    assert found.unread == ()


def test_columns_by_name_midnight_and_faulty_lines() -> None:
    text = "Time,Room heat,Kettle heat\n23:50,20,40\nlost,20,\n00:10,20,80\n"
    found = from_logger(text, "Time", "Kettle heat")
    assert [(one.minute, one.heat) for one in found.readings] == [(1430, 40), (1450, 80)]
    assert found.unread == (3,)


@pytest.mark.parametrize("text", ["", "a,b\n1,2", "Time,Heat\n", "Time,Heat\nx,y\n", "\x00", '"\n'])
def test_what_is_no_log_is_said(text: str) -> None:
    with pytest.raises(BadLog):
        from_logger(text)
    with pytest.raises(BadLog, match="no column"):
        from_logger("Time,Heat\n09:10,40\n", "Clock")


@given(st.text(max_size=200))
def test_any_text_is_a_log_or_is_said_not_to_be(text: str) -> None:
    try:
        found = from_logger(text)
    except BadLog as reason:
        assert str(reason)
    else:
        assert found.readings


def test_the_plan_of_a_step_is_a_band() -> None:
    record, _ = read(FULL)
    band = planned_band(record.steps[1])
    assert [(point.minute, point.low, point.high) for point in band] == [
        (0, 40, 40),
        (45, 85, 85),
        (105, 85, 85),
    ]
    assert planned_integral(band) == (Fraction(45 * 125 + 60 * 170, 120),) * 2
    assert planned_band(record.steps[4]) == ()


def test_deviations_in_words_and_numbers() -> None:
    found = deviations(read(FULL)[0])
    assert [one.sentence for one in found] == [
        "yarn: 102 g, planned 100 g: 2 % more.",
        "weld: 98 g, planned 100 g: 2 % less.",
        "alum: 14.4 g, planned 15 g: 4 % less.",
        "Lasted 1 h 10 min, planned 1 h: 10 min longer.",
        "Began at 38 °C, planned 40 °C: 2 °C cooler.",
        "Reached 92 °C, planned 85 °C: 7 °C hotter.",
        "Took 40 min, planned 45 min: 5 min shorter.",
        "Alum 14.4 g, planned 15 g: 4 % less.",
        "The thermometer reached 92 °C, planned 85 °C at most, and was above that for 1 h.",
        "It was done 4 times, planned 3.",
        "This step was left out: no time.",
        "It was done otherwise: it was poured off hot.",
        "“rinsed again in the beck” was done besides.",
    ]
    small = {one.sentence for one in found if one.small}
    assert "weld: 98 g, planned 100 g: 2 % less." in small
    assert "Reached 92 °C, planned 85 °C: 7 °C hotter." not in small


def test_the_logger_s_readings_go_before_those_by_hand() -> None:
    record, _ = read(FULL)
    found = deviations(record, [("4", series((0, 40), (10, 95), (20, 95)))])
    said = [one.sentence for one in found if one.step == "4"]
    assert any("reached 95 °C" in one for one in said)
    assert any(
        "rose by 5.5 °C a minute at the fastest, planned 1 °C a minute." in one for one in said
    )
