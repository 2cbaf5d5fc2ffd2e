"""A bath cools to the heat at which the next fibre goes in, and the plan has that wait."""

from __future__ import annotations

from datetime import datetime

import pytest
from verifying import wrongs
from verifying_plans import wrongs_of_plan

import procedure
from procedure.collection.opening_hours import Hours, times_of
from procedure.pipeline import Judged
from procedure.timetable import Timetable, agenda, fitted
from procedure.timetable.by_day import report
from procedure.timetable.from_plans import work_of
from procedure.timetable.terms import Asked

SATURDAY = datetime(2099, 11, 28, 9)
TEXT = """procedure "Red and rose"
  by "Fellside Dye Circle"
  place ventilated
  wearing gloves

fibre
  red: wool yarn, 100 g, scoured
  rose: wool yarn, 100 g, scoured

equipment
  pan: stainless steel pot, 15 L, lidded, for dyeing only
  tub: plastic tub, 25 L, for dyeing only
  hob: hotplate, 2 kW

materials
  madder: madder root, dried

steps
  wet out red, rose in tub with water 10 L at 30 °C for 1 h
  madder-bath: prepare in pan with water 10 L, madder 100 g at 30 °C
  dye red in madder-bath from 30 °C to 75 °C over 1 h for 30 min
  lift red
  dye rose in madder-bath from {} °C to 75 °C over 15 min for 30 min
  lift rose
  rinse red, rose in tub with water 10 L
"""


def planned(heat: int) -> tuple[Judged, Timetable]:
    plan = procedure.read(TEXT.format(heat), "red.dye")
    asked = Asked(SATURDAY, Hours(times_of("9-18")), "9-18")
    made = fitted(work_of([plan], asked).work).made
    assert isinstance(made, Timetable)
    times = {each.key: (each.start, each.end) for each in made.placed}
    assert wrongs(made.work, times) == []
    assert wrongs_of_plan(plan, made.work, times) == []
    return plan, made


def wait(made: Timetable) -> int:
    key = {each.name: each.key for each in made.work.activities}
    red, rose = key["dye red in madder-bath"], key["dye rose in madder-bath"]
    return made.at[rose].start - made.at[red].end


@pytest.mark.parametrize(("heat", "least"), [(60, 30), (45, 90)])
def test_the_next_lot_waits_until_the_bath_has_cooled(heat: int, least: int) -> None:
    _, made = planned(heat)
    assert wait(made) >= least
    said = " ".join(report(agenda(made)).split())
    assert f"The bath has cooled to {heat} °C by then, which takes about " in said
    assert said.count("Turn the plate off") == 2


def test_a_bath_that_is_as_warm_as_is_wanted_is_not_waited_for() -> None:
    _, made = planned(75)
    assert wait(made) <= 30
    assert "has cooled to" not in report(agenda(made))


def test_the_verifier_sees_fibre_that_goes_in_too_hot() -> None:
    plan, made = planned(45)
    times = {each.key: (each.start, each.end) for each in made.placed}
    key = {each.name: each.key for each in made.work.activities}
    rose = key["dye rose in madder-bath"]
    start = times[key["dye red in madder-bath"]][1] + 10
    times[rose] = start, start + 45
    assert any("too hot" in wrong for wrong in wrongs_of_plan(plan, made.work, times))


@pytest.mark.parametrize(
    ("then", "most"),
    [
        ("cool gold-bath to 40 °C", 0),
        ("hold gold-bath for 30 min", 30),
        ("heat gold-bath to 90 °C", 30),
    ],
)
def test_what_stays_behind_when_fibre_is_lifted_is_as_hot_as_before(then: str, most: int) -> None:
    text = """procedure "Lifted"
fibre
  yarn: wool yarn, 100 g, scoured, mordanted with alum 10 %
equipment
  pan: stainless steel pot, 8 L, lidded, for dyeing only
  tub: plastic tub, 10 L, for dyeing only
  hob: hotplate, 2 kW
materials
  onion: onion skins, dried
steps
  wet out yarn in tub with water 5 L at 30 °C for 1 h
  gold-bath: prepare in pan with water 5 L, onion 50 g
  dye yarn in gold-bath from 30 °C to 80 °C over 45 min for 30 min
  lift yarn
"""
    plan = procedure.read(f'{text}  {then}\n  discard gold-bath to "drain"\n', "lifted.dye")
    work = work_of([plan], Asked(datetime(2099, 11, 28, 9), Hours(), "9-18")).work
    known = work.activity
    (lag,) = (
        x
        for x in work.lags
        if known[x.before].name.startswith("lift")
        and known[x.after].name.startswith(then.split()[0])
    )
    assert lag.most == most
