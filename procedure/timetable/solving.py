"""The best plan: the shortest, then on the fewest days, then with the least running about.

Each aim is sought within what the one before it has found. A first plan comes at once from
the list rule, and is improved. One worker, one seed and a limit counted in the solver's own
steps make the same work give the same plan on any machine, however busy. The clock has a
limit too, two hundred times as generous, so that nobody waits for ever; where it did stop a
search, the plan says so (:attr:`~procedure.timetable.planned.Timetable.cut_short`).

**Least running about** is counted as the minutes between the first and the last hands-on
work of each day, and the minutes that things are left waiting between steps that should
follow one another (:attr:`~procedure.timetable.work.Lag.near`): each such wait is something
to come back to.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise
from math import ceil
from typing import TYPE_CHECKING

from procedure.timetable.planned import Placed, Timetable
from procedure.timetable.programme import Part, Programme, build
from procedure.timetable.work import Attendance, Lag, Point, Work

if TYPE_CHECKING:
    from collections.abc import Collection

    from ortools.sat.python import cp_model

SEED = 20
EFFORT = 4.0
"""How long the shortest plan is sought, in seconds of the solver; each may be five of the clock."""

_BELOW_EFFORT = 0.2
_MOMENT = 0.01
_BRIEF = 0.05
"""No more effort than this, and every search costs less than it takes to begin it."""
_NEAR = 0.01
_DAYS_EFFORT = 0.2
_ORDER_EFFORT = 0.1
_RUNNING_EFFORT, _RUNNING_EFFORT_OF_MUCH = 0.04, 0.015
_MUCH = 70
"""Above so many activities the least running about is sought for a moment only."""
_VERY_MUCH = 100
_MUCH_EFFORT, _MUCH_SHARE = 0.02, 0.01
"""Above so many activities a better plan is sought for so long, a bound and fewer days for such a
share of the effort, and the least running about not at all."""
_LENGTHEN_EFFORT = 1.0
_CLOCK_A_SECOND = 200.0
_CLOCK_AT_LEAST = 20.0
"""The most seconds of the clock: for each second of the solver, and for any search besides."""


class NotKnown(Exception):
    """Neither a plan was found in the time given nor that there is none."""


@dataclass(frozen=True, slots=True)
class Found:
    """What one search has come to.

    ``status`` is optimal, feasible, impossible or unknown. ``bound`` is proven.
    ``cut_short`` says that the clock ended the search, which may go further another time.
    """

    status: str
    placed: tuple[Placed, ...] = ()
    bound: int = 0
    value: int = 0
    cut_short: bool = False


def best(
    work: Work, first: Timetable | None, effort: float = EFFORT, length_alone: bool = False
) -> Timetable | None:
    """The best plan that can be found, or None where there is none at all.

    With ``length_alone`` the days and the running about are as they come.

    The work has no faults; ``first`` is a plan of it by the list rule, where there is one.
    Raises :class:`NotKnown` where the time did not suffice for either, and ``ImportError``
    where OR-Tools is missing.
    """
    shortest = shorten(work, effort, first)
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
    if length_alone:
        return made
    made = _in_the_order_of_the_text(made, min(effort, _ORDER_EFFORT))
    very_much = len(work.activities) > _VERY_MUCH
    fewest = _fewest_days(made, _MUCH_SHARE * effort if very_much else min(effort, _DAYS_EFFORT))
    made = replace(made, placed=fewest.placed or made.placed)
    made = replace(made, fewest_days=fewest.status == "optimal")
    if very_much:
        return replace(made, work=work, cut_short=made.cut_short or fewest.cut_short)
    running = _RUNNING_EFFORT if len(work.activities) <= _MUCH else _RUNNING_EFFORT_OF_MUCH
    calm = _least_running(made, min(effort, running))
    return replace(
        made,
        work=work,
        placed=calm.placed or made.placed,
        least_running=calm.status == "optimal",
        cut_short=made.cut_short or fewest.cut_short or calm.cut_short,
    )


def _in_the_order_of_the_text(made: Timetable, effort: float) -> Timetable:
    """The same where steps are begun as they are written, if that makes it no longer."""
    work = made.work
    keys = [key for key in work.in_order if key not in work.happened]
    if len(keys) < 2:
        return made
    in_turn = (Lag(a, b, 0, None, Point.START, Point.START, near=False) for a, b in pairwise(keys))
    ordered = replace(work, lags=(*work.lags, *in_turn))
    programme = build(ordered, (), made.finish)
    programme.model.add(programme.finish <= made.finish)
    found = search(programme, effort)
    if found.placed:
        return replace(made, work=ordered, placed=found.placed)
    return made if len(keys) > _MUCH else _mostly_in_order(made, keys, effort)


def _mostly_in_order(made: Timetable, keys: list[str], effort: float) -> Timetable:
    """The same where as many steps as can be are begun before the next one of the text."""
    work = made.work
    programme = build(work, (), made.finish)
    kept = []
    for before, after in pairwise(keys):
        in_turn = programme.model.new_bool_var(f"{before} before {after}")
        wait = programme.starts[after] - programme.starts[before]
        programme.model.add(wait >= 0).only_enforce_if(in_turn)
        kept.append(in_turn)
    programme.model.maximize(sum(kept))
    _hint(programme, made.placed)
    found = search(programme, effort)
    if not found.placed:
        return made
    at = {each.key: each.start for each in found.placed}
    lags = tuple(
        Lag(a, b, 0, None, Point.START, Point.START, near=False)
        for a, b in pairwise(keys)
        if at[a] <= at[b]
    )
    return replace(made, work=replace(work, lags=(*work.lags, *lags)), placed=found.placed)


def shorten(
    work: Work,
    effort: float = EFFORT,
    first: Timetable | None = None,
    without: Collection[Part] = (),
) -> Found:
    """The shortest plan, from a first one where there is one.

    First the bound is raised from below, which proves most plans of a dyer in a moment; then
    a good plan is sought for a moment, and for long only where the two are still apart. With
    little effort each of these is sought once, and without a first plan any at all is.
    """
    if first is not None and len(work.activities) > _VERY_MUCH:
        return _shorten_much(work, effort, first)
    programme = build(work, without, first.finish if first is not None else None)
    if first is not None:
        _hint(programme, first.placed)
    programme.model.minimize(programme.finish)
    near = ceil(first.finish / (1 + _NEAR)) if first is not None else None
    brief = effort <= _BRIEF
    found = Found("unknown")
    if first is not None or not brief:
        found = search(programme, min(effort, _BELOW_EFFORT), from_below=True, enough=near)
    if first is not None and not found.placed and found.status == "unknown":
        found = replace(found, placed=first.placed, value=first.finish, status="feasible")
    for limit in (effort,) if brief else (min(effort, _MOMENT), effort):
        if found.status in ("optimal", "impossible"):
            break
        found = _better(found, search(programme, limit))
        if _near(found):
            break
    return found


def _shorten_much(work: Work, effort: float, first: Timetable) -> Found:
    """The same of very much work: a better plan is sought for a moment, then a bound."""
    found = Found("feasible", first.placed, first.bound, first.finish)
    for limit, from_below in ((_MUCH_EFFORT, False), (_MUCH_SHARE * effort, True)):
        programme = build(work, (), found.value)
        _hint(programme, found.placed)
        programme.model.minimize(programme.finish)
        enough = ceil(found.value / (1 + _NEAR))
        found = _better(found, search(programme, min(effort, limit), 0, from_below, enough))
        if found.status == "optimal" or _near(found):
            break
    return found


def lengthened(work: Work, made: Timetable, effort: float) -> Timetable:
    """A plan of shortened steps with as few of them short as there is time for.

    ``work`` has the steps at the long ends of their ranges, ``made`` is a plan in which each
    may be shorter. First as few steps as can be are shorter than that, then they are so by
    as little as can be, and all begins as soon as it can. Where OR-Tools is missing, as it is,
    and so it is with little effort for very much work, of which the search alone would take
    minutes to begin.
    """
    if effort <= _BRIEF and len(work.activities) > _VERY_MUCH:
        return replace(made, bound=0)
    try:
        programme = build(made.work)
    except ImportError:
        return made
    model = programme.model
    short, missing = [], []
    for each in work.activities:
        if each.key in work.happened or each.lasting.least >= each.lasting.most:
            continue
        lacks = model.new_int_var(0, each.lasting.most - each.lasting.least, "")
        length = programme.ends[each.key] - programme.starts[each.key]
        model.add(lacks >= each.lasting.most - length)
        is_short = model.new_bool_var("")
        model.add(lacks == 0).only_enforce_if(is_short.negated())
        short.append(is_short)
        missing.append(lacks)
    starts = sum(programme.starts[each.key] for each in work.activities)
    weight = 1 + len(work.activities)
    model.minimize(weight * weight * 1440 * sum(short) + weight * 1440 * sum(missing) + starts)
    _hint(programme, made.placed)
    found = search(programme, min(effort, _LENGTHEN_EFFORT), 1)
    return replace(
        made,
        placed=found.placed or made.placed,
        bound=0,
        cut_short=made.cut_short or found.cut_short,
        to_the_limit=True,
    )


def _near(found: Found) -> bool:
    """Whether so little is left to be won that no dyer would look for it."""
    return bool(found.placed) and found.value - found.bound <= _NEAR * found.bound


def _better(one: Found, two: Found) -> Found:
    """What two searches of the same programme have come to together."""
    if two.status == "impossible":
        return two
    bound = max(one.bound, two.bound)
    cut_short = one.cut_short or two.cut_short
    chosen = min((each for each in (one, two) if each.placed), key=_value, default=one)
    proven = bool(chosen.placed) and chosen.value <= bound
    status = "optimal" if proven else chosen.status
    return replace(chosen, bound=bound, status=status, cut_short=cut_short)


def _value(found: Found) -> int:
    return found.value


def possible(work: Work, effort: float, without: Collection[Part] = ()) -> bool | None:
    """Whether there is a plan at all; None where that was not found out."""
    found = search(build(work, without), effort)
    return None if found.status == "unknown" else found.status != "impossible"


def search(
    programme: Programme,
    effort: float,
    linear: int = 0,
    from_below: bool = False,
    enough: int | None = None,
) -> Found:
    """Run the solver on a programme.

    ``linear`` is how far it is relaxed to sums, 0 to 2; ``from_below`` raises the bound until
    there is a plan, instead of making plans shorter. A bound of ``enough`` ends the search.
    """
    from ortools.sat.python import cp_model

    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = SEED
    # Timetables are bound by order, nights and pots; relaxing them to sums takes time and
    # proves no more.
    solver.parameters.linearization_level = linear
    # The earliest and latest starts in a pot are worked out from the waits between all that is
    # done in it; of very much work that takes longer than what it spares.
    much = len(programme.work.activities) > _VERY_MUCH
    solver.parameters.use_precedences_in_disjunctive_constraint = not much
    solver.parameters.optimize_with_core = from_below
    if enough is not None:

        def stop_at(bound: float) -> None:
            if bound >= enough:
                solver.stop_search()

        solver.best_bound_callback = stop_at
    solver.parameters.max_deterministic_time = effort
    longest = _CLOCK_A_SECOND * effort + _CLOCK_AT_LEAST
    solver.parameters.max_time_in_seconds = longest
    status = solver.status_name(solver.solve(programme.model))
    cut_short = status not in ("INFEASIBLE", "OPTIMAL") and solver.wall_time >= longest
    if status == "INFEASIBLE":
        return Found("impossible")
    if status == "MODEL_INVALID":
        raise ValueError(programme.model.validate())
    has_aim = programme.model.has_objective()
    bound = ceil(solver.best_objective_bound - 1e-6) if has_aim else 0
    if status == "UNKNOWN":
        return Found("unknown", bound=max(0, bound), cut_short=cut_short)
    placed = tuple(
        Placed(key, solver.value(start), solver.value(programme.ends[key]))
        for key, start in programme.starts.items()
    )
    return Found(
        "optimal" if status == "OPTIMAL" else "feasible",
        placed,
        bound,
        round(solver.objective_value) if has_aim else 0,
        cut_short,
    )


def _hint(programme: Programme, placed: tuple[Placed, ...]) -> None:
    for each in placed:
        if each.key in programme.starts and each.key not in programme.work.happened:
            programme.model.add_hint(programme.starts[each.key], each.start)
            programme.model.add_hint(programme.ends[each.key], each.end)
            if each.key in programme.cold:
                cold, minutes = programme.cold[each.key]
                usual = programme.work.activity[each.key].lasting.most
                programme.model.add_hint(cold, each.end - each.start >= usual + minutes)


def _fewest_days(made: Timetable, effort: float) -> Found:
    """On as few days as a plan of this length can be."""
    work = made.work
    if made.days <= 1 or len({window.day for window in work.windows}) <= 1:
        return Found("optimal")
    programme = build(work, (), made.finish)
    programme.model.add(programme.finish <= made.finish)
    days = _days_used(programme)
    programme.model.minimize(sum(days.values()))
    _hint(programme, made.placed)
    return search(programme, effort)


def _days_used(programme: Programme) -> dict[int, cp_model.IntVar]:
    """For each calendar day whether anything on it takes hands."""
    from ortools.sat.python import cp_model

    model, work = programme.model, programme.work
    used: dict[int, cp_model.IntVar] = {}
    last = work.horizon + 1
    for day in sorted({window.day for window in programme.windows}):
        used[day] = model.new_bool_var(f"day {day}")
        windows = [w for w in programme.windows if w.day == day]
        opens, closes = windows[0].opens, windows[-1].closes
        starts = cp_model.Domain.from_intervals([[0, opens - 1], [closes, last]])
        ends = cp_model.Domain.from_intervals([[0, opens], [closes + 1, last]])
        for activity in work.activities:
            if not activity.hands or activity.key in work.happened:
                continue
            whole = activity.attendance is Attendance.WHOLE
            if whole or (activity.at_start and activity.attendance is not Attendance.NONE):
                start = programme.starts[activity.key]
                model.add_linear_expression_in_domain(start, starts).only_enforce_if(
                    used[day].negated()
                )
            if activity.at_end and activity.attendance is Attendance.ENDS:
                end = programme.ends[activity.key]
                model.add_linear_expression_in_domain(end, ends).only_enforce_if(
                    used[day].negated()
                )
    return used


def _least_running(made: Timetable, effort: float) -> Found:
    """With as short days and as few waits between steps as a plan of this length can have."""
    from ortools.sat.python import cp_model

    work = made.work
    programme = build(work, (), made.finish)
    model = programme.model
    model.add(programme.finish <= made.finish)
    used = _days_used(programme)
    model.add(sum(used.values()) <= made.days)
    waits = [
        programme.moment(lag.after, lag.reaches) - programme.moment(lag.before, lag.leaves)
        for lag in work.lags
        if lag.near and lag.leaves is Point.END and lag.reaches is Point.START
    ]
    let_go_on = {
        each.key: programme.ends[each.key] - programme.starts[each.key] - each.lasting.most
        for each in work.activities
        if each.lasting.elastic and each.key not in work.happened
    }
    # What only cools or dries may go on as long as it likes; what is seen to in the end is
    # not left in its bath for longer than it needs, but for a night.
    seen_to = [
        more
        for key, more in let_go_on.items()
        if work.activity[key].at_end and not work.activity[key].overnight
    ]
    lengths = [_length_of_day(programme, day, made.finish) for day in used]
    starts = [programme.starts[each.key] for each in work.activities]
    # What is let go on begins later rather than lasts longer.
    early = cp_model.LinearExpr.sum([*starts, *let_go_on.values(), *let_go_on.values()])
    weight = 1 + len(work.activities)
    minutes = cp_model.LinearExpr.sum([*waits, *seen_to, *lengths])
    model.minimize(weight * minutes + early)
    _hint(programme, made.placed)
    return search(programme, effort, 1)


def _length_of_day(programme: Programme, day: int, finish: int) -> cp_model.LinearExpr | int:
    """From the first to the last hands-on minute of a day; nought where there is none."""
    model, work = programme.model, programme.work
    windows = [w for w in programme.windows if w.day == day]
    opens, closes = windows[0].opens, windows[-1].closes
    if opens >= finish:
        return 0
    first = model.new_int_var(opens, closes, f"first of day {day}")
    last = model.new_int_var(opens, closes, f"last of day {day}")
    model.add(first <= last)
    for activity in work.activities:
        if not activity.hands or activity.key in work.happened:
            continue
        whole = activity.attendance is Attendance.WHOLE
        start, end = programme.starts[activity.key], programme.ends[activity.key]
        attended = activity.attendance is not Attendance.NONE
        if whole or (activity.at_start and attended):
            length = end - start if whole else activity.at_start
            _stretches_day(model, start, length, (opens, closes), (first, last))
        if activity.at_end and activity.attendance in (Attendance.ENDS, Attendance.NOW_AND_THEN):
            size = activity.at_end
            _stretches_day(model, end - size, size, (opens, closes), (first, last))
    return last - first


def _stretches_day(
    model: cp_model.CpModel,
    start: cp_model.LinearExpr,
    length: cp_model.LinearExpr | int,
    window: tuple[int, int],
    day: tuple[cp_model.IntVar, cp_model.IntVar],
) -> None:
    """A hands-on stretch is before this day, after it, or between its first and its last."""
    before, after = model.new_bool_var("before"), model.new_bool_var("after")
    model.add(start + length <= window[0]).only_enforce_if(before)
    model.add(start >= window[1]).only_enforce_if(after)
    inside = (before.negated(), after.negated())
    model.add(start >= day[0]).only_enforce_if(*inside)
    model.add(start + length <= day[1]).only_enforce_if(*inside)
