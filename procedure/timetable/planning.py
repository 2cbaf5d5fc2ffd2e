"""A plan from work: refused where it makes no sense, solved, or why there is none."""

from __future__ import annotations

from dataclasses import dataclass, replace

from procedure.timetable.faults import CannotPlan, faults
from procedure.timetable.listing import first_plan
from procedure.timetable.planned import Timetable
from procedure.timetable.reasons import Unfit, why_not
from procedure.timetable.solving import EFFORT, NotKnown, best
from procedure.timetable.work import Activity, Work


@dataclass(frozen=True)
class Fitted:
    """A plan, or why there is none, and in which steps less than the long end was planned.

    ``shortened`` are the keys of steps that are planned shorter than their range allows,
    since not all can be as long.
    """

    made: Timetable | Unfit
    shortened: tuple[str, ...] = ()


def fitted(work: Work, effort: float = EFFORT) -> Fitted:
    """The best plan with every step at its long end; where there is none, with shorter ones.

    A step that is longer than any day and may not go on at night may be shorter at once, as
    far as its range allows that; only if there is no plan even so, all steps may. Raises as
    :func:`plan` does.
    """
    for tried in (_within_a_day(work), eased(work)):
        made = plan(tried, effort)
        if isinstance(made, Timetable):
            return Fitted(made, _shortened(work, made))
    return Fitted(plan(work, effort))


def _shortened(work: Work, made: Timetable) -> tuple[str, ...]:
    return tuple(
        each.key
        for each in work.activities
        if each.key not in work.happened
        and made.at[each.key].end - made.at[each.key].start < each.lasting.most
    )


def _within_a_day(work: Work) -> Work:
    """The work where a step that is longer than the longest day may be as short as its range."""
    day = max((window.closes - window.opens for window in work.windows), default=0)
    return replace(
        work,
        activities=tuple(
            _eased(each) if each.in_hours and each.lasting.most > day else each
            for each in work.activities
        ),
    )


def _eased(activity: Activity) -> Activity:
    lasting = activity.lasting
    free = replace(lasting, most=lasting.least, stretch=lasting.longest)
    return replace(activity, lasting=free)


def eased(work: Work) -> Work:
    """The same work where the length of a step may be anything in its range.

    For what cannot be done with every step at the long end of its range.
    """
    return replace(work, activities=tuple(_eased(each) for each in work.activities))


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
