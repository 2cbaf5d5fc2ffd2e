"""Heat that follows from what is done: liquors mix, and what is moved or left alone cools."""

from __future__ import annotations

from fractions import Fraction

from procedure.quantity.interval import Interval
from procedure.trace.readings import ROOM
from procedure.trace.states import BathState
from procedure.vocabulary import vocabulary
from procedure.vocabulary.thresholds import threshold


def mixed(
    one: Interval | None,
    litres: Interval | None,
    other: Interval | None,
    more: Interval | None,
) -> Interval | None:
    """The heat (°C) of two liquors together; None where a heat is not known.

    Each has its share by volume (water and dye liquor hold nearly the same heat by the
    litre); where a volume is not known, the heat lies anywhere between the two.
    """
    if one is None or other is None:
        return None
    if litres is None or more is None or litres.high + more.high <= 0:
        return one.hull(other)
    ends = []
    for heat, heat_added, pairs in (
        (one.low, other.low, ((litres.low, more.high), (litres.high, more.low))),
        (one.high, other.high, ((litres.low, more.high), (litres.high, more.low))),
    ):
        sums = [
            (heat * had + heat_added * added) / (had + added)
            for had, added in pairs
            if had + added > 0
        ]
        ends.append(sums)
    return Interval(min(ends[0]), max(ends[1]))


def handled(bath: BathState) -> BathState:
    """A hot bath after it was strained, poured or whisked: cooler by some degrees at least."""
    if bath.heat is None or bath.heat.high <= ROOM.high:
        return bath
    lost = threshold("cooled by straining").value
    low = max(min(ROOM.low, bath.heat.low), bath.heat.low - lost)
    return bath._replace(heat=Interval(low, bath.heat.high))


def is_said(bath: BathState, end: Interval | None) -> bool:
    """True where the writer says how hot a bath is that a step leaves at such a heat.

    A step without a heat of its own leaves the bath as it was, which nobody said then either.
    """
    return bath.heat_said or (end is not None and end != bath.heat)


def left_alone(bath: BathState, minutes: Fraction) -> BathState:
    """A hot bath after so many minutes of nothing done to it: as cool as the room, perhaps."""
    if bath.heat is None or minutes < threshold("bath cools alone").value:
        return bath
    return bath._replace(heat=bath.heat.hull(ROOM), heat_said=False)


def stood_until_next(bath: BathState, minutes: Fraction) -> BathState:
    """A bath between two rounds so far apart: after a night, as cool as the room for sure."""
    if bath.heat is None or minutes < vocabulary().heats["overnight"].low:
        return left_alone(bath, minutes)
    return bath._replace(heat=ROOM, heat_said=False)
