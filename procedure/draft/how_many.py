"""How many pieces of fibre or of a plant there are, where the number does not stand before them.

"Linen napkins, six of them", "avocado stones (five of them)", "the skeins, twenty-four in all",
"2 cotton bags", "5 bits of wool".
"""

from __future__ import annotations

import re

from procedure.draft import limits
from procedure.draft.amount import Amount
from procedure.draft.things import Thing, known_words
from procedure.quantity.ready_patterns import pattern

# What stands behind a number that counts what was named before it.
OF_THEM = pattern(
    r"\s*(?:of\s+(?:them|these|those)\b|in\s+(?:all|number|total)\b|all\s+told\b|altogether\b)",
    re.I,
)
TO_THEM = pattern(
    r"\s*(?:[,:(\u2013-]+\s*)+(?:(?:and|so|but)\s+)?(?:there\s+(?:are|were)\s+)?(?:about\s+)?"
    r"|\s+(?:are|were|make|makes|made|came\s+to|come\s+to)\s+(?:about\s+)?",
    re.I,
)
# "Napkins: eight, of linen": the line is a list of what there is.
LISTED = pattern(r"\s*:\s*", re.I)
ENDS = pattern(r"\s*(?:[,;.)\n]|$)")
BITS = pattern(
    r"\s+(?:small\s+|little\s+|short\s+)?(?:bits|lengths|strips|scraps|squares|swatches|oddments)\s+of\s+"
    r"(?:[a-z]+\s+){0,2}?$",
    re.I,
)
OBJECTS = pattern(r"\s+(?P<what>[a-z]{3,}s)\b(?!\s+of\b)", re.I)
# "2 wool colours", "3 silk baths": no things of wool or silk.
NO_OBJECTS = frozenset(
    "colours colors shades baths dyes weights grams pounds ounces days hours minutes times lots"
    " skeins hanks fibres fibers is was has does takes needs gives gets goes comes".split()
)


# "1 oz (28 g) each": what is in brackets stands between.
EACH = pattern(r"\)?\s*(?:each|apiece)\b", re.I)


# "A dozen pair of stockings": how many pieces that comes to, the words leave open.
PAIRS = pattern(r"pairs?\b", re.I)
SO_MANY = pattern(
    r"(?:\d|\b(?:dozen|two|three|four|five|six|seven|eight|nine|ten|twelve|twenty))\s+$", re.I
)


def with_counts(
    text: str, here: list[Amount], things: list[Thing], of: dict[int, Thing]
) -> list[Amount]:
    """The amounts with those that count fibre as counts, of which ``of`` then tells the fibre."""
    made: list[Amount] = []
    for one in here:
        if (
            one.kind == "number"
            and PAIRS.match(one.words)
            and SO_MANY.search(text[: one.start][-16:])
        ):
            one = one._replace(kind="figure")
        counted = counted_fibre(text, one, things)
        if counted is not None:
            one, of[one.start] = counted
        elif one.kind == "mass" and not one.each and one.start not in of:
            one = one._replace(each=EACH.match(text, one.end) is not None)
        elif one.kind == "loose" and made and BITS.match(text[made[-1].end : one.end] + " "):
            continue  # the bits of "5 bits of wool", which are counted
        made.append(one)
    return made


def counted_fibre(text: str, one: Amount, things: list[Thing]) -> tuple[Amount, Thing] | None:
    """A bare number as a count of pieces, with what it counts; None where it is none."""
    if (
        one.kind != "number"
        or one.low is None
        or one.low.denominator != 1
        or one.low < limits.FEWEST_COUNTED
    ):
        return None
    fibre = _before(text, one, things) or _behind(text, one, things)
    if fibre is None:
        return None
    unit = "skein" if fibre.name == "=yarn" else "piece"
    return one._replace(kind="count", unit=unit), fibre


def _before(text: str, one: Amount, things: list[Thing]) -> Thing | None:
    """What was named before a number that counts it: "of them", or in a list of fibre."""
    named = [thing for thing in things if thing.end <= one.start]
    if not named or named[-1].kind not in ("fibre", "material", "part"):
        return None
    gap = text[named[-1].end : one.start]
    if TO_THEM.fullmatch(gap) and OF_THEM.match(text, one.end):
        return named[-1]
    if named[-1].kind != "fibre":
        return None
    listed = LISTED.fullmatch(gap) and ENDS.match(text, one.end)
    return named[-1] if listed and named[-1].words.lower().endswith("s") else None


def _behind(text: str, one: Amount, things: list[Thing]) -> Thing | None:
    """The fibre of "2 cotton bags", "5 bits of white wool"."""
    later = [thing for thing in things if thing.start >= one.end]
    if not later or later[0].kind != "fibre":
        return None
    fibre = later[0]
    gap = text[one.end : fibre.start]
    if BITS.fullmatch(gap):
        return fibre
    what = OBJECTS.match(text, fibre.end) if not gap.strip() else None
    if what is None or fibre.name.startswith("="):
        return None
    word = what["what"].lower()
    return None if word in known_words()[1] or word in NO_OBJECTS else fibre
