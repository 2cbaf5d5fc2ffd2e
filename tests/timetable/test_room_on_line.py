"""One account of the drying line: what is hung up meanwhile takes its room too."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest
from verifying import wrongs

import procedure
from procedure.collection.opening import line_of
from procedure.collection.opening_hours import Hours, days_of, times_of
from procedure.timetable import CannotPlan, Timetable, agenda, fitted
from procedure.timetable.by_day import report
from procedure.timetable.from_plans import work_of
from procedure.timetable.planning import NO_TIME_TO_DRY
from procedure.timetable.plates import LINE
from procedure.timetable.room_on_line import HUNG_UP, without_room
from procedure.timetable.solving import EFFORT
from procedure.timetable.terms import Asked
from procedure.timetable.told_first import shortened

EXAMPLES = Path(__file__).parents[2] / "examples"
SATURDAY = datetime(2099, 11, 28, 9)
TEXT = """procedure "Three golds"
  by "Fellside Dye Circle"
  place ventilated
  wearing gloves

fibre
  deep: wool yarn, 100 g, scoured
  middle: wool yarn, 100 g, scoured
  light: wool yarn, 100 g, scoured

equipment
  pan: stainless steel pot, 20 L, lidded, for dyeing only
  tub: plastic tub, 25 L, for dyeing only
  hob: hotplate, 2 kW

materials
  skins: onion skins, dried

steps
  wet out deep, middle, light in tub with water 10 L at 30 °C for 1 h
  gold-bath: prepare in pan with water 8 L, skins 150 g
  dye deep, middle, light in gold-bath from 40 °C to 80 °C over 30 min for 45 min
  lift deep, middle, light
  rinse deep, middle, light in tub with water 10 L at 30 °C until "the water runs clear"
"""
APART = "  dry deep\n  dry middle\n  dry light\n"
TOGETHER = "  dry deep, middle, light\n"


def planned(
    steps: str, line: int | None, days: str = "daily", effort: float = EFFORT
) -> tuple[Timetable, str]:
    plan = procedure.read(TEXT + steps, "golds.dye")
    asked = Asked(SATURDAY, Hours(times_of("9-18"), *days_of(days)), "9-18", line=line)
    found = fitted(work_of([plan], asked).work, effort)
    assert isinstance(found.made, Timetable)
    made = found.made
    times = {each.key: (each.start, each.end) for each in made.placed}
    assert wrongs(made.work, times) == []
    said = "\n".join(shortened(found)) + report(agenda(made))
    return made, " ".join(said.split())


def hung_at_once(made: Timetable) -> int:
    """The grams on the line at its fullest, with what the days' lists would have hung up."""
    uses = [
        (made.at[each.key].start, made.at[each.key].end, need.amount)
        for each in made.work.activities
        for need in each.needs
        if need.resource == LINE
    ]
    ends = {lot: made.at[a.key].end for a in made.work.activities for lot in a.lots}
    for day in agenda(made).days:
        for lot, _ in day.hung:
            uses.append((max(w.closes for w in day.windows), ends[lot], 100))
    return max(sum(g for a, b, g in uses if a <= at < b) for at, _, _ in uses)


# Where two of three find room, a plan is sought for fifteen times as long; room is kept in any.
BRIEFLY = EFFORT / 10


@pytest.mark.parametrize(
    ("line", "effort"),
    [
        (100, EFFORT),
        (200, BRIEFLY),
        pytest.param(200, EFFORT, marks=pytest.mark.exhaustive),
        (300, EFFORT),
    ],
)
def test_no_more_hangs_on_the_line_than_there_is_room_for(line: int, effort: float) -> None:
    made, _ = planned(APART, line, effort=effort)
    assert hung_at_once(made) <= line


def test_what_finds_no_room_is_said_to_wait_damp() -> None:
    made, said = planned(APART, 100)
    assert "the drying line has no room" in said
    assert "Hang up to dry then" not in said and "Hang middle" not in said
    assert "Waits wet then" in said
    assert {lot for lots in without_room(made).values() for lot in lots} != set()


def test_with_room_enough_nothing_is_said_of_it() -> None:
    made, said = planned(APART, 300)
    assert "no room" not in said and without_room(made) == {}


def test_nothing_is_known_of_a_line_of_which_nobody_speaks() -> None:
    made, said = planned(APART, None)
    assert "no room" not in said and without_room(made) == {}


@pytest.mark.parametrize(
    ("steps", "line", "remedy"),
    [
        (TOGETHER, 200, "or dry its lots one after the other"),
        (APART, 80, "or split deep into lots that are dried one after the other"),
    ],
)
def test_a_line_that_is_too_short_is_refused_with_a_way_out(
    steps: str, line: int, remedy: str
) -> None:
    with pytest.raises(CannotPlan) as why:
        planned(steps, line)
    said = str(why.value).replace("\u202f", " ")
    assert said.startswith("Line 25: “dry deep")
    assert f"has room for {line} g: have a line for {300 if steps == TOGETHER else 100} g" in said
    assert remedy in said


def test_what_is_hung_up_between_two_weekends_takes_its_room() -> None:
    plan = procedure.load(EXAMPLES / "goldenrod-and-olive.dye")
    asked = Asked(SATURDAY, Hours(times_of("10-16"), *days_of("sat,sun")), "10-16", line=1000)
    made = fitted(work_of([plan], asked).work).made
    assert isinstance(made, Timetable)
    times = {each.key: (each.start, each.end) for each in made.placed}
    assert wrongs(made.work, times) == []
    hung = [each for each in made.work.activities if each.key.endswith(HUNG_UP)]
    assert hung and all(LINE in [need.resource for need in each.needs] for each in hung)
    assert all(made.at[each.key].end - made.at[each.key].start >= 24 * 60 for each in hung)


TWO = (
    TEXT[: TEXT.index("fibre")]
    + """fibre
  deep: wool yarn, 400 g, scoured
  light: wool yarn, 400 g, scoured
equipment
  pan: stainless steel pot, 20 L, lidded, for dyeing only
  pot: stainless steel pot, 30 L, lidded, for dyeing only
  tub: plastic tub, 25 L, for dyeing only
  hob: hotplate, 2 kW, 2 rings
materials
  alum: potassium alum
  skins: onion skins, dried
steps
  wet out deep, light in tub with water 20 L at 30 °C for 1 h
  alum-bath: prepare in pot with water 20 L at 40 °C, alum 10 % of deep, alum 10 % of light
  mordant deep, light in alum-bath from 40 °C to 80 °C over 45 min for 1 h
  lift deep, light
  rinse deep in tub with water 10 L at 30 °C
  rinse light in tub with water 10 L at 30 °C
  gold-bath: prepare in pan with water 12 L, skins 200 g
  simmer gold-bath for 1 h
  cool gold-bath to 40 °C
  strain gold-bath
  dye deep in gold-bath from 40 °C to 80 °C over 45 min for 1 h
  lift deep
  dye light in gold-bath from 40 °C to 80 °C over 45 min for 1 h
  rinse deep, light in tub with water 20 L at 30 °C until "the water runs clear"
  dry deep
  dry light
"""
)


def saturdays(line: int, effort: float) -> Timetable:
    asked = Asked(SATURDAY, Hours(times_of("9-15"), *days_of("sat")), "9-15", line=line)
    made = fitted(work_of([procedure.read(TWO, "two.dye")], asked).work, effort).made
    assert isinstance(made, Timetable)
    return made


@pytest.mark.parametrize("effort", [BRIEFLY, pytest.param(EFFORT, marks=pytest.mark.exhaustive)])
def test_a_line_too_short_for_what_waits_for_days_is_the_reason_and_what_serves_is_said(
    effort: float,
) -> None:
    said = " ".join(saturdays(400, effort).work.notes).replace("\u202f", " ")
    assert "the drying line, with room for 400 g, is too short: have a line for 800 g" in said
    assert NO_TIME_TO_DRY not in said
    made = saturdays(800, effort)
    assert any(each.key.endswith(HUNG_UP) for each in made.work.activities)
    assert not any("too short" in note or note == NO_TIME_TO_DRY for note in made.work.notes)
    assert without_room(made) == {}


def test_what_is_planned_to_be_hung_up_is_not_said_to_have_no_room() -> None:
    plan = procedure.load(EXAMPLES / "goldenrod-and-olive.dye")
    asked = Asked(SATURDAY, Hours(times_of("10-16"), *days_of("sat,sun")), "10-16", line=500)
    found = fitted(work_of([plan], asked).work)
    assert isinstance(found.made, Timetable)
    assert any(each.key.endswith(HUNG_UP) for each in found.made.work.activities)
    assert not any("no room" in each for each in shortened(found))


def test_twelve_lots_of_four_ounces_hang_on_a_line_of_three_pounds() -> None:
    """NIST Handbook 44, Appendix C: a pound is 453.59237 g, and 16 oz."""
    lots = [f"skein-{letter}" for letter in "abcdefghijkl"]
    fibre = "".join(f"  {lot}: wool yarn, 4 oz, scoured\n" for lot in lots)
    steps = TEXT[TEXT.index("equipment") : TEXT.index("steps")] + "steps\n"
    wet = f"  wet out {', '.join(lots)} in tub with water 20 L at 30 °C for 1 h\n"
    dry = f"  dry {', '.join(lots)}\n"
    text = TEXT[: TEXT.index("fibre")] + "fibre\n" + fibre + steps + wet + dry
    asked = Asked(SATURDAY, Hours(times_of("9-18")), "9-18", line=line_of("3 lb"))
    made = fitted(work_of([procedure.read(text, "us.dye")], asked).work).made
    assert isinstance(made, Timetable)
    one = text.replace(dry, "".join(f"  dry {lot}\n" for lot in lots))
    work = work_of([procedure.read(one, "us.dye")], replace(asked, line=line_of("2 lb"))).work
    hung = [need.amount for a in work.activities for need in a.needs if need.resource == LINE]
    assert len(hung) == 12 and sum(hung[:8]) <= work.resource[LINE].capacity < sum(hung[:9])
