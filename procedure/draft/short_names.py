"""A plant called by its last word once it has been named: "the cabbage", of red cabbage."""

from __future__ import annotations

import re

from procedure.draft.sentences import Part, Sentence
from procedure.draft.things import Thing, known_words

CALLED = re.compile(r"\b(?:the|your|all\s+the|that|this|its)\s+(?P<word>[a-z]{4,})\b", re.I)


def with_short_names(told: list[Sentence]) -> list[Sentence]:
    """The sentences with each plant that they call by the last word of its name.

    Only a word that means nothing else, and that ends the name of one material alone.
    """
    called: dict[str, set[str]] = {}
    first: dict[str, Thing] = {}
    made: list[Sentence] = []
    for sentence in told:
        parts = tuple(_with_called(part, called, first) for part in sentence.parts)
        made.append(sentence._replace(parts=parts))
        for thing in (each for part in sentence.parts for each in part.things):
            words = thing.words.lower().split()
            if thing.kind == "material" and len(words) > 1 and words[-1] not in known_words()[1]:
                called.setdefault(words[-1], set()).add(thing.name)
                first.setdefault(words[-1], thing)
    return made


def _with_called(part: Part, called: dict[str, set[str]], first: dict[str, Thing]) -> Part:
    """The part with the plants that it calls so, where no other thing or amount has the word."""
    spans = [(part.doing.start, part.doing.end)]
    spans += [(one.start, one.end) for one in part.things]
    spans += [(one.start, one.end) for one in part.amounts]
    added: list[Thing] = []
    for found in CALLED.finditer(part.words):
        word = found["word"].lower()
        low, high = part.start + found.start("word"), part.start + found.end("word")
        if len(called.get(word, ())) != 1 or any(a < high and low < b for a, b in spans):
            continue
        added.append(first[word]._replace(words=word, start=low, end=high))
    if not added:
        return part
    return part._replace(things=tuple(sorted([*part.things, *added], key=lambda one: one.start)))
