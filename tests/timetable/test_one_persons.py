"""What is told to one participant: what is done to their own lots, and when they are free."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from blue_vat import AFTER, BEFORE, EACH

from procedure.command.main import main

GIVEN = ["--start", "2099-11-28 09:00", "--hours", "9-18", "--hands", "Teacher"]
GIVEN += ["--participants", "Elder,Hazel,Rowan"]


def told(folder: Path, who: str, capsys: pytest.CaptureFixture[str], steps: str = EACH) -> str:
    file = folder / "turns.dye"
    file.write_text(BEFORE + steps + AFTER, encoding="utf-8")
    assert main(["timetable", str(file), *GIVEN, "--who", who]) == 0
    return " ".join(capsys.readouterr().out.split())


def test_a_participant_is_told_of_the_own_lot_and_of_no_other(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    said = told(tmp_path, "Hazel", capsys)
    assert "The part of Hazel, with 30 min of hands-on work" in said
    assert said.count("Dip hazel in vat") == 3
    assert "Wet out elder, hazel and rowan in tub: 5 min [Teacher]" in said, "others do it for her"
    for other in ("Dip elder", "Air rowan", "Stand vat", "All are free", "What can give"):
        assert other not in said, other


def test_a_participant_is_told_when_the_own_hands_are_free(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    said = told(tmp_path, "Elder", capsys, EACH.replace("for 10 min", "for 40 min"))
    # From the hanging up of one round to the dip of the next: 40 minutes less 5.
    assert "Free from 10:30 to 11:05." in said


def test_a_participant_is_told_of_the_time_before_the_first_own_step(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    said = told(tmp_path, "Rowan", capsys)
    first = re.search(r"Free from 09:00 to (\d\d:\d\d)\. .*?(\d\d:\d\d) \d+ Dip rowan", said)
    assert first is not None and first[1] == first[2]


def test_a_teacher_is_told_of_what_goes_on_by_itself_and_has_to_be_looked_after(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    said = told(tmp_path, "Teacher", capsys)
    assert "Stand vat" in said and "stay near for “stand vat”" in said and "What can give" in said
