"""Words that several materials share, and that so say nothing of how dangerous one is.

They are in ``data/shared_words.csv``, each with the full names and how those differ.
"""

from __future__ import annotations

from functools import cache

from procedure.quantity.record import NamedTuple
from procedure.vocabulary.data_files import parts, rows


class SharedWord(NamedTuple):
    """A word, the materials that go by it (names of the vocabulary), and how they differ."""

    word: str
    may_be: tuple[str, ...]
    differ: str
    source: str


def shared_word(word: str) -> SharedWord | None:
    """The row of a word that several materials share, or None."""
    return _words().get(word.lower())


@cache
def _words() -> dict[str, SharedWord]:
    return {
        row["word"]: SharedWord(row["word"], parts(row["may_be"]), row["differ"], row["source"])
        for row in rows("shared_words")
    }
