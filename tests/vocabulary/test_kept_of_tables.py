"""What is kept of the tables is what would be made of them now, by code of known folders alone."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from procedure.command import check
from procedure.quantity import kept_ready
from procedure.vocabulary import data_files
from procedure.vocabulary.data_files import KEPT

assert check  # what a check imports has marked all that is kept for it

# Says which rooms of the program have a part in what is made of the tables.
MAKING = """
import sys
from importlib import import_module
import procedure.vocabulary.data_files as data_files
import_module({module!r})
data_files.kept_together = lambda path, made, folders: made()
rooms = set()
def heard(frame, event, argument):
    file = frame.f_code.co_filename
    if event == "call" and "/procedure/" in file and frame.f_code.co_name != "<module>":
        rooms.add(file.rpartition("/")[0].rpartition("/procedure/")[2])
sys.setprofile(heard)
data_files.KEPT[{name!r}]()
sys.setprofile(None)
print(*sorted(rooms))
"""


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


@pytest.mark.parametrize("name", sorted(KEPT))
def test_it_is_made_by_its_own_room_and_the_vocabulary_alone(name: str) -> None:
    module = KEPT[name].__module__
    done = subprocess.run(
        [sys.executable, "-c", MAKING.format(module=module, name=name)],
        env={**os.environ, "PYTHONPATH": str(Path(data_files.__file__).parents[2])},
        capture_output=True,
        text=True,
    )
    assert done.returncode == 0, done.stderr
    own = module.removeprefix("procedure.").rpartition(".")[0].replace(".", "/")
    assert own in done.stdout and set(done.stdout.split()) <= {own, "vocabulary", "quantity"}
