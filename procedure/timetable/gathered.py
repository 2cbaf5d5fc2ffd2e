"""What grows while plans are gone through: activities, waits, what is held, pots."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from procedure.model import Equipment
from procedure.pipeline import Judged
from procedure.timetable.plates import Plates
from procedure.timetable.work import Activity, Hold, Lag, Resource, VatHeat, VesselUse, WarmAgain


@dataclass
class Gathered:
    """What grows while plans are gone through.

    ``unclean`` are the pots that a procedure leaves as its last bath left them, by the key of
    the step that empties them. ``turns`` are the turns in vats, of which there is one at a time.
    ``night`` are the minutes for which the place is closed from one day to the next; ``breaks``
    says that it is closed at midday too. ``lidless`` are the pots that have no lid.
    ``goes_on`` are the activities that begin by themselves when what is before them is over, each
    with the one alone that it cools after; empty where all that is before it counts.
    """

    plates: Plates
    line: int | None
    participants: tuple[str, ...] = ()
    copies: Mapping[str, int] = field(default_factory=dict)
    sinks: int | None = None
    night: int = 0
    breaks: bool = False
    activities: list[Activity] = field(default_factory=list)
    lags: list[Lag] = field(default_factory=list)
    holds: list[Hold] = field(default_factory=list)
    warmth: list[WarmAgain] = field(default_factory=list)
    pots: dict[str, str] = field(default_factory=dict)
    tubs: set[str] = field(default_factory=set)
    lidless: set[str] = field(default_factory=set)
    declared: dict[str, dict[object, str]] = field(default_factory=dict)
    apart: list[str] = field(default_factory=list)
    unclean: dict[str, str] = field(default_factory=dict)
    turns: list[Resource] = field(default_factory=list)
    at_leisure: set[str] = field(default_factory=set)
    made_up: set[str] = field(default_factory=set)
    goes_on: dict[str, str] = field(default_factory=dict)
    vats: list[VatHeat] = field(default_factory=list)
    waters: list[VesselUse] = field(default_factory=list)
    grams: dict[tuple[str, str], int] = field(default_factory=dict)

    def pot_key(self, plan: Judged, pot: str) -> str:
        """The resource that a pot is.

        Pots of one name in several plans are one where their declarations agree, and else
        each is its own; ``apart`` says so.
        """
        name = plan.study.called(pot)
        found = plan.flow.pots.get(pot)
        known = self.declared.setdefault(name, {})
        like = _like(found[0]) if found is not None else None
        if like not in known:
            title = plan.model.title.text if plan.model.title else plan.file
            known[like] = f"pot {name}" + (f" of {title}" if known else "")
            if len(known) > 1:
                self.apart.append(
                    f"The {name} of {title} is declared otherwise than that of a procedure "
                    "before it: planned as two pots."
                )
        return known[like]


def _like(pot: Equipment) -> tuple[object, ...]:
    """What makes two declarations those of one pot: stuff, kind, size, lid."""
    words = tuple(each.name if each is not None else "" for each in (pot.metal, pot.kind))
    size = pot.capacity.ends if pot.capacity is not None and pot.capacity.known else None
    return (*words, None if size is None else (size.low, size.high), pot.lidded)
