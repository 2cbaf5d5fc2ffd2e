"""A lot that is parted on the way: "take out half the skeins", "dip one skein in the iron".

From there on the two parts are lots of their own, and what is done with both names both. A part
is made only where it is said how much goes into it: so many of the skeins, a weight, or a half.
"""

from __future__ import annotations

import re

from procedure.draft.amount import Amount
from procedure.draft.amount_writing import written
from procedure.draft.course import Course, Lot
from procedure.draft.named_lots import ALL, turn
from procedure.draft.sentences import Part
from procedure.draft.unsettled_steps import Bath, Step

PARTS = frozenset(("dip", "enter", "put", "lift", "mordant", "dye", "modify", "soak"))
PIECES = r"(?:skeins?|hanks?|balls?|scar(?:f|ves)|napkins?|pieces?)"
SOME = re.compile(
    rf"\b(?:(?P<one>one|a\s+single)|(?P<two>two)|(?P<three>three)|(?P<many>\d{{1,2}}))\s+(?:of\s+(?:the|my|your)\s+)?"
    rf"(?:(?:two|three|four|\d)\s+)?(?:of\s+them\b|{PIECES}\b)|\b(?P<lone>one)(?=\s+(?:back\s+)?out\b)|\bthe\s+(?P<first>first)\s+{PIECES}\b",
    re.I,
)
HALF = re.compile(
    r"\bhalf\s+out\b|\bhalf\s+(?:of\s+)?(?:the\s+|your\s+|my\s+)?"
    rf"(?:wool|yarn|silk|cotton|linen|cloth|fibre|fiber|them|{PIECES})\b",
    re.I,
)
REST = re.compile(
    r"\bthe\s+(?:rest|remainder|remaining|others?\b|second\s+half)(?!\s+of\s+the\s+(?:water|bath|liquor|dye))",
    re.I,
)
EACH = re.compile(r"\b(?:at\s+a\s+time|each|every|after\s+another)\b", re.I)
COUNTS = {"lone": 1, "one": 1, "two": 2, "three": 3, "first": 1}


def others_stay_in(course: Course, part: Part) -> Bath | None:
    """Turn to the part of a lot that the words name; the bath in which the others stay then."""
    inside = course.bath if course.bath is not None and course.bath.fibre else None
    less = _turn_to_part(course, part)
    return inside if less and part.doing.act == "lift" else None


def _turn_to_part(course: Course, part: Part) -> bool:
    """Turn to the part of a lot that the words name; True where that is less than all of it."""
    if course.parted is None:
        made = _made(course, part)
        if made is None:
            return False
        course.parted = made
        turn(course, made[0])
        return True
    some, rest = course.parted
    if REST.search(part.words):
        turn(course, rest)
        if part.doing.act in STAYS:
            _still_in_there(course, rest)
    elif _said(part):
        turn(course, some)
    elif ALL.search(part.words) or not _goes_on(course):
        turn(course, None)
    return course.lot_at_hand != ""


# What is done to fibre where it is: left, taken out of its bath.
STAYS = frozenset(("leave", "lift"))
# What leaves fibre in its bath.
GOES_IN = frozenset(("enter", "dye", "mordant", "steep", "modify"))


def _still_in_there(course: Course, lot: Lot) -> None:
    """Turn to the bath that a part of the lot was never taken out of: "leave the others"."""
    for step in reversed(course.steps):
        if step.on == "lot" and lot.name in (step.lot or "").split(" and "):
            if step.verb in GOES_IN and step.bath is not None:
                course.bath, step.bath.fibre, course.last_on = step.bath, True, "bath"
            return


IT = re.compile(r"\b(?:it|them)\b", re.I)


def _goes_on(course: Course) -> bool:
    """True within the sentence that named a part, and in the next one where it says "it"."""
    if course.number == course.lot_turned:
        return True
    said = course.sentence.words if course.sentence is not None else ""
    return course.number - course.lot_turned == 1 and IT.search(said) is not None


def _said(part: Part) -> bool:
    return SOME.search(part.words) is not None or HALF.search(part.words) is not None


def _made(course: Course, part: Part) -> tuple[Lot, Lot] | None:
    """The two parts of the one lot, with the step that parts it; None where it is not parted."""
    if part.doing.act not in PARTS or len(course.lots) != 1 or course.by_label:
        return None
    if EACH.search(part.words) or not any(step.on == "lot" for step in course.steps):
        return None
    lot = course.lots[course.lot_name()]
    how_much = _how_much(course, part, lot)
    if how_much is None:
        return None
    said, amounts = how_much
    some, rest = Lot(f"{lot.name}-1"), Lot(f"{lot.name}-2")
    some.fibre, rest.fibre = lot.fibre, lot.fibre
    for step in course.steps:
        step.lot = step.lot or lot.name
    course.begin()
    split = Step("split", course.number, "split")
    split.name, split.spoken = f"{some.name} {said}, {rest.name}", amounts
    course.add(split).lot = lot.name
    course.by_label = {some.name: some, rest.name: rest}
    if course.bath is not None and course.bath.fibre:
        # In the language a lot that is divided comes out of its bath.
        back = course.add(Step("enter", course.number, "lot", course.bath))
        back.lot = f"{some.name} and {rest.name}"
    return some, rest


def _how_much(course: Course, part: Part, lot: Lot) -> tuple[str, list[Amount]] | None:
    """What goes into the first part, as the language writes it, and the amounts that say it."""
    found = SOME.search(part.words) or HALF.search(part.words)
    if found is None:
        return None
    low, high = part.start + found.start(), part.start + found.end()
    here = [one for one in part.amounts if low <= one.start < high and one.start not in course.used]
    if found.re is HALF:
        return f"1/2 of {lot.name}", here
    count = next((COUNTS[name] for name in COUNTS if found[name]), int(found["many"] or 0))
    weighed = next((one for one in course.free(part, "mass") if _beside(course, one, high)), None)
    if weighed is not None and lot.weight is not None and (text := written(weighed, "", "")):
        return text, [*here, weighed]
    pieces = lot.pieces.low if lot.pieces is not None else None
    if pieces is None or count >= pieces:
        return None
    noun = "piece" if lot.pieces is not None and lot.pieces.unit == "piece" else "skein"
    return f"{count} {noun}{'' if count == 1 else 's'}", here


BRACKET = re.compile(r"\s*\(\s*(?:about\s+)?")


def _beside(course: Course, amount: Amount, at: int) -> bool:
    """True for the weight of "one skein (50 g)"."""
    return BRACKET.fullmatch(course.text, at, amount.start) is not None
