"""Words of the trade that mean several things: the writer is asked which."""

from functools import cache
from typing import NamedTuple

from procedure.vocabulary.library import rows
from procedure.vocabulary.reading import parts


class Several(NamedTuple):
    """The meanings of a word, and why it matters which is meant."""

    meanings: tuple[str, ...]
    why: str


@cache
def several_meanings() -> dict[str, Several]:
    """By word, from ``several_meanings.csv``."""
    return {
        row["word"]: Several(parts(row["meanings"]), row["why"]) for row in rows("several_meanings")
    }
