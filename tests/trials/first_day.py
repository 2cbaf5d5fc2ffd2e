"""What people type on their first day: lines and whole files, read as meant or asked about once.

``python -m tests.trials.first_day`` counts both halves; ``-v`` shows what is not met in the open
half. What is kept aside is only counted. A line is

- right: nothing is said of its words, and the handout is that of what it ``means``;
- asked: one finding of its words, which has one of ``mentions``, and a remedy that can be read;
- useless: a finding of its words that does not help, or several;
- wrong: nothing is said, and the handout is another one (or it had to be asked about).
"""

from __future__ import annotations

import csv
import re
import sys
import tomllib
from collections import Counter
from functools import cache
from pathlib import Path
from typing import Any, NamedTuple

HERE = Path(__file__).parent
sys.path[:0] = [str(HERE), str(HERE.parent)]

from papers import METRIC, in_words  # noqa: E402
from test_phrases import NOT_WRITTEN, readable  # noqa: E402
from trial_measures import ABOUT_WORDS as OF_WORDS  # noqa: E402

import procedure  # noqa: E402
from procedure.findings import Finding  # noqa: E402
from procedure.handout.contents import telling_of  # noqa: E402
from procedure.handout.numbered_steps import tell  # noqa: E402
from procedure.pipeline import Judged, read  # noqa: E402

ABOUT_WORDS = OF_WORDS | {"shared-word", "part-of-a-lot"}
HALVES = {"open": "", "kept aside": "held_out/"}
FOLDERS = {"open": "open", "kept aside": "held_out"}


# What helps nobody: it says no more than that something is amiss.
NO_REMEDY = (
    "Write the line again",
    "Use the right name",
    "Leave it out, join",
    "Declare it, or use",
)


class Answer(NamedTuple):
    """How a text was met: right, asked, useless or wrong, and what was said of it."""

    met: str
    said: str


@cache
def frame() -> str:
    """The text that the lines go into."""
    return (HERE / "first-lines-frame.dye").read_text("utf-8")


@cache
def own_findings() -> Counter[str]:
    """What is found in the frame itself."""
    return Counter(one.sentence for one in read(frame()).findings)


def rows(half: str) -> list[dict[str, str]]:
    """The typed lines of a half."""
    path = HERE / f"{HALVES.get(half, half)}typed_lines.csv"
    with path.open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(lines))


def at_its_place(row: dict[str, str], line: str) -> str:
    """The frame with a line put in at the row's part."""
    mark = f"  # part: {row['part']}\n"
    said = "".join(f"  {one}\n" for one in line.split("\n"))
    return frame().replace(mark, mark + said)


def about_words(judged: Judged) -> list[Finding]:
    """What is found of words and names, in the order in which it is printed."""
    return [one for one in judged.findings if one.rule in ABOUT_WORDS]


@cache
def printed(text: str) -> list[str]:
    """The sentences of the handout."""
    steps = tell(telling_of(procedure.read(text, "first.dye"), METRIC))
    return [in_words(one.text) for step in steps for one in step.every()]


def useful(one: Finding, mentions: list[str]) -> bool:
    """True where a finding names what it is about, and its remedy can be read."""
    said = f"{one.sentence} {one.remedy}".lower()
    if one.remedy.startswith(NO_REMEDY):
        return False
    quoted = re.findall(r"“([^“”]+)”", NOT_WRITTEN.sub("", one.remedy))
    return any(word.lower() in said for word in mentions) and all(map(readable, quoted))


def told(found: list[Finding]) -> str:
    """Findings as they are looked through."""
    return "\n    ".join(f"{one.line}: {one.sentence} {one.remedy}" for one in found)


def answer(row: dict[str, str]) -> Answer:
    """How a typed line is met."""
    text = at_its_place(row, row["text"])
    judged = read(text)
    found = [one for one in about_words(judged) if not own_findings()[one.sentence]]
    first = text[: text.index(row["text"])].count("\n") + 1
    empty = [one for one in judged.findings if one.rule == "used-after-emptied"]
    found += [one for one in empty if one.line == first and not found]
    if found:
        helps = len(found) == 1 and useful(found[0], row["mentions"].split(";"))
        return Answer("asked" if helps else "useless", told(found))
    says = printed(text)
    meant = [at_its_place(row, one) for one in row["means"].split("\n\n") if one]
    if any(printed(one) == says for one in meant):
        return Answer("right", "")
    return Answer("wrong", "\n    ".join(one for one in says if one not in printed(frame())))


class FirstFile(NamedTuple):
    """A whole first file, and its sheet."""

    name: str
    text: str
    sheet: dict[str, Any]

    def with_lines(self, *, asked: set[int], plain: bool) -> str:
        """The text with what is asked put right, and, if plain, with what it means."""
        lines = self.text.split("\n")
        for one in self.sheet.get("asks", ()):
            if one["line"] in asked:
                lines[one["line"] - 1] = one["then"]
        for one in self.sheet.get("means", ()) if plain else ():
            lines[one["line"] - 1] = one["plain"]
        return "\n".join(lines)


def first_files(half: str) -> list[FirstFile]:
    """The whole first files of a half."""
    return [
        FirstFile(path.stem, path.read_text("utf-8"), tomllib.loads(_sheet(path)))
        for path in sorted((HERE / "first_files" / FOLDERS[half]).glob("*.dye"))
    ]


def _sheet(path: Path) -> str:
    return path.with_suffix(".toml").read_text("utf-8")


def answers(one: FirstFile) -> dict[str, int | str]:
    """How a first file is met: questions helped and missed, findings too many, read otherwise."""
    asks = {ask["line"]: ask for ask in one.sheet.get("asks", ())}
    found = about_words(read(one.text))
    helped = {f.line for f in found if f.line in asks and useful(f, asks[f.line]["mentions"])}
    per_line = Counter(f.line for f in found)
    first = [next(f for f in found if f.line == line) for line in helped]
    too_many = len(found) - len(first)
    silent = [line for line, ask in asks.items() if line not in per_line and not ask["may_be_read"]]
    fixed = one.with_lines(asked=set(per_line) | set(silent), plain=False)
    meant = one.with_lines(asked=set(asks), plain=True)
    differs = set()
    if not about_words(read(fixed)):
        says, means = printed(fixed), printed(meant)
        differs = {x for x in says if x not in means} | {x for x in means if x not in says}
    others = [f for f in found if f not in first]
    text = told(others) + "".join(f"\n    silent: {line}" for line in silent)
    text += "".join(f"\n    differs: {x}" for x in sorted(differs))
    return {
        "helped": len(helped),
        "too many": too_many,
        "silent": len(silent),
        "differs": int(bool(differs)),
        "said": text,
    }


def show(half: str) -> None:
    """Print what is not met of the lines of an open file."""
    met = {row["number"]: (row, answer(row)) for row in rows(half)}
    print(f"lines {half}: {dict(Counter(one.met for _, one in met.values()))}")
    for number, (row, one) in met.items():
        if one.met in ("useless", "wrong"):
            print(f"{number} {one.met} {row['part']}: {row['text']}\n    {one.said}")


def main(arguments: list[str]) -> None:
    """Print the counts of both halves, and with ``-v`` what the open one misses."""
    show("further_")
    show("later_")
    for half in HALVES:
        if half != "open" and "--open" in arguments:
            continue
        met = {row["number"]: answer(row) for row in rows(half)}
        print(f"lines {half}: {dict(Counter(one.met for one in met.values()))}")
        sums: Counter[str] = Counter()
        clean = 0
        shown = []
        for one in first_files(half):
            made = answers(one)
            sums.update({name: n for name, n in made.items() if isinstance(n, int)})
            clean += not any(made[name] for name in ("too many", "silent", "differs"))
            shown.append(f"{one.name}: {made}")
        print(f"files {half}: {clean} of {len(shown)} without a train; {dict(sums)}")
        if half == "open" and "-v" in arguments:
            for row in rows(half):
                one_answer = met[row["number"]]
                if one_answer.met in ("useless", "wrong") or "-vv" in arguments:
                    print(f"{row['number']} {one_answer.met} {row['part']}: {row['text']}")
                    print(f"    {one_answer.said}")
            print("\n".join(line.replace("\\n", "\n") for line in shown))


if __name__ == "__main__":
    main(sys.argv[1:])
