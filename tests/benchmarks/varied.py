"""Many procedures to measure with: the examples and the trials, varied again and again."""

from __future__ import annotations

import random
import re
from pathlib import Path

TESTS = Path(__file__).resolve().parent.parent
EXAMPLES = TESTS.parent / "examples"
# What is varied: sound work, and trials as people write them, with their slips.
WHERE = (
    EXAMPLES,
    TESTS / "trials" / "handbook",
    TESTS / "trials" / "faults",
    TESTS / "trials" / "beginners",
)
# Those that follow or are followed stand where they are: their names are known elsewhere.
APART = re.compile(r"^ *follow |^  kept ", re.MULTILINE)

_SECTION = re.compile(r"^(\w+) *$")
_DECLARED = re.compile(r"^  ([a-z][a-z0-9-]*): *")
_WEIGHT = re.compile(r"(?<![\d./])(\d+)( k?g| mL| L)\b")
_SHUFFLED = ("fibre", "equipment", "materials")


def originals() -> list[tuple[str, str]]:
    """The name and the text of every file that is varied, in order."""
    files = [file for folder in WHERE for file in sorted(folder.rglob("*.dye"))]
    texts = [(file.stem, file.read_text(encoding="utf-8")) for file in files]
    return [one for one in texts if not APART.search(one[1])]


def varied(text: str, chance: random.Random) -> str:
    """A text with other names, other weights and another order of what it declares.

    Names are changed everywhere alike, and weights by one factor for each text, so that what is
    sound mostly stays so.
    """
    lines = text.split("\n")
    names = sorted({found[1] for line in lines if (found := _DECLARED.match(line))})
    changed = [name for name in names if chance.random() < 0.4]
    other = {name: f"{name}-{chance.choice('abcdefghjk')}" for name in changed}
    if other:
        every = "|".join(map(re.escape, sorted(other, key=len, reverse=True)))
        whole = re.compile(rf"(?<![\w-])(?:{every})(?=$|[ ,:])")
        lines = [_renamed(line, whole, other) for line in lines]
    factor = chance.choice((2, 3, 4, 5, 7, 9, 11))
    lines = [_WEIGHT.sub(lambda said: f"{int(said[1]) * factor}{said[2]}", line) for line in lines]
    return "\n".join(_shuffled(lines, chance))


def _renamed(line: str, whole: re.Pattern[str], other: dict[str, str]) -> str:
    """A line with other names; the words that describe what it declares stay as they are."""
    declared = _DECLARED.match(line)
    if declared and not line.startswith("   "):
        name, rest = declared[1], line[declared.end() :]
        if not re.search(r"\bwith\b|\bin\b", rest):
            return f"  {other.get(name, name)}: {rest}"
    return whole.sub(lambda said: other[said[0]], line)


def _shuffled(lines: list[str], chance: random.Random) -> list[str]:
    """The lines, with those of a section that only declares in another order."""
    made: list[str] = []
    at = 0
    while at < len(lines):
        made.append(lines[at])
        heading = _SECTION.match(lines[at])
        at += 1
        if heading and heading[1] in _SHUFFLED:
            body = at
            while body < len(lines) and _DECLARED.match(lines[body]):
                body += 1
            made += chance.sample(lines[at:body], body - at)
            at = body
    return made


def written(folder: Path, files: int, seed: int = 7) -> int:
    """Write so many different procedures into a folder; gives how many lines they have."""
    chance = random.Random(seed)
    texts = originals()
    seen: set[str] = set()
    lines = number = 0
    while len(seen) < files:
        stem, text = texts[number % len(texts)]
        number += 1
        made = varied(text, chance)
        if made in seen:
            continue
        seen.add(made)
        (folder / f"{stem}-{len(seen)}.dye").write_text(made, encoding="utf-8")
        lines += made.count("\n")
    return lines
