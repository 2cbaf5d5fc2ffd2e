"""How long a step takes, how much of a person it takes, how long things may wait: from data.

The figures are rows of ``hands_on_times.csv`` and ``waits.csv``, each with its source.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from operator import eq

from procedure.quantity.record import NamedTuple
from procedure.timetable.work import Attendance, Lag, Lies
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


LOSES_ITS_HEAT = ("bath at its heat", "bath made up warm")
"""The kinds of waits of what is wanted as warm as it was made."""


class Wait(NamedTuple):
    """How many minutes something may wait, why, which follows “because”, and what lies there.

    Up to ``wish`` minutes nothing is said of it; beyond them the papers tell what is done
    ``meanwhile``, with ``{it}`` for the fibre; ``dried`` is how it is hung up then (“rinsed and
    hung up”), to be wetted out again, empty where it is not. It may be ``at_a_pinch`` where no
    plan with all steps at full length keeps to ``most``, and ``at_last`` where no plan does. They
    are None where ``most`` is all there is. ``kind`` is what waits, by which one is known.
    """

    least: int
    most: int
    why: str
    source: str
    kind: str = ""
    lies: Lies = Lies.ANYTHING
    wish: int | None = None
    at_a_pinch: int | None = None
    at_last: int | None = None
    meanwhile: str = ""
    dried: str = ""

    @property
    def wished(self) -> int:
        """The most minutes of which nothing need be said."""
        return self.most if self.wish is None else self.wish


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


def usual(effect: str, *cases: str) -> Usual:
    """What is usual for an effect in such a case: the first of the cases that the data tells apart.

    An effect that the data lacks takes as long as the one that is most like it, of those with
    the same part in the flow and the same handler in the trace; else as long as free words do.
    """
    known, like = _usual(), _like(effect)
    keys = [(like, when) for when in (*cases, "")]
    return next((known[key] for key in keys if key in known), known["", ""])


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


def waiting(lag: Lag, wait: Wait | None, more: int = 0) -> Lag:
    """The same lag with the limits and words of a wait, each ``more`` minutes longer."""
    if wait is None:
        return lag
    return replace(
        lag,
        most=wait.most + more,
        why=wait.why,
        lies=wait.lies,
        wish=None if wait.wish is None else wait.wish + more,
        at_a_pinch=None if wait.at_a_pinch is None else wait.at_a_pinch + more,
        at_last=None if wait.at_last is None else wait.at_last + more,
        meanwhile=wait.meanwhile,
        dried=wait.dried,
        kind=wait.kind,
    )


@cache
def waits() -> dict[str, Wait]:
    """The waits by what waits."""
    return {
        row["what"]: Wait(
            int(row["least_min"]),
            int(row["most_min"]),
            row["why"],
            row["source"],
            row["what"],
            _LIES[row["lies"]],
            wish=_minutes(row["wish_min"]),
            at_a_pinch=_minutes(row["pinch_min"]),
            at_last=_minutes(row["last_min"]),
            meanwhile=row["meanwhile"],
            dried=row["dried"],
        )
        for row in rows("waits")
    }


def _minutes(cell: str) -> int | None:
    return int(cell) if cell else None
