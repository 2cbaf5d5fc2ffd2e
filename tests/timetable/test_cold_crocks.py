"""A vat that has gone cold in a crock, which goes on no hotplate: it is warmed by other means."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest
from verifying import wrongs

import procedure
from procedure.collection.opening_hours import Hours
from procedure.timetable import Timetable, Work, fitted
from procedure.timetable.from_plans import work_of
from procedure.timetable.terms import Asked
from procedure.timetable.work import TURN_OFF

BEGINS = datetime(2099, 11, 28, 9)
TEXT = """procedure "A vat in a crock"
  by "Fellside Dye Circle"
  place outdoors
  wearing gloves, eye protection, mask
fibre
  yarn: wool yarn, 200 g, scoured
equipment
  crock: {crock}, 20 L, lidded, for dyeing only
  tub: plastic tub, 20 L, for dyeing only
  hob: hotplate, 2 kW
materials
  indigo: indigo powder
  madder: madder root, dried
  soda: soda ash
  bran: wheat bran
steps
  vat: prepare in crock with water 15 L, indigo 20 g, madder 20 g, soda 40 g, bran 20 g at {made}
{stands}
  wet out yarn in tub with water 8 L at 30 °C for 1 h
  repeat 3 times
    dip yarn in vat at {heat} for 20 min
    air yarn for 20 min
  rinse yarn in tub with water 8 L at 30 °C
  dry yarn
  keep vat as old-vat labelled
"""
A_WEEK = "  stand vat for 7 d covered"
EVERY_DAY = "  repeat 7 times every 1 d\n    stir vat for 2 min gently"
EVERY_MINUTES = "  repeat 3 times every 10 min\n    stir vat for 2 min gently"
GONE_COLD = "It has gone cold, and the crock goes on no hotplate"


def drawn(
    folder: Path,
    stands: str,
    crock: str = "stoneware jar",
    made: str = "40 °C",
    heat: str = "35 °C",
) -> Work:
    file = folder / "crock.dye"
    file.write_text(TEXT.format(crock=crock, made=made, stands=stands, heat=heat), encoding="utf-8")
    return work_of([procedure.load(file)], Asked(BEGINS, Hours(), "9:00-18:00")).work


def planned(work: Work) -> Timetable:
    made = fitted(work).made
    assert isinstance(made, Timetable), made
    assert wrongs(made.work, {each.key: (each.start, each.end) for each in made.placed}) == []
    return made


@pytest.mark.parametrize("stands", (A_WEEK, EVERY_DAY))
@pytest.mark.parametrize("heat", ("35 °C", "50 °C"))
def test_it_is_warmed_before_the_first_dip_and_that_is_said(
    tmp_path: Path, stands: str, heat: str
) -> None:
    made = planned(drawn(tmp_path, stands, heat=heat))
    warmings = [each for each in made.work.activities if each.name.startswith("heat vat")]
    dips = sorted(
        made.at[each.key].start for each in made.work.activities if each.name.startswith("dip ")
    )
    assert len(warmings) == 1 and len(dips) == 3, "once, and not before each dip"
    warming = warmings[0]
    assert made.at[warming.key].end == dips[0]
    assert warming.lasting.most >= 60 and warming.ending != TURN_OFF
    assert not any(need.resource in ("rings", "power") for need in warming.needs)
    assert any(each.startswith(GONE_COLD) for each in warming.cautions)


def test_days_between_rounds_are_no_reason_that_there_is_no_plan(tmp_path: Path) -> None:
    """Nobody dips within an hour of making up a vat that is to be stirred on seven days."""
    made = planned(drawn(tmp_path, EVERY_DAY))
    assert made.finish > 6 * 24 * 60


def test_in_a_pot_it_is_warmed_on_the_plate(tmp_path: Path) -> None:
    work = drawn(tmp_path, EVERY_DAY, "stainless steel pot", heat="50 °C")
    warming = next(each for each in work.activities if each.name.startswith("heat vat"))
    assert any(need.resource == "rings" for need in warming.needs)
    assert not any("gone cold" in each for each in warming.cautions)


@pytest.mark.parametrize(
    "stands, made, heat",
    ((EVERY_MINUTES, "40 °C", "35 °C"), (A_WEEK, "40 °C", "20 °C"), (EVERY_DAY, "cold", "30 °C")),
)
def test_what_is_warm_still_or_wanted_cold_is_not(
    tmp_path: Path, stands: str, made: str, heat: str
) -> None:
    work = drawn(tmp_path, stands, made=made, heat=heat)
    assert not any(each.name.startswith("heat vat") for each in work.activities)
    assert not any("gone cold" in said for each in work.activities for said in each.cautions)


def test_fibre_that_is_dyed_in_a_cold_crock_has_its_bath_warmed_within_the_step(
    tmp_path: Path,
) -> None:
    file = tmp_path / "onion.dye"
    file.write_text(
        """procedure "Onion in a crock"
  place outdoors
  wearing gloves
fibre
  yarn: wool yarn, 100 g, scoured, mordanted
equipment
  crock: stoneware jar, 20 L, lidded, for dyeing only
  tub: plastic tub, 20 L, for dyeing only
materials
  onion: onion skins, dried
steps
  wet out yarn in tub with water 5 L at 30 °C for 1 h
  bath: prepare in crock with water 5 L, onion 50 g at hot
  stand bath overnight covered
  dye yarn in bath at 40 °C for 1 h
  lift yarn
  dry yarn
""",
        encoding="utf-8",
    )
    work = work_of([procedure.load(file)], Asked(BEGINS, Hours(), "9:00-18:00")).work
    planned(work)
    dyeing = next(each for each in work.activities if each.name.startswith("dye "))
    assert any(each.startswith(GONE_COLD) for each in dyeing.cautions)
    assert dyeing.lasting.most >= 60 + 30
