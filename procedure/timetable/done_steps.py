"""What has happened already: the steps that are said to be done, and what came before them.

A step is named by its label, by its line, or by the number that it has on the timetable and the
other papers of its procedure.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from procedure.quantity.number_words import listed
from procedure.timetable.gathered import Gathered
from procedure.timetable.hours import minutes_between
from procedure.timetable.terms import Asked
from procedure.timetable.work import Activity, Done

_MOST_NAMED = 4


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
            start = (end or 0) - known[key].lasting.most
        if key in found and found[key].end not in (None, end) and end is not None:
            raise NoSuchStep(
                f"“{one.step}” ({known[key].name}) is said to have been over at two times; say one."
            )
        found[key] = Done(key, start, end)
        if heated in known and end is not None:
            found[heated] = Done(heated, end, end)
    return (*found.values(), *_done_before(made, found))


def _meant(made: Gathered, said: str, done: Iterable[str]) -> str:
    """The key of the step that is meant."""
    known = {each.key for each in made.activities}
    for key in (said, f"line {said}"):
        if key in known and not said.isdecimal():
            return key
    numbered, on_line = _numbered(made, said), _on_line(made, said)
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
    raise NoSuchStep(
        f"No step is called “{said}”; name it by its label, its line or its number, as in "
        f"{next((each.key for each in made.activities), 'soak')}=10:40."
    )


def _one_of(said: str, numbered: list[Activity], done: set[str]) -> Activity:
    """Of rounds of one step the first that is not done; of one step on several lots none."""
    left = [each for each in numbered if each.key not in done] or numbered[-1:]
    names = dict.fromkeys(each.name for each in numbered)
    if len(names) > 1:
        several = [f"“{each.key}” ({each.name})" for each in numbered]
        told = listed(several[:_MOST_NAMED], "or")
        more = f", or another of the {len(several)}" if len(several) > _MOST_NAMED else ""
        raise NoSuchStep(f"“{said}” is done several times; say which: {told}{more}.")
    return left[0]


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
                inferred[lag.before] = Done(lag.before, later.start, later.start)
                wanted.append(inferred[lag.before])
    return list(inferred.values())
