"""Pots of which a declaration names several: “pot: 2 pots, 10 L each”."""

from __future__ import annotations

from collections.abc import Sequence

from procedure.model import Equipment
from procedure.pipeline import Judged

_MOST = 50
"""More pots of one name than that are no workshop's."""


def several_pots(plans: Sequence[Judged]) -> tuple[dict[str, int], list[str]]:
    """How many there are of each pot by its name in the plans, and what is supposed of them.

    They are used side by side where every bath fits into one of them. Else a bath may be in
    several, and they are planned as one.
    """
    found: dict[str, int] = {}
    supposed: list[str] = []
    for plan in plans:
        for name, (pot, _) in plan.flow.pots.items():
            count = how_many(pot)
            if not pot.holds or count < 2:
                continue
            called = plan.study.called(name)
            if _each_fits(plan, name, pot, count):
                found[called] = count
                supposed.append(f"There are {count} of {called}; each bath is in one of them.")
            else:
                supposed.append(
                    f"There are {count} of {called}, and a bath may be in several of them: planned "
                    f"as one. If each is used by itself, say --pots {called}={count}."
                )
    return found, supposed


def how_many(pot: Equipment) -> int:
    """How many there are of a pot or a hotplate, as it is declared; 1 where that is not sure."""
    said = pot.several
    if said is None or said.kind != "count" or said.low is None or said.low != said.high:
        return 1
    return int(said.low) if said.low.denominator == 1 and said.low <= _MOST else 1


def _each_fits(plan: Judged, name: str, pot: Equipment, count: int) -> bool:
    """Whether no bath is larger than one of the pots is, whether or not “each” is said."""
    holds = pot.capacity
    if holds is None or holds.low is None:
        return False
    baths = (moment.bath_after for moment in plan.trace.moments)
    volumes = [bath.volume for bath in baths if bath is not None and bath.pot == name]
    known = [each for each in volumes if each is not None]
    return not any(each.open or each.high > holds.low / count for each in known)
