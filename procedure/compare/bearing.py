"""Whether a change may change the colour, or what keeps people safe."""

from __future__ import annotations

from procedure.compare.sides import ComparedPart, Side
from procedure.facts.handling import grave, hazards
from procedure.flow.graph import WATER
from procedure.model import Block, Material, Step

# Words of a manner or a head that keep people safe.
SAFE_MANNERS = frozenset(
    (
        *("covered", "uncovered", "attended", "unattended", "labelled"),
        *("outdoors", "ventilated", "indoors"),
    )
)
# Families of rules by what their findings warn of.
OF_COLOUR = frozenset(("colour", "rinse", "soak"))
OF_SAFETY = frozenset(("safety",))
# What only washes takes no part in a colour.
_NO_COLOUR = frozenset(("detergent", "solvent"))


def colours(material: Material) -> bool:
    """True for a material that makes or changes a colour, or of which nothing is known."""
    return not material.roles or not frozenset(material.roles) <= _NO_COLOUR


def harms(material: Material) -> bool:
    """True for a material by which somebody may be badly hurt."""
    return bool(material.suspects) or any(grave(one) for one in hazards(material))


def coloured_in(side: Side, part: ComparedPart) -> bool:
    """True where fibre meets, or a bath gets, what makes or changes a colour."""
    step, node = part.step, part.node
    if isinstance(step, Block):
        return True
    if step.verb is None:
        return True
    if any(colours(made) for made in brought(side, part)):
        return True
    does = step.does
    if does.in_air or does.cleans or does.empties or does.rinses or does.washes:
        return does.airs
    return bool(node.bath) or does.scours or does.wets


def brought(side: Side, part: ComparedPart) -> list[Material]:
    """The materials that a step brings."""
    things = [thing for thing, _ in (*part.node.materials, *part.node.moved) if thing != WATER]
    found = [side.flow.materials.get(thing) for thing in things]
    return [pair[0] for pair in found if pair is not None]


def harmful_in(side: Side, part: ComparedPart) -> bool:
    """True where a step brings, or its bath holds, what may hurt somebody."""
    if any(harms(made) for made in brought(side, part)):
        return True
    moment = side.moments.get(part.node.id)
    bath = None if moment is None else moment.bath_before or moment.bath_after
    things = bath.contents if bath is not None else ()
    found = [side.flow.materials.get(thing) for thing in things]
    return any(harms(pair[0]) for pair in found if pair is not None)


def a_way_out(step: Step | Block) -> bool:
    """True where a step throws something away or keeps it for later."""
    if isinstance(step, Block):
        return False
    does = step.does
    return does.empties or does.stores or does.throws_matter_out


def keeps_safe(side: Side, part: ComparedPart) -> bool:
    """True for a step by which people are kept safe, or that handles what harms."""
    return a_way_out(part.step) or harmful_in(side, part)
