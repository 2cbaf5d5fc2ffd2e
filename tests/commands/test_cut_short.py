"""A compiled copy that a full disk cut short is told of, and is gone the next time."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from procedure.command.cut_short import sentence

ROOT = Path(__file__).parents[2]
COMMAND = [sys.executable, "-m", "procedure", "weigh", str(ROOT / "examples" / "old-gold.dye")]


def run(copies: Path) -> subprocess.CompletedProcess[str]:
    """A command whose compiled copies are in a folder of their own."""
    words = {**os.environ, "PYTHONPATH": str(ROOT), "PYTHONPYCACHEPREFIX": str(copies)}
    words.pop("PYTHONDONTWRITEBYTECODE", None)
    return subprocess.run(COMMAND, env=words, capture_output=True, text=True, check=False)


def test_it_is_told_and_the_next_run_is_well(tmp_path: Path) -> None:
    first = run(tmp_path)
    assert first.returncode in (0, 1)
    spoilt = []
    for name in ("printing", "weigh"):
        (copy,) = tmp_path.rglob(f"command/{name}.*.pyc")
        whole = copy.read_bytes()
        copy.write_bytes(whole[: len(whole) // 2])
        spoilt.append(copy)
    for copy in spoilt:
        made = run(tmp_path)
        assert (made.returncode, made.stdout) == (2, "")
        assert made.stderr.startswith(f"vatwright: {copy} was cut short")
        assert made.stderr.count("\n") == 1 and not copy.exists()
    again = run(tmp_path)
    assert (again.returncode, again.stdout) == (first.returncode, first.stdout)


def test_other_mistakes_are_not_taken_for_it() -> None:
    with pytest.raises(ValueError) as caught:
        int("ten")
    assert sentence(caught.value) is None
