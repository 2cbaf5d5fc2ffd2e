"""Equipment: pots that can take the heat and what is in them."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

from procedure.facts.liquor import (
    Stuff,
    brought,
    declared,
    fact,
    hottest,
    pot_here,
    pot_of,
    stuff,
)
from procedure.facts.study import Study
from procedure.findings import say
from procedure.model import Equipment
from procedure.rules.rule import Found, at_node, rule
from procedure.trace import Moment
from procedure.vocabulary import vocabulary
from procedure.vocabulary.library import rows
from procedure.vocabulary.thresholds import threshold

FAMILY = "equipment"


@rule("cannot-be-heated", level="error", family=FAMILY, source="common practice")
def cannot_be_heated(study: Study) -> Iterator[Found]:
    """Something heated, or kept hot, that cannot be put over heat.

    Plastic melts, glass and stoneware crack, and scalding liquor runs out.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        gold-bath: prepare in tub with water 3 L, onion 50 g
        dye yarn in gold-bath from 30 °C to 85 °C over 45 min for 1 h
        rinse yarn in kettle with water 5 L
        discard gold-bath to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        dye yarn in gold-bath from 30 °C to 85 °C over 45 min for 1 h
        rinse yarn in tub with water 5 L
        discard gold-bath to "foul drain"
    """
    by_hand, soft = threshold("heated by hand").value, threshold("softening heat").value
    boil, hand = vocabulary().heats["boil"].low, vocabulary().heats["hot"].low
    in_water: set[str] = set()
    for moment in study.moments:
        pot = pot_here(moment)
        thing = pot_of(study, pot)
        heat = moment.hottest
        if moment.step.on is not None:
            (in_water.add if _on_a_water_bath(moment) else in_water.discard)(pot)
        if thing is not None and pot in in_water and _bears_water(thing):
            continue
        if thing is None or heat is None or _heats_nothing(moment):
            continue
        bears = _bears(thing)
        if bears == "yes" or (bears == "gently" and heat < boil):
            continue
        what = (
            thing.metal.name if thing.metal is not None else thing.kind.name if thing.kind else ""
        )
        where = declared(study, pot, "It is declared here.")
        warmed = heat > hand and _is_warmed(moment)
        if bears == "gently" or warmed or (heat > by_hand and _needs_heat(moment)):
            yield at_node(
                moment.node,
                say(
                    "{pot} ({what}) cannot be heated to {heat}.",
                    pot=study.thing(pot),
                    what=what,
                    heat=hottest(moment),
                ),
                "Use a pot of stainless steel or enamel.",
                related=where,
                level="warning" if bears == "gently" or heat <= by_hand else "",
            )
        elif heat > soft:
            yield at_node(
                moment.node,
                say(
                    "{pot} ({what}) cannot take liquor at {heat}.",
                    pot=study.thing(pot),
                    what=what,
                    heat=hottest(moment),
                ),
                "Use a pot of stainless steel or enamel, or fill it cooler.",
                related=where,
                level="warning",
            )


def _heats_nothing(moment: Moment) -> bool:
    """True where a heat that is said of a step asks nothing of the pot."""
    does = moment.step.does
    return does.cools or does.cleans or does.stores or does.empties


def _on_a_water_bath(moment: Moment) -> bool:
    """True where a step has its vessel in a bath of water, which warms it slowly and all around."""
    name = moment.step.on
    warmer = moment.node.procedure.equipment.get(name.text) if name is not None else None
    if warmer is None:
        return False
    bath = warmer.kind is not None and warmer.kind.name == "bath"
    return bath or not _WATER_AROUND.isdisjoint(warmer.words)


_WATER_AROUND = frozenset(("bain-marie", "double boiler"))


def _bears_water(thing: Equipment) -> bool:
    """True for what cracks over a flame and bears the heat of water around it."""
    return thing.metal is not None and thing.metal.yes("water_bath")


def _bears(thing: Equipment) -> str:
    """How a vessel bears heat: yes, gently or no."""
    if thing.metal is not None:
        return thing.metal.facts.get("heatable", "yes")
    return "no" if thing.kind and thing.kind.facts.get("meaning") == "unheated vessel" else "yes"


def _is_warmed(moment: Moment) -> bool:
    """True where a step says that it makes its bath hotter, little by little."""
    step = moment.step
    if step.left_to_cool:
        return False
    return step.does.warms or (step.source is not None and step.to is not None)


def _needs_heat(moment: Moment) -> bool:
    """True where a step makes its bath hotter or keeps it hot, so that there is heat under it."""
    step = moment.step
    if step.does.warms:
        return True
    if step.poured_hot or step.left_to_cool:
        return False  # water that was heated elsewhere, and cools here
    kept = moment.held is not None and moment.held[0] >= threshold("cooled in air").value
    if kept and (step.at is not None or step.to is not None):
        return True
    bath = moment.bath_before
    start = moment.start
    if step.source is None and bath is not None:
        start = bath.heat if bath.heat_said else None
    return start is not None and moment.peak is not None and moment.peak[0] > start[1]


@cache
def _told_elsewhere() -> frozenset[tuple[str, str]]:
    """Pairs of material or role and pot that must not meet at all: another rule tells of them."""
    return frozenset(
        (row["first"], row["second"]) for row in rows("meetings") if row["second_kind"] == "pot"
    )


@rule("pot-attacked", level="warning", family=FAMILY, source="common practice")
def pot_attacked(study: Study) -> Iterator[Found]:
    """Acid or alkali in a pot that it eats.

    The pot is pitted and its metal comes away into the bath.

    Trips:
        equipment
          pan: brass pan, 15 L, for dyeing only
        materials
          citric: citric acid
        steps
          wet out yarn in tub with water 5 L for 1 h
          rinse yarn in pan with water 5 L, citric 20 g
    Cure:
        equipment
          pan: stainless steel pan, 15 L, for dyeing only
        materials
          citric: citric acid
        steps
          wet out yarn in tub with water 5 L for 1 h
          rinse yarn in pan with water 5 L, citric 20 g
    """
    told: set[tuple[str, str]] = set()
    for moment in study.moments:
        pot = pot_here(moment)
        thing = pot_of(study, pot)
        if thing is None or thing.metal is None or not thing.metal.words("attacked_by"):
            continue
        for one in stuff(study, brought(moment)):
            biting = [r for r in thing.metal.words("attacked_by") if r in one.made.roles]
            strength = fact(one, "strength")
            if not biting or (pot, one.thing) in told or _meets(one, thing):
                continue
            told.add((pot, one.thing))
            mild = strength not in ("moderate", "strong")
            yield at_node(
                moment.node,
                say(
                    "{material} is {an} {role}, and {metal} is attacked by {role}.",
                    material=study.thing(one.thing),
                    an="a mild" if mild else "an",
                    role=biting[0],
                    metal=thing.metal.name,
                ),
                "Use a vessel of stainless steel, sound enamel or plastic.",
                related=declared(study, pot, "It is declared here."),
                level="note" if mild else "",
                source=thing.metal.facts.get("source", "common practice"),
            )


def _meets(one: Stuff, thing: Equipment) -> bool:
    assert thing.metal is not None
    names = [one.made.called, *one.made.roles]
    return any((name, thing.metal.name) in _told_elsewhere() for name in names)


RULES = (
    cannot_be_heated,
    pot_attacked,
)
