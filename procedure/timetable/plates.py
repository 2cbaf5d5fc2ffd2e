"""What steps take of the hotplates and of the drying line.

A pot on the heat takes a ring, and that of the hotplate which the step names (``on hob``).
While it is brought to the heat it takes the plate's whole power, since the estimate of how
long that takes supposes so; where plates have several rings, or the supply gives less than
all of them take, two pots are not heated at once beyond that. Holding a heat takes little
beside it and is not counted (common practice).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from procedure.facts.drying import grams_hung
from procedure.pipeline import Judged
from procedure.timetable.terms import Asked
from procedure.timetable.work import Activity, Need, Resource
from procedure.timetable.written_out import Turn

RINGS, LINE, POWER = "rings", "line", "power"


@dataclass(frozen=True)
class Plates:
    """The hotplates by name, with their watts where declared, and how many rings there are.

    ``power`` is how many watts may be taken at once; None where that cannot be too little.
    """

    watts: dict[str, int | None]
    rings: int
    power: int | None

    @property
    def rings_each(self) -> int:
        """Rings of one plate; the first takes the odd ones."""
        return max(1, ceil(self.rings / max(1, len(self.watts))))


def plates_of(plans: Sequence[Judged], asked: Asked) -> Plates:
    """The hotplates that the plans declare, and what is asked of them."""
    watts: dict[str, int | None] = {}
    for plan in plans:
        for name, (pot, _) in plan.flow.pots.items():
            if pot.kind is not None and pot.kind.table == "heater":
                power = pot.power.ends if pot.power is not None and pot.power.known else None
                watts[plan.study.called(name)] = ceil(power.high) if power is not None else None
    rings = asked.rings if asked.rings is not None else max(1, len(watts))
    known = [each for each in watts.values() if each]
    declared = sum(known) if known and len(known) == len(watts) else None
    enough = rings <= len(watts) and (asked.power is None or asked.power >= (declared or 0))
    if declared is None or enough:
        return Plates(watts, rings, None)
    # The strongest plate can be used in any case, by itself.
    return Plates(watts, rings, max(min(declared, asked.power or declared), max(known)))


def as_on_the_weakest(plates: Plates) -> str:
    """A sentence on heating by plates that are not alike; empty where they are."""
    known = {name: watts for name, watts in plates.watts.items() if watts}
    if len(set(known.values())) < 2:
        return ""
    weakest = min(known, key=known.__getitem__)
    return (
        "A step that names no hotplate is planned to take as long as on the weakest of them, "
        f"{weakest}."
    )


def named_plate(plan: Judged, turn: Turn) -> str:
    """The hotplate that a step names, or none."""
    on = turn.step.on
    return plan.study.called(turn.node.names.get(on.text, on.text)) if on is not None else ""


def ring_needs(plates: Plates, named: str) -> tuple[Need, ...]:
    """What a pot on the heat takes of rings."""
    own = (Need(f"ring {named}"),) if named in plates.watts and len(plates.watts) > 1 else ()
    return (Need(RINGS), *own)


def heating_needs(plates: Plates, named: str) -> tuple[Need, ...]:
    """What the heating of a pot takes of power: all that its plate has."""
    if plates.power is None:
        return ()
    known = [watts for watts in plates.watts.values() if watts]
    watts = plates.watts.get(named) or max(known)
    return (Need(POWER, min(watts, plates.power)),)


def line_needs(turn: Turn) -> tuple[Need, ...]:
    """What a step takes of the drying line: the dry weight of the lots that dry in it.

    Whole grams are of the sum: twelve lots of 4 oz are 3 lb.
    """
    grams = round(sum(grams_hung(turn.moment).values()))
    return (Need(LINE, grams),) if grams else ()


def resources(
    plates: Plates, activities: Sequence[Activity], line: int | None, in_pounds: bool = False
) -> list[Resource]:
    """The rings, the power and the drying line, as far as steps take them.

    ``in_pounds`` says that what hangs on the line is told in ounces and pounds.
    """
    needed = {need.resource for each in activities for need in each.needs}
    names = tuple(plates.watts) if len(plates.watts) == plates.rings else ()
    brings: tuple[Need, ...] = ()
    if plates.power is not None and POWER in needed:
        brings = (Need(POWER, max(watts for watts in plates.watts.values() if watts)),)
    found = [Resource(RINGS, "hotplate", "burner", plates.rings, names, comes_with=brings)]
    for name in plates.watts:
        if f"ring {name}" in needed:
            rings = plates.rings_each
            found.append(
                Resource(f"ring {name}", f"the plate {name}", "room", rings, one_more=False)
            )
    if plates.power is not None and POWER in needed:
        found.append(
            Resource(POWER, "the plates’ power", "power", plates.power, unit="W", one_more=False)
        )
    if line and LINE in needed:
        found.append(Resource(LINE, "the drying line", "line", line, unit="g", in_pounds=in_pounds))
    return found
