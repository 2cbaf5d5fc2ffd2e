"""The lot that the words name, where a recipe tells its lots apart: "lot B", "the second skein"."""

from __future__ import annotations

import re

from procedure.draft import limits
from procedure.draft.course import Course, LotWords
from procedure.draft.fibres import another_lot
from procedure.draft.sentences import Part
from procedure.draft.shares import Lot, whole
from procedure.draft.told_apart import Mention
from procedure.draft.turning import turn


def turn_to_lot(course: Course, part: Part) -> bool:
    """Turn to the lot that a part names; its weight makes it one of its own. True where it is."""
    named = course.told_lots.within(part)
    if not named:
        return False
    label = course.told_lots.named(named[0])
    lot = course.by_label.get(label) or _weighed_here(course, part) or _weighed_alone(course, part)
    if lot is None:
        return False
    if label not in course.by_label:
        _bind(course, lot, named[0], label)
    turn(course, whole([lot]))
    course.lots_told.append(LotWords(named[0].start, named[0].end, False))
    return True


# "Second lot of 100 g in the same bath", "add another 1 lb of wool", "25 g more silk".
FURTHER = re.compile(
    r"\b(?:(?:second|third|further|fresh)\s+(?:lot|batch|skein|hank|piece)\b[^.;:]{0,24}?|another\s+|a\s+further\s+)"
    r"(?:about\s+|some\s+)?$",
    re.I,
)
MORE = re.compile(r"\s+more\b", re.I)
NAMES_A_LOT = re.compile(r"\b(?:lot|batch|skein|hank|piece)\b", re.I)


def weigh_further_lot(course: Course, part: Part) -> None:
    """A lot of its own for fibre that comes after the first has been in a bath, and is weighed."""
    if not course.lots or not any(bath.had_fibre for bath in course.baths):
        return
    for amount in course.free(part, "mass"):
        of, before = course.of(amount), course.text[max(0, amount.start - 48) : amount.start]
        found = FURTHER.search(before) or MORE.match(course.text, amount.end)
        if found is None or amount.each or amount.bound or (of is not None and of.kind != "fibre"):
            continue
        if of is None and not NAMES_A_LOT.search(found[0]):
            continue
        lot = another_lot(course, list(course.lots.values())[-1])
        lot.weight = amount
        if of is not None and not of.name.startswith("="):
            lot.fibre = of.name
        course.used.add(amount.start)
        course.share = course.share or whole([next(iter(course.lots.values()))])
        turn(course, whole([lot]))
        return


GOES_IN = re.compile(r"\W*(?:in|into)\b", re.I)
GAVE_IT = re.compile(r"\b(?:gave|give|given|gets?|got|had|has)\b", re.I)


def is_for_the_lot(course: Course, part: Part) -> bool:
    """True for "Lot two, 300 g. Into what was left, an hour": the lot named last goes in."""
    bath = course.bath
    if course.share is None or bath is None or bath.fibre or not bath.begun:
        return False
    if course.number - course.lot_turned > limits.SENTENCES_BEHIND_A_LOT or any(
        one.kind in ("material", "part") for one in part.things
    ):
        return False
    named = course.lot_turned == course.number  # "B: 1 hour", after another was in it
    given = (named or GAVE_IT.search(part.words) is not None) and bath.had_fibre
    return given or GOES_IN.match(part.words) is not None


def _weighed_here(course: Course, part: Part) -> Lot | None:
    """The lot that got its weight or its pieces in this very part."""
    bound = list(course.by_label.values())
    for lot in course.lots.values():
        given = [one for one in (lot.weight, lot.pieces) if one is not None]
        if lot not in bound and any(part.start <= one.start < part.end for one in given):
            return lot
    return None


def _weighed_alone(course: Course, part: Part) -> Lot | None:
    """A new lot for "lot two, middling: 300 g", where nothing else is named to weigh."""
    weights = [one for one in course.free(part, "mass") if course.of(one) is None and not one.each]
    if len(weights) != 1 or not course.lots or part.doing.act:
        return None
    if any(one.kind in ("material", "part", "water") for one in part.things):
        return None
    last = list(course.lots.values())[-1]
    lot = last if last.weight is None and last.pieces is None else another_lot(course, last)
    lot.weight = weights[0]
    course.used.add(weights[0].start)
    return lot


def _bind(course: Course, lot: Lot, mention: Mention, label: str) -> None:
    """Call a lot as the prose does."""
    name = f"{mention.noun or 'lot'}-{label}"
    if name not in course.lots:
        lot.name = name
        course.lots = {one.name: one for one in course.lots.values()}
    course.by_label[label] = lot
