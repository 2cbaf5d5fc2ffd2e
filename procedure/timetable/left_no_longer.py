"""Works to try instead of a plan in which something goes on over a night and need not.

All that may give does so at once where a plan is found by that, so what lies over a night may lie
there for nothing. Each work holds some of it to what is written. A plant that harms is strained out
before a night, even where its liquor waits for a day more than it would otherwise: that is told.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import replace

from procedure.quantity.day import A_DAY
from procedure.timetable.planned import Timetable
from procedure.timetable.waiting_less import longer_than_wished
from procedure.timetable.warming import as_unknown
from procedure.timetable.work import Activity, Lag, Work

_MOST = 4


def held_to_their_nights(work: Work, made: Timetable, left: tuple[str, ...]) -> Iterator[Work]:
    """The work of a plan in which less is left than ``left``; the one that holds most first."""
    plants = {key for key in left if work.activity[key].plants_in}
    waits = _waits_of_plants(work, made, plants)
    if plants or waits:
        yield _held(work, made, plants, waits)
        yield _held(work, made, plants, waits, longer=True)
    ways = [left, *((key,) for key in left)] if len(left) > 1 else [left]
    for keys in ways[:_MOST] if left else ():
        yield _held(work, made, keys)


def _waits_of_plants(work: Work, made: Timetable, plants: set[str]) -> set[int]:
    """The waits, by their numbers, in which a plant that harms stays in its bath for too long."""
    long = {*longer_than_wished(replace(made, work=work))}
    long |= {n for n, lag in enumerate(work.lags) if lag.before in plants and lag.gives}
    before = {number: work.activity[work.lags[number].before] for number in long}
    return {number for number, each in before.items() if each.plants_in and not each.fibre_in}


def _held(
    work: Work,
    made: Timetable,
    keys: Collection[str],
    waits: Collection[int] = (),
    longer: bool = False,
) -> Work:
    known = as_unknown(made.work)
    activities = tuple(
        _by_its_day(work, work.activity[each.key]) if each.key in keys else each
        for each in known.activities
    )
    lags = tuple(
        _as_wished(lag) if number in waits else _a_day_longer(lag) if longer else lag
        for number, lag in enumerate(known.lags)
    )
    return replace(known, activities=activities, lags=lags)


def _by_its_day(work: Work, each: Activity) -> Activity:
    """What goes on already, which no rule of nights binds: over before the place closes."""
    done = work.happened.get(each.key)
    closes = next((window.closes for window in work.windows if window.closes > work.now), None)
    if done is None or closes is None or not each.by_day:
        return each
    lasting = each.lasting
    most = min(lasting.longest, max(lasting.most, closes - done.start))
    return replace(each, lasting=replace(lasting, stretch=most))


def _as_wished(lag: Lag) -> Lag:
    return lag if lag.wished is None else replace(lag, most=lag.wished, wish=None)


def _a_day_longer(lag: Lag) -> Lag:
    """A wait of what is told when it waits for longer than is good, with one day more."""
    tells = lag.at_last is not None and lag.most is not None and bool(lag.meanwhile)
    return replace(lag, most=(lag.most or 0) + A_DAY, wish=lag.wished) if tells else lag
