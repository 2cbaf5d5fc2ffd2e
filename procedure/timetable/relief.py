"""What holds the plan up: how much shorter it would be with one more of something.

Each answer is another solving of the same work, with one more kettle, ring or pair of hands.
Saved time is only said to be saved where the longer plan is proven to be the shortest there
is without it, or is so much longer than the new one that it makes no difference.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from procedure.quantity.day import A_DAY
from procedure.timetable.bounding import known_no_shorter, least_length
from procedure.timetable.first_plan import first_plan
from procedure.timetable.planned import Timetable
from procedure.timetable.searching import VERY_MUCH
from procedure.timetable.solving import soon_shortened
from procedure.timetable.waiting_less import longer_than_wished
from procedure.timetable.warming import as_unknown
from procedure.timetable.work import Lag, Resource, Work

_EFFORTS = ((45, 1.0), (70, 0.03))
_EFFORT_OF_MORE = 0.01
"""The solver's seconds for each question, by the most activities, and for more than those."""
_TOO_FAR = 0.1
_MUCH = 45


@dataclass(frozen=True, slots=True)
class Relief:
    """What one more of a resource would save, in minutes.

    ``finish`` is when the plan would then be over. ``least`` is proven to be saved and
    ``most`` is the most that it may save; where they are equal, that is what it saves.
    ``cut_short`` says that the clock ended the search for it.
    ``more`` is how much more was given: one, or for plates as much power as one has.
    """

    resource: Resource
    more: int
    least: int
    most: int
    finish: int
    cut_short: bool = False

    @property
    def proven(self) -> bool:
        """Whether the saving is known to the minute."""
        return self.least == self.most

    @property
    def unknown(self) -> bool:
        """Whether it was not found out if it would save anything at all."""
        return self.least == 0 < self.most


def reliefs(
    made: Timetable,
    effort: float | None = None,
    whole: Callable[[Work], Timetable | None] | None = None,
) -> tuple[Relief, ...]:
    """What each resource that is ever used up would save by one more, the best first.

    What belongs in a plan beside its steps (drying what waits for days, warming what has cooled)
    is no part of the quick search for it. Where that makes a difference it is planned by ``whole``,
    which gives a plan with all of it (:func:`procedure.timetable.planning.shortest_with`).
    Raises ``ImportError`` where the solver is missing.
    """
    base = made.undried or made
    base = replace(base, work=as_unknown(base.work))
    if effort is None:
        count = len(base.work.activities)
        effort = next((each for most, each in _EFFORTS if count <= most), _EFFORT_OF_MORE)
    asked = [each for each in base.work.resources if each.one_more and used_up(base, each)]
    found = [_saves(made, base, each, effort, whole) for each in asked]
    return tuple(sorted(found, key=lambda each: (-each.least, -each.most, each.resource.key)))


def _saves(
    made: Timetable,
    base: Timetable,
    resource: Resource,
    effort: float,
    whole: Callable[[Work], Timetable | None] | None,
) -> Relief:
    """What one more saves: of a plan by a quick search, and of a whole one where that differs."""
    work, more = with_one_more(base.work, resource)
    if whole is None:
        return _relief(base, resource, work, more, effort)
    if made.undried is not None and _is_shorter_at_once(base, work):
        # A quick search would say no more than that a whole plan has to be made.
        other = whole(work)
        if other is not None and _saves_by_itself(made, other):
            saved = max(0, made.finish - other.finish)
            return Relief(resource, more, saved, saved, other.finish)
        if other is not None:
            return Relief(resource, more, 0, max(1, made.finish - other.bound), made.finish)
        return _relief(base, resource, work, more, effort)
    quick = _relief(base, resource, work, more, effort)
    if quick.most == 0 or (quick.unknown and made.within <= _TOO_FAR):
        return quick
    # Whole plans of much work are sought in vain for long where the list rule finds none of it.
    hard = len(work.activities) > _MUCH and first_plan(work) is None
    other = whole(work) if not hard else None
    if hard and made.undried is not None:
        return replace(quick, least=0, most=max(quick.most, 1))
    if other is None or (made.undried is None and other.finish == quick.finish):
        return quick
    if not _saves_by_itself(made, other):
        # The quick search knows nothing of drying, which is in the plan that is told.
        return quick if made.undried is None else replace(quick, least=0, most=max(quick.most, 1))
    saved = max(0, made.finish - other.finish)
    return replace(quick, least=saved, most=saved, finish=other.finish)


def _is_shorter_at_once(base: Timetable, work: Work) -> bool:
    """Whether work with one more of something is over sooner by the list rule than any without."""
    if least_length(work) >= base.bound:
        return False
    first = first_plan(work)
    return first is not None and first.finish < base.bound


def _saves_by_itself(made: Timetable, other: Timetable) -> bool:
    """Whether a plan with one more is no shorter than another for any other reason."""
    return other.finish >= made.finish or not _gives_more(other, made)


def _gives_more(other: Timetable, made: Timetable) -> bool:
    """Whether steps are shorter in a plan, or waits longer than is wished, than in another.

    What one more of something is said to save must not be saved by that. Warming and drying
    again take as long as they have to in either.
    """
    known = made.work.activity
    for each in other.placed:
        if each.key not in made.at or each.key in made.work.between:
            continue
        place = made.at[each.key]
        took = min(place.end - place.start, known[each.key].lasting.most)
        if each.end - each.start < took:
            return True
    waits = {_ends(made.work.lags[i]): took for i, took in longer_than_wished(made).items()}
    return any(
        took > waits.get(_ends(other.work.lags[i]), 0)
        for i, took in longer_than_wished(other).items()
    )


def _ends(lag: Lag) -> tuple[str, str]:
    return lag.before, lag.after


def with_one_more(work: Work, resource: Resource) -> tuple[Work, int]:
    """The same work with one more of a resource, and how much more that is."""
    more = _one_more(work, resource)
    return _with_more(work, resource, more), more


def _relief(made: Timetable, resource: Resource, changed: Work, more: int, effort: float) -> Relief:
    """What so much more of a resource saves, which is there in the changed work."""
    known = replace(made, work=changed)
    if least_length(changed) < made.finish:
        first = first_plan(changed)
        if first is not None and first.finish < made.finish:
            known = first
    better = soon_shortened(changed, effort, known)
    known_no_shorter(changed, better.bound)
    finish = min(better.value, made.finish) if better.placed else made.finish
    least = max(0, made.bound - finish)
    most = max(least, made.finish - max(better.bound, 0))
    return Relief(resource, more, least, most, finish, better.cut_short)


def worth_asking(made: Timetable) -> bool:
    """Whether savings can be told from chance: not of very much, nor far from the shortest."""
    return made.within <= _TOO_FAR and len(made.work.activities) <= VERY_MUCH


def saves_days(made: Timetable, whole: Callable[[Work], Timetable | None]) -> tuple[Relief, ...]:
    """What saves half a day or more by one more, which is no chance however far from the shortest.

    Raises ``ImportError`` where the solver is missing.
    """
    if len(made.work.activities) > VERY_MUCH:
        return ()
    return tuple(each for each in reliefs(made, None, whole) if each.least >= A_DAY // 2)


def used_up(made: Timetable, resource: Resource) -> bool:
    """Whether more of it is wanted than there is, at some time or other: one more may help.

    What another would bring along counts too.
    """
    keys = (resource.key, *(need.resource for need in resource.comes_with))
    return any(_wanted_beyond(made.work, made.work.resource[key]) for key in keys)


def _wanted_beyond(work: Work, resource: Resource) -> bool:
    wants = [
        need.amount
        for each in work.activities
        if each.key not in work.happened
        for need in (*each.needs, *each.hands)
        if need.resource == resource.key
    ]
    wants += [hold.need.amount for hold in work.holds if hold.need.resource == resource.key]
    return len(wants) > 1 and sum(wants) > resource.capacity


def _one_more(work: Work, resource: Resource) -> int:
    """One more of it: of power, as much as the most that one pot takes."""
    if resource.kind not in ("power", "line"):
        return 1
    wants = [
        need.amount
        for each in work.activities
        for need in each.needs
        if need.resource == resource.key
    ]
    wants += [hold.need.amount for hold in work.holds if hold.need.resource == resource.key]
    return max(wants, default=1)


def _with_more(work: Work, resource: Resource, more: int) -> Work:
    extra = {resource.key: more, **{need.resource: need.amount for need in resource.comes_with}}
    changed = tuple(
        replace(each, capacity=each.capacity + extra[each.key], units=())
        if each.key in extra
        else each
        for each in work.resources
    )
    # What came later only because there was one pot for both may come when it likes.
    lags = tuple(lag for lag in work.lags if lag.one_of not in extra)
    return replace(work, resources=changed, lags=lags)
