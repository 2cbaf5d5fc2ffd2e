"""Vessels and lots that a recipe tells apart: "pot 1", "the second bath", "jar B", "lot two".

They are followed where a recipe names at least two of one kind, by number, letter, size, side or
colour; one label alone tells nothing apart.
"""

from __future__ import annotations

import itertools
import re
from functools import cache
from typing import NamedTuple

from procedure.draft.lexicon import meanings, one_of
from procedure.draft.sentences import Part

LEAST = 2
# Right before a mention at the head of what it is about: "in the second, 200 g of weld".
HEAD = re.compile(
    r"(?:^|[.;:,(\n]|\b(?:and|but|then|while)\b)\s*(?:\d+[.:]\d+\s+)?"
    r"(?:(?:and|in|into|to|for|the|my|our)\s+)*\Z",
    re.I,
)
MADE_OF = re.compile(r"\s*\(\s*(?:the\s+)?(?P<also>[a-z-]+)(?:\s+(?:one|pot|bath))?\s*\)", re.I)
# What follows a figure that is an amount, and no label: "bath 5 litres".
NO_LABEL = (
    r"(?!\s*(?:g|kg|ml|l|oz|lb|h|hrs?|mins?|°|%|x|[.,/:]\d|litres?|gallons?|hours?|minutes?)\b"
    r"|\s*[%°])"
)


ALONE = re.compile(r"\s*\)")


class Mention(NamedTuple):
    """A place that names one of several, with its label: ``1``, ``b``, ``left``.

    ``kind`` is the kind of label. ``heads`` is true where it stands before what is said of it.
    """

    start: int
    end: int
    label: str
    kind: str
    noun: str
    heads: bool


Patterns = tuple[re.Pattern[str], re.Pattern[str], re.Pattern[str]]


@cache
def _patterns(of: str) -> Patterns:
    nouns = rf"(?P<noun>(?:dye[ -]?)?(?:{one_of(meanings(of))}))"
    words = rf"(?P<label>{one_of(meanings('label'))})"
    numbers = one_of(meanings("number"))
    ends = r"(?=\s*(?:[,;:.]|went\b|goes\b|had\b|has\b|gets\b))"
    return (
        re.compile(
            rf"(?:\b(?:the|my|our|an?|in|into)|^|\n|[.]\s)\s*{words}\s+(?:dye\s+)?{nouns}\b", re.I
        ),
        re.compile(
            rf"\b{nouns}\s+(?:no\.?\s*|number\s+)?(?P<label>[a-h]|\d|{numbers})\b{NO_LABEL}", re.I
        ),
        re.compile(rf"\b(?:in|into|to|for|^|[.]\s)\s*the\s+{words}(?:\s+ones?\b|{ends})", re.I),
    )


class ToldApart:
    """The vessels or lots that a text tells apart."""

    def __init__(self, text: str, of: str) -> None:
        self.text = text
        self.also: dict[str, str] = {}  # "pot 1 (yellow)": what else it is called
        before, behind, short = _patterns(of)
        full = [self._labelled(one) for one in before.finditer(text)]
        full += [self._counted(one) for one in behind.finditer(text)]
        kinds = {one.kind for one in full}
        brief = [self._labelled(one) for one in short.finditer(text)]
        full += [one for one in brief if one.kind in kinds and not _overlaps(one, full)]
        labels = {kind: {one.label for one in full if one.kind == kind} for kind in kinds}
        self.mentions = sorted(
            one for one in full if len(labels[one.kind]) >= LEAST or one.label in self.also
        )

    def _labelled(self, match: re.Match[str]) -> Mention:
        label = meanings("label")[" ".join(match["label"].lower().split())]
        kind = meanings("kind of label").get(label, "number")
        noun = (match.groupdict().get("noun") or "").lower()
        # The full stop before "Second bath" is of the sentence before it.
        start = match.start() if match[0][:1].isalnum() else match.start("label")
        return Mention(start, match.end(), label, kind, noun, self._heads(match))

    def _counted(self, match: re.Match[str]) -> Mention:
        said = match["label"].lower()
        label = meanings("number").get(said, said)
        also = MADE_OF.match(self.text, match.end())
        colour = meanings("label").get(also["also"].lower()) if also else None
        if colour is not None:
            self.also[colour] = label
        kind = "number" if label.isdigit() else "letter"
        noun = match["noun"].lower()
        return Mention(match.start(), match.end(), label, kind, noun, self._heads(match))

    def _heads(self, match: re.Match[str]) -> bool:
        if not match[0][:1].isalnum():
            return True
        if ALONE.match(self.text, match.end()) and self.text[: match.start()].endswith("("):
            return False  # "200 g of linen (lot 1)": what it is called, and nothing said of it
        return HEAD.search(self.text[max(0, match.start() - 24) : match.start()]) is not None

    def within(self, part: Part) -> list[Mention]:
        """Those that a part names."""
        return [one for one in self.mentions if part.start <= one.start < part.end]

    def named(self, one: Mention) -> str:
        """The label of a mention, by which it was told first."""
        return self.also.get(one.label, one.label)

    def pieces(self, part: Part) -> list[Part]:
        """A part in pieces, one for each: "jar C got 5 mL of vinegar and jar D 1 g of soda"."""
        named = self.within(part)
        cuts = [one.start for one in named[1:]]
        if not cuts or not all(one.heads for one in named):
            return [part]
        marks = [part.start, *cuts, part.end]
        return [self.piece(part, low, high) for low, high in itertools.pairwise(marks)]

    def piece(self, part: Part, low: int, high: int) -> Part:
        """The piece of a part between two places."""
        doing = part.doing
        if not low <= doing.start < high:
            doing = doing._replace(start=low, end=low)
        return part._replace(
            doing=doing,
            things=tuple(one for one in part.things if low <= one.start < high),
            amounts=tuple(one for one in part.amounts if low <= one.start < high),
            start=low,
            end=high,
            words=self.text[low:high],
        )


def _overlaps(one: Mention, others: list[Mention]) -> bool:
    return any(one.start < other.end and other.start < one.end for other in others)
