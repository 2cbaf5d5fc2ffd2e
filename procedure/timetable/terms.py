"""What is asked of a timetable: when it begins, the hours, the hands, what has happened."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from procedure.collection.opening_hours import Hours


@dataclass(frozen=True, slots=True)
class Happened:
    """A step that has been done: its label, line or printed number, when it began and ended.

    Where only its end is known it began as long before as it takes at the least. What was
    ``left_out`` was not done, and is not to be done.
    """

    step: str
    end: datetime | None
    start: datetime | None = None
    left_out: bool = False


@dataclass(frozen=True, slots=True)
class Asked:
    """What is asked of a timetable.

    ``hands`` are the people who may do any work, by name or numbered; ``rings`` is how many
    pots can be heated at once, None for one a hotplate that is declared; ``line`` is how
    many grams of fibre may dry at once, None for any; ``power`` the watts that all plates
    may take together, None for as much as they are declared with. ``now`` is the moment
    from which the rest is planned where something has happened. ``participants`` work at the
    lots of their names alone, beside the ``hands``. ``pots`` says of which vessels there are
    several; ``sinks`` is how many people can rinse under a tap or pour away at once, None for
    any.
    """

    begins: datetime
    hours: Hours
    hours_said: str = ""
    finish_by: datetime | None = None
    hands: tuple[str, ...] = ("you",)
    rings: int | None = None
    line: int | None = None
    happened: tuple[Happened, ...] = ()
    now: datetime | None = None
    power: int | None = None
    participants: tuple[str, ...] = ()
    pots: tuple[tuple[str, int], ...] = ()
    sinks: int | None = None
