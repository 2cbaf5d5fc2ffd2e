"""Stuff that the prose offers instead: "(or 1 lb of sumac leaves, boiled and strained)".

What stands in such brackets is another way and goes into no bath of the one that is followed; its
amounts are told as not placed, and what is said behind the brackets goes on with the verb before.
"""

from __future__ import annotations

import re

from procedure.draft.sentences import Part, Sentence

OTHER = re.compile(
    r"\(\s*(?:or(?:\s+else)?|alternatively|if\s+not|failing\s+(?:that|which|this)"
    r"|if\s+you\s+(?:really\s+)?(?:must|like|want|prefer|insist|have\s+no(?:ne)?|can't|cannot))\b[^()]*\)",
    re.I,
)
STUFF = frozenset(("mass", "volume", "spoon", "share", "strength"))
# Fibre that comes to the recipe dyed or mordanted on another day, and with what.
BEFORE_NOW = re.compile(
    r",?\s*(?:of\s+)?which\s+(?:(?:one\s+)?half\s+)?(?:has|have|had)\s+been\s+(?:dyed|mordanted|alumed)\b"
    r"(?=[^.;]*\b(?:on\s+a\s+(?:former|previous|different)\s+day|the\s+day\s+before|earlier|before|already|previously)\b)"
    r".*",
    re.I | re.S,
)


def without_other_ways(text: str, sentence: Sentence) -> tuple[Sentence, list[str]]:
    """The sentence without what it offers instead, and the verbs that are left out with that."""
    spans = [found.span() for found in OTHER.finditer(text, sentence.start, sentence.end)]
    spans = [span for span in spans if _offers_stuff(sentence, *span)]
    spans += [one.span() for one in BEFORE_NOW.finditer(text, sentence.start, sentence.end)]
    left_out: list[str] = []
    for low, high in spans:
        sentence, verbs = without_stretch(sentence, low, high)
        left_out += verbs
    return sentence, left_out


def _offers_stuff(sentence: Sentence, low: int, high: int) -> bool:
    """True where a measured material stands between two places."""
    return any(
        amount.kind in STUFF
        and low <= amount.start < high
        and of is not None
        and of.kind != "fibre"
        for part in sentence.parts
        for amount in part.amounts
        for of in (sentence.of.get(amount.start),)
    )


def without_stretch(sentence: Sentence, low: int, high: int) -> tuple[Sentence, list[str]]:
    """The sentence without what begins between two places; the part before goes on behind them."""
    kept: list[Part] = []
    verbs: list[str] = []
    for part in sentence.parts:
        things = tuple(one for one in part.things if not low <= one.start < high)
        amounts = tuple(one for one in part.amounts if not low <= one.start < high)
        within = low <= part.doing.start < high and bool(part.doing.act)
        if within:
            verbs.append(part.doing.words)
        if within and kept:
            last = kept.pop()
            made = last._replace(things=last.things + things, amounts=last.amounts + amounts)
            kept.append(made._replace(end=part.end, words=last.words + part.words))
        elif within:
            doing = part.doing._replace(act="", words="")
            kept.append(part._replace(doing=doing, things=things, amounts=amounts))
        else:
            kept.append(part._replace(things=things, amounts=amounts))
    left = tuple(one for one in sentence.left_out if not low <= one.start < high)
    return sentence._replace(parts=tuple(kept), left_out=left), verbs


__all__ = ["without_other_ways", "without_stretch"]
