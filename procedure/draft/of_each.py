"""One amount of several things: "logwood and fustic, 3 lb of each"."""

from __future__ import annotations

import re

from procedure.draft.amount import Amount
from procedure.draft.things import Thing

KINDS = frozenset(("mass", "volume", "spoon", "share", "odd"))
ROW = frozenset(("material", "part", "fibre"))
EACH = re.compile(r"\s*(?:of\s+)?(?:each|apiece)\b", re.I)
ENDS_EACH = re.compile(r"\b(?:each|apiece)$", re.I)
AND = re.compile(r"\s*(?:,|,?\s*\band\b|&|\+)\s*(?:(?:the|some|of|ground|dried|fresh)\s+)*", re.I)
BEHIND = re.compile(r"\s*(?:,?\s*(?:of|in)\s+)?(?:the\s+)?", re.I)
BEFORE = re.compile(r"[\s,:(=-]*(?:(?:about|say|use|take|of\s+each,?)\s+)?", re.I)


def of_each(
    text: str, here: list[Amount], things: list[Thing], of: dict[int, Thing]
) -> list[Amount]:
    """The amounts of a sentence, one that is of each of several things once for each of them.

    Each further one begins a letter later, so that it has a place of its own; ``of`` gets its
    thing.
    """
    made: list[Amount] = []
    for amount in here:
        each = EACH.match(text, amount.end)
        if amount.kind not in KINDS or not (each or ENDS_EACH.search(amount.words)):
            made.append(amount)
            continue
        end = each.end() if each else amount.end
        row = row_behind(text, end, things) or row_before(text, amount.start, things)
        if len(row) < LEAST or not _may_be_each(amount, row):
            made.append(amount)
            continue
        for index, thing in enumerate(row):
            one = amount._replace(start=amount.start + index, each=False)
            of[one.start] = thing
            made.append(one)
    return made


LEAST = 2


def _may_be_each(amount: Amount, row: list[Thing]) -> bool:
    """True for stuff, and with one fibre of its weight: "wool and weld, 100 g of each"."""
    fibres = sum(one.kind == "fibre" for one in row)
    return not fibres or (fibres == 1 and amount.kind == "mass")


def row_before(text: str, at: int, things: list[Thing]) -> list[Thing]:
    """The things in a row that ends right before a place."""
    row: list[Thing] = []
    for thing in reversed([t for t in things if t.end <= at]):
        gap = BEFORE if not row else AND
        end = row[0].start if row else at
        if thing.kind not in ROW or not gap.fullmatch(text, thing.end, end):
            break
        row.insert(0, thing)
    return row


def row_behind(text: str, at: int, things: list[Thing]) -> list[Thing]:
    """The things in a row that begins right behind a place."""
    row: list[Thing] = []
    for thing in [t for t in things if t.start >= at]:
        gap = BEHIND if not row else AND
        end = row[-1].end if row else at
        if thing.kind not in ROW or not gap.fullmatch(text, end, thing.start):
            break
        row.append(thing)
    return row
