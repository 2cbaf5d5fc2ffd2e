"""What takes long is told on a terminal, and nothing where the error stream is none."""

from __future__ import annotations

import io
import os
import re
import subprocess
import sys
import time
from pathlib import Path

import pytest

from procedure.command import progress
from procedure.command.printing import Shown

pty = pytest.importorskip("pty")
ROOT = Path(__file__).parents[2]
EXAMPLE = ROOT / "examples" / "first-onion-skins.dye"
SLOWLY = """
import sys
import procedure.command.progress as progress
progress.FIRST = progress.BETWEEN = progress.SOON = 0.001
was = progress.at_work
def at_work(*said):
    was(*said)  # and it is shown at once, however seldom the line's own thread comes to work
    if progress._line is not None:
        progress._line.paint()
progress.at_work = at_work
from procedure.command.main import main
raise SystemExit(main(sys.argv[1:]))
"""


def on_a_terminal(*arguments: str, cwd: Path) -> tuple[int, bytes, bytes]:
    """The status, the output and what a terminal at the error stream was sent."""
    ours, theirs = pty.openpty()
    with subprocess.Popen(
        [sys.executable, "-c", SLOWLY, *arguments],
        cwd=cwd,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=theirs,
    ) as process:
        os.close(theirs)
        sent = b""
        while True:
            try:
                piece = os.read(ours, 1000)
            except OSError:  # the other end is closed
                break
            if not piece:
                break
            sent += piece
        assert process.stdout is not None
        made = process.stdout.read()
    os.close(ours)
    return process.returncode, made, sent


def last_line(sent: bytes) -> bytes:
    """What is left on the last line of a terminal."""
    left = b""
    for part in sent.rpartition(b"\n")[2].split(b"\r"):
        left = (part + left[len(part) :]).rstrip()
    return left


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["check", "work", "--no-cache"], b"vatwright: checking, 2 of 3 ("),
        (["book", "work", "-o", "site"], b"vatwright: reading the procedures, 1 of 3 ("),
        (["timetable", "work/a.dye"], b"vatwright: looking for the shortest plan ("),
        (["handout", "work/a.dye", "-o", "a.html"], b"vatwright: setting the paper ("),
        (["chart", "work/a.dye", "-o", "a.svg"], b"vatwright: drawing ("),
    ],
)
def test_a_terminal_is_told_and_left_clean(
    arguments: list[str], told: bytes, tmp_path: Path
) -> None:
    (tmp_path / "work").mkdir()
    for name in "abc":
        (tmp_path / "work" / f"{name}.dye").write_bytes(EXAMPLE.read_bytes())
    status, made, sent = on_a_terminal(*arguments, cwd=tmp_path)
    assert status == 0 and made and told in sent
    assert last_line(sent) == b""
    plain = subprocess.run(
        [sys.executable, "-c", SLOWLY, *arguments],
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
    )
    assert plain.stderr == b"" and plain.stdout == made


def test_a_sentence_takes_the_place_of_the_line(tmp_path: Path) -> None:
    (tmp_path / "a.dye").write_bytes(b"\xff")
    status, _, sent = on_a_terminal("check", "a.dye", cwd=tmp_path)
    assert status == 2 and last_line(sent) == b""
    said = [last_line(line) for line in sent.split(b"\n")]
    assert any(line.startswith(b"vatwright: a.dye is not UTF-8 text") for line in said)


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_nothing_is_told_of_what_is_quick_and_the_line_is_wiped(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(progress, "FIRST", 600.0)  # longer than any busy machine takes
    stream = Terminal()
    with progress.telling(stream, "reading"):
        pass
    assert stream.getvalue() == ""
    with progress.telling(stream, "reading"):
        progress.at_work("checking", 1000, 2000)
        assert progress._line is not None
        progress._line.paint()
        assert re.match(r"\rvatwright: checking, 1,000 of 2,000 \(\d+ s\)", stream.getvalue())
        Shown(stream).write("said\n")
        assert last_line(stream.getvalue().rpartition("said")[0].encode()) == b""
        before = time.monotonic()
    # The end does not wait for the next time that the line would be shown.
    assert time.monotonic() - before < 300 and stream.getvalue().endswith("said\n")


@pytest.mark.parametrize("broken", [OSError, ValueError])
def test_a_terminal_that_goes_away_breaks_nothing(broken: type[Exception]) -> None:
    class Gone(Terminal):
        def write(self, text: str) -> int:
            raise broken

    with progress.telling(Gone(), "reading"):
        assert progress._line is not None
        progress._line.paint()
