"""Turning to the vessel that the words name, where a recipe tells its vessels apart."""

from __future__ import annotations

import re

from procedure.draft.amount import Amount
from procedure.draft.course import Course, called_in_draft, plain_name
from procedure.draft.lexicon import meanings, one_of
from procedure.draft.lot_mentions import lot_mentions
from procedure.draft.sentences import Part
from procedure.draft.shares import whole
from procedure.draft.stock import Measured
from procedure.draft.supplies import stuff_of
from procedure.draft.told_apart import Mention
from procedure.draft.unsettled_steps import Bath

# "From the small copper": where the fibre comes from, and not where it is now.
OUT_OF = re.compile(r"\b(?:from|out\s+of|as\s+in|like|than|after)\s+\Z", re.I)
# "Small copper: chrome.": the words about it come next.
HEADS = re.compile(r"\s*(?:\([^()]{1,30}\)\s*)?(?:[:.]|-+\s)")
# "Pour 250 mL into each jar": as much goes into every one of them, and no one line says that.
INTO_EACH = re.compile(
    r"\b(?:in|into)\s+(?:each|every)\s+(?:one\b|of\s+(?:them|these|those)\b"
    rf"|(?:\w+\s+)?(?:{one_of(meanings('labelled vessel'))})\b)",
    re.I,
)
# "Bring both to 65 °C", "the jars were kept at 80 °C": of several baths, which no one line says.
OF_SEVERAL = re.compile(
    r"\b(?:(?:all|these|those|the)\s+(?:two|three|four|five|six)\b"
    r"|both\b(?=\s*(?:[,;.:]|(?:gently|slowly|up|to|at|for|in|were|are|had|have|stood)\b))"
    rf"|(?:all|both|these|those|the)\s+(?:the\s+)?(?:{one_of(meanings('labelled vessel'))})s\b)",
    re.I,
)
# "Warm both pots": of the two that there are, whether or not they have names.
BOTH_BATHS = re.compile(
    r"\bboth\s+(?:the\s+)?(?:pots|pans|baths|dye-?baths|vats|kettles|buckets|liquors)\b", re.I
)
OUT_OF_BATHS = frozenset(("rinse", "wash", "dry", "air", "squeeze", "lift", "scour"))
KEPT = frozenset(("time", "temperature", "named heat", "named wait", "number"))
# "The weld pot", "into the madder": the bath by what is in it.
CALLED = re.compile(
    r"(?:\b(?:the|that|this)\s+(?P<pot>[a-z-]+(?:\s[a-z-]+)?)\s+(?:dye\s?)?(?:pot|pan|bath|vat|copper|bucket|jar|bowl|liquor|tub)"
    r"|\b(?:in|into|through)\s+the\s+(?P<stuff>[a-z-]+(?:\s[a-z-]+)?))\b",
    re.I,
)
STUFF = frozenset(("mass", "volume", "spoon", "odd", "loose", "share", "strength", "count"))


def turn_to_vessel(course: Course, part: Part) -> None:
    """Turn to the bath of the vessel that a part names, or to none where it has none yet."""
    named = [one for one in course.vessels.within(part) if not _is_left(course, one)]
    if not named:
        return
    label = course.vessels.named(named[0])
    known = course.in_vessel.get(label)
    if known is not None:
        course.vessel = label, course.number
        if known is not course.bath:
            course.begin()
            course.bath = known
        return
    spent = _same_bath_again(course, part, named[0])
    if spent is not None:
        course.vessel, course.in_vessel[label] = (label, course.number), spent
        course.bath = spent
        return
    stuff = any(one.amounts or one.thing.kind == "material" for one in stuff_of(course, part))
    if stuff or HEADS.match(course.text, named[0].end):
        course.vessel = label, course.number
        course.begin()
        course.bath = None


# "Second bath: skein B": the liquor that the first skein has left, once more.
BATHS = frozenset(("bath", "dyebath", "dye bath", "dye-bath", "exhaust", "exhaust bath"))
ADDS = frozenset(("put", "dissolve", "boil", "fill up"))


def _same_bath_again(course: Course, part: Part, one: Mention) -> Bath | None:
    """The one dye bath there is, where a numbered bath is of nothing of its own; else None."""
    if one.noun not in BATHS or not one.label.isdigit() or not one.heads:
        return None
    dyes = [bath for bath in course.baths if bath.kind == "dye" and bath.begun]
    sentence = course.sentence
    if len(dyes) != 1 or sentence is None or course.stock.has("dye"):
        return None
    every = [each for each in sentence.parts if each.start >= part.start]
    if any(thing.kind in ("material", "part", "water") for each in every for thing in each.things):
        return None
    goes_in = any(each.doing.act in ("enter", "dye", "dip") for each in every)
    named = any(lot_mentions(each) for each in every)
    timed = any(amount.kind == "time" for each in every for amount in each.amounts)
    return dyes[0] if goes_in or (named and timed) else None


def _is_left(course: Course, one: Mention) -> bool:
    before = course.text[max(0, one.start - 12) : one.start]
    own = course.text[one.start : one.end]
    return bool(OUT_OF.search(f"{before.rstrip()} ") or OUT_OF.match(own))


def without_what_is_for_each(course: Course, part: Part) -> Part:
    """The part without what goes into each of several vessels, which is told as not placed."""
    kinds: frozenset[str] = frozenset()
    solid = any(one.kind in ("mass", "share") for one in part.amounts)
    if INTO_EACH.search(part.words) and not solid:
        kinds = STUFF  # with a solid it is what each of them is made of, and one stands for all
    both = len(course.baths) == LEAST_BATHS and BOTH_BATHS.search(part.words) is not None
    if (
        (both or len(course.in_vessel) >= LEAST_BATHS)
        and OF_SEVERAL.search(part.words)
        and part.doing.act not in OUT_OF_BATHS
    ):
        kinds |= STUFF | KEPT
    part = _without_stuff_for_each_lot(course, part)
    if not kinds:
        return part
    fibre = [one.start for one in part.amounts if _is_of_fibre(course, one)]
    if INTO_EACH.search(part.words):
        course.for_each.update(
            one.start for one in part.amounts if one.kind in STUFF and one.start not in fibre
        )
    return part._replace(
        amounts=tuple(one for one in part.amounts if one.kind not in kinds or one.start in fibre)
    )


# "10 g of alum each", "2 g of iron for each skein": so much for every one of several lots.
FOR_EACH_LOT = re.compile(
    r"[,\s]*(?:for\s+|to\s+|per\s+)?(?:each(?:\s+(?:of\s+them|one))?(?!\s+(?:lb|pound|kilo|litre|gallon|kg|\d))\b|apiece\b"
    rf"|(?:(?:for|to)\s+(?:each|every)|per)\s+(?:{one_of(meanings('labelled lot'))})\b)",
    re.I,
)


def _without_stuff_for_each_lot(course: Course, part: Part) -> Part:
    """The part without what is said of the stuff for each lot: no one line says how much it is."""
    here = course.share or whole(course.all_lots())
    if len(here.pieces) < LEAST_LOTS:
        return part
    apart: list[int] = []
    measured: list[int] = []
    for amount in part.amounts:
        of = course.of(amount)
        if amount.kind not in STUFF_OF_LOTS or of is None:
            continue
        if of.kind != "material" and (of.kind != "water" or part.doing.act in OUT_OF_BATHS):
            continue
        measured.append(amount.start)
        if of.start >= amount.end and FOR_EACH_LOT.match(course.text, of.end):
            apart += measured  # "20 g of alum in 6 litres of water for each"
            measured = []
    course.for_each.update(apart)
    return part._replace(amounts=tuple(one for one in part.amounts if one.start not in apart))


STUFF_OF_LOTS = frozenset(("mass", "volume", "spoon"))
LEAST_LOTS = 2


def _is_of_fibre(course: Course, amount: Amount) -> bool:
    of = course.of(amount)
    return of is not None and of.kind == "fibre"


def turn_to_what_holds(course: Course, part: Part) -> None:
    """Turn to the one bath that holds what the words call it by: "the weld pot"."""
    if len(course.baths) < LEAST_BATHS or any(one.kind in STUFF for one in part.amounts):
        return
    for found in CALLED.finditer(part.words):
        name = "pot" if found["pot"] else "stuff"
        low = part.start + found.start(name)
        word = next((one for one in part.things if one.start == low), None)
        if word is None or word.kind != "material":
            continue
        holding = [one for one in course.baths if one.holds(plain_name(called_in_draft(word)))]
        if len(holding) == 1 and holding[0] is not course.bath:
            course.begin()
            course.bath = holding[0]
        return


LEAST_BATHS = 2


def is_of_new_vessel(course: Course, stuff: list[Measured]) -> bool:
    """True for what is listed for a vessel that has nothing yet: "Pot 1: 500 g broom, 10 L"."""
    label, sentence = course.vessel
    here = course.bath is None or (course.bath is course.in_vessel.get(label))
    near = course.number - sentence <= 1
    return bool(label) and here and near and any(one.amounts for one in stuff)
