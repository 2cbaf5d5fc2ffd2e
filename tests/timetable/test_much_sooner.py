"""Fibre is left over a night that nobody wrote where all is over much sooner by that.

So longer hours are never much worse than shorter ones, in which there is no plan without.
"""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest
from verifying import wrongs
from verifying_plans import wrongs_of_plan

import procedure
from procedure.collection.opening_hours import Hours, days_of, times_of
from procedure.command.main import main
from procedure.quantity.day import A_DAY
from procedure.timetable import Fitted, Timetable, Work, fitted
from procedure.timetable.from_plans import work_of
from procedure.timetable.much_sooner import MUCH
from procedure.timetable.terms import Asked
from procedure.timetable.told_first import shortened

EXAMPLES = Path(__file__).parents[2] / "examples"
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


def planned(work: Work, length_alone: bool = False) -> tuple[Fitted, Timetable]:
    found = fitted(work, length_alone=length_alone, reasons=False)
    made = found.made
    assert isinstance(made, Timetable)
    assert wrongs(made.work, {each.key: (each.start, each.end) for each in made.placed}) == []
    return found, made


def test_it_is_left_and_told_with_what_that_saves(tmp_path: Path) -> None:
    found, made = planned(drawn(tmp_path))
    assert [made.work.activity[key].name for key in found.left] == ["cool bath"]
    (told,) = (said for said in shortened(found) if "cool bath" in said)
    assert told.replace("\u202f", " ") == (
        "“cool bath” (4) goes on for 16 h 50 min, over the time when the place is closed, by which "
        "all is over 8 h 10 min sooner. Take the fibre out before you go, if you would rather."
    )
    attended, by_day = planned(drawn(tmp_path, manner=" attended"))
    assert attended.left == ()  # somebody is to stay with it, as is written
    assert by_day.finish - made.finish == found.sooner_by == 8 * 60 + 10


def test_it_is_as_verified_from_the_text(tmp_path: Path) -> None:
    work = drawn(tmp_path)
    times = {each.key: (each.start, each.end) for each in planned(work)[1].placed}
    plan = procedure.load(tmp_path / "cool.dye")
    assert wrongs_of_plan(plan, work, times, loose=True) == []
    assert wrongs_of_plan(plan, work, times) != []  # which is why it is told


def test_who_writes_it_so_is_over_by_then(tmp_path: Path) -> None:
    found, made = planned(drawn(tmp_path, manner=" overnight covered"))
    assert made.finish <= planned(drawn(tmp_path))[1].finish
    assert found.left == () and found.sooner_by == 0


@pytest.mark.parametrize("salt", ("copper sulphate", "ferrous sulphate", "tin chloride"))
def test_what_spoils_fibre_is_never_left_so(tmp_path: Path, salt: str) -> None:
    found, _ = planned(drawn(tmp_path, salt=salt, share="4 g"))
    assert found.left == () and found.sooner_by == 0


def test_neither_is_the_bath_of_a_plant_that_harms(tmp_path: Path) -> None:
    found, _ = planned(drawn(tmp_path, share="24 g, tansy 200 g"))
    assert found.left == () and found.sooner_by == 0


def test_nothing_lies_for_longer_where_a_day_is_long_enough(tmp_path: Path) -> None:
    found, _ = planned(drawn(tmp_path, "8:00-20:00"))
    assert found.left == () and found.sooner_by == 0


def test_the_command_says_it_before_all_else(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    drawn(tmp_path)
    asked = ["--start", "2099-11-28 09:00", "--hours", "9:00-18:00", "--days", "sat,sun"]
    assert main(["timetable", str(tmp_path / "cool.dye"), *asked]) == 0
    told = " ".join(capsys.readouterr().out.split())
    assert "by which all is over 8 h 10 min sooner" in told.split("What holds it up")[0]


@pytest.mark.parametrize(
    "name", ("first-onion-skins", "goldenrod-us-units", "weld-on-silk", "jade-green")
)
def test_longer_hours_are_never_over_on_a_later_day(name: str) -> None:
    """Nor later by half a day, with as much of what is written: neither shorter nor colder."""
    file = EXAMPLES / f"{name}.dye"
    plan = procedure.load(file)
    best: tuple[bool, int] | None = None
    for half_hours in range(26, 43):
        hours = f"9:00-{half_hours // 2}:{half_hours % 2 * 30:02}"
        work = work_of([plan], Asked(SATURDAY, Hours(times_of(hours)), hours)).work
        found, made = planned(work, length_alone=True)
        kept = bool(found.shortened or made.work.cold)
        if best is not None and (kept, made.finish) > best:
            assert not kept, f"{hours}: less is kept of what is written than in shorter hours"
            assert made.finish < best[1] + MUCH, hours
            assert made.finish // A_DAY <= best[1] // A_DAY, hours
        best = min(best or (kept, made.finish), (kept, made.finish))
