"""What has to be known of a plan before anything else: what was let go for want of hours."""

from __future__ import annotations

from collections import Counter

from procedure.quantity.number_words import listed
from procedure.timetable.hours import clock
from procedure.timetable.left_over import left_for_another_day
from procedure.timetable.planned import Timetable, longer_than_written
from procedure.timetable.planned_words import moment_in_words, numbered, span
from procedure.timetable.planning import Fitted
from procedure.timetable.reasons import NoPlan
from procedure.timetable.room_on_line import without_room
from procedure.timetable.unsure import bath_of
from procedure.timetable.waiting_less import took_of
from procedure.timetable.work import Activity, Attendance, Lag, Point

_FEW = 3
"""Of more steps that are planned shorter those of one length are named together."""


def shortened(found: Fitted) -> list[str]:
    """What has to be known of a plan before anything else, a sentence for each kind.

    That a bath stays cold, or fibre lies in one for longer than is written, or waits; that other
    steps go on for longer, or are planned shorter than they may take, and which. What is the same
    of several steps is said once for all.
    """
    made = found.made
    if isinstance(made, NoPlan):
        return []
    return [
        *_hot_when_closed(made),
        *_left_cold(made),
        *_left(made, found.left, found.sooner_by),
        *_let_go_on(made, found.left),
        *_waits_told(made, found.waits),
        *_too_short(made, found),
        *left_for_another_day(made),
    ]


def _hot_when_closed(made: Timetable) -> list[str]:
    """The baths that are too hot to be alone though the place is closed, since they are there.

    No plan is made so; but what has happened may have come to it.
    """
    work = made.work
    if work.begins is None:
        return []
    said: list[str] = []
    # Of one bath the latest holds, and what was done to it last where two are the same.
    shut_out = [e for e in made.hot if work.closing_within(max(e.start, work.now), e.end)]
    latest = {bath_of(made, each.key): each for each in shut_out}
    for each in latest.values():
        since = max(each.start, work.now)
        shut = work.closing_within(since, each.end)
        if shut is None:
            continue
        on = clock(work.begins, since)
        closes = f" from {moment_in_words(work, shut[0], on)}" if shut[0] > since else ""
        said.append(
            f"Stay until about {moment_in_words(work, each.end, on)}, though the place is closed"
            f"{closes}: the bath of {numbered(work.activity[each.key])} is hotter than "
            f"{work.activity[each.key].too_hot} until then. Measure it before you leave it."
        )
    return said


def _left_cold(made: Timetable) -> list[str]:
    """What begins in a bath or vat that has cooled, since there is no time to warm it again."""
    alike: dict[int, list[str]] = {}
    for key, minutes in made.work.cold:
        alike.setdefault(minutes, []).append(numbered(made.work.activity[key]))
    named = [f"{span(minutes)} before {listed(names)}" for minutes, names in alike.items()]
    if not named:
        return []
    return [
        "No plan was found with time to warm again what has cooled, or none that is not more than "
        f"a day longer: about {listed(named)}. Whoever does warm it is later by that with all that "
        "follows."
    ]


def _left(made: Timetable, keys: tuple[str, ...], sooner_by: int) -> list[str]:
    """What goes on over a night, or for longer than one, though that is not written.

    Where there is a plan without, ``sooner_by`` is what is saved by it.
    """
    said = [
        f"{_step_first(each)}{_longer_than_a_night(made, each)}"
        for each in map(made.work.activity.__getitem__, keys)
        if each.overnight
    ]
    day = max((window.closes - window.opens for window in made.work.spells), default=0)
    alike: dict[tuple[str, str], list[str]] = {}
    for key in keys:
        place, each = made.at[key], made.work.activity[key]
        if not each.overnight:
            why = ", over the time when the place is closed"
            if sooner_by:
                why += f", by which all is over {span(sooner_by)} sooner"
            elif each.lasting.most <= day:
                why += ", for want of hours"
            if made.work.closing_within(place.start, place.end) is None:
                why = ", longer than it has to"
                if _is_busy(made, place.start + each.lasting.most, place.end):
                    why += ", since somebody has other things to do then"
            named = f"{numbered(each)} goes on for {span(place.end - place.start)}"
            alike.setdefault((why, _instead(each)), []).append(named)
    for (why, instead), several in alike.items():
        told = listed(several)
        said.append(f"{told}{why}. {instead}")
    return said


def _is_busy(made: Timetable, since: int, until: int) -> bool:
    """Whether somebody has hands on something all the time from one moment to another."""
    for piece in made.hands_on:
        if piece.start <= since:
            since = max(since, piece.end)
    return since >= until


def _let_go_on(made: Timetable, left: tuple[str, ...]) -> list[str]:
    """What goes on for longer than is written, because it may and that suits the plan.

    What is written “overnight” goes on until somebody comes in the morning: that is as written,
    and only told where it is longer than a night is usually reckoned.
    """
    activity, alike = made.work.activity, dict[str, list[str]]()
    nights: dict[str, list[str]] = {}
    for key, took in longer_than_written(made).items():
        if key not in left:
            lasting = activity[key].lasting
            written = span(lasting.written)
            if lasting.least < lasting.written:
                written = f"{span(lasting.least)} to {written}"
            night = activity[key].overnight
            lasts = f"{span(took)} {'where' if night else 'instead of'} {written}"
            lasts += " is usual" * night
            (nights if night else alike).setdefault(lasts, []).append(numbered(activity[key]))
    said: list[str] = []
    if alike:
        said.append(
            "Goes on for longer than is written, as it may, to suit these hours: "
            f"{_each_for(alike)}."
        )
    if nights:
        said.append(
            "“Overnight” is until somebody is there again, which is long in these hours: "
            f"{_each_for(nights)}."
        )
    return said


def _each_for(alike: dict[str, list[str]]) -> str:
    """Steps by how long they go on."""
    return listed([f"{listed(_so_often(names))} for {lasts}" for lasts, names in alike.items()])


def _so_often(names: list[str]) -> list[str]:
    """Each name once, with how often it is there where that is more than once."""
    return [
        f"{name}, {often} times," if often > 1 else name for name, often in Counter(names).items()
    ]


def _waits_told(made: Timetable, lags: tuple[Lag, ...]) -> list[str]:
    """What waits for long, once for all that is done with in the same way meanwhile.

    Where the line has no room for some of it, once for each lots: what hangs in one wait may lie
    damp in another.
    """
    activity = made.work.activity
    said: list[str] = []
    alike: dict[tuple[str, tuple[str, ...]], list[Lag]] = {}
    no_room = _no_room(made)
    for lag in lags:
        before = activity[lag.before]
        if before.plants_in and not before.fibre_in:
            until = [f"{span(took_of(made, lag))} until {numbered(activity[lag.after])}"]
            said.append(
                f"{_step_first(before)}“{before.name}”: the plant stays in its bath, "
                f"{listed(until)}, in these hours. {_PLANT_OUT}"
            )
            continue
        lots = made.work.waiting_in(lag)
        without = no_room.get(_of(lag), ())
        if without:
            alike.setdefault((_NO_ROOM, tuple(without)), []).append(lag)
        if not without or set(without) != set(lots):
            hung = tuple(lot for lot in lots if lot not in without) if no_room else ()
            alike.setdefault((lag.meanwhile, hung), []).append(lag)
    return [
        *said,
        *(_long_waits(made, meanwhile, same, no_room) for (meanwhile, _), same in alike.items()),
    ]


_NO_ROOM = (
    "keep {it} damp, squeezed out and covered, in the cool, for the drying line has no room for "
    "{it} until then"
)


def _of(lag: Lag) -> tuple[str, str, Point, Point]:
    return lag.before, lag.after, lag.leaves, lag.reaches


def _no_room(made: Timetable) -> dict[tuple[str, str, Point, Point], tuple[str, ...]]:
    """The lots that find no room on the drying line, by the waits in which they would hang."""
    return {_of(made.work.lags[number]): lots for number, lots in without_room(made).items()}


def _long_waits(
    made: Timetable,
    meanwhile: str,
    lags: list[Lag],
    no_room: dict[tuple[str, str, Point, Point], tuple[str, ...]],
) -> str:
    """What is done meanwhile with what waits for long, after which steps and until which."""
    activity = made.work.activity
    pairs: dict[tuple[str, str], list[Lag]] = {}
    lots: dict[str, None] = {}
    for lag in lags:
        before, after = activity[lag.before], activity[lag.after]
        alike = (before.printed or before.key, after.printed or after.key)
        pairs.setdefault(alike, []).append(lag)
        without = no_room.get(_of(lag), ())
        here = [x for x in made.work.waiting_in(lag) if x not in without]
        lots.update(dict.fromkeys(without if meanwhile == _NO_ROOM else here))
    told = []
    for (step, until), same in pairs.items():
        took = [took_of(made, lag) for lag in same]
        if len(same) == 1:
            step, until = (numbered(activity[key]) for key in (same[0].before, same[0].after))
        else:
            step, until = f"step {step}", f"step {until}"
        lasts = span(min(took)) + (f" to {span(max(took))}" if min(took) < max(took) else "")
        told.append(f"from {step} to {until} it is {lasts}")
    what = meanwhile.format(it=listed([*lots]) if lots else "it")
    return f"{what[:1].upper()}{what[1:]}: {listed(told)}."


def _too_short(made: Timetable, found: Fitted) -> list[str]:
    """The steps that are planned shorter than they may take, in one sentence."""
    alike: dict[tuple[str, str, str], list[Activity]] = {}
    for key, longest in found.shortened:
        place, each = made.at[key], made.work.activity[key]
        took, may = span(place.end - place.start), span(max(longest, each.lasting.slowest))
        alike.setdefault((each.printed or key, took, may), []).append(each)
    if not alike:
        return []
    of_one_length: dict[tuple[str, str], list[str]] = {}
    for (_, took, may), same in alike.items():
        of_one_length.setdefault((took, may), []).append(_all_of(same).removesuffix(","))
    if len(alike) > _FEW:
        told = [
            f"{took} instead of {may}: {listed(names)}"
            for (took, may), names in of_one_length.items()
        ]
        return [
            f"Planned shorter than they may take, {'; '.join(told)}. If one takes longer, the plan "
            "does not hold."
        ]
    named = [
        f"{_all_of(same)} is planned for {took} and may take {may}"
        for (_, took, may), same in alike.items()
    ]
    return [
        f"{listed(named)}: if {'it' if len(named) == 1 else 'one'} does, the plan does not hold."
    ]


def _all_of(same: list[Activity]) -> str:
    """Activities of one step: by their name and how many they are, or the first and the rest."""
    if len(same) == 1:
        return numbered(same[0])
    if len({each.name for each in same}) == 1:
        return f"{numbered(same[0])}, {len(same)} times,"
    return f"each of “{same[0].name}” and {len(same) - 1} more of step {same[0].printed}"


def _longer_than_a_night(made: Timetable, each: Activity) -> str:
    """That what is to go on overnight begins before the evening, or is over after the morning."""
    place = made.at[each.key]
    on = clock(made.work.begins, place.end) if made.work.begins is not None else None
    out = f" {_instead(each)}" if each.fibre_in else ""
    before = [lag.before for lag in made.work.lags if lag.after == each.key]
    begun = any(map(made.work.over, before))
    why = "since what comes before it is over" if begun else "for want of hours"
    if made.work.done and not begun:
        why = "since what has been begun goes on at once"
    return (
        f"“{each.name}” goes on from {moment_in_words(made.work, place.start, on)} to "
        f"{moment_in_words(made.work, place.end)}, which is longer than a night, {why}.{out}"
    )


_PLANT_OUT = (
    "Strain it before you go, hot if need be, and put the plant where neither children nor "
    "animals get at it."
)


def _instead(activity: Activity) -> str:
    if activity.plants_in:
        return _PLANT_OUT
    if activity.within_call:
        return (
            "It is written attended: have somebody within call who looks in every hour, for which "
            "no time is planned, or see that it can be left."
        )
    if activity.attendance is Attendance.NOW_AND_THEN or not activity.fibre_in:
        return "Nobody is there then: see that it can be left."
    return "Take the fibre out before you go, if you would rather."


def _step_first(activity: Activity) -> str:
    return f"Step {activity.printed}: " if activity.printed else ""
