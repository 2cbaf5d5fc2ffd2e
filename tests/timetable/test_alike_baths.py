"""Baths of one name are told apart by what a dyer sees, and never by a line of the file."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest

import procedure
from procedure.collection.opening_hours import Hours
from procedure.timetable.alike_baths import bath_called, whichever_bath
from procedure.timetable.from_plans import work_of
from procedure.timetable.terms import Asked

EXAMPLES = Path(__file__).parents[2] / "examples"
ONE = """procedure "One bath"
fibre
  yarn: wool yarn, 50 g, scoured, mordanted
equipment
  pot: stainless steel pot, 10 L, lidded, for dyeing only
  pan: stainless steel pot, 10 L, lidded, for dyeing only
materials
  weld: weld tops, dried
steps
  bath: prepare in pot with water 3 L, weld 25 g
  dye yarn in bath at 70 °C for 30 min
  rinse yarn in pan with water 3 L
  discard bath to "foul drain"
"""
TWO = """procedure "Two baths of one name"
  place outdoors
fibre
  elder: wool yarn, 50 g, scoured, mordanted
  hazel: wool yarn, 50 g, scoured, mordanted
equipment
  pot: stainless steel pot, 10 L, lidded, for dyeing only
  can: stainless steel pot, 10 L, lidded, for dyeing only
  pan: stainless steel pot, 10 L, lidded, for dyeing only
steps
  follow "one.dye" with yarn = {0}, pot = {1}, pan
  follow "one.dye" with yarn = {2}, pot = {3}, pan
"""


@pytest.mark.parametrize(
    ("given", "told"),
    [
        (("elder", "pot", "hazel", "pot"), ["bath (for elder)", "bath (for hazel)"]),
        (("elder", "pot", "elder", "can"), ["bath (in the pot)", "bath (in the can)"]),
        (("elder", "pot", "elder", "pot"), ["bath (the first)", "bath (the second)"]),
    ],
)
def test_baths_are_told_apart_by_lot_then_pot_then_turn(
    tmp_path: Path, given: tuple[str, ...], told: list[str]
) -> None:
    (tmp_path / "one.dye").write_text(ONE, encoding="utf-8")
    file = tmp_path / "two.dye"
    file.write_text(TWO.format(*given), encoding="utf-8")
    plan = procedure.load(file)
    assert [bath_called(plan, bath) for bath in plan.flow.baths] == told


@pytest.mark.parametrize(
    ("name", "told"),
    [
        (
            "madder-walnut-iron",
            {
                "bath (with alum)",
                "bath (for red.sad)",
                "bath (for brown.sad)",
                "bath (for fox.sad)",
            },
        ),
        ("shade-card-24", {"bath (with alum)", "bath (with symplocos)"}),
    ],
)
def test_baths_of_followed_procedures_are_told_apart(name: str, told: set[str]) -> None:
    plan = procedure.load(EXAMPLES / "plans" / f"{name}.dye")
    assert told <= {bath_called(plan, bath) for bath in plan.flow.baths}


def test_what_tells_baths_apart_can_be_left_out_again() -> None:
    """So a calendar knows a step again where another bath of its name has come to the plan."""
    apart = 0
    for file in sorted((EXAMPLES / "plans").glob("*.dye")):
        plan = procedure.load(file)
        for bath in plan.flow.baths:
            told, name = bath_called(plan, bath), plan.study.called(bath)
            assert whichever_bath(f"dye in {told} overnight") == f"dye in {name} overnight"
            apart += told != name
    assert apart > 5


def test_a_bath_is_not_said_to_be_for_the_lots_that_are_named_with_it(tmp_path: Path) -> None:
    (tmp_path / "one.dye").write_text(ONE, encoding="utf-8")
    file = tmp_path / "two.dye"
    file.write_text(TWO.format("elder", "pot", "hazel", "pot"), encoding="utf-8")
    work = work_of([procedure.load(file)], Asked(datetime(2099, 11, 28, 9), Hours())).work
    names = {each.name for each in work.activities}
    assert {"dye elder in bath", "dye hazel in bath", "discard bath (for elder)"} <= names


def test_no_step_of_any_example_is_named_by_a_line(
    capsys: pytest.CaptureFixture[str],
) -> None:
    from procedure.command.main import main

    for name in ("madder-walnut-iron", "shade-card-24"):
        file = str(EXAMPLES / "plans" / f"{name}.dye")
        assert main(["timetable", file, "--start", "2099-11-28 09:00", "--format", "ics"]) == 0
        assert "line " not in capsys.readouterr().out.replace("\r\n ", "")
