"""When nothing is left for anybody to do is told, where that is long before all is over."""

from __future__ import annotations

from datetime import datetime

import pytest
from onion_day import ONION

import procedure
from procedure.collection.opening_hours import Hours, times_of
from procedure.timetable import Timetable, agenda, fitted
from procedure.timetable.drawing import draw
from procedure.timetable.from_plans import work_of
from procedure.timetable.hours import clock
from procedure.timetable.planned_words import ending, time_of
from procedure.timetable.terms import Asked

BEGINS = datetime(2099, 11, 28, 9)


def planned(text: str, hours: str = "8-20") -> Timetable:
    asked = Asked(BEGINS, Hours(times_of(hours)), hours)
    made = fitted(work_of([procedure.read(text, "onion.dye")], asked).work, reasons=False).made
    assert isinstance(made, Timetable)
    return made


def test_what_dries_until_tomorrow_keeps_nobody() -> None:
    made = planned(ONION)
    last = max(piece.end for piece in made.hands_on)
    assert made.finish - last >= 4 * 60
    said = f"The work is done at {time_of(clock(BEGINS, last))} on Saturday 28 November; "
    assert ending(made).endswith(f"{said}what is left goes on by itself.")
    assert said in "".join(draw(agenda(made)))


@pytest.mark.parametrize("last", ("", '  do "write down the colour" with yarn for 5 min\n'))
def test_nothing_is_said_of_it_where_the_work_ends_the_plan(last: str) -> None:
    lines = [line for line in ONION.splitlines() if not line.strip().startswith("dry ")]
    made = planned("\n".join(lines) + f"\n{last}")
    over = max(piece.end for piece in made.hands_on)
    assert ("The work is done" in ending(made)) == (made.finish - over >= 4 * 60)
    assert made.finish - over < 4 * 60
