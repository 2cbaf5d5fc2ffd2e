"""What speaks of an amount and is in none: it is told of, so that nothing is lost."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable
from functools import cache

from procedure.draft import limits
from procedure.draft.amount import Amount
from procedure.draft.lexicon import meanings, numbers, one_of
from procedure.draft.spelt_numbers import VULGAR
from procedure.draft.things import Thing, known_words
from procedure.quantity.kept_answers import remembered

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
    words |= {"cover", "covered", "covers", "fill", "fills", "filled", "fill up", "top up"}
    words |= {"topped up", "topping up", "submerge", "submerged", "drizzle", "dribble"}
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
        if thing.kind in MEASURED or thing.kind == "fibre":
            before = MEASURE_OF.search(text, max(start, thing.start - 60), thing.start)
            if before and before["noun"].lower() not in NO_MEASURE:
                note(*before.span("all"))
    at = start
    while match := _signs().search(text, at, end):
        at = note(*match.span())
    for match in LONG_WORD.finditer(text, start, end):
        if _is_slip(match[0].lower()):
            note(*match.span())
    for pattern in (SPAN_OF_TIME, AS_MUCH, WHEN, SOME_OF):
        for match in pattern.finditer(text, start, end):
            note(*match.span())
    return found


LONG_WORD = re.compile(r"(?<![\w'-])[a-z]{6,}(?![\w'-])", re.I)
# "For a good bittie": how long, by an adjective that is said of times.
SPAN_OF_TIME = re.compile(
    r"\b(?:for|after|another)\s+(?:an?\s+)?(?:good|goodly|whole|full|wee|long|short|little|guid|bonny|fair)"
    r"\s+[a-z]+",
    re.I,
)
AS_MUCH = re.compile(
    r"\bas\s+(?:before|usual|above|ever)\b|\bas\s+[a-z]+\s+as\s+(?:[a-z']+\s+){0,2}[a-z']+", re.I
)
WHEN = re.compile(
    r"\b(?:soon|presently|immediately|at\s+once|straight\s*away|directly|previously|beforehand|earlier"
    r"|meanwhile|afterwards|eventually|yearly|monthly|fortnightly|frequently|often|occasionally"
    r"|now\s+and\s+(?:then|again)|from\s+time\s+to\s+time|last\s+(?!of\b)[a-z]+|at\s+(?:the\s+)?"
    r"(?:end|start|beginning)\s+of\s+(?:the\s+)?[a-z]+|slowly|gradually|quickly|by\s+degrees)\b",
    re.I,
)
SOME_OF = re.compile(
    r"\b(?:an?|one|two|three|four|some|another|each|every)\s+(?:[a-z-]+\s+)?"
    r"(?!kind|sort|type|way|bath|colou?r|shade|drop|matter|piece\s+of\s+advice)[a-z-]*"
    r"(?:ful|fuls|load|loads|case|cases|worth|size|sized|length|depth|height|width)\b",
    re.I,
)


@cache
def _spelt() -> dict[str, tuple[str, ...]]:
    """Words of heats, waits and units by their first letter, for slips of the pen."""
    words = {*meanings("heat"), *meanings("wait"), *meanings("unit"), *meanings("odd unit")}
    plain = sorted(
        word for word in words if word.isalpha() and len(word) >= limits.LETTERS_OF_A_SLIP
    )
    return {letter: tuple(w for w in plain if w[0] == letter) for letter in {w[0] for w in plain}}


@remembered(4096)
def _is_slip(word: str) -> bool:
    """True for a word that is nearly one of an amount: "lukewrm", "minuites"."""
    near = _spelt().get(word[0], ())
    if not near or word in near or word in known_words()[1] or word in meanings("verb"):
        return False
    return bool(difflib.get_close_matches(word, near, 1, limits.LIKE_ENOUGH))
