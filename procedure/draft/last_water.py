"""What goes into the last of several rinses: "in three waters, the last with a little vinegar"."""

from __future__ import annotations

import re

from procedure.draft import limits
from procedure.draft.amount import Amount
from procedure.draft.course import Course
from procedure.draft.lot_mentions import LotMention, lot_mentions
from procedure.draft.sentences import Part
from procedure.draft.stock import Measured
from procedure.draft.supplies import stuff_of
from procedure.draft.unsettled_steps import Brought, Step
from procedure.quantity.number_words import IN_TURN

WASHES = frozenset(("rinse", "wash"))
_WHICH = rf"(?P<which>last|final|{'|'.join(IN_TURN[1:4])}|middle)\b"
_WATER = r"(?:\s+(?:rins(?:e|ing)|wash(?:ing)?|water|time))"
_OF_THEM = r"(?:\s+one)?(?:\s+of\s+(?:them|these|those|all|the\s+\w+))?"
INTO_THE_LAST = re.compile(
    rf"\b(?:in|into|to|with)\s+(?:the|your|our)\s+(?:very\s+)?{_WHICH}"
    rf"(?:{_WATER}|{_OF_THEM}(?=\s*(?:[.,;:)\n]|$|(?:add|put|pour|goes|go|stir|drop|with|a|some)\b)))",
    re.I,
)
THE_LAST_WITH = re.compile(
    rf"(?:\b(?:the|your)\s+|[,;(]\s*){_WHICH}(?:{_WATER}|{_OF_THEM})\s*,?\s+"
    r"(?:(?:being|is)\s+)?(?:with|gets?|takes?|has|having)\b",
    re.I,
)
HEADED_BY_IT = re.compile(rf"\W*(?:the\s+)?{_WHICH}{_WATER}\b", re.I)
A_WATER = re.compile(_WATER, re.I)
COUNTS = {"middle": 0} | {IN_TURN[nth - 1]: nth for nth in range(2, 5)}


def last_water(course: Course, part: Part) -> re.Match[str] | None:
    """The words for the last of several waters in a part or just before it; None where none are."""
    low = max(
        course.sentence.start if course.sentence else 0, part.start - limits.LETTERS_OF_THE_LAST
    )
    for words in (INTO_THE_LAST, THE_LAST_WITH):
        if (found := words.search(course.text, low, part.end)) is not None:
            return found
    return HEADED_BY_IT.match(course.text, part.start, part.end)


def is_of_water(course: Course, part: Part, one: LotMention) -> bool:
    """True for the last of "wash it in three waters, and to the last put vinegar": no fibre."""
    found = last_water(course, part) if one.kind == "ordinals" else None
    if found is None or not found.start() <= one.start < found.end():
        return False
    others = [each for each in lot_mentions(part) if each.kind in ("ordinals", "labels")]
    if any(each.start < found.start() for each in others):
        return False  # "rinse the first twice, the second once"
    washing = part.doing.act in WASHES and part.doing.start < one.start
    counts = [each for each in part.amounts if each.kind == "times" and each.end <= one.start]
    last = _last_wash(course)
    if not washing and not counts and last is None:
        return False
    count = counts[-1] if counts else last.repeat if last is not None and not washing else None
    return _is_the_last(found, count)


def with_the_last(course: Course, part: Part, step: Step, count: Amount | None) -> Step | None:
    """The last of the counted rinses of a step, a step of its own with what goes into it.

    None where nothing is said to go into the last only. What ``step`` would bring is the last's;
    what goes into another of them is asked about.
    """
    found = last_water(course, part)
    if found is None or count is None or not step.brought:
        return None
    if len(step.brought) == 1 and _counts_so_many(count) and _is_the_last(found, count):
        return _parted(course, step, count, step.brought)
    step.brought = []
    return None


def into_last_rinse(course: Course, part: Part) -> bool:
    """True for stuff of a last rinse: in the rinse where there is one, else it is asked about."""
    found, last = last_water(course, part), _last_wash(course)
    if found is None or (last is None and not A_WATER.search(found[0])):
        return False
    stuff = [one for one in stuff_of(course, part) if _is_measured(one)]
    if last is None or last.brought or len(stuff) != 1:
        return True
    brought = [Brought(course.material(stuff[0].thing), stuff[0].amounts)]
    if last.repeat is None and found["which"].lower() in ("last", "final"):
        last.vessel, last.brought = course.tub(), brought
    elif _counts_so_many(last.repeat) and _is_the_last(found, last.repeat):
        assert last.repeat is not None
        course.add(_parted(course, last, last.repeat, brought))
    else:
        return True
    course.used.update(one.start for one in stuff[0].amounts)
    return True


def _is_measured(item: Measured) -> bool:
    return item.thing.kind == "material" and bool(item.amounts)


def _last_wash(course: Course) -> Step | None:
    """The rinse or wash that the last step was, in this sentence or the one before."""
    last = course.steps[-1] if course.steps else None
    near = last is not None and course.number - last.sentence <= 1
    return last if near and last is not None and last.verb in WASHES else None


def _is_the_last(found: re.Match[str], count: Amount | None) -> bool:
    """True where the words mean the last of so many: "the second" of two."""
    nth = COUNTS.get(found["which"].lower())
    return nth is None or (count is not None and nth == count.low)


def _counts_so_many(count: Amount | None) -> bool:
    """True for "three times", and not for "two or three times" or "once"."""
    if count is None or count.low is None or count.bound:
        return False
    return count.high in (None, count.low) and count.low > 1


def _parted(course: Course, step: Step, count: Amount, brought: list[Brought]) -> Step:
    """The last of so many rinses as a step of its own; the step is left one less."""
    assert count.low is not None
    others = count.low - 1
    before = count._replace(low=others, high=None, kind="times", unit="times")
    step.repeat, step.brought, step.vessel = (before if others > 1 else None), [], ""
    if step.repeat is None:
        step.spoken.append(before)
    last = Step(step.verb, course.number, "lot")
    last.vessel, last.brought = course.tub(), brought
    return last
