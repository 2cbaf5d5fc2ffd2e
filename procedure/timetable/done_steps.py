"""What has happened already: the steps that are said to be done, and what came before them.

A step is named by its label, by its line, or by the number that it has on the timetable and the
other papers of its procedure, with one of its lots where each lot has its own: “6 hazel”. What
should have followed something that has happened, and is late by now, is to be done at once.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import datetime

from procedure.quantity.day import A_DAY
from procedure.quantity.number_words import listed
from procedure.timetable.gathered import Gathered
from procedure.timetable.hours import clock, minutes_between
from procedure.timetable.planned_words import numbered, span, time_of
from procedure.timetable.terms import Asked
from procedure.timetable.usual import waits
from procedure.timetable.work import Activity, Done, Lag, Lies, Point, Window

_MOST_NAMED = 4
_AT_LAST = 14 * A_DAY
_LATE = "look before you go on whether {it} is still as it should be, for this is late"
_HUNG_UP = "hung up"
_WETTED_ALREADY = (
    "take {it} out of its water and keep damp and covered, or hang up to dry where it is longer "
    "than a day, and wet out again"
)
_THERE = "see to {it} while somebody is there, or look when you are back how it is"
_FIBRE_THERE = "take the fibre out while somebody is there, or look when you are back how it is"
_MUCH_TOO_SOON = 10
_AT_ONCE = 30
"""Minutes from now in which what is late is begun, at the latest."""


class NoSuchStep(ValueError):
    """A step that is said to be done is not one of the plans, or may be several; a sentence."""


def done_by_then(made: Gathered, asked: Asked) -> tuple[Done, ...]:
    """What has happened, and with it what has to come before it in any case.

    Raises :class:`NoSuchStep` for a name that is no step's, or of more than one, and for a step
    that is said to have been over at two times.
    """
    found: dict[str, Done] = {}
    known = {each.key: each for each in made.activities}
    for one in asked.happened:
        key = _meant(made, one.step, found)
        heated = f"{key} heated"
        end = minutes_between(asked.begins, one.end) if one.end is not None else None
        start = minutes_between(asked.begins, one.start) if one.start is not None else None
        if start is None:
            # What came before it was over by then in any case.
            start = (end or 0) - known[key].lasting.least
        if key in found and found[key].end not in (None, end) and end is not None:
            raise NoSuchStep(
                f"“{one.step}” ({known[key].name}) is said to have been over at two times; say one."
            )
        found[key] = Done(key, start, end, one.left_out)
        if heated in known and end is not None:
            found[heated] = Done(heated, end, end)
    return (*found.values(), *_done_before(made, found))


def _meant(made: Gathered, said: str, done: Iterable[str]) -> str:
    """The key of the step that is meant."""
    known = {each.key for each in made.activities}
    for key in (said, f"line {said}"):
        if key in known and not said.isdecimal():
            return key
    numbered, on_line = _numbered(made, said) or _of_a_lot(made, said), _on_line(made, said)
    if numbered and said.isdecimal() and on_line and on_line[0] not in numbered:
        by_number, by_line = numbered[0], on_line[0]
        raise NoSuchStep(
            f"“{said}” may be step {said} ({by_number.name}) or line {said} ({by_line.name}); "
            f"say “step {said}” or “line {said}”."
        )
    within = [each for each in made.activities if each.printed.startswith(f"{said}.")]
    if within:
        one = within[0]
        raise NoSuchStep(
            f"“{said}” is a procedure of several steps; say which is over, as in "
            f"{one.printed}=10:40 ({one.name}), or “line {said}”."
        )
    if numbered:
        return _one_of(said, numbered, set(done)).key
    if on_line:
        return on_line[0].key
    of_each = [
        each
        for each in made.activities
        if each.printed and re.fullmatch(rf"[A-Z]+{re.escape(said)}", each.printed)
    ]
    if of_each:
        told = dict.fromkeys(f"{each.printed} ({each.name})" for each in of_each)
        named = listed([*told][:_MOST_NAMED], "or")
        raise NoSuchStep(f"“{said}” is a step of several procedures; say which: {named}.")
    first = next(iter(made.activities), None)
    example = (first.printed or first.key) if first is not None else "soak"
    raise NoSuchStep(
        f"No step is called “{said}”; name it by its label, its line or its number, as in "
        f"{example}=10:40{f' ({first.name})' if first is not None else ''}."
    )


def _one_of(said: str, numbered: list[Activity], done: set[str]) -> Activity:
    """Of rounds of one step the first that is not done; of one step on several lots none."""
    left = [each for each in numbered if each.key not in done] or numbered[-1:]
    names = dict.fromkeys(each.name for each in numbered)
    if len(names) > 1:
        several = [_as_named(said, each, numbered) for each in numbered]
        several = list(dict.fromkeys(several))
        told = listed(several[:_MOST_NAMED], "or")
        more = f", or another of the {len(several)}" if len(several) > _MOST_NAMED else ""
        raise NoSuchStep(f"“{said}” is done several times; say which: {told}{more}.")
    return left[0]


def _as_named(said: str, one: Activity, among: list[Activity]) -> str:
    """How to name one of several: by its lot where that is enough, else by its key."""
    alike = [each.name for each in among if each.lots[:1] == one.lots[:1]]
    if one.lots and len(set(alike)) == 1:
        return f"“{said} {one.lots[0]}” ({one.name})"
    return f"“{one.key}” ({one.name})"


def _of_a_lot(made: Gathered, said: str) -> list[Activity]:
    """The steps of a printed number on one lot: “6 hazel”, “step 6 hazel”."""
    number, _, lot = said.rpartition(" ")
    return [
        each
        for each in (_numbered(made, number) if number else ())
        if lot.lower() in map(str.lower, each.lots)
    ]


def _numbered(made: Gathered, said: str) -> list[Activity]:
    """The steps of a printed number: “7”, “step 7”, “2.3”, “A3”."""
    number = re.sub(r"^step\s+", "", said).upper()
    return [
        each
        for each in made.activities
        if each.printed and each.printed == number and not each.key.endswith(" heated")
    ]


def _on_line(made: Gathered, said: str) -> list[Activity]:
    """The step on a line, “36”, “line 36” or “1: line 36”, though a label is its name."""
    match = re.fullmatch(r"(\d+: )?(?:line )?(\d{1,6})", said)
    if match is None:
        return []
    prefix, line = match.group(1) or "", int(match.group(2))
    found = [
        each for each in made.activities if each.place.line == line and each.key.startswith(prefix)
    ]
    steps = [each for each in found if not each.key.endswith(" heated")]
    return steps if len(steps) == 1 else []


def _done_before(made: Gathered, found: dict[str, Done]) -> list[Done]:
    """The steps before what has happened, of which nobody says when they were: done by then."""
    inferred: dict[str, Done] = {}
    wanted = list(found.values())
    while wanted:
        later = wanted.pop()
        for lag in made.lags:
            if lag.after != later.key or lag.least < 0 or lag.before in found:
                continue
            known = inferred.get(lag.before)
            if known is None or known.start > later.start:
                inferred[lag.before] = Done(lag.before, later.start, later.start, inferred=True)
                wanted.append(inferred[lag.before])
    return list(inferred.values())


def hardly_so(
    lags: Iterable[Lag], known: dict[str, Activity], done: Iterable[Done], begins: datetime
) -> list[str]:
    """Sentences on what is told to have been over before what it follows, or far too soon after.

    It is planned as it is told: whoever was there knows better. Nothing is said of what is only
    supposed, nor of what was left out.
    """
    told = {
        each.key: each.end
        for each in done
        if each.end is not None and not each.inferred and not each.left_out
    }
    said: dict[str, None] = {}
    for lag in lags:
        before, after = told.get(lag.before), told.get(lag.after)
        if before is None or after is None or lag.least < 0:
            continue
        if (lag.leaves, lag.reaches) != (Point.END, Point.START):
            continue
        first, then = numbered(known[lag.before]), numbered(known[lag.after])
        least, had = known[lag.after].lasting.least + lag.least, after - before
        over = f"{then} is told to have been over at {_clock(begins, after)}"
        if had < 0:
            said[f"{over}, and {first}, which comes before it, at {_clock(begins, before)}."] = None
        elif 2 * had < least and least - had >= _MUCH_TOO_SOON:
            said[f"{over}, {span(had)} after {first}, and takes {span(least)} at the least."] = None
    return [f"{each} It is planned so; look whether one of the times is another." for each in said]


def _clock(begins: datetime, minute: int) -> str:
    return time_of(clock(begins, minute))


def late_by_now(
    lags: Iterable[Lag],
    known: dict[str, Activity],
    done: Iterable[Done],
    now: int,
    windows: Sequence[Window],
) -> tuple[list[Lag], list[str]]:
    """The waits, of which those that are longer than they may be end at once; and sentences.

    So are those behind what is over that cannot be kept, since the place closes before.
    """
    lags = tuple(lags)
    happened = {each.key: each for each in done}
    soonest = _soonest(lags, known, happened, now)
    found: list[Lag] = []
    late: dict[tuple[str, str, str], list[str]] = {}
    for lag in lags:
        before = happened.get(lag.before)
        if before is not None and before.left_out:
            lag = replace(lag, most=None, at_a_pinch=None, at_last=None, wish=None)
        lag = _as_it_is_there(_hung_up_if_need_be(before, lag), before, known[lag.before].fibre_in)
        left = _left(before, lag)
        limit = None if lag.most is None else max(lag.most, lag.at_a_pinch or 0)
        if left is None or limit is None or lag.after in happened:
            found.append(lag)
            continue
        begins = soonest.get(lag.after, now) if lag.reaches is Point.START else now
        too_late = left + limit < begins
        if not too_late and _goes_in(lag, known[lag.after], now, left + limit, windows):
            found.append(lag)
            continue
        most = begins - left + max(lag.most or 0, _AT_ONCE)
        late_lag = replace(lag, most=most, at_a_pinch=None, wish=None, meanwhile=_LATE)
        # Nobody can put right what is late: where other work comes first, it is later, and told.
        found.append(replace(late_lag, at_last=most + _AT_LAST))
        why = f", because {lag.why}" if lag.why else ""
        said = (
            "Late by now" if left + limit < now else "It will be late, for the place closes before"
        )
        if too_late and left + limit >= now:
            said = "It will be late, for what comes before it takes until then"
        key = said, known[lag.before].told, why
        late.setdefault(key, []).append(f"“{known[lag.after].told}”")
    return found, [
        f"{said}: {listed(list(dict.fromkeys(after)))} after “{before}”{why}. Do that as "
        "soon as it can be done, and look first whether all is still as it should be."
        for (said, before, why), after in late.items()
    ]


def _soonest(
    lags: Sequence[Lag], known: dict[str, Activity], happened: dict[str, Done], now: int
) -> dict[str, int]:
    """When each step that is still to come may begin at the soonest, by what comes before it."""
    found: dict[str, int] = dict.fromkeys(known.keys() - happened.keys(), now)
    for _round in range(len(found)):
        moved = False
        for lag in lags:
            in_turn = (lag.leaves, lag.reaches) == (Point.END, Point.START) and lag.least >= 0
            if not in_turn or lag.after not in found:
                continue
            done = happened.get(lag.before)
            if done is None:
                over = found[lag.before] + known[lag.before].lasting.least
            elif done.end is None or done.left_out:
                continue
            else:
                over = done.end
            if over + lag.least > found[lag.after]:
                found[lag.after], moved = over + lag.least, True
        if not moved:
            break
    return found


def _goes_in(lag: Lag, after: Activity, now: int, until: int, windows: Sequence[Window]) -> bool:
    """Whether a step that lies within the hours can begin by then and be over before they end."""
    if not after.in_hours or lag.reaches is not Point.START or after.lasting.slowest:
        return True
    return any(
        max(now, each.opens) <= min(until, each.closes - after.lasting.least) for each in windows
    )


def is_late(lag: Lag) -> bool:
    """Whether a wait is longer by now than it may be."""
    return lag.meanwhile == _LATE


def _hung_up_if_need_be(before: Done | None, lag: Lag) -> Lag:
    """A wait of fibre that is wetted out already, which is hung up where nothing else can be done.

    Before it was wetted it could have been wetted later.
    """
    if lag.lies is not Lies.WETTED or lag.dried or before is None or before.end is None:
        return lag
    longest = waits()["fibre wetted out"].at_a_pinch
    return replace(lag, at_last=longest, dried=_HUNG_UP, meanwhile=_WETTED_ALREADY)


def _as_it_is_there(lag: Lag, before: Done | None, fibre_in: bool) -> Lag:
    """The wait behind what goes on already: no plan is refused for want of somebody at its end."""
    going_on = before is not None and before.end is None and not before.left_out
    if not going_on or lag.leaves is Point.START or lag.most is None or lag.at_last is not None:
        return lag
    words = _FIBRE_THERE if fibre_in else _THERE
    return replace(lag, at_last=lag.most + _AT_LAST, meanwhile=lag.meanwhile or words)


def _left(done: Done | None, lag: Lag) -> int | None:
    """When the wait began, where what it is counted from has happened."""
    if done is None or done.left_out:
        return None
    if lag.leaves is Point.START:
        return done.start
    return done.end
