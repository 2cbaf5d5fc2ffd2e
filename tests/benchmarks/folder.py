"""How fast a folder of many procedures is checked, the first time and again. See README.md here.

Run ``python tests/benchmarks/folder.py`` with the test extra installed.
"""

from __future__ import annotations

import argparse
import os
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from statistics import median
from typing import NamedTuple

import varied
from texts import yaml_of

OURS = [sys.executable, "-m", "procedure", "check", "--format", "gnu"]
THEIRS = [sys.executable, "-m", "yamllint", "-f", "parsable"]


class Taken(NamedTuple):
    """The seconds of a run by the clock, and of all processors together."""

    clock: float
    processor: float


def taken(arguments: list[str], cache: Path) -> Taken:
    """How long one run takes, with its helpers; ``cache`` is the user's own cache folder."""
    home = {"XDG_CACHE_HOME": str(cache), "LOCALAPPDATA": str(cache), "HOME": str(cache)}
    before, start = os.times(), time.perf_counter()
    done = subprocess.run(
        arguments,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
        check=False,
        env={**os.environ, **home},
    )
    clock, after = time.perf_counter() - start, os.times()
    if done.returncode not in (0, 1):
        raise SystemExit(f"{arguments[2]} could not run: {done.stderr.decode()}")
    spent = after.children_user + after.children_system
    return Taken(clock, spent - before.children_user - before.children_system)


def middle(runs: list[Taken]) -> Taken:
    """The median of each."""
    return Taken(median(one.clock for one in runs), median(one.processor for one in runs))


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=main.__doc__)
    parser.add_argument("--files", type=int, default=1_000, help="procedures in the folder")
    parser.add_argument("--runs", type=int, default=3, help="runs of each, in turn")
    parser.add_argument("--keep", help="write the procedures into this new folder, and stop")
    options = parser.parse_args()
    if options.keep is not None:
        Path(options.keep).mkdir(parents=True)
        varied.written(Path(options.keep), options.files)
        return
    with tempfile.TemporaryDirectory() as folder:
        plans, data, cache = Path(folder, "plans"), Path(folder, "data"), Path(folder, "cache")
        plans.mkdir()
        data.mkdir()
        lines = varied.written(plans, options.files)
        for number in range(options.files):
            text = yaml_of(lines // options.files, number)
            (data / f"{number}.yaml").write_text(text, encoding="utf-8")
        first, again, theirs = [], [], []
        for _ in range(options.runs):
            shutil.rmtree(cache, ignore_errors=True)
            first.append(taken([*OURS, str(plans)], cache))
            again.append(taken([*OURS, str(plans)], cache))
            theirs.append(taken([*THEIRS, str(data)], cache))
        lint = middle(theirs)
        print(f"{options.files:,} files, {lines:,} lines, in seconds by the clock (of processors)")
        print(f"yamllint: {lint.clock:.2f} ({lint.processor:.2f})")
        for name, run in (("first time", middle(first)), ("second time", middle(again))):
            ratio = lint.clock / run.clock
            print(f"vatwright check, {name}: {run.clock:.2f} ({run.processor:.2f});", end=" ")
            print(f"lines a second against yamllint: {ratio:.2f}")
    print("(aims on two idle cores: 4.5 s and 0.6 s; at least 3 times yamllint's lines a second)")


if __name__ == "__main__":
    main()
