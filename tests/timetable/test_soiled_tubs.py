"""Tubs that several share: nothing comes into the iron that was rinsed out in one before it."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from functools import cache

import pytest
from verifying import wrongs
from verifying_plans import soiled

import procedure
from procedure.collection.opening_hours import Hours, times_of
from procedure.pipeline import Judged
from procedure.timetable import Timetable, agenda, fitted
from procedure.timetable.by_day import report
from procedure.timetable.from_plans import work_of
from procedure.timetable.soiled_tubs import is_soiled, ways_to_keep_clean
from procedure.timetable.terms import Asked
from procedure.timetable.work import Done

SATURDAY = datetime(2099, 11, 28, 9)
HEAD = """procedure "{0} skein"
  by "Fellside Dye Circle"
  place ventilated
  wearing gloves, eye protection

fibre
  {0}: wool yarn, 100 g, scoured

equipment
  pan-{0}: stainless steel pot, 10 L, lidded, for dyeing only
  ironpot: stainless steel pot, 8 L, lidded, for dyeing only
  tub: plastic tub, 20 L, for dyeing only
  hob: hotplate, 2 kW

materials
  alum: potassium alum
  weld: weld, dried
  metal: {1}

steps
  wet out {0} in tub with water 5 L at 30 °C for 1 h
  dye-bath: prepare in pan-{0} with water 5 L, weld 100 g, alum 12 g
  dye {0} in dye-bath from 40 °C to 70 °C over 30 min for 30 min
  lift {0}
"""
SADDENED = """  metal-bath: prepare in ironpot with water 5 L, metal 2 g at 40 °C
  sadden {0} in metal-bath at 40 °C for 10 min
  lift {0}
"""
END = """  rinse {0} in tub with water 5 L at 30 °C until "the water runs clear"
  dry {0}
  discard dye-bath to "foul drain"
"""


def read(name: str, metal: str = "", after: str = "") -> Judged:
    text = HEAD + (SADDENED if metal else "") + END + after
    return procedure.read(text.format(name, metal or "ferrous sulphate"), f"{name}.dye")


@cache
def planned(metal: str, hands: int = 2, after: str = "") -> tuple[list[Judged], Timetable]:
    plans = [read("moss", metal, after), read("lemon")]
    people = tuple(f"person {i + 1}" for i in range(hands))
    asked = Asked(SATURDAY, Hours(times_of("9-18")), "9-18", hands=people)
    made = fitted(work_of(plans, asked).work).made
    assert isinstance(made, Timetable)
    assert wrongs(made.work, times_of_plan(made)) == []
    return plans, made


def times_of_plan(made: Timetable) -> dict[str, tuple[int, int]]:
    return {each.key: (each.start, each.end) for each in made.placed}


@pytest.mark.parametrize("hands", [1, 2])
def test_no_fibre_comes_into_the_iron_of_another_procedure(hands: int) -> None:
    plans, made = planned("ferrous sulphate", hands)
    assert soiled(plans, made.work, times_of_plan(made)) == []


def test_the_verifier_sees_it_where_the_order_is_the_other_way_round() -> None:
    plans, made = planned("ferrous sulphate")
    times = times_of_plan(made)
    of_moss = next(a.key for a in made.work.activities if a.name == "rinse moss in tub")
    times[of_moss] = (-10, 0)
    assert soiled(plans, made.work, times) != []


def test_it_is_said_why_the_iron_comes_last_or_the_tub_is_cleaned() -> None:
    _, made = planned("ferrous sulphate")
    said = " ".join(report(agenda(made)).split())
    last = "rinses out iron in the tub" in said
    cleaned = "Iron was rinsed out of moss in it" in said
    assert last or cleaned
    names = [each.name for each in made.work.activities]
    assert ("clean tub" in names) == cleaned


@pytest.mark.parametrize("metal", ["copper sulphate", "ferrous sulphate"])
def test_what_shifts_a_colour_is_not_met_either(metal: str) -> None:
    _, made = planned(metal)
    assert any(use.leaves for use in made.work.waters)
    rinses = {each.name: made.at[each.key] for each in made.work.activities}
    moss, lemon = rinses["rinse moss in tub"], rinses["rinse lemon in tub"]
    if moss.start < lemon.start:
        assert moss.end <= rinses["clean tub"].start < lemon.start


def test_alum_harms_nothing() -> None:
    plans = [read("moss"), read("lemon")]
    asked = Asked(SATURDAY, Hours(times_of("9-18")), "9-18")
    work = work_of(plans, asked).work
    assert not any(use.leaves for use in work.waters)
    made = fitted(work).made
    assert isinstance(made, Timetable) and not made.work.between


def test_a_cleaning_that_is_written_will_do() -> None:
    plans, made = planned("ferrous sulphate", after="  clean tub\n")
    assert soiled(plans, made.work, times_of_plan(made)) == []


def test_iron_that_has_been_rinsed_out_already_is_cleaned_away() -> None:
    plans = [read("moss", "ferrous sulphate"), read("lemon")]
    asked = Asked(SATURDAY, Hours(times_of("9-18")), "9-18")
    made = fitted(work_of(plans, asked).work).made
    assert isinstance(made, Timetable)
    key = {each.name: each.key for each in made.work.activities}
    ends = made.at[key["rinse moss in tub"]].end
    done = tuple(
        Done(p.key, p.start, p.end) for p in made.placed if p.end <= ends and "lemon" not in p.key
    )
    rest = replace(made.work, done=done, now=ends)
    again = fitted(rest).made
    assert isinstance(again, Timetable)
    assert soiled(plans, again.work, times_of_plan(again)) == []
    assert not is_soiled(again)


def test_there_are_two_ways_out_and_the_sooner_is_taken() -> None:
    _, made = planned("ferrous sulphate", 1)
    key = {each.name: each.key for each in made.work.activities}
    moss, lemon = key["rinse moss in tub"], key["rinse lemon in tub"]
    plain = work_of(
        [read("moss", "ferrous sulphate"), read("lemon")],
        Asked(SATURDAY, Hours(times_of("9-18")), "9-18"),
    ).work
    known = fitted(replace(plain, waters=())).made
    assert isinstance(known, Timetable)
    at = dict(known.at)
    at[moss] = replace(at[moss], start=0, end=15)
    swapped = replace(known, work=plain, placed=tuple(at.values()))
    assert is_soiled(swapped)
    last, cleaned = ways_to_keep_clean(swapped)
    assert any((lag.before, lag.after) == (lemon, moss) for lag in last.lags)
    assert "clean tub" in [each.name for each in cleaned.activities]


def test_a_pot_that_held_iron_is_cleaned_before_another_procedure_takes_it() -> None:
    plans = [read("moss", "ferrous sulphate", '  discard metal-bath to "foul drain"\n')]
    plans.append(read("olive", "ferrous sulphate", '  discard metal-bath to "foul drain"\n'))
    asked = Asked(SATURDAY, Hours(times_of("9-18")), "9-18")
    work = work_of(plans, asked).work
    poured = [each for each in work.activities if each.name == "discard metal-bath"]
    assert any("Then clean ironpot" in " ".join(each.cautions) for each in poured)
