"""No bath is hot and alone when the place closes; it cools since it was last on the heat."""

from __future__ import annotations

import csv
import io
from datetime import UTC, datetime

import pytest

import procedure
from procedure.collection.opening_hours import Hours, times_of
from procedure.timetable import Agenda, Timetable, agenda, fitted, rows_by_start
from procedure.timetable.by_day import report
from procedure.timetable.drawing import _BAR, draw
from procedure.timetable.from_plans import work_of
from procedure.timetable.icalendar_file import calendar
from procedure.timetable.terms import Asked
from procedure.timetable.unsure import stays

_THIN = _BAR / 3
SATURDAY = datetime(2099, 11, 28, 9)
HEAD = """procedure "Tan"
  by "Fellside Dye Circle"
  place ventilated
  wearing gloves

fibre
  one: wool yarn, 100 g, scoured, mordanted with alum
  two: wool yarn, 100 g, scoured, mordanted with alum

equipment
  pot: stainless steel pot, 8 L, lidded, for dyeing only
  tub: plastic tub, 12 L, for dyeing only
  hob: hotplate, 1.8 kW

materials
  cutch: catechu, powder

steps
  wet out one, two in tub with water 5 L at 30 °C for 1 h
  tan-bath: prepare in pot with water 5 L, cutch 30 g at 35 °C
  dye one in tan-bath from 35 °C to 85 °C over 45 min for 1 h on hob
  lift one from tan-bath
"""
AGAIN = """  dye two in tan-bath from 40 °C to 85 °C over 45 min for 1 h on hob
  lift two from tan-bath
"""
KEPT = """  rinse one in tub with water 5 L at 40 °C
  dry one
  keep tan-bath covered labelled as tan-left
"""


def planned(steps: str, hours: str) -> Agenda:
    plan = procedure.read(HEAD + steps, "tan.dye")
    asked = Asked(SATURDAY, Hours(times_of(hours)), hours)
    made = fitted(work_of([plan], asked).work).made
    assert isinstance(made, Timetable)
    return agenda(made)


@pytest.fixture(scope="module")
def again() -> Agenda:
    """The second lot wants the bath at 40 °C, and there is no time for it on the first day."""
    return planned(AGAIN, "9-14")


def test_a_bath_that_cools_over_a_night_for_other_fibre_is_no_longer_hot_at_closing(
    again: Agenda,
) -> None:
    key = {each.name: each.key for each in again.made.work.activities}
    first, second = (again.made.at[key[f"dye {lot} in tan-bath"]] for lot in ("one", "two"))
    closes = again.days[0].windows[-1].closes
    assert first.end < closes < second.start
    (stay,) = stays(again.made, again.days[0].windows)
    assert stay.key == first.key
    assert first.end + 60 < stay.end <= closes


def test_who_stays_until_a_bath_has_cooled_for_other_fibre_is_told_in_each_form(
    again: Agenda,
) -> None:
    (stay,) = stays(again.made, again.days[0].windows)
    first_day = " ".join(report(again).split()).partition("Be back")[0]
    assert "“dye one in tan-bath” (3), line 21: its bath is hotter than" in first_day
    written = calendar(again, datetime(2099, 1, 1, tzinfo=UTC)).decode()
    assert "SUMMARY:Stay near (“dye one in tan-bath”)" in written
    table = list(csv.DictReader(io.StringIO(rows_by_start.report(again))))
    assert [bool(each["hot_until"]) for each in table if each["line"] == "21"] == [True]
    clock = f"{9 + stay.end // 60:02}:{stay.end % 60:02}"
    assert clock in "".join(draw(again))


def test_who_stays_is_told_by_the_clock_and_not_when_the_day_is_over(again: Agenda) -> None:
    """Who goes by the clock would leave when the last thing on the list is done."""
    (stay,) = stays(again.made, again.days[0].windows)
    day = report(again).split("-----\n")[1]
    line = next(each for each in day.splitlines() if "Stay near: " in each)
    done = f"{9 + stay.start // 60:02}:{stay.start % 60:02}"
    assert line.strip().startswith(done)
    by_hand = [p for p in again.made.hands_on if p.end <= stay.end]
    assert max(p.end for p in by_hand) == stay.start, "nothing is to be done after it"
    assert day.index("Stay near: ") < day.index("Stands there then")


def strips(made: Agenda, person: str) -> int:
    """How many thin strips are in a person's row of the drawing."""
    svg = "".join(draw(made))
    row = svg.split(f">{person}</text>", 1)[1].split('font-weight="bold"', 1)[0]
    return sum(f'height="{_THIN:.1f}"' in each for each in row.split("<rect"))


def test_the_row_of_whoever_stays_shows_it_in_the_drawing(again: Agenda) -> None:
    late = [each for day in again.days for each in stays(again.made, day.windows)]
    free = [one for day in again.days for one in day.entries if one.kind == "free" and one.watched]
    assert late and strips(again, "You") == len(free) + len(late)


def test_who_has_only_a_lot_of_their_own_is_not_said_to_watch_what_others_watch() -> None:
    text = HEAD.replace("one", "elder").replace("two", "hazel") + AGAIN.replace("two", "hazel")
    plan = procedure.read(text, "tan.dye")
    people = ("Elder", "Hazel")
    asked = Asked(SATURDAY, Hours(times_of("9-18")), "9-18", hands=("Robin",), participants=people)
    made = fitted(work_of([plan], asked).work).made
    assert isinstance(made, Timetable)
    facts = agenda(made)
    assert strips(facts, "Robin") > 0
    hands = {each.key: {n.resource for n in each.hands} for each in made.work.activities}
    for person in people:
        own = next(r.resource.key for r in facts.rows if r.name == person)
        near = [
            one
            for day in facts.days
            for one in day.entries
            if one.kind == "free" and any(own in hands.get(key, ()) for key in one.watched)
        ]
        late = [
            key for day in facts.days for key, _, _ in stays(made, day.windows) if own in hands[key]
        ]
        assert strips(facts, person) == len(near) + len(late)


@pytest.mark.parametrize("hours", ["9:00-12:30", "9:00-13:00"])
def test_a_bath_that_is_kept_cools_since_its_plate_was_off(hours: str) -> None:
    """Keeping a bath, ten minutes with a lid and a label, does not heat it again."""
    made = planned(KEPT, hours).made
    of_name = {each.name: each for each in made.work.activities}
    dyed, kept = of_name["dye one in tan-bath"], of_name["keep tan-bath"]
    assert dyed.hot_after and not kept.hot_after
    assert [(each.key, each.start) for each in made.hot] == [(dyed.key, made.at[dyed.key].end)]


def test_a_bath_that_is_heated_again_is_hot_since_then() -> None:
    """What comes at once takes over the care for it, and what comes at the end has it."""
    made = planned("  hold tan-bath at 85 °C for 10 min\n" + KEPT, "9-18").made
    assert [made.work.activity[each.key].name for each in made.hot] == ["hold tan-bath"]


@pytest.mark.parametrize(("hours", "hot"), [("9-13", False), ("9-18", True)])
def test_what_was_off_the_heat_for_a_night_is_not_said_to_be_hot(hours: str, hot: bool) -> None:
    """Poured away hours after, it may be hot, as slowly as pots may cool; not the next day."""
    made = planned('  rinse one in tub\n  dry one\n  discard tan-bath to "foul drain"\n', hours)
    of_name = {each.name: each.key for each in made.made.work.activities}
    dyed, poured = (of_name[name] for name in ("dye one in tan-bath", "discard tan-bath"))
    waits = made.made.at[poured].start - made.made.at[dyed].end
    assert (waits < 12 * 60) == hot
    told = report(made), calendar(made, datetime(2099, 1, 1, tzinfo=UTC)).decode()
    assert [("may be hot still" in each.replace("\r\n ", "")) for each in told] == [hot, hot]
