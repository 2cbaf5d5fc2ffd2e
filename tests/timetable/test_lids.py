"""What may be left with a lid on says so, and a pot without one is covered with something."""

from __future__ import annotations

from datetime import datetime

import pytest

import procedure
from procedure.collection.opening_hours import Hours
from procedure.timetable import NoPlan, Timetable, agenda, fitted
from procedure.timetable.by_day import report
from procedure.timetable.from_plans import work_of
from procedure.timetable.refused_words import refusal
from procedure.timetable.terms import Asked

TEXT = """procedure "Blue"
fibre
  skein: wool yarn, 100 g, scoured
equipment
  pan: stainless steel pot, 15 L,{LID} for dyeing only
  tub: plastic tub, 20 L, for dyeing only
  hob: hotplate, 2 kW
materials
  indigo: natural indigo, powder
  hydros: sodium dithionite
  soda: soda ash
steps
  blue: prepare in pan with water 10 L, soda 20 g, hydros 15 g, indigo 10 g at 50 °C
  stand blue overnight{COVERED}
  wet out skein in tub with water 5 L at 30 °C for 1 h
  heat blue to 50 °C
  dip skein in blue at 50 °C for 10 min
  air skein for 20 min
  rinse skein in tub with water 5 L at 30 °C
  dry skein
  discard blue to "foul drain"
"""


def _made(lid: str, covered: str) -> Timetable | NoPlan:
    plan = procedure.read(TEXT.replace("{LID}", lid).replace("{COVERED}", covered), "blue.dye")
    asked = Asked(datetime(2099, 11, 28, 9), Hours(), "9:00-18:00")
    return fitted(work_of([plan], asked).work).made


def test_a_refusal_for_want_of_a_lid_says_what_would_do() -> None:
    made = _made("", "")
    assert isinstance(made, NoPlan)
    remedy = "write “covered” there, or “lidded” with its pot"
    assert remedy in refusal(made)


@pytest.mark.parametrize(("lid", "covered"), [(" lidded,", ""), ("", " covered")])
def test_each_remedy_is_a_plan(lid: str, covered: str) -> None:
    made = _made(lid, covered)
    assert isinstance(made, Timetable)
    said = " ".join(report(agenda(made)).split())
    assert ("The pan has no lid: lay a board or a tray over it." in said) == (not lid)


def test_what_is_written_uncovered_has_its_lid_by_day_too_when_nobody_is_there() -> None:
    """A plant that harms in an open pot, and nobody by for hours: not only the night counts."""
    text = TEXT.replace("indigo: natural indigo, powder", "indigo: rhubarb leaves, fresh")
    text = text.replace("{LID}", " lidded,")
    head, _ = text.split("steps\n")
    steps = """  bath: prepare in pan with water 5 L, indigo 200 g
  simmer bath at 85 °C for 1 h
  cool bath to 30 °C uncovered
  strain bath
  discard bath to "foul drain"
"""
    plan = procedure.read(f"{head}steps\n{steps}", "leaves.dye")
    asked = Asked(datetime(2099, 11, 28, 9), Hours(), "9:00-18:00")
    made = fitted(work_of([plan], asked).work).made
    assert isinstance(made, Timetable)
    said = " ".join(report(agenda(made)).split())
    assert "you may leave" in said
    assert "Put the lid on whenever you leave it" in said
