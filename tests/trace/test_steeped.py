"""Fibre that steeps lies in its bath without heating: what was hot cools."""

from __future__ import annotations

from fractions import Fraction

import pytest

import procedure
from procedure import Plan
from procedure.handout.lot_stories import stories
from procedure.quantity.interval import Interval
from procedure.trace.readings import ROOM

HEAD = """procedure "Steeped"
  by "Fellside Dye Circle"
  place outdoors
  wearing gloves
fibre
  yarn: wool yarn, 100 g, scoured
equipment
  pot: stainless steel pot, 8 L, for dyeing only
  tub: plastic tub, 10 L, for dyeing only
  ring: hotplate, 1500 W
materials
  alum: potassium alum
steps
  wet out yarn in tub with water 5 L at 30 °C for 1 h
  bath: prepare in pot with water 4 L, alum 12 g at 40 °C
  mordant yarn in bath at 85 °C for 1 h
"""


def plan_of(lines: str) -> Plan:
    return procedure.read(f"{HEAD}  {lines}\n  lift yarn from bath\n", "steeped.dye")


def heats(plan: Plan, number: int) -> tuple[Interval | None, Interval | None]:
    """The heats of a step, and that of its bath after it."""
    moment = plan.trace.moments[number]
    return moment.heat, moment.bath_after.heat if moment.bath_after is not None else None


COOLED = Interval(ROOM.low, Fraction(85))


@pytest.mark.parametrize(
    ("line", "passes", "ends"),
    [
        ("steep yarn in bath overnight", COOLED, ROOM),
        ("steep yarn in bath until next morning", COOLED, ROOM),
        ("steep yarn in bath for 12 h", COOLED, ROOM),
        ("steep yarn in bath for 1 h", COOLED, COOLED),
        ('steep yarn in bath until "Tuesday"', COOLED, COOLED),
        (
            "steep yarn in bath for 10 min",
            Interval.of(Fraction(85)),
            Interval.of(Fraction(85)),
        ),
        (
            "steep yarn in bath at 60 °C for 1 h",
            Interval.of(Fraction(60)),
            Interval.of(Fraction(60)),
        ),
    ],
)
def test_what_steeps_cools_unless_a_heat_is_written(
    line: str, passes: Interval, ends: Interval
) -> None:
    assert heats(plan_of(line), 3) == (passes, ends)


def test_a_cold_bath_stays_as_it_is() -> None:
    cold = HEAD.replace(" at 85 °C for 1 h", " at 15 °C for 1 h")
    plan = procedure.read(f"{cold}  steep yarn in bath for 12 h\n", "steeped.dye")
    assert heats(plan, 3)[0] == Interval(Fraction(15), Fraction(15))


def test_the_story_of_a_lot_tells_that_its_bath_cooled() -> None:
    (story,) = stories(plan_of("steep yarn in bath overnight"))
    told = [one.sentence.replace("\u00a0", " ") for one in story.events]
    assert any("as it cooled from 85 °C for 8 to 16 h" in one for one in told)


@pytest.mark.parametrize("long", ["about 30 s", "about 10 min", "about 2 h"])
def test_the_story_of_a_lot_tells_a_rough_time_as_it_is_written(long: str) -> None:
    (story,) = stories(plan_of(f"steep yarn in bath for {long}"))
    assert any(f"for {long}" in one.sentence for one in story.events)
