"""Colour: a bath has what is wanted of it, and fibre on which its colour holds."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from procedure.facts.liquor import (
    CELLULOSE,
    fact,
    has_role,
    is_dyestuff,
    is_known,
    is_vat,
    kinds_of,
    lots_in,
    meetings,
    metal_of,
    names_unknown,
    only_of,
    stuff,
)
from procedure.facts.study import Study
from procedure.findings import Liquor, Mass, Volume, say
from procedure.quantity.exact import exactly
from procedure.rules.rule import Found, at_node, rule
from procedure.vocabulary.effects import NOTHING
from procedure.vocabulary.thresholds import related, threshold

FAMILY = "colour"


THOUSAND = exactly(1000)


@rule("does-not-hold", level="warning", family=FAMILY, source="common practice")
def does_not_hold(study: Study) -> Iterator[Found]:
    """A dyestuff on fibre that does not take it.

    Indigo extract and the purple lichens colour wool and silk and wash out of cotton;
    polyester and acrylic take almost no plant dye.

    Trips:
        materials
          extract: indigo extract
        steps
          wet out cloth in tub with water 5 L for 1 h
          blue-bath: prepare in kettle with water 3 L, extract 3 g
          dye cloth in blue-bath at 60 °C for 30 min
          rinse cloth in tub with water 5 L
          discard blue-bath to "foul drain"
    Cure:
        materials
          extract: indigo extract
        steps
          wet out yarn in tub with water 5 L for 1 h
          blue-bath: prepare in kettle with water 3 L, extract 3 g
          dye yarn in blue-bath at 60 °C for 30 min
          rinse yarn in tub with water 5 L
          discard blue-bath to "foul drain"
    """
    for moment, lot, state, bath in meetings(study):
        for one in stuff(study, bath.contents):
            if not is_dyestuff(one) or not state.fibres:
                continue
            names = (one.made.called, fact(one, "dye_class"))
            kinds = [rel for name in names for rel in related("does not hold on", name)]
            wrong = [
                rel for rel in kinds if rel.second == "cellulose" and only_of(state, CELLULOSE)
            ]
            barren = [related("takes no", fibre.name) for fibre in state.fibres]
            if all(barren):
                wrong += barren[0]
            for relation in wrong[:1]:
                told = one.made.called if relation.second == "cellulose" else state.fibres[0].name
                yield at_node(
                    moment.node,
                    say(
                        "{lot} is of {fibre} and goes into {material}: {told} {note}.",
                        lot=study.thing(lot),
                        fibre=state.fibres[0].name,
                        material=one.named,
                        told=told,
                        note=relation.note,
                    ),
                    "Use wool or silk, or another dyestuff.",
                    source=relation.source,
                )


@rule("nothing-to-dye-with", level="warning", family=FAMILY, source="common practice")
def nothing_to_dye_with(study: Study) -> Iterator[Found]:
    """Fibre that is dyed, mordanted or modified in a bath with nothing in it to do so.

    Either something was left out of the bath or another bath is meant.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        gold-bath: prepare in kettle with water 3 L
        dye yarn in gold-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard gold-bath to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        dye yarn in gold-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard gold-bath to "foul drain"
    """
    fed: set[str] = set()  # with liquor of a kept bath, which holds nobody knows what
    for moment in study.moments:
        bath = moment.bath_after
        verb = moment.step.verb
        brought = (*moment.node.materials, *moment.node.moved)
        if any(study.flow.baths.get(thing, 0) < 0 for thing, _ in brought):
            fed.add(moment.node.bath)
        if bath is None or verb is None or not is_known(bath) or not moment.node.lots:
            continue
        if moment.node.bath in fed:
            continue
        if not verb.wants or any(not one.made.roles for one in stuff(study, bath.contents)):
            continue
        if names_unknown(study, bath.made):
            continue
        roles, what = verb.wants, verb.lacks
        reduced = has_role(study, bath.contents, "reducer")  # as copperas may be, alone in a bath
        if verb.does.dips and reduced and has_role(study, bath.contents, "alkali"):
            roles, what = VAT
        if not has_role(study, bath.contents, *roles):
            yield at_node(
                moment.node,
                say("There is {what} in {bath}.", what=what, bath=study.thing(moment.node.bath)),
                "Put it in where the bath is prepared, or name the bath that is meant.",
                related=study.at(bath.made, "The bath is made here."),
            )


@rule("bath-without-fibre", level="warning", family=FAMILY, source="common practice")
def bath_without_fibre(study: Study) -> Iterator[Found]:
    """A mordant or dye bath that is made and thrown away, and nothing ever goes into it.

    A step was left out, or the fibre goes into the wrong bath.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        alum-bath: prepare in pan with water 3 L, alum 12 g
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        dye yarn in gold-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard alum-bath to "foul drain"
        discard gold-bath to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        alum-bath: prepare in pan with water 3 L, alum 12 g
        mordant yarn in alum-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        dye yarn in gold-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard alum-bath to "foul drain"
        discard gold-bath to "foul drain"
    """
    if not any(study.flow.treats.values()):
        return  # nothing is dyed here at all: baths are made for another time
    given: set[str] = set()
    for node in study.flow.nodes:
        given |= {thing for thing, _ in (*node.moved, *node.materials)}
        if node.does.draws_off or node.does.stores or node.does is NOTHING:
            given.add(node.bath)
    for moment in study.moments:
        name, bath = moment.node.bath, moment.bath_before
        if not moment.node.does.empties or bath is None or not is_known(bath):
            continue
        if bath.treated or name in given or study.flow.treats.get(name):
            continue
        if kinds_of(study, bath):
            yield at_node(
                study.node(bath.made),
                say(
                    "{name} is made and thrown away, and no fibre goes into it.",
                    name=study.thing(name),
                ),
                "Put in the step that uses it, or leave the bath out.",
                related=study.at(moment.node.id, "It is thrown away here."),
            )


# A vat that is dipped in needs a dye, whatever else is in it.
VAT = (("dyestuff", "dye"), "no dyestuff")


@rule("too-little-liquor", level="warning", family=FAMILY, source="common practice")
def too_little_liquor(study: Study) -> Iterator[Found]:
    """Fibre crowded into too little liquor or water.

    It cannot be moved, and comes out in patches; twenty to thirty litres to a kilogram
    is usual, and under ten too few.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        gold-bath: prepare in kettle with water 0.5 L, onion 50 g
        dye yarn in gold-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard gold-bath to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        dye yarn in gold-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard gold-bath to "foul drain"
    """
    for moment in study.moments:
        bath = moment.bath_after
        if not moment.entering or (bath is None and not moment.node.does.own_water):
            continue
        if bath is not None:
            volume, least = bath.volume, threshold("least liquor")
        else:
            litres = [a.litres for thing, _, a in moment.amounts if thing == "water" and a]
            volume, least = (litres[0] if litres else None), threshold("least rinsing water")
        weights = [lot.weight for lot in lots_in(moment).values()]
        if volume is None or not weights or any(weight is None for weight in weights):
            continue
        kilos = sum((w[0] for w in weights if w is not None), Fraction(0)) / THOUSAND
        if volume[1] > 0 and kilos > 0 and volume[1] / kilos < least.value:
            yield at_node(
                moment.node,
                say(
                    "{fibre} of fibre in {volume} is {liquor}; it needs at least {least}.",
                    fibre=Mass(kilos * THOUSAND),
                    volume=Volume(volume[1]),
                    liquor=Liquor(volume[1] / kilos),
                    least=Liquor(least.value),
                ),
                "Use more water, or treat less at a time.",
                source=least.source,
            )


@rule("iron-beside-bright", level="note", family=FAMILY, source="Mairet 1916, ch. II")
def iron_beside_bright(study: Study) -> Iterator[Found]:
    """Fibre mordanted with iron that shares a dye bath with fibre that is to stay bright.

    The least trace of iron dulls reds, yellows and oranges.

    Trips:
        wet out yarn, silk in tub with water 5 L for 1 h
        iron-bath: prepare in kettle with water 3 L, iron 4 g
        mordant silk in iron-bath at 60 °C for 30 min
        rinse silk in tub with water 5 L
        gold-bath: prepare in pan with water 6 L, onion 50 g
        dye yarn, silk in gold-bath at 80 °C for 1 h
        rinse yarn, silk in tub with water 5 L
        discard iron-bath to "foul drain"
        discard gold-bath to "foul drain"
    Cure:
        wet out yarn, silk in tub with water 5 L for 1 h
        iron-bath: prepare in kettle with water 3 L, iron 4 g
        gold-bath: prepare in pan with water 6 L, onion 50 g
        dye yarn, silk in gold-bath at 80 °C for 1 h
        rinse yarn, silk in tub with water 5 L
        modify silk in iron-bath at 60 °C for 30 min
        rinse silk in tub with water 5 L
        discard iron-bath to "foul drain"
        discard gold-bath to "foul drain"
    """
    with_iron: dict[str, str] = {}
    for moment, lot, state, bath in meetings(study):
        bright = any(fact(one, "iron_sensitive") == "yes" for one in stuff(study, bath.contents))
        if not bright or is_vat(study, bath):
            continue
        iron = any(metal_of(one.entry) == "iron" for one in stuff(study, state.mordants))
        if iron:
            with_iron.setdefault(moment.node.bath, lot)
    for moment, lot, state, bath in meetings(study):
        other = with_iron.get(moment.node.bath)
        iron = any(metal_of(one.entry) == "iron" for one in stuff(study, state.mordants))
        if other is None or iron or other == lot or other not in bath.treated:
            continue
        yield at_node(
            moment.node,
            say(
                "{lot} shares {bath} with {other}, which has iron in it.",
                lot=study.thing(lot),
                bath=study.thing(moment.node.bath),
                other=study.thing(other),
            ),
            "Dye what is to stay bright first, or in a bath of its own.",
        )


RULES = (
    does_not_hold,
    nothing_to_dye_with,
    bath_without_fibre,
    too_little_liquor,
    iron_beside_bright,
)
