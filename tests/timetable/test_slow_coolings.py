"""An estimated cooling is planned at its long end where that costs no night, else in the middle."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest

import procedure
from procedure.collection.opening_hours import Hours
from procedure.timetable import Activity, Timetable, fitted
from procedure.timetable.from_plans import work_of
from procedure.timetable.slow_coolings import may_be_slow, slower
from procedure.timetable.terms import Asked
from procedure.timetable.unsure import estimates

EXAMPLES = Path(__file__).parents[2] / "examples"
SATURDAY = datetime(2099, 11, 28, 9)


def planned(example: str) -> Timetable:
    plan = procedure.load(EXAMPLES / f"{example}.dye")
    made = fitted(work_of([plan], Asked(SATURDAY, Hours())).work, 0.05).made
    assert isinstance(made, Timetable)
    return made


def coolings(made: Timetable) -> dict[int, Activity]:
    return {a.place.line: a for a in made.work.activities if a.lasting.slowest}


def test_what_is_dyed_with_on_the_same_day_even_so_waits_for_the_slowest_pot() -> None:
    """Turmeric cools from 90 °C in 55 min to 3 h 35 min, and all goes into one day even so."""
    made = planned("turmeric-on-cotton")
    (cooled,) = coolings(made).values()
    place = made.at[cooled.key]
    assert place.end - place.start == cooled.lasting.most == cooled.lasting.slowest
    (said,) = estimates(made)
    assert f"Planned for the long end: “{cooled.name}” ({cooled.printed}); go on as soon" in said
    assert "middle" not in said


def test_a_night_more_for_the_slowest_pot_is_not_planned_but_told() -> None:
    """Onion skins cool in the morning, and at the long end the dyeing would not fit any more."""
    made = planned("first-onion-skins")
    (cooled,) = coolings(made).values()
    assert cooled.lasting.most < cooled.lasting.slowest
    (said,) = estimates(made)
    assert "Planned for the middle: “cool gold-bath” (4) up to" in said
    assert "since" not in said, "why it is not the long end is not looked for in every way"
    longer = fitted(slower(made.work, [cooled.key]), 0.05).made
    assert isinstance(longer, Timetable)
    assert longer.finish // 1440 == made.finish // 1440 + 1 and longer.days == made.days + 1


def test_of_two_coolings_one_may_be_slow() -> None:
    made = planned("goldenrod-us-units")
    first, second = coolings(made).values()
    assert first.lasting.most == first.lasting.slowest
    assert second.lasting.most < second.lasting.slowest


@pytest.mark.parametrize("example", ["raven-grey", "weld-yellow-wool", "logwood-violet-silk"])
def test_no_night_and_no_day_comes_of_it(example: str) -> None:
    plan = procedure.load(EXAMPLES / f"{example}.dye")
    work = work_of([plan], Asked(SATURDAY, Hours())).work
    made = planned(example)
    assert any(made.work.activity[key] != work.activity[key] for key in may_be_slow(work))
    never_slow = (
        replace(each, lasting=replace(each.lasting, slowest=0)) for each in work.activities
    )
    usual = fitted(replace(work, activities=tuple(never_slow)), 0.05).made
    assert isinstance(usual, Timetable)
    assert nights(made) == nights(usual) and made.days <= usual.days


def nights(made: Timetable) -> int:
    """How many nights have begun when all is over."""
    return sum(closes < made.finish for closes, _ in made.work.nights)
