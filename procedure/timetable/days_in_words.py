"""A day of a plan in words, for papers: which steps begin when, and what is left at night."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from itertools import groupby
from types import MappingProxyType

from procedure.paper.pieces import is_plural, spaced
from procedure.quantity.number_words import in_words, listed
from procedure.timetable.taking import DayTaken, LeftGoing, Taking, about, five_minutes

_PAIR = 2
# Of more lots than these only the number is told: the steps name them.
_MOST_NAMED = 3
# Of a step that is done for several values on several days, up to so many of them are named.
_MOST_TURNS = 6
# A run of steps is told in at most so many parts that are for some values alone.
_MOST_PARTS = 3
# What begins so many minutes after somebody has come begins with the day.
_SOON = 30


_NO_TURNS: Mapping[int, str] = MappingProxyType({})


def _with_article(lot: str) -> str:
    return f"the {spaced(lot)}"


def day_in_words(
    taken: Taking,
    day: DayTaken,
    numbers: dict[int, str],
    followed: dict[str, str],
    the: Callable[[str], str] = _with_article,
    turns: Mapping[int, str] = _NO_TURNS,
) -> str:
    """A day's steps by their printed numbers, its hours, and what goes on or waits at night.

    ``followed`` are the titles of the procedures that are followed, by the printed number
    of the step that does: 2.4 is a step of the one that step 2 follows, and is said to be.
    A title is said once: it is taken out of them. ``the`` gives a lot's name with its article,
    as the paper has it elsewhere. ``turns`` are the values of a ``for each`` that nodes are done
    for: its steps have one number for all of them, so where a number is on several days the
    values are named.
    """
    said = f"Day {day.number}, {five_minutes(day.first)} to {five_minutes(day.last, end=True)}"
    numbers = {node: numbers[node] for node in numbers if node in taken.begins}
    steps = _in_turn(taken, day, numbers, followed, turns)
    said += f": {steps}" if steps else ": see to what has gone on"
    at: dict[str, list[str]] = {}
    for one in day.between:
        what = one.what.format(listed([the(lot) for lot in one.lots]))
        at.setdefault(what, []).append(five_minutes(one.minute))
    for what, minutes in at.items():
        said += f"; at {listed(minutes)} {what}"
    for node, warming in day.cold:
        if node in numbers:
            said += (
                f"; before step {numbers[node]} what it is done in has cooled: warm it again "
                f"first, {about(warming)}, for which no time is planned"
            )
    for node, minute in day.stays:
        if node in numbers:
            said += (
                f"; stay until {five_minutes(minute, end=True)}: step {numbers[node]} is hot "
                "until then (plate off, pot covered)"
            )
    for words in _left_in_words(taken, day, numbers, the):
        said += f"; {words}"
    for bath in day.too_long:
        said += (
            f"; nothing is done to {the(bath.bath)} until day {bath.until}, and {bath.why} after "
            f"{about(bath.minutes)}: {bath.meanwhile}"
        )
    alike: dict[int, list[str]] = {}
    for lot, until in day.wet:
        alike.setdefault(until, []).append(the(lot))
    for until, lots in alike.items():
        wait = "wait" if _many(lots) else "waits"
        long = "overnight" if until <= day.number + 1 else f"until day {until}"
        said += f"; {_so_many(lots)} {wait} wet {long}, squeezed out and covered"
    return f"{said}."


def _left_in_words(
    taken: Taking, day: DayTaken, numbers: dict[int, str], the: Callable[[str], str]
) -> list[str]:
    """What goes on at night, what dries, and what lies in its water though its soak is over."""
    alike: dict[tuple[str, int, str, str], list[LeftGoing]] = {}
    for one in day.left:
        if one.node in numbers:
            until = one.day if one.how == "goes on" and one.day > day.number + 1 else 0
            over = _over_in_words(one)
            alike.setdefault((one.how, until, over, daily_in_words(one)), []).append(one)
    said = []
    for (how, until, over, daily), which in alike.items():
        steps = _steps(tuple(one.node for one in which), numbers)
        if how == "dries":
            # Nobody comes for it: when it is dry is told where the list of days does not.
            last = max(one.day for one in which)
            dry = f" until day {last}" if last > taken.days[-1].number else ""
            said.append(f"{steps} left to dry{dry}")
        elif how == "lies wet":
            lots = list(dict.fromkeys(the(lot) for one in which for lot in one.lots))
            stay = "stay" if _many(lots) else "stays"
            said.append(f"{_so_many(lots)} {stay} wet overnight")
        else:
            long = f"until {over or f'day {until}'}" if until else "overnight"
            long += f", until {over}" if over and not until else ""
            long += ", longer than usual" if over else ""
            said.append(f"{steps} left going {long}" + (f" ({daily})" if daily else ""))
    return said


def _over_in_words(left: LeftGoing) -> str:
    """When it is over what goes on for much longer than is written; empty for anything else.

    Hours would speak against those that its step says.
    """
    if left.over is None:
        return ""
    return f"{five_minutes(left.over)} on day {left.day}"


def daily_in_words(left: LeftGoing) -> str:
    """What is done each day while a step goes on for days, and when the place is closed then."""
    if not left.daily:
        return ""
    closed = "; somebody must look in while the place is closed too" * left.closed
    return f"each day: {left.daily}{closed}"


def _so_many(lots: list[str]) -> str:
    """Lots by their names; where they are many, how many they are."""
    return listed(lots) if len(lots) <= _MOST_NAMED else f"{in_words(len(lots))} lots"


def _many(lots: list[str]) -> bool:
    return len(lots) != 1 or is_plural(lots[0])


def _in_turn(
    taken: Taking,
    day: DayTaken,
    numbers: dict[int, str],
    followed: dict[str, str],
    turns: Mapping[int, str],
) -> str:
    """A day's steps in the order in which they begin, and when, but for what begins with it."""
    begins: dict[str, int] = {}
    for node in day.nodes:
        if node in numbers:
            minute = taken.begins[node][1]
            begins[numbers[node]] = min(minute, begins.get(numbers[node], minute))
    turned = _turned(day, numbers, turns)
    found: list[tuple[int, str, list[str]]] = [
        (minute, "at", [numbers[node]]) for node, minute in day.seen_to if node in numbers
    ]
    for run in _runs(day.nodes, numbers):
        for steps in _alike(run, turned):
            found.append((min(begins[each] for each in steps), "from", steps))
    said: list[str] = []
    for minute, word, run in sorted(found, key=lambda each: (each[0], each[1])):
        soon = not said and minute - day.first <= _SOON
        clock = "" if soon else f"{word} {five_minutes(minute)} "
        done = _run_in_words(run, set(numbers.values()), followed)
        whose = _whose([turned.get(number, ()) for number in run]) if word == "from" else ""
        said.append(f"{clock}see to {done}" if word == "at" else f"{clock}{done}{whose}")
    return "; ".join(said)


def _turned(
    day: DayTaken, numbers: dict[int, str], turns: Mapping[int, str]
) -> dict[str, tuple[str, ...]]:
    """The values that steps are done for on a day, by the printed number of those that are done
    for others on another day."""
    here: dict[str, list[str]] = {}
    for node in sorted(set(day.nodes) & turns.keys() & numbers.keys()):
        here.setdefault(numbers[node], []).append(turns[node])
    elsewhere = {numbers[node] for node in numbers.keys() & turns.keys() - set(day.nodes)}
    return {
        number: tuple(dict.fromkeys(values))
        for number, values in here.items()
        if number in elsewhere
    }


def _alike(run: list[str], turned: dict[str, tuple[str, ...]]) -> list[list[str]]:
    """A run of steps, parted where some are done for other values than the rest; where that is
    many parts, those that are done for some values alone are together."""
    parts = [list(part) for _, part in groupby(run, lambda number: turned.get(number, ()))]
    if sum(part[0] in turned for part in parts) <= _MOST_PARTS:
        return parts
    return [list(part) for _, part in groupby(run, turned.__contains__)]


def _whose(values: list[tuple[str, ...]]) -> str:
    """What steps are done for, by the values of each of them: where these differ, no names."""
    first = values[0]
    if any(each != first for each in values) or len(first) > _MOST_TURNS:
        return ", as far as each of them gets that day"
    return f" for {listed(first)}" if first else ""


def _run_in_words(run: list[str], every: set[str], followed: dict[str, str]) -> str:
    """Steps that follow one another: ``steps 1 and 2.1 to 2.4 (of “Alum on wool”)``.

    What is followed from its first step to its last counts as the one step that follows it.
    A title is said once: it is taken out of ``followed``.
    """
    whole = [_whole(number, set(run), every) for number in run]
    level: list[list[str]] = []
    for number in dict.fromkeys(whole):
        if level and _above(level[-1][-1]) == _above(number):
            level[-1].append(number)
        else:
            level.append([number])
    said: list[str] = []
    for numbers in level:
        title = followed.pop(_above(numbers[0]), "")
        pair = "and" if len(level) == 1 else "to"
        said.append(f"{_from_to(numbers, pair)}{f' (of “{title}”)' if title else ''}")
    return f"{'step' if len(set(whole)) == 1 else 'steps'} {listed(said)}"


def _above(number: str) -> str:
    """The printed number of the step that a step is within: 2 for 2.4, none for 2."""
    return number.rpartition(".")[0]


def _whole(number: str, there: set[str], every: set[str]) -> str:
    """The number of the outermost followed step all of whose steps are there; or its own."""
    parts = number.split(".")
    for depth in range(1, len(parts)):
        above = ".".join(parts[:depth])
        inner = {each for each in every if each.startswith(f"{above}.")}
        if inner <= there:
            return above
    return number


def _from_to(numbers: list[str], pair: str) -> str:
    """``4``, ``4 and 5``, ``4 to 8``; ``pair`` is the word between two."""
    if len(numbers) == 1:
        return numbers[0]
    return f"{numbers[0]} {pair if len(numbers) == _PAIR else 'to'} {numbers[-1]}"


def _steps(nodes: tuple[int, ...], numbers: dict[int, str]) -> str:
    """Steps by their printed numbers, those that follow one another as “3 to 5”."""
    runs = _runs(nodes, numbers)
    said: list[str] = []
    for run in runs:
        said += [f"{run[0]} to {run[-1]}"] if len(run) > _PAIR else run
    word = "step" if sum(map(len, runs)) == 1 else "steps"
    return f"{word} {listed(said)}" if said else ""


def _runs(nodes: tuple[int, ...], numbers: dict[int, str]) -> list[list[str]]:
    """The printed numbers of steps, in lists of those that follow one another."""
    places = {number: i for i, number in enumerate(dict.fromkeys(numbers.values()))}
    there = sorted({numbers[each] for each in nodes if each in numbers}, key=places.__getitem__)
    runs: list[list[str]] = []
    for number in there:
        if runs and places[runs[-1][-1]] + 1 == places[number]:
            runs[-1].append(number)
        else:
            runs.append([number])
    return runs
