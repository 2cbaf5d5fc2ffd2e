"""What steps take of the hotplates and of the drying line.

A pot on the heat takes a ring, and that of the hotplate which the step names (``on hob``).
While it is brought to the heat it takes the plate's whole power, since the estimate of how
long that takes supposes so; where plates have several rings, or the supply gives less than
all of them take, two pots are not heated at once beyond that. A rise that is written to take its
time (``over 45 min``) takes of a plate that several pots share no more than it needs for that; of
a supply that gives too little the whole, since a plate is on or off. Holding a heat takes little
beside it and is not counted (common practice).
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from math import ceil

from procedure.facts.drying import grams_hung
from procedure.pipeline import Judged
from procedure.quantity.number_words import listed
from procedure.timetable.several_pots import how_many
from procedure.timetable.terms import Asked
from procedure.timetable.work import Activity, Need, Resource
from procedure.timetable.written_out import Turn
from procedure.vocabulary import vocabulary
from procedure.vocabulary.estimates import figure
from procedure.weigh.heating import without_watts

RINGS, LINE, POWER = "rings", "line", "power"


@dataclass(frozen=True)
class Plates:
    """The hotplates by name, with their watts where declared, and how many rings there are.

    ``each`` is how many rings each has, as it is declared (“2 hotplates”, “stove, 4 burners”).
    ``power`` is how many watts may be taken at once; None where that cannot be too little. It is
    ``supplied`` where the plates take more than the supply gives; else several pots share a plate.
    """

    watts: dict[str, int | None]
    each: dict[str, int]
    rings: int
    power: int | None
    supplied: bool = False

    def rings_of(self, name: str) -> int:
        """Rings of one plate; where others are asked for than declared all have as many."""
        if sum(self.each.values()) == self.rings:
            return self.each[name]
        return max(1, ceil(self.rings / max(1, len(self.watts))))


def plates_of(plans: Sequence[Judged], asked: Asked) -> Plates:
    """The hotplates that the plans declare, and what is asked of them."""
    watts: dict[str, int | None] = {}
    each: dict[str, int] = {}
    apart: dict[str, int] = {}
    for plan in plans:
        for name, (pot, _) in plan.flow.pots.items():
            if pot.kind is not None and pot.kind.table == "heater":
                power = pot.power.ends if pot.power is not None and pot.power.known else None
                called = plan.study.called(name)
                watts[called] = ceil(power.high) if power is not None else None
                each[called] = how_many(pot)
                # Two hotplates have each its power; two rings of one share it.
                heaters = [one for one in pot.words if vocabulary().find(one, "heater")]
                apart[called] = each[called] if len(heaters) < 2 else 1
    rings = asked.rings if asked.rings is not None else max(1, sum(each.values()))
    known = {name: power for name, power in watts.items() if power}
    declared = None
    if known and len(known) == len(watts):
        declared = sum(power * apart[name] for name, power in known.items())
    supplied = asked.power is not None and asked.power < (declared or 0)
    if declared is None or (rings <= sum(apart.values()) and not supplied):
        return Plates(watts, each, rings, None)
    # The strongest plate can be used in any case, by itself.
    at_once = max(min(declared, asked.power or declared), *known.values())
    return Plates(watts, each, rings, at_once, supplied)


def of_rises(plates: Plates, named: Collection[str]) -> Iterator[str]:
    """What is supposed of the heatings of a plan, each with the plate that it names, or none."""
    weakest = _as_on_the_weakest(plates) if not all(named) else ""
    shared = _as_shared(plates) if named else ""
    yield from filter(None, (weakest, shared))


def of_unknown_power(plan: Judged) -> Iterator[str]:
    """What is supposed of plates and rings that are declared without their watts."""
    names = without_watts(plan)
    if names:
        watts = f"{figure('supposed plate power')[0]} W"
        yield (
            f"No power is said of {listed(names)}: heating takes as long as with {watts}. Write "
            "its watts with it, “hotplate, 2 kW”."
        )


def _as_shared(plates: Plates) -> str:
    """A sentence on plates on which more pots are heated than there are plates; else empty."""
    if plates.power is None or plates.supplied:
        return ""
    return (
        f"{plates.rings} pots at once share the {plates.power} W of {listed(list(plates.watts))}: "
        "what takes all of a plate is brought to its heat one after another. Where there are more "
        "plates, declare each, with its watts."
    )


def _as_on_the_weakest(plates: Plates) -> str:
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


def heating_needs(plates: Plates, named: str, enough: int | None = None) -> tuple[Need, ...]:
    """What the heating of a pot takes of power: all that its plate has.

    Of plates that several pots share, no more than is ``enough`` for it. What names no plate is
    timed as on the weakest there is, and takes as much as that has.
    """
    if plates.power is None:
        return ()
    known = [watts for watts in plates.watts.values() if watts]
    own = plates.watts.get(named)
    if plates.supplied:
        return (Need(POWER, min(own or max(known), plates.power)),)
    # Which rings are on a plate that is named among several, nobody says.
    alone = own is None or len(plates.watts) == 1
    watts = own or min(known)
    return (Need(POWER, min(watts, enough) if alone and enough is not None else watts),)


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
    if plates.power is not None and not plates.supplied and POWER in needed:
        brings = (Need(POWER, max(watts for watts in plates.watts.values() if watts)),)
    found = [Resource(RINGS, "hotplate", "burner", plates.rings, names, comes_with=brings)]
    for name in plates.watts:
        if f"ring {name}" in needed:
            rings = plates.rings_of(name)
            found.append(
                Resource(f"ring {name}", f"the plate {name}", "room", rings, one_more=False)
            )
    if plates.power is not None and POWER in needed:
        found.append(
            Resource(
                POWER,
                "the plates’ power",
                "power",
                plates.power,
                unit="W",
                one_more=plates.supplied,
            )
        )
    if line and LINE in needed:
        found.append(Resource(LINE, "the drying line", "line", line, unit="g", in_pounds=in_pounds))
    return found
