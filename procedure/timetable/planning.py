"""A plan from work: refused where it makes no sense, solved, or why there is none."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import islice

from procedure.quantity.day import A_DAY
from procedure.timetable.as_soon import as_soon_as_can_be
from procedure.timetable.bounding import known_no_shorter, least_length
from procedure.timetable.calming import LITTLE
from procedure.timetable.dried_meanwhile import dried_for_nothing, with_drying
from procedure.timetable.first_plan import first_plan
from procedure.timetable.fives import on_fives
from procedure.timetable.hours import clock
from procedure.timetable.idle_days import without_idle_days
from procedure.timetable.lacking import with_what_does
from procedure.timetable.left_no_longer import held_to_their_nights
from procedure.timetable.much_sooner import is_much_sooner, may_be_much_sooner, without_harm
from procedure.timetable.planned import Timetable
from procedure.timetable.planned_words import moment_in_words, span
from procedure.timetable.reasons import NoPlan, daily, in_longer_hours, staying_longer, why_not
from procedure.timetable.room_on_line import fits_the_line, line_too_short, with_a_longer_line
from procedure.timetable.searching import VERY_MUCH
from procedure.timetable.slow_coolings import at_long_ends, may_be_slow, sure_of_its_nights
from procedure.timetable.soiled_tubs import (
    is_soiled,
    kept_clean,
    soiled_in_words,
    ways_to_keep_clean,
)
from procedure.timetable.solving import (
    EFFORT,
    Aim,
    NotKnown,
    best,
    fewest_shorter,
    in_any_turn,
    lengthened,
    settled,
)
from procedure.timetable.unplannable import CannotPlan, faults
from procedure.timetable.waiting_less import longer_than_wished
from procedure.timetable.warmed_between import (
    WARMED,
    at_any_time,
    dips_in_one_order,
    no_colder,
    once_it_is_warm,
    vats_told_cold,
    with_warming,
)
from procedure.timetable.warming import (
    as_cold,
    as_unknown,
    as_warmed,
    missing,
    with_its_minutes,
)
from procedure.timetable.what_would_do import ways_out
from procedure.timetable.wishes import as_wished, at_last, cold_at_last, costs_a_night
from procedure.timetable.work import Activity, Attendance, Lag, Point, WarmAgain, Work
from procedure.timetable.worth_a_visit import is_worth_it, without_its_visit

_TO_COME_AND_GO = 15
_EFFORT_FOR_ANY = 1.5
"""The solver's seconds where nothing is known: neither a plan nor that there is none."""
_EFFORT_OF_ONE_BATH = 0.05
_A_FEW = 3
"""So many steps may rather be shorter than a bath be left cold."""
_FEW_ACTIVITIES = 30
"""Of no more it is sought each time in which turn all comes, which is soon known; and so it is of
some more where a plan is soon found, of which little has to be made anew."""
_EFFORT_BESIDE_LAST = 0.03
_EFFORT_OF_MORE = 0.05
_MUCH, _EFFORT_OF_MUCH = 40, 0.05
"""Of more activities a plan in which something gives is sought for so long, where that will do."""
_LOOSER_EFFORT = 1.0
"""The solver's seconds for a plan in which a little gives; where it needs more, more gives."""
_MOST_DRYINGS, _MOST_WARMINGS = 4, 6
"""How often it is planned again, since other fibre waits for days then."""
NO_TIME_TO_DRY = (
    "What waits for days is hung up and wetted out again, for which there is no time in this plan: "
    "stay longer on the day on which it is hung up, and come sooner on that on which it is wanted."
)


@dataclass(frozen=True)
class Fitted:
    """A plan, or why there is none, and in which steps less than the long end was planned.

    ``shortened`` are the keys of steps that are planned shorter than their range allows,
    since not all can be as long, with how long they may take; ``left`` of those that are let
    go on over a night longer than is written, since there is no plan without, and ``waits``
    are those that are longer for the same reason, or longer than is wished. Where there is a plan
    without, which is over much later, ``sooner_by`` are the minutes that are saved so.
    """

    made: Timetable | NoPlan
    shortened: tuple[tuple[str, int], ...] = ()
    left: tuple[str, ...] = ()
    waits: tuple[Lag, ...] = ()
    sooner_by: int = 0


def fitted(
    work: Work,
    effort: float = EFFORT,
    aim: Aim = Aim.ALL,
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
    may lie in its bath over one night where that does no harm (and where all is over on a day
    sooner so, also beside a plan without); then a few steps may be shorter;
    then a bath that has stood may be left cold, which is said; and only then any steps may be
    shorter, as few of them and by as little as will do. No more of the plan than the ``aim``
    says is made as good as can be. ``at_once`` is told a first plan, before
    a better one is looked for. Without ``reasons`` an :class:`NoPlan` names no demands and no
    ends, and no time goes into looking for the fewest or for what would do.
    Raises as :func:`plan` does.
    """
    _check(work)
    work = _loosened(work, [lag for lag in work.lags if lag.before in work.happened])
    told: list[Timetable] = []

    def tell(first: Timetable) -> None:
        if not told and at_once is not None and is_whole(first):
            told.append(first)
            at_once(first)

    # In which turn all comes is sought once, when it is known what belongs in the plan.
    drawn = _while_it_is_drawn(work) if aim is Aim.ALL else aim
    found = _fitted(work, effort, drawn, tell if at_once is not None else None, reasons)
    if isinstance(found.made, NoPlan):
        return Fitted(_with_whole_ends(work, found.made, effort) if reasons else found.made)
    found = _made_whole(work, found, effort, drawn)
    found = _rather_over_a_night(work, found, effort, drawn)
    if drawn is not aim:
        found = _no_longer_for_its_turns(
            work, _in_any_turn(work, found, effort, drawn is Aim.TURNS), effort
        )
    return _no_later_than(told[0], work, found, effort) if told else found


def _while_it_is_drawn(work: Work) -> Aim:
    """What is sought of a plan as long as it is not known what else belongs in it."""
    count = len(work.activities)
    if count <= _FEW_ACTIVITIES or (count <= LITTLE and first_plan(next(tries(work))) is not None):
        return Aim.ALL
    return Aim.TURNS if count <= VERY_MUCH else Aim.DAYS


def _made_whole(work: Work, found: Fitted, effort: float, aim: Aim) -> Fitted:
    """The same with all that belongs in a plan beside its steps, and nothing in it for nothing."""
    found = _left_no_longer(work, found, effort, aim)
    found = _worth_their_visits(work, found, effort, aim)
    found = _kept_clean(work, found, effort, aim)
    found = _warmed_between(work, found, effort, aim)
    dried = _dried(work, found, effort, aim)
    if dried is not found:
        found = _warmed_between(work, dried, effort, aim)
    found = _warmed_where_it_can_be(work, found, effort, aim)
    return _dried_for_something(work, found, effort, aim) if aim is not Aim.LENGTH else found


_LITTLE_LONGER = 10


def _no_longer_for_its_turns(work: Work, found: Fitted, effort: float) -> Fitted:
    """The same, unless what belongs in it makes it longer, and less so of a plan in any turn."""
    made = found.made
    if isinstance(made, NoPlan) or made.undried is None:
        return found
    if made.finish <= made.undried.finish + _LITTLE_LONGER:
        return found
    other = _made_whole(work, _fitted(work, effort, Aim.ALL, None, False), effort, Aim.ALL)
    other = _rather_over_a_night(work, other, effort, Aim.ALL)
    if isinstance(other.made, NoPlan) or not is_whole(other.made):
        return found
    return other if _sooner(other.made, made) else found


def _in_any_turn(work: Work, found: Fitted, effort: float, turns_known: bool) -> Fitted:
    """The same with as little running about as in any turn, where all belongs in it even so."""
    made = found.made
    if isinstance(made, NoPlan) or made.to_the_limit or not made.searched:
        return found
    known = replace(made, work=as_unknown(made.work))
    calm = in_any_turn(replace(known, work=no_colder(known)), effort, turns_known)
    calm = _as_printed(replace(calm, work=known.work))
    if made.undried is not None and not dips_in_one_order(made.undried):
        calm = replace(calm, least_running=False)
    if is_whole(made) and is_whole(calm):
        return replace(_found(work, calm), sooner_by=found.sooner_by)
    whole = _made_whole(work, _found(work, calm), effort, Aim.ALL)
    return replace(whole, sooner_by=found.sooner_by)


def _rather_over_a_night(work: Work, found: Fitted, effort: float, aim: Aim) -> Fitted:
    """The same, or where all is over on a day sooner so, a plan in which fibre lies over a night.

    In shorter hours it lies so, since there is no other plan: longer hours are to be no worse.
    """
    made = found.made
    if isinstance(made, NoPlan) or found.shortened or missing(made, work.warmth):
        return found
    loose = _at_a_pinch(without_harm(_within_the_hours(work)))
    if not may_be_much_sooner(made, loose):
        return found
    other = _solved_at_all([loose], min(effort, _LOOSER_EFFORT), aim)
    if other is None or not is_much_sooner(other, made):
        return found
    whole = _made_whole(work, _found(work, other), effort, aim)
    if isinstance(whole.made, NoPlan) or not is_much_sooner(whole.made, made):
        return found
    return replace(whole, sooner_by=made.finish - whole.made.finish)


def _with_whole_ends(work: Work, unfit: NoPlan, effort: float) -> NoPlan:
    """Why there is no plan, with ends that whole plans have: drying and warming are in them."""
    free = replace(work, finish_by=None)
    if unfit.finish is not None:
        windows = daily(work) if unfit.every_day else work.windows
        made = _whole(replace(free, windows=windows), effort)
        over, days = (made.finish, made.days) if made is not None else (None, 0)
        unfit = replace(unfit, finish=over, days=days)
    if unfit.stay:
        made = _whole(replace(work, windows=in_longer_hours(work, unfit.stay)), effort)
        stay, over = (unfit.stay, made.finish) if made is not None else (0, 0)
        unfit = replace(unfit, stay=stay, stayed=over)
    unfit = with_what_does(unfit, [*tries(work), _at_a_pinch(at_last(replace(work, warmth=())))])
    return replace(unfit, ways_out=ways_out(work, unfit, shortest_with))


def _whole(work: Work, effort: float, aim: Aim = Aim.ALL) -> Timetable | None:
    """A whole plan of the work, if one is found."""
    try:
        made = fitted(work, effort, aim, reasons=False).made
    except NotKnown:
        return None
    return made if isinstance(made, Timetable) else None


def shortest_with(work: Work) -> Timetable | None:
    """A whole plan, of which its length is sought for a moment: for what one more would save."""
    return _whole(work, _EFFORT_OF_MORE, Aim.LENGTH)


def is_whole(made: Timetable) -> bool:
    """Whether all is in a plan that belongs in it: drying and warming again, and clean tubs."""
    made = as_warmed(made)
    return with_drying(made) is None and with_warming(made) is None and not is_soiled(made)


def _no_later_than(first: Timetable, work: Work, found: Fitted, effort: float) -> Fitted:
    """The plan, unless a whole one that was told at once is over sooner: that one then."""
    made = found.made
    if isinstance(made, NoPlan) or made.finish <= first.finish:
        return found
    bound = (made.undried or made).bound
    for better in (_settled(first, effort), on_fives(as_warmed(first))):
        if is_whole(better) and better.finish < made.finish:
            bound = bound if bound <= better.finish else first.bound
            best = replace(better, bound=bound, searched=made.searched)
            return _found(work, kept_clean(best))
    return found


def _left_no_longer(work: Work, found: Fitted, effort: float, aim: Aim) -> Fitted:
    """The same where nothing goes on over a night for longer than it has to, if that is known."""
    made = found.made
    if isinstance(made, NoPlan) or len(made.work.lags) != len(work.lags):
        return found
    for tried in held_to_their_nights(work, made, found.left):
        again = _solved_at_all([tried], min(effort, _LOOSER_EFFORT), aim, until=made.finish)
        if again is None or (again.finish, again.days) > (made.finish, made.days):
            continue
        other = _found(work, replace(again, bound=made.bound))
        if _so_much_is_left(work, other) < _so_much_is_left(work, found):
            return other
    return found


def _so_much_is_left(work: Work, found: Fitted) -> int:
    """In how many steps and waits something lies for longer than it should, plants that harm."""
    before = [work.activity[lag.before] for lag in found.waits]
    return len(found.left) + sum(each.plants_in and not each.fibre_in for each in before)


def _worth_their_visits(work: Work, found: Fitted, effort: float, aim: Aim) -> Fitted:
    """The same where nobody comes on a day more to begin a soak that saves some minutes."""
    tried = without_its_visit(found.made) if isinstance(found.made, Timetable) else None
    if tried is None or isinstance(found.made, NoPlan):
        return found
    try:
        made = _solved(as_unknown(tried), effort, aim)
    except NotKnown:
        return found
    if made is None or is_worth_it(found.made, made):
        return found
    return _found(work, made)


def _kept_clean(work: Work, found: Fitted, effort: float, aim: Aim) -> Fitted:
    """The same where nothing comes into a tub with what harms it; where there is none, told."""
    if isinstance(found.made, NoPlan) or not work.waters:
        return found
    first, best = found.made, None
    if not is_soiled(first):
        return replace(found, made=kept_clean(first))
    for tried in ways_to_keep_clean(first):
        try:
            made = _solved(tried, effort, aim)
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


def _warmed_between(work: Work, found: Fitted, effort: float, aim: Aim) -> Fitted:
    """The same with time to warm vats again that cool between dips; where there is none, told."""
    if isinstance(found.made, NoPlan) or not work.vats:
        return found
    made = found.made
    first, best_of_all = made, True
    for _ in range(_MOST_WARMINGS):
        more = with_warming(made)
        if more is None:
            if best_of_all:
                return found if made is first else _found(work, _as_proven_by(first, made))
            made, best_of_all = _settled(made, effort, aim), True
            continue
        # In which order all comes is sought once, when the length and the warmings are known.
        ways = [more, at_any_time(more), once_it_is_warm(more)]
        cool = not any(each.key.endswith(WARMED) for each in made.placed)
        if aim is Aim.LENGTH and made is first and cool:
            # The same work, and warmings in it. A search that knows so much ends sooner, but in a
            # plan with more running about.
            known_no_shorter(more, made.bound)
        ways += [_eased_but_warm(each) for each in ways] if found.shortened else []
        again = _solved_at_all(ways, effort, aim=Aim.LENGTH)
        if again is None:
            break
        made, best_of_all = again, aim is Aim.LENGTH
    if not best_of_all:
        made = _settled(made, effort, aim)
    return _found(work, vats_told_cold(_as_proven_by(first, made)))


def _solved_at_all(
    works: Sequence[Work], effort: float, aim: Aim, until: int | None = None
) -> Timetable | None:
    """The best plan of the first of several works of which one is found, over by ``until``."""
    for work in works:
        try:
            made = _solved(as_unknown(work), effort, aim, until=until)
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


def _dried(work: Work, found: Fitted, effort: float, aim: Aim) -> Fitted:
    """The same with time to dry what waits for days; where there is none, that is noted."""
    if isinstance(found.made, NoPlan):
        return found
    first = found.made
    made = _all_dried(first, effort, aim)
    if made is None:
        made = _all_dried(first, effort, aim, briefly=True)
    if made is not None and made.finish >= first.finish + A_DAY // 2:
        # What is hung up may as well hang for longer, where all is over sooner by that.
        longer = replace(first, work=_loosened(first.work, first.work.lags))
        if longer.work != first.work:
            made = _all_dried(longer, effort, aim, until=made.finish - A_DAY // 2) or made
    if made is None:
        return replace(found, made=noted(first, [_why_not_dried(first, effort)]))
    return found if made is first else _found(work, replace(made, undried=first))


def _dried_for_something(work: Work, found: Fitted, effort: float, aim: Aim) -> Fitted:
    """The same without a drying for which there is no need any more, as the plan is now."""
    made = found.made
    if isinstance(made, NoPlan):
        return found
    for tried in islice(dried_for_nothing(made, work), _MOST_DRYINGS):
        again = _solved_at_all([tried], effort, aim, until=made.finish)
        if again is not None and with_warming(as_warmed(again)) is not None:
            warm = _warmed_between(work, Fitted(again), effort, aim).made
            again = warm if isinstance(warm, Timetable) else None
        if again is None or again.finish > made.finish or again.days > made.days:
            continue
        colder = len(missing(again, work.warmth)) > len(missing(made, work.warmth))
        if is_whole(again) and not colder:
            return _found(work, replace(again, undried=made.undried))
    return found


def _all_dried(
    made: Timetable, effort: float, aim: Aim, briefly: bool = False, until: int | None = None
) -> Timetable | None:
    """The same with all dried that waits for days; None where no such plan, over then, is found."""
    for _ in range(_MOST_DRYINGS):
        more = with_drying(made, briefly)
        if more is None:
            return made if until is None or made.finish <= until else None
        again = _solved_at_all([more], effort, aim, until) if fits_the_line(more) else None
        if again is None:
            return None
        made = again
    return None


def _why_not_dried(made: Timetable, effort: float) -> str:
    """Why there is no plan in which all is dried: the drying line, or the time."""
    longer = with_a_longer_line(made.work)
    served = (
        _all_dried(replace(made, work=longer), effort, Aim.LENGTH) if longer is not None else None
    )
    return (line_too_short(made, served) if served is not None else "") or NO_TIME_TO_DRY


def _fitted(
    work: Work,
    effort: float,
    aim: Aim,
    at_once: Callable[[Timetable], None] | None,
    reasons: bool,
) -> Fitted:
    """The same without the time for drying what waits for days."""
    strict, *looser = tries(work)
    try:
        made = _with_its_wishes(work, strict, effort, aim, at_once)
    except NotKnown:
        made = None
    if made is not None:
        return _found(work, made)
    # What cannot be done even with everything that may give is refused at once.
    cold = replace(work, warmth=())
    loosest = _loosest(cold, effort)
    if loosest is None:
        return _at_last_or_never(work, effort, aim, reasons)
    for tried in looser if as_wished(work) is work else (strict, *looser):
        if work.warmth and not tried.warmth:
            break
        made = _loosely(tried, strict, effort, aim, at_once)
        if made is not None:
            return _found(work, made)
    return _found(work, _shorter_or_colder(work, loosest, effort, aim))


def _shorter_or_colder(work: Work, loosest: Timetable, effort: float, aim: Aim) -> Timetable:
    """A plan with shorter steps, else one in which baths that have cooled stay so, else with both.

    As few steps are shorter, and as few baths cold, as can be: where more than a few would have to
    be shorter, a cold bath is the lesser evil. ``loosest`` is a plan with both.
    """
    cold = replace(work, warmth=())
    warm = None
    if work.warmth:
        warm = _shorter(eased(_at_a_pinch(work)), effort)
        if warm is not None and warm.finish > loosest.finish + A_DAY:
            warm = None
        if warm is not None and (aim is Aim.LENGTH or _few_are_shorter(work, warm, effort)):
            return _lengthened(work, warm, effort, aim)
        strict, *rest = tries(cold)
        for tried in (strict, *rest):
            made = _loosely(tried, strict, effort, aim, None)
            if made is not None:
                return _as_warm_as_can_be(work, made, effort, aim)
        if warm is not None:
            return _lengthened(work, warm, effort, aim)
    loosest = _lengthened(cold, _shorter(loosest.work, effort) or loosest, effort, aim)

    def make(tried: Work, effort: float) -> Timetable | None:
        return _as_long_as_can_be(work, tried, effort, aim)

    return _as_warm_as_can_be(work, loosest, effort, aim, make)


def _few_are_shorter(work: Work, made: Timetable, effort: float) -> bool:
    return fewest_shorter(with_its_minutes(work, made), made, effort) <= _A_FEW


def _loosest(cold: Work, effort: float) -> Timetable | None:
    """The shortest plan with everything that may give; None where there is none, or none is known.

    Where waits as long as they ever may be bring a plan at once, none without them is sought for
    long: to prove that there is none may take many seconds.
    """
    loose, last = giving_all(cold), at_last(cold)
    first = first_plan(loose)
    if first is None and last is not cold and first_plan(eased(_at_a_pinch(last))) is not None:
        effort = min(effort, _EFFORT_BESIDE_LAST)
    try:
        return _sparingly(loose, effort, Aim.LENGTH, first=first)
    except NotKnown:
        return None


def _sparingly(
    work: Work,
    effort: float,
    aim: Aim,
    at_once: Callable[[Timetable], None] | None = None,
    first: Timetable | None = None,
) -> Timetable | None:
    """The best plan; of much work in which something gives, for as long as it takes to find one."""
    if len(work.activities) > _MUCH:
        try:
            return _solved(work, min(effort, _EFFORT_OF_MUCH), aim, at_once, first)
        except NotKnown:
            pass
    return _solved(work, effort, aim, at_once, first)


def _loosely(
    tried: Work,
    strict: Work,
    effort: float,
    aim: Aim,
    at_once: Callable[[Timetable], None] | None,
) -> Timetable | None:
    """The best plan of work in which something gives; None where none is found."""
    make = _slowly if tried is strict else _sparingly
    try:
        return make(tried, min(effort, _LOOSER_EFFORT), aim, at_once)
    except NotKnown:
        return None  # with what gives more, it is found sooner


def _as_long_as_can_be(work: Work, loose: Work, effort: float, aim: Aim) -> Timetable | None:
    """A plan of work whose steps may be shorter, with as few of them so as can be."""
    made = _shorter(loose, effort)
    return None if made is None else _lengthened(work, made, effort, aim)


def _shorter(loose: Work, effort: float) -> Timetable | None:
    """The shortest plan of work whose steps may be shorter; None where none is found."""
    try:
        return _sparingly(loose, effort, Aim.LENGTH)
    except NotKnown:
        return None


def _lengthened(work: Work, made: Timetable, effort: float, aim: Aim) -> Timetable:
    """The same with as few steps shorter as can be; as it is where its length alone is wanted."""
    return made if aim is Aim.LENGTH else lengthened(with_its_minutes(work, made), made, effort)


def _as_warm_as_can_be(
    work: Work,
    made: Timetable,
    effort: float,
    aim: Aim,
    make: Callable[[Work, float], Timetable | None] | None = None,
) -> Timetable:
    """A plan with time to warm the baths that stand in it: all of them, else those that can be.

    The plan may be a day longer for it, and give as much as it gives without; a bath for which
    there is no time even so stays cold.
    """

    def again(warmth: Sequence[WarmAgain], effort: float) -> Timetable | None:
        tried = replace(as_unknown(made.work), warmth=tuple(warmth))
        if make is not None:
            return make(tried, effort)
        return _solved_at_all([tried], effort, aim, until=made.finish + A_DAY)

    stand = missing(made, work.warmth)
    if not stand:
        return made
    all_of_them = again(work.warmth, effort)
    if all_of_them is not None and all_of_them.finish <= made.finish + A_DAY:
        return all_of_them
    for key in sorted(stand, key=lambda key: made.at[key].start) if len(stand) > 1 else ():
        more = [each for each in work.warmth if each.after == key]
        with_it = again((*as_unknown(made.work).warmth, *more), min(effort, _EFFORT_OF_ONE_BATH))
        if with_it is not None and with_it.finish <= made.finish + A_DAY:
            made = with_it
    return made


def _warmed_where_it_can_be(work: Work, found: Fitted, effort: float, aim: Aim) -> Fitted:
    """The same with the baths warmed for which there is time, and words at those that are cold."""
    if isinstance(found.made, NoPlan) or not missing(found.made, work.warmth):
        return found
    made = _as_warm_as_can_be(work, found.made, effort, aim)
    if made is not found.made and with_drying(made) is not None:
        made = found.made
    return _found(work, as_cold(made, work.warmth))


def _with_its_wishes(
    work: Work,
    strict: Work,
    effort: float,
    aim: Aim,
    at_once: Callable[[Timetable], None] | None,
) -> Timetable | None:
    """The best plan with every wait as it is wished, unless that costs a night; None without."""
    wished = as_wished(work)
    if wished is work:
        return _slowly(strict, effort, aim, at_once)
    made = _slowly(_within_the_hours(wished), effort, aim, at_once)
    if made is None or not costs_a_night(strict, made):
        return made
    try:
        sooner = _slowly(strict, effort, aim, at_once)
    except NotKnown:
        return made
    return sooner if sooner is not None and sooner.finish < made.finish else made


def _at_last_or_never(work: Work, effort: float, aim: Aim, reasons: bool) -> Fitted:
    """A plan in which waits are as long as they ever may be; else why there is none."""
    cold = replace(work, warmth=())
    last = at_last(cold)
    loosest = eased(_at_a_pinch(last))
    made = _with_more_effort(loosest, effort, aim)
    if made is not None:
        for tried in (last, _at_a_pinch(last)) if last.done else (_at_a_pinch(last),):
            better = _solved_at_all([_within_the_hours(tried)], effort, aim)
            if better is not None:
                made = better
                break
        quite_cold = replace(work, warmth=cold_at_last(work))
        made = _as_warm_as_can_be(quite_cold, made, effort, aim)
        return _found(work, _or_longer_days(work, made) if reasons else made)
    if not reasons:
        return Fitted(NoPlan(cold, (), smallest=False))
    return Fitted(why_not(cold, *tries(work), _at_a_pinch(last), loosest=loosest))


def _with_more_effort(work: Work, effort: float, aim: Aim) -> Timetable | None:
    """The best plan; where none is known yet it is sought for longer, not to end with nothing."""
    try:
        return _solved(work, effort, aim)
    except NotKnown:
        return _solved(work, max(effort, _EFFORT_FOR_ANY), aim)


def _or_longer_days(work: Work, made: Timetable) -> Timetable:
    """The same with what would be if somebody stayed, where what has happened waits for days."""
    tried = [*tries(work), _at_a_pinch(at_last(replace(work, warmth=())))]
    longer = staying_longer(tried, made.finish) if work.done else None
    if longer is None:
        return made
    stay, _ = longer
    whole = shortest_with(replace(work, windows=in_longer_hours(work, stay)))
    if whole is None or whole.finish >= made.finish:
        return made
    finish = whole.finish
    last = next((closes for _, closes in work.days if closes > work.now), work.days[-1][1])
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
    work: Work, effort: float, aim: Aim, at_once: Callable[[Timetable], None] | None
) -> Timetable | None:
    """The best plan, with estimated coolings at their long ends where that costs no night."""
    if not may_be_slow(work):
        return _solved(work, effort, aim, at_once)
    known = first = first_plan(work)
    whole = solved = False
    if known is None or not sure_of_its_nights(work, known):
        # Of very much work the length is most of what is sought.
        whole, solved = aim is Aim.LENGTH or len(work.activities) > VERY_MUCH, True
        known = _solved(work, effort, aim if whole else Aim.LENGTH, at_once, first)
        if known is None:
            return None
        at_once = None
    slow = at_long_ends(work, known)
    if slow is not None and slow == _within_the_hours(slow):
        try:
            made = _solved(slow, effort, aim, at_once)
        except NotKnown:
            made = None
        if made is not None:
            return made
    if solved:
        return known if whole else _settled(known, effort, aim)
    return _solved(work, effort, aim, at_once, first)


def tries(work: Work) -> Iterator[Work]:
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


def is_as_written(work: Work, made: Timetable) -> bool:
    """Whether no step of a plan is shorter or goes on for longer, nor any wait, than is written."""
    found = _found(work, made)
    return not (found.shortened or found.left or found.waits)


def giving_all(work: Work) -> Work:
    """The work in which everything gives that may, but for waits that are only so at last."""
    return eased(_at_a_pinch(replace(work, warmth=())))


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


def cooling_over_night(work: Work) -> Work | None:
    """The work where fibre may cool in its bath over a night, if that does it no harm.

    None where there is no such cooling, or none that might not go on over a night anyway.
    """
    nights = [opens - closes for closes, opens in work.nights]
    night = max((each for each in nights if each <= A_DAY), default=0) + _TO_COME_AND_GO
    changed = tuple(
        _let_go_on(each, night) if _cools_by_day(each) else each for each in work.activities
    )
    return replace(work, activities=changed) if changed != work.activities else None


def _cools_by_day(each: Activity) -> bool:
    """Whether fibre cools in its bath, for as long as that is estimated to take, by day alone."""
    cools = each.fibre_in and not each.plants_in and bool(each.lasting.slowest)
    return cools and bool(each.at_a_pinch) and each.by_day


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
    """The work where a step that fits into no hours at its longest may be shorter.

    It is the same work where there is none, with what has been worked out of it.
    """
    if all(_fits(work, each) for each in work.activities):
        return work
    return replace(
        work,
        activities=tuple(each if _fits(work, each) else _eased(each) for each in work.activities),
    )


def _fits(work: Work, each: Activity) -> bool:
    """Whether there are hours for a step by itself, at the long end of its range."""
    lasting = each.lasting
    if each.in_hours:
        return any(w.closes - w.opens >= lasting.most + each.hot_after for w in work.spells)
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

    For what cannot be done with every step at the long end of its range. What goes on by itself
    when all work is over, as fibre that dries, takes its time: nothing is gained by less.
    """
    free = {each.key for each in work.activities if _goes_on_at_last(work, each)}
    return replace(
        work,
        activities=tuple(e if e.key in free else _eased(e) for e in work.activities),
    )


def _goes_on_at_last(work: Work, each: Activity) -> bool:
    """Whether nothing waits for the end of a step that goes on by itself, by day or night."""
    if work.finish_by is not None or not each.night or each.at_end or each.needs:
        return False
    waited_for = any(
        lag.before == each.key and lag.leaves is Point.END and lag.after != each.key
        for lag in work.lags
    )
    return not waited_for and not any(each.key in (h.first, h.last) for h in work.holds)


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
    aim: Aim = Aim.ALL,
    at_once: Callable[[Timetable], None] | None = None,
    first: Timetable | None = None,
    until: int | None = None,
) -> Timetable | None:
    """The best plan, by the list rule where OR-Tools is missing; None where there is none.

    ``first`` is a plan by the list rule, if it has been made. Only plans that are over by a minute
    are sought where ``until`` is given.
    """
    if until is not None and least_length(work) > until:
        return None
    first = first or first_plan(work)
    if first is not None and at_once is not None:
        at_once(first)
    try:
        made = best(work, first, effort, aim, until)
        return None if made is None else _as_printed(without_idle_days(made), aim)
    except ImportError:
        if first is None:
            raise NotKnown(
                "The simple rule found no plan, and the solver that finds one where there is "
                "one is missing; “pip install ortools” brings it."
            ) from None
        return on_fives(as_warmed(first))


def _as_printed(made: Timetable, aim: Aim = Aim.ALL) -> Timetable:
    """The plan with each step as soon as can be, with its warmings, and on full five minutes.

    What is sought in its turns alone is made to come as soon as can be when that is known.
    """
    is_drawn = aim in (Aim.LENGTH, Aim.TURNS)
    return on_fives(as_warmed(made if is_drawn else as_soon_as_can_be(made)))


def _settled(made: Timetable, effort: float, aim: Aim = Aim.ALL) -> Timetable:
    """The best plan as long as one of which nothing but its length was sought.

    Where OR-Tools is missing that is the plan itself.
    """
    known = replace(made, work=as_unknown(made.work))
    try:
        return _as_printed(settled(known, effort, aim))
    except ImportError:
        return made
