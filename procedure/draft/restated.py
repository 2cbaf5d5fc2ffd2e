"""Amounts that say again, in other words, what an amount before them has said of the same thing.

"Alum at 2 oz per lb, = 1 oz for us", "alum 20 % (yes, high) = 13 g", "8 % of galls, which comes
to 28 g": the second is of what the first is of, whatever else stands between them.
"""

from __future__ import annotations

import re

from procedure.draft.amount import Amount
from procedure.draft.things import Thing

SAYS_AGAIN = re.compile(
    r"(?:=|≈|-+>|→|\b(?:i\.?e\.?|viz\.?|namely|equals|so|(?:that|which|this|it)(?:'s|\s+is)(?:\s+to\s+say)?"
    r"|(?:that|which|this|it)\s+(?:makes|made|means|meant|comes\s+to|came\s+to|works\s+out\s+(?:at|to|as)"
    r"|worked\s+out\s+(?:at|to|as)|was|gives|amounts\s+to)"
    r"|making|in\s+other\s+words|in\s+my\s+case|for\s+(?:me|us)(?:\s+(?:that\s+is|that's))?),?)\s*"
    r"(?:(?:about|around|roughly|some|just|only|say|or|a\s+good|nearly|almost)\s+)*$",
    re.I,
)
# A sentence that goes on with the amount of the one before it: "8 %. So 28 g."
GOES_ON = re.compile(
    r"\s*(?:(?:so|=|i\.?e\.?|(?:that|which)(?:'s|\s+is)(?:\s+to\s+say)?)\s+(?:about\s+)?[\d½¼¾]"
    r"|for\s+(?:our|my|your|the|these|this|mine)\s+[\d½¼¾][^.;\n]{0,28}?\s"
    r"(?:that|this|it)(?:'s|\s+(?:is|was|makes|made|means|meant|comes\s+to|came\s+to))\s+(?:about\s+)?[\d½¼¾])",
    re.I,
)
WEIGHED = frozenset(("mass", "volume", "spoon", "share", "ratio"))
SAID_BY = frozenset(("share", "ratio", "relative"))
SOLID = frozenset(("material", "part"))
LONGEST_BETWEEN = 90  # letters: an aside stands between, and no other thought


def says_again(text: str, amount: Amount) -> bool:
    """True where the words before an amount say that it is what has been said already."""
    before = text[max(0, amount.start - 40) : amount.start]
    return amount.kind in WEIGHED and SAYS_AGAIN.search(before) is not None


def give_restated(text: str, here: list[Amount], things: list[Thing], of: dict[int, Thing]) -> None:
    """Give each amount that says another one again the thing of that one, in ``of``."""
    for at, one in enumerate(here):
        if not says_again(text, one) or (one.start in of and _is_its_own(text, one, of)):
            continue
        first = _first(text, here[:at], one, things, of)
        if first is not None:
            of[one.start] = of[first.start]
            continue
        signed = text[: one.start].rstrip().endswith(("=", ">", "→"))
        back = [t for t in things if t.end <= one.start and t.kind in SOLID]
        if signed and one.start not in of and back and not _parted(text, back[-1].end, one.start):
            of[one.start] = back[-1]


def _first(
    text: str, before: list[Amount], one: Amount, things: list[Thing], of: dict[int, Thing]
) -> Amount | None:
    """The amount of a material that another one says again; None where there is none."""
    for first in reversed(before):
        if one.start - first.end > LONGEST_BETWEEN:
            return None
        if first.kind == "relative" and first.start not in of:
            back = [t for t in things if t.end <= first.start and t.kind in SOLID]
            if back and not _parted(text.replace(":", " "), back[-1].end, first.start):
                of[first.start] = back[-1]  # "nettles in May: twice the weight of the warp"
        thing = of.get(first.start)
        if thing is None or thing.kind not in SOLID or first.kind not in (*SAID_BY, "mass"):
            continue
        other = first.kind in SAID_BY if one.kind in ("mass", "volume", "spoon") else True
        return first if other and first.kind != one.kind else None
    return None


def _is_its_own(text: str, one: Amount, of: dict[int, Thing]) -> bool:
    """True where the thing of an amount stands right behind it: "= 5 oz of madder"."""
    thing = of[one.start]
    return thing.start >= one.end and thing.kind in SOLID and _is_near(text, one.end, thing.start)


def _is_near(text: str, low: int, high: int) -> bool:
    return not any(mark in text[low:high] for mark in ",.;:()")


def _parted(text: str, low: int, high: int) -> bool:
    return any(mark in text[low:high] for mark in ".;:!?\n")
