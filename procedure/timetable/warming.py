"""Baths that have cooled while they stood: they are warmed again, and that takes time.

Whether a bath stands too long is known only when there is a plan, so it is part of what is
planned: the list rule makes the next step in such a bath longer as it places it, and the
programme for the solver has each such step in two lengths.
"""

from __future__ import annotations

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


def as_unknown(work: Work) -> Work:
    """The work as it was before it was known which baths stand, to be planned otherwise."""
    again = {each.after: each.minutes for each in work.warmth if each.again}
    activities = tuple(
        _cooler(each, again[each.key]) if each.key in again else each for each in work.activities
    )
    warmth = tuple(replace(each, again=False) for each in work.warmth)
    return replace(work, activities=activities, warmth=warmth)


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
