"""“For at least 10 days” is over on the next day on which somebody is there."""

from __future__ import annotations

from datetime import datetime, time
from pathlib import Path

import pytest
from verifying import wrongs

import procedure
from procedure.collection.opening_hours import Hours, days_of
from procedure.timetable import Timetable, Work, fitted
from procedure.timetable.from_plans import work_of
from procedure.timetable.terms import Asked

SATURDAY = datetime(2099, 11, 28, 9)
A_DAY = 24 * 60
TEXT = """procedure "A jar in the sun"
  by "Fellside Dye Circle"
  place outdoors
  wearing gloves
fibre
  yarn: wool yarn, 4 oz, scoured, mordanted
equipment
  jar: glass jar, 2 US gal, lidded, for dyeing only
  pail: plastic bucket, 4 US gal, for dyeing only
materials
  skins: onion skins, dried
steps
  wet out yarn in pail with 1 1/2 US gal water at tepid for 1 h
  sun-bath: prepare in jar with 1 1/4 US gal water, skins 2 oz at hand-hot
  steep yarn in sun-bath {lasting} covered labelled outdoors in the sun
  lift yarn from sun-bath
  rinse yarn in pail with 1 1/2 US gal water at tepid
  dry yarn in the shade
  discard sun-bath to "foul drain"
"""


def drawn(folder: Path, lasting: str) -> Work:
    file = folder / "sun.dye"
    file.write_text(TEXT.format(lasting=lasting), encoding="utf-8")
    weekends = Hours(((time(9), time(18)),), *days_of("sat, sun"))
    return work_of([procedure.load(file)], Asked(SATURDAY, weekends, "9:00-18:00, sat,sun")).work


@pytest.mark.parametrize("lasting, days", (("at least 10 days", 10), ("2 d or more", 2)))
def test_it_goes_on_until_a_day_on_which_the_place_is_open(
    tmp_path: Path, lasting: str, days: int
) -> None:
    work = drawn(tmp_path, f"for {lasting}")
    made = fitted(work).made
    assert isinstance(made, Timetable), made
    assert wrongs(made.work, {each.key: (each.start, each.end) for each in made.placed}) == []
    steep = next(made.at[each.key] for each in work.activities if each.name.startswith("steep "))
    assert days * A_DAY <= steep.end - steep.start < (days + 7) * A_DAY


def test_hours_or_more_are_no_days(tmp_path: Path) -> None:
    steep = next(
        each for each in drawn(tmp_path, "for 2 h or more").activities if "steep" in each.name
    )
    assert steep.lasting.longest <= 120 + A_DAY
