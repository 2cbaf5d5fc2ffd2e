"""Slips that the prose itself puts right: "it was 4 litres, not 3", "no, wait, forty minutes"."""

from __future__ import annotations

import itertools
import re

from procedure.draft import limits
from procedure.draft.amount import Amount
from procedure.draft.sentences import Part, Sentence

CORRECTS = re.compile(
    r"\b(?:sorry|edit|correction|no, wait|wait, no|i mean|rather|not \d+|should (?:have been|read)|should be (?:\d|half|an? (?:hour|half))|typo|scrap that|make that)\b",  # noqa: E501
    re.I,
)


# Within one sentence: "150 g of weld - no, sorry, 200 g", "20 minutes, no, I mean 30 minutes".
WITHIN = re.compile(
    r"\b(?:no,?\s+(?:sorry|wait|make\s+(?:that|it)|i\s+mean|that'?s\s+wrong)|wait,?\s+no|sorry,?\s+(?:i\s+mean(?:t)?|make\s+that|no)"
    r"|i\s+mean(?:t)?|make\s+that|or\s+rather|scrap\s+that|correction|sorry)\b[\s,:-]*"
    r"|[,–-]\s*no\s*[,:–-]\s*",
    re.I,
)
# What can only correct an amount of its own sentence.
CORRECTS_ITSELF = re.compile(
    r"[,–-]\s*no\s*[,:–-]|\b(?:going|meant|supposed|intended)\s+to\b", re.I
)
# "For what was going to be 1 minute and turned out to be 5".
MEANT = re.compile(
    r"\b(?:was|were|is)\s+(?:going|meant|supposed|intended)\s+to\s+(?:be|have|get)\s+(?:for\s+)?(?:about\s+)?$",
    re.I,
)
TURNED_OUT = re.compile(
    r"[,\s]*\b(?:and|but)\s+(?:it\s+|they\s+|in\s+fact\s+)?(?:turned\s+out\s+(?:to\s+be|as)|turned\s+into|became|ended\s+up"
    r"\s+(?:as|being|at)|got|had|was\s+(?:really|actually))\s+(?:for\s+)?(?:about\s+|nearer\s+|more\s+like\s+)?",
    re.I,
)
SLIPS = frozenset(("mass", "volume", "time", "spoon", "temperature", "share"))


def corrected(told: list[Sentence]) -> list[Sentence]:
    """The sentences with slips replaced where the prose corrects them.

    The right amount then stands where the wrong one stood; the wrong one stays where the
    correction is, as an amount that has no place.
    """
    swaps: dict[int, Amount] = {}
    for index, sentence in enumerate(told):
        of_before = CORRECTS.search(sentence.words) is not None
        if not of_before and not CORRECTS_ITSELF.search(sentence.words):
            continue
        here = [a for part in sentence.parts for a in part.amounts]
        right = next(
            (a for a in here if a.kind in ("mass", "volume", "time", "spoon", "temperature")), None
        )
        if right is None:
            continue
        beside = _beside(sentence, here)
        if beside is not None:
            swaps[beside[0].start], swaps[beside[1].start] = beside[1], beside[0]
            continue
        wrong = _wrong(told, index, sentence, right) if of_before else None
        if wrong is not None:
            swaps[wrong.start] = right
            swaps[right.start] = wrong
    if not swaps:
        return told
    return [_without_the_slip(_swapped(sentence, swaps), swaps) for sentence in told]


def _without_the_slip(sentence: Sentence, swaps: dict[int, Amount]) -> Sentence:
    """The sentence in which a bare figure told of the slip again is none: "150 was the time"."""
    slips = {one.low for start, one in swaps.items() if one.start < start}
    if not slips or not any(one.start in swaps for p in sentence.parts for one in p.amounts):
        return sentence
    parts = tuple(
        part._replace(
            amounts=tuple(
                one._replace(kind="figure") if one.kind == "number" and one.low in slips else one
                for one in part.amounts
            )
        )
        for part in sentence.parts
    )
    return sentence._replace(parts=parts)


def _beside(sentence: Sentence, here: list[Amount]) -> tuple[Amount, Amount] | None:
    """The wrong and the right one of "150 g of weld - no, sorry, 200 g"; None where none is."""
    for meant, came in itertools.pairwise(here):
        said = MEANT.search(sentence.text[: meant.start - sentence.start])
        gap = sentence.text[meant.end - sentence.start : came.start - sentence.start]
        if said and _may_be_slip(meant, came) and TURNED_OUT.fullmatch(gap):
            return meant, _of_its_unit(came, meant)
    for found in WITHIN.finditer(sentence.text):
        low, high = sentence.start + found.start(), sentence.start + found.end()
        right = next(
            (one for one in here if high <= one.start <= high + limits.LETTERS_TO_WHAT_IS_SAID),
            None,
        )
        if right is None:
            continue
        before = [one for one in here if one.end <= low and _may_be_slip(one, right)]
        near = before and low - before[-1].end <= limits.LETTERS_OF_WHAT_IS_CORRECTED
        if near:
            return before[-1], _of_its_unit(right, before[-1])
    return None


def _may_be_slip(wrong: Amount, right: Amount) -> bool:
    """True for two of one unit, which one of them may leave out: "ten, no, twenty minutes"."""
    if "number" in (wrong.kind, right.kind):
        return wrong.kind in SLIPS or right.kind in SLIPS
    return right.kind in SLIPS and (wrong.kind, wrong.unit) == (right.kind, right.unit)


def _of_its_unit(right: Amount, wrong: Amount) -> Amount:
    """The fifteen of "ten minutes - no, fifteen", as a time."""
    if right.kind != "number":
        return right
    return right._replace(kind=wrong.kind, unit=wrong.unit, scale=wrong.scale)


def _wrong(told: list[Sentence], index: int, sentence: Sentence, right: Amount) -> Amount | None:
    """The amount that is corrected: of the same unit and thing, or of the value after "not"."""
    said = re.search(r"\bnot\s+(\d+(?:\.\d+)?)", sentence.words)
    mine = sentence.of.get(right.start)
    for earlier in reversed(told[:index]):
        for part in reversed(earlier.parts):
            for amount in reversed(part.amounts):
                if amount.kind != right.kind or (said and str(amount.low) != said[1]):
                    continue
                other = earlier.of.get(amount.start)
                if (
                    said
                    or (mine and other and mine.name == other.name)
                    or (not mine and right.kind == "time")
                ):
                    return amount
        if right.kind == "time" and not said:
            return None
    return None


def _swapped(sentence: Sentence, swaps: dict[int, Amount]) -> Sentence:
    """The sentence with the right amounts in the places of the wrong ones.

    A right amount keeps its own words and place in the prose; the wrong one becomes a
    figure, which no step takes.
    """
    parts: list[Part] = []
    of = dict(sentence.of)
    for part in sentence.parts:
        made: list[Amount] = []
        for amount in part.amounts:
            other = swaps.get(amount.start)
            if other is None:
                made.append(amount)
            elif other.start > amount.start:  # a slip: the right one comes later
                made.append(other)
                if amount.start in of:
                    of[other.start] = of.pop(amount.start)
            else:
                made.append(other._replace(kind="figure"))
        parts.append(part._replace(amounts=tuple(made)))
    return sentence._replace(parts=tuple(parts), of=of)
