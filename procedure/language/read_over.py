"""Words that are said of a thing and order nothing: the “rinsed” of “the rinsed yarn”."""

from __future__ import annotations

from functools import cache

from procedure.language.tree import SaidOf, Token
from procedure.vocabulary.data_files import rows


@cache
def _words() -> frozenset[str]:
    return frozenset([row["word"] for row in rows("said_of_things")])


def left_out(written: list[Token], read: list[Token]) -> tuple[SaidOf, ...]:
    """The words of a line that were read over, each with the name of what it is said of."""
    found: list[SaidOf] = []
    for word in written:
        if word.word in _words() and not any(_holds(one, word) for one in read):
            after = [one for one in read if one.kind == "NAME" and _behind(one, word)]
            if after:
                thing = min(after, key=lambda one: (one.line, one.column))
                found.append(SaidOf(word, thing.word))
    return tuple(found)


def _holds(token: Token, word: Token) -> bool:
    return token.line == word.line and token.column <= word.column < token.to


def _behind(token: Token, word: Token) -> bool:
    return (token.line, token.column) > (word.line, word.column)
