"""How the time of a check grows with a plan of 40 files, as ratios in one run. See README.md here.

Run ``python tests/benchmarks/plans.py``.
"""

from __future__ import annotations

import argparse
import tempfile
import time
from pathlib import Path

import procedure

FILES = 40
STEPS = (250, 500, 1_000, 2_000)
# After so many lots the vat rests.
REST = 6

HEAD = """procedure "{title}"
  by "Fellside Dye Circle"
  revised 2026-09-12
  source "our own workshop"
  makes "wool in many colours"
  place outdoors
  wearing gloves, eye protection, mask
  note "The water is hard."

fibre
  {fibre}

equipment
  kettle: stainless steel pot, 15 L, lidded, for dyeing only
  vat-pot: stainless steel pot, 20 L, lidded, for dyeing only
  tub: plastic tub, 20 L, for dyeing only

materials
  alum: potassium alum
  weld: weld tops, dried
  indigo: natural indigo, powder
  soda: soda ash
  fructose: fructose
  vinegar: white vinegar

steps
"""
# Work on one lot, in pots that all the files share. Every file is sound, whatever its length.
START = """  wet out wool in tub with water 5 L at 30 °C for 1 h
"""
ROUND = """  bath-{n}: prepare in kettle with water 30 : 1 of wool, {with_what} at 40 °C
  {verb} wool in bath-{n} from 40 °C to 80 °C over 45 min for 45 min
  cool bath-{n} to 35 °C
  rinse wool in tub with water 5 L at 35 °C until "the water runs clear"
  discard bath-{n} to "foul drain"
  clean kettle
"""
KINDS = (("alum 12 % of wool", "mordant"), ("weld 60 % of wool", "dye"))
END = """  dip wool in vat at 50 °C for 5 min
  air wool for 15 min
  rinse wool in tub with water 5 L, vinegar 20 mL at 35 °C for 10 min
  rinse wool in tub with water 5 L at 35 °C
  dry wool
"""


def written(folder: Path, steps: int) -> Path:
    """Write a plan of about so many steps in 40 files; gives its main file."""
    lots = FILES - 1
    each = max(steps // FILES, 1)
    for number in range(lots):
        head = HEAD.format(title=f"Lot {number}", fibre="wool: wool yarn, 100 g, scoured")
        head = head.replace("materials\n", "materials\n  vat: kept bath\n")
        rounds = max(each // 6 - 1, 0)
        middle = "".join(
            ROUND.format(n=n, with_what=KINDS[n % 2][0], verb=KINDS[n % 2][1])
            for n in range(rounds)
        )
        text = head + START + middle + END
        (folder / f"lot-{number}.dye").write_text(text, encoding="utf-8")
    names = ", ".join(f"lot-{number}n 100 g" for number in range(lots))
    main = HEAD.format(title="All the lots", fibre=f"yarn: wool yarn, {lots * 100} g, scoured")
    main += f"  split yarn into {names}\n"
    main += "  blue: prepare in vat-pot with water 12 L, soda 4 g/L, fructose 4 g/L, indigo 4 g/L"
    main += " at 55 °C\n"
    for unused in ("alum: potassium alum", "weld: weld tops, dried", "vinegar: white vinegar"):
        main = main.replace(f"  {unused}\n", "")
    for number in range(lots):
        if number % REST == 0:
            main += "  stand blue for 1 h at 50 °C covered\n"
        main += f'  part-{number}n: follow "lot-{number}.dye" with wool = lot-{number}n, vat = blue'
        main += f" after part-{number - 1}n\n" if number else "\n"
    main += "  stand blue for 1 h at 50 °C covered\n  keep blue as blue-vat covered labelled\n"
    path = folder / "main.dye"
    path.write_text(main, encoding="utf-8")
    return path


def main() -> None:
    """Measure and print; processor time, the least of the runs, for other work does not count."""
    parser = argparse.ArgumentParser(description=main.__doc__)
    parser.add_argument("--runs", type=int, default=3, help="checks of each plan")
    options = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        paths: dict[int, Path] = {}
        for steps in STEPS:
            home = Path(folder, str(steps))
            home.mkdir()
            paths[steps] = written(home, steps)
        procedure.load(paths[STEPS[0]])  # the first brings the vocabulary in, and does not count
        taken: dict[int, list[float]] = {steps: [] for steps in STEPS}
        counted: dict[int, int] = {}
        lines = {
            steps: sum(len(one.read_text("utf-8").split("\n")) for one in path.parent.glob("*.dye"))
            for steps, path in paths.items()
        }
        for _ in range(options.runs):
            for steps, path in paths.items():
                start = time.process_time()
                plan = procedure.load(path)
                taken[steps].append(time.process_time() - start)
                counted[steps] = len(plan.trace.moments)
    base = min(taken[STEPS[0]])
    print("Time a step and time a line, to those of the smallest plan")
    print("asked  steps  lines  seconds  a step  a line")
    for steps in STEPS:
        seconds = min(taken[steps])
        step = seconds / counted[steps] / (base / counted[STEPS[0]])
        line = seconds / lines[steps] / (base / lines[STEPS[0]])
        print(
            f"{steps:>5}  {counted[steps]:>5}  {lines[steps]:>5}  {seconds:>7.2f}"
            f"  {step:>6.2f}  {line:>6.2f}"
        )


if __name__ == "__main__":
    main()
