"""Turning from some of the fibre to other fibre, and the bath in which each lies."""

from __future__ import annotations

from procedure.draft.course import Course
from procedure.draft.shares import FibreShare, whole
from procedure.draft.unsettled_steps import Bath, Step

# What leaves fibre in its bath.
GOES_IN = frozenset(("enter", "dye", "mordant", "steep", "modify"))


def share_of(course: Course, step: Step) -> FibreShare:
    """The fibre that a step is about."""
    return step.share if step.share is not None else whole(course.all_lots())


def inside(course: Course, bath: Bath) -> FibreShare:
    """The fibre that lies in a bath now."""
    held = FibreShare()
    for step in course.steps:
        if step.on != "lot":
            continue
        share = share_of(course, step)
        held = held | share if step.bath is bath and step.verb in GOES_IN else held - share
    return held


def bath_of(course: Course, share: FibreShare) -> Bath | None:
    """The bath in which some fibre lies now; None where it is in none."""
    for step in reversed(course.steps):
        if step.on == "lot" and step.verb != "split" and share & share_of(course, step):
            return step.bath if step.verb in GOES_IN else None
    return None


def turn(course: Course, share: FibreShare | None) -> None:
    """Work on this fibre from here on, which is not where the other is; None is for all of it."""
    bath, last = course.bath, course.share
    if share is not None and bath is not None and bath.fibre:
        other = not last.covers(share) if last is not None else bool(inside(course, bath))
        if other and bath_of(course, share) is not bath:
            bath.fibre, bath.had_fibre = False, True
    course.share, course.lot_turned = share, course.number
