"""The modules of a check come from one file, as long as their sources are what they were."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

import procedure

EXAMPLES = Path(__file__).parents[2] / "examples"
TRIED = """
import sys
from procedure.command.main import main
sys.argv = ["vatwright", "check", FILE]
status = main()
together = [name for name, one in sys.modules.items() if name.startswith("procedure.")
            and type(one.__spec__.loader).__name__ == "_Loader"]
ours = [name for name in sys.modules if name.startswith("procedure.")]
print("left out:", len(ours) - len(together), file=sys.stderr)
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


def tried(program: Path, file: str = "none.dye", **others: str) -> subprocess.Popen[str]:
    """The trial in a new process."""
    words = {**os.environ, "PYTHONPATH": str(program)}
    words.pop("PYTHONDONTWRITEBYTECODE", None)
    return subprocess.Popen(
        [sys.executable, "-c", TRIED.replace("FILE", repr(file))],
        env=words | others,
        cwd=program,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )


def told(program: Path, **others: str) -> list[str]:
    """What the trial says: the status, who had the modules, what was added."""
    process = tried(program, **others)
    out, err = process.communicate()
    assert process.returncode == 0, err
    return out.splitlines()[-2].split() + out.splitlines()[-1:]


def left_out(program: Path, file: str) -> int:
    """How many of the program's modules were not among those kept."""
    _, err = tried(program, file).communicate()
    return int(err.rpartition("left out: ")[2])


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
    half = len(data) // 2
    holed = data[:half] + b"\0" * 4096 + data[half + 4096 :]  # as after power was lost
    for spoilt in (b"", data[:100], data[:-9], b"\0" * 8 + data[8:], b"GIF89a" * 999, holed):
        kept.write_bytes(spoilt)
        assert told(program) == ["2", "False", "False", "1"]
        assert told(program) == ["2", "True", "True", "1"]


def test_what_another_check_wants_is_kept_beside_the_rest(program: Path) -> None:
    own = left_out(program, "none.dye")
    few = left_out(program, "none.dye")
    assert few < own, "the modules with which the command began, and no more"
    for example in ("faulty/colour.dye", "old-gold.dye"):
        file = str(EXAMPLES / example)
        assert left_out(program, file) > few
        assert left_out(program, file) == few
    (kept,) = program.glob("procedure/command/__pycache__/imports_of_check.*")
    before = kept.stat().st_mtime_ns
    for file in ("none.dye", str(EXAMPLES / "faulty" / "colour.dye")):
        assert left_out(program, file) == few
    assert kept.stat().st_mtime_ns == before, "it is not written again for nothing"


def test_what_is_kept_for_another_place_is_not_taken(program: Path, tmp_path: Path) -> None:
    assert told(program) == ["2", "False", "False", "None"]
    other = tmp_path / "other"
    other.mkdir()
    for folder in program.iterdir():
        if folder != other:
            shutil.copytree(folder, other / folder.name)  # with what is compiled, and its times
    assert told(other) == ["2", "False", "False", "None"]
    assert told(other) == told(program) == ["2", "True", "True", "None"]


def test_several_at_once_keep_them_once(program: Path) -> None:
    at_once = [tried(program) for _ in range(4)]
    assert all(each.communicate() and each.returncode == 0 for each in at_once)
    assert told(program) == ["2", "True", "True", "None"]
    assert len(list(program.glob("procedure/command/__pycache__/imports_of_check.*"))) == 1


def test_where_nothing_may_be_written_all_goes_on(program: Path) -> None:
    # A file in the place of the folder: to be forbidden it means nothing to an administrator.
    (program / "procedure" / "command" / "__pycache__").write_text("", "utf-8")
    assert told(program) == told(program) == ["2", "False", "False", "None"]


def test_python_that_is_to_write_nothing_keeps_nothing(program: Path) -> None:
    assert told(program, PYTHONDONTWRITEBYTECODE="1") == ["2", "False", "False", "None"]
    assert not list(program.glob("procedure/**/__pycache__"))


def test_what_keeps_its_time_and_size_and_is_another_is_read_anew(program: Path) -> None:
    assert told(program) == ["2", "False", "False", "None"]
    rinse = program / "procedure" / "rules" / "rinse.py"
    about, text = rinse.stat(), rinse.read_text("utf-8")
    rinse.write_text(text + "\nADDED = 1\n", "utf-8")
    os.utime(rinse, ns=(about.st_atime_ns, about.st_mtime_ns))
    assert told(program) == ["2", "False", "True", "1"]
    assert told(program) == ["2", "True", "True", "1"]
    # As many letters: Python's own copy goes by the second and the size. Its own is taken away.
    about = rinse.stat()
    rinse.write_text(text + "\nADDED = 2\n", "utf-8")
    os.utime(rinse, ns=(about.st_atime_ns, about.st_mtime_ns))
    for own in (rinse.parent / "__pycache__").glob("rinse.*"):
        own.unlink()
    assert told(program) == ["2", "False", "True", "2"]


def test_what_another_version_has_kept_is_not_taken(program: Path) -> None:
    assert told(program) == ["2", "False", "False", "None"]
    assert told(program) == ["2", "True", "True", "None"]
    start = program / "procedure" / "__init__.py"
    start.write_text(start.read_text("utf-8").replace('"0.1.0"', '"0.1.1"'), "utf-8")
    assert told(program) == ["2", "False", "False", "None"]
    assert told(program) == ["2", "True", "True", "None"]


def test_a_table_that_changes_is_read_anew_whatever_its_time(program: Path) -> None:
    """Each check comes upon all that the one before has kept."""
    table = program / "procedure" / "vocabulary" / "data" / "dyestuffs.csv"
    words = {**os.environ, "PYTHONPATH": str(program)}
    words.pop("PYTHONDONTWRITEBYTECODE", None)

    def known(word: str) -> bool:
        (program / "try.dye").write_text(
            f'procedure "Try"\nmaterials\n  m: {word}, dried\nsteps\n  do "look"\n', "utf-8"
        )
        made = subprocess.run(
            [sys.executable, "-m", "procedure", "check", "try.dye"],
            cwd=program,
            env=words,
            capture_output=True,
            text=True,
        )
        assert made.returncode in (0, 1), made.stderr
        return "I do not know the word" not in made.stdout

    assert known("weld")
    assert not known("wxld")
    about, text = table.stat(), table.read_text("utf-8")
    table.write_text(text.replace("weld", "wxld"), "utf-8")
    os.utime(table, ns=(about.st_atime_ns, about.st_mtime_ns))
    assert known("wxld")
    assert not known("weld")
    table.write_text(text, "utf-8")
    os.utime(table, ns=(about.st_atime_ns, about.st_mtime_ns))
    assert known("weld")
    assert not known("wxld")


def test_what_was_spoilt_while_it_was_in_use_is_not_kept(program: Path) -> None:
    """A full disk cuts Python's own copy of a module short, after the module was made."""
    cut = (
        "import sys\nfrom pathlib import Path\nfrom procedure.command.main import main\n"
        "import procedure.command.imported_together as under_test\n"
        "first = under_test.Together._imported\n"
        "def last(self):\n"
        "    for copy in Path('procedure/rules/__pycache__').glob('rinse.*'):\n"
        "        copy.write_bytes(copy.read_bytes()[:200])\n"
        "    return first(self)\n"
        "under_test.Together._imported = last\n"
        "sys.argv = ['vatwright', 'check', 'none.dye']\n"
        "raise SystemExit(main())"
    )
    words = {**os.environ, "PYTHONPATH": str(program)}
    words.pop("PYTHONDONTWRITEBYTECODE", None)
    made = subprocess.run(
        [sys.executable, "-c", cut], cwd=program, env=words, capture_output=True, text=True
    )
    assert made.returncode == 2
    assert "Traceback" not in made.stderr
    for own in (program / "procedure" / "rules" / "__pycache__").glob("rinse.*"):
        own.unlink()
    assert told(program) == ["2", "False", "True", "None"]
