"""A plan from work: refused where it makes no sense, solved, or why there is none."""

from __future__ import annotations

from dataclasses import replace

from procedure.timetable.faults import CannotPlan, faults
from procedure.timetable.listing import first_plan
from procedure.timetable.planned import Timetable
from procedure.timetable.reasons import Unfit, why_not
from procedure.timetable.solving import EFFORT, NotKnown, best
from procedure.timetable.work import Work


def eased(work: Work) -> Work:
    """The same work where the length of a step may be anything in its range.

    For what cannot be done with every step at the long end of its range.
    """
    return replace(
        work,
        activities=tuple(
            replace(
                each,
                lasting=replace(
                    each.lasting, most=each.lasting.least, stretch=each.lasting.longest
                ),
            )
            for each in work.activities
        ),
    )


def plan(work: Work, effort: float = EFFORT) -> Timetable | Unfit:
    """The best plan that can be found, or why there is none.

    Raises :class:`CannotPlan` for work that cannot be planned as it is given, and
    :class:`NotKnown` where the time did not suffice for either. Where OR-Tools is missing
    the plan by the list rule is given, and says so.
    """
    wrong = faults(work)
    if wrong:
        raise CannotPlan("\n".join(wrong))
    first = first_plan(work)
    try:
        return best(work, first, effort) or why_not(work)
    except ImportError:
        if first is None:
            raise NotKnown(
                "The simple rule found no plan, and the solver that finds one where there is "
                "one is missing; “pip install ortools” brings it."
            ) from None
        return first
