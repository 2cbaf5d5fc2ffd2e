"""A question of the prose, and the amount that answers it."""

from __future__ import annotations

import re

from procedure.draft.course import Course
from procedure.draft.sentences import Sentence

SPEAKER = re.compile(r"[A-Z][.:]?")  # "Q." and "A."
HOW_MUCH = re.compile(
    r"\bhow\s+(?:much|many|heavy)\b|\bwhat\s+(?:weight\b|about\b)|\band\s+the\s+\w+\s*\?", re.I
)


def answered(course: Course, sentence: Sentence) -> Sentence:
    """The sentence with its amount as one of what the question before it asks for.

    "How much wool was that for?" "Two hundred grams.": no other thing is weighed.
    """
    asked, course.asked = course.asked, course.asked if SPEAKER.fullmatch(sentence.words) else None
    things = [t for part in sentence.parts for t in part.things]
    if sentence.words.rstrip("\"'").endswith("?"):
        measured = HOW_MUCH.search(sentence.words) and [
            t for t in things if t.kind in ("fibre", "material", "water")
        ]
        course.asked = measured[0] if measured else None
        return sentence
    bare = [a for p in sentence.parts for a in p.amounts if a.kind in ("mass", "volume", "share")]
    if asked is None or things or len(bare) != 1 or any(p.doing.act for p in sentence.parts):
        return sentence
    (amount,) = bare
    here = asked._replace(start=amount.start, end=amount.start)
    parts = tuple(
        p._replace(things=(*p.things, here)) if amount in p.amounts else p for p in sentence.parts
    )
    return sentence._replace(of=sentence.of | {amount.start: here}, parts=parts)
