"""What a line of a list is for: "soda ash for scouring, 10 g", "chalk to soften the water: 4 g".

The words of the purpose name baths and deeds, and nothing is done in the line.
"""

from __future__ import annotations

import re

from procedure.draft.amount import Amount
from procedure.draft.things import Thing

WEIGHS = frozenset(("mass", "volume", "spoon", "share", "strength", "ratio", "loose", "odd"))
FOR = re.compile(
    r"\s*,?\s*\(?\s*(?:"
    r"for\s+(?:use\s+in\s+|making\s+)?(?:(?:the|your|a|an)\s+)?(?:[a-z]+\s+)?"
    r"(?:scour(?:ing)?|mordant(?:ing)?|dye(?:ing)?|dye-?\s?(?:bath|pot|liquor)|rins(?:e|ing)|wash(?:ing)?"
    r"|soak(?:ing)?|wetting(?:\s+out)?|fix(?:ing)?|sadden(?:ing)?|brighten(?:ing)?|finish(?:ing)?|after-?\s?bath"
    r"|modif(?:ier|ying)|vat|tannin|soften(?:ing)?)"
    r"|to\s+(?:soften|scour|wash|fix|sadden|brighten|mordant|rinse|shift|adjust|raise|lower|reduce|modify"
    r"|make|help|neutrali[sz]e|finish)"
    r")\b[^.;:,()\n\d]{0,28}\)?"
)
BEFORE = re.compile(r"[\W\d]*")
BETWEEN = re.compile(r"\s*(?:of\s+)?(?:the\s+)?")
CLOSES = re.compile(r"[\s.]*")


def listed_for(
    text: str, start: int, end: int, here: list[Amount], things: list[Thing]
) -> tuple[Thing, Amount] | None:
    """The thing and its amount, where a sentence lists one with its purpose; else None."""
    if not things or things[0].kind != "material" or len(here) != 1 or here[0].kind not in WEIGHS:
        return None
    thing, amount = things[0], here[0]
    found = FOR.match(text.lower(), thing.end, end)
    if found is None:
        return None
    if amount.start < thing.start:
        opens = BEFORE.fullmatch(text, start, amount.start)
        whole = BETWEEN.fullmatch(text, amount.end, thing.start)
        closes = CLOSES.fullmatch(text, found.end(), end)
    else:
        opens = BEFORE.fullmatch(text, start, thing.start)
        whole = re.compile(r"[\s,:(=–-]*").fullmatch(text, found.end(), amount.start)
        closes = re.compile(r"[\s.)]*").fullmatch(text, amount.end, end)
    return (thing, amount) if opens and whole and closes else None
