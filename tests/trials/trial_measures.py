"""How many of the trials are met: phrases read as meant, beginners' mistakes answered.

``python -m tests.trials.trial_measures`` prints the numbers of the open and of the kept-aside
half; ``-v`` names what is missed among the open ones. What is kept aside is only counted.
"""

from __future__ import annotations

import csv
import sys
import tomllib
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import NamedTuple

from procedure.findings import Finding
from procedure.model import Procedure, Quantity, Step
from procedure.model.types import Block
from procedure.pipeline import Judged, read

HERE = Path(__file__).parent
# What these rules say is about the words: a line that was to be read must have none of them.
ABOUT_WORDS = frozenset(
    "cannot-read unknown-word wrong-quantity percentage-of-nothing number-without-unit "
    "unknown-unit which-gallon wrong-kind-of-thing something-missing not-declared said-twice "
    "clause-out-of-place part-unstated range-backwards nothing-of-it".split()
)
LOOSE = frozenset(("loose-measure", "amount-unstated"))
# Base units of the model for the units of the answers, and by how much to multiply.
UNITS = {
    "min": (("time",), 1.0),
    "h": (("time",), 60.0),
    "d": (("time",), 1440.0),
    "°C": (("temperature",), 1.0),
    "g": (("mass", "spoon"), 1.0),
    "mL": (("volume", "spoon"), 0.001),
    "L": (("volume",), 1.0),
    "g/L": (("concentration",), 1.0),
    "%": (("percent", "share", "ratio"), 0.01),
    "pH": (("acidity",), 1.0),
}


class Phrase(NamedTuple):
    """A phrase with its answer, read in the frame: where it stands, and what was found."""

    row: dict[str, str]
    lines: range
    judged: Judged

    @property
    def found(self) -> list[Finding]:
        """What was found at its lines, and anything unread that the frame does not bring."""
        return [one for one in self.judged.findings if one.line in self.lines]


@cache
def frame() -> str:
    """The text that the phrases go into."""
    return (HERE / "phrases-frame.dye").read_text(encoding="utf-8")


def phrases(name: str) -> Iterator[dict[str, str]]:
    """The rows of a file of phrases."""
    with (HERE / name).open(encoding="utf-8", newline="") as file:
        yield from csv.DictReader(file)


def in_frame(row: dict[str, str]) -> Phrase:
    """The phrase, read at its place in the frame."""
    before, mark, after = frame().partition(f"  # part: {row['part']}\n")
    said = "".join(f"  {line}\n" for line in row["text"].split("\n"))
    first = before.count("\n") + mark.count("\n") + 1
    return Phrase(
        row, range(first, first + said.count("\n")), read(before + mark + said + after, "phrase")
    )


def missed(row: dict[str, str]) -> str:
    """Why a phrase is not met; empty where it is."""
    phrase = in_frame(row)
    found = phrase.found
    words = [one for one in found if one.rule in ABOUT_WORDS]
    outcome = row["outcome"]
    if outcome == "refused":
        return "" if any(one.rule not in LOOSE for one in found) else "nothing was found"
    if outcome == "asked":
        return "" if words or found else "nothing was asked"
    if words and not (asked_too(row) and words[0].rule == "percentage-of-nothing"):
        return words[0].sentence
    loose = [one for one in found if one.rule in LOOSE]
    if outcome == "loose" and len(loose) != 1:
        return f"told {len(loose)} times that it is loose"
    return _unmeasured(phrase)


def asked_too(row: dict[str, str]) -> bool:
    """True where the answer says that a question is as good."""
    return row["effect"].startswith("or asked")


def _unmeasured(phrase: Phrase) -> str:
    low, high, unit = (phrase.row[name] for name in ("low", "high", "unit"))
    kind = next((known for known in UNITS if unit.split(" ")[0] == known), None)
    if kind is None or not (low or high) or phrase.row["kind"] == "choice":
        return ""
    kinds, factor = UNITS[kind]
    least = float(low) * factor if low else None
    most = float(high) * factor if high else None
    written = list(_quantities(phrase.judged.model, phrase.lines))
    if _comes_to(phrase, kind, least, most):
        return ""
    if outcome_allows(phrase, [one for one in written if one.kind in kinds], least, most):
        return ""
    return f"read as {[(one.text, one.kind, one.low, one.high) for one in written]}"


def _comes_to(phrase: Phrase, kind: str, least: float | None, most: float | None) -> bool:
    """True where what a step brings, or how long it lasts, comes to the answer."""
    for moment in phrase.judged.trace.moments:
        if moment.step.place.line not in phrase.lines:
            continue
        found = [amount for _, _, amount in moment.amounts if amount is not None]
        ends = [(one.low, one.high) for one in found if one.kind == "mass"] if kind == "g" else []
        if kind in ("min", "h", "d") and moment.minutes is not None:
            ends.append(moment.minutes)
        for low, high in ends:
            above = least is None or float(low) >= least * 0.99
            if above and (most is None or float(high) <= most * 1.01):
                return True
    return False


def outcome_allows(
    phrase: Phrase, written: list[Quantity], least: float | None, most: float | None
) -> bool:
    """True where one of the quantities means what the answer says, to a hundredth.

    A loose one, or one that the answer gives as a margin, must lie within it.
    """
    for one in written:
        if one.low is None or one.high is None:
            continue
        low, high = float(one.low), float(one.high)
        if phrase.row["topic"] == "loose":
            inside = (least is None or low >= least * 0.99) and (
                most is None or high <= most * 1.01
            )
            if inside:
                return True
        elif least == most and least is not None:
            if abs(low - least) <= 0.01 * least and abs(high - least) <= 0.01 * least:
                return True
        elif (least is None or abs(low - least) <= 0.02 * max(least, 1e-9)) and (
            most is None or abs(high - most) <= 0.02 * most
        ):
            return True
    return False


def _quantities(made: Procedure, lines: range) -> Iterator[Quantity]:
    for written in made.written:
        one = written.quantity
        if one.place.line in lines:
            yield one
            if one.reading is not None:
                yield one.reading
    for lot in made.lots.values():
        if lot.line in lines and lot.weight is not None:
            yield lot.weight


def blocks(body: tuple[Step | Block, ...]) -> Iterator[Block]:
    """All blocks of a body, the inner ones too."""
    for one in body:
        if isinstance(one, Block):
            yield one
            yield from blocks(one.body)


HEADER = frozenset(("by", "source", "revised", "makes", "place", "wearing", "audience"))


def unanswered(path: Path) -> str:
    """Why a beginner's mistake is not met: the first finding must be at its line and helpful."""
    told = tomllib.loads(path.read_text(encoding="utf-8"))
    text = path.with_suffix(".dye").read_text(encoding="utf-8")
    found = read(text, path.stem).findings
    here = [one for one in found if one.line == told["line"]]
    said = " ".join(f"{one.sentence} {one.remedy}" for one in here)
    if not here:
        return "nothing at its line"
    if not any(word.lower() in said.lower() for word in told["mentions"]):
        return f"said: {said}"
    unread = [one for one in found if one.level == "error" and one.line != told["line"]]
    unread = [
        one for one in unread if one.rule in ABOUT_WORDS | {"used-before-made", "left-in-bath"}
    ]
    return f"a train: {[(one.line, one.sentence) for one in unread]}" if unread else ""


def read_as_meant(path: Path) -> bool:
    """True where a beginner's mistake is none any more: the whole text is sound as it stands."""
    found = read(path.with_suffix(".dye").read_text(encoding="utf-8"), path.stem).findings
    return not [one for one in found if one.level != "note"]


def counts() -> dict[str, tuple[int, int]]:
    """How many are met, and of how many, by the trial and its half."""
    made: dict[str, tuple[int, int]] = {}
    for half, name in (("open", "phrases.csv"), ("held_out", "held_out/phrases.csv")):
        rows = list(phrases(name))
        made[f"phrases {half}"] = (sum(not missed(row) for row in rows), len(rows))
        paths = sorted((HERE / "beginners" / half).glob("*.toml"))
        made[f"beginners {half}"] = (sum(not unanswered(path) for path in paths), len(paths))
        sound = sum(bool(unanswered(path)) and read_as_meant(path) for path in paths)
        made[f"besides read as meant, {half}"] = (sound, len(paths))
    return made


def main(arguments: list[str]) -> None:
    """Print the numbers, and with ``-v`` what the open halves miss."""
    for name, (met, of) in counts().items():
        print(f"{name}: {met} of {of}")
    if "-v" in arguments:
        for row in phrases("phrases.csv"):
            if reason := missed(row):
                print(f"{row['number']} {row['topic']}: {row['text']!r}\n    {reason}")
        for path in sorted((HERE / "beginners" / "open").glob("*.toml")):
            if reason := unanswered(path):
                print(f"{path.stem}: {reason}")


if __name__ == "__main__":
    main(sys.argv[1:])
