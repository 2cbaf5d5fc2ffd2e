"""Equipment: pots that are large enough for what is in them."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from procedure.facts.liquor import (
    declared,
    is_vat,
    lots_in,
    pot_of,
)
from procedure.facts.pot_fit import advice
from procedure.facts.study import Study
from procedure.findings import Percent, Volume, say
from procedure.flow.graph import WATER
from procedure.quantity.interval import Interval
from procedure.rules.rule import Found, at_node, rule
from procedure.trace import Moment
from procedure.vocabulary.thresholds import threshold

FAMILY = "equipment"


THOUSAND = Fraction(1000)


def _filled(moment: Moment) -> tuple[str, Interval] | None:
    """The pot of a step and the litres in it: liquor, fibre and plant matter."""
    node = moment.node
    bath = moment.bath_after
    if bath is not None:
        pot, volume = bath.pot, bath.volume
        plants = [c.grams for c in bath.contents.values() if c.solid and c.grams is not None]
    else:
        water = [a.litres for t, _, a in moment.amounts if t == WATER and a is not None]
        pot, volume = node.pot, water[0] if node.own_water and water else None
        plants = []
    lots = lots_in(moment)
    if not pot or (volume is None and not lots):
        return None
    # Where the water is not said, the fibre at least is in it.
    low, high = volume or (Fraction(0), Fraction(0))
    fibre = threshold("fibre displacement").value / THOUSAND
    plant = threshold("plant displacement").value / THOUSAND
    for lot in lots.values():
        if lot.weight is not None:
            low, high = low + lot.weight[0] * fibre, high + lot.weight[1] * fibre
    for grams in plants:
        low, high = low + grams[0] * plant, high + grams[1] * plant
    return pot, Interval(low, high)


def _capacity(study: Study, pot: str) -> Interval | None:
    thing = pot_of(study, pot)
    if thing is None or thing.capacity is None or thing.capacity.low is None:
        return None
    return thing.capacity.ends


@rule("pot-too-small", level="error", family=FAMILY, source="common practice")
def pot_too_small(study: Study) -> Iterator[Found]:
    """A pot that cannot hold its bath, with the fibre and the plants in it.

    It runs over, and hot mordant on a hotplate burns and fumes.

    Trips:
        equipment
          kettle: stainless steel pot, 2 L, lidded, for dyeing only
        steps
          wet out yarn in tub with water 5 L for 1 h
          gold-bath: prepare in kettle with water 3 L, onion 50 g
          dye yarn in gold-bath at 85 °C for 1 h
          rinse yarn in tub with water 5 L
          discard gold-bath to "foul drain"
    Cure:
        equipment
          kettle: stainless steel pot, 5 L, lidded, for dyeing only
        steps
          wet out yarn in tub with water 5 L for 1 h
          gold-bath: prepare in kettle with water 3 L, onion 50 g
          dye yarn in gold-bath at 85 °C for 1 h
          rinse yarn in tub with water 5 L
          discard gold-bath to "foul drain"
    """
    told: set[tuple[str, str]] = set()
    for moment in study.moments:
        filled = _filled(moment)
        capacity = _capacity(study, filled[0]) if filled is not None else None
        if filled is None or capacity is None or filled[1][0] <= capacity[1]:
            continue
        pot, litres = filled
        if (pot, moment.node.bath) in told:
            continue
        told.add((pot, moment.node.bath))
        yield at_node(
            moment.node,
            say(
                "{pot} holds {capacity}, and liquor, fibre and plants come to {litres}.",
                pot=study.thing(pot),
                capacity=Volume(capacity[1]),
                litres=Volume(litres[0]),
            ),
            advice(study, moment.node.bath, pot, moment.node.id),
            related=declared(study, pot, "The pot is declared here."),
        )


@rule("pot-too-full", level="warning", family=FAMILY, source="common practice")
def pot_too_full(study: Study) -> Iterator[Found]:
    """A pot so full that the fibre cannot be moved in it, or that it boils over.

    A pot that is worked or heated is filled two thirds to three quarters; a vat or
    water for rinsing may be a little higher.

    Trips:
        equipment
          kettle: stainless steel pot, 4 L, lidded, for dyeing only
        steps
          wet out yarn in tub with water 5 L for 1 h
          gold-bath: prepare in kettle with water 3.5 L, onion 50 g
          dye yarn in gold-bath at 85 °C for 1 h
          rinse yarn in tub with water 5 L
          discard gold-bath to "foul drain"
    Cure:
        equipment
          kettle: stainless steel pot, 6 L, lidded, for dyeing only
        steps
          wet out yarn in tub with water 5 L for 1 h
          gold-bath: prepare in kettle with water 3.5 L, onion 50 g
          dye yarn in gold-bath at 85 °C for 1 h
          rinse yarn in tub with water 5 L
          discard gold-bath to "foul drain"
    """
    told: set[tuple[str, str]] = set()
    for moment in study.moments:
        filled = _filled(moment)
        capacity = _capacity(study, filled[0]) if filled is not None else None
        if filled is None or capacity is None:
            continue
        pot, litres = filled
        bath = moment.bath_after
        worked = bool(lots_in(moment)) or moment.node.does.warms
        still = bath is None or is_vat(study, bath)
        share = threshold("water fill share" if still else "pot fill share")
        if not worked or litres[0] > capacity[1] or litres[0] <= capacity[1] * share.value:
            continue
        if (pot, moment.node.bath) in told:
            continue
        told.add((pot, moment.node.bath))
        yield at_node(
            moment.node,
            say(
                "{pot} holds {capacity} and has {litres} in it with fibre and "
                "plants: more than {share} of it, too full to work.",
                pot=study.thing(pot),
                capacity=Volume(capacity[1]),
                litres=Volume(litres[0]),
                share=Percent(share.value * 100),
            ),
            advice(study, moment.node.bath, pot, moment.node.id),
            related=declared(study, pot, "The pot is declared here."),
            source=share.source,
        )


RULES = (
    pot_too_small,
    pot_too_full,
)
