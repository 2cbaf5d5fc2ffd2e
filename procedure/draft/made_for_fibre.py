"""A bath of which it is told how it was made when fibre goes in.

"Into a bath of 200 g of weld boiled for an hour".

The weld was boiled before that, and the fibre was not in.
"""

from __future__ import annotations

import re

from procedure.draft.doings import Doing
from procedure.draft.sentences import Part, Sentence

GOES_IN = frozenset(("enter", "put", "dip", "dye"))
DRAWS = frozenset(("boil", "simmer", "soak", "heat"))
CLEARS = frozenset(("strain", "lift", "gather"))
INTO_A_BATH = re.compile(
    r"\b(?:in|into)\s+(?:an?|the|its|another)\s+(?:[\w-]+\s+){0,3}?(?:bath|dye-?bath|liquor|decoction|pot|dye)\b",
    re.I,
)
# Between the stuff and how it was drawn out: "weld, which had been boiled".
GAP = re.compile(
    r"(?:\s+(?:leaves|leaf|tops|flowers|heads|roots?|bark|skins|hulls|husks|chips))?\s*,?\s*"
    r"(?:(?:which|that)\s+(?:had\s+been|was|were)\s+)?(?:[a-z]+ly\s+)?",
    re.I,
)


def with_baths_made_first(sentence: Sentence, parts: list[Part]) -> list[Part]:
    """The parts, the drawing out of stuff before the fibre that goes into what comes of it."""
    for at in range(len(parts) - 1):
        enters, drawn = parts[at], parts[at + 1]
        if enters.doing.act not in GOES_IN or drawn.doing.act not in DRAWS:
            continue
        if not drawn.doing.words.endswith("ed") or not _is_how(sentence, enters, drawn):
            continue
        end = at + 2
        if end < len(parts) and _clears(parts[end]):
            end += 1
        made, fibre = _apart(enters, drawn)
        strained = [
            one._replace(doing=Doing("strain", one.doing.words, one.doing.start, one.doing.end))
            for one in parts[at + 2 : end]
        ]
        return [*parts[:at], made, *strained, fibre, *parts[end:]]
    return parts


def _is_how(sentence: Sentence, enters: Part, drawn: Part) -> bool:
    """True where the stuff of a bath that fibre goes into stands right before its boiling."""
    if INTO_A_BATH.search(enters.words) is None:
        return False
    ahead = drawn.doing.start
    things = [*enters.things, *drawn.things]
    amounts = [one for one in (*enters.amounts, *drawn.amounts) if one.start < ahead]
    stuff = [one.end for one in things if one.kind in ("material", "part", "water")]
    stuff += [one.end for one in amounts if one.kind in ("mass", "volume")]
    low = max((one for one in stuff if enters.doing.end < one <= ahead), default=-1)
    timed = any(one.kind in ("time", "named wait") for one in enters.amounts)
    if low < 0 or timed or not any(one.kind == "mass" for one in amounts):
        return False
    base = sentence.start
    return GAP.fullmatch(sentence.text, low - base, drawn.doing.start - base) is not None


CLEARED = re.compile(
    r"\W*(?:and\s+|then\s+)*(?:taken\s+out|strained(?:\s+off)?|sieved|lifted\s+out)\b", re.I
)


def _clears(part: Part) -> bool:
    return (
        part.doing.act in CLEARS
        and CLEARED.match(part.words[part.doing.start - part.start :]) is not None
    )


def _apart(enters: Part, drawn: Part) -> tuple[Part, Part]:
    """What is boiled, with its stuff, and the fibre that goes in when it has been."""
    behind = enters.doing.end
    fibre = enters._replace(
        things=tuple(one for one in enters.things if one.start < behind or one.kind == "bath"),
        amounts=tuple(one for one in enters.amounts if one.start < behind),
    )
    stuff = tuple(
        one for one in enters.things if one.start >= behind and one.kind not in ("bath", "fibre")
    )
    made = drawn._replace(
        things=(*stuff, *drawn.things),
        amounts=(*(one for one in enters.amounts if one.start >= behind), *drawn.amounts),
    )
    return made, fibre
