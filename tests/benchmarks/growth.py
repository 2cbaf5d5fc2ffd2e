"""``python tests/benchmarks/growth.py`` prints how time grows with length, for the worst shapes.

Each shape is read at lengths that double; the exponent is that of the last doubling (1 for
twice the text in twice the time), in processor time, and the memory the most that the process
held. Each shape runs in a process of its own. Name shapes to try those alone, and give the
longest length with ``--to``.
"""

from __future__ import annotations

import argparse
import math
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))

HEAD = """procedure "Growth"

fibre
  yarn: wool yarn, 100 g, scoured

equipment
  pot: stainless steel pot, 10 L, lidded, for dyeing only
  tub: plastic tub, 12 L, for dyeing only

materials
"""


def undeclared(n: int) -> str:
    """Steps that name what nobody has declared."""
    steps = (f"  rinse thing-{i} in basin-{i} with water 4 L at 30 °C\n" for i in range(n))
    return HEAD + "steps\n" + "".join(steps)


def materials(n: int) -> str:
    """One bath of many materials."""
    names = [f"m{i}" for i in range(n)]
    declared = "".join(f"  {name}: weld, dried\n" for name in names)
    lines = "".join(f"    {name} 1 g,\n" for name in names)
    made = f"  bath: prepare in pot with water 4 L,\n{lines}    m0 1 g\n"
    return HEAD + declared + "steps\n" + made + '  discard bath to "foul drain"\n'


def unknown(n: int) -> str:
    """Declarations in words that are not known."""
    declared = "".join(f"  m{i}: wurzel{i}grün, gedörrt{i}\n" for i in range(n))
    return HEAD + declared + 'steps\n  do "look at them"\n'


def unreadable(n: int) -> str:
    """Lines that are not in the language."""
    return HEAD + "steps\n" + "".join(f"  ) {i} out\n" for i in range(n))


def chains(n: int) -> str:
    """A lot that is split and joined again and again."""
    steps, lot = [], "yarn"
    for i in range(n // 2):
        steps += [f"  split {lot} into a{i}, b{i}\n", f"  join a{i}, b{i} as c{i}\n"]
        lot = f"c{i}"
    return HEAD + "steps\n" + "".join(steps)


def one_lot(n: int) -> str:
    """One lot that goes through many steps."""
    step = "  rinse yarn in tub with water 4 L at 30 °C\n  squeeze yarn\n"
    return HEAD + "steps\n" + step * (n // 2)


def many_lots(n: int) -> str:
    """Baths that follow each other in one pot, with a material each."""
    declared = "".join(f"  m{i}: weld, dried\n" for i in range(n // 4))
    steps = "".join(
        f"  b{i}: prepare in pot with water 4 L, m{i} 50 g\n"
        f"  simmer b{i} at 80 °C for 1 h\n"
        f"  dye yarn in b{i} at 80 °C for 1 h\n"
        f'  discard b{i} to "foul drain"\n'
        for i in range(n // 4)
    )
    return HEAD + declared + "steps\n" + steps


def followed(n: int) -> str:
    """One file that is followed many times."""
    return HEAD + "steps\n" + '  follow "part.dye" with wool = yarn\n' * n


PART = """procedure "Part"
fibre
  wool: wool yarn, 100 g
equipment
  tub: plastic tub, 12 L, for dyeing only
steps
  rinse wool in tub with water 4 L at 30 °C
"""
SHAPES: dict[str, Callable[[int], str]] = {
    made.__name__: made
    for made in (
        undeclared, materials, unknown, unreadable, chains, one_lot, many_lots, followed,
    )
}  # fmt: skip
# What is made of a shape besides reading it: the command and the ending of its paper.
COMMANDS: dict[str, tuple[str, ...]] = {
    "check": ("check", "plan.dye"),
    "lots": ("lots", "plan.dye"),
    "weigh": ("weigh", "plan.dye"),
    "handout": ("handout", "plan.dye", "-o", "plan.md"),
    "roll": ("chart", "plan.dye", "--sheet", "roll", "-o", "plan.svg"),
    "chart": ("chart", "plan.dye", "-o", "plan.svg"),
    "png": ("chart", "plan.dye", "-o", "plan.png"),
    "pdf": ("chart", "plan.dye", "-o", "plan.pdf"),
    "bench": ("handout", "plan.dye", "--bench", "-o", "plan.md"),
    "benchpdf": ("handout", "plan.dye", "--bench", "-o", "plan.pdf"),
    "handoutpdf": ("handout", "plan.dye", "-o", "plan.pdf"),
    "timetable": ("timetable", "plan.dye", "-o", "plan.json"),
}


def measured(shape: str, command: str, n: int) -> tuple[float, float]:
    """Seconds of the processor, and megabytes at the most, of one command in a new process."""
    with tempfile.TemporaryDirectory() as folder:
        Path(folder, "plan.dye").write_text(SHAPES[shape](n), "utf-8")
        Path(folder, "part.dye").write_text(PART, "utf-8")
        code = (
            "import resource, sys\n"
            f"resource.setrlimit(resource.RLIMIT_AS, (3 << 30, 3 << 30))\n"
            f"sys.path.insert(0, {str(ROOT)!r})\n"
            "from procedure.command.main import main\n"
            f"main({list(COMMANDS[command])!r})\n"
            "print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss, file=sys.stderr)\n"
        )
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        made = subprocess.run(
            [sys.executable, "-c", code], cwd=folder, capture_output=True, text=True
        )
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
    seconds = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    last = made.stderr.strip().rpartition("\n")[2]
    return seconds, int(last) / 1024 if last.isdigit() else math.nan


def main() -> None:
    """Print a line for each shape and command."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("shapes", nargs="*", metavar="SHAPE", help=f"of {', '.join(SHAPES)}")
    parser.add_argument("--command", choices=COMMANDS, default="check")
    parser.add_argument("--to", type=int, default=3200)
    asked = parser.parse_args()
    for shape in asked.shapes or SHAPES:
        began = time.monotonic()
        rows = []
        for n in (asked.to // 4, asked.to // 2, asked.to):
            rows.append((n, *measured(shape, asked.command, n)))
        (_, one, _), (_, two, _) = rows[-2:]
        # What every run costs is no growth.
        base = measured(shape, asked.command, 1)[0]
        exponent = math.log2(max(two - base, 1e-3) / max(one - base, 1e-3))
        told = ", ".join(f"{n}: {seconds:.2f} s" for n, seconds, _ in rows)
        print(
            f"{asked.command:8} {shape:12} exponent {exponent:5.2f}  {rows[-1][2]:6.0f} MB  {told}"
            f"  ({time.monotonic() - began:.0f} s)",
            flush=True,
        )


if __name__ == "__main__":
    main()
