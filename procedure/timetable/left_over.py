"""A little work that is all that is left for another day, since the place closes before it."""

from __future__ import annotations

from procedure.quantity.day import A_DAY
from procedure.quantity.number_words import listed
from procedure.timetable.hours import clock
from procedure.timetable.planned import Timetable
from procedure.timetable.planned_words import moment_in_words, numbered, span
from procedure.timetable.work import Activity, Attendance

_LITTLE = 60
"""So many minutes longer somebody may stay for it."""
_MOST = 4
"""So many steps at the most are named."""


def left_for_another_day(made: Timetable) -> list[str]:
    """That all that is left for the last day would be done in so much longer on the day before.

    Only where that is a day or more later, and nothing but people was in its way: whatever comes
    before it was over when the place closed.
    """
    work = made.work
    if work.begins is None or not made.hands_on:
        return []
    last = max(made.hands_on, key=lambda piece: piece.start)
    window = next((w for w in work.windows if w.opens <= last.start < w.closes), None)
    if window is None:
        return []
    opens, _ = next(day for day in work.days if day[0] <= window.opens < day[1])
    before = [piece for piece in made.hands_on if piece.start < opens]
    begun = [w.closes for w in work.windows if before and w.opens <= before[-1].start]
    shut = max(begun, default=opens)
    pieces = [piece for piece in made.hands_on if piece.start >= opens]
    left = [work.activity[key] for key in dict.fromkeys(piece.key for piece in pieces)]
    minutes = sum(piece.end - piece.start for piece in pieces)
    if opens - shut < A_DAY or minutes > _LITTLE or len(left) > _MOST:
        return []
    if any(made.at[each.key].start < opens or not _may_be_left(each) for each in left):
        return []
    keys = {each.key for each in left}
    ends = (
        made.moment(lag.before, lag.leaves) + lag.least
        for lag in work.lags
        if lag.after in keys and lag.before not in keys
    )
    if any(end > shut for end in ends):
        return []
    day = clock(work.begins, before[-1].start)
    over = max(shut + minutes, *(each.end for each in made.placed if each.key not in keys))
    return [
        f"All that is left for {moment_in_words(work, opens)} is "
        f"{listed([numbered(each) for each in left])}, {span(minutes)} in all. Somebody who stays "
        f"for {span(minutes)} longer on the day before it, until "
        f"{moment_in_words(work, shut + minutes, day)}, can do it then; all is over at "
        f"{moment_in_words(work, over)} so."
    ]


def _may_be_left(each: Activity) -> bool:
    """Whether somebody is at it from its start to its end, or at its start alone."""
    if each.attendance is Attendance.ENDS:
        return each.night and not each.at_end
    return each.attendance is Attendance.WHOLE
