"""All of a recipe that has the words of deeds and tells the reader to do nothing.

What is left of its sentences is followed as if the rest were not there; the draft tells of what is
left out as not followed and not placed.
"""

from __future__ import annotations

import re

from procedure.draft.aims_and_results import what_is_only_told
from procedure.draft.not_read import Span
from procedure.draft.other_ways import without_stretch
from procedure.draft.sentences import Sentence
from procedure.draft.told_by_the_way import told_by_the_way
from procedure.draft.withdrawn import withdrawn
from procedure.quantity.ready_patterns import pattern

# "The skeins may be given a weak soda bath": what may be done or left, with all that is said of it.
MAY_BE_GIVEN = pattern(
    r"\b(?:may|might|could)\s+(?:also\s+|afterwards\s+|finally\s+|if\s+\w+\s+)?"
    r"(?:be\s+(?:\w+ly\s+)?(?:given|passed|treated|sent)|have\s+(?=an?\b)|get\s+(?=an?\b)|receive)\b",
    re.I,
)


def deeds_that_are_none(text: str, told: list[Sentence]) -> dict[int, list[Span]]:
    """The stretches of a recipe in which nothing is to be done, by the number of the sentence."""
    found = withdrawn(told)
    for number, spans in what_is_only_told(text, told).items():
        found.setdefault(number, []).extend(spans)
    for sentence in told:
        spans = told_by_the_way(sentence)
        if offered := MAY_BE_GIVEN.search(sentence.text):
            spans.append((sentence.start + offered.start(), sentence.end))
        if spans:
            found.setdefault(sentence.number, []).extend(spans)
    return found


def without_what_is_none(sentence: Sentence, spans: list[Span]) -> tuple[Sentence, list[str]]:
    """The sentence without these stretches, and the verbs that are left out with them."""
    left_out: list[str] = []
    for low, high in spans:
        sentence, verbs = without_stretch(sentence, low, high)
        left_out += verbs
    return sentence, left_out


def has_nothing(sentence: Sentence) -> bool:
    """True where nothing of a sentence is left to be followed."""
    return not any(part.doing.act or part.things or part.amounts for part in sentence.parts)
