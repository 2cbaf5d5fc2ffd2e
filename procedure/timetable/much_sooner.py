"""Whether a plan in which fibre lies over a night that nobody wrote is worth it.

Fibre that lies in its bath over a night takes up a little more, so no plan has that for a few
hours of one day: what it would save then is told (:mod:`procedure.timetable.left_to_cool`). But
where there is no plan without, in short hours, it is planned, and told; and longer hours would be
worse than those, were it not planned in them too where all is over on a day sooner by it. So a plan
for longer hours is over on no later day than one for shorter hours that keeps as much of what is
written.
"""

from __future__ import annotations

from dataclasses import replace

from procedure.timetable.bounding import least_length
from procedure.timetable.first_plan import first_plan
from procedure.timetable.planned import Timetable
from procedure.timetable.programme import build
from procedure.timetable.searching import VERY_MUCH, search
from procedure.timetable.work import Attendance, Work

_EFFORT = 0.03


def is_much_sooner(other: Timetable, made: Timetable) -> bool:
    """Whether a plan is over on a day sooner than another: before the place opens on its last."""
    return other.finish <= _soon_enough(made)


def may_be_much_sooner(made: Timetable, loose: Work) -> bool:
    """Whether there is a plan of looser work that is over so much sooner, as a look shows."""
    limit = _soon_enough(made)
    if limit <= loose.now or least_length(loose) > limit:
        return False
    first = first_plan(loose)
    if first is not None and first.finish <= limit:
        return True
    if len(loose.activities) > VERY_MUCH:
        return False
    try:
        return bool(search(build(loose, (), limit), _EFFORT).placed)
    except ImportError:
        return False


def without_harm(work: Work) -> Work:
    """The work where what may be left at a pinch is no plant that harms, nor what is attended.

    Those are left over a night only where there is no plan without.
    """
    kept = {each.key for each in work.activities if each.plants_in}
    kept |= {a.key for a in work.activities if a.attendance is Attendance.NOW_AND_THEN}
    return replace(
        work,
        activities=tuple(
            replace(each, at_a_pinch=0) if each.key in kept else each for each in work.activities
        ),
        lags=tuple(
            replace(lag, at_a_pinch=None) if lag.before in kept else lag for lag in work.lags
        ),
    )


def _soon_enough(made: Timetable) -> int:
    """The last minute at which a plan is over much sooner than this one."""
    mornings = [opens for _, opens in made.work.nights if opens <= made.finish]
    return mornings[-1] - 1 if mornings else 0
