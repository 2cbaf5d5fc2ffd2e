"""The lots that a list calls by a label: "200 g linen (lot 1), 150 g cotton (lot 2)".

They are known by it from there on, each as a lot of its own.
"""

from __future__ import annotations

from procedure.draft.course import Course, LotWords
from procedure.draft.sentences import Part
from procedure.draft.shares import Lot
from procedure.draft.told_apart import Mention
from procedure.quantity.ready_patterns import pattern

# Between fibre and its label, and behind the label.
OPENS = pattern(r"(?:\s+(?:cloth|yarn|skeins?|hanks?|pieces?))?\s*[(,]\s*")
CLOSES = pattern(r"\s*(?:[),;.\n]|\Z)")


def call_listed_lots(course: Course, part: Part) -> list[Lot]:
    """Bind each label that stands right behind fibre with an amount of its own to that lot.

    The lots that are called so here.
    """
    called: list[Lot] = []
    for one in course.told_lots.within(part):
        label = course.told_lots.named(one)
        lot = _measured_before(course, part, one)
        if lot is None or label in course.by_label or lot in course.by_label.values():
            continue
        course.by_label[label] = lot
        course.lots_told.append(LotWords(one.start, one.end, False))
        called.append(lot)
    return called


def are_known(course: Course, part: Part) -> bool:
    """True where a part names lots by labels that are all bound."""
    named = course.told_lots.within(part)
    return bool(named) and all(course.told_lots.named(one) in course.by_label for one in named)


def _measured_before(course: Course, part: Part, one: Mention) -> Lot | None:
    """The lot whose weight or pieces, with its fibre, stand right before a label; else None."""
    if CLOSES.match(course.text, one.end) is None:
        return None
    for lot in course.lots.values():
        for told in (lot.weight, lot.pieces):
            of = course.of(told) if told is not None and part.start <= told.start else None
            if told is None or of is None or of.kind != "fibre":
                continue
            if OPENS.fullmatch(course.text, max(told.end, of.end), one.start):
                return lot
    return None
