"""The words of a sentence that none of its amounts, things and verbs has."""

from __future__ import annotations

from collections.abc import Iterable

from procedure.draft.not_read import Span, not_read
from procedure.draft.sentences import Sentence


def words_not_read(
    text: str,
    sentence: Sentence,
    also: Iterable[Span] = (),
    letters: frozenset[str] = frozenset(),
) -> list[Span]:
    """The stretches of a sentence that its amounts, things and verbs do not have.

    ``also`` are words that something else tells of, ``letters`` those that are words alone.
    """
    told = [*also]
    told += [(a.start, a.end) for part in sentence.parts for a in part.amounts]
    told += [(t.start, t.end) for part in sentence.parts for t in part.things]
    told += [(part.doing.start, part.doing.end) for part in sentence.parts]
    told += [(doing.start, doing.end) for doing in sentence.left_out]
    return not_read(text, sentence.start, sentence.end, told, letters)
