"""Longer hours, more hands and more pots never make a plan be over later.

But for two things that a plan tells: in longer hours more coolings are planned at their long end,
and less is left over a night that nobody wrote. So ends are compared by the middle of the
estimates, and with plans that give no more than the other.
"""

from __future__ import annotations

from datetime import datetime
from itertools import pairwise
from pathlib import Path

import pytest
from verifying_plans import wrongs_of_plan

import procedure
from procedure.collection.opening_hours import Hours, times_of
from procedure.pipeline import Judged
from procedure.timetable import Fitted, Timetable, Work, fitted
from procedure.timetable.from_plans import work_of
from procedure.timetable.planning import is_whole
from procedure.timetable.terms import Asked
from procedure.timetable.usual_coolings import over_as_usual, sooner_as_usual

EXAMPLES = Path(__file__).parents[2] / "examples"
SATURDAY = datetime(2099, 11, 28, 9)
HOURS = ("9:00-17:00", "9:00-18:00", "9:00-19:00", "9:00-20:30")
CLOSE = 15
"""Minutes by which ends differ where vats are warmed again, and plans are put on full fives."""


def loaded(name: str) -> Judged:
    return procedure.load(EXAMPLES / name)


def planned(
    plan: Judged,
    hours: str = "9:00-18:00",
    hands: int = 1,
    pots: tuple[tuple[str, int], ...] = (),
) -> tuple[Work, Fitted]:
    people = tuple(f"dyer {number}" for number in range(1, hands + 1))
    asked = Asked(SATURDAY, Hours(times_of(hours)), hours, hands=people, pots=pots)
    work = work_of([plan], asked).work
    return work, fitted(work, reasons=False)


def over_at(work: Work, found: Fitted) -> int:
    """When all is over if no bath is slower to cool than the middle of its estimate."""
    made = found.made
    assert isinstance(made, Timetable)
    usual = over_as_usual(made, work, is_whole)
    return made.finish if usual is None else min(usual, made.finish)


def gives(found: Fitted) -> int:
    return len(found.left) + len(found.shortened) + len(found.waits)


def later(plans: list[tuple[Work, Fitted]]) -> list[str]:
    """Where one plan is over later than the one before it, which has less to do it with."""
    ends = [(over_at(*each), gives(each[1])) for each in plans]
    return [
        f"{two[0]} after {one[0]}"
        for one, two in pairwise(ends)
        if two[1] >= one[1] and two[0] > one[0] + CLOSE
    ]


@pytest.mark.parametrize(
    "name",
    [
        "weld-yellow-wool.dye",
        "heather-purple-wool.dye",
        "three-lots-one-bath.dye",
        "madder-red-wool.dye",
        "jade-green.dye",
        "plans/workshop-day.dye",
    ],
)
def test_longer_hours_end_no_later(name: str) -> None:
    plan = loaded(name)
    assert later([planned(plan, hours) for hours in HOURS]) == []


@pytest.mark.parametrize("name", ["plans/six-lots-three-baths.dye", "three-lots-one-bath.dye"])
def test_more_hands_end_no_later(name: str) -> None:
    plan = loaded(name)
    assert later([planned(plan, hands=count) for count in (1, 2, 3)]) == []


@pytest.mark.parametrize(
    ("name", "pots"),
    [
        ("plans/six-lots-three-baths.dye", ("yellow-pot", "red-pot")),
        ("weld-yellow-wool.dye", ("pot",)),
    ],
)
def test_more_pots_end_no_later(name: str, pots: tuple[str, ...]) -> None:
    plan = loaded(name)
    several = [tuple((pot, count) for pot in pots) for count in (1, 2, 3)]
    assert later([planned(plan, pots=each) for each in several]) == []


def test_it_is_told_when_all_is_over_by_the_middle_of_the_estimates() -> None:
    """In one hour more the last cooling is planned at its long end, so all is over later."""
    plan = loaded("weld-yellow-wool.dye")
    (short_work, short), (long_work, longer) = planned(plan), planned(plan, "9:00-19:00")
    assert isinstance(short.made, Timetable)
    assert isinstance(longer.made, Timetable)
    assert longer.made.finish > short.made.finish
    assert over_at(long_work, longer) == over_at(short_work, short) == short.made.finish
    assert sooner_as_usual(longer.made, long_work, is_whole).replace("\u202f", " ") == (
        "Coolings are planned for their long end: if none takes longer than the middle of its "
        "estimate, all may be over at 14:55 on Tuesday 1 December."
    )
    assert sooner_as_usual(short.made, short_work, is_whole) == ""
    assert wrongs_of_plan(plan, longer.made.work, times_of_plan(longer.made)) == []


def times_of_plan(made: Timetable) -> dict[str, tuple[int, int]]:
    return {each.key: (each.start, each.end) for each in made.placed}
