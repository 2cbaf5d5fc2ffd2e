"""Fibre soaks for as long as suits, in time for what wants it, and is hung up before it is left."""

from __future__ import annotations

from datetime import datetime

import pytest
from verifying import wrongs

import procedure
from procedure.collection.opening_hours import Hours, days_of, times_of
from procedure.timetable import Timetable, agenda, fitted
from procedure.timetable.by_day import report
from procedure.timetable.from_plans import work_of
from procedure.timetable.planned import longer_than_written
from procedure.timetable.terms import Asked
from procedure.timetable.work import Work

SATURDAY, MONDAY = datetime(2099, 11, 28, 9), datetime(2099, 11, 30, 9)
HEAD = """procedure "Wet wool"
  place outdoors
  wearing gloves, eye protection, mask, apron
fibre
  yarn: wool yarn, 100 g, scoured
equipment
  pot: stainless steel pot, 10 L, lidded, for dyeing only
  vat-pot: stainless steel pot, 20 L, lidded, for dyeing only
  tub: plastic tub, 15 L, for dyeing only
materials
  alum: alum
  fructose: fructose
  lime: hydrated lime
  indigo: indigo powder
steps
"""
RANGE = (
    HEAD
    + """
  wet out yarn in tub with water 4 L at 30 °C for {0}
  alum-bath: prepare in pot with water 4 L, alum 12 g at 40 °C
  mordant yarn in alum-bath at 40 °C for 24 h
  rinse yarn in tub with water 4 L
  dry yarn
  discard alum-bath to "foul drain"
  clean pot, tub
"""
)
DIP = (
    HEAD
    + """
  wet out yarn in tub with water 8 L at 35 °C for 1 h
  vat: prepare in vat-pot with water 12 L, lime 24 g, fructose 36 g, indigo 12 g at 45 °C
  stand vat at 38 to 45 °C for 3 d covered
  repeat 2 times
    dip yarn in vat at 45 °C for 5 min
    air yarn for 20 min
  rinse yarn in tub with water 8 L at 35 °C
  dry yarn
  keep vat as blue-vat covered labelled
"""
)


def work_in(text: str, begins: datetime, hours: str, days: str) -> Work:
    asked = Asked(begins, Hours(times_of(hours), *days_of(days)), f"{hours}, {days}")
    return work_of([procedure.read(text, "wet.dye")], asked).work


def planned(text: str, begins: datetime, hours: str, days: str) -> Timetable:
    made = fitted(work_in(text, begins, hours, days), reasons=False).made
    assert isinstance(made, Timetable)
    assert wrongs(made.work, {each.key: (each.start, each.end) for each in made.placed}) == []
    return made


def key_of(made: Timetable, name: str) -> str:
    return next(each.key for each in made.work.activities if each.name.startswith(name))


def test_a_soak_of_a_range_costs_no_more_than_its_short_end() -> None:
    short = planned(RANGE.format("30 min"), SATURDAY, "9:00-18:00", "daily")
    ranged = planned(RANGE.format("30 min to 12 h"), SATURDAY, "9:00-18:00", "daily")
    assert (ranged.finish, ranged.days) == (short.finish, short.days)
    soak = ranged.at[key_of(ranged, "wet out")]
    assert 30 <= soak.end - soak.start <= 12 * 60
    assert not longer_than_written(ranged)


def test_a_soak_beyond_its_range_is_told() -> None:
    """There is no time to begin the mordanting on the day of the wetting."""
    made = planned(RANGE.format("4 to 5 h"), SATURDAY, "9:00-12:00", "daily")
    soak = made.at[key_of(made, "wet out")]
    assert soak.end - soak.start > 6 * 60
    assert key_of(made, "wet out") in longer_than_written(made)


def test_fibre_is_wetted_in_time_for_the_dip_and_not_for_the_heating_before_it() -> None:
    made = planned(DIP, MONDAY, "9:00-12:00", "weekdays")
    soak, dip = made.at[key_of(made, "wet out")], made.at[key_of(made, "dip")]
    heating = made.at[key_of(made, "heat vat")]
    assert heating.end <= dip.start and heating.start < soak.end <= dip.start
    assert soak.start // (24 * 60) == dip.start // (24 * 60)


def test_rinsed_fibre_is_hung_up_within_days_and_the_last_of_several_lots_soon() -> None:
    two = HEAD.replace("  yarn: wool yarn, 100 g, scoured", "  yarn: wool yarn\n  wool: wool yarn")
    text = two + "  rinse yarn in tub\n  rinse wool in tub\n  dry yarn, wool\n"
    work = work_in(text, SATURDAY, "9:00-18:00", "sat,sun")
    dry = next(each for each in work.activities if each.name.startswith("dry"))
    first, last = [lag for lag in work.lags if lag.after == dry.key]
    assert work.activity[first.before].lots == ("yarn",)
    assert first.at_a_pinch is not None and last.at_a_pinch is None
    assert last.most is not None and last.most <= 2 * 24 * 60
    assert last.at_last is not None  # else there would be no plan at all


def test_open_days_on_which_nothing_is_begun_are_told() -> None:
    text = HEAD + "  rinse yarn in tub\n  dry yarn\n"
    made = planned(text, SATURDAY, "9:00-18:00", "sat,sun,wed")
    put_off = [(each.key, each.start + 4 * 24 * 60, each.end + 4 * 24 * 60) for each in made.placed]
    late = Timetable(made.work, tuple(type(made.placed[0])(*each) for each in put_off), 0)
    said = " ".join(report(agenda(late)).split())
    idle = "Nothing is begun on Saturday 28 November and Sunday 29 November, though it is open then"
    assert f"{idle}." in said
    late = Timetable(made.work, late.placed, late.finish)
    said = " ".join(report(agenda(late)).split())
    assert f"{idle}: begun sooner, with waits like these, it would be over no sooner." in said
    assert "Nothing is begun on" not in report(agenda(made))


@pytest.mark.parametrize(
    ("squeeze", "how"),
    [("  squeeze yarn\n", "covered, in the cool"), ("", "squeezed out and covered, in the cool")],
)
def test_what_the_next_step_squeezes_out_is_not_squeezed_out_before(squeeze: str, how: str) -> None:
    text = HEAD + f"  rinse yarn in tub\n{squeeze}  dry yarn\n"
    made = planned(text, SATURDAY, "9:00-18:00", "daily")
    rinse = key_of(made, "rinse")
    placed = tuple(
        each if each.key == rinse else type(each)(each.key, each.start + 1440, each.end + 1440)
        for each in made.placed
    )
    said = " ".join(report(agenda(Timetable(made.work, placed, 0))).split())
    assert f"Waits wet then: yarn; {how}." in said
