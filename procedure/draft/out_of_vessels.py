"""The fibre that comes out of one of several vessels: "two scarves out of pot 2".

It is some of what lies there, and none of what is in another one.
"""

from __future__ import annotations

import re

from procedure.draft.course import Course
from procedure.draft.lot_mentions import LotMention
from procedure.draft.sentences import Part
from procedure.draft.shares import FibreShare, union
from procedure.draft.turning import inside
from procedure.quantity.ready_patterns import pattern

OUT_OF = pattern(r"\b(?:from|out\s+of)\s+\Z", re.I)
NAMED = frozenset(("labels", "letters", "state", "fibre"))  # which is told by name


def left_vessel(course: Course, part: Part) -> LotMention | None:
    """The words for the vessel that fibre is taken out of; None where no label tells it."""
    for one in course.vessels.within(part):
        if OUT_OF.search(course.text[max(0, one.start - 12) : one.start]):
            return LotMention("vessel", one.start, one.end, (course.vessels.named(one),))
    return None


def fibre_in(course: Course, vessel: LotMention) -> FibreShare:
    """What lies in a vessel now; nothing where it is not known what bath that is."""
    bath = course.in_vessel.get(vessel.labels[0])
    return inside(course, bath) if bath is not None else FibreShare()


def so_much_of(held: FibreShare, one: LotMention | None) -> FibreShare | None:
    """What is meant of the fibre in a vessel; None where it holds no such."""
    pieces = held.pieces
    if one is None or one.kind in ("all", "rest") or one.many == len(pieces):
        return held if one is None or not one.many or one.many == len(pieces) else None
    if one.kind == "count":
        return union(pieces[: one.many]) if 0 < one.many < len(pieces) else None
    if one.kind == "ordinals" and len(one.labels) == 1:
        label = one.labels[0]
        if label == "last":
            return pieces[-1] if pieces else None
        return pieces[int(label) - 1] if label.isdigit() and int(label) <= len(pieces) else None
    return None
