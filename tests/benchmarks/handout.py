"""How long a handout of 40 steps takes, from the command line, cold.

Aim: HTML in under two seconds, and in under half a second without the chart. The same
run times ``vatwright check`` on the same file, to tell a slow machine from a slow
handout. Run it on a quiet machine: ``python tests/benchmarks/handout.py``.
"""

from __future__ import annotations

import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

RUNS = 7
RUN = "import sys; from procedure.command.main import main; sys.exit(main(sys.argv[1:]))"
DYEING = """
  alum-bath-{n}: prepare in kettle with water 30 : 1 of yarn, alum 12 % of yarn at 40 °C
  mordant yarn in alum-bath-{n} from 40 °C to 85 °C over 45 min for 1 h
  cool alum-bath-{n} to 30 °C overnight covered
  rinse yarn in tub with water 10 L at 30 °C until "the water runs clear"
  discard alum-bath-{n} to "foul drain"
  clean kettle
  weld-bath-{n}: prepare in kettle with water 30 : 1 of yarn, weld 100 % of yarn
  simmer weld-bath-{n} for 1 h covered
  cool weld-bath-{n} to 40 °C
  strain weld-bath-{n} through net
  dye yarn in weld-bath-{n} from 40 °C to 80 °C over 45 min for 45 min
  rinse yarn in tub with water 10 L at 30 °C until "the water runs clear"
  discard weld-bath-{n} to "foul drain"
"""
TEXT = """procedure "Forty steps"
  by "Fellside Dye Circle"
  revised 2026-06-14
  source "our own workshop"
  place outdoors
  wearing gloves

fibre
  yarn: wool yarn, 240 g, scoured

equipment
  kettle: stainless steel pot, 15 L, lidded, for dyeing only
  tub: plastic tub, 20 L, for dyeing only
  net: net bag, for dyeing only

materials
  alum: potassium alum
  weld: weld tops, dried

steps
  wet out yarn in tub with water 10 L at 30 °C for 1 h
"""


def best(*arguments: str) -> float:
    """The middle time of several cold runs, in seconds."""
    times = []
    for _ in range(RUNS):
        start = time.perf_counter()
        done = subprocess.run([sys.executable, "-c", RUN, *arguments], capture_output=True)
        times.append(time.perf_counter() - start)
        if done.returncode not in (0, 1):
            raise SystemExit(done.stderr.decode())
    return statistics.median(times)


def main() -> None:
    """Print the times and how they stand to the aims."""
    with tempfile.TemporaryDirectory() as folder:
        source = Path(folder) / "forty.dye"
        steps = "".join(DYEING.format(n=n) for n in range(1, 4))
        source.write_text(TEXT + steps, encoding="utf-8")
        out = str(Path(folder) / "out.html")
        check = best("check", str(source))
        plain = best("handout", str(source), "-o", out, "--no-chart")
        chart = best("handout", str(source), "-o", out)
        paper = best("handout", str(source), "-o", str(Path(folder) / "out.pdf"))
    print(f"check                    {check:6.2f} s")
    share = f"{plain / check:.1f} times a check"
    print(f"handout without a chart  {plain:6.2f} s   (aim: under 0.50 s; {share})")
    print(f"handout with the chart   {chart:6.2f} s   (aim: under 2.00 s)")
    print(f"handout as PDF           {paper:6.2f} s")


if __name__ == "__main__":
    main()
