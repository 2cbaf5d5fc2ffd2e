"""What an “if” holds begins when it can be judged; what is dissolved, when it is wanted."""

from __future__ import annotations

from datetime import datetime

import pytest
from verifying import wrongs

import procedure
from procedure.collection.opening_hours import Hours
from procedure.timetable import Timetable, fitted
from procedure.timetable.from_plans import work_of
from procedure.timetable.terms import Asked

BEGINS = datetime(2099, 11, 28, 9)
HEAD = """procedure "Sadder in the end"
  by "Fellside Dye Circle"
  place ventilated
  wearing gloves
fibre
  yarn: wool yarn, 100 g, scoured
equipment
  pot: stainless steel pot, 8 L, lidded, for dyeing only
  pan: stainless steel pot, 8 L, lidded, for dyeing only
  jug: glass jug, 2 L, for dyeing only
  tub: plastic tub, 10 L, for dyeing only
  ring: hotplate, 1500 W
materials
  alum: potassium alum
  iron: ferrous sulphate
  weld: weld, dried
  vinegar: vinegar
steps
  wet out yarn in tub with water 5 L at 30 °C for 1 h
  mordant-bath: prepare in pot with water 4 L, alum 12 g at 40 °C
  mordant yarn in mordant-bath from 40 °C to 85 °C over 45 min for 1 h
  cool mordant-bath overnight covered
  lift yarn from mordant-bath
  weld-bath: prepare in pan with water 4 L, weld 100 g
  simmer weld-bath at 85 °C for 1 h
  strain weld-bath
  dye yarn in weld-bath at 80 °C for 1 h
  lift yarn from weld-bath
"""
IRON = """    iron-water: dissolve iron 1 g in jug with hot water 0.5 L
    add iron-water to weld-bath
    put yarn in weld-bath for 5 min
    lift yarn
"""


def planned(steps: str) -> Timetable:
    plan = procedure.read(HEAD + steps, "sadder.dye")
    given = Asked(BEGINS, Hours(), "9:00-18:00")
    made = fitted(work_of([plan], given).work, reasons=False).made
    assert isinstance(made, Timetable)
    assert wrongs(made.work, {each.key: (each.start, each.end) for each in made.placed}) == []
    return made


def at(made: Timetable, name: str) -> tuple[int, int]:
    """When what is named so begins and ends."""
    (key,) = (each.key for each in made.work.activities if name in each.name)
    return made.at[key].start, made.at[key].end


@pytest.mark.parametrize(
    "steps",
    [
        f'  if "it is too pale"\n{IRON}',
        f'  rest yarn overnight\n  if "it is too pale in the morning"\n{IRON}',
        '  rest yarn overnight\n  if "it is too pale"\n    add iron 1 g to weld-bath\n'
        "    put yarn in weld-bath for 5 min\n    lift yarn\n",
        '  rinse yarn in tub with water 5 L\n  if "it crocks"\n'
        "    sour: prepare in jug with water 1 L, vinegar 5 mL\n    add sour to weld-bath\n",
        '  if "it is pale"\n    put yarn in weld-bath for 20 min\n    lift yarn\n'
        '    if "it is still pale"\n' + IRON.replace("    ", "      "),
    ],
)
def test_what_an_if_holds_waits_until_it_can_be_judged(steps: str) -> None:
    made = planned(steps)
    lines = (HEAD + steps).splitlines()
    conditions = [number for number, line in enumerate(lines, 1) if line.lstrip().startswith("if")]
    assert conditions
    for number in conditions:
        before = max(made.at[key].end for key in _of_line(made, number - 1))
        rest = [key for n in range(number + 1, len(lines) + 1) for key in _of_line(made, n)]
        assert all(made.at[key].start >= before for key in rest)


def _of_line(made: Timetable, number: int) -> list[str]:
    """The activities of a line; what has a label goes by that."""
    return [each.key for each in made.work.activities if each.place.line == number]


def test_iron_is_dissolved_on_the_day_on_which_it_is_wanted() -> None:
    made = planned(
        "  iron-water: dissolve iron 1 g in jug with hot water 0.5 L\n"
        "  add iron-water to weld-bath\n  put yarn in weld-bath for 5 min\n  lift yarn\n"
    )
    wait = at(made, "add iron-water")[0] - at(made, "dissolve")[1]
    assert 0 <= wait <= 600  # “bath made up” in waits.csv: it is made up when it is wanted
