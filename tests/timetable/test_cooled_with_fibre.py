"""Fibre that is scoured in a bath which is let cool next stays in it until it has cooled."""

from __future__ import annotations

from datetime import datetime

import procedure
from procedure.collection.opening_hours import Hours
from procedure.timetable import Timetable, fitted
from procedure.timetable.from_plans import work_of
from procedure.timetable.terms import Asked
from procedure.timetable.work import TURN_OFF, Activity

SCOURED = """procedure "A fleece scoured"
  makes "a clean fleece"
fibre
  fleece: wool fleece, 200 g, unscoured
equipment
  pot: stainless steel pot, 12 L, lidded
  tub: plastic tub, 15 L
  hob: hotplate, 2 kW
materials
  soap: neutral soap
steps
  scour-bath: prepare in pot with water 8 L, soap 10 g at 60 °C
  scour fleece in scour-bath at 60 °C for 30 min
  {between}
  rinse fleece in tub with water 8 L at 40 °C for 10 min
  discard scour-bath to "foul drain"
"""


def planned(between: str) -> dict[str, tuple[Activity, int, int]]:
    asked = Asked(datetime(2030, 6, 1, 9), Hours(), "9:00-18:00")
    plan = procedure.read(SCOURED.format(between=between))
    made = fitted(work_of([plan], asked).work, reasons=False).made
    assert isinstance(made, Timetable)
    known = made.work.activity
    return {
        known[each.key].name.split()[0]: (known[each.key], each.start, each.end)
        for each in made.placed
    }


def test_it_is_taken_out_when_the_bath_has_cooled_and_rinsed_then() -> None:
    made = planned("cool scour-bath to 40 °C covered")
    scour, cool, rinse = made["scour"], made["cool"], made["rinse"]
    assert scour[0].ending == TURN_OFF and scour[0].fibre_in
    assert cool[0].ending == "take the fibre out" and cool[0].lots == ("fleece",)
    assert scour[2] <= cool[1] and cool[2] <= rinse[1]
    assert not cool[0].night, "wet fibre is not left there over a night unasked"


def test_where_the_bath_is_not_let_cool_it_comes_out_as_it_is_scoured() -> None:
    made = planned('do "open a window"')
    assert made["scour"][0].ending == "take the fibre out"
    assert "cool" not in made


def test_what_is_lifted_out_before_is_not_in_the_bath_that_cools() -> None:
    made = planned("squeeze fleece\n  cool scour-bath to 40 °C covered")
    assert made["scour"][0].ending == "take the fibre out"
    assert made["cool"][0].lots == ()
    assert made["rinse"][1] < made["cool"][2]
