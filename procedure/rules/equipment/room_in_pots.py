"""Equipment: pots that are large enough for what is in them."""

from __future__ import annotations

from collections.abc import Iterator

from procedure.facts.liquor import (
    declared,
)
from procedure.facts.pot_fit import advice, fillings
from procedure.facts.study import Study
from procedure.findings import Percent, Says, Volume, say
from procedure.rules.rule import Found, at_node, rule
from procedure.vocabulary.thresholds import threshold

FAMILY = "equipment"


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
    for moment, found, litres in study.once(fillings):
        pot, capacity = found.pot, found.capacity
        if litres.low <= capacity.high:
            continue
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
            Says("Keep it in a larger one, or keep so much of it as goes in.")
            if moment.node.does.stores
            else advice(study, moment.node.bath, pot, moment.node.id),
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
    for moment, found, litres in study.once(fillings):
        if not found.worked:
            continue
        pot, capacity = found.pot, found.capacity
        share = threshold(found.fill)
        if litres.low > capacity.high or litres.low <= capacity.high * share.value:
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
