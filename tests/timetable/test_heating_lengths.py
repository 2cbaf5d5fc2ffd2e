"""How long heating takes where nobody says what a plate gives; what is worked is worked by hand."""

from __future__ import annotations

from datetime import datetime

import pytest

import procedure
from procedure.collection.opening_hours import Hours
from procedure.timetable.from_plans import work_of
from procedure.timetable.terms import Asked
from procedure.timetable.work import Attendance, Work

HEATED = """procedure "Water made hot"
  makes "hot water"
equipment
  pot: stainless steel pot, {pot} L, lidded
  ring: gas ring{watts}
materials
  weld: weld tops, dried
steps
  weld-bath: prepare in pot with water {litres} L, weld 100 g
  heat weld-bath to 80 °C
"""
WORKED = """procedure "A cloth in chalk"
  makes "a cloth"
fibre
  cloth: cotton cloth, 500 g, scoured
equipment
  tub: plastic tub, 30 L
materials
  chalk: chalk
steps
  chalk-bath: prepare in tub with water 15 L, chalk 50 g at 45 °C
  {step} cloth in chalk-bath for 15 min{how}
  lift cloth from chalk-bath
"""


def drawn(text: str) -> tuple[Work, tuple[str, ...]]:
    asked = Asked(datetime(2030, 6, 1, 9), Hours(), "9:00-18:00")
    found = work_of([procedure.read(text)], asked)
    return found.work, found.supposed


def minutes_of_heating(litres: int, watts: str = "") -> int:
    work, _ = drawn(HEATED.format(pot=litres + 10, litres=litres, watts=watts))
    return next(a.lasting.most for a in work.activities if a.name.startswith("heat"))


def test_a_ring_of_unknown_power_heats_much_water_for_longer_than_little() -> None:
    few, some, many = (minutes_of_heating(litres) for litres in (5, 20, 60))
    assert few < some / 2 and some < many / 2
    assert minutes_of_heating(20, ", 2 kW") == some, "as with the power that is supposed"


@pytest.mark.parametrize(("watts", "told"), [("", True), (", 2 kW", False)])
def test_what_is_supposed_of_its_power_is_said(watts: str, told: bool) -> None:
    _, supposed = drawn(HEATED.format(pot=30, litres=20, watts=watts))
    assert any("No power is said of ring" in each for each in supposed) is told


def test_what_is_worked_is_worked_all_the_while() -> None:
    work, _ = drawn(WORKED.format(step="work", how=""))
    worked = next(each for each in work.activities if each.name.startswith("work"))
    assert worked.attendance is Attendance.WHOLE and worked.lasting.most == 15
    work, _ = drawn(WORKED.format(step="work", how=" now and then"))
    worked = next(each for each in work.activities if each.name.startswith("work"))
    assert worked.attendance is not Attendance.WHOLE
