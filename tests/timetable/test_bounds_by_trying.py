"""What is proven of lengths and days is true of small work, of which every plan is tried.

A bound that is one minute too high, or one day, would make of a plan that is not the best one that
is said to be proven; so each bound is held against all plans that there are, and the search is
asked again with it.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from small_work import fewest_days_by_trying, made_by_chance, shortest_by_trying
from verifying import wrongs

from procedure.timetable import Timetable
from procedure.timetable.bounding import known_no_shorter, least_length
from procedure.timetable.calming import fewest_days, least_days
from procedure.timetable.first_plan import first_plan
from procedure.timetable.relief import reliefs, with_one_more
from procedure.timetable.solving import Aim, best, shorten, soon_shortened
from procedure.timetable.work import Activity, Lag, Lasting, Window, Work

UNTIL = 20
THREE_DAYS = (Window(0, 4), Window(6, 10, 1), Window(12, 17, 2))


def _of_three_days(seed: int) -> Work:
    return replace(made_by_chance(seed), windows=THREE_DAYS, finish_by=None)


def _planned(work: Work, aim: Aim = Aim.LENGTH) -> Timetable | None:
    return best(work, first_plan(work), 10.0, aim)


@pytest.mark.parametrize("hundred", (5, pytest.param(6, marks=pytest.mark.exhaustive)))
def test_on_no_fewer_days_than_is_proven(hundred: int) -> None:
    """By the spans of what is done by hand, and by the search; and a plan is on so few."""
    several = 0
    for seed in range(hundred * 100, hundred * 100 + 100):
        work = _of_three_days(seed)
        made = _planned(work)
        if made is None or made.finish > UNTIL:
            continue
        assert made.shortest, seed
        fewest = fewest_days_by_trying(work, made.finish)
        assert fewest is not None, seed
        found = fewest_days(made, 10.0)
        assert found.status == "optimal", seed
        known = replace(made, placed=found.placed or made.placed)
        assert known.days == fewest, seed
        assert least_days(work, made.finish, 10.0) == fewest, seed
        by_days = _planned(work, Aim.DAYS)
        assert by_days is not None and by_days.fewest_days, seed
        assert (by_days.finish, by_days.days) == (made.finish, fewest), seed
        times = {each.key: (each.start, each.end) for each in by_days.placed}
        assert wrongs(work, times) == [], seed
        several += fewest > 1
    assert several >= 10


@pytest.mark.parametrize("hundred", (7, pytest.param(8, marks=pytest.mark.exhaustive)))
def test_what_one_more_saves_is_as_is_said(hundred: int) -> None:
    """The bound that is kept of work with one more is none too high for the next search of it."""
    told = saved = 0
    for seed in range(hundred * 100, hundred * 100 + 100):
        work = made_by_chance(seed)
        made = _planned(work)
        if made is None:
            continue
        for relief in reliefs(made, 10.0):
            told += 1
            more, _ = with_one_more(work, relief.resource)
            shortest = shortest_by_trying(more, made.finish)
            assert shortest is not None, seed
            assert relief.least <= made.finish - shortest <= relief.most, (seed, relief)
            saved += shortest < made.finish
            quick = soon_shortened(more, 0.01, replace(made, work=more))
            known_no_shorter(more, quick.bound)
            assert least_length(more) <= shortest, seed
            again = shorten(more, 10.0, first_plan(more))
            assert (again.status, again.value) == ("optimal", shortest), seed
    assert told >= 20 and saved >= 3


@pytest.mark.parametrize("hundred", (9, pytest.param(10, marks=pytest.mark.exhaustive)))
def test_work_with_more_in_it_is_over_no_sooner_than_is_known(hundred: int) -> None:
    """As a vat that is warmed again is more work: the bound of the work without holds of it."""
    as_short = 0
    for seed in range(hundred * 100, hundred * 100 + 100):
        work = made_by_chance(seed)
        if len(work.activities) > 3:
            continue
        made = _planned(work)
        if made is None:
            continue
        before, after = work.activities[0].key, work.activities[-1].key
        warmed = Activity("more", "more", Lasting(1, 1))
        lags = (Lag(before, "more"), Lag("more", after))
        more = replace(
            work, activities=(*work.activities, warmed), lags=(*work.lags, *lags), finish_by=None
        )
        shortest = shortest_by_trying(more, UNTIL)
        known_no_shorter(more, made.bound)
        found = shorten(more, 10.0, first_plan(more))
        if shortest is None:
            assert found.status == "impossible" or found.value > UNTIL, seed
            continue
        assert least_length(more) <= shortest, seed
        assert (found.status, found.value) == ("optimal", shortest), seed
        as_short += shortest == made.finish
    assert as_short >= 3
