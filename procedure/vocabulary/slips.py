"""Slips of the pen: which known word a misspelt one can only mean."""

from __future__ import annotations

from collections.abc import Iterable

# Shorter words have too many neighbours: "dye" and "dry" are one letter apart.
SHORTEST = 4


def only_meant(word: str, known: Iterable[str]) -> str | None:
    """The only known word that is one slip of the pen away, or None.

    A slip is a letter too many, missing, wrong or changed about with its neighbour.
    Two known words that are both one slip away give None: then it takes a person to
    say which is meant. So do digits that differ, because bath-1 and bath-2 are two
    baths, and words of fewer than four letters, unless only two letters changed
    places. A known word is never a slip of another.
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
    turned = sorted(word) == sorted(meant)
    return meant if turned or min(len(word), len(meant)) >= SHORTEST else None


def one_slip(word: str, other: str) -> bool:
    """True where one slip of the pen makes the one word of the other."""
    if word == other or abs(len(word) - len(other)) > 1 or _digits(word) != _digits(other):
        return False
    start = 0
    while start < min(len(word), len(other)) and word[start] == other[start]:
        start += 1
    one, two = word[start:], other[start:]
    if len(one) == len(two) > 1 and one[:2] == two[1] + two[0] and one[2:] == two[2:]:
        return True
    return one[1:] == two[1:] or one[1:] == two or one == two[1:]


def _digits(word: str) -> str:
    return "".join(letter for letter in word if letter.isdigit())
