"""What will not fit into one day: why, in few lines, and how long a day would do."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest
from blue_vat import at_the_vat

import procedure
from procedure.collection.opening_hours import Hours, days_of, times_of
from procedure.timetable import NoPlan, Timetable, fitted
from procedure.timetable.from_plans import work_of
from procedure.timetable.one_long_day import long_enough
from procedure.timetable.refused_words import refusal
from procedure.timetable.terms import Asked

TEN = datetime(2099, 11, 28, 10)
PEOPLE = ("Elder", "Hazel", "Rowan", "Alder", "Birch", "Willow", "Holly", "Thorn")


def class_of(people: Sequence[str]) -> str:
    """A class at the blue vat, with a skein for each of those people."""
    lots = [each.lower() for each in people]
    every = ", ".join(lots)
    return f"""{at_the_vat("A class at the blue vat", *lots)}\
  vat: prepare in vat-pot with water 16 L, indigo 1 g/L, lime 2 g/L, fructose 3 g/L at 60 °C
  stand vat at 50 °C for 45 min covered
  wet out {every} in tub with water 20 L at 30 °C for 30 min
  for each skein in {every}
    repeat 3 times
      dip skein in vat at 50 °C for 5 min
      air skein for 15 min
  for each skein in {every}
    rinse skein in tub with water 3 L at cold for 5 min
    dry skein
  keep vat as class-vat covered labelled
"""


def made_in(folder: Path, until: str, days: str = "2099-11-28") -> Timetable | NoPlan:
    file = folder / "class.dye"
    file.write_text(class_of(PEOPLE), encoding="utf-8")
    hours = Hours(times_of(f"10:00-{until}"), *days_of(days))
    asked = Asked(TEN, hours, f"10:00-{until}", participants=PEOPLE, hands=("Teacher",))
    return fitted(work_of([procedure.load(file)], asked).work).made


def test_turns_that_are_too_many_for_the_day_are_told_at_once(tmp_path: Path) -> None:
    unfit = made_in(tmp_path, "12:00")
    assert isinstance(unfit, NoPlan)
    said = refusal(unfit).replace("\u202f", " ")
    hands = "- There are 2 h 25 min of hands-on work at the least; the place is open for 2 h in all"
    assert f"{hands}, with Teacher for it." in said
    assert not re.search("Thorn does|look after", said), "that is no part of the reason"
    assert len(said.splitlines()) <= 4


@pytest.mark.parametrize("many", [4, pytest.param(8, marks=pytest.mark.exhaustive)])
def test_what_each_lot_wants_by_itself_is_told_of_the_first_alone(
    many: int, tmp_path: Path
) -> None:
    file = tmp_path / "class.dye"
    people = PEOPLE[:many]
    long = class_of(people).replace("at cold for 5 min", "at cold for 3 h")
    file.write_text(long, encoding="utf-8")
    hours = Hours(times_of("10:00-12:00"), *days_of("2099-11-28"))
    asked = Asked(TEN, hours, "10:00-12:00", participants=people, hands=("Teacher",))
    unfit = fitted(work_of([procedure.load(file)], asked).work).made
    assert isinstance(unfit, NoPlan)
    said = refusal(unfit).replace("\u202f", " ")
    assert "“rinse elder in tub” takes 3 h and may not go on while the place is closed" in said
    assert "more like it" not in said


def test_the_day_that_would_do_is_told_and_does(tmp_path: Path) -> None:
    unfit = made_in(tmp_path, "12:00")
    assert isinstance(unfit, NoPlan)
    assert unfit.stay and long_enough(unfit) == "", "what is told already is shorter"
    said = long_enough(replace(unfit, stay=0))
    told = re.search(r"in one day from 10:00 to (\d+:\d+);", said)
    assert told is not None
    made = made_in(tmp_path, told.group(1))
    assert isinstance(made, Timetable) and made.days == 1 and not made.to_the_limit


def test_nothing_is_told_of_one_day_where_more_days_were_asked_for(tmp_path: Path) -> None:
    unfit = made_in(tmp_path, "10:15", days="sat,sun")
    assert isinstance(unfit, NoPlan)
    assert long_enough(unfit) == ""
