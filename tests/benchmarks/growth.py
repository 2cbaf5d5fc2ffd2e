"""``python tests/benchmarks/growth.py`` prints how time grows with length, for the worst shapes.

Each shape is read at lengths that double; the exponent is that of the last doubling (1 for
twice the text in twice the time), in processor time, and the memory the most that the process
held. Each shape runs in a process of its own. Name shapes to try those alone, commands with
``--command`` (``all`` for every one), and give the longest length with ``--to``, and how often
each is run with ``--times``. A length that a command refuses in a sentence is marked so, and
the doubling before it is told. The exit status is 1 where anything grows faster than the
exponent that is allowed, holds more memory than may be, or ends in no sentence.
"""

from __future__ import annotations

import argparse
import math
import os
import resource
import subprocess
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).parents[2]
MOST_EXPONENT = 1.15
MOST_MEMORY = 300  # megabytes
# Times below it tell nothing of an exponent: they come out otherwise in each run.
LEAST_SECONDS = 0.3
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


def lots(n: int) -> str:
    """Many lots, each rinsed and dried."""
    declared = "".join(f"  skein-{i}: wool yarn, 10 g, scoured\n" for i in range(n // 2))
    steps = "".join(
        f"  rinse skein-{i} in tub with water 1 L at 30 °C\n  dry skein-{i}\n"
        for i in range(n // 2)
    )
    return HEAD.replace("fibre\n", "fibre\n" + declared) + "steps\n" + steps


def unsaid(n: int) -> str:
    """Steps in short forms that leave out what they are done to."""
    steps = "  simmer 1 h\n  hold 30 min\n  cool O/N\n  rinse 2x, don't rub it\n"
    made = "  bath: prepare in pot w/ 4 L water, weld 50 g\n  put yarn in bath @ 40C\n"
    return HEAD + "  weld: weld, dried\nsteps\n" + made + steps * (n // 4)


def long_line(n: int) -> str:
    """One step that goes on and on in what people write short."""
    made = "  bath: prepare in pot with water 4 L\n  heat bath to 80 °C\n"
    return HEAD + "steps\n" + made + "    hold 1 h, (gently), don't stir\n" * n


def nested(n: int) -> str:
    """Blocks that follow each other, each with a block in it."""
    step = "rinse yarn in tub with water 4 L at 30 °C\n"
    block = f'  repeat 2 times\n    {step}    if "it is pale"\n      {step}'
    return HEAD + "steps\n" + block * (n // 4)


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
        undeclared, materials, unknown, unreadable, chains, one_lot, many_lots, lots, unsaid,
        long_line, nested, followed,
    )
}  # fmt: skip
# What is made of a shape besides reading it: the command and the ending of its paper.
COMMANDS: dict[str, tuple[str, ...]] = {
    "check": ("check", "plan.dye", "--no-cache"),
    "json": ("check", "plan.dye", "--no-cache", "--at-least", "note", "--format", "json"),
    "mend": ("check", "plan.dye", "--no-cache", "--preview"),
    "lots": ("lots", "plan.dye"),
    "weigh": ("weigh", "plan.dye"),
    "shop": ("weigh", "plan.dye", "--shop", "--explain"),
    "scaled": ("weigh", "plan.dye", "--fibre", "250 g"),
    "neaten": ("neaten", "plan.dye", "--preview"),
    "units": ("neaten", "plan.dye", "--preview", "--units", "us"),
    "compare": ("compare", "plan.dye", "other.dye"),
    "card": ("card", "plan.dye", "-o", "plan.html"),
    "record": ("record", "plan.dye", "-o", "plan.batch"),
    "handout": ("handout", "plan.dye", "-o", "plan.md"),
    "long": ("handout", "plan.dye", "--long", "-o", "plan.html"),
    "labels": ("handout", "plan.dye", "--labels", "-o", "plan.html"),
    "form": ("handout", "plan.dye", "--record", "-o", "plan.html"),
    "bench": ("handout", "plan.dye", "--bench", "-o", "plan.md"),
    "roll": ("chart", "plan.dye", "--sheet", "roll", "-o", "plan.svg"),
    "overview": ("chart", "plan.dye", "--overview", "-o", "plan.svg"),
    "chart": ("chart", "plan.dye", "-o", "plan.svg"),
    "png": ("chart", "plan.dye", "-o", "plan.png"),
    "pdf": ("chart", "plan.dye", "-o", "plan.pdf"),
    "benchpdf": ("handout", "plan.dye", "--bench", "-o", "plan.pdf"),
    "handoutpdf": ("handout", "plan.dye", "-o", "plan.pdf"),
    "timetable": ("timetable", "plan.dye", "-o", "plan.json"),
    "book": ("book", "plan.dye", "-o", "book"),
    "draft": ("draft", "plan.dye", "-o", "draft.dye"),
}


class Run(NamedTuple):
    """One run: the length, seconds of the processor, megabytes at the most, the exit status.

    ``plain`` is true where it ended as a command may, with no traceback.
    """

    n: int
    seconds: float
    memory: float
    status: int
    plain: bool


def measured(shape: str, command: str, n: int) -> Run:
    """One command on one length of a shape, as a user has it: from a shell, in a new process.

    Called as a function it would not do: only the command itself sets Python's search for
    circles aside, which goes through all that is held again and again.
    """
    with tempfile.TemporaryDirectory() as folder, Path(folder, "told").open("w+b") as told:
        text = SHAPES[shape](n)
        Path(folder, "plan.dye").write_text(text, "utf-8")
        Path(folder, "other.dye").write_text(text.replace("4 L", "5 L"), "utf-8")
        Path(folder, "part.dye").write_text(PART, "utf-8")
        process = subprocess.Popen(
            [sys.executable, "-m", "procedure", *COMMANDS[command]],
            cwd=folder,
            env=os.environ | {"PYTHONPATH": str(ROOT)},
            # What is printed may be long, and the memory of this process counts for the next.
            stdout=subprocess.DEVNULL,
            stderr=told,
            preexec_fn=_bounded,
        )
        _, ended, used = os.wait4(process.pid, 0)
        process.returncode = os.waitstatus_to_exitcode(ended)
        told.seek(0)
        plain = process.returncode in (0, 1, 2) and b"Traceback" not in told.read()
    return Run(n, used.ru_utime + used.ru_stime, used.ru_maxrss / 1024, process.returncode, plain)


def _bounded() -> None:
    """Set a limit, so that what has no end does not take the machine with it."""
    resource.setrlimit(resource.RLIMIT_AS, (3 << 30, 3 << 30))


def median(shape: str, command: str, n: int, times: int) -> Run:
    """The one in the middle of so many runs, by their time."""
    return sorted(measured(shape, command, n) for _ in range(times))[times // 2]


def grown(shape: str, command: str, longest: int, times: int) -> bool:
    """Print a line for a shape and a command; true where all is as it may be."""
    runs = [median(shape, command, longest // part, times) for part in (16, 8, 4, 2, 1)]
    # What every run costs is no growth.
    base = median(shape, command, 1, times).seconds
    # What is refused in a sentence takes no time: then the last doubling is that before it.
    done = [run for run in runs if run.status != 2]
    one, two = (max(run.seconds - base, 1e-3) for run in (done if len(done) > 1 else runs)[-2:])
    exponent = math.log2(two / one)
    too_much = two > LEAST_SECONDS and exponent > MOST_EXPONENT and len(done) > 1
    well = not too_much and all(run.plain and run.memory < MOST_MEMORY for run in runs)
    told = ", ".join(
        f"{run.n}: {run.seconds:.2f} s" + " refused" * (run.status == 2) for run in runs
    )
    memory = max(run.memory for run in runs)
    mark = "  " if well else "! "
    print(
        f"{mark}{command:10} {shape:12} exponent {exponent:5.2f}  {memory:6.0f} MB  {told}",
        flush=True,
    )
    return well


def main() -> int:
    """Print a line for each shape and command; 1 where any grows faster than it may, else 0."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("shapes", nargs="*", metavar="SHAPE", help=f"of {', '.join(SHAPES)}")
    parser.add_argument("--command", action="append", choices=[*COMMANDS, "all"])
    parser.add_argument("--to", type=int, default=3200)
    parser.add_argument("--times", type=int, default=1, help="runs of each, the median told")
    asked = parser.parse_args()
    commands = asked.command or ["check"]
    well = True
    for command in COMMANDS if "all" in commands else commands:
        for shape in asked.shapes or SHAPES:
            well = grown(shape, command, asked.to, asked.times) and well
    return 0 if well else 1


if __name__ == "__main__":
    sys.exit(main())
