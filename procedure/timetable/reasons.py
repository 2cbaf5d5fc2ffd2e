"""Why there is no plan: the smallest set of demands that cannot be met together.

Demands are left out of the programme one after another; what can be left out while the rest
is still impossible has no part in the reason. What remains is smallest in the sense that
without any one of it the rest can be met.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from procedure.timetable.first_plan import first_plan
from procedure.timetable.programme import FINISH, Part, parts
from procedure.timetable.solving import NotKnown, best, possible
from procedure.timetable.work import Activity, Lag, Window, Work

_EFFORT = 0.1
"""The solver's seconds for each question whether the rest is possible."""
_EFFORT_ALTOGETHER = 0.4
"""The solver's seconds for all of them, so that a refusal is the same on any machine."""
_EFFORT_TO_BEGIN = 0.0004
"""What it takes to put a question, for each activity that is asked about."""
_EFFORT_FREELY = 0.3
_KINDS = ("resource", "greatest wait", "hours", "night", "done", "least wait", "overnight", "hot")
"""Kinds of demands, those first that make a reason long: a night alone is a short one."""
_A_DAY = 24 * 60
_WEEK = 7


@dataclass(frozen=True)
class Unfit:
    """Work for which there is no plan, and why.

    ``parts`` are the demands that cannot be met together; ``smallest`` says whether it is
    known that none of them could be left out. ``finish`` is when a plan would be over that
    may take as long as it likes, with ``days`` to work on; ``every_day`` says that it is a
    plan for a place that is open every day, where the days asked for do not suffice.
    """

    work: Work
    parts: tuple[Part, ...]
    smallest: bool = True
    finish: int | None = None
    days: int = 0
    every_day: bool = False

    @property
    def activities(self) -> tuple[Activity, ...]:
        """The activities of the reason, in the order of the work."""
        keys = {part.key for part in self.parts if part.kind == "activity"}
        return tuple(each for each in self.work.activities if each.key in keys)

    @property
    def lags(self) -> tuple[Lag, ...]:
        """The waits of the reason."""
        return tuple(
            self.work.lags[int(part.key)]
            for part in self.parts
            if part.kind in ("least wait", "greatest wait")
        )

    def has(self, kind: str, key: str = "") -> bool:
        """Whether a demand of this kind, perhaps on this, is part of the reason."""
        return any(part.kind == kind and key in ("", part.key) for part in self.parts)


def why_not(work: Work, looser: Work | None = None) -> Unfit:
    """The smallest reason for which work has no plan; the work is known to have none.

    ``looser`` is the same with what may give at a pinch: a plan for other hours is one of it.
    """
    unsure: list[bool] = []
    left = _EFFORT_ALTOGETHER

    def impossible_without(left_out: Sequence[Part]) -> bool:
        nonlocal left
        if left <= 0:
            unsure.append(True)
            return False
        answer, took = possible(work, _EFFORT, left_out)
        without = sum(part.kind == "activity" for part in left_out)
        left -= took + _EFFORT_TO_BEGIN * (len(work.activities) - without)
        if answer is None:
            unsure.append(True)
        return answer is False

    kept = _needed(parts(work), impossible_without)
    unfit = Unfit(work, kept, smallest=not unsure)
    every_day = not unfit.has("finish")
    if every_day and (_daily(work) == work.windows or work.done):
        return unfit
    later = replace(
        looser or work, finish_by=None, windows=_daily(work) if every_day else work.windows
    )
    try:
        freely = best(later, first_plan(later), _EFFORT_FREELY)
    except NotKnown:
        freely = None
    if freely is None:
        return unfit
    return replace(unfit, finish=freely.finish, days=freely.days, every_day=every_day)


def _daily(work: Work) -> tuple[Window, ...]:
    """The hours of the first day on every day: as many days as there were."""
    first = [window for window in work.windows if window.day == work.windows[0].day]
    count = max(_WEEK, len({window.day for window in work.windows}))
    return tuple(
        Window(each.opens + n * _A_DAY, each.closes + n * _A_DAY, each.day + n)
        for n in range(count)
        for each in first
    )


def _needed(
    every: Sequence[Part], impossible_without: Callable[[Sequence[Part]], bool]
) -> tuple[Part, ...]:
    """The parts that cannot be left out, found by leaving out halves before single ones.

    What comes first is left out first, and what comes last after that: a reason is mostly of a few
    steps that follow one another, and with each activity all that hangs on it goes. Then come
    whole kinds (that no pot is wanted twice makes the rest much easier), and activities before
    the rest. What is left is small.
    """
    steps = [part for part in every if part.kind == "activity"]
    out: list[Part] = []
    for along in (steps[::-1], steps):
        there = [part for part in along if part not in set(out)]
        out += there[_fewest(there, out, impossible_without) :]
    for kind in _KINDS:
        whole = [part for part in every if part.kind == kind]
        if len(whole) > 1 and impossible_without([*out, *whole]):
            out += whole
    activities = [part for part in steps if part not in set(out)]
    others = [part for part in every if part.kind != "activity" and part not in set(out)]
    needed: list[Part] = []
    for group in (activities, others):
        stack = [group]
        while stack:
            piece = stack.pop()
            if not piece:
                continue
            if impossible_without([*out, *piece]):
                out += piece
            elif len(piece) == 1:
                needed += piece
            else:
                half = len(piece) // 2
                stack += [piece[half:], piece[:half]]
    told = {part.key for part in needed if part.kind == "activity"}
    return tuple(part for part in every if part in set(needed) and _told(part, told))


def _fewest(
    there: Sequence[Part], out: Sequence[Part], impossible_without: Callable[[Sequence[Part]], bool]
) -> int:
    """How many of the first of these are impossible already, with none of the others."""
    low, high = 1, len(there)
    while low < high:
        middle = (low + high) // 2
        if impossible_without([*out, *there[middle:]]):
            high = middle
        else:
            low = middle + 1
    return high


def _told(part: Part, activities: set[str]) -> bool:
    """Whether a part is a reason by itself, or the hours of an activity that is one."""
    return part == FINISH or part.kind not in ("hours", "night", "hot") or bool(activities)
