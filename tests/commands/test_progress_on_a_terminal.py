"""What takes long tells on a real terminal what it is at, and takes that away again."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

pty = pytest.importorskip("pty", reason="only some systems have terminals of this kind")

ROOT = Path(__file__).parents[2]
PLAN = ROOT / "examples" / "plans" / "workshop-day.dye"
# The line is written from the beginning, so that no test waits for what takes long.
AT_ONCE = """
import sys
from procedure.command import progress
progress.FIRST = progress.BETWEEN = 0.001
from procedure.command.main import main
sys.exit(main(sys.argv[1:]))
"""


def on_a_terminal(*words: str, cwd: Path) -> str:
    """What a command writes to its error stream where that is a terminal."""
    mine, its = pty.openpty()
    process = subprocess.Popen(
        [sys.executable, "-c", AT_ONCE, *words],
        cwd=cwd,
        env=os.environ | {"PYTHONPATH": str(ROOT)},
        stdout=subprocess.DEVNULL,
        stderr=its,
    )
    os.close(its)
    said = b""
    while True:
        try:
            more = os.read(mine, 65536)
        except OSError:  # Linux says so that nobody has the other end any more
            more = b""
        if not more:
            break
        said += more
    os.close(mine)
    process.wait()
    return said.decode("utf-8")


@pytest.mark.parametrize(
    ("words", "at"),
    [
        (("check", ".", "--no-cache"), "checking, "),
        (("book", ".", "-o", "book"), " of 12 ("),
        (("timetable", "plan-0.dye", "-o", "plan.json"), "vatwright: "),
        (("handout", "plan-0.dye", "-o", "plan.pdf"), "vatwright: "),
    ],
    ids=["folder", "book", "timetable", "pdf"],
)
def test_it_is_told_and_wiped(words: tuple[str, ...], at: str, tmp_path: Path) -> None:
    for number in range(12):
        shutil.copy(PLAN, tmp_path / f"plan-{number}.dye")
    said = on_a_terminal(*words, cwd=tmp_path)
    assert at in said and "s)" in said
    # The last line of it is wiped: what is left there is blank, or is what the command says.
    left = said.rsplit(" s)", 1)[1]
    assert left.startswith("\r") and left.split("\r")[1].isspace(), repr(left)
    assert "\x1b" not in said


def test_nothing_is_told_where_it_is_no_terminal(tmp_path: Path) -> None:
    shutil.copy(PLAN, tmp_path / "plan.dye")
    made = subprocess.run(
        [sys.executable, "-c", AT_ONCE, "check", "plan.dye"],
        cwd=tmp_path,
        env=os.environ | {"PYTHONPATH": str(ROOT)},
        capture_output=True,
        check=False,
    )
    assert made.stderr == b""
