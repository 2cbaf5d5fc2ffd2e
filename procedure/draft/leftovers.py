"""What speaks of an amount and is in none: it is told of, so that nothing is lost."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache

from procedure.draft.amount import Amount
from procedure.draft.lexicon import meanings, numbers, one_of
from procedure.draft.spelt_numbers import VULGAR
from procedure.draft.things import Thing

# "One" is most often somebody, and "second" the next.
NO_NUMBER = frozenset(("one", "yin"))
# Units that are words of their own, or letters only.
NO_UNIT = frozenset(("c", "d", "l", "g", "h", "in", "m", "drop", "drops", "gr", "lt", "min", "pt"))


@cache
def _signs() -> re.Pattern[str]:
    """A pattern for figures, and for every word that can be of an amount."""
    words = {*numbers(), *meanings("group")} - NO_NUMBER
    words |= {word for word in meanings("unit") if " " not in word} - NO_UNIT
    words |= {*meanings("heat"), *meanings("wait"), *meanings("odd phrase")}
    words |= {*meanings("loose"), *meanings("sign of an amount")}
    return re.compile(
        rf"\d[\d.,/]*(?:\s?[{''.join(VULGAR)}])?|[{''.join(VULGAR)}]"
        rf"|(?<![a-z'])(?:{one_of(words)}|[a-z]{{3,}}-?fuls?)(?!\w|'(?!s))"
        r"|\b(?:un)?till?\s+(?:the\s+|it\s+is\s+|they\s+are\s+)?[a-z']+",
        re.I,
    )


# "A creel of weed", "a pillowcase of skins": a measure of some kind or other.
MEASURE_OF = re.compile(
    r"\b(?P<all>(?:an?|another|one|each)\s+(?:[a-z-]+\s+)?(?P<noun>[a-z-]+)\s+of)"
    r"\s+(?:the\s+|your\s+|my\s+)?(?:[a-z-]+\s+)?$",
    re.I,
)
NO_MEASURE = frozenset(
    "kind sort variety type form bath liquor decoction solution infusion colour color shade tint"
    " mixture tea brew paste vat strain method way use species dye extract mordant out".split()
)
MEASURED = frozenset(("material", "part", "water"))


def unread(
    text: str, start: int, end: int, covered: Iterable[tuple[int, int]], things: Iterable[Thing]
) -> list[Amount]:
    """What speaks of an amount between two places of a text and lies in none of the stretches.

    Each is an amount of the kind ``figure``, which no line takes and which is told of.
    """
    taken = bytearray(end - start)
    for low, high in covered:
        low, high = max(low, start), min(high, end)
        taken[low - start : high - start] = b"\x01" * (high - low)
    found: list[Amount] = []

    def note(low: int, high: int) -> int:
        """Note a stretch, unless an amount lies in it; where to look on from."""
        if any(taken[low - start : high - start]):
            free = taken.find(b"\x00", taken.find(b"\x01", low - start))
            return end if free < 0 else free + start
        words = " ".join(text[low:high].split()).rstrip(".,")
        found.append(Amount("figure", None, None, "", words, low, high))
        taken[low - start : high - start] = b"\x01" * (high - low)
        return high

    for thing in things:
        if thing.kind in MEASURED:
            before = MEASURE_OF.search(text, max(start, thing.start - 60), thing.start)
            if before and before["noun"].lower() not in NO_MEASURE:
                note(*before.span("all"))
    at = start
    while match := _signs().search(text, at, end):
        at = note(*match.span())
    return found
