"""Ways that exclude each other, and vats: what is in a plan, and in which order."""

from __future__ import annotations

from datetime import datetime

from verifying import wrongs

import procedure
from procedure.collection.opening_hours import Hours, times_of
from procedure.pipeline import Judged
from procedure.timetable import Timetable, fitted
from procedure.timetable.from_plans import Drawn, work_of
from procedure.timetable.terms import Asked, Happened

SATURDAY = datetime(2099, 11, 28, 9)
HEAD = """procedure "One cloth"
  by "Fellside Dye Circle"
  place outdoors
  wearing gloves, eye protection

fibre
  cloth: cotton cloth, 50 g, scoured

equipment
  pot: stainless steel pot, 20 L, lidded, for dyeing only
  tub: plastic tub, 40 L, for dyeing only

materials
  indigo: natural indigo
  soda: soda ash
  fructose: fructose
  iron: ferrous sulphate

steps
  wet out cloth in tub with water 5 L at 30 °C for 1 h
"""
EITHER = """  either "dark grey"
    iron-bath: prepare in pot with water 5 L, iron 2 g at 40 °C
    modify cloth in iron-bath at 40 °C for 15 min
    lift cloth
    discard iron-bath
  or "left white"
    rest cloth for 2 h
  rinse cloth in tub with water 5 L at 30 °C
"""
ONE_DIP = """  vat: prepare in pot with water 15 L, indigo 20 g, soda 60 g, fructose 60 g at 55 °C
  stand vat for 1 h covered
  dip cloth in vat at 50 °C for 5 min
  air cloth for 15 min
  rinse cloth in tub with water 5 L at 30 °C
  dry cloth
  discard vat to "foul drain, once it is blue and cold"
"""


def drawn(plan: Judged, longer: bool = True, done: tuple[str, ...] = ()) -> Drawn:
    happened = tuple(Happened(each, SATURDAY.replace(hour=11)) for each in done)
    now = SATURDAY.replace(hour=11) if done else None
    hours = Hours(times_of("10:00-16:00"))
    return work_of([plan], Asked(SATURDAY, hours, happened=happened, now=now), longer)


def names(given: Drawn) -> set[str]:
    return {each.name.split(" ")[0] for each in given.work.activities}


def test_of_two_ways_that_exclude_each_other_one_is_planned_and_the_other_named() -> None:
    plan = procedure.read(HEAD + EITHER, "either.dye")
    longer, shorter = drawn(plan), drawn(plan, longer=False)
    assert names(longer) == {"wet", "rest", "rinse"}
    assert names(shorter) == {"wet", "prepare", "modify", "lift", "discard", "rinse"}
    (told,) = (each for each in longer.supposed if "“dark grey”" in each)
    assert "planned for the way “left white”; “dark grey” is not in this plan" in told
    assert longer.longer_way


def test_the_way_of_which_a_step_has_happened_is_planned() -> None:
    plan = procedure.read(HEAD + EITHER, "either.dye")
    begun = drawn(plan, done=(f"line {HEAD.count(chr(10)) + 2}",))
    assert "modify" in names(begun) and "rest" not in names(begun)


def test_a_vat_is_warmed_before_the_dip_and_may_be_poured_away_the_next_day() -> None:
    plan = procedure.read(HEAD + ONE_DIP, "dip.dye")
    work = drawn(plan).work
    made = fitted(work).made
    assert isinstance(made, Timetable)
    times = {each.key: (each.start, each.end) for each in made.placed}
    assert wrongs(made.work, times) == []
    known = made.work.activity
    at = {known[key].name.split(" ")[0]: time for key, time in times.items()}
    # It has stood since it was made up warm: it takes minutes to be warm again, and no hour.
    assert at["stand"][1] <= at["warm"][0] and at["warm"][1] - at["warm"][0] <= 15
    assert at["warm"][1] == at["dip"][0] and at["dip"][1] <= at["air"][0]
    warming = known[f"line {HEAD.count(chr(10)) + 3} warmed"]
    assert "rings" in {need.resource for need in warming.needs}
    # Open from ten to four, it cools for longer than a day goes on.
    assert at["discard"][0] - at["dip"][1] > 480


def test_a_bath_that_is_moved_is_poured_into_its_pot() -> None:
    moved = """  bath: prepare in tub with water 5 L, iron 2 g at 20 °C
  transfer bath to pot
  add soda 5 g to bath
"""
    head = HEAD.replace("  wet out cloth in tub with water 5 L at 30 °C for 1 h\n", "")
    told = [one.name for one in drawn(procedure.read(head + moved, "moved.dye")).work.activities]
    assert "pour bath into pot" in told and "add soda ash to bath" in told
