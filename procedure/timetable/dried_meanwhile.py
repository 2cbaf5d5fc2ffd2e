"""Fibre that waits for days: it is hung up at once and wetted out again in time, which is planned.

Whether fibre waits so long is known only when there is a plan. So the plan is made again with
what has to be done for it: hanging up, after a rinse where it was not rinsed, and wetting out.
That takes hands and time that the first plan may not have had.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import islice

from procedure.quantity.day import A_DAY
from procedure.quantity.number_words import listed
from procedure.timetable.planned import Timetable
from procedure.timetable.plates import LINE
from procedure.timetable.room_on_line import HUNG_UP, grams_of
from procedure.timetable.usual import usual, waits
from procedure.timetable.waiting_less import longer_than_wished
from procedure.timetable.warming import as_unknown
from procedure.timetable.work import Activity, Attendance, Lag, Lasting, Need, Point, Work

# Fibre that waits wet for longer than a day dries, whatever covers it.
WETTED_AGAIN = " wetted again"
_RINSED = "rinsed and hung up"
_VESSEL = "pot "
_FIVE = 5


def dried_in(made: Timetable) -> dict[int, int]:
    """The waits in which fibre is dried meanwhile, by their numbers, with their minutes."""
    return {
        number: took
        for number, took in longer_than_wished(made).items()
        if took > A_DAY and made.work.lags[number].dried
    }


def with_drying(made: Timetable, briefly: bool = False) -> Work | None:
    """The work with what has to be done where fibre waits for days; None where all is in it.

    ``briefly`` says that fibre may be wetted out again for no longer than it takes to be wet.
    """
    work = as_unknown(made.work)
    long = list(dried_in(made))
    if all(_is_planned(work, work.lags[number]) for number in long):
        return None
    # Those that are planned already as well: what is hung up or wetted out is so with all its lots.
    chosen = [work.lags[number] for number in long]
    hung = {each.key: each for each in _hung_up(work, chosen)}
    wetted = {each.key: each for each in _wetted_again(work, chosen, briefly)}
    lags = [
        # It is hung up for longer than a day, or all this would not be done.
        replace(lag, least=A_DAY + _FIVE) if number in long else lag
        for number, lag in enumerate(work.lags)
    ]
    soon = waits()["wetted for a step"]
    for lag in chosen:
        up, down = lag.before + HUNG_UP, lag.after + WETTED_AGAIN
        at_once = waits()["fibre to the line"].wished
        if work.over(lag.before):
            at_once += work.now - (work.happened[lag.before].end or 0)  # it waits for that already
        lags.append(Lag(lag.before, up, most=at_once, lies=lag.lies))
        lags.append(Lag(up, down, near=False))
        wetted_for = Lag(down, lag.after, most=soon.most, why=soon.why, lies=soon.lies)
        lags.append(replace(wetted_for, kind=soon.kind))
    between = hung | wetted
    return replace(
        work,
        activities=(
            *(each for each in work.activities if each.key not in between),
            *between.values(),
        ),
        lags=tuple(dict.fromkeys(lags)),
        between=work.between | between.keys(),
    )


def _is_planned(work: Work, lag: Lag) -> bool:
    return {lag.before + HUNG_UP, lag.after + WETTED_AGAIN} <= work.between


def dried_for_nothing(made: Timetable, before: Work) -> Iterator[Work]:
    """The work without one drying each, where all else of the step after it is ready in time.

    When a plan is made anew, for want of warm baths say, a drying that was needed before may be
    needed no more: the fibre could go on at once. ``before`` is the work without any.
    """
    work = made.work
    for key in work.activity:
        wetted = key + WETTED_AGAIN
        if wetted not in work.activity or work.over(wetted):
            continue
        hung = {lag.before for lag in work.lags if lag.after == wetted}
        since = max((made.at[each].start for each in hung), default=0)
        if any(each in work.happened for each in hung) or not _is_ready(made, key, hung, since):
            continue
        only = {each for each in hung if not _leads_elsewhere(work, each, wetted)}
        gone = {wetted, *only}
        least = {_ends(lag): lag.least for lag in before.lags if lag.after == key}
        lags = (
            replace(lag, least=least.get(_ends(lag), lag.least)) if lag.after == key else lag
            for lag in work.lags
            if not {lag.before, lag.after} & gone
            and (lag.before not in hung or lag.after != wetted)
        )
        activities = tuple(each for each in work.activities if each.key not in gone)
        yield replace(work, activities=activities, lags=tuple(lags), between=work.between - gone)


def _is_ready(made: Timetable, key: str, hung: set[str], since: int) -> bool:
    """Whether what else comes before a step is over when its fibre is hung up, or the same day."""
    fibre = {each.removesuffix(HUNG_UP) for each in hung}
    others = {
        lag.before
        for lag in made.work.lags
        if lag.after == key and lag.least >= 0 and lag.before not in fibre
    }
    others -= {key + WETTED_AGAIN}
    return all(made.at[each].end <= since + A_DAY // 2 for each in others)


def _leads_elsewhere(work: Work, hung: str, wetted: str) -> bool:
    return any(lag.before == hung and lag.after != wetted for lag in work.lags)


def _ends(lag: Lag) -> tuple[str, str, Point, Point, str]:
    return lag.before, lag.after, lag.leaves, lag.reaches, lag.kind


def _hung_up(work: Work, lags: list[Lag]) -> Iterator[Activity]:
    """A hanging up after each of the steps before, with all the lots that wait after it."""
    for key in dict.fromkeys(lag.before for lag in lags):
        same = [lag for lag in lags if lag.before == key]
        lots = _lots(work, same)
        rinse = usual("rinse") if any(lag.dried == _RINSED for lag in same) else None
        hang = usual("dry").at_start
        name = f"hang {listed(lots) or 'the fibre'} up to dry"
        lasting = Lasting(hang + (rinse.low if rinse else 0), hang + (rinse.high if rinse else 0))
        told = f"rinse {listed(lots) or 'the fibre'} and hang up to dry" if rinse else name
        each = _by(work.activity[key], key + HUNG_UP, told, lasting, lots)
        yield _on_the_line(work, each) if LINE in work.resource else each


def _on_the_line(work: Work, each: Activity) -> Activity:
    """A hanging up that takes its room on the line until it is dry."""
    dry, lasting = usual("dry"), each.lasting
    takes = Need(LINE, grams_of(work, each.project, each.lots))
    lasting = replace(lasting, least=lasting.least + dry.low, most=lasting.most + dry.high)
    return replace(
        each,
        lasting=replace(lasting, stretch=lasting.most),
        needs=(*each.needs, takes) if takes.amount else each.needs,
        attendance=Attendance.ENDS,
        at_start=each.lasting.most,
        night=True,
    )


def _wetted_again(work: Work, lags: list[Lag], briefly: bool) -> Iterator[Activity]:
    """A wetting out before each of the steps after, with all the lots that come to it."""
    wet = usual("wet")
    for key in dict.fromkeys(lag.after for lag in lags):
        lots = _lots(work, [lag for lag in lags if lag.after == key])
        most = wet.low if briefly else wet.high
        lasting = Lasting(wet.low, most, wet.high + A_DAY, "common practice")
        step = work.activity[key]
        vessel = _vessel(work, step)
        name = f"wet {listed(lots) or 'the fibre'} out again{_in(work, vessel)}"
        each = _by(step, key + WETTED_AGAIN, name, lasting, lots)
        yield replace(
            each,
            needs=(*each.needs, *vessel),
            attendance=Attendance.ENDS,
            at_start=wet.at_start,
            night=True,
        )


def _vessel(work: Work, step: Activity) -> tuple[Need, ...]:
    """The tub in which its procedure first has water for fibre, and leaves nothing that harms.

    Empty where there is none: the fibre is wetted at a tap, say.
    """
    soiled = {use.vessel for use in work.waters if use.leaves}
    # A sink is none: nothing lies in it for a night.
    tubs = {e.key for e in work.resources if e.kind == "tub" and e.key.startswith(_VESSEL)}
    waters = (
        need
        for each in work.activities
        if each.project == step.project and each.lots and each.key not in work.between
        for need in each.needs
        if need.resource in tubs - soiled
    )
    return tuple(islice(waters, 1))


def _in(work: Work, vessel: tuple[Need, ...]) -> str:
    names = [work.resource[need.resource].name.removeprefix("the ") for need in vessel]
    return f" in {names[0]}" if names else ""


def _lots(work: Work, lags: list[Lag]) -> tuple[str, ...]:
    found: dict[str, None] = {}
    for lag in lags:
        found |= dict.fromkeys(work.waiting_in(lag))
    return tuple(found)


def _by(step: Activity, key: str, name: str, lasting: Lasting, lots: tuple[str, ...]) -> Activity:
    """Something that is done for a step, by whoever does the step."""
    hands: tuple[Need, ...] = step.hands or Activity("", "", lasting).hands
    lasting = replace(lasting, said="common practice")
    return Activity(key, name, lasting, hands=hands[:1], project=step.project, lots=lots)
