"""Steps that a search has left late are as soon as they can be, and nothing is lost by that."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest
from example_work import ENDS, LOOKED_AT, step
from small_work import made_by_chance
from verifying import wrongs

from procedure.timetable import Timetable
from procedure.timetable.as_soon import as_soon_as_can_be
from procedure.timetable.planned import Placed
from procedure.timetable.planning import plan
from procedure.timetable.reasons import NoPlan
from procedure.timetable.solving import NotKnown
from procedure.timetable.unplannable import CannotPlan
from procedure.timetable.work import Activity, Hold, Lag, Lies, Need, Resource, Window, Work

A_DAY = 24 * 60
ONE, POT = Resource("hands", "pair of hands", "people"), Resource("pot", "the pot", "pot")
DAYS = tuple(Window(A_DAY * day, A_DAY * day + 480, day) for day in range(20))


def made_of(
    steps: list[tuple[Activity, int]], *lags: Lag, holds: tuple[Hold, ...] = ()
) -> Timetable:
    work = Work(tuple(each for each, _ in steps), lags, holds, (ONE, POT), DAYS)
    placed = tuple(Placed(each.key, at, at + each.lasting.most) for each, at in steps)
    assert wrongs(work, {each.key: (each.start, each.end) for each in placed}) == []
    return Timetable(work, placed, 0)


def starts(made: Timetable) -> dict[str, int]:
    pushed = as_soon_as_can_be(made)
    assert wrongs(made.work, {each.key: (each.start, each.end) for each in pushed.placed}) == []
    return {each.key: each.start for each in pushed.placed}


def test_a_bath_is_not_poured_away_weeks_later_than_it_could_be() -> None:
    dye, away, clean = step("dye", "dye", 60), step("away", "pour away", 10), step("clean", "c", 10)
    made = made_of(
        [(dye, 0), (away, 14 * A_DAY + 100), (clean, 16 * A_DAY)],
        Lag("dye", "away", lies=Lies.DONE_WITH),
        Lag("away", "clean"),
        holds=(Hold("pot", Need("pot"), "dye", "clean"),),
    )
    assert starts(made) == {"dye": 0, "away": 60, "clean": 70}


def test_nobody_is_wanted_twice_and_no_pot_has_two_baths() -> None:
    dye, other = step("dye", "dye", 60), step("other", "other", 30, Need("pot"))
    held = step("held", "held", 20)
    made = made_of(
        [(dye, 0), (held, 100), (other, 300)],
        holds=(Hold("pot", Need("pot"), "dye", "held"),),
    )
    assert starts(made) == {"dye": 0, "held": 60, "other": 80}


def test_fibre_is_not_made_to_wait_for_longer() -> None:
    """Wetted sooner, it would only lie there until it is wanted."""
    fill, wet, dye = step("fill", "f", 60), step("wet", "wet", 60), step("dye", "dye", 60)
    made = made_of([(fill, 0), (wet, 200), (dye, 260)], Lag("wet", "dye", lies=Lies.WETTED))
    pushed = starts(made)
    assert pushed["dye"] - pushed["wet"] == 60


def test_no_day_more_is_come_on_for_it() -> None:
    dye, clean = step("dye", "dye", 470), step("clean", "clean", 20)
    made = made_of([(dye, 0), (clean, 3 * A_DAY + 100)], Lag("dye", "clean"))
    assert starts(made) == {"dye": 0, "clean": A_DAY}


def test_the_order_of_the_text_is_kept_where_it_is_kept() -> None:
    cook = step("cook", "c", 300, how=LOOKED_AT, at=(5, 5), every=15)
    first, second = step("first", "f", 20), step("second", "s", 20)
    made = made_of([(cook, 0), (first, 310), (second, 400)], Lag("cook", "first", near=False))
    ordered = replace(made, work=replace(made.work, in_order=("cook", "first", "second")))
    assert starts(ordered) == {"cook": 0, "first": 300, "second": 320}
    assert starts(made)["second"] == 5


def test_what_is_proven_to_have_the_least_running_about_stays() -> None:
    made = made_of([(step("dye", "dye", 60), 0), (step("clean", "clean", 10, how=ENDS), 300)])
    proven = replace(made, least_running=True)
    assert as_soon_as_can_be(proven) is proven
    assert as_soon_as_can_be(made).finish < made.finish


@pytest.mark.parametrize("seed", range(150))
def test_any_plan_that_is_pushed_is_a_plan(seed: int) -> None:
    """Plans of small work, each shifted by chance to the right as far as it stays one."""
    work = made_by_chance(seed)
    try:
        made = plan(work)
    except (CannotPlan, NotKnown):
        return
    if isinstance(made, NoPlan):
        return
    chance, placed = random.Random(seed), {each.key: each for each in made.placed}
    for key in sorted(placed, key=lambda key: -placed[key].start):
        for later in sorted(chance.sample(range(1, 8), 3), reverse=True):
            place = placed[key]
            tried = placed | {key: Placed(key, place.start + later, place.end + later)}
            if not wrongs(made.work, {k: (p.start, p.end) for k, p in tried.items()}):
                placed = tried
                break
    late = replace(made, placed=tuple(placed[each.key] for each in made.placed))
    late = replace(late, least_running=False)
    pushed = as_soon_as_can_be(late)
    assert wrongs(made.work, {each.key: (each.start, each.end) for each in pushed.placed}) == []
    assert pushed.finish <= late.finish and pushed.days <= late.days
    assert all(pushed.at[key].start <= late.at[key].start for key in placed)
