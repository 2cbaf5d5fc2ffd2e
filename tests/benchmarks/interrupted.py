"""What Ctrl-C leaves behind, at moments spread evenly over the whole life of a command.

Run ``python tests/benchmarks/interrupted.py --moments 200``. For each way to start the program,
and for ``python -c pass`` and yamllint beside it, it prints how often something was printed on
the error stream, and how often a line of it lies in this program: that is what must be none. What
is left comes from Python's own start, before any line of a program is run.
"""

from __future__ import annotations

import argparse
import os
import signal
import subprocess
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path
from typing import NamedTuple

from speed import command
from texts import procedure_of, yaml_of

ROOT = Path(__file__).parents[2]


class Ended(NamedTuple):
    """How one run ended: its status, and what it printed on the error stream."""

    status: int
    said: str


def interrupted(arguments: list[str], after: float) -> Ended:
    """Start a command and press Ctrl-C after so many seconds."""
    with subprocess.Popen(
        arguments, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, start_new_session=True
    ) as running:
        time.sleep(after)
        if running.poll() is None:
            os.killpg(running.pid, signal.SIGINT)  # as a terminal sends it: to all of the group
        _, errors = running.communicate(timeout=60)
        return Ended(running.returncode, errors.decode("utf-8", "replace"))


def lifetime(arguments: list[str]) -> float:
    """How long the command runs by the clock when it is left alone: the middle of seven runs."""
    taken = []
    for _ in range(7):
        start = time.perf_counter()
        subprocess.run(arguments, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, check=False)
        taken.append(time.perf_counter() - start)
    return sorted(taken)[3]


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=main.__doc__)
    parser.add_argument("--moments", type=int, default=200)
    parser.add_argument("--all", action="store_true", help="longer commands too")
    parser.add_argument("--show", action="store_true", help="print what was printed")
    asked = parser.parse_args()
    # A shell has what runs in the background ignore Ctrl-C, and what that starts would as well.
    signal.signal(signal.SIGINT, signal.default_int_handler)
    with tempfile.TemporaryDirectory() as folder:
        plan, data = Path(folder, "plan.dye"), Path(folder, "data.yaml")
        plan.write_text(procedure_of(60), "utf-8")
        data.write_text(yaml_of(60), "utf-8")
        for number in range(30 if asked.all else 0):
            (Path(folder) / f"{number}.dye").write_text(procedure_of(60), "utf-8")
        ways = {
            "vatwright check": [command("vatwright"), "check", str(plan)],
            "python -m procedure check": [sys.executable, "-m", "procedure", "check", str(plan)],
            "python -c pass": [sys.executable, "-c", "pass"],
            "yamllint": [command("yamllint"), str(data)],
        }
        if asked.all:
            example = str(ROOT / "examples" / "plans" / "workshop-day.dye")
            for words in ("handout", "timetable", "lots", "weigh", "chart"):
                ways[f"vatwright {words}"] = [command("vatwright"), words, example]
            ways["vatwright check FOLDER"] = [command("vatwright"), "check", folder, "--no-cache"]
        for name, arguments in ways.items():
            whole = lifetime(arguments)
            ends = [
                interrupted(arguments, whole * 1.1 * at / asked.moments)
                for at in range(asked.moments)
            ]
            loud = [one for one in ends if "KeyboardInterrupt" in one.said]
            ours = [one for one in loud if "/procedure/" in one.said]
            statuses = ", ".join(
                f"{status} {times}x"
                for status, times in Counter(one.status for one in ends).items()
            )
            print(
                f"{name} ({whole * 1000:.0f} ms): of {len(ends)} moments {len(loud)} were loud,",
                end=" ",
            )
            print(f"{len(ours)} of them in this program; statuses {statuses}", flush=True)
            for one in ours + (loud if asked.show else []):
                print(one.said)


if __name__ == "__main__":
    main()
