"""The work as a constraint programme: variables for every start and end, and what binds them.

Solved by CP-SAT of OR-Tools, which is imported when it is needed. ``pyjobshop`` is built on
the same solver and was weighed against this model of our own: it has no activity whose
length the plan may choose within bounds (a cooling that may go on until the morning), no
resource that stays taken from one task to another whatever lies between (a pot from its
filling to its cleaning), no hands that are wanted at the start and end of a task alone,
and breaks are of a machine, not of a task that may or may not run at night. Each of the
four would have had to be bent into extra tasks, and why a plan is impossible could no longer
be asked constraint by constraint. So the model is built here; it is short.

Each group of constraints is a :class:`ConstraintGroup`, and a programme can be built without some
of them; that is how the reasons of the impossible are found.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from procedure.quantity.record import NamedTuple
from procedure.timetable.bounding import TimeBounds, least_length, spans_of
from procedure.timetable.going_on import ends_of
from procedure.timetable.solver_alone import without_pandas
from procedure.timetable.warming import to_warm
from procedure.timetable.work import (
    Activity,
    Attendance,
    Hold,
    Lag,
    Point,
    WarmAgain,
    Window,
    Work,
    hot_times,
)

if TYPE_CHECKING:
    from ortools.sat.python import cp_model

    Interval = cp_model.IntervalVar
    Variable = cp_model.IntVar


class ConstraintGroup(NamedTuple):
    """A group of constraints that belong together.

    ``kind`` is activity, least wait, greatest wait, resource, hours (what is attended lies in
    opening hours), night (what may not go on while the place is closed), hot (what is too hot to
    be alone is so in opening hours), overnight, finish or done. ``key`` is that of the activity,
    resource or hold, or the number of the wait in :attr:`Work.lags`.
    """

    kind: str
    key: str = ""


FINISH = ConstraintGroup("finish")
_MUCH = 100
"""Of more activities the solver finds out for itself between when each may lie."""


@dataclass
class Programme:
    """A built model with its variables.

    ``cold`` says of an activity whether its bath has to be warmed again before it, and how many
    minutes that takes.
    """

    work: Work
    model: cp_model.CpModel
    starts: dict[str, Variable]
    ends: dict[str, Variable]
    finish: Variable
    windows: tuple[Window, ...]
    uses: dict[str, list[tuple[Interval, int]]] = field(default_factory=lambda: defaultdict(list))
    cold: dict[str, tuple[Variable, int]] = field(default_factory=dict)

    def moment(self, key: str, point: Point) -> Variable:
        """The variable of an activity's start or end."""
        return self.starts[key] if point is Point.START else self.ends[key]


def parts(work: Work) -> tuple[ConstraintGroup, ...]:
    """Every group of constraints of the work, the activities last."""
    nights = [each.key for each in work.activities if each.by_day]
    nights += [each.key for each in work.holds if not each.night]
    return (
        *([FINISH] if work.finish_by is not None else []),
        *(ConstraintGroup("resource", each.key) for each in work.resources),
        *(
            ConstraintGroup("greatest wait", str(i))
            for i, lag in enumerate(work.lags)
            if lag.most is not None
        ),
        *(ConstraintGroup("night", key) for key in nights),
        *(ConstraintGroup("hot", a.key) for a in work.activities if a.hot_for or a.hot_after),
        *(ConstraintGroup("overnight", each.key) for each in work.activities if each.overnight),
        *(ConstraintGroup("hours", each.key) for each in work.activities if _takes_hands(each)),
        *(ConstraintGroup("done", each.key) for each in work.done),
        *(
            ConstraintGroup("least wait", str(i))
            for i, lag in enumerate(work.lags)
            if lag.least >= 0
        ),
        *(ConstraintGroup("activity", each.key) for each in work.activities),
    )


def _takes_hands(activity: Activity) -> bool:
    at_ends = bool(activity.hands) and (activity.at_start > 0 or activity.at_end > 0)
    # What lies within the hours as a whole has its hands there as well.
    return (at_ends and not activity.in_hours) or activity.begun_by_hand


def build(
    work: Work, without: Collection[ConstraintGroup] = (), until: int | None = None
) -> Programme:
    """The work as a programme, without some of its parts.

    ``until`` is a minute by which all may be supposed to be over (a plan is known that is).
    Raises ``ImportError`` where OR-Tools is missing.
    """
    without_pandas()
    from ortools.sat.python import cp_model

    left_out = frozenset(without)
    horizon = work.horizon if until is None else min(until, work.horizon)
    horizon = max(horizon, *(done.end or done.start for done in work.done), 0)
    model = cp_model.CpModel()
    # Days that begin when all is over make the programme larger and change nothing.
    windows = tuple(window for window in work.windows if window.opens <= horizon)
    # A proven bound, seen at once where the solver would have to search for it.
    soonest = 0 if left_out else min(least_length(work), horizon)
    finish = model.new_int_var(soonest, horizon, "finish")
    programme = Programme(work, model, {}, {}, finish, windows)
    # In their order, and no set: the solver's search depends on the order of what it is told.
    kept = {a.key: a for a in work.activities if ConstraintGroup("activity", a.key) not in left_out}
    # What is seen of starts and ends spares the solver finding it out, minute by minute. Searches
    # of very much work are cut short sooner than that would tell.
    seen = not left_out and len(work.activities) <= _MUCH
    spans = _possible(spans_of(work, horizon)) if seen else {}
    _activities(programme, kept, horizon, left_out, spans)
    for hold in work.holds:
        if hold.first in kept and hold.last in kept:
            _hold(programme, hold, horizon, left_out)
    for number, lag in enumerate(work.lags):
        if lag.before in kept and lag.after in kept:
            _lag(programme, number, lag, left_out)
    for resource in work.resources:
        if ConstraintGroup("resource", resource.key) not in left_out:
            if resource.kind == "people" and not left_out:
                _nobody_there(programme, resource.key, resource.capacity)
            _shared(programme, resource.key, resource.capacity)
    for key in kept:
        model.add(programme.finish >= programme.ends[key])
    if work.finish_by is not None and FINISH not in left_out:
        model.add(programme.finish <= work.finish_by)
    return programme


def _possible(spans: Mapping[str, TimeBounds]) -> Mapping[str, TimeBounds]:
    """The spans; none where something lies in none, for the solver says that there is no plan."""
    lies = all(s.start <= s.latest_start and s.end <= s.latest_end for s in spans.values())
    return spans if lies else {}


def _activities(
    programme: Programme,
    kept: Collection[str],
    horizon: int,
    left_out: frozenset[ConstraintGroup],
    spans: Mapping[str, TimeBounds],
) -> None:
    model, work = programme.model, programme.work
    baths = [b for b in to_warm(work).values() if b.before in kept and b.after in kept]
    for bath in baths:
        programme.cold[bath.after] = model.new_bool_var(f"cold for {bath.after}"), bath.minutes
    for activity in work.activities:
        if activity.key in kept:
            _activity(programme, activity, horizon, left_out, spans.get(activity.key))
    for bath in baths:
        _stands_or_not(programme, bath)


def _activity(
    programme: Programme,
    activity: Activity,
    horizon: int,
    left_out: frozenset[ConstraintGroup],
    span: TimeBounds | None,
) -> None:
    model, key = programme.model, activity.key
    done = programme.work.happened.get(key)
    if done is not None and ConstraintGroup("done", key) not in left_out:
        _happened(programme, activity, horizon)
        return
    span = span or TimeBounds(programme.work.now, horizon, programme.work.now, horizon)
    start = model.new_int_var(span.start, span.latest_start, f"start of {key}")
    end = model.new_int_var(span.end, span.latest_end, f"end of {key}")
    programme.starts[key], programme.ends[key] = start, end
    _running(programme, activity, left_out)
    if ConstraintGroup("hot", key) not in left_out:
        for anchor, minutes in ((start, activity.hot_for), (end, activity.hot_after)):
            if minutes:
                _within_windows(programme, anchor, minutes, "start")
            for need in activity.hot_needs if minutes else ():
                hot = model.new_fixed_size_interval_var(anchor, minutes, f"hot bath of {key}")
                programme.uses[need.resource].append((hot, need.amount))
    hands_bound = ConstraintGroup("night" if activity.in_hours else "hours", key) not in left_out
    if hands_bound and activity.begun_by_hand:
        _within_windows(programme, start, 0, "start")
    if key in programme.cold and _hands_throughout(activity):
        _in_one_or_two(programme, activity, hands_bound)
        return
    pieces = list(_attended(activity))
    meet = len(pieces) > 1 and sum(size for size, _ in pieces) > activity.lasting.most
    for finish, offset in pieces:
        if meet and offset == "end":
            stretch = _rest_of_hands(programme, key, start + pieces[0][0], finish)
        else:
            begins = start if offset == "start" else end - finish
            stretch = model.new_fixed_size_interval_var(begins, finish, f"hands on {key}")
        for need in activity.hands:
            programme.uses[need.resource].append((stretch, need.amount))
        if hands_bound:
            _within_windows(programme, start if offset == "start" else end, finish, offset)


def _rest_of_hands(
    programme: Programme, key: str, since: cp_model.LinearExprT, at_end: int
) -> Interval:
    """The hands at the end of a step, but for the minutes for which those at its start are there.

    A step that may be so short that the two meet takes the same hands for both.
    """
    model, end = programme.model, programme.ends[key]
    begins = model.new_int_var(0, programme.work.horizon, f"hands last on {key}")
    model.add_max_equality(begins, [since, end - at_end])
    size = model.new_int_var(0, at_end, "")
    return model.new_interval_var(begins, size, end, f"hands on {key}")


def _happened(programme: Programme, activity: Activity, horizon: int) -> None:
    """What has begun starts when it did; what has ended takes nothing any more."""
    model, key = programme.model, activity.key
    done = programme.work.happened[key]
    start = model.new_constant(done.start)
    programme.starts[key] = start
    now = programme.work.now
    if done.end is not None:
        programme.ends[key] = model.new_constant(done.end)
        _still_hot(programme, activity, done.start, done.end)
        return
    _still_hot(programme, activity, done.start)
    spans = ends_of(programme.work, activity, done)
    end = model.new_int_var_from_domain(_domain(spans), f"end of {key}")
    programme.ends[key] = end
    rest = model.new_interval_var(now, end - now, end, f"rest of {key}")
    for need in activity.needs:
        programme.uses[need.resource].append((rest, need.amount))
    attended: list[Interval] = []
    if activity.attendance is Attendance.WHOLE:
        attended = [rest]
    elif activity.attendance is not Attendance.NONE:
        until = done.start + min(activity.at_start, activity.lasting.most)
        still = until - now
        if still > 0:
            attended.append(model.new_fixed_size_interval_var(now, still, f"hands first {key}"))
        if activity.at_end:
            rest_of = _rest_of_hands(programme, key, max(now, until), activity.at_end)
            attended.append(rest_of)
    for need in activity.hands:
        programme.uses[need.resource] += [(piece, need.amount) for piece in attended]


def _still_hot(programme: Programme, activity: Activity, start: int, end: int = 0) -> None:
    """Whoever looks after a bath that is hot still, from now on."""
    now = programme.work.now
    for _, cool in hot_times(activity, start, end) if activity.hot_needs else ():
        if cool > now:
            hot = programme.model.new_fixed_size_interval_var(now, cool - now, activity.key)
            for need in activity.hot_needs:
                programme.uses[need.resource].append((hot, need.amount))


def _running(
    programme: Programme, activity: Activity, left_out: frozenset[ConstraintGroup]
) -> None:
    """The activity's own length, what it needs throughout, and its night rules."""
    model, key, lasting = programme.model, activity.key, activity.lasting
    start, end = programme.starts[key], programme.ends[key]
    if key in programme.cold:
        length = _length_with_warming(programme, activity)
        whole = model.new_interval_var(start, length, end, key)
    elif lasting.elastic:
        length = model.new_int_var(lasting.most, lasting.longest, f"length of {key}")
        whole = model.new_interval_var(start, length, end, key)
    else:
        whole = model.new_interval_var(start, lasting.most, end, key)
    throughout = activity.hands if activity.attendance is Attendance.WHOLE else ()
    for need in (*activity.needs, *throughout) if lasting.longest else ():
        programme.uses[need.resource].append((whole, need.amount))
    if activity.by_day and not activity.in_hours and ConstraintGroup("night", key) not in left_out:
        _within_a_day(programme, start, end)
    elif activity.in_hours and ConstraintGroup("night", key) not in left_out:
        if lasting.elastic or key in programme.cold:
            _by_day(programme, whole)
        else:
            _within_windows(programme, start, lasting.most, "start")
    if activity.overnight and ConstraintGroup("overnight", key) not in left_out:
        _over_a_night(programme, start, end)


def _hands_throughout(activity: Activity) -> bool:
    """Whether a step is so short that the hands at its start are there until its end."""
    if activity.attendance in (Attendance.WHOLE, Attendance.NONE) or not activity.hands:
        return False
    at_ends = activity.at_start + activity.at_end
    return not activity.lasting.elastic and at_ends >= activity.lasting.most


def _in_one_or_two(programme: Programme, activity: Activity, hands_bound: bool) -> None:
    """Hands that are there for the whole of a short step; at its ends, if it is warmed first."""
    model, key = programme.model, activity.key
    start, end, most = programme.starts[key], programme.ends[key], activity.lasting.most
    cold = programme.cold[key][0]
    first, last = min(activity.at_start, most), min(activity.at_end, most)
    pieces = [
        model.new_optional_fixed_size_interval_var(start, most, cold.negated(), f"hands on {key}"),
        model.new_optional_fixed_size_interval_var(start, first, cold, f"hands first {key}"),
        model.new_optional_fixed_size_interval_var(end - last, last, cold, f"hands last {key}"),
    ]
    for need in activity.hands:
        programme.uses[need.resource] += [(piece, need.amount) for piece in pieces]
    if hands_bound:
        _within_windows(programme, start, first, "start")
        _within_windows(programme, end, last, "end")
        allowed = _in_windows(programme, most, "start")
        model.add_linear_expression_in_domain(start, allowed).only_enforce_if(cold.negated())


def _length_with_warming(programme: Programme, activity: Activity) -> Variable:
    model, lasting = programme.model, activity.lasting
    cold, minutes = programme.cold[activity.key]
    length = model.new_int_var(lasting.most, lasting.longest + minutes, f"length of {activity.key}")
    model.add(length >= lasting.most + minutes * cold)
    model.add(length <= lasting.longest + minutes * cold)
    return length


def _stands_or_not(programme: Programme, bath: WarmAgain) -> None:
    """A bath is warmed again if it has stood for too long since it was warm, and only then."""
    model, cold = programme.model, programme.cold[bath.after][0]
    stood = programme.starts[bath.after] - programme.starts[bath.before]
    within = bath.within + programme.work.activity[bath.before].lasting.most
    if bath.before in programme.cold:
        before, minutes = programme.cold[bath.before]
        stood = stood + (-minutes) * before
    model.add(stood <= within).only_enforce_if(cold.negated())
    model.add(stood > within).only_enforce_if(cold)


def _attended(activity: Activity) -> Iterator[tuple[int, str]]:
    """Hands-on stretches that are not the whole: how many minutes, at which end."""
    if not activity.hands or activity.attendance in (Attendance.WHOLE, Attendance.NONE):
        return
    if _hands_throughout(activity):
        yield activity.lasting.most, "start"
        return
    if activity.at_start:
        yield min(activity.at_start, activity.lasting.most), "start"
    if activity.at_end:
        yield min(activity.at_end, activity.lasting.most), "end"


def _within_windows(programme: Programme, anchor: Variable, size: int, offset: str) -> None:
    """So many minutes after a start, or before an end, lie within one window."""
    domain = _in_windows(programme, size, offset)
    programme.model.add_linear_expression_in_domain(anchor, domain)


def _in_windows(programme: Programme, size: int, offset: str) -> cp_model.Domain:
    spans = [
        (w.opens, w.closes - size) if offset == "start" else (w.opens + size, w.closes)
        for w in programme.work.spells
        if w.opens <= programme.windows[-1].closes
    ]
    return _domain(spans)


def _domain(spans: Iterable[tuple[int, int]]) -> cp_model.Domain:
    from ortools.sat.python import cp_model

    return cp_model.Domain.from_intervals([list(span) for span in spans if span[0] <= span[1]])


def _by_day(programme: Programme, interval: Interval) -> None:
    """An interval of no fixed length keeps out of the times when the place is closed."""
    model = programme.model
    closed = [
        model.new_fixed_size_interval_var(start, end - start, "closed")
        for start, end in programme.work.closed
        if start <= programme.windows[-1].closes
    ]
    model.add_no_overlap([interval, *closed])


def _within_a_day(programme: Programme, start: Variable, end: Variable) -> None:
    """From after the opening of a day to before its close, whatever break it has."""
    model = programme.model
    which = []
    for opens, closes in programme.work.days:
        if opens > programme.windows[-1].closes:
            break
        this = model.new_bool_var("this day")
        model.add(start >= opens).only_enforce_if(this)
        model.add(end <= closes).only_enforce_if(this)
        which.append(this)
    model.add_bool_or(which)


def _over_a_night(programme: Programme, start: Variable, end: Variable) -> None:
    """From before the close of one day to after the opening of the next."""
    model = programme.model
    which = []
    for closes, opens in programme.work.nights[: len(programme.windows)]:
        this = model.new_bool_var("this night")
        model.add(start <= closes).only_enforce_if(this)
        model.add(end >= opens).only_enforce_if(this)
        which.append(this)
    model.add_bool_or(which) if which else model.add_bool_or([model.new_constant(0)])


def _hold(
    programme: Programme, hold: Hold, horizon: int, left_out: frozenset[ConstraintGroup]
) -> None:
    model = programme.model
    begin, end = (
        programme.moment(hold.first, hold.begins),
        programme.moment(hold.last, hold.ends),
    )
    happened = programme.work.happened
    last = happened.get(hold.last)
    if (
        last is not None
        and last.end is not None
        and ConstraintGroup("done", hold.last) not in left_out
    ):
        return
    if hold.first in happened and ConstraintGroup("done", hold.first) not in left_out:
        begin = model.new_constant(programme.work.now)
    length = model.new_int_var(0, horizon, f"length of {hold.key}")
    held = model.new_interval_var(begin, length, end, hold.key)
    programme.uses[hold.need.resource].append((held, hold.need.amount))
    if not hold.night and ConstraintGroup("night", hold.key) not in left_out:
        _by_day(programme, held)


def _lag(programme: Programme, number: int, lag: Lag, left_out: frozenset[ConstraintGroup]) -> None:
    model, happened = programme.model, programme.work.happened
    before, after = happened.get(lag.before), happened.get(lag.after)
    if after is not None and (after.end is not None or lag.reaches is Point.START):
        return  # it has happened so, whatever was asked
    if before is not None and after is not None and before.end is None and after.end is None:
        return
    wait = programme.moment(lag.after, lag.reaches) - programme.moment(lag.before, lag.leaves)
    most = lag.most
    if left_out and ConstraintGroup("greatest wait", str(number)) in left_out:
        most = None
    if left_out and ConstraintGroup("least wait", str(number)) in left_out:
        if most is not None:
            model.add(wait <= most)
    elif most is None:
        model.add(wait >= lag.least)
    else:
        model.add_linear_constraint(wait, lag.least, most)


def _nobody_there(programme: Programme, key: str, capacity: int) -> None:
    """All hands are taken while the place is closed.

    The hours forbid work then in any case; said of the hands as well it lets the solver see
    how much work goes into a day, and so prove much better how short no plan can be.
    """
    if any(done.end is None for done in programme.work.done) or not programme.windows:
        return
    for start, end in programme.work.closed:
        if start < programme.windows[-1].closes:
            closed = programme.model.new_fixed_size_interval_var(start, end - start, "closed")
            programme.uses[key].append((closed, capacity))


def _shared(programme: Programme, key: str, capacity: int) -> None:
    """No more is taken at once than there is; what has no length takes nothing."""
    uses = programme.uses.get(key, [])
    if len(uses) < 2 and all(amount <= capacity for _, amount in uses):
        return
    intervals = [interval for interval, _ in uses]
    may_be_nothing = any(
        hold.need.resource == key and hold.begins is Point.END and hold.ends is Point.START
        for hold in programme.work.holds
    )
    # Two that need more than half each keep out of each other's way, which is solved faster;
    # but by that constraint what has no length may not lie within another either.
    if all(amount * 2 > capacity for _, amount in uses) and not may_be_nothing:
        programme.model.add_no_overlap(intervals)
    else:
        programme.model.add_cumulative(intervals, [amount for _, amount in uses], capacity)
