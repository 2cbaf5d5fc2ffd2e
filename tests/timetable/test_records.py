"""A record that a timetable is to go on from: read whole, and of this very procedure."""

from __future__ import annotations

from pathlib import Path

import pytest
from onion_day import ONION

import procedure
from procedure.batch.form import form
from procedure.batch.from_plan import planned_batch
from procedure.command.main import main

OTHER = (
    ONION.replace("Onion in one short day", "Weld and moss")
    .replace("skins: onion skins", "weld: weld")
    .replace("skins 50 g", "weld 50 g")
)


def recorded(folder: Path, begun: str = "09:25", ended: str = "11:00") -> str:
    """The form of the procedure, with when its third step began and ended."""
    plan = folder / "onion.dye"
    plan.write_text(ONION, encoding="utf-8")
    text = form(planned_batch(procedure.load(plan))).replace("day ____", "day 2099-11-28", 1)
    before, third, after = text.partition("  step 3 ")
    after = after.replace("begun ____", f"begun {begun}", 1)
    after = after.replace("ended ____", f"ended {ended}", 1)
    file = folder / "onion.batch"
    file.write_text(before + third + after, encoding="utf-8")
    return str(file)


def planned(folder: Path, text: str, record: str, capsys: pytest.CaptureFixture[str]) -> str:
    file = folder / "plan.dye"
    file.write_text(text, encoding="utf-8")
    status = main(["timetable", str(file), "--record", record, "--now", "2099-11-28 12:00"])
    made = capsys.readouterr()
    assert (status == 0) == bool(made.out) and status in (0, 2)
    return " ".join((made.out + made.err).replace("\u202f", " ").split())


def test_a_line_that_cannot_be_read_ends_it_with_its_place(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    record = recorded(tmp_path, ended="25:99")
    lines = Path(record).read_text(encoding="utf-8").splitlines()
    line = next(number for number, text in enumerate(lines, 1) if "25:99" in text)
    said = planned(tmp_path, ONION, record, capsys)
    assert f"onion.batch, line {line}: “25:99” is no time of day. Write hours:minutes" in said


def test_of_many_such_lines_the_first_are_told_and_how_many_more(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    record = Path(recorded(tmp_path))
    text = record.read_text(encoding="utf-8").replace("begun ____", "begun 77:77")
    wrong = text.replace("ended ____", "ended 88:88")
    record.write_text(wrong, encoding="utf-8")
    said = planned(tmp_path, ONION, str(record), capsys)
    count = wrong.count("77:77") + wrong.count("88:88")
    assert count < 6 or f"{count - 6} more; “vatwright record" in said
    assert min(count, 6) == said.count("is no time of day")


def test_a_record_of_another_procedure_says_nothing_of_this(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    said = planned(tmp_path, OTHER, recorded(tmp_path), capsys)
    assert (
        "The record is of “Onion in one short day”, and this procedure is “Weld and moss”" in said
    )
    assert "Done by" not in said


def test_what_is_done_is_known_by_its_meaning_where_a_new_step_moved_the_numbers(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    record = recorded(tmp_path)
    assert "3 Done by 11:00: simmer gold-bath" in planned(tmp_path, ONION, record, capsys)
    moved = ONION.replace("  brew:", "  stand gold-bath for 10 min covered\n  brew:")
    assert "4 Done by 11:00: simmer gold-bath" in planned(tmp_path, moved, record, capsys)


def test_a_step_that_is_no_longer_in_the_procedure_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    record = Path(recorded(tmp_path))
    text = record.read_text(encoding="utf-8")
    with_more = text.replace(
        "\nresults", '\n  step 9 "steam yarn over pot"\n    begun 11:10\n    ended 11:20\n\nresults'
    )
    assert with_more != text
    record.write_text(with_more.replace('content "', 'content "0'), encoding="utf-8")
    said = planned(tmp_path, ONION, str(record), capsys)
    assert "Step 9 “steam yarn over pot” of the record is not in the procedure any more" in said
    assert "Done by 11:20" not in said
