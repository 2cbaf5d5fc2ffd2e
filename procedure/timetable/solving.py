"""The best plan: the shortest, then on the fewest days, then with the least running about.

Each aim is sought within what the one before it has found. A first plan comes at once from
the list rule, and is improved; where it is as short as is seen to be possible without any search
(:mod:`procedure.timetable.bounding`), it is the shortest. Where the clock did stop a search, the
plan says so (:attr:`~procedure.timetable.planned.Timetable.cut_short`).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum
from math import ceil
from typing import TYPE_CHECKING

from procedure.quantity.day import A_DAY
from procedure.timetable.bounding import least_length
from procedure.timetable.calming import (
    fewest_days,
    in_its_order,
    in_the_order_of_the_text,
    least_running,
)
from procedure.timetable.contradicting import waits_contradict
from procedure.timetable.placeless import placeless
from procedure.timetable.planned import Timetable
from procedure.timetable.programme import ConstraintGroup, Programme, build
from procedure.timetable.searching import VERY_MUCH, SearchResult, hint, search
from procedure.timetable.waiting_less import waiting_less
from procedure.timetable.work import Lasting, Work

if TYPE_CHECKING:
    from collections.abc import Collection

    from ortools.sat.python import cp_model

EFFORT = 0.2
"""How long the shortest plan is sought, in seconds of the solver; each may be twenty of the clock.

It is the same for every paper, so that they tell the same hours."""

_BELOW_EFFORT = 0.2
_GLANCE, _MOMENT, _A_LITTLE = 0.001, 0.01, 0.03
_A_WHILE = 0.1
_BRIEF = 0.05
"""No more effort than this, and every search costs less than it takes to begin it."""
_NEAR = 0.01
_DAYS_EFFORT = 0.2
_ORDER_EFFORT = 0.1
_WAITS_EFFORT = 0.1
_MUCH_EFFORT = 0.015
"""Of very much work a better plan is sought for so long; on fewer days none is."""
_LENGTHEN_BELOW_EFFORT, _LENGTHEN_EFFORT, _SOONEST_EFFORT = 0.03, 0.05, 0.05


class Aim(Enum):
    """How much of a plan is sought to be the best."""

    LENGTH = "its length alone: the days and the running about are as they come"
    DAYS = "its length and its days: the running about is as it comes"
    TURNS = "its length, its days, and the running about with all that is done in its turn"
    ALL = "all of it"


class NotKnown(Exception):
    """Neither a plan was found in the time given nor that there is none."""


def best(
    work: Work,
    first: Timetable | None,
    effort: float = EFFORT,
    aim: Aim = Aim.ALL,
    until: int | None = None,
) -> Timetable | None:
    """The best plan that can be found, or None where there is none at all.

    The work has no faults; ``first`` is a plan of it by the list rule, where there is one. Only
    plans that are over by a minute are sought where ``until`` is given.
    Raises :class:`NotKnown` where the time did not suffice for either, and ``ImportError``
    where OR-Tools is missing.
    """
    if until is not None and first is not None and first.finish > until:
        first = None
    shortest = shorten(work, effort, first, until=until)
    if shortest.status == "impossible":
        return None
    if shortest.status == "unknown":
        if first is None:
            raise NotKnown(
                f"No plan was found in {effort:g} s of search, nor that there is none; "
                "give it longer, or plan fewer procedures at once."
            )
        bound = max(first.bound, shortest.bound)
        return replace(first, bound=bound, searched=True, cut_short=shortest.cut_short)
    made = Timetable(work, shortest.placed, shortest.bound, cut_short=shortest.cut_short)
    return made if aim is Aim.LENGTH else settled(made, effort, aim)


def settled(made: Timetable, effort: float, aim: Aim = Aim.ALL) -> Timetable:
    """A plan as short as is known, then on the fewest days, then with the least running about.

    The last is left as it comes where no more than the days are aimed at, or sought with all that
    is done in its turn alone. Raises ``ImportError`` where OR-Tools is missing.
    """
    work = made.work
    made = waiting_less(made, min(effort, _WAITS_EFFORT))
    made = in_the_order_of_the_text(made, min(effort, _ORDER_EFFORT))
    fewest = SearchResult("unknown")
    if len(work.activities) <= VERY_MUCH:
        fewest = fewest_days(made, min(effort, _DAYS_EFFORT))
        made = replace(made, placed=fewest.placed or made.placed)
    calm = SearchResult("unknown")
    if aim in (Aim.TURNS, Aim.ALL):
        calm = least_running(made, effort, in_turn=aim is Aim.TURNS)
    return replace(
        made,
        work=work,
        placed=calm.placed or made.placed,
        fewest_days=fewest.status == "optimal",
        least_running=calm.status == "optimal",
        cut_short=made.cut_short or fewest.cut_short or calm.cut_short,
    )


def in_any_turn(made: Timetable, effort: float, turns_known: bool = True) -> Timetable:
    """A plan that was settled in its length and days, with as little running about as in any turn.

    With ``turns_known`` it has been settled with all in its turn already. What it has in the order
    of the text stays so.
    """
    known = in_its_order(waiting_less(made, min(effort, _WAITS_EFFORT)))
    calm = least_running(known, effort, turns_known=turns_known)
    return replace(
        made,
        placed=calm.placed or made.placed,
        least_running=calm.status == "optimal",
        cut_short=made.cut_short or calm.cut_short,
    )


def shorten(
    work: Work,
    effort: float = EFFORT,
    first: Timetable | None = None,
    without: Collection[ConstraintGroup] = (),
    until: int | None = None,
) -> SearchResult:
    """The shortest plan, from a first one where there is one; over by ``until`` if that is given.

    First the bound is raised from below, which proves most plans of a dyer in a moment; then
    a good plan is sought for a moment, and for long only where the two are still apart.
    """
    if first is not None and not without and first.finish <= least_length(work):
        return SearchResult("optimal", first.placed, first.finish, first.finish)
    if first is None and (waits_contradict(work, without) or (not without and placeless(work))):
        return SearchResult("impossible")
    if first is not None and len(work.activities) > VERY_MUCH:
        return _shorten_much(work, effort, first)
    if first is not None:
        programme = build(work, without, first.finish)
        hint(programme, first.placed)
        programme.model.minimize(programme.finish)
        found = SearchResult("feasible", first.placed, 0, first.finish)
        near = ceil(first.finish / (1 + _NEAR))
        # Far above what is seen to be possible, a bound is rather raised by making plans shorter.
        limit = _BELOW_EFFORT if first.finish <= _soon(work) else _BRIEF
        below = search(programme, min(effort, limit), from_below=True, enough=near)
        found = _better(found, below)
    else:
        programme, found = _from_nothing(work, effort, without, until)
        if _near(found) or len(work.activities) > VERY_MUCH:
            return found
    limits = [min(effort, _MOMENT), min(effort, _A_WHILE), effort]
    # Where nothing is known, a moment has been tried, and would come to as little again.
    for limit in limits if found.placed else limits[1:]:
        if found.status in ("optimal", "impossible"):
            break
        found = _better(found, search(programme, limit))
        if _near(found):
            break
    return found


def _from_nothing(
    work: Work, effort: float, without: Collection[ConstraintGroup], until: int | None
) -> tuple[Programme, SearchResult]:
    """A plan where none is known, and the programme in which it was found.

    It is sought for a moment, in which there mostly is one, then from below; first among the plans
    that are over soon after all can be, for a programme of many days takes long to begin. Of very
    much work it is not sought from below, of which nothing would come.
    """
    programme = build(work, without, until)
    programme.model.minimize(programme.finish)
    if search(programme, min(effort, _GLANCE), simplified=False).status == "impossible":
        return programme, SearchResult("impossible")
    soon = None if without else _soon(work)
    found = SearchResult("unknown")
    if soon is not None and soon < (work.horizon if until is None else until):
        sooner = build(work, without, soon)
        sooner.model.minimize(sooner.finish)
        found = search(sooner, min(effort, _MOMENT))
        if found.status == "unknown":
            found = search(sooner, min(effort, _A_WHILE))
        if found.placed:
            programme = sooner
            if found.status != "optimal":
                hint(programme, found.placed)
                found = _better(found, search(programme, min(effort, _MOMENT)))
                programme.model.clear_hints()  # type: ignore[no-untyped-call]
        elif found.status == "impossible":
            programme.model.add(programme.finish > soon)
    if not found.placed:
        found = search(programme, min(effort, _MOMENT))
    if found.status == "impossible" or _near(found):
        return programme, found
    hint(programme, found.placed)
    if len(programme.work.activities) > VERY_MUCH:
        return programme, _better(found, search(programme, min(effort, _A_WHILE)))
    enough = ceil(found.value / (1 + _NEAR)) if found.placed else None
    below = search(programme, min(effort, _BELOW_EFFORT), from_below=True, enough=enough)
    return programme, _better(found, below)


def _soon(work: Work) -> int:
    """A minute soon after all can be over, as far as is seen: by a quarter, or by a day."""
    least = least_length(work)
    return least + max(A_DAY, (least - work.now) // 4)


def soon_shortened(work: Work, effort: float, known: Timetable) -> SearchResult:
    """How short a plan can be that only its length is wanted of, given one that is known.

    It is sought with as little preparing as can be: for a moment, then from below, and then, with
    more than little effort, for as long. With little effort nothing more is sought once there is
    something better than what was known.
    """
    found = SearchResult("feasible", known.placed, 0, known.finish)
    if known.finish <= least_length(work):
        return replace(found, status="optimal", bound=known.finish)
    programme = build(work, (), known.finish)
    hint(programme, known.placed)
    programme.model.minimize(programme.finish)
    near = ceil(known.finish / (1 + _NEAR))
    tries = [(min(effort, _A_LITTLE), False), (min(effort, _BELOW_EFFORT), True)]
    if effort > _BRIEF:
        tries.append((effort, False))
    for limit, below in tries:
        enough = near if below else None
        better = search(programme, limit, from_below=below, enough=enough, prepared=False)
        found = _better(found, better)
        if found.status in ("optimal", "impossible"):
            break
        if _near(found) if effort > _BRIEF else found.value < known.finish:
            break
    return found


def _shorten_much(work: Work, effort: float, first: Timetable) -> SearchResult:
    """The same of very much work: a better plan is sought for a moment."""
    programme = build(work, (), first.finish)
    hint(programme, first.placed)
    programme.model.minimize(programme.finish)
    found = search(programme, min(effort, _MUCH_EFFORT))
    return _better(SearchResult("feasible", first.placed, first.bound, first.finish), found)


@dataclass
class _Shortened:
    """A programme of steps that may be shorter than their long ends.

    ``short`` says of each whether it is, ``missing`` by how much.
    """

    programme: Programme
    short: list[cp_model.IntVar]
    missing: list[cp_model.IntVar]


def _shortened(work: Work, made: Timetable) -> _Shortened:
    """The programme whose aim it is that as few steps as can be are shorter than in the work."""
    found = _Shortened(build(made.work, (), made.finish + A_DAY), [], [])
    programme, model = found.programme, found.programme.model
    for each in work.activities:
        if each.key in work.happened or each.lasting.least >= each.lasting.most:
            continue
        lacks = model.new_int_var(0, each.lasting.most - each.lasting.least, "")
        length = programme.ends[each.key] - programme.starts[each.key]
        model.add(lacks >= each.lasting.most - length)
        is_short = model.new_bool_var("")
        model.add(lacks == 0).only_enforce_if(is_short.negated())
        found.short.append(is_short)
        found.missing.append(lacks)
    model.minimize(sum(found.short))
    hint(programme, made.placed)
    return found


def fewest_shorter(work: Work, made: Timetable, effort: float) -> int:
    """How few steps are shorter than in the work, as :func:`lengthened` finds out first of all."""
    if len(work.activities) <= VERY_MUCH:
        try:
            programme = _shortened(work, made).programme
        except ImportError:
            pass
        else:
            found = _as_little_as_can_be(programme, min(effort, _LENGTHEN_EFFORT))
            if found.placed:
                return found.value
    long = {each.key: each.lasting.most for each in work.activities if not work.over(each.key)}
    return sum(each.end - each.start < long.get(each.key, 0) for each in made.placed)


def lengthened(work: Work, made: Timetable, effort: float) -> Timetable:
    """A plan of shortened steps with as few of them short as there is time for.

    ``work`` has the steps at the long ends of their ranges, ``made`` is a plan in which each
    may be shorter. First as few steps as can be are shorter than that, then they are so by
    as little as can be; all is over a day later at the most. Where OR-Tools is missing, as it is,
    and so it is for very much work, of which the search alone would take minutes to begin.
    """
    if len(work.activities) > VERY_MUCH:
        return replace(made, bound=0)
    try:
        aimed = _shortened(work, made)
    except ImportError:
        return made
    programme, short, missing = aimed.programme, aimed.short, aimed.missing
    model = programme.model
    effort = min(effort, _LENGTHEN_EFFORT)
    fewest = _as_little_as_can_be(programme, effort)
    placed, cut_short = fewest.placed or made.placed, fewest.cut_short
    if fewest.placed:
        model.add(sum(short) <= fewest.value)
    model.clear_hints()  # type: ignore[no-untyped-call]
    hint(programme, placed)
    model.minimize(sum(missing))
    least = _as_little_as_can_be(programme, effort)
    placed, cut_short = least.placed or placed, cut_short or least.cut_short
    if least.placed:
        model.add(sum(missing) <= least.value)
    model.clear_hints()  # type: ignore[no-untyped-call]
    hint(programme, placed)
    # No step is longer, and all is over no later, than it has to be for that.
    model.minimize(sum(programme.ends[each.key] for each in work.activities) + programme.finish)
    soonest = search(programme, min(effort, _SOONEST_EFFORT))
    made = replace(
        made,
        placed=soonest.placed or placed,
        bound=0,
        cut_short=made.cut_short or cut_short or soonest.cut_short,
        to_the_limit=True,
    )
    return _calmed(made, effort)


def _as_little_as_can_be(programme: Programme, effort: float) -> SearchResult:
    """A plan by the aim of a programme: from below for a while, which gives the best or none."""
    found = search(programme, min(effort, _LENGTHEN_BELOW_EFFORT), from_below=True)
    return found if found.placed else search(programme, effort)


def _calmed(made: Timetable, effort: float) -> Timetable:
    """A plan of shortened steps with as little running about as their lengths leave."""
    work = made.work
    took = {each.key: each.end - each.start for each in made.placed}
    fixed = tuple(
        each
        if each.key in work.happened
        else replace(each, lasting=Lasting(took[each.key], took[each.key], said=each.lasting.said))
        for each in work.activities
    )
    known = replace(made, work=replace(work, activities=fixed))
    calm = least_running(known, effort)
    return replace(made, placed=calm.placed or made.placed)


def _near(found: SearchResult) -> bool:
    """Whether so little is left to be won that no dyer would look for it."""
    return bool(found.placed) and found.value - found.bound <= _NEAR * found.bound


def _better(one: SearchResult, two: SearchResult) -> SearchResult:
    """What two searches of the same programme have come to together."""
    if two.status == "impossible":
        return two
    bound = max(one.bound, two.bound)
    cut_short = one.cut_short or two.cut_short
    chosen = min((each for each in (one, two) if each.placed), key=_value, default=one)
    proven = bool(chosen.placed) and chosen.value <= bound
    status = "optimal" if proven else chosen.status
    return replace(chosen, bound=bound, status=status, cut_short=cut_short)


def _value(found: SearchResult) -> int:
    return found.value


def possible(
    work: Work, effort: float, without: Collection[ConstraintGroup] = ()
) -> tuple[bool | None, float]:
    """Whether there is a plan at all, None where that was not found out; and what that took.

    That is counted in the solver's own seconds, which are the same on any machine.
    """
    if waits_contradict(work, without):
        return False, 0.0
    programme = build(work, without)
    glance = search(programme, min(effort, _GLANCE), simplified=False)
    if glance.status == "impossible":
        return False, glance.took
    found = search(programme, effort, prepared=False)
    return None if found.status == "unknown" else found.status != "impossible", found.took
