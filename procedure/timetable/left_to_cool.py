"""By how much all would be over sooner if fibre cooled in its bath over a night that nobody wrote.

A cooling with fibre in it goes on over a night of itself only where there is no plan without
(:mod:`procedure.timetable.planning`): fibre takes up a little more by it. Many dyers would rather
have that than come on another day, so it is said what it would save; what spoils fibre that lies
in it, and the bath of a plant that harms, are never left so.
"""

from __future__ import annotations

from procedure.quantity.number_words import listed
from procedure.timetable.bounding import least_length_at_any_hour
from procedure.timetable.first_plan import first_plan
from procedure.timetable.longer_hours import is_asked_about
from procedure.timetable.planned import Timetable
from procedure.timetable.planned_words import moment_in_words, numbered, span
from procedure.timetable.planning import cooling_over_night, fitted
from procedure.timetable.solving import Aim, NotKnown, best
from procedure.timetable.unplannable import CannotPlan
from procedure.timetable.work import Work

_WORTH_TELLING = 4 * 60
"""Minutes; less is not worth a night that nobody wrote."""
_EFFORT, _EFFORT_OF_A_LOOK = 0.1, 0.03


def saves_by_a_night(made: Timetable, work: Work) -> str:
    """A sentence on what cooling over a night would save; empty where it is little, or nothing.

    ``work`` is that of the plan as it was drawn. Raises ``ImportError`` where the solver is
    missing.
    """
    if not is_asked_about(made) or work.done:
        return ""
    loose = cooling_over_night(work)
    if loose is None or made.finish - least_length_at_any_hour(work) < _WORTH_TELLING:
        return ""
    # A whole plan, with drying and warming again, may take seconds: first how short it can be.
    try:
        quick = best(loose, first_plan(loose), _EFFORT_OF_A_LOOK, Aim.LENGTH)
    except NotKnown:
        return ""
    if quick is None or made.finish - quick.finish < _WORTH_TELLING:
        return ""
    try:
        found = fitted(loose, _EFFORT, reasons=False).made
    except (CannotPlan, NotKnown):
        return ""
    if not isinstance(found, Timetable) or found.to_the_limit or found.days > made.days:
        return ""
    left = [each.key for each in found.placed if _only_so(found, work, each.key)]
    saved = made.finish - found.finish
    return _told(found, left, saved) if left and saved >= _WORTH_TELLING else ""


def _only_so(found: Timetable, work: Work, key: str) -> bool:
    """Whether a cooling goes on over a night in a plan, which it may not in its work."""
    place, as_written = found.at[key], work.activity.get(key)
    if as_written is None or not as_written.by_day or found.work.activity[key].by_day:
        return False
    return found.work.closing_within(place.start, place.end) is not None


def _told(found: Timetable, keys: list[str], saved: int) -> str:
    names = listed([numbered(found.work.activity[key]) for key in keys])
    days = "1 day" if found.days == 1 else f"{found.days} days"
    return (
        f"With the fibre left in its bath to cool over the night, in {names}, all would be over at "
        f"{moment_in_words(found.work, found.finish)}, {span(saved)} sooner, with somebody there "
        f"on {days}. It takes up a little more by that: write “overnight covered” there if you "
        "would have it so."
    )
