"""How long a plan takes, for its papers: by days and clock, in the hours of its workshop.

A paper is for any week, so the plan begins on an opening of its own: day 1. Where the
workshop states no hours, 9:00 to 18:00 on every day and one pair of hands are supposed.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import lru_cache

from procedure.collection.opening_hours import Hours
from procedure.collection.workshop import Opening
from procedure.pipeline import Judged
from procedure.quantity.number_words import listed
from procedure.timetable.from_plans import Drawn, work_of
from procedure.timetable.planned import Stretch, Timetable
from procedure.timetable.planned_words import span
from procedure.timetable.planning import fitted
from procedure.timetable.reasons import Unfit
from procedure.timetable.solving import NotKnown
from procedure.timetable.terms import Asked
from procedure.timetable.unplannable import CannotPlan
from procedure.timetable.work import Work
from procedure.timetable.written_out import turn_of, unrolled

# A paper is for any week: a good plan at once is worth more to it than the very best.
_EFFORT = 0.05
# A Monday; no date of it is ever shown.
_SOME_MONDAY = datetime(2001, 1, 1)
_USUAL_HOURS = "9:00-18:00"
_PAIR = 2
_FIVE, _TWO_HOURS, _TEN_HOURS = 5, 120, 600
# What begins so many minutes after somebody has come begins with the day.
_SOON = 30


@dataclass(frozen=True, slots=True)
class DayTaken:
    """A day on which someone is there: from and until which minute of the day they are.

    ``number`` counts calendar days from 1. ``nodes`` are the steps that begin on it, by their
    nodes in the flow, in the order in which they begin; ``overnight`` are those that are
    left going when it is over.
    """

    number: int
    first: int
    last: int
    hands_on: int
    nodes: tuple[int, ...]
    overnight: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Taking:
    """The time that a plan takes.

    ``length`` are the minutes from its start to the end of its last step, nights and all, and
    ``shorter`` the same where what may be left out is, and repeats come as seldom as they may.
    ``hands_on`` are minutes of work, of one person or of several at once. ``begins`` gives the
    day and the minute of the day at which a step first begins, by its node.
    """

    length: int
    shorter: int
    hands_on: int
    days: tuple[DayTaken, ...]
    calendar_days: int
    begins: dict[int, tuple[int, int]]
    hours: str
    people: int
    proven: bool
    supposed: tuple[str, ...]

    @property
    def sentences(self) -> tuple[str, ...]:
        """The time it takes in whole sentences."""
        there = "1 day" if len(self.days) == 1 else f"{len(self.days)} days"
        from_to = "" if self.calendar_days == 1 else f" over {self.calendar_days} days"
        said = [
            f"It takes {about(self.length)}{from_to}, nights and waits included, and someone has "
            f"to be there on {there}, with {about(self.hands_on)} of hands-on work.",
        ]
        if self.calendar_days == 1:
            said = [
                f"It can be done in one day: it takes {about(self.length)}, with "
                f"{about(self.hands_on)} of hands-on work."
            ]
        if self.shorter < self.length:
            said.append(
                "With what may be left out left out, and repeats as few as they may be, it takes "
                f"{about(self.shorter)}."
            )
        whose = "one person" if self.people == 1 else f"{self.people} people"
        said.append(
            f"That is for {whose}, in the hours {self.hours}"
            + (", and no plan is shorter." if self.proven else ".")
        )
        return tuple(said)

    def clock_of(self, node: int) -> str:
        """When a step begins: “9:15”, or “day 2, 9:15” where there are several days."""
        if node not in self.begins:
            return ""
        day, minute = self.begins[node]
        return _clock(minute) if self.calendar_days == 1 else f"day {day}, {_clock(minute)}"

    def day_in_words(self, day: DayTaken, numbers: dict[int, str], followed: dict[str, str]) -> str:
        """A day's steps by their printed numbers, its hours, and what goes on at night.

        ``followed`` are the titles of the procedures that are followed, by the printed number
        of the step that does: 2.4 is a step of the one that step 2 follows, and is said to be.
        A title is said once: it is taken out of them.
        """
        said = f"Day {day.number}, {_clock(day.first)} to {_clock(day.last, end=True)}"
        numbers = {node: numbers[node] for node in numbers if node in self.begins}
        minutes = {numbers[node]: self.begins[node][1] for node in numbers}
        steps = _in_turn(day, numbers, minutes, followed)
        said += f": {steps}" if steps else ": see to what has gone on"
        left = _steps(day.overnight, numbers)
        return f"{said}; {left} left going overnight." if left else f"{said}."


def about(minutes: int) -> str:
    """A length of time as a person says it: about 40 min, about 5½ hours, about 3 days 4 hours.

    To five minutes below two hours, to half an hour below ten, then to the hour.
    """
    if minutes < _TWO_HOURS:
        return f"about {span(max(_FIVE, round(minutes / _FIVE) * _FIVE))}"
    halves = round(minutes / 30)
    if minutes < _TEN_HOURS:
        hours = f"{halves // 2}½" if halves % 2 else f"{halves // 2}"
        return f"about {hours} hours"
    days, hours_left = divmod(round(minutes / 60), 24)
    if days < _PAIR:
        return f"about {days * 24 + hours_left} hours"
    rest = f" {hours_left} hour{'s' * (hours_left > 1)}" if hours_left else ""
    return f"about {days} days{rest}"


def _in_turn(
    day: DayTaken, numbers: dict[int, str], minutes: dict[str, int], followed: dict[str, str]
) -> str:
    """A day's steps in the order in which they begin, and when, but for what begins with it.

    ``minutes`` is the minute of the day at which each step begins, by its printed number.
    """
    runs = _runs(day.nodes, numbers)
    said: list[str] = []
    for run in sorted(runs, key=lambda run: min(minutes[each] for each in run)):
        begins = min(minutes[each] for each in run)
        clock = "" if not said and begins - day.first <= _SOON else f"from {_clock(begins)} "
        said.append(f"{clock}{_run_in_words(run, set(numbers.values()), followed)}")
    return "; ".join(said)


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


def _clock(minute: int, end: bool = False) -> str:
    """A time of day as a person plans it: to five minutes, rather early than late.

    An ``end`` is rather late. No plan of a dyer is truer than that.
    """
    minute = -(-minute // _FIVE) * _FIVE if end else minute // _FIVE * _FIVE
    return f"{minute // 60}:{minute % 60:02}"


def time_taken(plan: Judged) -> Taking | str:
    """The time that a plan takes, or in a sentence why that cannot be told.

    Solved where OR-Tools is there, else by the list rule.
    """
    stated = plan.study.workshop.opening if plan.study.workshop is not None else Opening()
    asked = _asked(stated)
    try:
        drawn = work_of([plan], asked)
        made = made_once(drawn.work)
        if isinstance(made, Unfit):
            return f"It cannot be done in the hours of the workshop ({asked.hours_said})."
        shorter = _shorter(plan, asked, drawn, made)
    except (CannotPlan, NotKnown):
        return "How long it takes cannot be told."
    return _taking(plan, asked, made, shorter, drawn.supposed)


def days_of(plan: Judged) -> dict[int, int] | None:
    """The day, from 1, on which each step first begins, by its node in the flow.

    None where the time that the plan takes cannot be told.
    """
    taken = time_taken(plan)
    if isinstance(taken, str):
        return None
    return {node: day for node, (day, _) in taken.begins.items()}


@lru_cache(maxsize=64)
def made_once(work: Work, length_alone: bool = False) -> Timetable | Unfit:
    """The plan; the same work is planned once, though many papers are made of it."""
    return fitted(work, _EFFORT, length_alone, reasons=False).made


def _asked(stated: Opening) -> Asked:
    hours = stated.hours or Hours()
    if hours.dates:
        hours = Hours(hours.times)
    open_days = [day for day in range(7) if day in hours.weekdays]
    first = next((day for day in open_days if (day - 1) % 7 not in hours.weekdays), open_days[0])
    opens = hours.times[0][0]
    begins = _SOME_MONDAY + timedelta(days=first, hours=opens.hour, minutes=opens.minute)
    return Asked(
        begins,
        hours,
        stated.said or _USUAL_HOURS,
        hands=stated.people or ("you",),
        rings=stated.rings,
        line=stated.line,
        power=stated.power,
        pots=stated.pots,
        sinks=stated.sinks,
    )


def _shorter(plan: Judged, asked: Asked, drawn: Drawn, made: Timetable) -> int:
    """How long it takes the shorter way through its blocks."""
    if not drawn.longer_way:
        return made.finish
    try:
        other = made_once(work_of([plan], asked, longer=False).work, length_alone=True)
    except CannotPlan:
        return made.finish  # nothing is left to do
    return min(made.finish, other.finish) if isinstance(other, Timetable) else made.finish


def _taking(
    plan: Judged, asked: Asked, made: Timetable, shorter: int, supposed: tuple[str, ...]
) -> Taking:
    node_of = {turn.key: turn.node.id for turn in unrolled(plan).turns}
    nodes = {each.key: node_of[turn_of(each.key)] for each in made.placed}
    start = min(each.start for each in made.placed)
    offset = asked.begins.hour * 60 + asked.begins.minute
    begins: dict[int, tuple[int, int]] = {}
    for each in sorted(made.placed, key=lambda place: (place.start, place.end, place.key)):
        day, minute = divmod(each.start + offset, 1440)
        begins.setdefault(nodes[each.key], (day + 1, minute))
    days = []
    for number in sorted({(piece.start + offset) // 1440 for piece in made.hands_on}):
        pieces = [p for p in made.hands_on if (p.start + offset) // 1440 == number]
        closes = max(w.closes for w in made.work.windows if w.day == number)
        days.append(
            DayTaken(
                number + 1,
                pieces[0].start + offset - 1440 * number,
                max(piece.end for piece in (*pieces, *_hot_in(made, pieces[0].start, closes)))
                + offset
                - 1440 * number,
                sum(piece.end - piece.start for piece in pieces),
                tuple(node for node, (day, _) in begins.items() if day == number + 1),
                _going(made, nodes, closes),
            )
        )
    last_day = (made.finish - 1 + offset) // 1440 + 1
    return Taking(
        made.finish - start,
        shorter - start,
        sum(piece.end - piece.start for piece in made.hands_on),
        tuple(days),
        last_day,
        begins,
        asked.hours_said,
        len(asked.hands),
        made.shortest,
        supposed,
    )


def _hot_in(made: Timetable, opens: int, closes: int) -> list[Stretch]:
    """The baths for whose sake somebody stays on a day, until they may be alone."""
    return [each for each in made.hot if opens <= each.start and each.end <= closes]


def _going(made: Timetable, nodes: dict[str, int], closes: int) -> tuple[int, ...]:
    """What goes on when a day is over, what begins just as it closes among it."""
    there = [each for each in made.placed if each.start <= closes < each.end]
    return tuple(dict.fromkeys(nodes[each.key] for each in there))
