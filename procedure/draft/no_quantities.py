"""Figures that measure nothing that is done: weights of an area, ages, old money, tales of stuff.

They stay what they are, a figure that is told as not placed, and no step has them.
"""

from __future__ import annotations

import re

from procedure.draft.amount import Amount
from procedure.draft.things import Thing
from procedure.quantity.ready_patterns import pattern

# "145 g m-2", "36 g/m2", "120 g per square metre", "150 gsm": how heavy a cloth is.
OF_AREA = pattern(
    r"\s*(?:(?:/|per|a)\s*(?:m2|m\u00b2|m\^2|sq\.?\s*m|square\s+(?:met|yard|f(?:oo|ee)t))|m\s?-\s?2\b|m\u207b\u00b2|gsm\b)",
    re.I,
)
# "Age 7 to 11", "for ages 9 and up": of people.
AGED = pattern(r"\b(?:ages?|aged)\s*:?\s*$", re.I)
# "(4d.)" beside what was bought: pence, and no days.
PENCE = pattern(r"\d{1,2}\s?d\.?", re.I)
BOUGHT = pattern(
    r"\b(?:chemist|druggist|grocer|shop|store|market|pedlar|bought|buy|cost|costs|paid|price|pence)\b[^.;]*\(\s*$",
    re.I,
)
# "Filings upon which sour beer has stood six weeks": what befell the stuff before it was used.
BEFELL = pattern(
    r"\b(?:which|that|where(?:in|on))\b[^.;,]{0,40}?\b(?:has|have|had)\s+(?:(?:[a-z]+\s+){0,2}?)"
    r"(?:stood|lain|rotted|fermented|sat|rusted|rested|worked|aged)\b[^.;,]{0,32}$",
    re.I,
)


def without_quantity(text: str, one: Amount, things: list[Thing], start: int) -> Amount:
    """The amount, as a mere figure where it measures nothing that is done."""
    if one.kind in ("mass", "number") and OF_AREA.match(text, one.end):
        return one._replace(kind="figure")
    before = text[max(start, one.start - len("for ages: ")) : one.start]
    if one.kind == "number" and AGED.search(before):
        return one._replace(kind="figure")
    clause = text[max(start, one.start - 96) : one.start]
    if one.kind == "time" and PENCE.fullmatch(one.words) and BOUGHT.search(clause):
        return one._replace(kind="figure")
    told = BEFELL.search(clause) if one.kind in ("time", "named wait") else None
    if told is not None:
        at = one.start - len(clause) + told.start()
        named = [thing for thing in things if thing.end <= at]
        if named and named[-1].kind != "fibre":
            return one._replace(kind="figure")
    return one
