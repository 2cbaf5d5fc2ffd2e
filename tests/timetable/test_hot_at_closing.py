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
from procedure.timetable.drawing import draw
from procedure.timetable.from_plans import work_of
from procedure.timetable.icalendar_file import calendar
from procedure.timetable.terms import Asked
from procedure.timetable.unsure import stays

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
