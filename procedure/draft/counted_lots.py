"""Skeins that a recipe counts lot by lot: "mordant two skeins with alum and one with iron".

How many there are is then what the lots come to together, and each has what is said of it alone.
"""

from __future__ import annotations

import re

from procedure.draft.amount import Amount
from procedure.draft.course import Course, called_in_draft, plain_name
from procedure.draft.lexicon import meanings
from procedure.draft.lot_mentions import LotMention, lot_mentions
from procedure.draft.sentences import Part, Sentence
from procedure.draft.shares import Lot, whole
from procedure.draft.turning import share_of, turn
from procedure.draft.unsettled_steps import Bath

LEAST_LOTS = 2
WORKS = frozenset(("mordant", "dye", "dip", "enter", "soak", "boil", "simmer"))
# What a lot that is counted goes into, or how it stays: "one with iron", "one plain".
GOES_ON = re.compile(
    r"\s*(?:\([^()]{1,20}\)\s*)?(?:,\s*)?(?:were\s+|was\s+|are\s+|is\s+|goes\s+|go\s+|went\s+|got\s+|get\s+|gets\s+)?"
    r"(?:with|in|into|using|un-?mordanted|un-?dyed|plain|white|alone|without|no)\b",
    re.I,
)


def count_lots(course: Course, sentence: Sentence) -> None:
    """Note how many skeins there are where the first deed counts them lot by lot."""
    if course.steps or len(course.lots) > 1 or any(lot.count > 1 for lot in course.all_lots()):
        return
    if any(lot.pieces is not None for lot in course.lots.values()):
        return
    if not any(part.doing.act in WORKS for part in sentence.parts):
        return
    found = [one for part in sentence.parts for one in lot_mentions(part)]
    if len(found) < LEAST_LOTS or any(one.kind != "count" or not one.many for one in found):
        return
    if not all(GOES_ON.match(course.text, one.end) for one in found) or _names_no_lot(
        course, found
    ):
        return
    if not course.lots:
        course.lots["yarn"] = Lot("yarn")
        course.lots["yarn"].form = "yarn"
    course.lots[course.a_lot()].counted = sum(one.many for one in found)
    course.picked.turn(whole(course.all_lots()))


def _names_no_lot(course: Course, found: list[LotMention]) -> bool:
    words = course.text[found[0].start : found[0].end].lower().split()
    return words[-1].rstrip("s") not in meanings("labelled lot")


# "The alum was 10 %", "I used 5 g of the alum": of a bath that has its alum without an amount.
TOLD_OF = re.compile(
    r"\W*(?:\d+[.)]\s*)?(?:(?:and|while|whereas|but|for)\s+)?(?:the\s+)?(?P<stuff>[a-z]+(?:\s[a-z]+)?)\s*"
    r"(?:(?:was|were|is|at|came\s+to)\s+|[:=,]\s*|-\s)\s*(?:about\s+|used\s+)?\Z",
    re.I,
)
MEASURES = frozenset(("mass", "share", "spoon", "strength"))


def tell_of_bath(course: Course, part: Part) -> Part:
    """Give the one bath that has its mordant unmeasured the amount that is told of it later.

    The part without that amount, about the fibre in that bath from here on.
    """
    for amount in part.amounts:
        of = course.of(amount)
        if amount.kind not in MEASURES or of is None or of.kind != "material":
            continue
        said = TOLD_OF.match(course.text[part.start : amount.start])
        bath = _unmeasured(course, plain_name(called_in_draft(of)))
        if (
            said is None
            or bath is None
            or not of.start < amount.start
            or amount.start in course.used
        ):
            continue
        one = next(each for each in bath.stuff if each.name == plain_name(called_in_draft(of)))
        one.amounts = (amount,)
        _give(course, bath, amount)
        return part._replace(
            amounts=tuple(each for each in part.amounts if each is not amount),
            things=tuple(each for each in part.things if each.start != of.start),
        )
    return part


def _unmeasured(course: Course, name: str) -> Bath | None:
    """The one bath that holds a mordant without an amount, with some of the fibre in it."""
    found = [
        bath
        for bath in course.baths
        if bath.kind == "mordant"
        and any(one.name == name and not one.amounts for one in bath.stuff)
        and sum(one.name != "water" for one in bath.stuff) == 1
    ]
    return found[0] if len(found) == 1 else None


def _give(course: Course, bath: Bath, amount: Amount) -> None:
    course.used.add(amount.start)
    for step in course.steps:
        if step.bath is bath and step.on == "lot":
            turn(course, share_of(course, step))
            course.begin()
            course.bath, bath.fibre = bath, True
            course.last_on, course.focus = "bath", "fibre"


__all__ = ["count_lots", "tell_of_bath"]
