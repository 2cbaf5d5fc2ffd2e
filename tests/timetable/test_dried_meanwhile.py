"""Fibre that waits for days is hung up and wetted out again, and the plan has time for that."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from functools import cache
from pathlib import Path

import pytest
from papers import METRIC
from verifying import wrongs

import procedure
from procedure.collection.opening_hours import Hours, days_of, times_of
from procedure.handout.bench import bench
from procedure.timetable import Timetable, agenda, fitted, reliefs
from procedure.timetable.by_day import report
from procedure.timetable.days_in_words import day_in_words
from procedure.timetable.dried_meanwhile import WETTED_AGAIN, with_drying
from procedure.timetable.from_plans import work_of
from procedure.timetable.planned_words import how_good
from procedure.timetable.planning import NO_TIME_TO_DRY
from procedure.timetable.room_on_line import HUNG_UP
from procedure.timetable.solving import EFFORT
from procedure.timetable.taking import time_taken
from procedure.timetable.terms import Asked
from procedure.timetable.usual import usual

EXAMPLES = Path(__file__).parents[2] / "examples"
SATURDAY = datetime(2099, 11, 28, 10)
_A_DAY = 24 * 60


@cache
def planned(
    name: str,
    hours: str = "10-16",
    days: str = "sat,sun",
    pots: tuple[tuple[str, int], ...] = (),
    effort: float = EFFORT,
) -> Timetable:
    opened = Hours(times_of(hours), *days_of(days))
    asked = Asked(SATURDAY, opened, f"{hours}, {days}", pots=pots)
    work = work_of([procedure.load(EXAMPLES / f"{name}.dye")], asked).work
    made = fitted(work, effort).made
    assert isinstance(made, Timetable)
    assert wrongs(made.work, {each.key: (each.start, each.end) for each in made.placed}) == []
    return made


def asked_for(hours: Hours) -> Asked:
    return Asked(SATURDAY, hours, "as they are")


def key_of(made: Timetable, name: str) -> str:
    return next(each.key for each in made.work.activities if each.name == name)


def test_what_waits_for_a_week_is_hung_up_at_once_and_wetted_out_just_before() -> None:
    made = planned("goldenrod-and-olive")
    rinsed, dyed = key_of(made, "rinse yarn in tub"), key_of(made, "dye yarn in yellow-bath")
    hung, wetted = key_of(made, "hang yarn up to dry"), key_of(made, "wet yarn out again in tub")
    assert (hung, wetted) == (rinsed + HUNG_UP, dyed + WETTED_AGAIN)
    assert 0 <= made.at[hung].start - made.at[rinsed].end <= 120
    assert 0 <= made.at[dyed].start - made.at[wetted].end <= 30
    assert made.at[wetted].end - made.at[wetted].start >= 60
    assert made.at[wetted].start - made.at[hung].end > _A_DAY
    assert {piece.key for piece in made.hands_on} >= {hung, wetted}, "somebody does it"


def test_it_is_wetted_out_in_a_tub_that_nothing_else_is_in() -> None:
    made = planned("goldenrod-and-olive")
    wetted = [each for each in made.work.activities if each.key.endswith(WETTED_AGAIN)]
    assert wetted
    for each in wetted:
        (need,) = each.needs
        assert need.resource == "pot tub"
        place = made.at[each.key]
        others = [
            made.at[other.key]
            for other in made.work.activities
            if other is not each and need in other.needs
        ]
        assert others and all(o.end <= place.start or place.end <= o.start for o in others)


def test_it_is_on_the_list_of_its_day_and_told_once() -> None:
    made = planned("goldenrod-and-olive")
    said = " ".join(report(agenda(made)).split())
    assert "Hang yarn up to dry, until " in said
    assert "Wet yarn out again in tub: 5 min, then it goes on by itself" in said
    assert "wetted out again in time" not in said


def test_what_was_rinsed_before_it_was_split_is_not_rinsed_again() -> None:
    made = planned("goldenrod-and-olive")
    names = [each.name for each in made.work.activities]
    assert "hang olive and yellow up to dry" in names
    assert not any(name.startswith("rinse olive and yellow and hang") for name in names)


def test_nothing_is_hung_up_where_the_days_follow_one_another() -> None:
    made = planned("goldenrod-and-olive", "9-18", "daily")
    assert not made.work.between and made.undried is None


def test_one_more_of_something_is_asked_of_the_work_as_it_is_written() -> None:
    made = planned("goldenrod-and-olive")
    assert made.undried is not None and made.undried.finish <= made.finish
    assert all(each.finish <= made.undried.finish for each in reliefs(made))


def test_where_there_is_no_time_for_it_that_is_said() -> None:
    first = planned("goldenrod-and-olive").undried
    assert first is not None
    hours = Hours(times_of("10-16"), *days_of("sat,sun"))
    work = work_of([procedure.load(EXAMPLES / "goldenrod-and-olive.dye")], asked_for(hours)).work
    made = fitted(replace(work, finish_by=first.finish)).made
    assert isinstance(made, Timetable)
    assert not made.work.between
    assert NO_TIME_TO_DRY in made.work.notes
    assert "wetted out again in time" in " ".join(report(agenda(made)).split())


@pytest.mark.parametrize("briefly", [False, True])
def test_it_may_be_wetted_out_for_as_short_as_will_do(briefly: bool) -> None:
    first = planned("goldenrod-and-olive").undried
    assert first is not None
    work = with_drying(first, briefly)
    assert work is not None
    wetted = [each for each in work.activities if each.key.endswith(WETTED_AGAIN)]
    minutes = usual("wet").low if briefly else usual("wet").high
    assert wetted and all(each.lasting.most == minutes for each in wetted)


def test_a_handout_for_a_workshop_open_at_weekends_counts_it(tmp_path: Path) -> None:
    text = (EXAMPLES / "goldenrod-and-olive.dye").read_text(encoding="utf-8")
    (tmp_path / "olive.dye").write_text(text, encoding="utf-8")
    hours = '[workshop]\nhours = "10:00-16:00"\ndays = "sat, sun"\n'
    (tmp_path / "vatwright.toml").write_text(hours, encoding="utf-8")
    taken = time_taken(procedure.load(tmp_path / "olive.dye"))
    assert not isinstance(taken, str)
    daily = time_taken(procedure.load(EXAMPLES / "goldenrod-and-olive.dye"))
    assert not isinstance(daily, str)
    assert taken.hands_on > daily.hands_on


@pytest.mark.parametrize("name", ["weld-yellow-wool", "tansy-gold-and-moss", "raven-grey"])
def test_weekends_have_a_sound_plan(name: str) -> None:
    asked = Asked(SATURDAY, Hours(times_of("9-18"), *days_of("sat,sun")), "9-18, sat,sun")
    made = fitted(work_of([procedure.load(EXAMPLES / f"{name}.dye")], asked).work).made
    assert isinstance(made, Timetable)
    assert wrongs(made.work, {each.key: (each.start, each.end) for each in made.placed}) == []


def test_what_waits_to_be_dried_is_not_wetted_out_for_that() -> None:
    text = """procedure "Two lots, dried together"
fibre
  early: wool yarn, 100 g, scoured
  late: wool yarn, 100 g, scoured
equipment
  pot: stainless steel pot, 10 L, lidded, for dyeing only
  tub: plastic tub, 10 L, for dyeing only
materials
  alum: alum
  weld: weld, dried
steps
  wet out early, late in tub with water 6 L at 30 °C for 1 h
  alum-bath: prepare in pot with water 6 L, alum 12 % of early
  mordant early in alum-bath at 80 °C for 1 h
  cool alum-bath overnight covered
  rinse early in tub with water 6 L
  discard alum-bath to "foul drain"
  clean pot
  weld-bath: prepare in pot with water 6 L, weld 50 g
  simmer weld-bath at 80 °C for 1 h
  dye late in weld-bath at 80 °C for 2 h
  rinse late in tub with water 6 L
  dry early, late
  discard weld-bath to "foul drain"
"""
    plan = procedure.read(text, "two.dye")
    hours = Hours(times_of("10-16"), *days_of("sat,sun"))
    made = fitted(work_of([plan], Asked(SATURDAY, hours, "10-16, sat,sun")).work).made
    assert isinstance(made, Timetable)
    said = " ".join(report(agenda(made)).split())
    assert "Hang up to dry then: early. " in said
    assert "early; wetted out again" not in said


def test_the_papers_say_when_it_is_hung_up_and_wetted_out(tmp_path: Path) -> None:
    """Nobody has written these steps, so no number tells of them."""
    text = (EXAMPLES / "goldenrod-and-olive.dye").read_text(encoding="utf-8")
    (tmp_path / "olive.dye").write_text(text, encoding="utf-8")
    hours = '[workshop]\nhours = "10:00-16:00"\ndays = "sat, sun"\n'
    (tmp_path / "vatwright.toml").write_text(hours, encoding="utf-8")
    plan = procedure.load(tmp_path / "olive.dye")
    taken = time_taken(plan)
    assert not isinstance(taken, str)
    done = [one for day in taken.days for one in day.between]
    assert [one.what for one in done].count("hang {} up to dry") == 2
    assert "wet {} out again in the tub" in {one.what for one in done}
    assert not any("iron-tub" in one.what for one in done), "nothing is wetted where iron is"
    told = " ".join(day_in_words(taken, day, {}, {}) for day in taken.days)
    assert "hang the yarn up to dry" in told and "wet the yarn out again" in told
    assert "wet the yarn out again" in " ".join(bench(plan, METRIC).days)


IN_A_BATH = """procedure "Two lots, and one of them in the alum"
  by "Fellside Dye Circle"
  place outdoors
  wearing gloves
fibre
  yarn: wool yarn, 200 g, scoured
equipment
  pot: stainless steel pot, 10 L, lidded, for dyeing only
  tub: plastic tub, 12 L, for dyeing only
materials
  alum: potassium alum
  onion: onion skins, dried
steps
  wet out yarn in tub with water 6 L at 30 °C for 1 h
  split yarn into a 100 g, b 100 g
  alum-bath: prepare in pot with water 6 L, alum 12 g at 40 °C
  mordant a in alum-bath from 40 °C to 85 °C over 45 min for 1 h
  cool alum-bath to 30 °C for 3 d covered
  rinse a in tub with water 5 L at 30 °C for 10 min
  discard alum-bath to "foul drain"
  clean pot
  onion-bath: prepare in pot with water 6 L, onion 100 g
  simmer onion-bath at 85 °C for 1 h covered
  cool onion-bath to 30 °C for 3 d covered
  strain onion-bath
  dye a, b in onion-bath from 30 °C to 85 °C over 45 min for 1 h
  rinse a, b in tub with water 5 L at 30 °C for 10 min
  dry a, b
  discard onion-bath to "foul drain"
"""


def test_what_lies_in_a_bath_is_not_hung_up_with_what_waits() -> None:
    """Both come to the dye bath; one was parted off and waits, the other is in the alum."""
    plan = procedure.read(IN_A_BATH, "two.dye")
    given = Asked(datetime(2099, 11, 28, 9), Hours(times_of("9:00-18:00")), "9-18")
    made = fitted(work_of([plan], given).work).made
    assert isinstance(made, Timetable)
    hung = [each for each in made.work.activities if each.name.startswith("hang ")]
    assert hung
    for each in hung:
        place = made.at[each.key]
        for other in made.work.activities:
            if other.fibre_in and set(other.lots) & set(each.lots):
                at = made.at[other.key]
                assert place.end <= at.start or at.end <= place.start, (each.name, other.name)
    assert {each.lots for each in hung} == {("a",), ("b",)}


@pytest.mark.parametrize(
    "effort", [EFFORT / 10, pytest.param(EFFORT, marks=pytest.mark.exhaustive)]
)
def test_what_is_hung_up_may_hang_for_longer_where_all_is_over_days_sooner(effort: float) -> None:
    """Evenings of three hours: fibre that hangs over a weekend spares the day after.

    Of tubs there are as many as there are lots to be wetted out again at once.
    """
    made = planned("shade-card-madder", "18-21", "weekdays", (("tub", 4),), effort)
    assert made.work.between, "something is hung up and wetted out again"
    assert made.finish <= 11 * 24 * 60, "not on the Wednesday after"
    said = how_good(made)
    if made.shortest:
        assert "With what is hung up in between as here" in said
        assert "A plan in which other fibre waits may be shorter: that was not found out." in said


@pytest.mark.parametrize("name", ["weld-yellow-wool", "shade-card-madder"])
def test_with_drying_all_begins_on_full_fives(name: str) -> None:
    made = planned(name)
    lengths = {a.key: a.lasting.most % 5 for a in made.work.activities}
    assert all(each.start % 5 == 0 for each in made.placed if not lengths[each.key])


def test_nothing_is_hung_up_that_could_go_on_at_once() -> None:
    """Goldenrod that is dyed on its second weekend is washed then, not on the third."""
    weekdays, dates = days_of("sat,sun")
    asked = Asked(datetime(2027, 3, 6, 9), Hours(times_of("10-17"), weekdays, dates), "10-17")
    names = ("goldenrod-us-units", "madder-red-wool")
    plans = [procedure.load(EXAMPLES / f"{name}.dye") for name in names]
    made = fitted(work_of(plans, asked).work).made
    assert isinstance(made, Timetable)
    assert not wrongs(made.work, {each.key: (each.start, each.end) for each in made.placed})
    wash = next(
        made.at[each.key]
        for each in made.work.activities
        if each.name == "wash yarn in tub" and "Goldenrod" in each.project
    )
    assert wash.key + WETTED_AGAIN not in made.at
    assert any(each.endswith(WETTED_AGAIN) for each in made.at), "what has to wait is hung up"
