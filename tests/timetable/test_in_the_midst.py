"""Planned again in the midst of a day: what has happened stays, and the rest is true."""

from __future__ import annotations

import re
from datetime import datetime, timedelta
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
from procedure.timetable.dried_meanwhile import WETTED_AGAIN
from procedure.timetable.from_plans import work_of
from procedure.timetable.planning import Fitted
from procedure.timetable.refused_words import refusal
from procedure.timetable.room_on_line import HUNG_UP
from procedure.timetable.terms import Asked, Happened
from procedure.timetable.told_first import shortened
from procedure.timetable.work import Activity, Attendance, Lasting, Resource, Window, Work

BEGINS = datetime(2099, 11, 28, 9)
EXAMPLES = Path(__file__).parents[2] / "examples"
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


NIGHT = """procedure "Two days"

fibre
  yarn: wool yarn, 100 g, scoured

equipment
  kettle: stainless steel pot, 10 L, lidded, for dyeing only
  tub: plastic tub, 15 L, for dyeing only

materials
  alum: potassium alum

steps
  wet out yarn in tub with water 5 L at 30 °C for 1 h
  alum-bath: prepare in kettle with water 5 L, alum 12 % of yarn at 40 °C
  mordant yarn in alum-bath from 40 °C to 85 °C over 45 min for 1 h
  cool alum-bath to 30 °C overnight covered
  rinse yarn in tub with water 5 L at 30 °C
  dry yarn
  discard alum-bath to "foul drain"
  clean kettle, tub
"""


def test_nobody_is_said_to_have_worked_at_night_where_only_the_morning_is_known(
    tmp_path: Path,
) -> None:
    """The cooling was over at nine and takes eight hours at the least, so the rest was by one."""
    file = tmp_path / "night.dye"
    file.write_text(NIGHT, encoding="utf-8")
    morning = BEGINS + timedelta(days=1)
    asked = Asked(
        BEGINS,
        Hours(),
        "9:00-18:00",
        happened=(Happened("4", morning),),
        now=morning + timedelta(minutes=5),
    )
    made = fitted(work_of([procedure.load(file)], asked).work).made
    assert isinstance(made, Timetable)
    said = " ".join(report(agenda(made)).split())
    for step in ("wet out yarn", "prepare alum-bath", "mordant yarn"):
        assert re.search(rf" Done: {step}", said), step
    assert "Done by 01:00" not in said
    assert "Done by 09:00" in said


def test_what_came_out_of_a_vat_airs_though_nobody_has_said_so(tmp_path: Path) -> None:
    """Hazel came out of the vat at 10:50: at 11:05 it has aired, and nothing of that is late."""
    made = planned_again(tmp_path, *DONE)
    assert min(ends(made, "air hazel")) == 125
    assert not any("“air hazel (1 of 3)” after" in note for note in made.work.notes)


def test_a_vat_that_has_cooled_meanwhile_is_told(tmp_path: Path) -> None:
    made = planned_again(tmp_path, ("2", "10:30"), now="15:00")
    assert any("dip elder" in note and "Late by now" in note for note in made.work.notes)


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
    assert A_DAY <= cooled.end <= A_DAY + 30, "lifted soon after the place opens in the morning"
    assert cooled.start == 105, "it cools since its plate is off, whenever it is planned again"
    told = any("since what comes before it is over" in note for note in shortened(found))
    assert told, "a night that is none is told"


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


FERMENT = """
procedure "Ferment and weld"
fibre
  yarn: wool yarn, 200 g, scoured
equipment
  crock: stainless steel pot, 15 L, lidded, for dyeing only
  pot: stainless steel pot, 12 L, lidded, for dyeing only
  tub: plastic tub, 20 L, for dyeing only
  hob: hotplate, 2 kW
materials
  indigo: natural indigo, powder
  soda: soda ash
  madder: madder root, dried
  bran: wheat bran
  alum: potassium alum
steps
  vat: prepare in crock with water 10 L, soda 60 g, madder 30 g, bran 50 g, indigo 30 g at 45 °C
  ripe: stand vat at 38 to 45 °C for 5 to 8 d covered labelled
  soak: wet out yarn in tub with water 10 L at 30 °C for 1 h
  alum-bath: prepare in pot with water 8 L, alum 24 g at 40 °C
  mordant yarn in alum-bath from 40 °C to 85 °C over 45 min for 1 h
  cool alum-bath to 30 °C overnight covered labelled
  rinsed: rinse yarn in tub with water 10 L at 30 °C until "the water runs clear"
  discard alum-bath to "foul drain"
  dip yarn in vat at 45 °C for 10 min
  air yarn for 20 min
  rinse yarn in tub with water 10 L at 30 °C until "the water runs clear"
  dry yarn
  keep vat as ferment-vat covered labelled
""".lstrip()


def of_the_ferment(now: datetime | None, *happened: Happened) -> Fitted:
    plan = procedure.read(FERMENT, "ferment.dye")
    asked = Asked(BEGINS, Hours(), "9:00-18:00", happened=happened, now=now)
    found = fitted(work_of([plan], asked).work)
    made = found.made
    assert isinstance(made, Timetable)
    assert wrongs(made.work, {each.key: (each.start, each.end) for each in made.placed}) == []
    return found


def test_fibre_is_made_ready_for_a_vat_that_ripens_and_not_days_before() -> None:
    made = of_the_ferment(None).made
    assert isinstance(made, Timetable)
    ripe, rinsed = made.at["ripe"], made.at["rinsed"]
    assert 0 <= ripe.end - rinsed.end <= 2 * A_DAY
    assert "hang yarn up to dry" not in " ".join(report(agenda(made)).split())
    wet = {lot: until for day in agenda(made).days for lot, until in day.wet}
    long = ripe.end - rinsed.end > 9 * 60
    assert (wet == {"yarn": ripe.end}) == long, "the heating of its vat is what it waits for"


def test_fibre_that_waits_already_is_hung_up_from_now_on() -> None:
    """It was rinsed this morning, and its vat ripens for seven days more."""
    happened = (
        Happened("ripe", None, BEGINS),
        Happened("rinsed", BEGINS + timedelta(days=1, minutes=20)),
    )
    found = of_the_ferment(BEGINS + timedelta(days=1, minutes=30), *happened)
    made = found.made
    assert isinstance(made, Timetable)
    hung, wetted = (
        made.at["rinsed" + HUNG_UP],
        next(each for each in made.placed if each.key.endswith(WETTED_AGAIN)),
    )
    assert made.work.now <= hung.start <= made.work.now + 120
    assert wetted.end - hung.start > 5 * A_DAY
    assert all("yarn" not in dict(day.wet) for day in agenda(made).days)
    assert any("hang yarn up to dry".lower() in each.lower() for each in shortened(found))


def test_what_is_late_and_cannot_be_done_at_once_is_later_and_told() -> None:
    """The vat is ripe and warm, and the yarn is not even mordanted: nothing is refused."""
    found = of_the_ferment(BEGINS + timedelta(days=8), Happened("ripe", BEGINS + timedelta(days=7)))
    made = found.made
    assert isinstance(made, Timetable)
    told = " ".join((*made.work.notes, *shortened(found)))
    assert "Late by now: “heat vat to 45 °C”" in told
    assert "Look before you go on" in told
    cooled = next(made.at[e.key] for e in made.work.activities if e.overnight)
    assert cooled.end - cooled.start <= 19 * 60, "a night, and while it is hot"


def test_nobody_is_in_the_field_while_a_bath_is_too_hot_to_be_alone() -> None:
    """The mordant is over at half past one, and what it left is hot until it has cooled."""
    plan = procedure.load(EXAMPLES / "tansy-gold-and-moss.dye")
    happened = (Happened("soak", at("10:50")), Happened("3", at("13:30")))
    asked = Asked(BEGINS, Hours(), "9:00-18:00", happened=happened, now=at("14:30"))
    made = fitted(work_of([plan], asked).work).made
    assert isinstance(made, Timetable)
    assert wrongs(made.work, {each.key: (each.start, each.end) for each in made.placed}) == []
    away = next(e for e in made.placed if made.work.activity[e.key].name.startswith("gather"))
    assert made.hot
    assert not any(hot.start < away.end and away.start < hot.end for hot in made.hot)
