"""The words of a sentence that the draft made nothing of: they are told of, so that none is lost.

What a list of measures does not know ("a creel", "cover the lot", "a bittie lang") is so still
said, since whatever is neither placed, told of as not placed, named nor followed is not read.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from procedure.draft import limits

# Words that say no amount, heat or time by themselves.
SMALL = frozenset(
    """a an the and or but so nor yet as if that this these those there here then than thus
    i me my we us our you your ye thou thy he him his she her hers it its they them their one's
    who whom whose which what where how why of in on at to from by for with without into onto upon
    out up down off over under through about against between among within during also
    is are was were be been being am do does did done have has had having will would shall should
    can could may might must let lets not no dont didnt its ive im youll well now only just very
    about around roughly approx approximately circa max maximum nearly almost per each exactly
    too please oh ah yes ok okay sir madam mr mrs dr st et etc ie eg ps nb amp""".split()
)
# Words that set one end to an amount beside them, and are read with it.
BOUNDS = frozenset("more less least most longer over above below min minimum ish so up".split())
# Letters that stand alone for nothing but what somebody calls by them: "Q: iron".
CODES = frozenset("BDEFGHJKLMNPQRSTUVWXYZ")
WORD = re.compile(r"[^\W_]+(?:'[^\W_]+)*")
# What parts two thoughts, so that the words on its two sides are told apart.
APART = re.compile(r"[.;:!?,()\n]|\s-\s")

Span = tuple[int, int]


def not_read(
    text: str, start: int, end: int, told: Iterable[Span], letters: frozenset[str] = frozenset()
) -> list[Span]:
    """The stretches between two places of a text that hold a word which nothing tells of.

    ``told`` are the stretches that a line or a comment of the draft tells of. Each stretch
    begins and ends with such a word; small words stand only between two of them. ``letters``
    are those that count as words where they stand alone.
    """
    taken = bytearray(end - start)
    for low, high in told:
        low, high = max(low, start), min(high, end)
        if low < high:
            taken[low - start : high - start] = b"\x01" * (high - low)
    found: list[Span] = []
    for word in WORD.finditer(text, start, end):
        low, high = word.span()
        if any(taken[low - start : high - start]) or (
            _is_small(word[0]) and word[0] not in letters
        ):
            continue
        beside = taken[
            max(0, low - start - limits.LETTERS_TO_AN_END) : high - start + limits.LETTERS_TO_AN_END
        ]
        if word[0].lower() in BOUNDS and any(beside):
            continue
        before = found[-1] if found else None
        if before and _goes_on(text, before[1], low, taken[before[1] - start : low - start]):
            found[-1] = (before[0], high)
        else:
            found.append((low, high))
    return found


def _is_small(word: str) -> bool:
    return word.lower().replace("'", "") in SMALL or (len(word) == 1 and word.isalpha())


def _goes_on(text: str, low: int, high: int, taken: bytearray) -> bool:
    """True where nothing but small words of the same thought lies between two places."""
    return not any(taken) and not APART.search(text, low, high)
