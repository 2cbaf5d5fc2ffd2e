"""A first plan at once, by a simple rule: take the steps in order, each as soon as it fits.

Two orders are tried (the order of the text; the step with the longest way to the end
first) and the shorter plan is taken. Where a greatest wait cannot be kept, the step from
which it is counted is put off by as much as is missing, and the plan is made again. The
rule finds a plan in most cases, not in all; it proves nothing but a simple bound. How long
it goes on is counted in steps placed, not by the clock, so that the same work gives the
same plan on any machine.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field

from procedure.timetable.bounding import least_length, tails_of
from procedure.timetable.going_on import ends_of
from procedure.timetable.planned import HowFound, Placed, Timetable
from procedure.timetable.warming import to_warm, warmed
from procedure.timetable.work import (
    Activity,
    Attendance,
    Hold,
    Lag,
    Need,
    Point,
    WarmAgain,
    Work,
    hot_times,
    stretches,
)

_PATIENCE, _PATIENCE_OF_ANOTHER = 40, 8
"""How often each step may be placed by an order over all tries, which takes some tenths of a second
at the most; and how often by another, where there is a plan by the first."""
_FAR = 10**9


@dataclass
class _Sheet:
    """A plan being written: what is placed, what is taken when, and what hangs on what."""

    work: Work
    into: dict[str, list[Lag]]
    out_of: dict[str, list[Lag]]
    begun_by: dict[str, list[Hold]]
    ended_by: dict[str, list[Hold]]
    to_warm: dict[str, WarmAgain]
    placed: dict[str, Placed] = field(default_factory=dict)
    taken: dict[str, list[tuple[int, int, int]]] = field(default_factory=lambda: defaultdict(list))
    held: dict[str, dict[str, tuple[int, int, int]]] = field(
        default_factory=lambda: defaultdict(dict)
    )


def _nothing_placed(work: Work) -> _Sheet:
    """A sheet on which nothing hangs together yet."""
    return _Sheet(
        work,
        defaultdict(list),
        defaultdict(list),
        defaultdict(list),
        defaultdict(list),
        to_warm(work),
    )


def _empty_sheet(work: Work) -> _Sheet:
    sheet = _nothing_placed(work)
    for lag in work.lags:
        sheet.into[lag.after].append(lag)
        sheet.out_of[lag.before].append(lag)
    for hold in work.holds:
        sheet.begun_by[hold.first].append(hold)
        sheet.ended_by[hold.last].append(hold)
    return sheet


@dataclass(frozen=True)
class _PutOff(Exception):
    """An activity has to be put off by so many minutes for another to come in time."""

    key: str
    by: int


class _Stuck(Exception):
    """By this order nothing more can be placed."""


def first_plan(work: Work) -> Timetable | None:
    """A plan by the list rule, or None where the rule finds none.

    The work has no faults (:func:`procedure.timetable.unplannable.faults`). Asked for at many
    places, it is made but once.
    """
    if "first plan" not in work.worked_out:
        work.worked_out["first plan"] = _first_plan(work)
    known: Timetable | None = work.worked_out["first plan"]
    return known


def finds_no_place(work: Work) -> tuple[str, ...]:
    """The keys of the steps that the rule can place nowhere, though nothing else be placed.

    Nothing is said of work of which something has happened.
    """
    if work.done:
        return ()
    known: tuple[str, ...] | None = work.worked_out.get("finds no place")
    if known is None:
        sheet = _nothing_placed(work)
        known = tuple(each.key for each in work.activities if not _has_a_place(sheet, each))
        work.worked_out["finds no place"] = known
    return known


def _has_a_place(sheet: _Sheet, activity: Activity) -> bool:
    try:
        _first_fit(sheet, activity, sheet.work.now)
    except _Stuck:
        return False
    return True


def _first_plan(work: Work) -> Timetable | None:
    if finds_no_place(work):
        return None
    tails = tails_of(work)
    rank = {each.key: i for i, each in enumerate(work.activities)}
    orders: tuple[Callable[[str], tuple[int, int]], ...] = (
        lambda key: (rank[key], 0),
        lambda key: (-tails[key], rank[key]),
    )
    bound = least_length(work)
    best: Timetable | None = None
    for order in orders:
        if best is not None and best.finish <= best.bound:
            break
        patience = _PATIENCE if best is None else _PATIENCE_OF_ANOTHER
        made = _by(work, order, patience * len(work.activities), bound)
        if made is not None and (best is None or made.finish < best.finish):
            best = made
    return best


def _by(
    work: Work, order: Callable[[str], tuple[int, int]], patience: int, bound: int
) -> Timetable | None:
    release = dict.fromkeys(work.activity, work.now)
    going = {each.key: 0 for each in work.done if each.end is None}
    sheet = _begun(work, going)
    begins_with = sorted((key for key in work.activity if key not in sheet.placed), key=order)
    waiting = [*begins_with]
    marks: dict[str, _Mark] = {}
    placings = 0
    while placings < patience:
        try:
            _fill(sheet, waiting, release, marks)
        except _PutOff as later:
            placings += 1 + len(sheet.placed)
            if later.key in work.happened:
                before = sheet.placed[later.key]
                going[later.key] = before.end + later.by - before.start
                sheet = _begun(work, going)
                if sheet.placed[later.key].end < going[later.key]:
                    return None  # it cannot be so long, or is over
                waiting = [*begins_with]
                continue
            release[later.key] = max(release[later.key], later.by)
            if release[later.key] > work.horizon:
                return None
            # What was placed before it would be placed there again.
            waiting = _back_to(sheet, marks[later.key])
            continue
        except _Stuck:
            return None
        placed = tuple(sheet.placed[each.key] for each in work.activities)
        made = Timetable(work, placed, bound, HowFound.LIST_RULE, searched=False)
        late = work.finish_by is not None and made.finish > work.finish_by
        sound = _waits_kept(made) and _warm_enough(sheet) and not _over_used(sheet)
        return made if sound and not late else None
    return None


def _begun(work: Work, going: Mapping[str, int]) -> _Sheet:
    """A sheet with what has happened; what is going on ends no sooner than at its minute."""
    sheet = _empty_sheet(work)
    for done in work.done:
        _enter_done(sheet, done.key, going.get(done.key, 0))
    return sheet


def _waits_kept(made: Timetable) -> bool:
    """Whether all waits are kept, also those counted to an end that was let come later."""
    for lag in made.work.lags:
        if lag.after in made.work.happened:
            continue
        wait = made.moment(lag.after, lag.reaches) - made.moment(lag.before, lag.leaves)
        if wait < lag.least or (lag.most is not None and wait > lag.most):
            return False
    return True


def _over_used(sheet: _Sheet) -> bool:
    """Whether a step that also begins or ends a hold has taken more than there is."""
    for key, uses in sheet.taken.items():
        for moment, _, _ in uses:
            there = (amount for start, end, amount in uses if start <= moment < end)
            if sum(there) > sheet.work.resource[key].capacity:
                return True
    return False


def _fill(
    sheet: _Sheet, waiting: list[str], release: dict[str, int], marks: dict[str, _Mark]
) -> None:
    """Place what is waiting, one after the other; ``marks`` keeps how it was before each."""
    while waiting:
        for key in waiting:
            if _may_come(sheet, key):
                marks[key] = _mark(sheet, waiting)
                _enter(sheet, key, release[key])
                waiting.remove(key)
                break
        else:
            raise _Stuck


@dataclass(frozen=True)
class _Mark:
    """How a sheet was before something was placed; of what is taken, how many uses there were."""

    placed: dict[str, Placed]
    taken: dict[str, int]
    held: dict[str, dict[str, tuple[int, int, int]]]
    waiting: tuple[str, ...]


def _mark(sheet: _Sheet, waiting: list[str]) -> _Mark:
    return _Mark(
        dict(sheet.placed),
        {key: len(uses) for key, uses in sheet.taken.items()},
        {key: dict(uses) for key, uses in sheet.held.items() if uses},
        tuple(waiting),
    )


def _back_to(sheet: _Sheet, mark: _Mark) -> list[str]:
    """Make the sheet what it was then, and say what was waiting."""
    sheet.placed = dict(mark.placed)
    for key, uses in sheet.taken.items():
        del uses[mark.taken.get(key, 0) :]
    sheet.held.clear()
    sheet.held.update({key: dict(uses) for key, uses in mark.held.items()})
    return list(mark.waiting)


def _enter_done(sheet: _Sheet, key: str, no_sooner: int = 0) -> None:
    """Place what has happened; what is going on ends then at the soonest, if it may."""
    work = sheet.work
    done, activity = work.happened[key], work.activity[key]
    end = done.end
    if end is None:
        spans = ends_of(work, activity, done)
        end = next((max(low, no_sooner) for low, high in spans if high >= no_sooner), spans[-1][1])
        for need in activity.needs:
            sheet.taken[need.resource].append((work.now, end, need.amount))
        for begin, finish in stretches(activity, done.start, end):
            for need in activity.hands if finish > work.now else ():
                sheet.taken[need.resource].append((max(work.now, begin), finish, need.amount))
    for _, cool in hot_times(activity, done.start, end):
        for need in activity.hot_needs if cool > work.now else ():
            sheet.taken[need.resource].append((work.now, cool, need.amount))
    sheet.placed[key] = Placed(key, done.start, end)
    _holds_after(sheet, key)


def _may_come(sheet: _Sheet, key: str) -> bool:
    """Whether all before it is placed and the pots that it starts to hold are not held."""
    for lag in sheet.into[key]:
        if lag.least >= 0 and lag.before not in sheet.placed and lag.before != key:
            return False
    for hold in sheet.begun_by[key]:
        if hold.last in sheet.placed:
            continue
        resource = hold.need.resource
        endless = sum(amount for _, _, amount in sheet.held[resource].values())
        if endless + hold.need.amount > sheet.work.resource[resource].capacity:
            return False
    return True


@dataclass
class _Bounds:
    """When an activity may start by its waits, and the wait that lets it start no later."""

    earliest: int
    latest: int = _FAR
    binding: Lag | None = None

    def no_sooner(self, minute: int) -> None:
        """It starts then at the earliest."""
        self.earliest = max(self.earliest, minute)

    def no_later(self, minute: int, lag: Lag) -> None:
        """It starts then at the latest, for the sake of that wait."""
        if minute < self.latest:
            self.latest, self.binding = minute, lag


def _bounds(sheet: _Sheet, key: str, release: int) -> _Bounds:
    length = sheet.work.activity[key].lasting.most
    bounds = _Bounds(release)
    for lag in sheet.into[key]:
        before = sheet.placed.get(lag.before)
        if before is None:
            continue
        at = before.start if lag.leaves is Point.START else before.end
        back = length if lag.reaches is Point.END else 0
        bounds.no_sooner(at + lag.least - back)
        if lag.most is not None:
            bounds.no_later(at + lag.most - back, lag)
    for lag in sheet.out_of[key]:
        after = sheet.placed.get(lag.after)
        if after is None or lag.after in sheet.work.happened:
            continue
        at = after.start if lag.reaches is Point.START else after.end
        forth = length if lag.leaves is Point.END else 0
        if lag.most is not None:
            bounds.no_sooner(at - lag.most - forth)
        bounds.no_later(at - lag.least - forth, lag)
    return bounds


def _enter(sheet: _Sheet, key: str, release: int) -> None:
    """Place an activity at the first time that fits, or say what has to be put off for it."""
    bounds = _bounds(sheet, key, release)
    activity, start, end = _fit_with_warming(sheet, key, bounds.earliest)
    while start > bounds.latest and bounds.binding is not None:
        late = start - bounds.latest
        lag = bounds.binding
        if not _let_go_on(sheet, lag, key, late):
            other = lag.before if lag.after == key else lag.after
            raise _PutOff(other, sheet.placed[other].start + late)
        bounds = _bounds(sheet, key, release)
        activity, start, end = _fit_with_warming(sheet, key, max(start, bounds.earliest))
    _check_night_of_holds(sheet, key, end)
    sheet.placed[key] = Placed(key, start, end)
    for resource, begin, finish, amount in takes(activity, start, end):
        sheet.taken[resource].append((begin, finish, amount))
    _holds_after(sheet, key)


def _fit_with_warming(sheet: _Sheet, key: str, earliest: int) -> tuple[Activity, int, int]:
    """The first time that fits, with the minutes for warming a bath that has stood by then."""
    activity = sheet.work.activity[key]
    start, end = _first_fit(sheet, activity, earliest)
    warm_until = _warm_until(sheet, key)
    if start <= warm_until:
        return activity, start, end
    longer = warmed(activity, sheet.to_warm[key].minutes)
    return longer, *_first_fit(sheet, longer, max(earliest, warm_until + 1))


def _warm_until(sheet: _Sheet, key: str) -> int:
    """The last minute at which an activity finds its bath as warm as it was."""
    bath = sheet.to_warm.get(key)
    if bath is None or bath.before not in sheet.placed:
        return _FAR
    before = sheet.placed[bath.before]
    ready = before.start + sheet.work.activity[bath.before].lasting.most
    if before.start > _warm_until(sheet, bath.before):
        ready += sheet.to_warm[bath.before].minutes
    return ready + bath.within


def _warm_enough(sheet: _Sheet) -> bool:
    """Whether each step has the minutes for warming if its bath has stood, and only then."""
    for key, bath in sheet.to_warm.items():
        lasting, place = sheet.work.activity[key].lasting, sheet.placed[key]
        more = bath.minutes if place.start > _warm_until(sheet, key) else 0
        if not lasting.most + more <= place.end - place.start <= lasting.longest + more:
            return False
    return True


def _let_go_on(sheet: _Sheet, lag: Lag, key: str, late: int) -> bool:
    """Whether the step before could be, and is, let go on until this one can come.

    Only where nothing else hangs on its end: it takes no hands then and needs nothing.
    """
    if lag.after != key or lag.leaves is not Point.END or lag.before in sheet.work.happened:
        return False
    before, place = sheet.work.activity[lag.before], sheet.placed[lag.before]
    ended = [*sheet.ended_by[lag.before], *sheet.begun_by[lag.before]]
    others = [each for each in sheet.out_of[lag.before] if each.after in sheet.placed]
    own = [each for each in sheet.into[lag.before] if each.reaches is Point.END]
    if before.needs or before.at_end or ended or others or own or before.by_day:
        return False
    if before.attendance is Attendance.WHOLE:
        return False
    if place.end + late - place.start > before.lasting.longest:
        return False
    sheet.placed[lag.before] = Placed(lag.before, place.start, place.end + late)
    return True


def _check_night_of_holds(sheet: _Sheet, key: str, end: int) -> None:
    """What may not lie there at night is begun so late that it is over the same day."""
    for hold in sheet.ended_by[key]:
        if hold.night or hold.first not in sheet.placed:
            continue
        first = sheet.placed[hold.first]
        begun = first.start if hold.begins is Point.START else first.end
        shut = sheet.work.closing_within(begun, end)
        if shut is not None:
            raise _PutOff(hold.first, max(first.start + 1, shut[1]))


def _holds_after(sheet: _Sheet, key: str) -> None:
    for hold in sheet.begun_by[key]:
        if hold.last not in sheet.placed:
            first = sheet.placed[key]
            begun = first.start if hold.begins is Point.START else first.end
            sheet.held[hold.need.resource][hold.key] = (begun, _FAR, hold.need.amount)
    for hold in sheet.ended_by[key]:
        if hold.first in sheet.placed:
            first, last = sheet.placed[hold.first], sheet.placed[key]
            sheet.held[hold.need.resource].pop(hold.key, None)
            begun = first.start if hold.begins is Point.START else first.end
            over = last.start if hold.ends is Point.START else last.end
            sheet.taken[hold.need.resource].append((begun, over, hold.need.amount))


def takes(activity: Activity, start: int, end: int) -> list[tuple[str, int, int, int]]:
    """What an activity takes of which resource, from when to when."""
    whole = [(need.resource, start, end, need.amount) for need in activity.needs]
    hands = [
        (need.resource, begin, finish, need.amount)
        for begin, finish in stretches(activity, start, end)
        for need in activity.hands
    ]
    hot = [
        (need.resource, begin, finish, need.amount)
        for begin, finish in hot_times(activity, start, end)
        for need in activity.hot_needs
    ]
    return whole + hands + hot


def _first_fit(sheet: _Sheet, activity: Activity, earliest: int) -> tuple[int, int]:
    """The first start, not before ``earliest``, at which an activity fits, and its end."""
    start = max(0, earliest)
    while start <= sheet.work.horizon:
        end = start + activity.lasting.most
        later, needs_longer = _hindrance(sheet, activity, start, end)
        while later and needs_longer and end < start + activity.lasting.longest:
            end = min(max(end + 1, needs_longer), start + activity.lasting.longest)
            later, needs_longer = _hindrance(sheet, activity, start, end)
        if not later:
            return start, end
        start = max(start + 1, later)
    raise _Stuck


def _hindrance(sheet: _Sheet, activity: Activity, start: int, end: int) -> tuple[int, int]:
    """Where an activity does not fit: the next start, and the next end, to try; else noughts.

    The next end is nought where a later end would not help.
    """
    closed = shut_out(sheet.work, activity, start, end)
    if closed != (0, 0):
        return closed
    for hold in sheet.begun_by[activity.key]:
        if hold.last not in sheet.placed:
            begun = start if hold.begins is Point.START else end
            free = _free_from(sheet, hold.need.resource, begun, _FAR, hold.need.amount)
            if free:
                return start + free - begun, 0
    for need in activity.needs:
        free = _free_from(sheet, need.resource, start, end, need.amount)
        if free:
            return free, 0
    hot = hot_times(activity, start, end) if activity.hot_needs else ()
    hands = stretches(activity, start, end)
    return (
        _taken_in(sheet, activity.hands, hands, start, end)
        or _taken_in(sheet, activity.hot_needs, hot, start, end)
        or (0, 0)
    )


def _taken_in(
    sheet: _Sheet,
    needs: tuple[Need, ...],
    times: Iterable[tuple[int, int]],
    start: int,
    end: int,
) -> tuple[int, int] | None:
    """Where what is wanted at some times of an activity is taken: the next start and end to try."""
    for begin, finish in times:
        for need in needs:
            free = _free_from(sheet, need.resource, begin, finish, need.amount)
            if free:
                return start + free - begin, (end + free - begin if begin > start else 0)
    return None


def _opens_again(work: Work, activity: Activity, start: int, end: int) -> int:
    """When the place opens after what may not go on while it is closed; else nought."""
    if activity.in_hours:
        shut = work.closing_within(start, end)
        return 0 if shut is None else shut[1]
    if any(opens <= start and end <= closes for opens, closes in work.days):
        return 0
    return next((opens for opens, _ in work.days if opens > start), _FAR)


def shut_out(work: Work, activity: Activity, start: int, end: int) -> tuple[int, int]:
    """The same for opening hours and nights."""
    bound_besides = activity.breaks or activity.overnight or activity.hot_for or activity.hot_after
    if not bound_besides and work.closing_within(start, max(end, start + 1)) is None:
        return 0, 0  # it is open all the time, as it mostly is
    opens = _opens_again(work, activity, start, end) if activity.by_day else 0
    if opens:
        return opens, 0
    if activity.begun_by_hand:
        shut = work.closing_within(start, start + 1)
        if shut is not None and (shut[0] < start or not start):
            return shut[1], 0
    for begin, finish in hot_times(activity, start, end):
        shut = work.closing_within(begin, finish)
        if shut is not None:
            return max(start + 1, start + shut[1] - begin), 0
    if activity.overnight and not any(start <= a and b <= end for a, b in work.nights):
        coming = next(((a, b) for a, b in work.nights if a >= start), None)
        if coming is None:
            return _FAR, 0
        return max(start + 1, coming[1] - activity.lasting.longest), coming[1]
    for begin, finish in stretches(activity, start, end):
        shut = work.closing_within(begin, finish)
        if shut is None:
            continue
        if begin > start and activity.attendance is not Attendance.WHOLE:
            wanted = shut[1] + finish - begin
            return max(start + 1, wanted - activity.lasting.longest), wanted
        return max(start + 1, start + shut[1] - begin), 0
    return 0, 0


def _free_from(sheet: _Sheet, key: str, start: int, end: int, amount: int) -> int:
    """The next time to try where a resource does not suffice from start to end; else nought."""
    if start >= end:
        return 0
    capacity = sheet.work.resource[key].capacity
    over = [each for each in sheet.taken[key] if each[0] < end and start < each[1]]
    if held := sheet.held[key]:
        over += [each for each in held.values() if each[0] < end and start < each[1]]
    if not over and amount <= capacity:
        return 0
    moments = sorted({start, *(begin for begin, _, _ in over if begin > start)})
    for moment in moments:
        there = [each for each in over if each[0] <= moment < each[1]]
        if sum(taken for _, _, taken in there) + amount > capacity:
            return max(start + 1, min(finish for _, finish, _ in there))
    return 0
