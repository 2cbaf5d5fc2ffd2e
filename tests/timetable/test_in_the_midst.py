"""Planned again in the midst of a day: what has happened stays, and the rest is true."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest
from blue_vat import AFTER, BEFORE, EACH
from verifying import wrongs

import procedure
from procedure.collection.opening_hours import Hours
from procedure.quantity.day import A_DAY
from procedure.timetable import NoPlan, Timetable, agenda, fitted
from procedure.timetable.by_day import report
from procedure.timetable.done_steps import NoSuchStep
from procedure.timetable.from_plans import work_of
from procedure.timetable.planned_words import refusal
from procedure.timetable.planning import Fitted
from procedure.timetable.terms import Asked, Happened
from procedure.timetable.told_first import shortened
from procedure.timetable.work import Activity, Attendance, Lasting, Resource, Window, Work

BEGINS = datetime(2099, 11, 28, 9)
LOTS = ("Elder", "Hazel", "Rowan")


def at(clock: str) -> datetime:
    hour, minute = map(int, clock.split(":"))
    return BEGINS.replace(hour=hour, minute=minute)


def planned_again(folder: Path, *done: tuple[str, str], now: str = "") -> Timetable:
    file = folder / "turns.dye"
    file.write_text(BEFORE + EACH + AFTER, encoding="utf-8")
    asked = Asked(
        BEGINS,
        Hours(),
        "9:00-18:00",
        hands=("Teacher",),
        participants=LOTS,
        happened=tuple(Happened(step, at(clock)) for step, clock in done),
        now=at(now or max(clock for _, clock in done)),
    )
    made = fitted(work_of([procedure.load(file)], asked).work).made
    assert isinstance(made, Timetable)
    assert wrongs(made.work, {each.key: (each.start, each.end) for each in made.placed}) == []
    return made


def ends(made: Timetable, name: str) -> list[int]:
    known = made.work.activity
    return [each.end for each in made.placed if known[each.key].name == name]


DONE = (("6 elder", "10:45"), ("6 hazel", "10:50"), ("6 elder", "11:05"))


def test_what_has_happened_stays_and_the_turns_go_on_from_there(tmp_path: Path) -> None:
    made = planned_again(tmp_path, *DONE)
    assert ends(made, "dip elder in vat")[:2] == [105, 125]
    assert ends(made, "dip hazel in vat")[0] == 110
    assert ends(made, "air elder")[0] == 120, "it was aired before it was dipped again"
    to_come = [each for each in made.placed if each.key not in made.work.happened]
    assert min(each.start for each in to_come) >= 125
    assert len(to_come) == len(made.placed) - len(made.work.done)
    said = " ".join(report(agenda(made)).split())
    assert "Done by 10:50: dip hazel in vat (1 of 3)." in said
    assert "Dip elder in vat (3 of 3), until" in said


def test_what_is_late_by_now_is_done_at_once_and_told(tmp_path: Path) -> None:
    """Hazel came out of the vat at 10:50 and nobody has said that it airs: it is 11:05."""
    made = planned_again(tmp_path, *DONE)
    first_airing = min(ends(made, "air hazel")) - 10
    assert first_airing - 125 <= 30
    assert any(
        note.startswith("Late by now: “air hazel (1 of 3)” after “dip hazel in vat (1 of 3)”")
        for note in made.work.notes
    )
    in_time = planned_again(tmp_path, *DONE[:1])
    assert not any("Late by now" in note for note in in_time.work.notes)


def test_a_vat_that_has_cooled_meanwhile_is_told(tmp_path: Path) -> None:
    made = planned_again(tmp_path, ("2", "10:30"), now="15:00")
    assert any("dip elder" in note and "at once" in note for note in made.work.notes)


def test_a_step_of_each_lot_is_named_by_its_lot(tmp_path: Path) -> None:
    with pytest.raises(NoSuchStep, match=r"“6 elder” .* “6 hazel” .* or “6 rowan”"):
        planned_again(tmp_path, ("6", "10:45"))
    with pytest.raises(NoSuchStep, match="No step is called “6 birch”"):
        planned_again(tmp_path, ("6 birch", "10:45"))
    for said in ("6 Elder", "step 6 elder"):
        made = planned_again(tmp_path, (said, "10:45"))
        assert ends(made, "dip elder in vat")[0] == 105


MORNING = """
procedure "Mordant in the morning"
  by "Fellside Dye Circle"
  revised 2099-11-20
  place ventilated
  wearing gloves
fibre
  wool: wool yarn, 100 g, scoured
equipment
  pot: stainless steel pot, 8 L, lidded, for dyeing only
  pan: stainless steel pot, 8 L, lidded, for dyeing only
  bucket: plastic bucket, 10 L, for dyeing only
  ring: hotplate, 1500 W
materials
  alum: potassium alum
  skins: onion skins, dried
steps
  soak: wet out wool in bucket with water 5 L at 35 °C for 30 min
  alum-bath: prepare in pot with water 4 L, alum 12 g at 40 °C
{MORDANT}
  cool alum-bath overnight covered labelled
  skin-bath: prepare in pan with water 4 L, skins 50 g
  simmer skin-bath for 1 h
  cool skin-bath to 40 °C
  strain skin-bath
  lift wool
  rinse wool in bucket with water 5 L at 35 °C
  enter wool in skin-bath at 80 °C for 45 min
  cool skin-bath to 40 °C
  lift wool
  rinse wool in bucket with water 5 L at 35 °C
  dry wool
  discard skin-bath to "foul drain"
  discard alum-bath to "foul drain"
"""
IN_ONE = "  last: mordant wool in alum-bath from 40 °C to 80 °C over 45 min for 1 h"
IN_THREE = """  enter wool in alum-bath
  heated: heat alum-bath to 80 °C over 45 min
  last: hold alum-bath at 80 °C for 1 h"""


@pytest.mark.parametrize("now", ("10:45", "12:30", "16:30"))
@pytest.mark.parametrize("mordant", (IN_ONE, IN_THREE), ids=("in one step", "in three steps"))
def test_a_mordant_of_the_morning_stands_until_the_next(
    tmp_path: Path, mordant: str, now: str
) -> None:
    """“Overnight” is from the evening on; what was hot this morning is there since then."""
    found = _of_the_morning(tmp_path, mordant, ("last", "10:45"), now=now)
    made = found.made
    assert isinstance(made, Timetable)
    cooled = next(each for each in made.placed if "overnight" in made.work.activity[each.key].name)
    assert A_DAY <= cooled.end <= A_DAY + 5, "lifted as the place opens the next morning"
    assert cooled.start <= made.work.now + 30
    told = any("since what comes before it is over" in note for note in shortened(found))
    assert told == (now != "16:30"), "a night that is none is told"


def test_what_is_half_done_in_the_morning_goes_on(tmp_path: Path) -> None:
    made = _of_the_morning(tmp_path, IN_THREE, ("heated", "9:45"), now="10:00").made
    assert isinstance(made, Timetable)
    held = next(each for each in made.placed if each.key == "last")
    assert held.start == 60


def _of_the_morning(folder: Path, mordant: str, *done: tuple[str, str], now: str) -> Fitted:
    file = folder / "morning.dye"
    file.write_text(MORNING.replace("{MORDANT}", mordant).lstrip(), encoding="utf-8")
    happened = tuple(Happened(step, at(clock)) for step, clock in done)
    plan = procedure.load(file)
    asked = Asked(BEGINS, Hours(), "9:00-18:00", happened=happened, now=at(now))
    found = fitted(work_of([plan], asked).work)
    made = found.made
    assert isinstance(made, Timetable)
    times = {each.key: (each.start, each.end) for each in made.placed}
    assert wrongs(made.work, times) == []
    return found


def test_a_refusal_names_what_cannot_be_had_even_where_all_gives() -> None:
    """The first step may be short enough; the second is what no day is long enough for."""
    first, second = (
        Activity(name, name.lower(), lasting, attendance=Attendance.WHOLE)
        for name, lasting in (("A", Lasting(60, 600)), ("B", Lasting(700, 700)))
    )
    hands = Resource("hands", "a hand", "people")
    windows = (Window(0, 540), Window(1440, 1980, 1), Window(2880, 3420, 2))
    unfit = fitted(Work((first, second), resources=(hands,), windows=windows)).made
    assert isinstance(unfit, NoPlan)
    assert [each.key for each in unfit.activities] == ["B"]
    assert "“a”" not in refusal(unfit)
