"""``python -m tests.fuzz --minutes 30`` tries hostile input until the time is over.

Every failure of a new kind is made smaller, told, and with ``--keep`` stored in the corpus,
which the tests try again for ever. The exit status is 1 where anything failed. ``--seed``
repeats a run; without it, each day tries its own.
"""

from __future__ import annotations

import argparse
import contextlib
import gc
import hashlib
import os
import resource
import tempfile
import time
from datetime import date
from pathlib import Path
from random import Random

from hostile_commands import SLOW, command
from hostile_shapes import Shapes
from smaller import smaller
from trials import Trial, amiss

CORPUS = Path(__file__).parent / "corpus"
MOST_MEMORY = 3_000_000_000  # bytes of address space
A_SWEEP = 500
A_REPORT = 50_000  # trials: that a long run which is ended has told how far it came


def main() -> int:
    """Try until the time or the number of trials is over; 1 where anything failed, else 0."""
    parser = argparse.ArgumentParser(prog="python -m tests.fuzz", description=__doc__)
    parser.add_argument("--minutes", type=float, default=2)
    parser.add_argument("--trials", type=int, default=10**9, help="end after so many, if sooner")
    parser.add_argument("--seed", type=int, default=date.today().toordinal())
    parser.add_argument("--commands", type=float, default=0.15, help="the share of command runs")
    parser.add_argument(
        "--lines", type=int, default=0, help="cut each text to a piece of so many lines at most"
    )
    parser.add_argument(
        "--slow", type=float, default=SLOW, help="the share of PDFs and timetables in the commands"
    )
    parser.add_argument("--keep", action="store_true", help="store what fails in the corpus")
    asked = parser.parse_args()
    resource.setrlimit(resource.RLIMIT_AS, (MOST_MEMORY, MOST_MEMORY))
    cache = tempfile.TemporaryDirectory()
    os.environ["XDG_CACHE_HOME"] = cache.name  # nothing remembered from elsewhere, nor kept
    shapes = Shapes(asked.seed)
    counts = {"reads": 0, "commands": 0}
    failed: dict[str, int] = {}
    slowest = 0.0
    gc.disable()
    end = time.monotonic() + asked.minutes * 60
    while time.monotonic() < end and sum(counts.values()) < asked.trials:
        is_command = shapes.random.random() < asked.commands
        trial = command(shapes, asked.slow) if is_command else _reading(shapes, asked.lines)
        began = time.process_time()
        wrong = amiss(trial)
        slowest = max(slowest, time.process_time() - began)
        counts["commands" if is_command else "reads"] += 1
        if sum(counts.values()) % A_SWEEP == 0:
            _sweep()
        if sum(counts.values()) % A_REPORT == 0:
            _report("so far", counts, failed, slowest)
        if wrong:
            kind = wrong.rpartition(": ")[0] or wrong
            failed[kind] = failed.get(kind, 0) + 1
            if failed[kind] == 1:
                _tell(wrong, smaller(trial, kind), asked.keep)
    _report(f"seed {asked.seed}", counts, failed, slowest)
    for kind, number in sorted(failed.items(), key=lambda each: -each[1]):
        print(f"{number:6}  {kind}")
    return 1 if failed else 0


def _sweep() -> None:
    """Let go of what hangs together in circles, and do not look again through what is kept.

    What the program keeps of lines and words are a million small records and no circles. To go
    through them again and again took a third of a long run.
    """
    gc.collect()
    gc.freeze()


def _report(what: str, counts: dict[str, int], failed: dict[str, int], slowest: float) -> None:
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024
    print(
        f"{what}: {counts['reads']:,} texts read, {counts['commands']:,} commands run; "
        f"{sum(failed.values()):,} failed in {len(failed)} ways; "
        f"slowest {slowest:.1f} s, peak {peak} MB",
        flush=True,
    )


def _reading(shapes: Shapes, most: int) -> Trial:
    text = shapes.text()
    return Trial({"main": piece_of(text, most, shapes.random) if most else text})


def piece_of(text: str, most: int, random: Random) -> str:
    """Some lines in a row of a text, three to ``most``, below the heading that they are below.

    What goes wrong with a line mostly does so in a piece as well, which is read in a fifteenth
    of the time.
    """
    lines = text.split("\n")
    count = random.randint(3, max(3, most - 1))
    at = random.randrange(max(1, len(lines) - count + 1))
    headings = [line for line in lines[:at] if line[:1].strip() and not line.startswith("#")]
    return "\n".join([*headings[-1:], *lines[at : at + count]])


def _tell(wrong: str, trial: Trial, keep: bool) -> None:
    print(f"{wrong}\n  {list(trial.arguments)} {str(dict(trial.files))[:600]}", flush=True)
    if keep:
        name = hashlib.sha256(trial.stored().encode()).hexdigest()[:12]
        with contextlib.suppress(OSError):
            (CORPUS / f"{name}.json").write_text(trial.stored(), "utf-8")
