"""A dye bath that stands cools as baths do, and what warms it again depends on bath and plate."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest

import procedure
from procedure.collection.opening_hours import Hours, times_of
from procedure.timetable.from_plans import work_of
from procedure.timetable.terms import Asked
from procedure.timetable.work import WarmAgain
from procedure.vocabulary.estimates import figure

PLANS = Path(__file__).parents[2] / "examples" / "plans"
TEXT = """procedure "Standing"
  by "Fellside Dye Circle"
  place ventilated
  wearing gloves
fibre
  yarn: wool yarn, 100 g, scoured, mordanted with alum 10 %
equipment
  pot: stainless steel pot, {size} L, lidded, for dyeing only
  tub: plastic tub, 10 L, for dyeing only
  hob: hotplate, {watts} W
materials
  weld: weld, dried
steps
  bath: prepare in pot with water {litres} L, weld 50 g
  simmer bath for 1 h
  cool bath to {heat} °C
  strain bath
  wet out yarn in tub with water 5 L at 30 °C for 1 h
  dye yarn in bath from {heat} °C to 85 °C over 45 min for 45 min
  rinse yarn in tub with water 5 L at 30 °C
  dry yarn
  discard bath to "foul drain"
"""


def standing(heat: int = 50, litres: int = 5, size: int = 8, watts: int = 2000) -> WarmAgain:
    text = TEXT.format(heat=heat, litres=litres, size=size, watts=watts)
    asked = Asked(datetime(2099, 11, 28, 9), Hours(times_of("9-18")), "9-18")
    (found,) = work_of([procedure.read(text, "standing.dye")], asked).work.warmth
    return found


def test_it_takes_as_long_as_the_plate_needs_from_the_heat_of_the_room() -> None:
    """5 L by 32 °C are 669 kJ (4.18 kJ/(kg K), any book of physics); so much gets in of 2 kW."""
    low = figure("hotplate efficiency").low
    least = 5 * 4.18 * 32 / (2 * float(low)) / 60
    assert least <= standing().minutes <= 1.6 * least + 5


@pytest.mark.parametrize(
    ("one", "more"),
    [
        (standing(watts=2000), standing(watts=1000)),
        (standing(heat=40), standing(heat=60)),
        (standing(litres=5, size=20), standing(litres=15, size=20)),
    ],
    ids=["less power", "hotter", "more of it"],
)
def test_what_needs_more_heat_takes_longer(one: WarmAgain, more: WarmAgain) -> None:
    assert one.minutes < more.minutes
    assert one.minutes % 5 == 0 == more.minutes % 5


def test_a_hotter_or_smaller_bath_is_cold_sooner() -> None:
    assert standing(heat=60).within < standing(heat=40).within
    assert standing(litres=3, size=4).within < standing(litres=15, size=20).within


def test_a_bath_of_which_nobody_says_how_much_it_is_is_as_is_usual() -> None:
    text = TEXT.format(heat=50, litres=5, size=8, watts=2000).replace("water 5 L, weld", "weld")
    asked = Asked(datetime(2099, 11, 28, 9), Hours(times_of("9-18")), "9-18")
    (found,) = work_of([procedure.read(text, "standing.dye")], asked).work.warmth
    assert (found.within, found.minutes) == (120, 30)


def test_a_jar_that_no_plate_can_warm_is_as_is_usual() -> None:
    plan = procedure.load(PLANS / "shade-card-24.dye")
    asked = Asked(datetime(2099, 11, 28, 9), Hours(times_of("9-18")), "9-18")
    warmth = work_of([plan], asked).work.warmth
    jars = [each for each in warmth if each.before in ("iron-bath", "sour-bath", "soda-bath")]
    assert len(jars) == 3
    assert all((each.within, each.minutes) == (120, 30) for each in jars)
