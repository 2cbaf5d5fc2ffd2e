"""Where fibre in its bath makes a plan impossible, lifting it out is offered if that serves."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest
from verifying import wrongs
from verifying_plans import wrongs_of_plan

import procedure
from procedure.collection.opening_hours import Hours, times_of
from procedure.command.main import main
from procedure.pipeline import Judged
from procedure.timetable import NoPlan, Timetable, fitted
from procedure.timetable.from_plans import work_of
from procedure.timetable.lifted_out import would_lifting_do
from procedure.timetable.planned_words import moment_in_words
from procedure.timetable.solving import Aim
from procedure.timetable.terms import Asked

NINE = datetime(2099, 11, 28, 9)
TEXT = """procedure "Saddened in an evening class"
  by "Fellside Dye Circle"
  place ventilated
  wearing gloves, eye protection
fibre
  yarn: wool yarn, 200 g, scoured
equipment
  pot: stainless steel pot, 12 L, lidded, for dyeing only
  tub: plastic tub, 20 L, for dyeing only
  ring: hotplate, 2 kW
materials
  salt: {salt}
steps
  wet out yarn in tub with water 8 L at 30 °C for 30 min
  bath: prepare in pot with water 8 L, salt 4 g at 30 °C
  modify yarn in bath from 30 °C to {heat} °C for 15 min
  cool bath to 25 °C
{next}  rinse yarn in tub with water 8 L at 30 °C
  dry yarn
  discard bath to "foul drain"
"""
HOURS = "18:00-20:30"


def read(salt: str = "ferrous sulphate", heat: int = 45, then: str = "") -> Judged:
    return procedure.read(TEXT.format(salt=salt, heat=heat, next=then), "sad.dye")


def asked_for(hours: str = HOURS) -> Asked:
    return Asked(NINE, Hours(times_of(hours)), hours)


def refused(plan: Judged, hours: str = HOURS) -> NoPlan:
    made = fitted(work_of([plan], asked_for(hours)).work).made
    assert isinstance(made, NoPlan)
    return made


def said(plan: Judged) -> str:
    return would_lifting_do(refused(plan), [plan], asked_for()).replace("\u202f", " ")


def test_iron_and_what_lies_in_it_are_parted_before_the_night() -> None:
    plan = read()
    told = said(plan)
    assert told.startswith("With yarn lifted out of bath before “cool bath”")
    assert told.endswith("write “lift yarn from bath” before line 17.")


def test_what_is_told_can_be_done_as_it_is_written() -> None:
    lines = read().text.splitlines()
    plan = procedure.read("\n".join([*lines[:16], "  lift yarn from bath", *lines[16:], ""]))
    assert [each for each in plan.findings if each.level != "note"] == []
    made = fitted(work_of([plan], asked_for()).work, aim=Aim.LENGTH).made
    assert isinstance(made, Timetable)
    times = {each.key: (each.start, each.end) for each in made.placed}
    assert wrongs(made.work, times) == [] and wrongs_of_plan(plan, made.work, times) == []
    assert moment_in_words(made.work, made.finish) in said(read())


def test_a_rule_that_would_say_more_is_heard() -> None:
    """Wool from 95 °C into water at 30 °C felts: the rule of heat shock says so."""
    assert said(read(heat=95)) == ""


def test_it_is_put_back_where_what_follows_wants_it() -> None:
    told = said(read(then="  simmer bath at 40 °C for 10 min\n"))
    assert told.endswith(
        "write “lift yarn from bath” before line 17 and “enter yarn in bath” after it."
    )


def test_nothing_is_offered_of_what_has_begun_or_is_not_the_reason() -> None:
    plan = read()
    unfit = refused(plan)
    other = NoPlan(unfit.work, ())
    assert would_lifting_do(other, [plan], asked_for()) == ""


def test_the_command_offers_it(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "sad.dye"
    file.write_text(read().text, encoding="utf-8")
    assert main(["timetable", str(file), "--start", "2099-11-28 09:00", "--hours", HOURS]) == 1
    assert "“lift yarn from bath” before line 17" in capsys.readouterr().err
