"""Planned again: what goes on by itself behind a finished step has gone on since that was over."""

from __future__ import annotations

from datetime import datetime, time, timedelta

import pytest
from verifying import wrongs
from verifying_plans import wrongs_of_plan

import procedure
from procedure.collection.opening_hours import Hours
from procedure.quantity.day import A_DAY
from procedure.timetable import Timetable, agenda, fitted
from procedure.timetable.by_day import report
from procedure.timetable.dried_meanwhile import WETTED_AGAIN
from procedure.timetable.from_plans import work_of
from procedure.timetable.planning import Fitted, noted
from procedure.timetable.room_on_line import HUNG_UP
from procedure.timetable.terms import Asked, Happened
from procedure.timetable.told_first import shortened

BEGINS = datetime(2099, 11, 28, 9)  # a Saturday
DAILY = Hours()
WEEKEND = Hours(weekdays=frozenset({5, 6}))
MIDDAY = Hours(times=((time(9), time(12)), (time(13), time(17))))
TEXT = """procedure "Gone on"
fibre
  yarn: wool yarn, 200 g, scoured
equipment
  pot: stainless steel pot, 12 L, lidded, for dyeing only
  crock: stainless steel pot, 15 L, lidded, for dyeing only
  tub: plastic tub, 20 L, for dyeing only
  hob: hotplate, 2 kW
materials
  alum: potassium alum
  iron: ferrous sulphate
  skins: onion skins, dried
  indigo: natural indigo, powder
  soda: soda ash
  madder: madder root, dried
  bran: wheat bran
steps
{STEPS}
  dry yarn
"""
COOLS = """  soak: wet out yarn in tub with water 10 L at 30 °C for 1 h
  gold-bath: prepare in pot with water 8 L, skins 100 g
  brew: simmer gold-bath at 85 °C for 1 h covered
  cooled: cool gold-bath to 40 °C
  strained: strain gold-bath
  dyed: dye yarn in gold-bath from 40 °C to 85 °C over 45 min for 1 h
  last: cool gold-bath to 40 °C
  rinse yarn in tub with water 10 L at 30 °C
  discard gold-bath to "foul drain\""""
NIGHT = """  soak: wet out yarn in tub with water 10 L at 30 °C for 1 h
  alum-bath: prepare in pot with water 8 L, alum 24 g at 40 °C
  dyed: mordant yarn in alum-bath from 40 °C to 85 °C over 45 min for 1 h
  last: cool alum-bath to 30 °C overnight covered labelled
  rinse yarn in tub with water 10 L at 30 °C
  discard alum-bath to "foul drain\""""
STANDS = NIGHT.replace("cool alum-bath to 30 °C overnight", "stand alum-bath overnight")
LIFTED = """  soak: wet out yarn in tub with water 10 L at 30 °C for 1 h
  alum-bath: prepare in pot with water 8 L, alum 24 g at 40 °C
  dyed: mordant yarn in alum-bath from 40 °C to 85 °C over 45 min for 1 h
  lift yarn
  last: cool alum-bath to 30 °C
  rinse yarn in tub with water 10 L at 30 °C
  discard alum-bath to "foul drain\""""
SHORT = LIFTED.replace("  last: cool alum-bath to 30 °C\n", "")
VAT = """  vat: prepare in crock with water 9 L, soda 9 g, madder 9 g, bran 9 g, indigo 9 g at 45 °C
  ripe: stand vat at 38 to 45 °C for 5 to 8 d covered labelled
  soak: wet out yarn in tub with water 10 L at 30 °C for 1 h
  dip yarn in vat at 45 °C for 10 min
  air yarn for 20 min
  rinse yarn in tub with water 10 L at 30 °C
  keep vat as bran-vat covered labelled"""


def at(clock: str, day: int = 0) -> datetime:
    """A time of the day, on the first day or so many days later."""
    hour, minute = map(int, clock.split(":"))
    return BEGINS.replace(hour=hour, minute=minute) + timedelta(days=day)


def again(steps: str, done: tuple[str, datetime], now: datetime, hours: Hours = DAILY) -> Fitted:
    """Planned again when a step is over; held against the work and against the text."""
    plan = procedure.read(TEXT.replace("{STEPS}", steps), "gone.dye")
    asked = Asked(BEGINS, hours, "as asked", happened=(Happened(*done),), now=now)
    found = fitted(work_of([plan], asked).work)
    made = found.made
    assert isinstance(made, Timetable)
    times = {each.key: (each.start, each.end) for each in made.placed}
    assert wrongs(made.work, times) == []
    late = [each for each in wrongs_of_plan(plan, made.work, times, True) if "gone on" in each]
    assert late == []
    return found


def plan_of(found: Fitted) -> Timetable:
    assert isinstance(found.made, Timetable)
    return found.made


def told(found: Fitted) -> str:
    made = noted(plan_of(found), shortened(found))
    return " ".join(report(agenda(made)).split())


@pytest.mark.parametrize(
    "steps", (COOLS, NIGHT, STANDS, LIFTED), ids="cools night stands lifted".split()
)
@pytest.mark.parametrize("hours", (DAILY, WEEKEND), ids=("every day", "weekends"))
@pytest.mark.parametrize("now", ("17:35", "17:55", "18:10"))
def test_what_was_hot_at_closing_cools_since_its_plate_is_off(
    steps: str, hours: Hours, now: str
) -> None:
    found = again(steps, ("dyed", at("17:30")), at(now), hours)
    made = plan_of(found)
    assert made.at["last"].start == 510
    hot = max(each.end for each in made.hot if each.key == "last")
    assert 540 < hot < 510 + 150
    said = told(found)
    clock = f"{9 + hot // 60:02}:{hot % 60:02}"
    assert f"Stay until about {clock}, though the place is closed" in said
    assert f"until about {clock}. Somebody stays until then" in said
    assert "{" not in said and "Late by now: “cool" not in said
    assert said.count("though the place is closed") == 1


IRON = NIGHT.replace("alum 24 g", "iron 4 g").replace("alum-bath", "iron-bath")


@pytest.mark.parametrize("steps", (COOLS, NIGHT, STANDS, LIFTED, IRON))
def test_what_is_there_before_a_week_without_anybody_is_refused_by_no_plan(steps: str) -> None:
    """It is Sunday evening, and nobody comes before Saturday."""
    found = again(steps, ("dyed", at("17:30", 1)), at("17:35", 1), WEEKEND)
    made = plan_of(found)
    assert made.at["last"].start == A_DAY + 510
    assert any(each.startswith("Stay until about ") for each in shortened(found))


@pytest.mark.parametrize("now", ("11:50", "12:30"))
def test_what_is_hot_over_the_midday_closing_is_told(now: str) -> None:
    found = again(COOLS, ("brew", at("11:45")), at(now), MIDDAY)
    assert plan_of(found).at["cooled"].start == 165
    assert "Stay until about 1" in " ".join(shortened(found))


def test_what_is_lifted_out_of_a_hot_bath_leaves_it_hot() -> None:
    """Nothing cools it that is written, and it is hot all the same."""
    found = again(SHORT, ("dyed", at("17:30")), at("17:35"))
    assert "Stay until about 19:" in " ".join(shortened(found))
    long_after = again(SHORT, ("dyed", at("12:00")), at("17:00"))
    assert "Stay until" not in " ".join(shortened(long_after))


def test_what_has_cooled_already_is_not_hot() -> None:
    """The plate has been off for three and a half hours."""
    found = again(COOLS, ("brew", at("11:00")), at("14:30"))
    made = plan_of(found)
    assert made.at["cooled"].start == 120
    lasting = made.work.activity["cooled"].lasting
    assert made.at["cooled"].end <= 120 + max(lasting.slowest, lasting.most)
    assert not [each for each in made.hot if each.key == "cooled"]
    assert "“cool gold-bath” (4), line" not in told(found)


@pytest.mark.parametrize("day", (4, 6))
def test_the_days_that_a_vat_has_stood_count(day: int) -> None:
    made = plan_of(again(VAT, ("vat", at("9:20")), at("11:00", day)))
    ripe = made.at["ripe"]
    assert ripe.start == 20
    assert ripe.end - ripe.start == 8 * A_DAY


def test_a_vat_that_has_stood_for_too_long_is_looked_at_when_somebody_is_there() -> None:
    made = plan_of(again(VAT, ("vat", at("9:20")), at("19:00", 10)))
    ripe, now = made.at["ripe"], made.work.now
    assert ripe.start == 20 and now < ripe.end <= now + 15 * 60


def test_a_small_delay_is_no_dead_end() -> None:
    """It is too late to mordant before closing; on Sunday it would stand hot for a week."""
    found = again(NIGHT, ("soak", at("15:40")), at("16:00"), WEEKEND)
    made = plan_of(found)
    hung = made.at["soak" + HUNG_UP]
    wetted = made.at["dyed" + WETTED_AGAIN]
    assert made.work.now <= hung.start <= made.work.now + 30
    assert made.at["dyed"].start >= wetted.end > 6 * A_DAY
    said = " ".join(made.work.notes)
    assert "If somebody can stay for " in said
    until = time.fromisoformat(said.split("longer, until ")[1][:5])
    longer = Hours(times=((time(9), until),), weekdays=WEEKEND.weekdays)
    sooner = plan_of(again(NIGHT, ("soak", at("15:40")), at("16:00"), longer))
    assert sooner.finish < 3 * A_DAY < made.finish


def test_what_came_before_was_over_when_the_step_can_have_begun_at_the_latest() -> None:
    """It stood for five days at the least."""
    found = again(VAT, ("ripe", at("10:00", 6)), at("11:00", 6))
    made = plan_of(found)
    assert made.at["vat"].end == 6 * A_DAY + 60 - 5 * A_DAY
    said = told(found)
    assert "Done by 10:00 on Sunday 29 November: prepare vat" in said
    assert "{" not in said
    assert "at once" not in said
