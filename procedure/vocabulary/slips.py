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
    longer = len(word) - len(other)
    if not -1 <= longer <= 1 or word == other:
        return False
    start = 0
    for letter, its in zip(word, other):  # noqa: B905 - one may be a letter longer
        if letter != its:
            break
        start += 1
    rest = len(word) - start
    # Most words differ in their ends as well, whichever letter is left out of either.
    if longer > 0:
        slip = rest == 1 or word[start + 1 :] == other[start:]
    elif longer < 0:
        slip = not rest or word[start:] == other[start + 1 :]
    elif word[start + 1 :] == other[start + 1 :]:
        slip = True
    else:
        changed_about = word[start : start + 2] == other[start + 1 : start + 2] + other[start]
        slip = changed_about and word[start + 2 :] == other[start + 2 :]
    return slip and _digits(word) == _digits(other)


def _doubled(word: str, other: str) -> bool:
    """True where the words differ in letters that stand double in one of them."""
    return _single(word) == _single(other)


def _single(word: str) -> str:
    return "".join(letter for at, letter in enumerate(word) if word[at - 1 : at] != letter)


@remembered(16384)
def _digits(word: str) -> str:
    return "".join(letter for letter in word if letter.isdigit())
