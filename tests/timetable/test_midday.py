"""A place that is closed at midday: what goes on by itself does; what is hot or watched doesn’t."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest
from verifying import wrongs
from verifying_plans import wrongs_of_plan

import procedure
from procedure.collection.opening_hours import Hours, times_of
from procedure.timetable import Fitted, NoPlan, Timetable, fitted
from procedure.timetable.from_plans import work_of
from procedure.timetable.planned_words import span
from procedure.timetable.refused_words import refusal
from procedure.timetable.terms import Asked
from procedure.timetable.work import Attendance

EXAMPLES = Path(__file__).parents[2] / "examples"
BREAK = "9:00-12:00, 13:00-18:00"


def found(name: str, hours: str = BREAK) -> Fitted:
    plan = procedure.load(EXAMPLES / f"{name}.dye")
    asked = Asked(datetime(2099, 11, 28, 9), Hours(times_of(hours)), hours)
    made = fitted(work_of([plan], asked).work)
    assert isinstance(made.made, Timetable)
    times = {each.key: (each.start, each.end) for each in made.made.placed}
    assert wrongs(made.made.work, times) == []
    assert wrongs_of_plan(plan, made.made.work, times, bool(made.left)) == []
    return made


def test_fibre_may_lie_in_a_bath_that_has_cooled_over_midday_and_nothing_is_said_of_it() -> None:
    """Only where the place is closed for a night, fibre is left in for want of hours."""
    made = found("weld-yellow-wool")
    assert isinstance(made.made, Timetable)
    over_it = [
        each
        for each in made.made.placed
        if made.made.work.activity[each.key].breaks
        and any(each.start < a and b < each.end for a, b in made.made.work.closed)
    ]
    assert over_it
    assert made.left == ()


@pytest.mark.parametrize("name", ["weld-yellow-wool", "raven-grey", "plans/six-lots-three-baths"])
def test_nothing_hot_or_watched_goes_on_at_midday(name: str) -> None:
    made = found(name).made
    assert isinstance(made, Timetable)
    for start, end in made.work.closed:
        there = [each for each in made.placed if each.start < end and start < each.end]
        assert not any(each.start < end and start < each.end for each in made.hot)
        watched = (Attendance.WHOLE, Attendance.NOW_AND_THEN)
        assert not any(made.work.activity[each.key].attendance in watched for each in there)


def test_where_the_place_is_open_at_midday_nothing_speaks_of_breaks() -> None:
    made = found("weld-yellow-wool", "9-18").made
    assert isinstance(made, Timetable)
    assert not any(each.breaks for each in made.work.activities)


def test_a_boil_that_leaves_a_hot_bath_over_midday_is_refused_with_how_long_it_would_take() -> None:
    """Boiled and hot until it may be left: five hours at a stretch, and no stretch is so long."""
    text = """procedure "Boil"
fibre
  yarn: wool yarn, 300 g, scoured
equipment
  kettle: stainless steel pot, 20 L, lidded, for dyeing only
  tub: plastic tub, 20 L, for dyeing only
  hob: hotplate, 2 kW
materials
  bark: oak bark
steps
  brew: prepare in kettle with water 12 L, bark 600 g
  boil brew for 2 h attended
  cool brew to 40 °C
  strain brew
  wet out yarn in tub with water 10 L at 30 °C for 1 h
  dye yarn in brew from 40 °C to 85 °C over 1 h for 1 h
  cool brew to 30 °C
  rinse yarn in tub with water 10 L at 30 °C
  dry yarn
  discard brew to "foul drain"
"""
    plan = procedure.read(text, "boil.dye")
    asked = Asked(datetime(2099, 11, 30, 9), Hours(times_of("9-12,13-17")), "9-12,13-17")
    made = fitted(work_of([plan], asked).work).made
    assert isinstance(made, NoPlan)
    boiled, cooled = made.activities[0], made.activities[-1]
    whole = boiled.lasting.most + cooled.hot_for
    assert f"that is {span(whole)}, until the bath may be left, without any wait" in refusal(made)
    assert max(w.closes - w.opens for w in made.work.windows) < whole
