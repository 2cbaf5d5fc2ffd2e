"""What it would save to leave fibre in its bath over a night to cool, which nobody has written."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest
from verifying import wrongs

import procedure
from procedure.collection.opening_hours import Hours, days_of, times_of
from procedure.command.main import main
from procedure.timetable import Timetable, Work, fitted
from procedure.timetable.from_plans import work_of
from procedure.timetable.left_to_cool import saves_by_a_night
from procedure.timetable.planning import cooling_over_night
from procedure.timetable.terms import Asked

SATURDAY = datetime(2099, 11, 28, 9)
TEXT = """procedure "Mordant on a winter day"
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
  tansy: tansy tops, fresh
steps
  wet out yarn in tub with water 8 L at 30 °C for 1 h
  bath: prepare in pot with water 8 L, salt {share} at 30 °C
  mordant yarn in bath from 30 °C to 85 °C over 45 min for 1 h
  cool bath to 30 °C{manner}
  rinse yarn in tub with water 8 L at 30 °C
  dry yarn
  discard bath to "foul drain"
"""


def drawn(
    folder: Path,
    hours: str = "9:00-18:00",
    salt: str = "potassium alum",
    share: str = "24 g",
    manner: str = "",
) -> Work:
    file = folder / "cool.dye"
    text = TEXT.format(salt=salt, share=share, manner=manner)
    file.write_text(text, encoding="utf-8")
    asked = Asked(SATURDAY, Hours(times_of(hours), *days_of("sat, sun")), f"{hours}, sat, sun")
    return work_of([procedure.load(file)], asked).work


def planned(work: Work) -> Timetable:
    made = fitted(work, reasons=False).made
    assert isinstance(made, Timetable)
    assert wrongs(made.work, {each.key: (each.start, each.end) for each in made.placed}) == []
    return made


def said(work: Work) -> str:
    return saves_by_a_night(planned(work), work).replace("\u202f", " ")


def test_it_is_told_with_the_end_that_it_would_have(tmp_path: Path) -> None:
    work = drawn(tmp_path)
    told = said(work)
    assert told.startswith(
        "With the fibre left in its bath to cool over the night, in “cool bath” (4), all would be "
        "over at 09:15 on Monday 30 November, 8 h 10 min sooner, with somebody there on 2 days."
    )
    loose = cooling_over_night(work)
    assert loose is not None
    assert planned(work).finish - planned(loose).finish == 8 * 60 + 10


def test_longer_hours_are_never_worse_than_shorter_ones_unsaid(tmp_path: Path) -> None:
    """In shorter hours it is left to cool overnight, since there is no plan without."""
    short, long = drawn(tmp_path, "10:00-17:00"), drawn(tmp_path)
    assert planned(short).finish < planned(long).finish
    assert said(short) == "" and said(long) != ""


def test_who_writes_it_so_is_over_by_then(tmp_path: Path) -> None:
    work = drawn(tmp_path, manner=" overnight covered")
    assert cooling_over_night(work) is None and said(work) == ""
    without, loose = drawn(tmp_path), cooling_over_night(drawn(tmp_path))
    assert loose is not None
    assert planned(work).finish <= planned(loose).finish < planned(without).finish


@pytest.mark.parametrize("salt", ("copper sulphate", "ferrous sulphate", "tin chloride"))
def test_what_spoils_fibre_is_never_left_so(tmp_path: Path, salt: str) -> None:
    assert cooling_over_night(drawn(tmp_path, salt=salt, share="4 g")) is None


def test_neither_is_the_bath_of_a_plant_that_harms(tmp_path: Path) -> None:
    work = drawn(tmp_path, share="24 g, tansy 200 g")
    assert cooling_over_night(work) is None


def test_nothing_is_said_where_a_day_is_long_enough(tmp_path: Path) -> None:
    assert said(drawn(tmp_path, "8:00-20:00")) == ""


def test_it_stands_with_what_holds_the_plan_up(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    drawn(tmp_path)
    asked = ["--start", "2099-11-28 09:00", "--hours", "9:00-18:00", "--days", "sat,sun"]
    assert main(["timetable", str(tmp_path / "cool.dye"), *asked]) == 0
    told = " ".join(capsys.readouterr().out.split())
    before, after = told.split("What holds it up")
    assert "left in its bath to cool over the night" in after.split("What can give")[0]
    assert "left in its bath" not in before
