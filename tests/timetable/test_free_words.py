"""A step in free words waits for what it is done with; where that is not said, for all before."""

from __future__ import annotations

from datetime import datetime

import procedure
from procedure.collection.opening_hours import Hours
from procedure.timetable import Timetable, fitted
from procedure.timetable.from_plans import work_of
from procedure.timetable.terms import Asked

TWO_SCARVES = """procedure "Two scarves"
  makes "two wet scarves"
fibre
  ash: cotton cloth, 60 g, scoured
  beech: cotton cloth, 60 g, scoured
equipment
  tub: plastic tub, 30 L
steps
  rinse ash in tub with water 8 L at cold for 5 min
  dry ash
  do "fold and tie it"{who} for 20 min
  rinse beech in tub with water 8 L at cold for 5 min
  dry beech
  clean tub
"""


def planned(who: str) -> Timetable:
    asked = Asked(datetime(2030, 6, 1, 9), Hours(), "9:00-18:00")
    made = fitted(work_of([procedure.read(TWO_SCARVES.format(who=who))], asked).work).made
    assert isinstance(made, Timetable)
    return made


def span_of(made: Timetable, name: str) -> tuple[int, int]:
    key = next(each.key for each in made.work.activities if each.name == name)
    return made.at[key].start, made.at[key].end


def test_what_is_done_with_one_lot_waits_for_no_other_that_dries() -> None:
    made = planned(" with beech")
    assert span_of(made, "fold and tie it")[1] <= span_of(made, "rinse beech in tub")[0]
    assert span_of(made, "fold and tie it")[0] < span_of(made, "dry ash")[1]
    assert made.days == 1


def test_what_is_done_with_a_lot_waits_until_that_is_dry() -> None:
    made = planned(" with ash")
    assert span_of(made, "fold and tie it")[0] >= span_of(made, "dry ash")[1]


def test_what_does_not_say_with_what_waits_for_the_step_before_it() -> None:
    made = planned("")
    assert span_of(made, "fold and tie it")[0] >= span_of(made, "dry ash")[1]
