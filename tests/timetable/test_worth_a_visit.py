"""Nobody comes on a day more for the sake of minutes; for an hour or more somebody does."""

from __future__ import annotations

from datetime import datetime

import pytest
from verifying import wrongs

import procedure
from procedure.collection.opening_hours import Hours, days_of, times_of
from procedure.timetable import Timetable, fitted
from procedure.timetable.from_plans import work_of
from procedure.timetable.terms import Asked

SATURDAY = datetime(2099, 11, 28, 9)
TEXT = """procedure "Bran vat and one blue"
  by "Fellside Dye Circle"
  place ventilated
  wearing gloves, eye protection

fibre
  yarn: wool yarn, 200 g, scoured

equipment
  crock: stainless steel pot, 15 L, lidded, for dyeing only
  tub: plastic tub, 20 L, for dyeing only
  hob: hotplate, 2 kW

materials
  indigo: natural indigo, powder
  soda: soda ash
  madder: madder root, dried
  bran: wheat bran

steps
  vat: prepare in crock with water 10 L, soda 60 g, madder 30 g, bran 50 g, indigo 30 g at 45 °C
  stand vat at 38 to 45 °C for 5 to 8 d covered labelled
  wet out yarn in tub with water 10 L at 30 °C for {}
  repeat 2 times
    dip yarn in vat at 45 °C for 10 min
    air yarn for 20 min
  rinse yarn in tub with water 10 L at 30 °C
  dry yarn
"""


def planned(soak: str, days: str) -> Timetable:
    plan = procedure.read(TEXT.format(soak), "vat.dye")
    asked = Asked(SATURDAY, Hours(times_of("9-18"), *days_of(days)), f"9-18, {days}")
    made = fitted(work_of([plan], asked).work).made
    assert isinstance(made, Timetable)
    assert wrongs(made.work, {each.key: (each.start, each.end) for each in made.placed}) == []
    return made


@pytest.mark.parametrize("days", ["sat,sun", "daily"])
def test_a_soak_is_not_begun_the_day_before_for_minutes(days: str) -> None:
    made = planned("1 h", days)
    soak = next(each for each in made.work.activities if each.name.startswith("wet out"))
    place = made.at[soak.key]
    assert place.end - place.start == 60
    assert made.days == 2


def test_where_an_hour_or_more_is_saved_somebody_comes() -> None:
    assert planned("6 h", "daily").days == 3
