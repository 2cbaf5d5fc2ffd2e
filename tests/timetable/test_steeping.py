"""Fibre that steeps without heating is on no plate, and may be left for a night."""

from __future__ import annotations

from datetime import datetime

import pytest
from verifying import wrongs

import procedure
from procedure.collection.opening_hours import Hours
from procedure.timetable import Timetable, fitted
from procedure.timetable.from_plans import Drawn, work_of
from procedure.timetable.plates import RINGS
from procedure.timetable.terms import Asked

HEAD = """procedure "Steeped"
  by "Fellside Dye Circle"
  place outdoors
  wearing gloves
fibre
  yarn: wool yarn, 100 g, scoured
equipment
  pot: stainless steel pot, 8 L, for dyeing only
  tub: plastic tub, 10 L, for dyeing only
  ring: hotplate, 1500 W
materials
  alum: potassium alum
steps
  wet out yarn in tub with water 5 L at 30 °C for 1 h
  bath: prepare in pot with water 4 L, alum 12 g at 40 °C
  mordant yarn in bath at 85 °C for 1 h
"""


def drawn(line: str) -> Drawn:
    plan = procedure.read(f"{HEAD}  {line}\n  lift yarn from bath\n", "steeped.dye")
    return work_of([plan], Asked(datetime(2099, 11, 28, 9), Hours(), "9:00-18:00"))


@pytest.mark.parametrize(
    "line",
    [
        "steep yarn in bath overnight",
        "steep yarn in bath until next morning",
        "steep yarn in bath for 1 h",
        'steep yarn in bath until "Tuesday"',
    ],
)
def test_what_steeps_without_a_heat_is_on_no_plate(line: str) -> None:
    (one,) = (each for each in drawn(line).work.activities if each.name.startswith("steep"))
    assert not any(need.resource == RINGS for need in one.needs)


def test_what_steeps_at_a_heat_is_on_a_plate() -> None:
    activities = drawn("steep yarn in bath at 60 °C for 1 h").work.activities
    (one,) = (each for each in activities if each.name.startswith("steep"))
    assert any(need.resource == RINGS for need in one.needs)


@pytest.mark.parametrize("line", ["steep yarn in bath overnight", "cool bath overnight"])
def test_a_night_in_a_pot_without_a_lid_can_be_planned(line: str) -> None:
    made = fitted(drawn(line).work, reasons=False).made
    assert isinstance(made, Timetable)
    assert wrongs(made.work, {each.key: (each.start, each.end) for each in made.placed}) == []


def test_a_time_that_nobody_says_is_told_to_be_a_guess() -> None:
    said = drawn('steep yarn in bath until "Tuesday"').supposed
    assert any("nobody says how long it is “until Tuesday”" in one for one in said)
    assert not any("nobody says" in one for one in drawn("steep yarn in bath for 1 h").supposed)
