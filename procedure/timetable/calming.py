"""Among plans of one length: in the order of the text, on few days, with little running about.

**Little running about** is counted in minutes, each with its weight: how long fibre waits between
two steps, and most of all where it waits unrinsed; how long other things wait that should follow
one another (:attr:`~procedure.timetable.work.Lag.near`), for each such wait is something to come
back to; and for each day how long it is from the first hands-on work to the last, and how late it
is by then. So work is done in the morning rather than in the evening of the same day, and nothing
lies wet all morning because it need not be done before the afternoon.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING

from procedure.timetable.bounding import least_length, spans_of
from procedure.timetable.planned import Timetable
from procedure.timetable.programme import Programme, build
from procedure.timetable.searching import VERY_MUCH, SearchResult, hint, search
from procedure.timetable.work import Activity, Attendance, Lag, Lies, Point, Work

if TYPE_CHECKING:
    from ortools.sat.python import cp_model

    Expression = cp_model.LinearExpr | cp_model.IntVar | int

MUCH = 70
"""Above so many activities the order of the text is kept where all of it can be, or not at all."""
_OF_A_WAIT = {
    Lies.UNRINSED: 6,
    Lies.WETTED: 3,
    Lies.ANYTHING: 3,
    Lies.RINSED: 1,
    Lies.DONE_WITH: 1,
}
_COUNTED, _OF_WHAT_MAY_WAIT = (Lies.UNRINSED, Lies.WETTED, Lies.DONE_WITH), 1
_AT_ONCE, _OF_WHAT_IS_DONE_AT_ONCE = 60, 1
"""What is wished within so many minutes, as soap that is rinsed out, counts so much more."""
LENGTH_OF_A_DAY, LATE_IN_A_DAY = 3, 2
_LEFT_IN_A_BATH, _OVER_A_WISH = 6, 3
"""What a minute weighs of each that is counted. A minute by which one step begins later weighs as
much as one of these divided by the number of steps."""
_A_WORKING_DAY = 12 * 60
LITTLE = 50
"""Of more activities the least running about takes more effort to prove."""
_TOGETHER, _LITTLE_AT_ONCE = 2, 30
"""Of how many days it is sought together; and how many activities are little for some days."""
_EFFORT, _EFFORT_OF_MUCH = 0.04, 0.05
_EFFORT_OF_A_DAY = 0.007


def in_the_order_of_the_text(made: Timetable, effort: float) -> Timetable:
    """The same where steps are begun as they are written, if that makes it no longer."""
    every, keys = _in_order(made.work)
    if len(keys) < len(every):
        ordered = _in_turn(made, _same_day(made), every, effort)
        if ordered is not None:
            return ordered
    if len(keys) < 2:
        return made
    return _in_turn(made, made.work, keys, effort) or (
        made if len(keys) > MUCH else _mostly_in_order(made, keys, effort)
    )


def in_its_order(made: Timetable) -> Timetable:
    """The same, whose work keeps what is in the order of the text in it."""
    every, keys = _in_order(made.work)
    same_day = _same_day(made)
    if len(keys) < len(every) and _is_in_turn(made, every) and _keeps_waits(made, same_day):
        return replace(made, work=_ordered(same_day, pairwise(every)))
    if len(keys) > MUCH and not _is_in_turn(made, keys):
        return made
    kept = [(a, b) for a, b in pairwise(keys) if made.at[a].start <= made.at[b].start]
    return replace(made, work=_ordered(made.work, kept))


def _in_order(work: Work) -> tuple[list[str], list[str]]:
    """The steps to come in the order of the text: all, and those that are not at leisure."""
    every = [key for key in work.in_order if key not in work.happened]
    return every, [key for key in every if key not in work.at_leisure]


def _is_in_turn(made: Timetable, keys: list[str]) -> bool:
    return all(made.at[a].start <= made.at[b].start for a, b in pairwise(keys))


def _keeps_waits(made: Timetable, work: Work) -> bool:
    """Whether no wait of a plan is longer than in some work."""
    return all(
        lag.most is None
        or made.moment(lag.after, lag.reaches) - made.moment(lag.before, lag.leaves) <= lag.most
        for lag in work.lags
    )


def _ordered(work: Work, pairs: Iterable[tuple[str, str]]) -> Work:
    """The work where the first of each pair of steps is begun before the second."""
    in_turn = (Lag(a, b, 0, None, Point.START, Point.START, near=False) for a, b in pairs)
    return replace(work, lags=(*work.lags, *in_turn))


def _same_day(made: Timetable) -> Work:
    """The work where what is poured away is so on the day on which its bath was last used."""
    last: dict[str, tuple[int, int]] = {}
    for number, lag in enumerate(made.work.lags):
        if lag.lies is Lies.DONE_WITH:
            left = made.moment(lag.before, lag.leaves)
            last[lag.after] = max(last.get(lag.after, (left, number)), (left, number))
    lags = list(made.work.lags)
    for _, number in last.values():
        most = lags[number].most
        most = _A_WORKING_DAY if most is None else min(_A_WORKING_DAY, most)
        lags[number] = replace(lags[number], most=most, wish=None)
    return replace(made.work, lags=tuple(lags))


def _in_turn(made: Timetable, work: Work, keys: list[str], effort: float) -> Timetable | None:
    """The same where all of these are begun in turn, if that makes it no longer."""
    ordered = _ordered(work, pairwise(keys))
    if least_length(ordered) <= made.finish:  # else it takes longer, as is seen at once
        programme = build(ordered, (), made.finish)
        programme.model.add(programme.finish <= made.finish)
        found = search(programme, effort)
        if found.placed:
            return replace(made, work=ordered, placed=found.placed)
    return None


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
    hint(programme, made.placed)
    found = search(programme, effort)
    if not found.placed:
        return made
    at = {each.key: each.start for each in found.placed}
    in_order = [(a, b) for a, b in pairwise(keys) if at[a] <= at[b]]
    return replace(made, work=_ordered(work, in_order), placed=found.placed)


@dataclass(frozen=True, slots=True)
class _Piece:
    """A stretch of hands-on work, at the start of an activity or at its end.

    ``minutes`` is nought where it is there for as long as the activity takes; ``on`` are the days
    on which it may be, by a variable where there are several.
    """

    key: str
    at_start: bool
    minutes: int
    start: Expression
    end: Expression
    on: dict[int, cp_model.IntVar | None]

    def planned(self, made: Timetable) -> tuple[int, int]:
        """From when to when it is in a plan."""
        place = made.at[self.key]
        if not self.at_start:
            return place.end - self.minutes, place.end
        return place.start, place.start + self.minutes if self.minutes else place.end


@dataclass(frozen=True)
class _Calendar:
    """A programme with its hands-on work by days; ``used`` says of a day whether there is any."""

    programme: Programme
    pieces: tuple[_Piece, ...]
    hours: dict[int, tuple[int, int]]
    used: dict[int, cp_model.IntVar]


def fewest_days(made: Timetable, effort: float) -> SearchResult:
    """On as few days as a plan of this length can be."""
    work = made.work
    if made.days_counted <= 1 or len(work.days) <= 1:
        return SearchResult("optimal")
    calendar = _calendar(made)
    if _days_wanted(calendar) >= made.days:
        return SearchResult("optimal")
    calendar.programme.model.minimize(sum(calendar.used.values()))
    _hint_of(calendar, made)
    return search(calendar.programme, effort, prepared=False)


def _days_wanted(calendar: _Calendar) -> int:
    """On so many days at the least is there hands-on work: no day is in two of so many spans.

    Each piece lies within a span of days, by the waits and the hours; the one that ends first is
    taken, then the one that ends first of those that begin later, and so on.
    """
    number = {day: place for place, day in enumerate(calendar.hours)}
    spans = [sorted(number[day] for day in piece.on) for piece in calendar.pieces if piece.on]
    count, reached = 0, -1
    for last, first in sorted((span[-1], span[0]) for span in spans):
        if first > reached:
            count, reached = count + 1, last
    return count


def least_days(work: Work, until: int, effort: float) -> int:
    """On no fewer days than so many can the work be done, if it is to be over by a minute.

    It is one more than there are where it cannot be over by then.
    """
    calendar = _calendar_of(work, until)
    calendar.programme.model.minimize(sum(calendar.used.values()))
    found = search(calendar.programme, effort, prepared=False)
    return found.bound if found.status != "impossible" else len(work.days) + 1


def least_running(
    made: Timetable, effort: float, in_turn: bool = False, turns_known: bool = False
) -> SearchResult:
    """With as little running about as a plan of this length and so many days can have.

    With ``in_turn`` no more is sought than with all hands-on work in the turn in which the plan
    has it; with ``turns_known`` that has been done already.
    Of much work on several days that is sought piece by piece: first with all hands-on work in
    the turn in which the plan has it, which is soon done; then in any turn, one day after another
    from the last. More is found so than by looking for longer for all of it together, which alone
    can prove that there is no less.
    """
    count = len(made.work.activities)
    aimed = _aimed(made)
    days = [hours for _, hours in sorted(aimed.hours.items()) if hours[0] < made.finish]
    if in_turn:
        found = _calmed_in_part(aimed, made, None, SearchResult("unknown"))
        return replace(found, status="feasible" if found.placed else "unknown")
    if count <= LITTLE or (count <= VERY_MUCH and len(days) <= _TOGETHER):
        _hint_of(aimed, made)
        limit, linear = (_EFFORT, 1) if count <= LITTLE else (_EFFORT_OF_MUCH, 2)
        return search(aimed.programme, min(effort, limit), linear)
    found = SearchResult("unknown")
    for hours in (*(() if turns_known else (None,)), *reversed(_at_once(made, days))):
        found = _calmed_in_part(aimed, made, hours, found)
    return replace(found, status="feasible" if found.placed else "unknown")


def _calmed_in_part(
    aimed: _Calendar,
    made: Timetable,
    hours: tuple[int, int] | None,
    found: SearchResult,
) -> SearchResult:
    """The better of what is found, and of what a search finds that moves what is in some hours.

    Without hours, of one in which all that is done by hand stays in its turn. It is optimal where
    no other is better that differs in that alone.
    """
    known = replace(made, placed=found.placed or made.placed)
    # Building it anew takes as long as the search does.
    calendar = replace(aimed, programme=_again(aimed.programme))
    _hint_of(calendar, known)
    if hours is None:
        _keep_turns(calendar, known)
    else:
        _keep_but(known, calendar.programme, hours)
    better = search(calendar.programme, _EFFORT_OF_A_DAY, 2, prepared=False)
    chosen = better if better.placed and (not found.placed or better.value < found.value) else found
    cut_short = found.cut_short or better.cut_short
    return replace(chosen, status=better.status, cut_short=cut_short)


def _at_once(made: Timetable, days: list[tuple[int, int]]) -> list[tuple[int, int]]:
    """The hours of the days; of very much work, those of days on which little begins as one."""
    found: list[tuple[int, int]] = []
    for opens, closes in days:
        since = found[-1][0] if found else opens
        begun = sum(since <= each.start <= closes for each in made.placed)
        if found and len(made.placed) > VERY_MUCH and begun <= _LITTLE_AT_ONCE:
            found[-1] = since, closes
        else:
            found.append((opens, closes))
    return found


def _again(programme: Programme) -> Programme:
    """The same programme, to which other things may be added."""
    return replace(programme, model=programme.model.clone())


def _keep_turns(calendar: _Calendar, made: Timetable) -> None:
    """What is done by hand stays in its turn."""
    planned = sorted(
        (piece.planned(made), piece.key, number) for number, piece in enumerate(calendar.pieces)
    )
    for one, two in pairwise(planned):
        before, after = calendar.pieces[one[2]], calendar.pieces[two[2]]
        apart = one[0][1] <= two[0][0]
        calendar.programme.model.add((before.end if apart else before.start) <= after.start)


def _keep_but(made: Timetable, programme: Programme, hours: tuple[int, int]) -> None:
    """All stays where it is but what begins or ends in these hours."""
    opens, closes = hours
    for each in made.placed:
        free = opens <= each.start <= closes or opens <= each.end <= closes
        if not free and each.key not in made.work.happened:
            programme.model.add(programme.starts[each.key] == each.start)
            programme.model.add(programme.ends[each.key] == each.end)


def _aimed(made: Timetable) -> _Calendar:
    """The programme whose aim is little running about."""
    from ortools.sat.python import cp_model

    work = made.work
    calendar = _calendar(made)
    programme, model = calendar.programme, calendar.programme.model
    model.add(sum(calendar.used.values()) <= made.days_counted)
    counted: list[Expression] = list(_waits(programme))
    counted += [each for day in calendar.used for each in _day_counted(calendar, day)]
    let_go_on = {
        each.key: programme.ends[each.key] - programme.starts[each.key] - each.lasting.most
        for each in work.activities
        if each.lasting.elastic and each.key not in work.happened
    }
    # What only cools or dries may go on as long as it likes; what is seen to in the end is
    # not left in its bath for longer than it needs, but for a night.
    counted += [
        _LEFT_IN_A_BATH * more
        for key, more in let_go_on.items()
        if work.activity[key].at_end and not work.activity[key].overnight
    ]
    starts = [programme.starts[each.key] for each in work.activities]
    # What is let go on begins later rather than lasts longer.
    early = cp_model.LinearExpr.sum([*starts, *let_go_on.values(), *let_go_on.values()])
    weight = 1 + len(work.activities)
    model.minimize(weight * cp_model.LinearExpr.sum(counted) + early)
    return calendar


def weight_of_a_wait(lag: Lag) -> int:
    """What each minute of a wait weighs; nought where it may be any."""
    if lag.leaves is not Point.END or lag.reaches is not Point.START:
        return 0
    if not lag.near and lag.lies not in _COUNTED:
        return 0
    weight = _OF_A_WAIT[lag.lies] if lag.near else _OF_WHAT_MAY_WAIT
    soon = lag.wished is not None and lag.wished <= _AT_ONCE
    return weight + (_OF_WHAT_IS_DONE_AT_ONCE if soon else 0)


def weight_over_a_wish(lag: Lag) -> int:
    """What each minute weighs by which a wait that is counted is longer than is wished."""
    wished = lag.wish is not None and lag.wish != lag.most
    return _OVER_A_WISH if wished and weight_of_a_wait(lag) else 0


def _waits(programme: Programme) -> Iterator[Expression]:
    model = programme.model
    for lag in programme.work.lags:
        weight = weight_of_a_wait(lag)
        if weight:
            wait = programme.starts[lag.after] - programme.ends[lag.before]
            yield weight * wait
            if weight_over_a_wish(lag):
                longer = model.new_int_var(0, programme.work.horizon, "")
                model.add(longer >= wait - (lag.wish or 0))
                yield weight_over_a_wish(lag) * longer


def _calendar(made: Timetable) -> _Calendar:
    """The programme of plans that are no longer than one, to which aims may be added.

    It is asked for twice of each plan, and building it takes as long as a search.
    """
    asked = f"calendar until {made.finish}"
    if asked not in made.work.worked_out:
        made.work.worked_out[asked] = _calendar_of(made.work, made.finish)
    known: _Calendar = made.work.worked_out[asked]
    return replace(known, programme=_again(known.programme))


def _calendar_of(work: Work, until: int) -> _Calendar:
    programme = build(work, (), until)
    model = programme.model
    hours: dict[int, tuple[int, int]] = {}
    for window in programme.windows:
        opens = hours[window.day][0] if window.day in hours else window.opens
        hours[window.day] = (opens, window.closes)
    used = {day: model.new_bool_var(f"day {day}") for day in hours}
    if work.there_now in used:
        model.add(used[work.there_now] == 1)
    calendar = _Calendar(programme, tuple(_pieces(programme, hours, until)), hours, used)
    for piece in calendar.pieces:
        several = [on for on in piece.on.values() if on is not None]
        if several:
            model.add_exactly_one(several)
        for day, on in piece.on.items():
            if on is None:
                model.add(used[day] == 1)
                continue
            model.add_implication(on, used[day])
            model.add(piece.start >= hours[day][0]).only_enforce_if(on)
            model.add(piece.end <= hours[day][1]).only_enforce_if(on)
    return calendar


def _hint_of(calendar: _Calendar, made: Timetable) -> None:
    """Tell the solver of a plan that is known, and on which days it has what."""
    hint(calendar.programme, made.placed)
    for piece in calendar.pieces:
        begins, is_over = piece.planned(made)
        for day, on in piece.on.items():
            if on is not None:
                opens, closes = calendar.hours[day]
                calendar.programme.model.add_hint(on, opens <= begins and is_over <= closes)


def _pieces(
    programme: Programme, hours: dict[int, tuple[int, int]], until: int
) -> Iterator[_Piece]:
    """The hands-on stretches of what has not begun."""
    work = programme.work
    spans = spans_of(work, until)
    for each in work.activities:
        if not each.hands or each.key in work.happened:
            continue
        start, end = programme.starts[each.key], programme.ends[each.key]
        span = spans[each.key]
        for at_start, minutes in _stretches(each):
            first: Expression = start if at_start else end - minutes
            last: Expression = start + minutes if at_start and minutes else end
            earliest = span.start if at_start else span.end - minutes
            latest = span.latest_end
            if at_start and minutes:
                latest = span.latest_start + minutes
            days = [day for day, (a, b) in hours.items() if earliest < b and a < latest]
            on: dict[int, cp_model.IntVar | None] = dict.fromkeys(days)
            if len(days) > 1:
                on = {day: programme.model.new_bool_var("") for day in days}
            yield _Piece(each.key, at_start, minutes, first, last, on)


def _stretches(each: Activity) -> Iterator[tuple[bool, int]]:
    """Whether a hands-on stretch is at the start, and its minutes; none for as long as it takes."""
    if each.attendance is Attendance.WHOLE:
        yield True, 0
    elif each.attendance is not Attendance.NONE:
        if each.at_start:
            yield True, min(each.at_start, each.lasting.most)
        if each.at_end:
            yield False, min(each.at_end, each.lasting.most)


def _day_counted(calendar: _Calendar, day: int) -> Iterator[Expression]:
    """What counts of a day: from its first hands-on minute to the last, and how late that is."""
    model, (opens, closes) = calendar.programme.model, calendar.hours[day]
    there = [(piece, piece.on[day]) for piece in calendar.pieces if day in piece.on]
    if not there:
        return
    first = model.new_int_var(opens, closes, f"first of day {day}")
    last = model.new_int_var(opens, closes, f"last of day {day}")
    model.add(first <= last)
    for piece, on in there:
        begins, is_over = model.add(first <= piece.start), model.add(last >= piece.end)
        if on is not None:
            begins.only_enforce_if(on)
            is_over.only_enforce_if(on)
    yield LENGTH_OF_A_DAY * (last - first)
    yield LATE_IN_A_DAY * (last - opens)
