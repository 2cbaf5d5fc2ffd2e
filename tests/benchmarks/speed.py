"""How fast a check is, as ratios to yamllint in the same run. See README.md here.

Run ``python tests/benchmarks/speed.py`` with the test extra installed.
"""

from __future__ import annotations

import argparse
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from statistics import median

from texts import procedure_of, yaml_of

SHORT, LONG = 60, 20_000


def command(name: str) -> str:
    """The installed command, beside this Python or on the path."""
    beside = Path(sys.executable).parent / name
    found = str(beside) if beside.exists() else shutil.which(name)
    if found is None:
        raise SystemExit(f"{name} is not installed here; pip install '.[test]' brings it.")
    return found


def seconds(arguments: list[str]) -> float:
    """How long one cold run takes, from start to end of the process."""
    start = time.perf_counter()
    done = subprocess.run(arguments, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, check=False)
    taken = time.perf_counter() - start
    if done.returncode not in (0, 1):
        raise SystemExit(f"{arguments[0]} could not run: {done.stderr.decode()}")
    return taken


def compared(one: list[str], other: list[str], runs: int) -> tuple[float, float]:
    """Median seconds of two commands whose runs alternate."""
    seconds(one), seconds(other)  # the first of each warms the disk, and does not count
    pairs = [(seconds(one), seconds(other)) for _ in range(runs)]
    return median(mine for mine, _ in pairs), median(theirs for _, theirs in pairs)


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=main.__doc__)
    parser.add_argument("--runs", type=int, default=21, help="cold runs of each command")
    parser.add_argument("--long-runs", type=int, default=3, help="runs on the long texts")
    options = parser.parse_args()
    vatwright, yamllint = command("vatwright"), command("yamllint")
    with tempfile.TemporaryDirectory() as folder:
        commands: dict[int, tuple[list[str], list[str], int, int]] = {}
        for lines in (SHORT, LONG):
            plan, data = Path(folder, f"{lines}.dye"), Path(folder, f"{lines}.yaml")
            plan.write_text(procedure_of(lines), encoding="utf-8")
            data.write_text(yaml_of(lines), encoding="utf-8")
            commands[lines] = (
                [vatwright, "check", "--format", "gnu", str(plan)],
                [yamllint, "-f", "parsable", str(data)],
                plan.read_text("utf-8").count("\n"),
                data.read_text("utf-8").count("\n"),
            )
        ours, theirs, mine, its = commands[SHORT]
        check, lint = compared(ours, theirs, options.runs)
        print(f"cold start: vatwright check, {mine} lines: {check * 1000:.0f} ms;", end=" ")
        print(f"yamllint, {its} lines: {lint * 1000:.0f} ms; ratio {check / lint:.2f}", end=" ")
        print("(aim: at most 1)")
        ours, theirs, mine, its = commands[LONG]
        check, lint = compared(ours, theirs, options.long_runs)
        rate, their_rate = mine / check, its / lint
        print(f"lines a second: vatwright check, {mine} lines: {rate:,.0f};", end=" ")
        print(f"yamllint, {its} lines: {their_rate:,.0f};", end=" ")
        print(f"ratio {rate / their_rate:.2f} (aim: at least 3)")


if __name__ == "__main__":
    main()
