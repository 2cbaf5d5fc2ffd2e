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
from procedure.pipeline import Judged
from procedure.quantity.day import A_DAY
from procedure.timetable import Fitted, Timetable, Work, fitted, planning
from procedure.timetable.from_plans import work_of
from procedure.timetable.left_to_cool import saves_by_a_night
from procedure.timetable.much_sooner import without_harm
from procedure.timetable.planned_words import span
from procedure.timetable.solving import Aim
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


def planned(work: Work, aim: Aim = Aim.ALL) -> tuple[Fitted, Timetable]:
    found = fitted(work, aim=aim, reasons=False)
    made = found.made
    assert isinstance(made, Timetable)
    assert wrongs(made.work, {each.key: (each.start, each.end) for each in made.placed}) == []
    return found, made


def silk(hours: str) -> tuple[Judged, Work]:
    plan = procedure.load(EXAMPLES / "weld-on-silk.dye")
    return plan, work_of([plan], Asked(SATURDAY, Hours(times_of(hours)), hours)).work


def test_it_is_left_and_told_with_what_that_saves(monkeypatch: pytest.MonkeyPatch) -> None:
    found, made = planned(silk("9:00-15:30")[1])
    assert [made.work.activity[key].name for key in found.left] == ["cool weld-bath"]
    assert found.sooner_by >= A_DAY // 2
    (told,) = (said for said in shortened(found) if said.startswith("“cool weld-bath”"))
    assert f"by which all is over {span(found.sooner_by)} sooner. Take the fibre out" in told
    monkeypatch.setattr(planning, "may_be_much_sooner", lambda *_: False)
    without, by_day = planned(silk("9:00-15:30")[1])
    assert without.left == ()
    assert by_day.finish - made.finish == found.sooner_by


def test_it_is_as_verified_from_the_text() -> None:
    plan, work = silk("9:00-15:30")
    times = {each.key: (each.start, each.end) for each in planned(work)[1].placed}
    assert wrongs_of_plan(plan, work, times, loose=True) == []
    assert wrongs_of_plan(plan, work, times) != []  # which is why it is told


def test_no_night_that_nobody_wrote_is_for_a_few_hours_of_one_day(tmp_path: Path) -> None:
    found, _ = planned(drawn(tmp_path))
    assert found.left == () and found.sooner_by == 0
    assert saves_by_a_night(planned(drawn(tmp_path))[1], drawn(tmp_path)) != ""


def longest_at_a_pinch(work: Work) -> int:
    (cool,) = (a for a in without_harm(work).activities if a.name == "cool bath")
    return cool.at_a_pinch


@pytest.mark.parametrize(
    ("salt", "share", "manner"),
    [
        ("copper sulphate", "4 g", ""),
        ("ferrous sulphate", "4 g", ""),
        ("tin chloride", "4 g", ""),
        ("potassium alum", "24 g, tansy 200 g", ""),
        ("potassium alum", "24 g", " attended"),
    ],
)
def test_what_spoils_fibre_a_plant_that_harms_and_what_is_attended_are_never_left_so(
    tmp_path: Path, salt: str, share: str, manner: str
) -> None:
    assert longest_at_a_pinch(drawn(tmp_path)) > 0
    assert longest_at_a_pinch(drawn(tmp_path, salt=salt, share=share, manner=manner)) == 0


@pytest.mark.parametrize(
    "name", ("first-onion-skins", "goldenrod-us-units", "weld-on-silk", "jade-green")
)
def test_longer_hours_are_never_over_on_a_later_day(name: str) -> None:
    """With as much as in those of what is written: neither shorter nor colder."""
    file = EXAMPLES / f"{name}.dye"
    plan = procedure.load(file)
    best: tuple[bool, int] | None = None
    for half_hours in range(26, 43):
        hours = f"9:00-{half_hours // 2}:{half_hours % 2 * 30:02}"
        work = work_of([plan], Asked(SATURDAY, Hours(times_of(hours)), hours)).work
        found, made = planned(work, Aim.LENGTH)
        kept = bool(found.shortened or made.work.cold)
        if best is not None and (kept, made.finish) > best:
            assert not kept, f"{hours}: less is kept of what is written than in shorter hours"
            assert made.finish // A_DAY <= best[1] // A_DAY, hours
        best = min(best or (kept, made.finish), (kept, made.finish))
