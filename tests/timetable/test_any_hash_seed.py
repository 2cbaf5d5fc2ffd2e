"""The programme that the solver is given is the same whatever Python's seed of hashes is."""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]
SCRIPT = """
import datetime, hashlib, procedure
from procedure.collection.opening_hours import Hours
from procedure.timetable.terms import Asked
from procedure.timetable.from_plans import work_of
from procedure.timetable.programme import build
plan = procedure.load("examples/three-lots-one-bath.dye")
work = work_of([plan], Asked(datetime.datetime(2026, 11, 28, 9), Hours())).work
print(hashlib.sha256(str(build(work).model.proto).encode()).hexdigest())
"""


def test_the_programme_is_the_same_under_another_seed_of_hashes() -> None:
    told = set()
    for seed in ("0", "1", "2"):
        env = {**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": str(ROOT)}
        ran = subprocess.run(
            [sys.executable, "-c", SCRIPT], cwd=ROOT, env=env, capture_output=True, text=True
        )
        assert ran.returncode == 0, ran.stderr
        assert len(ran.stdout.strip()) == hashlib.sha256().digest_size * 2
        told.add(ran.stdout)
    assert len(told) == 1
