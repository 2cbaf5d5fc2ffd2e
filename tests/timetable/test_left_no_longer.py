"""Planned again in the midst of a day, no plant that harms stays in its bath for nothing."""

from __future__ import annotations

from datetime import datetime

import pytest
from verifying import wrongs

import procedure
from procedure.collection.opening_hours import Hours, days_of, times_of
from procedure.timetable import Timetable, fitted
from procedure.timetable.from_plans import work_of
from procedure.timetable.terms import Asked, Happened
from procedure.timetable.told_first import shortened

SATURDAY = datetime(2099, 11, 28)
TEXT = """procedure "Copper green"
  by "Fellside Dye Circle"
  place outdoors
  wearing gloves, eye protection
fibre
  wool: wool yarn, 225 g, scoured
equipment
  copper-pot: stainless steel pot, 12 L, lidded, for dyeing only
  dye-pot: stainless steel pot, 15 L, lidded, for dyeing only
  tub: plastic tub, 20 L, for dyeing only
  burner: hotplate, 2 kW
materials
  copper: copper sulphate
  vinegar: vinegar
  tansy: tansy tops, fresh
steps
  wet out wool in tub with water 7 L at 30 °C for 1 h
  tansy-bath: prepare in dye-pot with water 9 L, tansy 450 g
  extract: simmer tansy-bath at 85 °C for 1 h covered
  cooling: cool tansy-bath to 40 °C
  straining: strain tansy-bath
  copper-bath: prepare in copper-pot with water 8 L, copper 2 % of wool, vinegar 50 mL at 30 °C
  mordant wool in copper-bath from 30 °C to 80 °C over 45 min for 45 min
  cool copper-bath to 30 °C
  rinse wool in tub with water 7 L at 30 °C
  dye wool in tansy-bath from 40 °C to 85 °C over 45 min for 1 h
  cool tansy-bath to 35 °C
  rinse wool in tub with water 7 L at 30 °C
  dry wool
  discard copper-bath to "hazardous waste"
  discard tansy-bath to "foul drain"
"""


def at(hour: int, minute: int) -> datetime:
    return SATURDAY.replace(hour=hour, minute=minute)


def planned_again(step: str, over: datetime) -> tuple[Timetable, str]:
    asked = Asked(
        at(9, 0),
        Hours(times_of("9-18"), *days_of("sat,sun")),
        "9-18, sat,sun",
        happened=(Happened(step, over),),
        now=at(13, 20),
    )
    found = fitted(work_of([procedure.read(TEXT, "copper.dye")], asked).work, reasons=False)
    assert isinstance(found.made, Timetable)
    made = found.made
    assert wrongs(made.work, {each.key: (each.start, each.end) for each in made.placed}) == []
    said = " ".join(shortened(found))
    assert "the plant stays" not in said and "for want of hours" not in said
    return made, said


@pytest.mark.parametrize(("step", "over"), [("extract", at(13, 10)), ("cooling", at(13, 15))])
def test_a_plant_that_harms_is_strained_while_there_are_hours(step: str, over: datetime) -> None:
    made, _ = planned_again(step, over)
    closes = 9 * 60
    assert made.at["straining"].end <= closes
    assert made.at["cooling"].end <= made.at["straining"].start


def test_and_the_liquor_that_waits_for_longer_by_that_is_told() -> None:
    _, said = planned_again("cooling", at(13, 15))
    assert "look and smell before it is used" in said and "from “strain tansy-bath”" in said
