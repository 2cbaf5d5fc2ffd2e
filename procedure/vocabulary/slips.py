"""Slips of the pen: which known word a misspelt one can only mean."""

from __future__ import annotations

from collections.abc import Iterable

from procedure.quantity.kept_answers import remembered

# In shorter words a wrong letter makes other words: a cook is not cool, nor an oven over.
LONG_ENOUGH = 6


def only_meant(word: str, known: Iterable[str]) -> str | None:
    """The only known word that a misspelt one can mean, or None where it takes a person to say.

    A slip is one letter too many, missing, wrong or changed about with its neighbour.
    The word must be one slip from one known word and no other. In words of fewer than
    six letters only two letters changed about, or a double letter written single (or
    the other way round), are slips. Digits never are: bath-1 and bath-2 are two baths.
    """
    near = set()
    for one in known:
        if one == word:
            return None
        if one_slip(word, one):
            near.add(one)
    if len(near) != 1:
        return None
    meant = near.pop()
    long = min(len(word), len(meant)) >= LONG_ENOUGH
    return meant if long or sorted(word) == sorted(meant) or _doubled(word, meant) else None


def one_slip(word: str, other: str) -> bool:
    """True where one slip of the pen makes the one word of the other."""
    if abs(len(word) - len(other)) > 1 or word == other or _digits(word) != _digits(other):
        return False
    start = 0
    while start < min(len(word), len(other)) and word[start] == other[start]:
        start += 1
    one, two = word[start:], other[start:]
    if len(one) == len(two) > 1 and one[:2] == two[1] + two[0] and one[2:] == two[2:]:
        return True
    return one[1:] == two[1:] or one[1:] == two or one == two[1:]


def _doubled(word: str, other: str) -> bool:
    """True where the words differ in letters that stand double in one of them."""
    return _single(word) == _single(other)


def _single(word: str) -> str:
    return "".join(letter for at, letter in enumerate(word) if word[at - 1 : at] != letter)


@remembered(16384)
def _digits(word: str) -> str:
    return "".join(letter for letter in word if letter.isdigit())
