"""Words finished in the shell: commands, choices, files, and names from the file at hand."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from argparse import Namespace
from pathlib import Path

import pytest

from procedure.command import completion
from procedure.command.main import COMMANDS, main

ROOT = Path(__file__).parents[2]
TANSY = str(ROOT / "examples" / "tansy-gold-and-moss.dye")


def finished(line: str, tmp_path: Path) -> list[str]:
    """What the program answers a shell in which a line was typed so far."""
    out = tmp_path / "answer"
    environment = {
        **os.environ,
        "_ARGCOMPLETE": "1",
        "_ARGCOMPLETE_STDOUT_FILENAME": str(out),
        "_ARGCOMPLETE_IFS": "\n",
        "_ARGCOMPLETE_SHELL": "bash",
        "COMP_LINE": line,
        "COMP_POINT": str(len(line)),
        "COMP_TYPE": "9",
        "PYTHONPATH": str(ROOT),
    }
    command = [sys.executable, "-m", "procedure"]
    made = subprocess.run(command, env=environment, capture_output=True, check=False)
    assert made.stdout == b"" and made.returncode == 0, made.stderr
    return [word.strip() for word in out.read_text("utf-8").split("\n")]


def test_commands_are_finished(tmp_path: Path) -> None:
    assert finished("vatwright ne", tmp_path) == ["new", "neaten"]
    assert set(finished("vatwright ", tmp_path)) == {*COMMANDS}


def test_lots_of_the_file_at_hand_are_finished(tmp_path: Path) -> None:
    assert finished(f"vatwright lots {TANSY} --only m", tmp_path) == ["moss"]


def test_names_come_from_the_file() -> None:
    asked = Namespace(file=TANSY)
    assert completion.lots("", asked) == ["yarn", "gold", "moss"]
    assert completion.lots_weighed("", asked) == ["yarn="]
    assert "fructose=" in completion.materials("", asked)
    assert completion.labels("", asked)[:2] == ["soak", "alum-bath"]
    assert "soak=" in completion.labels_done("", asked)
    assert completion.lots("", Namespace(files=[TANSY])) == ["yarn", "gold", "moss"]
    assert "entered-dry" in completion.rules("") and "madder" in completion.words("")


@pytest.mark.parametrize("name", ["", "none.dye", str(ROOT)])
def test_without_a_file_there_are_no_names(name: str) -> None:
    assert completion.lots("", Namespace(file=name)) == []
    assert completion.labels("", Namespace(file=name)) == []


@pytest.mark.parametrize("shell", completion.SHELLS)
def test_what_is_printed_is_a_program_of_that_shell(
    shell: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["completion", shell]) == 0
    printed = capsys.readouterr().out
    assert "vatwright" in printed and "ARGCOMPLETE" in printed
    if shutil.which(shell):
        file = tmp_path / "words"
        file.write_text(printed, "utf-8")
        assert subprocess.run([shell, "-n", str(file)], check=False).returncode == 0


def test_another_shell_is_refused_in_a_sentence(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["completion", "csh"]) == 2
    said = capsys.readouterr().err
    assert said.count("\n") == 1 and "csh" in said


def test_nothing_of_it_is_loaded_for_a_check() -> None:
    code = (
        "import sys; from procedure.command.main import main; main(['check', sys.argv[1]]);"
        "late = ('argcomplete', 'completion', 'helping');"
        "print([m for m in sys.modules if any(one in m for one in late)])"
    )
    made = subprocess.run(
        [sys.executable, "-c", code, TANSY], cwd=ROOT, capture_output=True, text=True, check=True
    )
    assert made.stdout.endswith("[]\n")
