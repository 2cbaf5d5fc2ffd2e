"""For how long a bath is kept is a shelf life: no plan lasts so long for it."""

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
HEAD = """procedure "Kept"
  by "Fellside Dye Circle"
  place outdoors
  wearing gloves
fibre
  yarn: wool yarn, 100 g, scoured
equipment
  pot: stainless steel pot, 12 L, lidded, for dyeing only
  tub: plastic tub, 20 L, for dyeing only
materials
  weld: weld, dried
steps
  wet out yarn in tub with water 5 L at 30 °C for 1 h
  bath: prepare in pot with water 5 L, weld 50 g
  dye yarn in bath at 60 °C for 1 h
  lift yarn
"""


def planned(lines: str) -> Timetable:
    plan = procedure.read(HEAD + lines, "kept.dye")
    given = Asked(datetime(2099, 11, 28, 9), Hours(), "9:00-18:00")
    made = fitted(work_of([plan], given).work, reasons=False).made
    assert isinstance(made, Timetable)
    assert wrongs(made.work, {each.key: (each.start, each.end) for each in made.placed}) == []
    return made


@pytest.mark.parametrize("long", ["at most 26 wk", "4 wk", "2 to 3 months", "at least 1 wk"])
def test_a_bath_is_put_away_in_minutes_however_long_it_keeps(long: str) -> None:
    made = planned(f"  dry yarn\n  keep bath as weld-bath for {long} covered labelled\n")
    (keep,) = (each for each in made.work.activities if each.name.startswith("keep"))
    assert keep.lasting.longest <= 60
    assert made.at[keep.key].end <= 2 * A_DAY


def test_a_bath_that_is_used_again_is_kept_for_as_long_as_is_written() -> None:
    made = planned(
        "  rinse yarn in tub with water 5 L\n  keep bath as weld-bath for 2 d covered labelled\n"
        "  dye yarn in weld-bath at 60 °C for 1 h\n  lift yarn\n  dry yarn\n"
    )
    (keep,) = (each for each in made.work.activities if each.name.startswith("keep"))
    again = max(made.at[each.key].start for each in made.work.activities if "dye" in each.name)
    assert again - made.at[keep.key].end >= 2 * A_DAY
