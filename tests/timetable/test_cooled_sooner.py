"""What is gained where a bath has cooled sooner than planned: the rest is planned again."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest
from onion_day import ONION
from verifying import wrongs

import procedure
from procedure.collection.opening_hours import Hours, days_of, times_of
from procedure.timetable import NoPlan, Timetable, agenda, fitted
from procedure.timetable.by_day import report
from procedure.timetable.cooled_sooner import gained, soonest_cooled
from procedure.timetable.from_plans import work_of
from procedure.timetable.refused_words import refusal
from procedure.timetable.solving import best
from procedure.timetable.terms import Asked
from procedure.timetable.work import Done

EXAMPLES = Path(__file__).parents[2] / "examples"
SATURDAY = datetime(2099, 11, 28, 9)


@pytest.fixture(scope="module")
def weld() -> Timetable:
    return planned("weld-yellow-wool")


def planned(example: str, hours: str = "9:00-18:00") -> Timetable:
    opening = Hours(times_of(hours))
    drawn = work_of([procedure.load(EXAMPLES / f"{example}.dye")], Asked(SATURDAY, opening))
    made = fitted(drawn.work).made
    assert isinstance(made, Timetable)
    return made


def test_what_is_gained_is_what_a_new_plan_from_then_on_gains(weld: Timetable) -> None:
    gains, soonest = gained(weld), soonest_cooled(weld)
    assert set(gains) == set(soonest) and any(gains.values())
    for key, gain in gains.items():
        minute = soonest[key]
        begun = [each for each in weld.placed if each.start < minute]
        ends = {each.key: min(each.end, minute) for each in begun if each.end <= minute}
        done = tuple(
            Done(each.key, each.start, minute if each.key == key else ends.get(each.key))
            for each in begun
        )
        again = best(replace(weld.work, done=done, now=minute), None, 1.0)
        assert again is not None
        assert wrongs(again.work, {p.key: (p.start, p.end) for p in again.placed}) == []
        assert weld.finish - again.finish == gain


def test_it_is_told_with_the_hour_and_until_when_it_may_take(weld: Timetable) -> None:
    said = " ".join(report(agenda(weld), gains=gained(weld)).split()).replace("\u202f", " ")
    assert "How long it takes is estimated: if it has cooled by 12:35, you gain 1 h 40 min" in said
    assert "if it has cooled by 12:55, what follows may begin then." in said


@pytest.mark.parametrize("hours", ["9:00-18:00", "10:00-16:00", "9:00-14:00"])
@pytest.mark.parametrize("example", ["cochineal-pink-silk", "old-gold", "weld-yellow-wool"])
def test_no_estimated_cooling_is_planned_below_its_middle(example: str, hours: str) -> None:
    """However few the hours are: a bath is as hot as it is."""
    made = planned(example, hours)
    plan = procedure.load(EXAMPLES / f"{example}.dye")
    work = work_of([plan], Asked(SATURDAY, Hours(times_of(hours)))).work
    cooled = [each for each in work.activities if each.lasting.slowest]
    assert cooled
    for each in cooled:
        place = made.at[each.key]
        assert place.end - place.start >= each.lasting.most > each.lasting.least


def test_where_only_a_shorter_cooling_would_do_it_is_refused_and_says_which() -> None:
    """All in the bath of the plant goes on to a night of cooling, which no Sunday leads into."""
    opening = Hours(times_of("9:00-18:00"), *days_of("sat,sun"))
    plan = procedure.load(EXAMPLES / "tansy-on-two-mordants.dye")
    made = fitted(work_of([plan], Asked(SATURDAY, opening)).work).made
    assert isinstance(made, NoPlan) and made.smallest
    said = refusal(made).replace("\u202f", " ")
    assert "“cool tansy-bath” (line 36) 4 h 30 min" in said and "at the least" in said


def test_where_steps_are_planned_shorter_they_gain_nothing_by_their_short_ends() -> None:
    """In time for a finish: what dries for 12 to 24 h still dries for as long as it is planned."""
    asked = Asked(SATURDAY, Hours(), finish_by=datetime(2099, 11, 29, 18, 30))
    made = fitted(work_of([procedure.read(ONION, "onion.dye")], asked).work).made
    assert isinstance(made, Timetable) and made.to_the_limit
    gains, soonest = gained(made), soonest_cooled(made)
    assert gains and any(gains.values())
    for key, gain in gains.items():
        # All is over on the same day as before, so no night is won.
        assert gain <= made.at[key].end - soonest[key] <= 2 * 60
