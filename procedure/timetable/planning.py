"""A plan from work: refused where it makes no sense, solved, or why there is none."""

from __future__ import annotations

from dataclasses import dataclass, replace

from procedure.timetable.faults import CannotPlan, faults
from procedure.timetable.listing import first_plan
from procedure.timetable.planned import Timetable
from procedure.timetable.reasons import Unfit, why_not
from procedure.timetable.solving import EFFORT, NotKnown, best
from procedure.timetable.work import Activity, Attendance, Work


@dataclass(frozen=True)
class Fitted:
    """A plan, or why there is none, and in which steps less than the long end was planned.

    ``shortened`` are the keys of steps that are planned shorter than their range allows,
    since not all can be as long.
    """

    made: Timetable | Unfit
    shortened: tuple[str, ...] = ()


def fitted(work: Work, effort: float = EFFORT, length_alone: bool = False) -> Fitted:
    """The best plan with every step at its long end; where there is none, with shorter ones.

    A step that fits into no hours (longer than any day, shorter than any night) may be
    shorter at once, as far as its range allows that; only if there is no plan even so, all
    steps may. With ``length_alone`` only the length of the plan is made as good as can be.
    Raises as :func:`plan` does.
    """
    _check(work)
    for tried in (_within_the_hours(work), eased(work)):
        made = _solved(tried, effort, length_alone)
        if made is not None:
            return Fitted(made, _shortened(work, made))
    return Fitted(why_not(work))


def _shortened(work: Work, made: Timetable) -> tuple[str, ...]:
    return tuple(
        each.key
        for each in work.activities
        if each.key not in work.happened
        and made.at[each.key].end - made.at[each.key].start < each.lasting.most
    )


def _within_the_hours(work: Work) -> Work:
    """The work where a step that fits into no hours at its longest may be shorter."""
    return replace(
        work,
        activities=tuple(each if _fits(work, each) else _eased(each) for each in work.activities),
    )


def _fits(work: Work, each: Activity) -> bool:
    """Whether there are hours for a step by itself, at the long end of its range."""
    lasting = each.lasting
    if each.in_hours:
        return any(w.closes - w.opens >= lasting.most for w in work.windows)
    if not each.hands or each.attendance is not Attendance.ENDS or not each.at_end:
        return True
    for first in work.windows:
        earliest, latest = first.opens + lasting.most, first.closes + lasting.longest
        if any(w.opens + each.at_end <= latest and earliest <= w.closes for w in work.windows):
            return True
    return False


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
    _check(work)
    return _solved(work, effort) or why_not(work)


def _check(work: Work) -> None:
    wrong = faults(work)
    if wrong:
        raise CannotPlan("\n".join(wrong))


def _solved(work: Work, effort: float, length_alone: bool = False) -> Timetable | None:
    """The best plan, by the list rule where OR-Tools is missing; None where there is none."""
    first = first_plan(work)
    try:
        return best(work, first, effort, length_alone)
    except ImportError:
        if first is None:
            raise NotKnown(
                "The simple rule found no plan, and the solver that finds one where there is "
                "one is missing; “pip install ortools” brings it."
            ) from None
        return first
