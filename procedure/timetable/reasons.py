"""Why there is no plan: the smallest set of demands that cannot be met together.

Demands are left out of the programme one after another; what can be left out while the rest
is still impossible has no part in the reason. What remains is smallest in the sense that
without any one of it (or any one line of a procedure) the rest can be met.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from procedure.quantity.day import A_DAY
from procedure.timetable.bounding import late_row, least_length, least_length_at_any_hour
from procedure.timetable.first_plan import first_plan
from procedure.timetable.placeless import placeless
from procedure.timetable.programme import FINISH, ConstraintGroup, parts
from procedure.timetable.solving import NotKnown, best, possible
from procedure.timetable.work import Activity, ActivityPlace, Lag, Resource, Window, Work

_EFFORT = 0.1
"""The solver's seconds for each question whether the rest is possible."""
_EFFORT_ALTOGETHER = 1.2
"""The solver's seconds for all of them, so that a refusal is the same on any machine."""
_EFFORT_TO_BEGIN = 0.0004
"""What it takes to put a question, for each activity that is asked about."""
_EFFORT_FREELY = 0.3
_KINDS = ("resource", "greatest wait", "hours", "night", "done", "least wait", "overnight", "hot")
"""Kinds of demands, those first that make a reason long: a night alone is a short one."""
_OF_ONE = ("hours", "night", "overnight", "hot")
"""Kinds of demands of one activity, told of all in its line."""
_WEEK = 7
_LONGER = (30, 60, 120, 180, 240)
"""By how many minutes a day may be longer before nobody would call it a day's work."""
_LITTLE = 5
_NEVER = 10**9


@dataclass(frozen=True)
class WayOut:
    """Something with which there is a plan, which is over at ``finish``.

    It is ``more`` of a ``resource``, or all ``without`` the steps of one procedure, or a wait that
    may be longer (``lag``), or a step that may (``lasting``), or a place that is open every day and
    ``stay`` minutes longer; where it is ``already_daily``, that alone. With ``left`` it is when the
    work is done, and these go on by themselves.
    """

    finish: int
    resource: Resource | None = None
    more: int = 1
    without: str = ""
    lag: Lag | None = None
    stay: int = 0
    lasting: Activity | None = None
    left: tuple[Activity, ...] = ()
    already_daily: bool = False


@dataclass(frozen=True)
class NoPlan:
    """Work for which there is no plan, and why.

    ``parts`` are the demands that cannot be met together; ``smallest`` says whether it is
    known that none of them could be left out. ``finish`` is when a plan would be over that
    may take as long as it likes, with ``days`` to work on; ``every_day`` says that it is a
    plan for a place that is open every day, where the days asked for do not suffice. ``stay`` is
    how many minutes longer somebody would have to stay on these days, nought where that is not
    known to help, and ``stayed`` when all would be over then.
    ``ways_out`` are what else would do. ``enough`` are minutes by which some step lacks hours, and
    by which longer hours are known to do.
    ``eased`` says that the demands are of work in which all gives that may give: each step is as
    short as it may be, at the least.
    """

    work: Work
    parts: tuple[ConstraintGroup, ...]
    smallest: bool = True
    finish: int | None = None
    days: int = 0
    every_day: bool = False
    stay: int = 0
    stayed: int = 0
    eased: bool = False
    ways_out: tuple[WayOut, ...] = ()
    enough: tuple[int, ...] = ()

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


def why_not(work: Work, *others: Work, loosest: Work | None = None) -> NoPlan:
    """The smallest reason for which work has no plan; the work is known to have none.

    ``others`` are the same as people are given a plan of it, and then with what may give at a
    pinch: a plan for other hours is of the first that has one. ``loosest`` is the same with all
    that may give, which has no plan either: a reason that only holds of what is wished is none, and
    is sought there then.
    """
    unfit = _reason(work)
    if loosest is not None and not _holds_of(loosest, unfit):
        unfit = replace(_reason(loosest), eased=True)
    elif loosest is not None and any(_may_be_shorter(each, loosest) for each in unfit.activities):
        unfit = replace(unfit, work=_as_short(unfit.work, loosest), eased=True)
    every_day = not unfit.has("finish")
    if work.finish_by is None or least_length_at_any_hour(work) <= work.finish_by:
        longer = staying_longer(others or (work,))
        if longer is not None:
            unfit = replace(unfit, stay=longer[0], stayed=longer[1])
    if every_day and (daily(work) == work.windows or work.done):
        return unfit
    for each in others or (work,):
        later = replace(each, finish_by=None, windows=daily(work) if every_day else work.windows)
        try:
            freely = best(later, first_plan(later), _EFFORT_FREELY)
        except NotKnown:
            continue
        if freely is not None:
            return replace(unfit, finish=freely.finish, days=freely.days, every_day=every_day)
    return unfit


def _may_be_shorter(each: Activity, loosest: Work) -> bool:
    return loosest.activity[each.key].lasting.most < each.lasting.most


def _as_short(work: Work, loosest: Work) -> Work:
    """The work with steps as short as they may be, of which the same reason holds as it is."""
    shortest = {each.key: each.lasting.most for each in loosest.activities}
    return replace(
        work,
        activities=tuple(
            replace(each, lasting=replace(each.lasting, most=shortest[each.key]))
            for each in work.activities
        ),
    )


def _holds_of(loosest: Work, unfit: NoPlan) -> bool:
    """Whether the demands of a reason cannot be met either where all gives that may give."""
    kept = set(unfit.parts)
    without = [part for part in parts(loosest) if part not in kept]
    return possible(loosest, _EFFORT, without)[0] is not True


def _reason(work: Work) -> NoPlan:
    """The demands that cannot be met together, as few as are found in the time."""
    unsure: list[bool] = []
    left = _EFFORT_ALTOGETHER

    def impossible_without(left_out: Sequence[ConstraintGroup]) -> bool:
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

    idle = _never_too_long(work)
    every = [part for part in parts(work) if part not in idle]
    tried = (
        _beside_one_step(work, every),
        _beside_one_row(work, every),
        _beside_hands(work, every),
    )
    beside = next((each for each in tried if each and impossible_without(each)), [])
    kept = _needed(work, every, impossible_without, beside)
    return NoPlan(work, kept, smallest=not unsure)


def _never_too_long(work: Work) -> set[ConstraintGroup]:
    """The greatest waits that are longer than all the time there is: no reason hangs on these."""
    limit = work.finish_by if work.finish_by is not None else work.horizon
    return {
        ConstraintGroup("greatest wait", str(number))
        for number, lag in enumerate(work.lags)
        if lag.most is not None and lag.most > limit - work.now and not work.done
    }


def _beside_one_step(work: Work, every: Sequence[ConstraintGroup]) -> list[ConstraintGroup]:
    """All demands but those of the first step that has no place even by itself."""
    alone = placeless(work)
    if not alone:
        return []
    kinds = ("resource", "least wait", "greatest wait", "finish")
    return [
        part
        for part in every
        if part.kind in kinds or (part.key in work.activity and part.key != alone[0])
    ]


def _beside_one_row(work: Work, every: Sequence[ConstraintGroup]) -> list[ConstraintGroup]:
    """All demands but those of a few steps in a row that cannot be over in time.

    Where the last comes too late whatever pots and hands there are, that is the shortest reason,
    and much the soonest to be found.
    """
    if work.done:
        return []
    row = late_row(work, work.finish_by)
    if not row:
        return []
    return [
        part
        for part in every
        if part.kind == "resource" or (part.kind == "activity" and part.key not in row)
    ]


def _beside_hands(work: Work, every: Sequence[ConstraintGroup]) -> list[ConstraintGroup]:
    """All that there is too little of but people, where their hours do not suffice for the work."""
    if work.finish_by is None or work.done or least_length(work) <= work.finish_by:
        return []
    return [p for p in every if p.kind == "resource" and work.resource[p.key].kind != "people"]


def staying_longer(others: Sequence[Work], sooner_than: int = _NEVER) -> tuple[int, int] | None:
    """By how many minutes the days would have to be longer, and when all would be over then.

    That is as a plan at once shows, of the first of these works of which there is one that is over
    ``sooner_than`` some minute.
    """
    too_short = 0
    for minutes in _LONGER:
        over = over_if_longer(others, minutes, sooner_than)
        if over is None:
            too_short = minutes
            continue
        while minutes - too_short > _LITTLE:
            middle = (minutes + too_short) // 2 // _LITTLE * _LITTLE
            sooner = over_if_longer(others, middle, sooner_than)
            if sooner is None:
                too_short = middle
            else:
                minutes, over = middle, sooner
        return minutes, over
    return None


def over_if_longer(others: Sequence[Work], minutes: int, sooner_than: int = _NEVER) -> int | None:
    """When all would be over in days so much longer, as a plan at once shows; None where none."""
    for each in others:
        windows = in_longer_hours(each, minutes)
        made = first_plan(replace(each, windows=windows)) if windows else None
        if made is not None and made.finish < sooner_than:
            return made.finish
    return None


def in_longer_hours(work: Work, minutes: int) -> tuple[Window, ...]:
    """The hours with each day so much longer in the evening; none where it would be night."""
    last = {each.day: each.closes for each in work.windows}
    midnight = A_DAY - (work.begins.hour * 60 + work.begins.minute if work.begins else 0)
    if any(closes + minutes >= midnight + day * A_DAY for day, closes in last.items()):
        return ()
    return tuple(
        replace(each, closes=each.closes + minutes) if each.closes == last[each.day] else each
        for each in work.windows
    )


def daily(work: Work) -> tuple[Window, ...]:
    """The hours of the first day on every day: as many days as there were."""
    first = work.open_on[work.windows[0].day]
    count = max(_WEEK, len(work.days))
    return tuple(
        Window(each.opens + n * A_DAY, each.closes + n * A_DAY, each.day + n)
        for n in range(count)
        for each in first
    )


def _needed(
    work: Work,
    every: Sequence[ConstraintGroup],
    impossible_without: Callable[[Sequence[ConstraintGroup]], bool],
    beside: Sequence[ConstraintGroup] = (),
) -> tuple[ConstraintGroup, ...]:
    """The parts that cannot be left out, found by leaving out halves before single ones.

    What comes first is left out first, and what comes last after that: a reason is mostly of a few
    steps that follow one another, and with each activity all that hangs on it goes. Then come
    whole kinds (that no pot is wanted twice makes the rest much easier), and activities before
    the rest. What is left is small. Activities of one line are left out together, and where they
    cannot be, the first of them is told if it is reason enough, else all: who reads “24 turns, 2 h
    together” knows what to do, and 20 of the 24 would be no step that anybody has written.
    ``beside`` are parts of which it is known that they can be left out.
    """
    out = list(beside)
    lines = _by_line(work, [part for part in every if part not in set(beside)])
    for along in (lines[::-1], lines):
        there = [line for line in along if line[0] not in set(out)]
        out += _joined(there[_fewest(there, out, impossible_without) :])
    for whole in _whole_kinds(work, every):
        if len(whole) > 1 and impossible_without([*out, *whole]):
            out += whole
    needed: list[ConstraintGroup] = []
    left = [line for line in lines if line[0] not in set(out)]
    for line in _kept(left, out, impossible_without):
        if len(line) > 1 and impossible_without([*out, *line[1:]]):
            out += line[1:]
            needed.append(line[0])
        else:
            needed += line
    others = [
        (part,) for part in every if part.kind != "activity" and part not in set(out) | set(needed)
    ]
    needed += _joined(_kept(others, out, impossible_without))
    told = {part.key for part in needed if part.kind == "activity"}
    alike = {(part.kind, _line_of(work, part)) for part in needed if part.kind in _OF_ONE}
    return tuple(
        part
        for part in every
        if (part in set(needed) and _told(part, told))
        or (part.key in told and (part.kind, _line_of(work, part)) in alike)
    )


def _line_of(work: Work, part: ConstraintGroup) -> ActivityPlace | str:
    """Where the activity of a demand is written; where it is nowhere, it is by itself."""
    place = work.activity[part.key].place if part.key in work.activity else ActivityPlace()
    return place if place.line else part.key


def _whole_kinds(work: Work, every: Sequence[ConstraintGroup]) -> Iterator[list[ConstraintGroup]]:
    """The demands of each kind; of what is shared, then those alone of which there is no more."""
    for kind in _KINDS:
        yield [part for part in every if part.kind == kind]
        if kind == "resource":
            yield [p for p in every if p.kind == kind and not work.resource[p.key].one_more]


def _by_line(work: Work, every: Sequence[ConstraintGroup]) -> list[tuple[ConstraintGroup, ...]]:
    """The activities, those together that one line of a procedure asks for."""
    lines: dict[ActivityPlace | str, list[ConstraintGroup]] = {}
    for part in every:
        if part.kind == "activity":
            lines.setdefault(_line_of(work, part), []).append(part)
    return [tuple(line) for line in lines.values()]


def _joined(groups: Sequence[tuple[ConstraintGroup, ...]]) -> list[ConstraintGroup]:
    return [part for group in groups for part in group]


def _kept(
    groups: Sequence[tuple[ConstraintGroup, ...]],
    out: list[ConstraintGroup],
    impossible_without: Callable[[Sequence[ConstraintGroup]], bool],
) -> list[tuple[ConstraintGroup, ...]]:
    """Those of these groups that cannot be left out; the others are put to what is ``out``."""
    kept: list[tuple[ConstraintGroup, ...]] = []
    stack = [groups]
    while stack:
        piece = stack.pop()
        if not piece:
            continue
        if impossible_without([*out, *_joined(piece)]):
            out += _joined(piece)
        elif len(piece) == 1:
            kept += piece
        else:
            half = len(piece) // 2
            stack += [piece[half:], piece[:half]]
    return kept


def _fewest(
    there: Sequence[tuple[ConstraintGroup, ...]],
    out: Sequence[ConstraintGroup],
    impossible_without: Callable[[Sequence[ConstraintGroup]], bool],
) -> int:
    """How many of the first of these are impossible already, with none of the others."""
    low, high = 1, len(there)
    while low < high:
        middle = (low + high) // 2
        if impossible_without([*out, *_joined(there[middle:])]):
            high = middle
        else:
            low = middle + 1
    return high


def _told(part: ConstraintGroup, activities: set[str]) -> bool:
    """Whether a part is a reason by itself, or the hours of an activity that is one."""
    return part == FINISH or part.kind not in ("hours", "night", "hot") or bool(activities)
