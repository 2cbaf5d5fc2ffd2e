"""Many records: those of changed, missing and other procedures, copies, and names that are one."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from test_own_units import SKEINS, plan_of, put

from procedure.batch.form import form
from procedure.batch.from_plan import planned_batch
from procedure.batch.record_among import alike
from procedure.command.main import main


def record(folder: Path, name: str, *changes: tuple[str, str], colour: str = "") -> Path:
    text = form(planned_batch(plan_of()))
    text = put(text, ("day ____", "2026-08-23"), ("by ____", '"Ash"'))
    if colour:
        text = put(text, ("colour ____", colour))
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new, 1)
    path = folder / f"{name}.batch"
    path.write_text(text, "utf-8")
    return path


YELLOW = "Lab 70 5 60 under D65 at 10°"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "skeins.dye").write_text(SKEINS, "utf-8")
    other = SKEINS.replace("Goldenrod, six skeins", "Madder").replace("goldenrod", "madder")
    (tmp_path / "madder.dye").write_text(other, "utf-8")
    return tmp_path


def report(folder: Path, capsys: pytest.CaptureFixture[str], *more: str) -> tuple[str, str]:
    assert main(["batches", str(folder), *more]) == 0
    said = capsys.readouterr()
    return " ".join(said.out.split()), " ".join(said.err.split())


def test_a_record_of_another_procedure_is_in_no_mean(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    record(folder, "a", colour=YELLOW)
    record(
        folder, "b", ('of "skeins.dye"', 'of "madder.dye"'), colour="Lab 40 50 30 under D65 at 10°"
    )
    out, _ = report(folder, capsys)
    assert (
        "b.batch is of “Goldenrod, six skeins”, and the procedure that it names is another" in out
    )
    assert "mean of 1 batch: " in out


def test_changed_missing_and_unnamed_procedures_are_told(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    record(folder, "a", colour=YELLOW)
    record(folder, "b", ('content "', 'content "00'), colour=YELLOW)
    record(folder, "c", ('of "skeins.dye"', 'of "gone.dye"'), colour=YELLOW)
    record(folder, "d", ('  of "skeins.dye"\n', ""), colour=YELLOW)
    out, _ = report(folder, capsys)
    assert "1 record is of a procedure that has changed since: b.batch." in out
    assert "1 record is of a procedure that is not where the record says: c.batch." in out
    assert "1 record is of a procedure that the record does not name: d.batch." in out
    assert "mean of 4 batches" in out
    made = json.loads(report(folder, capsys, "--format", "json")[0])
    assert [one["procedure"] for one in made["batches"]] == [
        "same", "changed", "missing", "unnamed",
    ]  # fmt: skip
    assert len(made["remarks"]) == 3


def test_one_record_twice_is_counted_once(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = record(folder, "a", ("with alum ____", "with alum 1.4 oz"), colour=YELLOW)
    (folder / "copy of a.batch").write_bytes(path.read_bytes())
    out, err = report(folder, capsys)
    assert out.startswith("1 batch.") and "alum: 1.4 oz in 1 batch" in out
    assert "copy of a.batch says what " in err and "a.batch says, and is counted once." in err


def test_records_of_one_name_and_day_are_told_apart(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for number, name in enumerate("abc"):
        record(folder, name, colour=f"Lab {70 - number} 5 60 under D65 at 10°")
    out, _ = report(folder, capsys)
    for name in "abc":
        assert f"Goldenrod, six skeins ({name}.batch)" in out
    assert "furthest: Goldenrod, six skeins (" in out


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        ("Ash", "ash", True),
        ("Weld on wool", "Weld-on wool", True),
        ("Linden", "Lindon", True),
        ("Goldenrod, six skeins", "Goldenrod, six skiens", True),
        ("yarn", "yarn-2", False),
        ("silk-a", "silk-b", False),
        ("lot 1", "lot 2", False),
        ("Weld on wool", "Weld on silk", False),
        ("Ash", "Ask", False),
        ("wool", "wood", False),
    ],
)
def test_names_that_may_be_one(one: str, other: str, same: bool) -> None:
    assert alike(one, other) is same and alike(other, one) is same


def test_a_name_spelt_in_two_ways_is_told(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    record(folder, "a", colour=YELLOW)
    record(folder, "b", ('by "Ash"', 'by "ash"'), colour=YELLOW)
    out, _ = report(folder, capsys)
    assert "“Ash” and “ash” may be one name among the people" in out


def test_lights_that_are_mixed_are_told(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    record(folder, "a", colour=YELLOW)
    record(folder, "b", colour="Lab 70 5 60 under D50 at 2°")
    out, _ = report(folder, capsys)
    assert "1 of them measured under D50/2°, brought to D65/10° by the Bradford adaptation" in out


def test_data_have_null_for_what_is_not_known_and_each_deviation(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    record(folder, "a", ("to ____ planned 180 °F", "to 188 °F planned 180 °F"))
    made = json.loads(report(folder, capsys, "--format", "json")[0])
    (one,) = made["batches"]
    assert "" not in one.values() and one["L*"] is None and one["hex"] is None
    (strayed,) = one["strayed"]
    assert strayed["what"] == "to" and strayed["by"] == pytest.approx(40 / 9, abs=1e-3)
    assert strayed["sentence"] == "Reached 188 °F, planned 180 °F: 8 °F hotter."


def test_the_wrong_kind_of_file_gives_one_sentence(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = record(folder, "a")
    for command in (["handout"], ["check"], ["timetable"], ["weigh"], ["neaten"]):
        assert main([*command, str(path)]) == 2
        said = capsys.readouterr()
        assert (
            said.err.count("\n") == 1 and "is the record of a batch, and no procedure" in said.err
        )
    (folder / "renamed.batch").write_text(SKEINS, "utf-8")
    assert main(["record", str(folder / "renamed.batch"), "--check"]) == 2
    said = capsys.readouterr()
    assert said.err.count("\n") == 1 and "is a procedure, and no record" in said.err
    assert main(["batches", str(folder / "skeins.dye")]) == 2
    said = capsys.readouterr()
    assert said.err.count("\n") == 1 and "is no record" in said.err
