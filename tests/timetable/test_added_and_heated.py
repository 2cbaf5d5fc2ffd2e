"""What is put into a bath that is heated next is put in on that day: it is one piece of work."""

from __future__ import annotations

from datetime import datetime

import pytest
from verifying import wrongs

import procedure
from procedure.collection.opening_hours import Hours
from procedure.timetable import Timetable, fitted
from procedure.timetable.from_plans import work_of
from procedure.timetable.terms import Asked

A_DAY = 24 * 60
HEAD = """procedure "Scarlet"
  by "Fellside Dye Circle"
  place outdoors
  wearing gloves, eye protection, mask
fibre
  flannel: wool cloth, 200 g, scoured
equipment
  pot: stainless steel pot, 12 L, lidded, for dyeing only
  tub: plastic tub, 20 L, for dyeing only
materials
  tin: stannous chloride
  tartar: cream of tartar
  cochineal: cochineal, ground
steps
  wet out flannel in tub with water 10 L for 1 h
  bath: prepare in pot with water 8 L at 36 °C
  add tartar 10 g to bath
  stand bath for 5 min
"""
TAIL = """  enter flannel in bath
  simmer bath for 45 min
  lift flannel from bath
  rinse flannel in tub with water 10 L
  dry flannel
  discard bath to "the hazardous waste point"
"""


@pytest.mark.parametrize("begins", [9, 15, 16])
@pytest.mark.parametrize(
    ("added", "heat"),
    [
        ("tin 4 g, cochineal 20 g", "heat bath to the boil"),
        ("cochineal 20 g", "simmer bath for 30 min"),
        ("tin 4 g", "boil bath for 10 min"),
    ],
)
def test_what_is_put_in_is_heated_on_that_day(begins: int, added: str, heat: str) -> None:
    plan = procedure.read(f"{HEAD}  add {added} to bath\n  {heat}\n{TAIL}", "scarlet.dye")
    given = Asked(datetime(2099, 11, 28, begins), Hours(), "9:00-18:00")
    made = fitted(work_of([plan], given).work, reasons=False).made
    assert isinstance(made, Timetable)
    assert wrongs(made.work, {each.key: (each.start, each.end) for each in made.placed}) == []
    line = HEAD.count("\n") + 1
    put_in, heated = (
        next(each for each in made.work.activities if each.place.line == line + i) for i in (0, 1)
    )
    wait = made.at[heated.key].start - made.at[put_in.key].end
    assert 0 <= wait <= 600  # “bath made up” in waits.csv
