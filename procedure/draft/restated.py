"""Amounts that say again, in other words, what an amount before them has said of the same thing.

"Alum at 2 oz per lb, = 1 oz for us", "alum 20 % (yes, high) = 13 g", "8 % of galls, which comes
to 28 g": the second is of what the first is of, whatever else stands between them.
"""

from __future__ import annotations

import re

from procedure.draft import limits
from procedure.draft.amount import Amount
from procedure.draft.of_each import row_before, row_behind
from procedure.draft.things import Thing

SAYS_AGAIN = re.compile(
    r"(?:=|≈|-+>|→|\b(?:i\.?e\.?|viz\.?|namely|equals|so|(?:that|which|this|it)(?:'s|\s+is)(?:\s+to\s+say)?"
    r"|(?:that|which|this|it)\s+(?:makes|made|means|meant|comes\s+to|came\s+to|works\s+out\s+(?:at|to|as)"
    r"|worked\s+out\s+(?:at|to|as)|was|gives|amounts\s+to)"
    r"|making|in\s+other\s+words|in\s+my\s+case|for\s+(?:me|us)(?:\s+(?:that\s+is|that's))?),?)\s*"
    r"(?:(?:about|around|roughly|some|just|only|say|or|a\s+good|nearly|almost|another)\s+)*$",
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
LEAST = 2  # amounts in a row


def says_again(text: str, amount: Amount) -> bool:
    """True where the words before an amount say that it is what has been said already."""
    before = text[max(0, amount.start - 40) : amount.start]
    return amount.kind in WEIGHED and SAYS_AGAIN.search(before) is not None


def give_restated(text: str, here: list[Amount], things: list[Thing], of: dict[int, Thing]) -> None:
    """Give each amount that says another one again the thing of that one, in ``of``."""
    paired = _give_in_order(text, here, things, of)
    for at, one in enumerate(here):
        if one.start in paired:
            continue
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


AND = re.compile(r"\s*(?:,|,?\s*\band\b|&|\+)\s*(?:about\s+)?", re.I)
IN_BRACKETS = re.compile(r"[\s(]*\(\s*(?:so\s+|i\.?e\.?,?\s+|=\s*)?(?:about\s+)?$")
BRACKET_ENDS = re.compile(r"\s*(?:respectively\s*)?\)")
RESPECTIVELY = re.compile(r"\s*,?\s*\(?respectively\b", re.I)


def _give_in_order(
    text: str, here: list[Amount], things: list[Thing], of: dict[int, Thing]
) -> set[int]:
    """Give the amounts of a row to the things before them, each to its own; where they begin.

    "10 % alum and 5 % tartar, so 20 g and 10 g"; "alum and tartar, 20 g and 10 g respectively".
    """
    paired: set[int] = set()
    for at, one in enumerate(here):
        row = _row(text, here[at:])
        if len(row) < LEAST or one.start in paired:
            continue
        before = text[max(0, one.start - 16) : one.start]
        bracketed = IN_BRACKETS.search(before) and BRACKET_ENDS.match(text, row[-1].end)
        behind = row_behind(text, row[-1].end, things)
        if len(behind) == len(row):
            meant = behind  # "24 g and 12 g of alum and tartar"
        elif RESPECTIVELY.match(text, row[-1].end):
            meant = row_before(text, one.start, things) or _measured(here[:at], one, of)
        elif says_again(text, one) or bracketed:
            meant = _measured(here[:at], one, of)
        else:
            continue
        if len(meant) == len(row):
            of.update({each.start: thing for each, thing in zip(row, meant, strict=True)})
            paired |= {each.start for each in row}
    return paired


def _row(text: str, here: list[Amount]) -> list[Amount]:
    """The amounts of one kind that follow each other with nothing but "and" between them."""
    row = here[:1]
    for one in here[1:]:
        if one.kind != row[0].kind or not AND.fullmatch(text, row[-1].end, one.start):
            break
        row.append(one)
    return row if row[0].kind in WEIGHED else []


def _measured(before: list[Amount], row: Amount, of: dict[int, Thing]) -> list[Thing]:
    """The things before a row of amounts that are measured, each once and by another kind."""
    near = [
        one
        for one in before
        if row.start - one.end <= limits.LETTERS_TO_WHAT_IS_RESTATED
        and one.kind in (*SAID_BY, *WEIGHED)
        and one.kind != row.kind
        and one.start in of
        and of[one.start].kind in SOLID
    ]
    things = [of[one.start] for one in near]
    return things if len({one.name for one in things}) == len(things) else []


def _first(
    text: str, before: list[Amount], one: Amount, things: list[Thing], of: dict[int, Thing]
) -> Amount | None:
    """The amount of a material that another one says again; None where there is none."""
    for first in reversed(before):
        if one.start - first.end > limits.LETTERS_TO_WHAT_IS_RESTATED:
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
