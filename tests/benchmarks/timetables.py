"""How long a timetable of each example and plan takes to make. See README.md here.

Run ``python tests/benchmarks/timetables.py``, or with names of examples.
"""

from __future__ import annotations

import sys
import time
from datetime import datetime
from pathlib import Path

import procedure
from procedure.collection.opening_hours import Hours
from procedure.timetable import Timetable, fitted
from procedure.timetable.first_plan import first_plan
from procedure.timetable.from_plans import work_of
from procedure.timetable.terms import Asked

EXAMPLES = Path(__file__).parents[2] / "examples"
BEGINS = datetime(2099, 11, 28, 9)


def main(names: list[str]) -> None:
    """Print a line for each: steps, seconds, seconds by the loop, minutes of the plan, the gap."""
    # The solver is loaded once, before anything is timed.
    from ortools.sat.python import cp_model

    assert cp_model
    head = f"{'procedure':34}{'steps':>6}{'first':>8}{'all':>8}{'loops':>8}"
    print(f"{head}{'length':>8}{'within':>8}")
    for folder in (EXAMPLES, EXAMPLES / "standard", EXAMPLES / "plans"):
        for file in sorted(folder.glob("*.dye")):
            if names and file.stem not in names:
                continue
            work = work_of([procedure.load(file)], Asked(BEGINS, Hours())).work
            began = time.process_time()
            first_plan(work)
            first = time.process_time() - began
            made = fitted(work).made
            whole = time.process_time() - began - first
            loops = whole / _loop()
            told = f"{made.finish:8}{made.within:8.1%}" if isinstance(made, Timetable) else "  none"
            took = f"{first:8.2f}{whole:8.2f}{loops:8.1f}"
            print(f"{file.stem:34}{len(work.activities):6}{took}{told}")


def _loop() -> float:
    """The seconds of a million turns of a plain loop, for a machine is faster now and then."""
    began, total = time.process_time(), 0
    for number in range(1_000_000):
        total += number * number
    return time.process_time() - began


if __name__ == "__main__":
    main(sys.argv[1:])
