"""A vat that cools while lots are dipped in it by turns: it is warmed again between the dips.

Which dips come after one another, and how long a vat has stood by then, is known only when there
is a plan. So the plan is gone through dip by dip, with the vat as warm as it is estimated to be;
where it would be colder than is written when a dip is over, it is warmed before that dip, for as
long as its plate takes to give back what it has lost since; and the plan is made again with that.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise

from procedure.quantity.day import A_DAY
from procedure.timetable.planned import Timetable
from procedure.timetable.usual import LOSES_ITS_HEAT, usual
from procedure.timetable.warming import as_unknown, told_cold
from procedure.timetable.work import (
    TURN_OFF,
    Activity,
    Attendance,
    DipAtHeat,
    Lag,
    Lasting,
    Point,
    VatHeat,
    Work,
)
from procedure.timetable.written_out import HEATED, turn_of

WARMED = " warmed"
_FIVE = 5
_COOLS = "warmed vat"
"""The kind of the waits by which a vat is dipped in before it has cooled."""
_WHY = "the vat cools"
_MEASURED = "Measure it first; leave this out if it is warm enough."


@dataclass
class _Group:
    """The dips after a vat was made warm, or was warmed again for ``minutes`` before them.

    ``name`` is the activity that makes it so warm, empty where that is not known; from the minute
    ``since`` on it cools from its ``heat``. ``after`` are the dips that come before its warming,
    which is ``short`` where the plan has not so long for it.
    """

    name: str
    heat: float
    since: int = 0
    dips: list[DipAtHeat] = field(default_factory=list)
    minutes: tuple[int, int] = (0, 0)
    after: tuple[str, ...] = ()
    short: bool = False

    @property
    def all(self) -> tuple[str, ...]:
        """The dips by their keys."""
        return tuple(each.key for each in self.dips)


def with_warming(made: Timetable) -> Work | None:
    """The work with what has to be warmed again between dips; None where all is in it."""
    if not made.work.vats:
        return None
    groups = {vat: list(_groups(made, vat)) for vat in made.work.vats}
    if not any(group.short for each in groups.values() for group in each):
        return None
    work = _without(as_unknown(made.work))
    activities, lags = list(work.activities), list(work.lags)
    for vat, each in groups.items():
        for group in each:
            if group.minutes[1]:
                activities.append(_warming(work, vat, group))
                before = filter(None, (*group.after, group.dips[0].before))
                lags += [Lag(key, group.name, near=False) for key in before]
            lags += _within(work, vat, group)
    between = {each.key for each in activities if each.key.endswith(WARMED)}
    return replace(
        work,
        activities=tuple(activities),
        lags=tuple(dict.fromkeys(lags)),
        between=work.between | between,
    )


def once_it_is_warm(work: Work) -> Work:
    """The same where a dip before which its vat is warmed again waits for as long as that takes.

    Without, it would begin so soon after its vat was brought to a heat, or stood at one, that
    there might be no time for warming.
    """
    warmed = {turn_of(key) for key in work.between if key.endswith(WARMED)}
    lags = (
        replace(lag, most=None) if lag.after in warmed and lag.kind in LOSES_ITS_HEAT else lag
        for lag in work.lags
    )
    return replace(work, lags=tuple(lags))


def at_any_time(work: Work) -> Work:
    """The same where a dip may come long after its vat was warm, for want of another plan."""
    lags = (replace(lag, most=None) if lag.kind == _COOLS else lag for lag in work.lags)
    return replace(work, lags=tuple(lags))


def no_colder(made: Timetable) -> Work:
    """The work where no vat stands for longer before it is warmed again than that is planned for.

    Where it stood for longer it would be colder, and would have to be warmed for longer.
    """
    lags = [
        Lag(one.name, two.name, 0, _enough_until(made, vat, one, two), near=False, kind=_COOLS)
        for vat in made.work.vats
        for one, two in pairwise(_groups(made, vat))
        if two.minutes[1] and two.after == one.all and one.name and not two.short
    ]
    lags = [lag for lag in lags if lag.before not in made.work.happened]
    return replace(made.work, lags=(*made.work.lags, *lags)) if lags else made.work


def _enough_until(made: Timetable, vat: VatHeat, one: _Group, two: _Group) -> int:
    """For how many minutes a vat may stand before the time for warming it again is not enough."""
    place = made.at[two.name]
    since = minute = place.start
    while minute < since + A_DAY:
        if _to_warm(vat, one, two.heat, minute + _FIVE)[1] > place.end - place.start:
            break
        minute += _FIVE
    return minute - one.since


def dips_in_one_order(made: Timetable) -> bool:
    """Whether the dips of every vat come one after another whatever the plan."""
    later: dict[str, list[str]] = {}
    for lag in made.work.lags:
        if lag.least >= 0:
            later.setdefault(lag.before, []).append(lag.after)
    for vat in made.work.vats:
        dips = sorted((each.key for each in vat.dips), key=lambda key: made.at[key].start)
        if not all(two in _reached(one, later) for one, two in pairwise(dips)):
            return False
    return True


def _reached(key: str, later: Mapping[str, Sequence[str]]) -> set[str]:
    """What comes after something in any plan."""
    found, open_ = {key}, [key]
    while open_:
        more = [each for each in later.get(open_.pop(), ()) if each not in found]
        found.update(more)
        open_ += more
    return found


def vats_told_cold(made: Timetable) -> Timetable:
    """The plan with words at the dips for which there is no time to warm their vat."""
    cold = {
        group.dips[0].key: group.minutes[1]
        for vat in made.work.vats
        for group in _groups(made, vat)
        if group.short
    }
    return told_cold(made, "vat", cold)


def _without(work: Work) -> Work:
    """The work as it was before anything was warmed again."""
    kept = tuple(each for each in work.activities if not each.key.endswith(WARMED))
    keys = {each.key for each in kept}
    lags = tuple(
        lag for lag in work.lags if lag.kind != _COOLS and lag.before in keys and lag.after in keys
    )
    return replace(work, activities=kept, lags=lags, between=work.between & keys)


def _groups(made: Timetable, vat: VatHeat) -> Iterator[_Group]:
    """The dips of a vat in the order of a plan, parted where it is, or has to be, warmed."""
    warm, dips = dict(vat.made_warm), {each.key: each for each in vat.dips}
    heats = {turn_of(each.key): each.high for each in vat.dips}
    again = {key: heats[turn_of(key)] for key in made.at if _warms_one_of(key, heats)}
    group = _Group("", 0.0)
    places = (made.at[key] for key in (*warm, *dips, *again) if key in made.at)
    for place in sorted(places, key=lambda each: (each.start, each.end)):
        key, known = place.key, group
        if key in warm:
            group = _Group(key, warm[key], place.end)
        elif key in again:
            minutes = _to_warm(vat, known, again[key], place.start)
            short = place.end - place.start < minutes[1]
            group = _Group(key, again[key], place.end, [], minutes, known.all, short)
        elif key in made.work.happened or not known.heat:
            # It was, or nobody knows better than that it is, as warm as is written.
            group = _Group("", dips[key].high, place.start, [dips[key]])
        elif place.end - known.since > _may_last(made.work, vat, known, dips[key]):
            minutes = _to_warm(vat, known, dips[key].high, place.start)
            name = _new_name(key, again)
            group = _Group(name, dips[key].high, place.start, [dips[key]], minutes, known.all, True)
        else:
            group.dips.append(dips[key])
        if group is not known and known.dips:
            yield known
    if group.dips:
        yield group


def _warms_one_of(key: str, dips: Collection[str]) -> bool:
    return key.endswith(WARMED) and turn_of(key) in dips


def _new_name(dip: str, known: Collection[str]) -> str:
    name = dip + WARMED
    while name in known:
        name += WARMED
    return name


def _to_warm(vat: VatHeat, group: _Group, heat: float, minute: int) -> tuple[int, int]:
    """How long it takes to warm a vat again at a minute: the quickest and the slowest."""
    rise = max(0.0, heat - vat.loses.coldest(group.heat, minute - group.since))
    low, high = (rise * each for each in vat.minutes_a_degree)
    least = max(_FIVE, math.floor(low / _FIVE) * _FIVE)
    return least, max(least, math.ceil(high / _FIVE) * _FIVE)


def _keeps(vat: VatHeat, group: _Group, dip: DipAtHeat) -> int:
    """For how many minutes a vat is warm enough for a dip, which is over by then.

    Not less than from one look at a warm bath to the next. Where it has stood in between, and
    nobody has looked, it is as cold as it may be.
    """
    quick, usual_time, _ = vat.loses.minutes(group.heat, dip.low)
    again = group.name.endswith(WARMED)
    seen = again or group.name.endswith(HEATED) or group.name in ("", dip.before)
    least = usual("", "warming").every if again else 0
    return max(least, math.floor((usual_time if seen else quick) / _FIVE) * _FIVE)


def _may_last(work: Work, vat: VatHeat, group: _Group, dip: DipAtHeat) -> int:
    """In how many minutes from when a vat was warm a dip is over; a long one begins at once."""
    return max(_keeps(vat, group, dip), work.activity[dip.key].lasting.most)


def _within(work: Work, vat: VatHeat, group: _Group) -> Iterator[Lag]:
    """The waits from when a vat is warm to the dips that are over before it has cooled."""
    if group.name in work.happened or not group.name:
        return
    for dip in group.dips:
        long = _may_last(work, vat, group, dip)
        near = dip is group.dips[0]
        yield Lag(group.name, dip.key, 0, near=near, why=_WHY, kind=_COOLS)
        yield Lag(
            group.name,
            dip.key,
            0,
            long,
            reaches=Point.END,
            near=False,
            why=_WHY,
            kind=_COOLS,
        )


def _warming(work: Work, vat: VatHeat, group: _Group) -> Activity:
    """Warming a vat before a dip, by whoever looks after the pots."""
    dip = work.activity[group.dips[0].key]
    common = usual("", "warming")
    low, high = group.minutes
    turn = tuple(need for need in dip.needs if work.resource[need.resource].kind == "turn")
    return Activity(
        group.name,
        f"warm {vat.name} again to {group.dips[0].told}",
        Lasting(low, high, said="estimated"),
        (*vat.needs, *turn),
        Attendance.NOW_AND_THEN,
        at_start=min(common.at_start, high),
        at_end=min(_FIVE, max(0, high - common.at_start)),
        every=common.every,
        project=dip.project,
        place=dip.place,
        printed=dip.printed,
        cautions=(_MEASURED,),
        ending=TURN_OFF,
    )
