"""``vatwright neaten``: files laid out in place, shown, or only looked at."""

from __future__ import annotations

import io
import os
from pathlib import Path

import pytest

from procedure.command.main import main

ROUGH = b'procedure   "x"\r\nsteps:\r\n    rinse yarn for 5 min in tub   # so\r\n'
NEAT = b'procedure "x"\r\n\r\nsteps\r\n  rinse yarn in tub for 5 min  # so\r\n'


@pytest.fixture
def rough(tmp_path: Path) -> Path:
    file = tmp_path / "a.dye"
    file.write_bytes(ROUGH)
    return file


def test_a_file_is_laid_out_and_then_left_alone(
    rough: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["neaten", str(rough)]) == 0
    assert rough.read_bytes() == NEAT
    assert "laid out anew" in capsys.readouterr().out
    stamp = rough.stat().st_mtime_ns
    assert main(["neaten", str(rough)]) == 0
    assert capsys.readouterr().out == f"{rough} is neat already.\n"
    assert rough.stat().st_mtime_ns == stamp


def test_verify_tells_and_changes_nothing(rough: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["neaten", "--verify", str(rough.parent)]) == 1
    assert "is not neat" in capsys.readouterr().out
    assert rough.read_bytes() == ROUGH
    rough.write_bytes(NEAT)
    assert main(["neaten", "--verify", str(rough.parent)]) == 0
    assert capsys.readouterr().out == ""


def test_preview_shows_the_lines_and_changes_nothing(
    rough: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["neaten", "--preview", str(rough)]) == 0
    shown = capsys.readouterr().out
    assert "\n-steps:\n" in shown and "\n+steps\n" in shown
    assert rough.read_bytes() == ROUGH


def test_standard_input_is_printed_neat(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(ROUGH.replace(b"\r", b""))))
    assert main(["neaten", "-"]) == 0
    assert capsys.readouterr().out == NEAT.decode().replace("\r", "")


def test_other_units_are_written_and_told(rough: Path, capsys: pytest.CaptureFixture[str]) -> None:
    rough.write_bytes(b'procedure "x"\nsteps\n  rinse yarn in tub with water 5 L at 30 \xc2\xb0C\n')
    assert main(["neaten", "--units", "us", str(rough)]) == 0
    assert "with water 1.32 US gal at 86 °F" in rough.read_text("utf-8")
    said = capsys.readouterr().err
    assert f"{rough}, line 4: 5 L is 1.32 US gal, rounded by 0.065 %." in said
    assert "86" not in said.replace(str(rough), "")


@pytest.mark.parametrize(
    ("data", "wanted"),
    [
        (b"Take a pound of wool and a pinch of alum, my dear.\n", "cannot be read"),
        (b"\xff\xfe\x00", "is not a text file"),
        (b"steps\n  \xe9tuve yarn\n", "is not UTF-8 text"),
        (b'procedure "x"\nsteps\n  rinse yarn in in tub\n', "line 3 cannot be read"),
    ],
)
def test_what_cannot_be_laid_out_stays_whole(
    rough: Path, data: bytes, wanted: str, capsys: pytest.CaptureFixture[str]
) -> None:
    rough.write_bytes(data)
    assert main(["neaten", str(rough)]) == 2
    said = capsys.readouterr().err
    assert wanted in said and said.count("\n") == 1
    assert rough.read_bytes() == data


def test_no_file_no_folder_and_two_wishes(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["neaten", str(tmp_path / "none.dye")]) == 2
    assert main(["neaten", str(tmp_path)]) == 2
    assert main(["neaten", "--preview", "--verify", "x.dye"]) == 2
    assert capsys.readouterr().err.count("\n") == 3


@pytest.mark.skipif(os.geteuid() == 0, reason="the superuser may write to anything")
def test_a_file_that_may_not_be_written_stays(
    rough: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    rough.chmod(0o444)
    assert main(["neaten", str(rough)]) == 2
    assert "may not be written" in capsys.readouterr().err
