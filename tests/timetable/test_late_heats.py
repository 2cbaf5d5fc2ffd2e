"""A bath that was heated and left, so that it is cold by now, is heated again before it is held."""

from __future__ import annotations

from datetime import datetime

import pytest
from verifying import wrongs

import procedure
from procedure.collection.opening_hours import Hours, times_of
from procedure.timetable import Timetable, agenda, fitted
from procedure.timetable.by_day import report
from procedure.timetable.from_plans import work_of
from procedure.timetable.terms import Asked, Happened
from procedure.timetable.told_first import shortened

SATURDAY = datetime(2099, 11, 28, 9)
TEXT = """procedure "Weld"
  by "Fellside Dye Circle"
  place ventilated
  wearing gloves

equipment
  pot: stainless steel pot, 8 L, lidded, for dyeing only
  net: net bag, for dyeing only
  hob: hotplate, 1.8 kW

materials
  weld: weld, dried

steps
  weld-bath: prepare in pot with water 5 L, weld 100 g
  heat weld-bath to 80 °C over 45 min on hob
  hold weld-bath at 80 °C for 45 min covered
  cool weld-bath to 40 °C
  strain weld-bath through net
"""


def planned(now: datetime | None) -> Timetable:
    """Heated until 11:00, where it is planned again."""
    plan = procedure.read(TEXT, "weld.dye")
    happened = (Happened("2", SATURDAY.replace(hour=11)),) if now is not None else ()
    hours = Hours(times_of("9-18"))
    asked = Asked(SATURDAY, hours, "9-18", now=now, happened=happened)
    made = fitted(work_of([plan], asked).work).made
    assert isinstance(made, Timetable)
    times = {each.key: (each.start, each.end) for each in made.placed}
    assert wrongs(made.work, times) == []
    return made


def hold(made: Timetable) -> tuple[int, int, int]:
    """From when to when it is held, and the minutes of hands at its start."""
    (each,) = (each for each in made.work.activities if each.name == "hold weld-bath")
    return made.at[each.key].start, made.at[each.key].end, each.at_start


@pytest.mark.parametrize("now", [SATURDAY.replace(hour=15), SATURDAY.replace(hour=17, minute=40)])
def test_a_late_hold_has_time_to_heat_and_somebody_to_turn_the_plate_on(now: datetime) -> None:
    made = planned(now)
    start, end, at_start = hold(made)
    assert end - start >= 45 + 20 and at_start > 0
    assert end - start == 45 + 30, "it is as cold as the room by then, at the most"
    assert any(piece.start == start for piece in made.hands_on)
    said = " ".join(report(agenda(made)).split())
    assert f"The bath has cooled down: the first {end - start - 45} min are for warming" in said
    if now.hour > 16:
        assert "Be back at 09:00 on Sunday: “hold weld-bath”" in said
        assert "and the bath loses its heat: look before you go on whether weld-bath is" in said


@pytest.mark.parametrize("now", [None, SATURDAY.replace(hour=11, minute=10)])
def test_a_hold_at_once_goes_on_with_the_plate_as_it_is(now: datetime | None) -> None:
    start, end, at_start = hold(planned(now))
    assert end - start == 45 and at_start == 0


def test_a_bath_that_was_left_hot_is_told_where_nobody_goes_on_with_it() -> None:
    """It was heated until 17:10, and there is no time to hold it before the place closes."""
    plan = procedure.read(TEXT, "weld.dye")
    happened = (Happened("2", SATURDAY.replace(hour=17, minute=10)),)
    now = SATURDAY.replace(hour=17, minute=45)
    asked = Asked(SATURDAY, Hours(times_of("9-18")), "9-18", now=now, happened=happened)
    found = fitted(work_of([plan], asked).work)
    assert isinstance(found.made, Timetable)
    told = " ".join(" ".join(shortened(found)).split())
    assert "“heat weld-bath” (2)" in told and "hotter than" in told


@pytest.mark.parametrize(("now", "least"), [((11, 35), 5), ((11, 40), 5), ((12, 0), 10)])
def test_a_hold_that_is_a_little_late_is_not_heated_from_the_cold(
    now: tuple[int, int], least: int
) -> None:
    """A pot of 5 L that was at 80 °C is no cold water an hour later."""
    start, end, _ = hold(planned(SATURDAY.replace(hour=now[0], minute=now[1])))
    assert least <= end - start - 45 < 30
    later = hold(planned(SATURDAY.replace(hour=15)))
    assert end - start < later[1] - later[0]


@pytest.mark.parametrize("minute", [40, 55])
def test_what_was_heated_minutes_before_closing_is_held_the_next_day(minute: int) -> None:
    """It is no reason to refuse all the rest: somebody stays until it may be left."""
    plan = procedure.read(TEXT, "weld.dye")
    now = SATURDAY.replace(hour=17, minute=minute)
    asked = Asked(
        SATURDAY, Hours(times_of("9-18")), "9-18", now=now, happened=(Happened("2", now),)
    )
    found = fitted(work_of([plan], asked).work)
    made = found.made
    assert isinstance(made, Timetable)
    assert wrongs(made.work, {each.key: (each.start, each.end) for each in made.placed}) == []
    start, end, at_start = hold(made)
    assert start >= 24 * 60 and end - start == 45 + 30 and at_start > 0
    notes = " ".join(made.work.notes)
    assert "It will be late, for the place closes before: “hold weld-bath”" in notes
    assert "Late by now" not in notes
    assert "Stay until about" in " ".join(" ".join(shortened(found)).split())
