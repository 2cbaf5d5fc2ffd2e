"""The modules of a check come from one file, as long as their sources are what they were."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

import procedure

TRIED = """
import sys
from procedure.command.main import main
sys.argv = ["vatwright", "check", "none.dye"]
status = main()
together = [name for name, one in sys.modules.items() if name.startswith("procedure.")
            and type(one.__spec__.loader).__name__ == "_Loader"]
print(status, "procedure.rules.rinse" in together, "procedure.trace.walk" in together)
import procedure.rules, procedure.rules.rinse as rinse
assert procedure.rules.__path__ == [procedure.rules.__file__.rpartition("/")[0]]
assert rinse.__cached__.endswith(".pyc") and rinse.__spec__.has_location
assert "def " in rinse.__loader__.get_source(rinse.__name__)
print(getattr(rinse, "ADDED", None))
"""


@pytest.fixture
def program(tmp_path: Path) -> Path:
    """The program in a folder of its own, without what a check has nothing to do with."""
    unused = shutil.ignore_patterns("__pycache__", "page", "draft", "timetable", "batch")
    home = Path(procedure.__file__).parent
    shutil.copytree(home, tmp_path / "procedure", ignore=unused)
    if not (home / "grammar").exists():  # an installed program has it inside
        shutil.copytree(home.parent / "grammar", tmp_path / "grammar")
    return tmp_path


def told(program: Path, **others: str) -> list[str]:
    """What the trial says in a new process: the status, who had the modules, what was added."""
    words = {**os.environ, "PYTHONPATH": str(program), **others}
    words.pop("PYTHONDONTWRITEBYTECODE", None)
    words |= others
    done = subprocess.run(
        [sys.executable, "-c", TRIED], env=words, cwd=program, capture_output=True, text=True
    )
    assert done.returncode == 0, done.stderr
    return done.stdout.split()


def test_they_are_kept_at_the_first_check_and_taken_from_there(program: Path) -> None:
    assert told(program) == ["2", "False", "False", "None"]
    assert told(program) == ["2", "True", "True", "None"]
    (kept,) = program.glob("procedure/command/__pycache__/imports_of_check.*")
    # What has changed is read anew, and kept so; the others are taken from there all the same.
    rinse = program / "procedure" / "rules" / "rinse.py"
    rinse.write_text(rinse.read_text("utf-8") + "\nADDED = 1\n", "utf-8")
    assert told(program) == ["2", "False", "True", "1"]
    assert told(program) == ["2", "True", "True", "1"]
    # A spoilt file, one of another place or of another Python, is none.
    data = kept.read_bytes()
    for spoilt in (b"", data[:100], data[:-9], b"\0" * 8 + data[8:]):
        kept.write_bytes(spoilt)
        assert told(program) == ["2", "False", "False", "1"]
        assert told(program) == ["2", "True", "True", "1"]


def test_python_that_is_to_write_nothing_keeps_nothing(program: Path) -> None:
    assert told(program, PYTHONDONTWRITEBYTECODE="1") == ["2", "False", "False", "None"]
    assert not list(program.glob("procedure/**/__pycache__"))


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
