"""How a command ends: all is sent, what waits for the end is done, and the status is right."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

OLD_GOLD = str(Path(__file__).parents[2] / "examples" / "old-gold.dye")
SHADES = str(Path(__file__).parents[2] / "examples" / "faulty" / "colour.dye")
FULL = Path("/dev/full")


def ended(*arguments: str, before: tuple[str, ...] = ("-m", "procedure")) -> tuple[int, str]:
    """The status and the output of a command in a process of its own."""
    made = subprocess.run(
        [sys.executable, *before, *arguments], capture_output=True, text=True, check=False
    )
    return made.returncode, made.stdout


def test_what_waits_for_the_end_is_done_though_the_process_ends_at_once(tmp_path: Path) -> None:
    code = (
        "import atexit, sys\natexit.register(print, 'at the end')\n"
        "from procedure.command.main import from_a_shell\n"
        "sys.argv = ['vatwright', 'check', 'none.dye']\nfrom_a_shell()\nprint('never')"
    )
    made = subprocess.run(
        [sys.executable, "-c", code], cwd=tmp_path, capture_output=True, text=True, check=False
    )
    assert (made.returncode, made.stdout) == (2, "at the end\n")
    assert "none.dye" in made.stderr


@pytest.mark.parametrize(("file", "status"), [(OLD_GOLD, 0), (SHADES, 1), ("none.dye", 2)])
def test_all_that_is_said_arrives_whatever_it_is_sent_to(
    file: str, status: int, tmp_path: Path
) -> None:
    code, said = ended("check", file)
    with (tmp_path / "said.txt").open("w", encoding="utf-8") as out:
        command = [sys.executable, "-m", "procedure", "check", file]
        to_a_file = subprocess.run(command, stdout=out, stderr=subprocess.PIPE, check=False)
    assert (code, to_a_file.returncode) == (status, status)
    assert (tmp_path / "said.txt").read_text("utf-8") == said
    assert (said == "") is (status == 2)


@pytest.mark.skipif(not FULL.exists(), reason="no device that is always full here")
def test_where_the_errors_cannot_be_told_the_status_is_that_it_could_not_run() -> None:
    with FULL.open("wb") as full:
        command = [sys.executable, "-m", "procedure", "check", "none.dye"]
        assert subprocess.run(command, stderr=full, check=False).returncode == 2


def test_a_profile_is_written_by_whoever_began_it(tmp_path: Path) -> None:
    profile = tmp_path / "profile"
    before = ("-m", "cProfile", "-o", str(profile), "-m", "procedure")
    assert ended("check", OLD_GOLD, before=before) == ended("check", OLD_GOLD)
    assert profile.stat().st_size > 1000
