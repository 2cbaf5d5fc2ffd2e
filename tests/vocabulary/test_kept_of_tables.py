"""What is kept of the tables is what would be made of them now, by code of known folders alone."""

from __future__ import annotations

import marshal
import os
import subprocess
import sys
from pathlib import Path

import pytest

from procedure.command import check
from procedure.quantity import kept_ready
from procedure.vocabulary import data_files
from procedure.vocabulary.data_files import KEPT

HOME = str(Path(data_files.__file__).parents[2])
assert check  # what a check imports has marked all that is kept for it

# Says which files of the program have a part in what is made of the tables: those of the functions
# that are called, and those from which these have anything by its name, a constant too.
MAKING = """
import ast, sys
from functools import cache
from importlib import import_module
import procedure.vocabulary.data_files as data_files
import_module({module!r})
data_files.kept_together = lambda path, made, folders: made()
@cache
def imports(file):
    with open(file, encoding="utf-8") as source:
        nodes = ast.walk(ast.parse(source.read()))
    froms = [each for each in nodes if type(each) is ast.ImportFrom]
    return {{one.asname or one.name: each.module for each in froms for one in each.names}}
codes = set()
def heard(frame, event, argument):
    file = frame.f_code.co_filename
    if event == "call" and "/procedure/" in file and frame.f_code.co_name != "<module>":
        codes.add(frame.f_code)
sys.setprofile(heard)
data_files.KEPT[{name!r}]()
sys.setprofile(None)
files = {{code.co_filename.rpartition("/procedure/")[2] for code in codes}}
for code in codes:
    named = (imports(code.co_filename).get(name, "") for name in code.co_names)
    made_in = (sys.modules[each].__file__ for each in named if each.startswith("procedure."))
    files |= {{file.rpartition("/procedure/")[2] for file in made_in}}
print(*sorted(files))
"""
# How tables and answers are kept, and numbers and records are made: nothing of what is in them.
OF_ANY = {
    "quantity/kept_answers.py",
    "quantity/kept_ready.py",
    "quantity/exact.py",
    "quantity/ready_patterns.py",
    "quantity/record.py",
}


@pytest.mark.parametrize("name", sorted(KEPT))
def test_what_is_kept_is_what_is_made_now(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "dont_write_bytecode", False)
    kept_ready._stamp.cache_clear()
    made = KEPT[name]
    folders = (os.path.dirname(made.__code__.co_filename), data_files.DATA)  # noqa: PTH120
    home = os.path.dirname(data_files.__file__)  # noqa: PTH120
    path = f"{data_files.DATA}/{name}"
    kept = kept_ready.kept_together(path, made, (folders[0], home, folders[1]))
    assert kept == made()


def test_it_is_the_same_under_another_seed_of_hashes() -> None:
    code = (
        "import marshal, sys; from procedure.command import check\n"
        "from procedure.vocabulary.data_files import KEPT\n"
        "sys.stdout.buffer.write(marshal.dumps({name: KEPT[name]() for name in KEPT}))"
    )
    here, there, yonder = (
        marshal.loads(
            subprocess.run(
                [sys.executable, "-c", code],
                env={**os.environ, "PYTHONPATH": HOME, "PYTHONHASHSEED": seed},
                capture_output=True,
                check=True,
            ).stdout
        )
        for seed in ("1", "2", "3")
    )
    assert here.keys() == KEPT.keys()
    for name, made in here.items():
        assert made == there[name] == yonder[name], name


@pytest.mark.parametrize("name", sorted(KEPT))
def test_it_is_made_by_its_own_room_and_the_vocabulary_alone(name: str) -> None:
    module = KEPT[name].__module__
    done = subprocess.run(
        [sys.executable, "-c", MAKING.format(module=module, name=name)],
        env={**os.environ, "PYTHONPATH": HOME},
        capture_output=True,
        text=True,
    )
    assert done.returncode == 0, done.stderr
    own = module.removeprefix("procedure.").rpartition(".")[0].replace(".", "/")
    rooms = {file.rpartition("/")[0] for file in {*done.stdout.split()} - OF_ANY}
    assert own in rooms and rooms <= {own, "vocabulary"}, done.stdout
