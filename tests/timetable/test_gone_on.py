"""What goes on for longer than is written, as it may, is told first and on the papers."""

from __future__ import annotations

from datetime import datetime

import pytest
from verifying import wrongs

import procedure
from procedure.collection.opening_hours import Hours
from procedure.pipeline import Judged
from procedure.timetable import Fitted, Timetable, fitted
from procedure.timetable.from_plans import work_of
from procedure.timetable.taking import time_taken
from procedure.timetable.terms import Asked
from procedure.timetable.told_first import shortened

BEGINS = datetime(2099, 11, 28, 9)
TEXT = """procedure "A vat that stands"
fibre
  cloth: cotton cloth, 250 g, scoured
equipment
  barrel: plastic barrel, 30 L, lidded, for dyeing only
  pot: stainless steel pot, 10 L, lidded, for dyeing only
  tub: plastic tub, 20 L, for dyeing only
  hob: hotplate, 2 kW
materials
  alum: potassium alum
  indigo: natural indigo, powder
  copperas: ferrous sulphate
  lime: slaked lime
steps
  soak: wet out cloth in tub with water 10 L at 30 °C for 1 h
{STEPS}
  dry cloth
"""
VAT = """  vat: prepare in barrel with water 20 L, lime 60 g, copperas 50 g, indigo 25 g
  stand vat until-next-day covered labelled
  dip cloth in vat at cold for 10 min
  air cloth for 15 min
  rinse cloth in tub with water 10 L
  discard vat to "foul drain\""""
NIGHT = """  alum-bath: prepare in pot with water 8 L, alum 40 g at 40 °C
  mordant cloth in alum-bath from 40 °C to 85 °C over 45 min for 1 h
  cool: cool alum-bath to 30 °C overnight covered labelled
  rinse cloth in tub with water 10 L
  discard alum-bath to "foul drain\""""
SHORT = """  alum-bath: prepare in pot with water 8 L, alum 40 g at 40 °C
  mordant cloth in alum-bath from 40 °C to 85 °C over 45 min for 1 h
  rinse cloth in tub with water 10 L
  discard alum-bath to "foul drain\""""


def _plan(steps: str) -> Judged:
    return procedure.read(TEXT.replace("{STEPS}", steps), "stands.dye")


def _fitted(plan: Judged) -> Fitted:
    found = fitted(work_of([plan], Asked(BEGINS, Hours(), "9:00-18:00")).work)
    assert isinstance(found.made, Timetable)
    times = {each.key: (each.start, each.end) for each in found.made.placed}
    assert wrongs(found.made.work, times) == []
    return found


@pytest.mark.parametrize(
    ("steps", "key", "written"),
    [(VAT, "soak", "instead of 1\u202fh"), (NIGHT, "cool", "where 8\u202fh to 16\u202fh is usual")],
    ids=["a soak", "a night"],
)
def test_what_is_much_longer_than_written_is_told_at_the_head(
    steps: str, key: str, written: str
) -> None:
    found = _fitted(_plan(steps))
    made = found.made
    assert isinstance(made, Timetable)
    took, lasting = made.at[key].end - made.at[key].start, made.work.activity[key].lasting
    assert took > lasting.written + 60, "the case has become another"
    told = ("Goes on for longer", "“Overnight” is until")
    said = [each for each in shortened(found) if each.startswith(told)]
    assert len(said) == 1 and written in said[0]
    assert made.work.activity[key].name in said[0]


def test_what_is_as_long_as_written_is_not_told() -> None:
    assert not any(
        each.startswith("Goes on for longer") for each in shortened(_fitted(_plan(SHORT)))
    )


def test_the_papers_say_how_long_a_night_is_planned() -> None:
    plan = _plan(NIGHT)
    taken = time_taken(plan)
    assert not isinstance(taken, str)
    (left,) = [each for each in taken.days[0].left if each.how == "goes on"]
    assert left.over == 9 * 60
