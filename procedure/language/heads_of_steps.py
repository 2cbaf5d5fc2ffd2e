"""Headings that people write among the steps: “Day 2:”, “Part B - dyeing”, “Mordanting:”.

The language has none there: the order of the lines says what comes next. Such a line is told of
once, a comment says the same to the reader, and what stands behind it or below is read on.
"""

from __future__ import annotations

from collections.abc import Sequence

from procedure.findings import say
from procedure.language.everyday_order import heads
from procedure.language.tree import BATHS, Fault
from procedure.language.words import step_words
from procedure.quantity.ready_patterns import pattern
from procedure.quantity.record import NamedTuple

_PART = (
    r"\s*(?P<said>(?P<of>[Dd]ay|[Ww]eek|[Mm]orning|[Ee]vening|[Ss]ession|[Pp]art|[Ss]tage|[Pp]hase)"
    r"\s+(?:\d{1,2}|[A-Da-d]|I{1,3}|one|two|three|four|five))\s*(?:[:.)–—-]+\s*|$)"
)
# These are days and times of day: somebody waits until then.
_WAITS = frozenset(("day", "week", "morning", "evening"))


class Headed(NamedTuple):
    """What is said of a heading, and the line without it, each word in its column; or nothing."""

    fault: Fault
    rest: str


def headed(raw: str, number: int, below: Sequence[str], goes_on: bool) -> Headed | None:
    """The heading that a line of steps is or begins with; None for a step.

    ``below`` are the lines after it; ``goes_on`` is true where the line may go on with a step.
    """
    found = pattern(_PART).match(raw)
    if found is not None:
        rest = " " * found.end() + raw[found.end() :]
        step = _is_a_step(rest, number)
        said = found["said"] if step else raw.partition("#")[0].strip().rstrip(":").rstrip()
        return _told(raw, number, said, rest if step else "", found["of"].lower() in _WAITS)
    if goes_on or not _is_alone(raw, number, below):
        return None
    return _told(raw, number, raw.strip().rstrip(":").rstrip(), "", waits=False)


def _told(raw: str, number: int, said: str, rest: str, waits: bool) -> Headed:
    column = len(raw) - len(raw.lstrip()) + 1
    sentence = say("“{words}” is a heading, and the steps have none.", words=said)
    remedy = say("Make a comment of it, on a line of its own: “# {words}”.", words=said)
    if waits:
        remedy = say(
            "Make a comment of it, on a line of its own, “# {words}”, and say how long is waited "
            "in the step before: “stand dye-bath overnight”.",
            words=said,
        )
    return Headed(Fault(number, column, column + len(said), sentence, remedy), rest)


def _is_a_step(rest: str, number: int) -> bool:
    """True where what stands behind a heading begins as a step does."""
    tokens = step_words(rest, number, [])
    return bool(tokens) and (tokens[0].kind in ("VERB", "LABEL") or tokens[0].word in heads())


def _is_alone(raw: str, number: int, below: Sequence[str]) -> bool:
    """True for a name and a colon alone, which the lines below do not go on with."""
    tokens = step_words(raw, number, [])
    if [one.kind for one in tokens] != ["LABEL"] or tokens[0].name.rpartition("-")[2] in BATHS:
        return False
    indent = _indent(raw)
    deeper: list[str] = []
    for line in below:
        if not line.strip() or line.lstrip()[0] == "#":
            continue
        if _indent(line) <= indent:
            break
        deeper.append(line)
        if len(deeper) == 2:
            break
    steps = [step_words(line, number, [])[:1] for line in deeper]
    labelled = any(one.kind == "LABEL" for step in steps for one in step)
    begun = [one for step in steps for one in step if one.kind in ("VERB", "LABEL")]
    return not deeper or labelled or len(begun) == 2


def _indent(raw: str) -> int:
    return len(raw.expandtabs(4)) - len(raw.expandtabs(4).lstrip())
