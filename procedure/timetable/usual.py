"""How long a step takes, how much of a person it takes, how long things may wait: from data.

The figures are rows of ``hands_on_times.csv`` and ``waits.csv``, each with its source.
"""

from __future__ import annotations

from functools import cache
from operator import eq

from procedure.quantity.record import NamedTuple
from procedure.timetable.work import Attendance, Lies
from procedure.vocabulary.data_files import rows
from procedure.vocabulary.effects import effects


class Usual(NamedTuple):
    """What is usual for a step: minutes, and how much of a person it takes."""

    low: int
    high: int
    attendance: Attendance
    at_start: int
    at_end: int
    every: int
    night: bool
    ending: str
    source: str


class Wait(NamedTuple):
    """How many minutes something may wait, why, which follows “because”, and what lies there."""

    least: int
    most: int
    why: str
    source: str
    lies: Lies = Lies.ANYTHING


_LIES = {
    "unrinsed": Lies.UNRINSED,
    "rinsed": Lies.RINSED,
    "wetted": Lies.WETTED,
    "": Lies.ANYTHING,
}


@cache
def _usual() -> dict[tuple[str, str], Usual]:
    return {
        (row["effect"], row["when"]): Usual(
            int(row["low_min"]),
            int(row["high_min"]),
            Attendance(row["attendance"]),
            int(row["start_min"] or 0),
            int(row["end_min"] or 0),
            int(row["every_min"] or 0),
            row["night"] == "yes",
            row["ending"],
            row["source"],
        )
        for row in rows("hands_on_times")
    }


def usual(effect: str, when: str = "") -> Usual:
    """What is usual for an effect in such a case.

    An effect that the data lacks takes as long as the one that is most like it, of those with
    the same part in the flow and the same handler in the trace; else as long as free words do.
    """
    known, like = _usual(), _like(effect)
    return known.get((like, when)) or known.get((like, "")) or known["", ""]


@cache
def _like(name: str) -> str:
    """The effect itself where the data has it, else the one with most of its record."""
    known = {effect for effect, _ in _usual()}
    own = effects().get(name)
    if name in known or own is None:
        return name
    every = [one for one in effects().values() if one.name in known]
    same = [one for one in every if (one.part, one.trace) == (own.part, own.trace)]
    likest = max(same, key=lambda one: sum(map(eq, one, own)), default=None)
    return likest.name if likest is not None else ""


@cache
def waits() -> dict[str, Wait]:
    """The waits by what waits."""
    return {
        row["what"]: Wait(
            int(row["least_min"]),
            int(row["most_min"]),
            row["why"],
            row["source"],
            _LIES[row["lies"]],
        )
        for row in rows("waits")
    }
