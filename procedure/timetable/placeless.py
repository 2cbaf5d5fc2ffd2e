"""Steps for which there is no place in the hours even by themselves.

Where there is such a step there is no plan, whatever else is in it, and that is the shortest reason
for it. It is seen in a moment, while a search of all the work would have to put off one step after
the other to the last of its days.
"""

from __future__ import annotations

from dataclasses import replace

from procedure.timetable.first_plan import finds_no_place
from procedure.timetable.programme import build
from procedure.timetable.searching import search
from procedure.timetable.work import Activity, Work

_EFFORT = 0.01


def placeless(work: Work) -> tuple[str, ...]:
    """The keys of such steps, which is proven of each; none where something has happened.

    Raises ``ImportError`` where OR-Tools is missing.
    """
    known: tuple[str, ...] | None = work.worked_out.get("placeless")
    if known is None:
        known = () if work.done else tuple(key for key in finds_no_place(work) if _is(work, key))
        work.worked_out["placeless"] = known
    return known


def _is(work: Work, key: str) -> bool:
    return search(build(_alone(work, work.activity[key])), _EFFORT).status == "impossible"


def _alone(work: Work, activity: Activity) -> Work:
    """The work with one step in it and nothing that hangs on others; it takes what it takes."""
    return replace(
        work,
        activities=(activity,),
        lags=(),
        holds=(),
        warmth=(),
        vats=(),
        waters=(),
        in_order=(),
        finish_by=None,
    )
