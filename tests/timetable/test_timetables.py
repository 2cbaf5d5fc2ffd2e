"""Plans of the Fellside Dye Circle: sound, as short as can be, and explained."""

from __future__ import annotations

import builtins
import time
from dataclasses import replace
from itertools import pairwise
from typing import Any

import pytest
from example_work import day_of_eight, gold, weekend
from verifying import wrongs

from procedure.timetable import NoPlan, Timetable, Work, agenda, plan, reliefs
from procedure.timetable.by_day import report
from procedure.timetable.first_plan import first_plan
from procedure.timetable.giving import free_times, rooms
from procedure.timetable.planned import HowFound
from procedure.timetable.planned_words import how_good, saving
from procedure.timetable.refused_words import refusal
from procedure.timetable.shared_out import rows
from procedure.timetable.unplannable import CannotPlan
from procedure.timetable.work import (
    HANDS,
    Activity,
    Attendance,
    Done,
    Lag,
    Lasting,
    Need,
    Resource,
    Window,
)


def planned(work: Work) -> Timetable:
    made = plan(work)
    assert isinstance(made, Timetable)
    assert wrongs(work, {each.key: (each.start, each.end) for each in made.placed}) == []
    return made


def unfit(work: Work) -> NoPlan:
    made = plan(work)
    assert isinstance(made, NoPlan)
    return made


@pytest.fixture(scope="module")
def two_in_a_kettle() -> Timetable:
    return planned(weekend(pots=("kettle", "kettle"), rings=2))


@pytest.fixture(scope="module")
def eight() -> Timetable:
    return planned(day_of_eight())


@pytest.mark.parametrize(
    "work",
    [
        weekend(),
        weekend(pots=("kettle", "pot")),
        weekend(hours="8:00-12:00, 13:00-19:00"),
        weekend(pots=("kettle", "pot"), hands=2, rings=2),
        weekend(begins="2026-12-01 14:00", days="weekdays"),
    ],
)
def test_a_weekend_is_planned_soundly_and_the_first_plan_comes_at_once(work: Work) -> None:
    started = time.process_time()
    first = first_plan(work)
    assert time.process_time() - started < 1
    assert first is not None
    assert wrongs(work, {each.key: (each.start, each.end) for each in first.placed}) == []
    made = planned(work)
    assert made.shortest
    assert made.finish <= first.finish


def test_the_day_of_eight_is_proven_shortest(eight: Timetable) -> None:
    assert len(eight.work.activities) >= 80
    assert eight.shortest
    first = first_plan(eight.work)
    assert first is not None
    assert wrongs(eight.work, {each.key: (each.start, each.end) for each in first.placed}) == []


def test_the_same_work_gives_the_same_plan() -> None:
    assert planned(weekend(pots=("kettle", "pot"))) == planned(weekend(pots=("kettle", "pot")))


def test_a_second_kettle_is_what_is_wanting(two_in_a_kettle: Timetable) -> None:
    found = {each.resource.key: each for each in reliefs(two_in_a_kettle)}
    kettle = found["kettle"]
    assert kettle.proven and kettle.least > 24 * 60
    assert saving(kettle).startswith("A second kettle would save 47")
    again = planned(weekend(pots=("kettle", "kettle"), rings=2, kettles=2))
    assert two_in_a_kettle.finish - again.finish == kettle.least
    assert saving(found["hands"]) == "One more person would save nothing."
    assert "watch" not in found and "power" not in found


def test_too_early_a_finish_is_refused_with_the_steps_and_what_could_be() -> None:
    found = unfit(weekend(finish_by="2026-11-29 18:00"))
    assert found.smallest and found.has("finish")
    said = refusal(found)
    assert "cannot be over by 18:00 on Sunday 29 November" in said
    assert "“dry the yarn” takes 24\u202fh (line 24)" in said
    assert said.count("gold 1.dye") == 1
    assert "09:25 on Tuesday 1 December" in said
    # Without any one of the reason there is a plan: it is the smallest.
    keys = {each.key for each in found.activities}
    for key in keys:
        work = found.work
        rest = replace(
            work,
            activities=tuple(each for each in work.activities if each.key != key),
            lags=tuple(lag for lag in work.lags if key not in (lag.before, lag.after)),
            holds=tuple(hold for hold in work.holds if key not in (hold.first, hold.last)),
        )
        only = replace(
            rest,
            activities=tuple(each for each in rest.activities if each.key in keys),
            lags=tuple(lag for lag in rest.lags if {lag.before, lag.after} <= keys),
            holds=(),
        )
        assert isinstance(plan(only), Timetable)


def test_a_night_that_is_not_there_is_the_reason() -> None:
    found = unfit(weekend(days="2026-11-28"))
    said = refusal(found)
    assert "“let the alum bath cool overnight” goes on overnight, from the evening to" in said
    assert len(found.activities) == 1, "one night is reason enough"
    assert "the place is open from 09:00 to 18:00 on Saturday 28 November only" in said
    assert "If the place were open every day it could be over at 09:25 on Tuesday" in said
    found = unfit(weekend(days="2026-11-28, 2026-11-30"))
    assert found.has("overnight")
    assert "on Saturday 28 November and Monday 30 November." in refusal(found)


def test_a_step_longer_than_the_day_is_the_reason() -> None:
    long = Activity("stir", "stir the vat", Lasting(600, 600))
    work = replace(weekend(), activities=(long,), lags=(), holds=())
    found = unfit(work)
    assert [each.key for each in found.activities] == ["stir"]
    assert "“stir the vat” takes 10\u202fh and may not go on while the place is closed" in refusal(
        found
    )


def test_a_greatest_wait_that_cannot_be_kept_is_the_reason() -> None:
    a, b = Activity("a", "dip", Lasting(10, 10)), Activity("b", "rinse", Lasting(10, 10))
    lags = (Lag("a", "b", 30), Lag("a", "b", 0, 20, why="the colour is not fast yet"))
    found = unfit(replace(weekend(), activities=(a, b), lags=lags, holds=()))
    assert "“rinse” has to begin within 20\u202fmin of the end of “dip”, because the colour" in (
        refusal(found)
    )


def test_what_has_happened_stays_and_the_rest_is_planned_again() -> None:
    before = planned(weekend())
    late = before.at["gold 1:mordant"].end + 90
    done = tuple(
        Done(key, before.at[key].start, before.at[key].end)
        for key in ("gold 1:wet", "gold 1:alum", "gold 1:mordant up")
    )
    done = (*done, Done("gold 1:mordant", before.at["gold 1:mordant"].start, late))
    again = planned(replace(before.work, done=done, now=late))
    assert again.at["gold 1:wet"] == before.at["gold 1:wet"]
    assert again.at["gold 1:cool alum"].start == late


def test_what_is_going_on_is_planned_to_its_end() -> None:
    before = planned(weekend())
    began = before.at["gold 1:mordant"].start
    done = tuple(
        Done(key, before.at[key].start, before.at[key].end)
        for key in ("gold 1:wet", "gold 1:alum", "gold 1:mordant up")
    )
    again = planned(
        replace(before.work, done=(*done, Done("gold 1:mordant", began)), now=began + 20)
    )
    assert again.at["gold 1:mordant"].end == began + 60
    assert first_plan(again.work) is not None


def test_fibre_that_has_waited_too_long_already_is_said() -> None:
    before = planned(weekend())
    keys = ("wet", "alum", "mordant up", "mordant", "cool alum")
    done = tuple(
        Done(f"gold 1:{key}", before.at[f"gold 1:{key}"].start, before.at[f"gold 1:{key}"].end)
        for key in keys
    )
    found = unfit(replace(before.work, done=done, now=(done[-1].end or 0) + 300))
    assert "rinse the yarn" in refusal(found) and "the fibre dries out" in refusal(found)


def test_what_can_give_can_be_given_and_no_minute_more(eight: Timetable) -> None:
    times = {each.key: (each.start, each.end) for each in eight.placed}
    for room in rooms(eight):
        start, end = times[room.key]
        for later in {1, room.later // 2, room.later}:
            if 0 < later <= room.later:
                moved = {**times, room.key: (start + later, end + later)}
                assert wrongs(eight.work, moved) == [], (room, later)
        beyond = {**times, room.key: (start + room.later + 1, end + room.later + 1)}
        too_long = max(b for _, b in beyond.values()) > eight.finish
        assert too_long or wrongs(eight.work, beyond), room


def test_a_step_may_be_over_sooner_by_what_it_was_planned_for_beyond_its_least(
    eight: Timetable,
) -> None:
    some = [room for room in rooms(eight) if room.shorter]
    assert some
    for room in some:
        place, lasting = eight.at[room.key], eight.work.activity[room.key].lasting
        assert place.end - place.start - room.shorter >= lasting.least, room


def test_each_hand_is_shared_out_and_nobody_does_two_things_at_once(eight: Timetable) -> None:
    for row in rows(eight):
        ordered = sorted(row.bars, key=lambda bar: (bar.start, bar.end))
        for one, other in pairwise(ordered):
            assert one.end <= other.start, row.name
    told = {
        (entry.key, entry.minute): entry.who
        for day in agenda(eight).days
        for entry in day.entries
        if entry.hands_until > entry.minute
    }
    for piece in eight.hands_on:
        wanted = sum(need.amount for need in eight.work.activity[piece.key].hands)
        assert len(told[piece.key, piece.start]) == wanted


def test_free_times_hold_no_work_and_say_what_may_not_be_left(two_in_a_kettle: Timetable) -> None:
    found = free_times(two_in_a_kettle)
    assert found
    for free in found:
        assert not any(
            piece.start < free.end and free.start < piece.end for piece in two_in_a_kettle.hands_on
        )
        for key in free.watched:
            assert "overnight" not in two_in_a_kettle.work.activity[key].name
    said = report(agenda(two_in_a_kettle))
    assert "Free from 10:25 to 11:05; you may leave." in said
    assert "stay near for “dye the yarn in the tansy bath”" in said


def test_a_pause_is_parted_where_one_may_leave() -> None:
    """A bath is too hot to be alone for the first hour of its cooling, and then it is not."""
    cool = Activity(
        "cool",
        "cool the bath",
        Lasting(180, 180),
        attendance=Attendance.ENDS,
        night=True,
        hot_for=60,
    )
    stir = Activity("stir", "stir the bath", Lasting(20, 20))
    dye = Activity("dye", "dye the yarn", Lasting(30, 30))
    lags = (Lag("stir", "cool", most=0), Lag("cool", "dye", most=0))
    hands = Resource(HANDS, "pair of hands", "people", 1, ("you",))
    work = Work((stir, cool, dye), lags, (), (hands,), (Window(0, 540),))
    made = plan(work)
    assert isinstance(made, Timetable)
    told = [(each.start, each.end, bool(each.watched)) for each in free_times(made)]
    assert told == [(20, 80, True), (80, 200, False)]


def test_without_the_solver_the_first_plan_is_given_and_that_is_said(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    real = builtins.__import__

    def missing(name: str, *args: Any, **kwargs: Any) -> Any:
        if name.startswith("ortools"):
            raise ImportError(name)
        return real(name, *args, **kwargs)

    monkeypatch.setattr(builtins, "__import__", missing)
    made = planned(weekend(pots=("kettle", "pot")))
    assert made.method is HowFound.LIST_RULE
    assert not made.searched
    assert "the solver is missing" in how_good(made)
    assert made.bound <= made.finish


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"activities": ()}, "nothing to plan"),
        ({"windows": ()}, "never open"),
        ({"windows": (Window(5, 5),)}, "closes before it opens"),
        ({"resources": (Resource("hands", "person", "people", 0),)}, "nobody is there"),
        ({"resources": (Resource("hands", "person", "people", 1),)}, "the workshop does not have"),
        ({"lags": (*gold("gold 1")[1], Lag("gold 1:dry", "gold 1:wet"))}, "round in a circle"),
        ({"lags": (Lag("gold 1:dry", "gold 1:dry"),)}, "come before itself"),
        ({"lags": (Lag("gold 1:dry", "elsewhere"),)}, "no step of this work"),
        ({"done": (Done("elsewhere", 0),)}, "no step is called that"),
        ({"done": (Done("gold 1:dry", 9, 5),)}, "ended before it began"),
    ],
)
def test_work_that_cannot_be_planned_as_it_is_given_is_refused_in_a_sentence(
    changes: dict[str, Any], sentence: str
) -> None:
    with pytest.raises(CannotPlan, match=sentence):
        plan(replace(weekend(), **changes))


def test_a_thousand_steps_are_too_many() -> None:
    many = tuple(Activity(f"{i}", f"stir for the {i}th time", Lasting(1, 1)) for i in range(1000))
    with pytest.raises(CannotPlan, match="1,000 steps are too many"):
        plan(replace(weekend(), activities=many, lags=(), holds=()))


def test_more_than_there_is_of_something_is_said_with_both_amounts() -> None:
    heavy = Activity("dry", "dry the fleece", Lasting(60, 60), (Need("line", 5),))
    with pytest.raises(CannotPlan, match=r"hangs up 5\u202fkg at once, .* room for 3\u202fkg"):
        plan(replace(weekend(), activities=(heavy,), lags=(), holds=()))
