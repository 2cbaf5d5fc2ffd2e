"""How long a plan takes, as its papers say it."""

from __future__ import annotations

import builtins
import json
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

import procedure
from procedure.command.main import main
from procedure.timetable import taking
from procedure.timetable.days_in_words import day_in_words
from procedure.timetable.taking import DayTaken, LeftGoing, Taking, time_taken

EXAMPLES = Path(__file__).parents[2] / "examples"
TANSY = EXAMPLES / "tansy-gold-and-moss.dye"


def taken(file: Path) -> Taking:
    made = time_taken(procedure.load(file))
    assert isinstance(made, Taking)
    return made


def test_every_step_has_its_time_and_every_day_its_steps() -> None:
    made = taken(TANSY)
    assert [day.number for day in made.days] == [1, 2, 3]
    assert made.calendar_days == 4  # the last skeins dry until the fourth
    by_day = [node for day in made.days for node in day.nodes]
    assert sorted(by_day) == sorted(made.begins)
    assert all(day.first >= 9 * 60 and day.last <= 18 * 60 for day in made.days)
    # The vat may be left out: the shorter way is told too, and is shorter.
    assert made.shorter < made.length
    assert any("left out" in sentence for sentence in made.sentences)


def test_a_short_plan_is_done_in_a_day() -> None:
    made = taken(EXAMPLES / "standard" / "scour-wool.dye")
    assert made.calendar_days == 1 and made.shorter == made.length
    assert made.sentences[0].startswith("It can be done in one day")


def test_without_the_solver_the_list_rule_tells_it(monkeypatch: pytest.MonkeyPatch) -> None:
    real = builtins.__import__

    def none_of_it(name: str, *rest: Any, **more: Any) -> Any:
        if name.startswith("ortools"):
            raise ImportError(name)
        return real(name, *rest, **more)

    solved = taken(TANSY)
    monkeypatch.setattr(builtins, "__import__", none_of_it)
    taking.made_once.cache_clear()
    listed = taken(TANSY)
    taking.made_once.cache_clear()
    assert listed.length >= solved.length
    assert not listed.proven and "no plan is shorter" not in " ".join(listed.sentences)


def test_the_hours_of_the_workshop_count(tmp_path: Path) -> None:
    (tmp_path / "vatwright.toml").write_text('[workshop]\nhours = "10 to 16"\ndays = "sat, sun"\n')
    file = tmp_path / "plan.dye"
    file.write_text((EXAMPLES / "standard" / "alum-on-wool.dye").read_text(encoding="utf-8"))
    made = taken(file)
    assert made.days[0].first >= 10 * 60 and made.days[-1].last <= 16 * 60
    assert "10 to 16, sat, sun" in made.sentences[-1]


def in_hours(tmp_path: Path, hours: str, text: str) -> Taking | str:
    if hours:
        (tmp_path / "vatwright.toml").write_text(f'[workshop]\nhours = "{hours}"\n')
    file = tmp_path / "plan.dye"
    file.write_text(text, encoding="utf-8")
    return time_taken(procedure.load(file))


def test_what_does_not_go_into_the_hours_is_planned_for_longer_ones(tmp_path: Path) -> None:
    text = (EXAMPLES / "standard" / "alum-on-wool.dye").read_text(encoding="utf-8")
    made = in_hours(tmp_path, "10 to 11", text)
    assert isinstance(made, Taking) and made.days and made.hours == "8:00-20:00"
    first = made.sentences[0]
    assert "in the hours of the workshop (10 to 11): “mordant wool in bath” takes" in first
    assert "for which somebody has to be there, and a day is" in first
    assert "In the hours 8:00-20:00 it goes on over 2 days" in first


# Somebody is beside a bath that simmers, and a day from 9:00 to 18:00 has nine hours.
LONG = """
procedure "A long red"
fibre
  yarn: wool yarn, 100 g, scoured
equipment
  pot: stainless steel pot, 30 L, lidded, for dyeing only
  tub: plastic tub, 10 L, for dyeing only
materials
  madder: madder roots, dried
steps
  wet out yarn in tub with water 3 L for 1 h
  bath: prepare in pot with water 20 L, madder 50 g at 30 °C
  simmer bath at 85 °C for 10 h covered
  dye yarn in bath from 30 °C to 85 °C over 45 min for 1 h covered
  rinse yarn in tub with water 3 L
  discard bath to "foul drain"
"""


def test_hours_that_no_workshop_states_are_not_said_to_be_its_own(tmp_path: Path) -> None:
    made = in_hours(tmp_path, "", LONG)
    assert isinstance(made, Taking)
    said = made.sentences[0]
    assert "of the workshop" not in said and made.days
    assert said.startswith("It cannot be done in usual hours (9:00-18:00): “simmer bath” takes")


def test_a_soak_that_is_over_is_fibre_that_stays_wet() -> None:
    day = DayTaken(1, 540, 720, 60, (0, 1), (LeftGoing(0, "lies wet", 2, ("gold-skein",)),))
    assert day_in_words(_two_steps(day), day, {0: "1", 1: "2"}, {}) == (
        "Day 1, 9:00 to 12:00: steps 1 and 2; the gold skein stays wet overnight."
    )


def test_what_hangs_to_dry_is_not_left_going() -> None:
    day = DayTaken(1, 540, 720, 60, (0, 1), (LeftGoing(1, "dries", 2), LeftGoing(0, "goes on", 3)))
    assert day_in_words(_two_steps(day), day, {0: "1", 1: "2"}, {}) == (
        "Day 1, 9:00 to 12:00: steps 1 and 2; step 2 left to dry until day 2; "
        "step 1 left going until day 3."
    )


def test_wet_fibre_and_hot_baths_are_told_for_the_night() -> None:
    day = DayTaken(2, 540, 720, 60, (1,), (), ((0, 545),), (("cloths", 3),), ((1, 800),))
    assert day_in_words(_two_steps(day), day, {0: "1", 1: "2"}, {}) == (
        "Day 2, 9:00 to 12:00: see to step 1; from 9:10 step 2; stay until 13:20: step 2 is hot "
        "until then (plate off, pot covered); the cloths wait wet overnight, squeezed out and "
        "covered."
    )
    day = DayTaken(2, 540, 720, 60, (1,), wet=(("cloths", 4),))
    assert "; the cloths wait wet until day 4, squeezed" in day_in_words(
        _two_steps(day), day, {0: "1", 1: "2"}, {}
    )


def test_what_is_begun_in_the_cold_is_told_on_its_day() -> None:
    day = DayTaken(2, 540, 720, 60, (1,), cold=((1, 100),))
    said = day_in_words(_two_steps(day), day, {0: "1", 1: "2"}, {})
    assert " ".join(said.split()) == (
        "Day 2, 9:00 to 12:00: step 2; before step 2 what it is done in has cooled: warm it again "
        "first, about 1 h 40 min, for which no time is planned."
    )


def _two_steps(day: DayTaken) -> Taking:
    begins = {0: (1, 540), 1: (day.number, 550)}
    return Taking(0, 0, 0, (day,), 2, begins, "9:00-18:00", 1, True, ())


@pytest.mark.parametrize("name", ["madder-walnut-iron", "six-lots-three-baths", "workshop-day"])
def test_the_papers_and_the_timetable_tell_the_same_hours(
    name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """Of more than fifty steps a plan is not the only one of its length: all tell one."""
    file = EXAMPLES / "plans" / f"{name}.dye"
    plan = procedure.load(file)
    taken = time_taken(plan)
    assert not isinstance(taken, str)
    assert main(["timetable", str(file), "--start", "2099-11-30 09:00", "--format", "json"]) == 0
    told: dict[int, datetime] = {}
    for each in json.loads(capsys.readouterr().out)["steps"]:
        if each["step"].startswith("warm vat again"):
            continue  # nobody has written it: papers tell it beside the steps
        at = datetime.fromisoformat(each["starts"])
        told[each["line"]] = min(at, told.get(each["line"], at))
    of_papers: dict[int, datetime] = {}
    for node, (day, minute) in taken.begins.items():
        line = plan.flow.nodes[node].step.place.line
        at = datetime(2099, 11, 29) + timedelta(days=day, minutes=minute)
        of_papers[line] = min(at, of_papers.get(line, at))
    assert of_papers == told


def test_papers_say_of_a_plant_bath_that_it_stands_for_longer_than_it_keeps(tmp_path: Path) -> None:
    """A weekend's plant bath stands till the next one: the handout says what the timetable says."""
    text = (EXAMPLES / "goldenrod-us-units.dye").read_text(encoding="utf-8")
    file = tmp_path / "goldenrod.dye"
    file.write_text(text, encoding="utf-8")
    (tmp_path / "vatwright.toml").write_text('[workshop]\nhours = "10 to 16"\ndays = "sat, sun"\n')
    found = taken(file)
    told = [day_in_words(found, day, {}, {}) for day in found.days]
    stands = [(day.number, each.until) for day in found.days for each in day.too_long]
    assert stands == [(2, 8)]
    assert "nothing is done to the yellow bath until day 8, and a plant bath goes sour" in told[1]
    assert "look and smell before it is used" in told[1]
    assert all("sour" not in each for each in (told[0], *told[2:]))
    every_day = taken(EXAMPLES / "goldenrod-us-units.dye")
    assert not any(day.too_long for day in every_day.days)
