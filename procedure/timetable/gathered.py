"""What grows while plans are gone through: activities, waits, what is held, pots."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from procedure.timetable.plates import Plates
from procedure.timetable.work import Activity, Hold, Lag


@dataclass
class Gathered:
    """What grows while plans are gone through."""

    plates: Plates
    line: int | None
    participants: tuple[str, ...] = ()
    copies: Mapping[str, int] = field(default_factory=dict)
    sinks: int | None = None
    activities: list[Activity] = field(default_factory=list)
    lags: list[Lag] = field(default_factory=list)
    holds: list[Hold] = field(default_factory=list)
    pots: dict[str, str] = field(default_factory=dict)
    tubs: set[str] = field(default_factory=set)
