"""Fibre that comes out of one bath lot by lot: "one after 10 minutes, one after half an hour"."""

from __future__ import annotations

import re

from procedure.draft.amount import Amount
from procedure.draft.course import Course
from procedure.draft.heats_and_times import Phase
from procedure.vocabulary import vocabulary

# "After another 20 minutes": since the last lot came out, and not since all went in.
MORE = re.compile(r"\b(?:another|further|more|next|again)\b", re.I)


def time_since_the_first(course: Course, phase: Phase) -> Amount | None:
    """The time of "the second after 30 minutes", where the first came out after ten.

    It counts from when both went in, and no step of the language lasts so long: the words stay at
    the lifting. None for the first that comes out, and for "after another 20 minutes".
    """
    amount, before = phase.clauses.get("first"), course.lifted_after
    if amount is None or before is None or course.share is None:
        return None
    number, first = before
    if course.number - number > 1 or not _is_longer(amount, first):
        return None
    said = course.text[max(0, amount.start - 24) : amount.end + 12]
    return None if MORE.search(said) else amount


def _is_longer(amount: Amount, first: Amount) -> bool:
    units = vocabulary().units
    one, other = units.get(amount.unit), units.get(first.unit)
    if one is None or other is None or amount.low is None or first.low is None:
        return False
    return amount.low * one.factor > first.low * other.factor
