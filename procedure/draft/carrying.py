"""Verbs of which the words behind them say what they do: "take your wool out", "drop it in".

English says by a small word behind the object whether something is moved into a bath or out of
it; the verb itself may be any that a hand can do. ``words.csv`` lists the verbs (kind
``carries``), with the ways that each of them goes.
"""

from __future__ import annotations

import re
from functools import cache

from procedure.draft import limits
from procedure.draft.lexicon import fibres, meanings, one_of
from procedure.quantity.record import NamedTuple

# What may stand before the fibre that is moved: "all of your nice damp".
_BEFORE = (
    r"(?:(?:the|your|my|our|his|her|all|both|each|every|this|that|these|those|its|their|of|half|one|two|three"
    r"|four|five|six|first|second|third|last|other|rest|whole|now|wet|damp|dry|dripping|wetted|soaked|mordanted"
    r"|dyed|rinsed|washed|scoured|squeezed|clean|warm|hot|cooled|prepared|pre-?soaked|pre-?wetted|pre-?mordanted"
    r"|a|an|\w+ed)\s+){0,6}"
)
_PRONOUNS = ("it", "them", "everything", "these", "those", "mine", "both", "one")
_VESSELS = (
    r"(?:bath|dye-?bath|dye|dyepot|pot|pan|kettle|liquor|mordant|vat|water|jar|bucket|tub|bowl"
    r"|liquid|solution)"
)
_OUT = re.compile(
    r"\s+(?:straight\s+|right\s+|back\s+|gently\s+|carefully\s+)*"
    rf"(?:out|forth)\b(?!\s+(?:flat|in\s+the\s+(?:sun|shade|air)))|\s+from\s+(?:the|this|its|that|your)\s+(?:\w+\s+){{0,2}}{_VESSELS}\b",
    re.I,
)
_IN = re.compile(
    r"\s+(?:(?:straight|back|down|gently|carefully|slowly|loosely|now)\s+)*"
    r"(?:in|into)(?=\s*(?:[.,;:)(]|$)|\s+(?:to\b|and\b|for\b|at\b|then\b|again\b|now\b|while\b|until\b|till\b|it\b"
    rf"|(?:the|this|that|your|its|a|an)\s+(?:[\w-]+\s+){{0,3}}{_VESSELS}\b))|\s+back(?=\s*(?:[.,;:)]|$)|\s+(?:for|and|to|at|until|till|in|into)\b)",
    re.I,
)


# "Move the wool to the dye pot": of what these verbs alone say.
_TO = re.compile(rf"\s+(?:over\s+)?to\s+(?:the|your)\s+(?:[\w-]+\s+){{0,2}}{_VESSELS}\b", re.I)
_MOVES = frozenset(("move", "moves", "moved", "transfer", "transfers", "transferred"))
# "Dissolve the alum in a mug of water, tip it into the pan": what was made ready goes in.
_MADE_READY = re.compile(
    r"\b(?:dissolv\w*|mix\w*|stir(?:red)?|crush\w*|gr[io]u?nd|chop\w*|paste|measure\w*|weigh\w*|steep\w*|strain\w*"
    r"|boil\w*|simmer\w*|tie|tied|bag|jug|mug|jar|bundle)\b",
    re.I,
)


def _sentence_before(text: str, at: int) -> str:
    """The words of a sentence before a place of it."""
    return re.split(r"[.;!?]\s", text[max(0, at - limits.LETTERS_OF_A_DEED_BEFORE) : at])[-1]


class Moved(NamedTuple):
    """Where a moving verb takes fibre, as an act (``lift`` or ``enter``), and where it says so."""

    act: str
    end: int


@cache
def _object() -> re.Pattern[str]:
    fibre = [*fibres(), *meanings("fibre")]
    return re.compile(
        rf"\s+{_BEFORE}(?:{one_of(fibre)}|(?P<pronoun>{one_of(_PRONOUNS)}))(?![\w'-])", re.I
    )


def ways_of(word: str) -> str:
    """The ways that a verb goes: ``out``, ``in`` or ``out or in``; empty where it moves nothing."""
    return meanings("carries").get(word, "")


def carried(text: str, word: str, at: int, end: int) -> Moved | None:
    """Where a verb that ends at ``at`` takes the fibre behind it; None where it takes none."""
    ways = ways_of(word)
    what = _object().match(text, at, end) if ways else None
    if what is None or (what["pronoun"] and _MADE_READY.search(_sentence_before(text, at))):
        return None
    for way, where, act in (("out", _OUT, "lift"), ("in", _IN, "enter")):
        found = where.match(text, what.end(), end) if way in ways else None
        if found is not None:
            return Moved(act, found.end())
    if word in _MOVES and not what["pronoun"]:
        found = _TO.match(text, what.end(), end)
        return Moved("enter", found.end()) if found is not None else None
    return None
