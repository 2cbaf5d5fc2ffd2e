"""Fibre that is hung up when all else is done dries there, and is not only aired."""

from __future__ import annotations

from procedure.draft.course import Course
from procedure.draft.unsettled_steps import Step

HANGS = ("hang", "hung", "peg")
CLEANED = frozenset(("rinse", "wash"))


def dry_what_hangs_last(course: Course) -> None:
    """Make a drying of the last hanging up of each lot, where it was rinsed or washed before."""
    of_fibre = [step for step in course.steps if step.on == "lot"]
    for at, step in enumerate(of_fibre):
        if _hangs(step) and _is_cleaned(of_fibre[:at], step):
            others = [one for one in of_fibre[at + 1 :] if _may_share(one, step)]
            step.verb = "air" if others else "dry"


def _hangs(step: Step) -> bool:
    """True for an airing that the prose calls hanging, and gives no time."""
    part = step.part
    hung = part is not None and part.doing.words.startswith(HANGS)
    return step.verb == "air" and hung and not step.clauses and step.cycle is None


def _is_cleaned(before: list[Step], step: Step) -> bool:
    done = [one.verb for one in before if one.verb != "squeeze" and _may_share(one, step)]
    return bool(done) and done[-1] in CLEANED


def _may_share(one: Step, other: Step) -> bool:
    """True where two steps may be on the same fibre: one names no lot, or both name one."""
    first, second = (set(step.lot.replace(" and ", ", ").split(", ")) for step in (one, other))
    return not one.lot or not other.lot or bool(first & second)
