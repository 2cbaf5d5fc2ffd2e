"""Every word and number of a text changed to a near miss, one at a time.

A near miss is what a hasty hand writes: two letters changed about, a letter lost, a letter in
a number, a unit left out. Each changed text must mean the same as before or bring a finding
at the changed word. ``python -m tests.language.near_misses FILE ...`` lists what is missed.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

from procedure.findings import Finding
from procedure.pipeline import Judged, read

EXAMPLES = Path("examples")
# Words, numbers and signs as a reader sees them; what stands in quotation marks is free.
_PIECES = re.compile(
    r'(?P<comment>#.*)|(?P<string>"[^"\n]*")|(?P<date>\d{4}-\d{2}-\d{2})'
    r"|(?P<number>\d+(?:[./]\d+)?)|(?P<word>[^\W\d_]+(?:-[^\W_]+)*)|(?P<percent>%)|(?P<degree>°[CF])"
)


class Miss(NamedTuple):
    """A changed text: where the change is (from 1, in characters), and what became of what."""

    text: str
    line: int
    column: int
    to: int
    was: str
    now: str


def misspelt(word: str) -> str:
    """A word with two inner letters changed about, or one lost where they are alike."""
    for at in range(max(1, len(word) // 2 - 1), len(word) - 1):
        if word[at] != word[at + 1] and word[at] != "-" != word[at + 1]:
            return word[:at] + word[at + 1] + word[at] + word[at + 2 :]
    return word[:-1] + "q" if len(word) > 1 else word + "q"


def changes(kind: str, piece: str) -> Iterator[str]:
    """The near misses of a piece."""
    if kind == "word":
        yield misspelt(piece)
        if len(piece) > 3:
            yield piece[: len(piece) // 2] + piece[len(piece) // 2 + 1 :]
    elif kind == "number":
        yield f"{piece}o"
        yield f"-{piece}"
    elif kind == "date":
        yield f"{piece[:5]}13{piece[7:]}"
        yield f"{piece[:8]}32"
    elif kind == "string":
        yield piece[:-1]
    elif kind == "percent":
        yield ""
        yield "&"
    elif kind == "degree":
        yield "°"
        yield piece.replace("C", "K").replace("F", "G")


def misses(text: str) -> Iterator[Miss]:
    """All near misses of a text, in order."""
    lines = text.split("\n")
    for number, line in enumerate(lines):
        for found in _PIECES.finditer(line):
            kind, piece = found.lastgroup or "", found.group()
            for now in changes(kind, piece):
                changed = line[: found.start()] + now + line[found.end() :]
                whole = "\n".join((*lines[:number], changed, *lines[number + 1 :]))
                end = found.start() + 1 + max(len(now), 1)
                yield Miss(whole, number + 1, found.start() + 1, end, piece, now)


def meaning(judged: Judged) -> object:
    """What a text says, without the places of its words and how they are spelt."""
    amounts = [
        (moment.node.id, moment.minutes, moment.heat, [(t, a) for t, _, a in moment.amounts])
        for moment in judged.trace.moments
    ]
    written = [
        (one.quantity.kind, one.quantity.low, one.quantity.high, one.role)
        for one in judged.model.written
    ]
    model = judged.model
    declared = (
        [(k, lot.fibres, lot.scoured) for k, lot in model.lots.items()],
        [(e.metal, e.kind, e.lidded, e.use) for e in model.equipment.values()],
        [(m.entry, m.roles, m.state, m.gathered) for m in model.materials.values()],
        [name and name.text for name in (model.revised, model.setting)],
        [name.text for name in (*model.wearing, *model.audience)],
    )
    steps = [
        (m.step.verb, sorted(m.step.manner), m.node.lots, m.node.bath, m.node.pot)
        for m in judged.trace.moments
    ]
    return amounts, written, declared, steps


def told_at(miss: Miss, findings: tuple[Finding, ...], before: set[tuple[str, str]]) -> bool:
    """True where a finding that the sound text has not is at the changed word.

    A finding beside the word counts, where reading stopped. A new name is also told of where
    the old one is used and nothing bears it: the sentence names the old one or offers the new.
    """
    row = miss.text.split("\n")[miss.line - 1]
    verb = len(row) - len(row.lstrip()) + 1
    named = (f"“{miss.was}”", f"“{miss.now}”", f"“{miss.was}.", f".{miss.was}”")
    return any(
        (one.rule, one.sentence) not in before
        and (_at(one, miss, verb) or any(name in one.sentence + one.remedy for name in named))
        for one in findings
    )


def _at(finding: Finding, miss: Miss, verb: int) -> bool:
    """True where a finding is at the changed word or beside it, or at the line's first word."""
    if finding.line != miss.line:
        return False
    beside = finding.column <= miss.to + 1 and finding.to >= miss.column - 1
    return beside or finding.column == verb


def missed(miss: Miss, sound: Judged, path: Path) -> bool:
    """True where a near miss passes without a word and means something else."""
    try:
        judged = read(miss.text, path.name, path)
    except Exception as failed:
        print(f"{path}:{miss.line}: “{miss.now}” {failed!r}")
        return True
    before = {(one.rule, one.sentence) for one in sound.findings}
    if told_at(miss, judged.findings, before):
        return False
    if miss.text.split("\n")[miss.line - 1][miss.to - 1 : miss.to] == ":":
        # A label that nothing else names may be called as one likes.
        now, before_it = repr(meaning(judged)), repr(meaning(sound))
        # The new name may be a word of the meaning itself, as lie is of “lie in bath”.
        renamed = re.sub(rf"\b{re.escape(miss.now)}\b", miss.was, now)
        return before_it not in (now, renamed)
    return meaning(judged) != meaning(sound) or _lost(judged, sound)


def _lost(judged: Judged, sound: Judged) -> bool:
    """True where something of the text is no longer in the model."""
    return len(judged.model.written) != len(sound.model.written)


def paths() -> list[Path]:
    """The examples that are sound as they stand."""
    return sorted(path for path in EXAMPLES.rglob("*.dye") if "faulty" not in path.parts)


def main(files: list[str]) -> None:
    """List the near misses that pass without a word."""
    tried = bad = 0
    for path in [Path(name) for name in files] or paths():
        sound = read(path.read_text("utf-8"), path.name, path)
        for miss in misses(path.read_text("utf-8")):
            tried += 1
            if missed(miss, sound, path):
                bad += 1
                print(f"{path}:{miss.line}:{miss.column}: “{miss.was}” to “{miss.now}”")
    print(f"{bad} of {tried} near misses pass without a word")


if __name__ == "__main__":
    main(sys.argv[1:])
