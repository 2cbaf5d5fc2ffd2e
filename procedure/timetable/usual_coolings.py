"""When all would be over were no bath slower to cool than the middle of its estimate.

In longer hours more coolings are planned at their long end
(:mod:`procedure.timetable.slow_coolings`), so a plan for longer hours may be over later on the same
day than one for shorter hours, which trusts a bath to cool sooner. What the two have in common is
when they are over by the middle of all estimates, and that is told.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from procedure.timetable.planned import Timetable
from procedure.timetable.planned_words import moment_in_words
from procedure.timetable.searching import VERY_MUCH
from procedure.timetable.solving import soon_shortened
from procedure.timetable.warming import as_unknown
from procedure.timetable.work import Activity, Work

_EFFORT = 0.05
_WORTH_TELLING = 15


def sooner_as_usual(made: Timetable, work: Work, is_whole: Callable[[Timetable], bool]) -> str:
    """A sentence on when all would be over; empty where that is no sooner, or not known.

    ``work`` is what the plan was made of. Nothing is said of very much work, nor where something
    has happened or steps are shortened. Raises ``ImportError`` where the solver is missing.
    """
    finish = over_as_usual(made, work, is_whole)
    if finish is None or finish > made.finish - _WORTH_TELLING:
        return ""
    return (
        "Coolings are planned for their long end: if none takes longer than the middle of its "
        f"estimate, all may be over at {moment_in_words(made.work, finish)}."
    )


def over_as_usual(made: Timetable, work: Work, is_whole: Callable[[Timetable], bool]) -> int | None:
    """The minute at which all would be over; None where no cooling is planned at its long end."""
    if made.work.done or made.to_the_limit or len(work.activities) > VERY_MUCH:
        return None
    known = as_unknown(made.work)
    usual = [_as_usual(each, work) for each in known.activities]
    if all(one is two for one, two in zip(usual, known.activities, strict=True)):
        return None
    changed = replace(known, activities=tuple(usual))
    found = soon_shortened(changed, _EFFORT, replace(made, work=changed))
    if found.value >= made.finish:
        return made.finish
    other = replace(made, work=changed, placed=found.placed, bound=found.bound)
    return found.value if is_whole(other) else None


def _as_usual(each: Activity, work: Work) -> Activity:
    """A step as it is in the work, where it is planned at the long end of an estimate."""
    written = work.activity.get(each.key)
    if written is None or not written.lasting.slowest:
        return each
    return (
        replace(each, lasting=written.lasting) if each.lasting.most > written.lasting.most else each
    )
