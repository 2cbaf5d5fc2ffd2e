"""How long a keystroke takes: recorded typing, replayed against the language service.

``python tests/benchmarks/keystrokes.py`` prints the median and the 95th percentile for files of
several lengths, and beside it the median of a fresh check of the same texts in the same run:
machines are noisy, so the ratio is what counts. Times are of the processor, in milliseconds.
"""

from __future__ import annotations

import gc
import statistics
import time
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path

from procedure import pipeline
from procedure.service.again import Again

ROOT = Path(__file__).parents[2]
SHORT = ROOT / "examples" / "tansy-gold-and-moss.dye"
# What a dyer typed, with two slips that were taken back (<) and words that came late.
TYPED = (
    "\n  dye moss in ta<<weld-bath from 30 °C to 80 °C over 45 min for 1 h gently"
    "\n  # colder than last time"
    '\n  rinse moss in tub with watr<er 10 L at 30 °C until "the water runs clear"'
    '\n  dry moss note "in the shade, on the line behind the shed"'
)


def keystrokes(text: str, at: int, typed: str = TYPED) -> Iterator[str]:
    """The text after each key: typed in at an offset, ``<`` takes a letter back."""
    before, after, done = text[:at], text[at:], ""
    for key in typed:
        done = done[:-1] if key == "<" else done + key
        yield before + done + after


def longer(text: str, lines: int) -> str:
    """A procedure of about so many lines: its steps again for other lots, pots and baths."""
    head, steps = text.split("\nsteps\n")
    parts = dict(
        zip(("procedure", "fibre", "equipment", "materials"), _sections(head), strict=True)
    )
    times = max(1, round(lines / 70))
    names = ("yarn", "kettle", "tub", "crock", "hob", "bag", "gold", "moss", "vat", "soak", "wake")
    import re

    baths = re.findall(r"^  ([\w-]+): ", steps, flags=re.MULTILINE)
    declared = re.findall(r"^  ([\w-]+): ", head, flags=re.MULTILINE)
    every = {*names, *baths, *declared}
    word = re.compile(
        r"(?<![\w-])(" + "|".join(sorted(every, key=len, reverse=True)) + r")(?![\w-])"
    )
    made = dict.fromkeys((*parts, "steps"), "")
    made["procedure"] = parts["procedure"]
    for turn in range(times):
        again = _renamed(word, "" if turn == 0 else f"-{turn}")
        for name in ("fibre", "equipment", "materials"):
            _, *rest = parts[name].split("\n")
            kept = [again_line(line, again, name) for line in rest if line.strip()]
            made[name] += "\n".join(kept) + "\n"
        made["steps"] += again(steps)
    body = "".join(
        f"\n{name}\n{made[name]}" for name in ("fibre", "equipment", "materials", "steps")
    )
    return made["procedure"] + body


def again_line(line: str, again: Callable[[str], str], section: str) -> str:
    """A declaration under another name; what it is stays as it was."""
    name, mark, rest = line.partition(":")
    return again(name) + mark + rest if mark else line


def _renamed(word, ending: str):  # type: ignore[no-untyped-def]
    def again(text: str) -> str:
        if not ending:
            return text
        parts = text.split('"')
        for i in range(0, len(parts), 2):
            parts[i] = word.sub(lambda found: found.group(1) + ending, parts[i])
        return '"'.join(parts)

    return again


def _sections(head: str) -> list[str]:
    import re

    cuts = [m.start() for m in re.finditer(r"^(?:fibre|equipment|materials)$", head, re.MULTILINE)]
    return [head[a:b] for a, b in zip([0, *cuts], [*cuts, len(head)], strict=True)]


def measured(answer: Callable[[str], object], texts: list[str]) -> list[float]:
    """Milliseconds of the processor for each text."""
    took = []
    gc.collect()
    gc.disable()
    for text in texts:
        start = time.process_time()
        answer(text)
        took.append((time.process_time() - start) * 1000)
    gc.enable()
    return took


def main() -> None:
    """Print the table."""
    print("lines  keystroke: median  95 %    fresh check: median   ratio  plan left as it was")
    for lines in (75, 150, 500):
        text = longer(SHORT.read_text(encoding="utf-8"), lines)
        at = text.index("\n", text.index("\n  mordant ") + 1)
        texts = list(keystrokes(text, at))
        again = Again()
        again.read(text, "x.dye", SHORT)
        typed = measured(partial(again.read, file="x.dye", path=SHORT), texts)
        fresh = measured(
            lambda one: pipeline.read(one, "x.dye", SHORT), texts[:: max(1, lines // 20)]
        )
        middle, other = statistics.median(typed), statistics.median(fresh)
        high = statistics.quantiles(typed, n=20)[-1]
        share = again.short / (again.short + again.whole)
        print(
            f"{text.count(chr(10)):5}  {middle:17.1f}  {high:5.1f}  {other:20.1f}   "
            f"{middle / other:5.2f}  {share:.0%}"
        )


if __name__ == "__main__":
    main()
