"""The same text says the same every time, however a process hashes its words."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]


def said(seed: int, *arguments: str) -> list[str]:
    """The digests of all outputs of a process that hashes words by a seed."""
    made = subprocess.run(
        [sys.executable, str(ROOT / "tests" / "fuzz" / "outputs.py"), *arguments],
        env={**os.environ, "PYTHONHASHSEED": str(seed), "PYTHONPATH": str(ROOT)},
        capture_output=True,
        check=True,
        text=True,
    )
    return made.stdout.splitlines()


def test_two_processes_say_the_same_of_the_faulty_examples_and_some_mutants() -> None:
    first, second = (said(seed, "4", "json") for seed in (1, 2))
    assert len(first) == 11 + 4 + 1 and first == second


@pytest.mark.exhaustive
def test_two_processes_say_the_same_of_everything() -> None:
    first, second = (said(seed, "1000") for seed in (1, 2))
    assert len(first) > 6000 and first == second
