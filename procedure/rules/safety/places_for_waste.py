"""Where waste goes, by the words of a text: the ways that they name, and what they speak of."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache

from procedure.model import Name
from procedure.model.harm import clauses_of
from procedure.quantity.kept_answers import remembered
from procedure.trace import Moment
from procedure.vocabulary.library import rows

NOT = r"\b(never|not|no|nor|without|away from|out of|nowhere|don't|avoid)\b"
# What is said of the plants that were strained out is not said of the liquor.
SOLIDS = (
    r"\b(spent|strained|plants?|tops|chips|skins|leaves|roots|solids|berr(y|ies)|flowers|petals"
    r"|bark|twigs|husks|greens|pulp|dregs|stalks|stems|herb)\b"
)
# How each of these begins. To look for that first spares most texts the pattern.
_BEGIN_NOT, _BEGIN_SOLIDS = (
    tuple({word[:4] for word in pattern.removeprefix(r"\b(").rpartition(")")[0].split("|")})
    for pattern in (NOT, SOLIDS)
)


def _any_of(beginnings: tuple[str, ...], part: str) -> bool:
    return any(map(part.__contains__, beginnings))


# Where neither children nor animals get at it, a heap may take a plant that is only poisonous.
OUT_OF_REACH = (
    r"out of (the )?reach|closed|shut|locked|fenced|lidded|covered|buried deep"
    r"|away from children|no (animal|child|one|body)"
)

# Where household refuse goes: out of reach of animals once the lid is shut (common practice).
REFUSE = r"\b(bins?|dustbins?|rubbish|refuse|trash|garbage|landfill|incinerator)\b"


@cache
def _ways() -> list[tuple[str, str]]:
    found = [
        (word.strip(), row["way"])
        for row in rows("disposal_ways")
        for word in row["words"].split(";")
    ]
    return sorted(found, key=lambda pair: -len(pair[0]))


@remembered(1024)
def ways_out(text: str) -> Mapping[str, str]:
    """The ways that words of disposal name, each with the word that named it.

    What is denied (“never the garden”) and what is said of the spent plants is left
    out; words that name no known way give nothing.
    """
    found: dict[str, str] = {}
    for part in clauses_of(text.lower()):
        if _any_of(_BEGIN_NOT, part) and re.search(NOT, part):
            continue
        if _any_of(_BEGIN_SOLIDS, part) and re.search(SOLIDS, part):
            continue
        found = {**ways_named(part), **found}
    return found


# The drain man is no drain: who takes a waste away is named by what they see to.
_NOBODY = r"(?! (?:(?:wo)?m[ae]n|people|firm|company|contractor|cleaner|service)s?\b)"


@remembered(1024)
def ways_named(part: str) -> Mapping[str, str]:
    """The ways that one clause in lower case names, whatever it says of them."""
    found: dict[str, str] = {}
    for word, way in _ways():
        if word not in part:
            continue  # so that few of many patterns are made
        taken = re.sub(rf"\b{re.escape(word)}s?\b{_NOBODY}", " ", part)
        if taken != part:
            part = taken
            found.setdefault(way, word)
    return found


def place_said(moment: Moment) -> Name | None:
    """Where a step says that its bath is thrown away."""
    to = moment.step.to
    return (to.words or to.name) if to is not None else None
