"""Planned again in the midst of a day: what has happened stays, and the rest is true."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest
from blue_vat import AFTER, BEFORE, EACH
from verifying import wrongs

import procedure
from procedure.collection.opening_hours import Hours
from procedure.timetable import Timetable, agenda, fitted
from procedure.timetable.by_day import report
from procedure.timetable.done_steps import NoSuchStep
from procedure.timetable.from_plans import work_of
from procedure.timetable.terms import Asked, Happened

BEGINS = datetime(2099, 11, 28, 9)
LOTS = ("Elder", "Hazel", "Rowan")


def at(clock: str) -> datetime:
    hour, minute = map(int, clock.split(":"))
    return BEGINS.replace(hour=hour, minute=minute)


def planned_again(folder: Path, *done: tuple[str, str], now: str = "") -> Timetable:
    file = folder / "turns.dye"
    file.write_text(BEFORE + EACH + AFTER, encoding="utf-8")
    asked = Asked(
        BEGINS,
        Hours(),
        "9:00-18:00",
        hands=("Teacher",),
        participants=LOTS,
        happened=tuple(Happened(step, at(clock)) for step, clock in done),
        now=at(now or max(clock for _, clock in done)),
    )
    made = fitted(work_of([procedure.load(file)], asked).work).made
    assert isinstance(made, Timetable)
    assert wrongs(made.work, {each.key: (each.start, each.end) for each in made.placed}) == []
    return made


def ends(made: Timetable, name: str) -> list[int]:
    known = made.work.activity
    return [each.end for each in made.placed if known[each.key].name == name]


DONE = (("6 elder", "10:45"), ("6 hazel", "10:50"), ("6 elder", "11:05"))


def test_what_has_happened_stays_and_the_turns_go_on_from_there(tmp_path: Path) -> None:
    made = planned_again(tmp_path, *DONE)
    assert ends(made, "dip elder in vat")[:2] == [105, 125]
    assert ends(made, "dip hazel in vat")[0] == 110
    assert ends(made, "air elder")[0] == 120, "it was aired before it was dipped again"
    to_come = [each for each in made.placed if each.key not in made.work.happened]
    assert min(each.start for each in to_come) >= 125
    assert len(to_come) == len(made.placed) - len(made.work.done)
    said = " ".join(report(agenda(made)).split())
    assert "Done by 10:50: dip hazel in vat (1 of 3)." in said
    assert "Dip elder in vat (3 of 3), until" in said


def test_what_is_late_by_now_is_done_at_once_and_told(tmp_path: Path) -> None:
    """Hazel came out of the vat at 10:50 and nobody has said that it airs: it is 11:05."""
    made = planned_again(tmp_path, *DONE)
    first_airing = min(ends(made, "air hazel")) - 10
    assert first_airing - 125 <= 30
    assert any(
        note.startswith("Late by now: “air hazel (1 of 3)” after “dip hazel in vat (1 of 3)”")
        for note in made.work.notes
    )
    in_time = planned_again(tmp_path, *DONE[:1])
    assert not any("Late by now" in note for note in in_time.work.notes)


def test_a_vat_that_has_cooled_meanwhile_is_told(tmp_path: Path) -> None:
    made = planned_again(tmp_path, ("2", "10:30"), now="15:00")
    assert any("dip elder" in note and "at once" in note for note in made.work.notes)


def test_a_step_of_each_lot_is_named_by_its_lot(tmp_path: Path) -> None:
    with pytest.raises(NoSuchStep, match=r"“6 elder” .* “6 hazel” .* or “6 rowan”"):
        planned_again(tmp_path, ("6", "10:45"))
    with pytest.raises(NoSuchStep, match="No step is called “6 birch”"):
        planned_again(tmp_path, ("6 birch", "10:45"))
    for said in ("6 Elder", "step 6 elder"):
        made = planned_again(tmp_path, (said, "10:45"))
        assert ends(made, "dip elder in vat")[0] == 105
