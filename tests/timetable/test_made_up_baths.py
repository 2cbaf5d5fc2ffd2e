"""A bath is made up on the day on which it is wanted, however long all takes."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path

import pytest
from verifying import wrongs

import procedure
from procedure.collection.opening_hours import Hours, times_of
from procedure.timetable import Timetable, fitted
from procedure.timetable.from_plans import work_of
from procedure.timetable.reasons import NoPlan
from procedure.timetable.refused_words import refusal
from procedure.timetable.terms import Asked

BEGINS = datetime(2099, 11, 28, 9)
A_DAY = 24 * 60
EXAMPLES = Path(__file__).parents[2] / "examples"
HEAD = """procedure "Made up when it is wanted"
  by "Fellside Dye Circle"
  place ventilated
  wearing gloves
fibre
  yarn: wool yarn, 100 g, scoured
equipment
  pot: stainless steel pot, 8 L, lidded, for dyeing only
  pan: stainless steel pot, 8 L, lidded, for dyeing only
  bucket: plastic bucket, 10 L, for dyeing only
  tub: plastic tub, 10 L, for dyeing only
  ring: hotplate, 1500 W
materials
  alum: potassium alum
  madder: madder, ground
  vinegar: vinegar
steps
"""
STEPS = """  wet out yarn in tub with water 5 L at 30 °C for 1 h
  mordant-bath: prepare in pot with water 4 L, alum 12 g at 40 °C
  mordant yarn in mordant-bath from 40 °C to 85 °C over 45 min for 1 h
  cool mordant-bath overnight covered
  rest yarn for 5 days
  steep yarn in bath for 10 min
  dry yarn
"""
BATHS = {
    "water": "  bath: prepare in bucket with water 6 L\n",
    "sour": "  bath: prepare in bucket with water 6 L, vinegar 30 mL\n",
    "hot": "  bath: prepare in pan with water 4 L at 60 °C\n",
    "of a plant": "  bath: prepare in pan with water 4 L, madder 30 g\n",
    "mordant": "  bath: prepare in pan with water 4 L, alum 5 g\n",
}


def planned(written: str, **asked: object) -> Timetable:
    plan = procedure.read(written, "made-up.dye")
    given = Asked(BEGINS, Hours(), "9:00-18:00", **asked)  # type: ignore[arg-type]
    made = fitted(work_of([plan], given).work, reasons=False).made
    assert isinstance(made, Timetable)
    assert wrongs(made.work, {each.key: (each.start, each.end) for each in made.placed}) == []
    return made


@pytest.mark.parametrize("bath", BATHS)
@pytest.mark.parametrize("first", [True, False], ids=["written first", "written last"])
def test_a_bath_is_made_up_near_its_use_wherever_it_is_written(bath: str, first: bool) -> None:
    before, after = STEPS.split("  steep")
    steps = BATHS[bath] + STEPS if first else f"{before}{BATHS[bath]}  steep{after}"
    made = planned(HEAD + steps)
    used = next(each for each in made.work.activities if each.name == "steep yarn in bath")
    wait = made.at[used.key].start - made.at["bath"].end
    # Nobody comes for it on a day of its own, though that would spare the day itself minutes.
    assert 0 <= wait <= 600
    assert made.at[used.key].start // A_DAY == made.at["bath"].start // A_DAY


def test_a_vat_made_up_warm_stands_from_then_on() -> None:
    vat = """procedure "Stands warm"
  place outdoors
  wearing gloves, eye protection, mask
fibre
  yarn: wool yarn, 100 g, scoured
equipment
  pot: stainless steel pot, 15 L, lidded, for dyeing only
  tub: plastic tub, 15 L, for dyeing only
  hob: hotplate, 1500 W
materials
  indigo: indigo powder
  soda: soda ash
  fructose: fructose
steps
  wet out yarn in tub with water 10 L at 30 °C for 1 h
  vat: prepare in pot with water 10 L, indigo 10 g, soda 30 g, fructose 30 g at 55 °C
  stand vat for 6 h covered
  dip yarn in vat at 45 to 50 °C for 5 min
  air yarn for 15 min
  rinse yarn in tub with water 10 L at 30 °C
  dry yarn
  discard vat to "foul drain, once it is blue and cold"
"""
    plan = procedure.read(vat, "vat.dye")
    asked = Asked(BEGINS, Hours(times_of("9:00-16:00")), "9:00-16:00")
    made = fitted(work_of([plan], asked).work, reasons=False).made
    assert isinstance(made, Timetable)
    (stands,) = (each for each in made.work.activities if each.name == "stand vat")
    assert made.at[stands.key].start - made.at["vat"].end <= 60


def test_a_vat_that_another_file_makes_is_made_on_the_day_of_its_dips() -> None:
    plan = procedure.load(EXAMPLES / "plans" / "six-lots-three-baths.dye")
    made = fitted(work_of([plan], Asked(BEGINS, Hours(), "9:00-18:00")).work, reasons=False).made
    assert isinstance(made, Timetable)
    known = made.work.activity
    ready = next(each for each in made.placed if known[each.key].name.startswith("prepare vat"))
    dips = [each.start for each in made.placed if known[each.key].name.startswith("dip ")]
    assert ready.end <= min(dips) < ready.end + 12 * 60


LONG = """  wet out yarn in tub with water 5 L at 30 °C for 1 h
  bath: prepare in pan with water 4 L, madder 30 g at 40 °C
  dye yarn in bath at 70 °C for {hours} h attended
  lift yarn from bath
  rinse yarn in tub with water 5 L at 40 °C
  dry yarn
"""


@pytest.mark.parametrize(("hours", "stay"), [(9, 120), (30, 0)])
def test_days_that_are_too_short_are_told_by_how_much(hours: int, stay: int) -> None:
    plan = procedure.read(HEAD + LONG.format(hours=hours), "long.dye")
    given = Asked(BEGINS, Hours(weekdays=frozenset((5, 6))), "9:00-18:00")
    found = fitted(work_of([plan], given).work).made
    assert isinstance(found, NoPlan)
    said = refusal(found)
    assert ("If somebody could stay for" in said) == bool(stay)
    if stay:
        longer = BEGINS.replace(hour=18) + timedelta(minutes=found.stay)
        assert found.stay <= stay and f"until {longer:%H:%M}," in said
        open_for = Hours(times_of(f"9:00-{longer:%H:%M}"), frozenset((5, 6)))
        made = fitted(work_of([plan], Asked(BEGINS, open_for, "")).work).made
        assert isinstance(made, Timetable) and made.finish <= found.stayed + 60
