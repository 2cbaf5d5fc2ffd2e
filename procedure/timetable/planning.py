"""A plan from work: refused where it makes no sense, solved, or why there is none."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from procedure.quantity.day import A_DAY
from procedure.timetable.dried_meanwhile import with_drying
from procedure.timetable.first_plan import first_plan
from procedure.timetable.fives import on_fives
from procedure.timetable.hours import clock
from procedure.timetable.idle_days import without_idle_days
from procedure.timetable.planned import Timetable
from procedure.timetable.planned_words import moment_in_words, span
from procedure.timetable.reasons import NoPlan, staying_longer, why_not
from procedure.timetable.room_on_line import fits_the_line, line_too_short, with_a_longer_line
from procedure.timetable.searching import VERY_MUCH
from procedure.timetable.slow_coolings import at_long_ends, may_be_slow, sure_of_its_nights
from procedure.timetable.soiled_tubs import (
    is_soiled,
    kept_clean,
    soiled_in_words,
    ways_to_keep_clean,
)
from procedure.timetable.solving import EFFORT, NotKnown, best, lengthened
from procedure.timetable.told_cold import as_cold
from procedure.timetable.unplannable import CannotPlan, faults
from procedure.timetable.waiting_less import longer_than_wished
from procedure.timetable.warmed_between import (
    WARMED,
    at_any_time,
    dips_in_one_order,
    vats_told_cold,
    with_warming,
)
from procedure.timetable.warming import as_unknown, as_warmed
from procedure.timetable.wishes import as_wished, at_last, costs_a_night
from procedure.timetable.work import Activity, Attendance, Lag, Work
from procedure.timetable.worth_a_visit import is_worth_it, without_its_visit

_TO_COME_AND_GO = 15
_LOOSER_EFFORT = 1.0
"""The solver's seconds for a plan in which a little gives; where it needs more, more gives."""
_MOST_DRYINGS, _MOST_WARMINGS = 4, 6
"""How often it is planned again, since other fibre waits for days then."""
NO_TIME_TO_DRY = (
    "What waits for days is hung up and wetted out again: there is no time for that in this plan, "
    "so come sooner for it and stay longer."
)


@dataclass(frozen=True)
class Fitted:
    """A plan, or why there is none, and in which steps less than the long end was planned.

    ``shortened`` are the keys of steps that are planned shorter than their range allows,
    since not all can be as long, with how long they may take; ``left`` of those that are let
    go on over a night longer than is written, since there is no plan without, and ``waits``
    are those that are longer for the same reason, or longer than is wished.
    """

    made: Timetable | NoPlan
    shortened: tuple[tuple[str, int], ...] = ()
    left: tuple[str, ...] = ()
    waits: tuple[Lag, ...] = ()


def fitted(
    work: Work,
    effort: float = EFFORT,
    length_alone: bool = False,
    at_once: Callable[[Timetable], None] | None = None,
    reasons: bool = True,
) -> Fitted:
    """The best plan with every step at its long end; where there is none, with shorter ones.

    Where fibre waits for days even so, it is planned again with the time that it takes to dry it
    and to wet it out again (:mod:`procedure.timetable.dried_meanwhile`). A cooling that is
    estimated is at its long end where all takes no night more by that
    (:mod:`procedure.timetable.slow_coolings`); waits are as long as is wished where neither
    a night nor every plan is lost by that (:mod:`procedure.timetable.wishes`).

    A step that fits into no hours (longer than any day, shorter than any night) may be
    shorter at once, as far as its range allows that; only if there is no plan even so, fibre
    may lie in its bath over one night where that does no harm; then a bath that has stood may
    be left cold, which is said; and only then all steps may
    be shorter, as few of them and by as little as will do. With ``length_alone`` only the
    length of the plan is made as good as can be. ``at_once`` is told a first plan, before
    a better one is looked for. Without ``reasons`` an :class:`NoPlan` names no demands, and no
    time goes into looking for the fewest.
    Raises as :func:`plan` does.
    """
    _check(work)
    work = _loosened(work, [lag for lag in work.lags if lag.before in work.happened])
    found = _fitted(work, effort, length_alone, at_once, reasons)
    found = _worth_their_visits(work, found, effort, length_alone)
    found = _kept_clean(work, found, effort, length_alone)
    found = _warmed_between(work, found, effort, length_alone)
    dried = _dried(work, found, effort, length_alone)
    return dried if dried is found else _warmed_between(work, dried, effort, length_alone)


def _worth_their_visits(work: Work, found: Fitted, effort: float, length_alone: bool) -> Fitted:
    """The same where nobody comes on a day more to begin a soak that saves some minutes."""
    tried = without_its_visit(found.made) if isinstance(found.made, Timetable) else None
    if tried is None or isinstance(found.made, NoPlan):
        return found
    try:
        made = _solved(as_unknown(tried), effort, length_alone)
    except NotKnown:
        return found
    if made is None or is_worth_it(found.made, made):
        return found
    return _found(work, made)


def _kept_clean(work: Work, found: Fitted, effort: float, length_alone: bool) -> Fitted:
    """The same where nothing comes into a tub with what harms it; where there is none, told."""
    if isinstance(found.made, NoPlan) or not work.waters:
        return found
    first, best = found.made, None
    if not is_soiled(first):
        return replace(found, made=kept_clean(first))
    for tried in ways_to_keep_clean(first):
        try:
            made = _solved(tried, effort, length_alone)
        except NotKnown:
            continue
        if made is not None and (best is None or _sooner(made, best)):
            best = made
    if best is None:
        return replace(found, made=noted(first, list(soiled_in_words(first))))
    same = best.finish <= first.finish and best.days <= first.days
    best = replace(
        best,
        bound=first.bound,
        fewest_days=first.fewest_days and same,
        undried=first if best.work.between else None,
    )
    return _found(work, kept_clean(best))


def _sooner(one: Timetable, two: Timetable) -> bool:
    return (one.finish, one.days) < (two.finish, two.days)


def _warmed_between(work: Work, found: Fitted, effort: float, length_alone: bool) -> Fitted:
    """The same with time to warm vats again that cool between dips; where there is none, told."""
    if isinstance(found.made, NoPlan) or not work.vats:
        return found
    first = made = found.made
    best_of_all = True
    for _ in range(_MOST_WARMINGS):
        more = with_warming(made)
        if more is None:
            if best_of_all:
                return found if made is first else _found(work, _as_proven_by(first, made))
            made, best_of_all = _solved_at_all([made.work], effort, length_alone) or made, True
            continue
        # In which order all comes is sought once, when the length and the warmings are known.
        ways = [more, at_any_time(more)]
        ways += [_eased_but_warm(each) for each in ways] if found.shortened else []
        again = _solved_at_all(ways, effort, length_alone=True)
        if again is None:
            break
        made, best_of_all = again, length_alone
    if not best_of_all:
        made = _solved_at_all([made.work], effort, length_alone) or made
    return _found(work, vats_told_cold(_as_proven_by(first, made)))


def _solved_at_all(works: Sequence[Work], effort: float, length_alone: bool) -> Timetable | None:
    """The best plan of the first of several works of which one is found."""
    for work in works:
        try:
            made = _solved(as_unknown(work), effort, length_alone)
        except NotKnown:
            continue
        if made is not None:
            return made
    return None


def _as_proven_by(first: Timetable, made: Timetable) -> Timetable:
    """A plan with warming in it: only what was proven of one without is proven of this.

    Where dips may come in another order, the vat might be warmed otherwise too.
    """
    if made is first or dips_in_one_order(first):
        return made if made is first else replace(made, undried=first.undried or first)
    alike = made.finish <= first.finish and made.days <= first.days
    return replace(
        made,
        bound=first.bound,
        fewest_days=first.fewest_days and alike,
        least_running=False,
        undried=first.undried or first,
    )


def _dried(work: Work, found: Fitted, effort: float, length_alone: bool) -> Fitted:
    """The same with time to dry what waits for days; where there is none, that is noted."""
    if isinstance(found.made, NoPlan):
        return found
    first = found.made
    made = _all_dried(first, effort, length_alone)
    if made is None:
        return replace(found, made=noted(first, [_why_not_dried(first, effort)]))
    return found if made is first else _found(work, replace(made, undried=first))


def _all_dried(made: Timetable, effort: float, length_alone: bool) -> Timetable | None:
    """The same with all dried that waits for days; None where no such plan is found."""
    for _ in range(_MOST_DRYINGS):
        more = with_drying(made)
        if more is None:
            return made
        again = _solved_at_all([more], effort, length_alone) if fits_the_line(more) else None
        if again is None:
            return None
        made = again
    return None


def _why_not_dried(made: Timetable, effort: float) -> str:
    """Why there is no plan in which all is dried: the drying line, or the time."""
    longer = with_a_longer_line(made.work)
    served = _all_dried(replace(made, work=longer), effort, True) if longer is not None else None
    return NO_TIME_TO_DRY if served is None else line_too_short(made, served)


def _fitted(
    work: Work,
    effort: float,
    length_alone: bool,
    at_once: Callable[[Timetable], None] | None,
    reasons: bool,
) -> Fitted:
    """The same without the time for drying what waits for days."""
    strict, *looser = _tries(work)
    try:
        made = _with_its_wishes(work, strict, effort, length_alone, at_once)
    except NotKnown:
        made = None
    if made is not None:
        return _found(work, as_cold(made, work.warmth))
    # What cannot be done even with everything that may give is refused at once.
    cold = replace(work, warmth=())
    not_known: NotKnown | None = None
    try:
        loosest = _solved(eased(_at_a_pinch(cold)), effort, length_alone=True)
    except NotKnown as reason:
        loosest, not_known = None, reason  # with waits as long as they may be, one may be found
    if loosest is None:
        return _at_last_or_never(work, effort, length_alone, reasons, not_known)
    for tried in looser if as_wished(work) is work else (strict, *looser):
        try:
            make = _slowly if tried is strict else _solved
            made = make(tried, min(effort, _LOOSER_EFFORT), length_alone, at_once)
        except NotKnown:
            continue  # with what gives more, it is found sooner
        if made is not None:
            return _found(work, as_cold(made, work.warmth))
    if not length_alone:
        loosest = lengthened(cold, loosest, effort)
    return _found(work, as_cold(loosest, work.warmth))


def _with_its_wishes(
    work: Work,
    strict: Work,
    effort: float,
    length_alone: bool,
    at_once: Callable[[Timetable], None] | None,
) -> Timetable | None:
    """The best plan with every wait as it is wished, unless that costs a night; None without."""
    wished = as_wished(work)
    if wished is work:
        return _slowly(strict, effort, length_alone, at_once)
    made = _slowly(_within_the_hours(wished), effort, length_alone, at_once)
    if made is None or not costs_a_night(strict, made):
        return made
    try:
        sooner = _slowly(strict, effort, length_alone, at_once)
    except NotKnown:
        return made
    return sooner if sooner is not None and sooner.finish < made.finish else made


def _at_last_or_never(
    work: Work, effort: float, length_alone: bool, reasons: bool, not_known: NotKnown | None
) -> Fitted:
    """A plan in which waits are as long as they ever may be; else why there is none.

    Raises ``not_known``, where it is not known whether there is one without such waits.
    """
    cold = replace(work, warmth=())
    last = at_last(cold)
    loosest = eased(_at_a_pinch(last))
    made = _solved(loosest, effort, length_alone) if last is not cold else None
    if made is not None:
        made = _solved_at_all(list(_at_last(work)), effort, length_alone) or made
        return _found(work, as_cold(_or_longer_days(work, made), work.warmth))
    if not_known is not None:
        raise not_known
    if not reasons:
        return Fitted(NoPlan(cold, (), smallest=False))
    return Fitted(why_not(cold, *_tries(work), _at_a_pinch(last), loosest=loosest))


def _at_last(work: Work) -> Iterator[Work]:
    """The work with waits as long as they ever may be, its baths warmed again or not."""
    for each in (work, replace(work, warmth=())) if work.warmth else (work,):
        last = at_last(each)
        for tried in (last, _at_a_pinch(last)) if last.done else (_at_a_pinch(last),):
            yield _within_the_hours(tried)


def _or_longer_days(work: Work, made: Timetable) -> Timetable:
    """The same with what would be if somebody stayed, where what has happened waits for days."""
    tries = [*_tries(work), _at_a_pinch(at_last(replace(work, warmth=())))]
    longer = staying_longer(tries, made.finish) if work.done else None
    if longer is None:
        return made
    stay, finish = longer
    today = next((w for w in work.windows if w.closes > work.now), work.windows[-1])
    last = max(w.closes for w in work.windows if w.day == today.day)
    on = clock(work.begins, max(work.now, 0)) if work.begins is not None else None
    until, over = moment_in_words(work, last + stay, on), moment_in_words(work, finish)
    return noted(
        made,
        [
            f"There is no time in these hours for what is begun, so it waits. If somebody can stay "
            f"for {span(stay)} longer, until {until}, all could be over at {over}."
        ],
    )


def _slowly(
    work: Work, effort: float, length_alone: bool, at_once: Callable[[Timetable], None] | None
) -> Timetable | None:
    """The best plan, with estimated coolings at their long ends where that costs no night."""
    if not may_be_slow(work):
        return _solved(work, effort, length_alone, at_once)
    known = first = first_plan(work)
    whole = False
    if known is None or not sure_of_its_nights(work, known):
        # Of very much work the length is most of what is sought.
        whole = length_alone or len(work.activities) > VERY_MUCH
        known = _solved(work, effort, length_alone or not whole, at_once, first)
        if known is None:
            return None
        at_once = None
    slow = at_long_ends(work, known)
    if slow is not None and slow == _within_the_hours(slow):
        try:
            made = _solved(slow, effort, length_alone, at_once)
        except NotKnown:
            made = None
        if made is not None:
            return made
    return known if whole else _solved(work, effort, length_alone, at_once, first)


def _tries(work: Work) -> Iterator[Work]:
    """The work as it is written, then with what may give a little, then with cold baths."""
    pinched = any(a.at_a_pinch for a in work.activities)
    pinched = pinched or any(lag.at_a_pinch for lag in work.lags)
    for each in (work, replace(work, warmth=())) if work.warmth else (work,):
        strict = _within_the_hours(each)
        yield strict
        if pinched:
            yield _at_a_pinch(strict)


def noted(made: Timetable, notes: Sequence[str]) -> Timetable:
    """The plan with notes for the heads of its papers."""
    work = replace(made.work, notes=tuple(dict.fromkeys((*made.work.notes, *notes))))
    return replace(made, work=work)


def _found(work: Work, made: Timetable) -> Fitted:
    known = [each for each in work.activities if not work.over(each.key)]
    took = {each.key: made.at[each.key].end - made.at[each.key].start for each in known}
    shortened = tuple(
        (each.key, each.lasting.most) for each in known if took[each.key] < each.lasting.most
    )
    left = tuple(
        each.key
        for each in known
        if each.at_a_pinch
        and (took[each.key] > _longest(made, each) or (each.by_day and _closed(made, each)))
    )
    as_asked = replace(made, work=work)
    waits = tuple(work.lags[number] for number in longer_than_wished(as_asked))
    return Fitted(made, shortened, left, waits)


def _longest(made: Timetable, activity: Activity) -> int:
    """How long a step may take; a cooling that is planned for its long end, so long."""
    lasting = activity.lasting
    slow = made.work.activity[activity.key].lasting.most >= lasting.slowest
    return max(lasting.longest, lasting.slowest if slow else 0)


def _closed(made: Timetable, activity: Activity) -> bool:
    """Whether a step goes on while the place is closed."""
    place = made.at[activity.key]
    shut = made.work.nights if activity.breaks else made.work.closed
    return any(start < place.end and place.start < end for start, end in shut)


def _at_a_pinch(work: Work) -> Work:
    """The work where fibre may lie in its bath over a night, if that does it no harm."""
    nights = [opens - closes for closes, opens in work.nights]
    night = max((each for each in nights if each <= A_DAY), default=0) + _TO_COME_AND_GO
    if work.done:
        night = A_DAY  # it was begun when it was begun
    changed = tuple(
        _let_go_on(each, night) if each.at_a_pinch else each for each in work.activities
    )
    return replace(_loosened(work, work.lags), activities=changed)


def _loosened(work: Work, which: Sequence[Lag]) -> Work:
    """The work where some waits may be as long as they may be at a pinch."""
    loose = {id(lag) for lag in which if lag.at_a_pinch is not None}
    if not loose:
        return work
    lags = (
        replace(lag, most=max(lag.most or 0, lag.at_a_pinch or 0), wish=lag.wished)
        if id(lag) in loose
        else lag
        for lag in work.lags
    )
    return replace(work, lags=tuple(lags))


def _let_go_on(each: Activity, night: int) -> Activity:
    longest = min(each.at_a_pinch, night + each.hot_for)
    looked_at = each.attendance is Attendance.NOW_AND_THEN
    return replace(
        each,
        night=True,
        attendance=Attendance.ENDS if looked_at else each.attendance,
        lasting=replace(each.lasting, stretch=max(each.lasting.longest, longest)),
    )


def _within_the_hours(work: Work) -> Work:
    """The work where a step that fits into no hours at its longest may be shorter."""
    return replace(
        work,
        activities=tuple(each if _fits(work, each) else _eased(each) for each in work.activities),
    )


def _fits(work: Work, each: Activity) -> bool:
    """Whether there are hours for a step by itself, at the long end of its range."""
    lasting = each.lasting
    if each.in_hours:
        return any(w.closes - w.opens >= lasting.most + each.hot_after for w in work.windows)
    if each.by_day:
        return any(b - a >= lasting.most + each.hot_after for a, b in work.days)
    if not each.hands or each.attendance is not Attendance.ENDS or not each.at_end:
        return True
    for first in work.windows:
        earliest, latest = first.opens + lasting.most, first.closes + lasting.longest
        if any(w.opens + each.at_end <= latest and earliest <= w.closes for w in work.windows):
            return True
    return False


def _eased(activity: Activity) -> Activity:
    lasting = activity.lasting
    if lasting.slowest:
        return activity  # a bath is as hot as it is: nobody cools it by planning it shorter
    free = replace(lasting, most=lasting.least, stretch=lasting.longest)
    return replace(activity, lasting=free)


def eased(work: Work) -> Work:
    """The same work where the length of a step may be anything in its range.

    For what cannot be done with every step at the long end of its range.
    """
    return replace(work, activities=tuple(_eased(each) for each in work.activities))


def _eased_but_warm(work: Work) -> Work:
    """The same, where what is warmed again is warmed for as long as that may take."""
    steps = (each if each.key.endswith(WARMED) else _eased(each) for each in work.activities)
    return replace(work, activities=tuple(steps))


def plan(work: Work, effort: float = EFFORT) -> Timetable | NoPlan:
    """The best plan that can be found, or why there is none.

    Raises :class:`CannotPlan` for work that cannot be planned as it is given, and
    :class:`NotKnown` where the time did not suffice for either. Where OR-Tools is missing
    the plan by the list rule is given, and says so.
    """
    _check(work)
    return _solved(work, effort) or why_not(work)


def _check(work: Work) -> None:
    wrong = faults(work)
    if wrong:
        raise CannotPlan("\n".join(wrong))


def _solved(
    work: Work,
    effort: float,
    length_alone: bool = False,
    at_once: Callable[[Timetable], None] | None = None,
    first: Timetable | None = None,
) -> Timetable | None:
    """The best plan, by the list rule where OR-Tools is missing; None where there is none.

    ``first`` is a plan by the list rule, if it has been made.
    """
    first = first or first_plan(work)
    if first is not None and at_once is not None:
        at_once(first)
    try:
        made = best(work, first, effort, length_alone)
        return on_fives(as_warmed(without_idle_days(made))) if made is not None else None
    except ImportError:
        if first is None:
            raise NotKnown(
                "The simple rule found no plan, and the solver that finds one where there is "
                "one is missing; “pip install ortools” brings it."
            ) from None
        return on_fives(as_warmed(first))
