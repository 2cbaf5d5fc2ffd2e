"""Baths that have cooled while they stood: they are warmed again, and that takes time.

Whether a bath stands too long is known only when there is a plan, so it is part of what is
planned: the list rule makes the next step in such a bath longer as it places it, and the
programme for the solver has each such step in two lengths.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from procedure.timetable.planned import Timetable
from procedure.timetable.work import Activity, WarmAgain, Work


def to_warm(work: Work) -> dict[str, WarmAgain]:
    """The bath that may have to be warmed before an activity, by the activity's key.

    Where there are several, the one that takes longest. What has happened is as it was, and
    what is longer by its minutes already (:attr:`Warmth.again`) is so.
    """
    found: dict[str, WarmAgain] = {}
    for each in work.warmth:
        if each.after in work.happened or each.again:
            continue
        known = found.get(each.after)
        if known is None or known.minutes < each.minutes:
            found[each.after] = each
    return found


def warmed(activity: Activity, minutes: int) -> Activity:
    """The activity with so many minutes more, for warming its bath first."""
    lasting = activity.lasting
    longer = replace(
        lasting,
        least=lasting.least + minutes,
        most=lasting.most + minutes,
        stretch=lasting.longest + minutes,
    )
    cautions = (*activity.cautions, _first_warmed(minutes))
    return replace(activity, lasting=longer, cautions=cautions)


def _first_warmed(minutes: int) -> str:
    return f"The bath has cooled down: the first {minutes} min are for warming it again."


def with_its_minutes(work: Work, made: Timetable) -> Work:
    """The work with those minutes of warming that a plan of it has in the lengths of its steps."""
    again = {each.after: each.minutes for each in made.work.warmth if each.again}
    activities = tuple(
        warmed(each, again[each.key]) if each.key in again else each for each in work.activities
    )
    return replace(work, activities=activities, warmth=made.work.warmth)


def as_warmed(made: Timetable) -> Timetable:
    """The plan whose steps have their minutes of warming in their lengths and their words."""
    work = made.work
    again = {key: each for key, each in to_warm(work).items() if stands(made, each)}
    if not again:
        return made
    activities = tuple(
        warmed(each, again[each.key].minutes) if each.key in again else each
        for each in work.activities
    )
    chosen = {id(each) for each in again.values()}
    warmth = (replace(each, again=id(each) in chosen or each.again) for each in work.warmth)
    return replace(made, work=replace(work, activities=activities, warmth=tuple(warmth)))


def missing(made: Timetable, warmth: Sequence[WarmAgain]) -> dict[str, int]:
    """The baths that stand in a plan, of those that it does not warm again: minutes, by step."""
    planned = {(each.before, each.after) for each in made.work.warmth}
    left = tuple(each for each in warmth if (each.before, each.after) not in planned)
    if not left:
        return {}
    known = replace(made, work=replace(made.work, warmth=(*made.work.warmth, *left)))
    again = {each.after for each in made.work.warmth if each.again}
    return {
        key: each.minutes
        for key, each in to_warm(known.work).items()
        if each in left and key not in again and stands(known, each)
    }


def as_cold(made: Timetable, warmth: Sequence[WarmAgain]) -> Timetable:
    """The plan with words at the baths that stand, where it was planned without warming them."""
    return told_cold(made, "bath", missing(made, warmth))


def told_cold(made: Timetable, what: str, minutes: Mapping[str, int]) -> Timetable:
    """The plan with words at what goes on in a cold bath; how long warming would take, by key."""
    told = dict(made.work.cold)
    new = {key: minutes[key] for key in minutes if key not in told}
    if not new:
        return made
    activities = tuple(
        replace(each, cautions=(*each.cautions, _left_cold(what, new[each.key])))
        if each.key in new
        else each
        for each in made.work.activities
    )
    cold = (*made.work.cold, *new.items())
    return replace(made, work=replace(made.work, activities=activities, cold=cold))


_LEFT_COLD = "for which there is no time in this plan."


def _left_cold(what: str, minutes: int) -> str:
    return f"The {what} has cooled down; warming it again takes about {minutes} min, {_LEFT_COLD}"


def _untold(activity: Activity) -> Activity:
    said = tuple(each for each in activity.cautions if not each.endswith(_LEFT_COLD))
    return replace(activity, cautions=said)


def as_unknown(work: Work) -> Work:
    """The work as it was before it was known which baths stand, to be planned otherwise."""
    if not work.cold and not any(each.again for each in work.warmth):
        return work
    again = {each.after: each.minutes for each in work.warmth if each.again}
    activities = tuple(
        _cooler(each, again[each.key]) if each.key in again else each for each in work.activities
    )
    cold = {key for key, _ in work.cold}
    activities = tuple(_untold(each) if each.key in cold else each for each in activities)
    warmth = tuple(replace(each, again=False) for each in work.warmth)
    return replace(work, activities=activities, warmth=warmth, cold=())


def _cooler(activity: Activity, minutes: int) -> Activity:
    lasting = activity.lasting
    shorter = replace(
        lasting,
        least=lasting.least - minutes,
        most=lasting.most - minutes,
        stretch=lasting.longest - minutes,
    )
    others = tuple(each for each in activity.cautions if each != _first_warmed(minutes))
    return replace(activity, lasting=shorter, cautions=others)


def stands(made: Timetable, each: WarmAgain) -> bool:
    """Whether a bath stands so long in a plan that it has to be warmed again."""
    ready = made.at[each.before].start + made.work.activity[each.before].lasting.most
    extra = to_warm(made.work).get(each.before)
    if extra is not None and stands(made, extra):
        ready += extra.minutes
    return made.at[each.after].start - ready > each.within
