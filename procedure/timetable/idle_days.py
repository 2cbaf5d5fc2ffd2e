"""Days on which nothing is done in a plan whose search was cut short, with work still to come.

What was found of very much work in the time that there is may leave its last steps for weeks
later, though they could come at once. So what comes before such days is kept, and the rest is
planned again.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from procedure.quantity.day import A_DAY
from procedure.timetable.planned import Timetable
from procedure.timetable.programme import build
from procedure.timetable.searching import hint, search

_FAR_FROM_IT = 1.5
"""So many times the shortest possible is hardly the best that there is."""
_MOST, _EFFORT = 4, 0.5


def without_idle_days(made: Timetable) -> Timetable:
    """The plan with its last steps sooner, where days go by before them for no reason."""
    for _ in range(_MOST):
        if made.finish <= made.bound * _FAR_FROM_IT:
            return made
        kept = _before_idle_days(made)
        sooner = _the_rest_anew(made, kept) if kept else None
        if sooner is None:
            return made
        made = sooner
    return made


def _before_idle_days(made: Timetable) -> set[str]:
    """What has begun when nothing more begins for a day or longer; nothing where that never is."""
    ordered = sorted(made.placed, key=lambda each: each.start)
    kept: set[str] = set()
    for one, two in pairwise(ordered):
        kept.add(one.key)
        if two.start - one.start > A_DAY and _open_between(made, one.start, two.start) > A_DAY / 4:
            return kept
    return set()


def _open_between(made: Timetable, start: int, end: int) -> int:
    """The minutes of a time in which the place is open."""
    return sum(max(0, min(w.closes, end) - max(w.opens, start)) for w in made.work.windows)


def _the_rest_anew(made: Timetable, kept: set[str]) -> Timetable | None:
    """The shortest plan in which some steps begin as they do; None where none is shorter."""
    programme = build(made.work, (), made.finish)
    for each in made.placed:
        if each.key in kept and each.key not in made.work.happened:
            programme.model.add(programme.starts[each.key] == each.start)
    hint(programme, made.placed)
    programme.model.minimize(programme.finish)
    found = search(programme, _EFFORT)
    if not found.placed or found.value >= made.finish:
        return None
    return replace(made, placed=found.placed)
