"""How long a plan takes, as its papers say it."""

from __future__ import annotations

import builtins
from pathlib import Path
from typing import Any

import pytest

import procedure
from procedure.timetable.taking import Taking, made_once, time_taken

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
    made_once.cache_clear()
    listed = taken(TANSY)
    made_once.cache_clear()
    assert listed.length >= solved.length
    assert not listed.proven and "no plan is shorter" not in " ".join(listed.sentences)


def test_the_hours_of_the_workshop_count(tmp_path: Path) -> None:
    (tmp_path / "vatwright.toml").write_text('[workshop]\nhours = "10 to 16"\ndays = "sat, sun"\n')
    file = tmp_path / "plan.dye"
    file.write_text((EXAMPLES / "standard" / "alum-on-wool.dye").read_text(encoding="utf-8"))
    made = taken(file)
    assert made.days[0].first >= 10 * 60 and made.days[-1].last <= 16 * 60
    assert "10 to 16, sat, sun" in made.sentences[-1]


def test_what_cannot_be_planned_is_said_in_a_sentence(tmp_path: Path) -> None:
    (tmp_path / "vatwright.toml").write_text('[workshop]\nhours = "10 to 11"\n')
    file = tmp_path / "plan.dye"
    file.write_text((EXAMPLES / "standard" / "alum-on-wool.dye").read_text(encoding="utf-8"))
    said = time_taken(procedure.load(file))
    assert isinstance(said, str) and "10 to 11" in said
