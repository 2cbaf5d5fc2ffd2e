"""Rounds with a drying in each: one after the other, on the line as it is, begun in the hours."""

from __future__ import annotations

from datetime import datetime
from itertools import pairwise

import pytest
from verifying import wrongs

import procedure
from procedure.collection.opening_hours import Hours, days_of, times_of
from procedure.timetable import NoPlan, Timetable, agenda, fitted
from procedure.timetable.from_plans import work_of
from procedure.timetable.planned import Placed
from procedure.timetable.refused_words import refusal
from procedure.timetable.terms import Asked
from procedure.timetable.unplannable import CannotPlan

BEGINS = datetime(2099, 11, 28, 9)
TEXT = """procedure "Catechu in rounds"
fibre
  one: cotton cloth, 600 g, scoured
  two: cotton cloth, 600 g, scoured
equipment
  tub: plastic tub, 30 L, for dyeing only
  other: plastic tub, 30 L, for dyeing only
materials
  catechu: catechu
steps
  wet out one, two in other with water 15 L at 30 °C for 1 h
  bath: prepare in tub with water 15 L, catechu 60 g at cold
  repeat 3 times
    dip one in bath for 10 min
    dry one{HOW}
    dip two in bath for 10 min
    dry two{HOW}
  rinse one in other with water 15 L
  dry one
  rinse two in other with water 15 L
  dry two
  discard bath to "foul drain"
"""
SOON = " for 6 h"


def _made(line: int | None, hours: str = "9:00-18:00", days: str = "daily") -> Timetable:
    found = _fitted(line, hours, days)
    assert isinstance(found, Timetable)
    times = {each.key: (each.start, each.end) for each in found.placed}
    assert wrongs(found.work, times) == []
    return found


def _fitted(line: int | None, hours: str, days: str, how: str = SOON) -> Timetable | NoPlan:
    plan = procedure.read(TEXT.replace("{HOW}", how), "rounds.dye")
    opening = Hours(times_of(hours), *days_of(days))
    return fitted(work_of([plan], Asked(BEGINS, opening, hours, line=line)).work).made


def _of(made: Timetable, verb: str, lot: str) -> list[Placed]:
    known = made.work.activity
    found = [
        each
        for each in made.placed
        if known[each.key].name.startswith(f"{verb} ") and known[each.key].lots == (lot,)
    ]
    return sorted(found, key=lambda each: each.start)


def _open(made: Timetable, minute: int) -> bool:
    return any(w.opens <= minute <= w.closes for w in made.work.windows)


@pytest.mark.parametrize("hours", ["9:00-18:00", "10:00-16:00", "9:00-12:00,13:00-17:00"])
@pytest.mark.parametrize("line", [None, 1200, 600])
def test_each_round_dries_before_the_next_dip_and_is_hung_up_while_somebody_is_there(
    hours: str, line: int | None
) -> None:
    made = _made(line, hours)
    for lot in ("one", "two"):
        dips, dryings = _of(made, "dip", lot), _of(made, "dry", lot)
        assert len(dips) == 3 and len(dryings) == 4, "three rounds, and after the rinse"
        for dip, drying in zip(dips, dryings, strict=False):
            assert 0 <= drying.start - dip.end <= 120, "clean or not, it is hung up at once"
            assert drying.end - drying.start >= 6 * 60
            assert _open(made, drying.start)
        for drying, dip in zip(dryings, dips[1:], strict=False):
            assert dip.start >= drying.end, "the next dip is of what is dry"
            assert _open(made, dip.start) and _open(made, dip.end)


@pytest.mark.parametrize(("line", "at_once"), [(None, 1200), (1200, 1200), (600, 600), (700, 600)])
def test_no_more_hangs_on_the_line_than_it_holds(line: int | None, at_once: int) -> None:
    """Counted from the times alone: 600 g of each lot hang from when it is hung up until dry."""
    made = _made(line)
    hung = [each for lot in ("one", "two") for each in _of(made, "dry", lot)]
    most = max(600 * sum(each.start <= other.start < each.end for each in hung) for other in hung)
    assert most <= at_once


def test_a_small_line_takes_longer() -> None:
    assert _made(600).finish > _made(1200).finish


def test_rounds_on_weekends_alone_dry_over_the_night_or_the_week() -> None:
    made = _made(1200, days="sat,sun")
    days = [
        next(w.day for w in made.work.windows if w.opens <= each.start <= w.closes)
        for each in _of(made, "dip", "one")
    ]
    assert all(day % 7 in (0, 1) for day in days) and days == sorted(days)
    for drying, dip in pairwise(
        sorted([*_of(made, "dip", "one"), *_of(made, "dry", "one")], key=lambda each: each.start)
    ):
        assert dip.start >= drying.end


def test_a_line_that_holds_too_little_for_one_lot_is_refused_in_words() -> None:
    with pytest.raises(CannotPlan, match="line"):
        _fitted(500, "9:00-18:00", "daily")
    made = _fitted(1200, "12:00-12:05", "daily")
    assert isinstance(made, NoPlan) and "the place is open" in refusal(made)


def test_what_hangs_to_dry_or_is_dry_does_not_wait_wet() -> None:
    """Its bath waits from one dip to the next, and the fibre is dry meanwhile."""
    assert [lot for day in agenda(_made(600)).days for lot, _ in day.wet] == []


def test_a_bath_that_is_no_vat_loses_no_reducer() -> None:
    assert not any("reducer" in lag.why for lag in _made(600).work.lags)
