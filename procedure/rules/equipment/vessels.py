"""Equipment: pots for dyeing only, large enough, and fit for what is done in them."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from functools import cache

from procedure.facts.liquor import (
    Stuff,
    brought,
    declared,
    fact,
    hottest,
    is_vat,
    lots_in,
    pot_here,
    pot_of,
    stuff,
)
from procedure.facts.pot_fit import advice
from procedure.facts.study import Pointer, Study
from procedure.findings import Named, Percent, Says, Volume, say
from procedure.flow import FlowNode
from procedure.flow.graph import WATER
from procedure.model import Equipment, Place
from procedure.quantity.interval import Interval, middle
from procedure.rules.rule import Found, at_node, rule
from procedure.trace import Moment
from procedure.vocabulary import vocabulary
from procedure.vocabulary.library import rows
from procedure.vocabulary.thresholds import threshold

FAMILY = "equipment"
THOUSAND = Fraction(1000)


@rule("used-for-cooking", level="error", family=FAMILY, source="common practice")
def used_for_cooking(study: Study) -> Iterator[Found]:
    """A pot or tool for dyeing that is also used for food.

    Mordants and many dye plants are poisonous, and metal, enamel and plastic keep
    traces that no scrubbing takes out.

    Trips:
        equipment
          tub: plastic tub, 20 L, for cooking
        steps
          wet out yarn in tub with water 5 L for 1 h
    Cure:
        equipment
          tub: plastic tub, 20 L, for dyeing only
        steps
          wet out yarn in tub with water 5 L for 1 h
    """
    for procedure in study.procedures:
        for thing in procedure.equipment.values():
            if thing.use in ("cooking", "both"):
                said = "for food" if thing.use == "cooking" else "for food and for dyeing"
                yield Found(
                    procedure,
                    thing.use_place or thing.name.place,
                    say(
                        "{pot} is used {said}; nothing that dyes may touch food.",
                        pot=Named("pot", thing.name.text),
                        said=said,
                    ),
                    "Use a pot or tool that is kept for dyeing only, and mark it so.",
                )


@rule("use-unstated", level="warning", family=FAMILY, source="common practice")
def use_unstated(study: Study) -> Iterator[Found]:
    """A pot or tool that touches dye, without a word on whether food goes into it.

    A reader takes the pot that is at hand, and that is the one from the kitchen.

    Trips:
        equipment
          tub: plastic tub, 20 L
        steps
          wet out yarn in tub with water 5 L for 1 h
    Cure:
        equipment
          tub: plastic tub, 20 L, for dyeing only
        steps
          wet out yarn in tub with water 5 L for 1 h
    """
    for procedure in study.procedures:
        for thing in procedure.equipment.values():
            heater = thing.kind is not None and thing.kind.table == "heater"
            if not thing.use and not heater:
                yield Found(
                    procedure,
                    thing.name.place,
                    say(
                        "It is not said whether {pot} is for dyeing only.",
                        pot=Named("pot", thing.name.text),
                    ),
                    "Write “for dyeing only”.",
                )


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


@rule("capacity-unstated", level="note", family=FAMILY, source="common practice")
def capacity_unstated(study: Study) -> Iterator[Found]:
    """A pot that holds a bath, without a word on how much it holds.

    A reader cannot tell whether their own pot is large enough.

    Trips:
        equipment
          tub: plastic tub, for dyeing only
        steps
          wet out yarn in tub with water 5 L for 1 h
    Cure:
        equipment
          tub: plastic tub, 20 L, for dyeing only
        steps
          wet out yarn in tub with water 5 L for 1 h
    """
    for thing, pot in _pots_with_liquor(study):
        if thing.capacity is None:
            yield _at_pot(
                study,
                pot,
                say("It is not said how much {pot} holds.", pot=Named("pot", thing.name.text)),
                "Write its capacity where it is declared.",
            )


@rule("stuff-unstated", level="note", family=FAMILY, source="Mairet 1916, ch. II")
def stuff_unstated(study: Study) -> Iterator[Found]:
    """A pot that holds a bath, without a word on what it is made of.

    Iron, copper and tin go into the bath and change the colour.

    Trips:
        equipment
          kettle: pot, 15 L, lidded, for dyeing only
        steps
          wet out yarn in kettle with water 5 L for 1 h
    Cure:
        equipment
          kettle: enamelled pot, 15 L, lidded, for dyeing only
        steps
          wet out yarn in kettle with water 5 L for 1 h
    """
    for thing, pot in _pots_with_liquor(study):
        if thing.metal is None:
            yield _at_pot(
                study,
                pot,
                say("It is not said what {pot} is made of.", pot=Named("pot", thing.name.text)),
                "Write it, as in “stainless steel pot”.",
            )


def _pots_with_liquor(study: Study) -> Iterator[tuple[Equipment, str]]:
    used = {pot_here(moment) for moment in study.moments if not moment.node.does.cleans}
    for pot, (thing, _) in study.flow.pots.items():
        if pot in used and thing.holds:
            yield thing, pot


def _at_pot(study: Study, pot: str, sentence: Says | str, remedy: Says | str) -> Found:
    thing, procedure = study.flow.pots[pot]
    return Found(procedure, thing.name.place, sentence, remedy)


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
    for moment in study.moments:
        pot = pot_here(moment)
        thing = pot_of(study, pot)
        heat = middle(moment.peak)
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


def _bears(thing: Equipment) -> str:
    """How a vessel bears heat: yes, gently or no."""
    if thing.metal is not None:
        return thing.metal.facts.get("heatable", "yes")
    return "no" if thing.kind and thing.kind.facts.get("meaning") == "unheated vessel" else "yes"


def _is_warmed(moment: Moment) -> bool:
    """True where a step says that it makes its bath hotter, little by little."""
    step = moment.step
    return step.does.warms or (step.source is not None and step.to is not None)


def _needs_heat(moment: Moment) -> bool:
    """True where a step makes its bath hotter or keeps it hot, so that there is heat under it."""
    step = moment.step
    if step.does.warms:
        return True
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


@rule("covered-without-lid", level="warning", family=FAMILY, source="common practice")
def covered_without_lid(study: Study) -> Iterator[Found]:
    """A step that is done covered, in a pot that has no lid.

    Without its lid the steam gets out, and what is poisonous is open to the air.

    Trips:
        equipment
          kettle: stainless steel pot, 15 L, for dyeing only
        steps
          wet out yarn in tub with water 5 L for 1 h
          gold-bath: prepare in kettle with water 3 L, onion 50 g
          dye yarn in gold-bath at 85 °C for 1 h covered
          rinse yarn in tub with water 5 L
          discard gold-bath to "foul drain"
    Cure:
        equipment
          kettle: stainless steel pot, 15 L, lidded, for dyeing only
        steps
          wet out yarn in tub with water 5 L for 1 h
          gold-bath: prepare in kettle with water 3 L, onion 50 g
          dye yarn in gold-bath at 85 °C for 1 h covered
          rinse yarn in tub with water 5 L
          discard gold-bath to "foul drain"
    """
    for moment in study.moments:
        said = next((word for word in moment.step.manners if word.text == "covered"), None)
        pot = moment.node.to_pot or pot_here(moment)
        thing = pot_of(study, pot)
        if said is None or thing is None or thing.lidded:
            continue
        yield _here(
            moment.node,
            said.place,
            say("This is done covered, but {pot} has no lid.", pot=study.thing(pot)),
            "Use a pot with a lid and write “lidded” where it is declared.",
            declared(study, pot, "It is declared here, without a lid."),
        )


def _here(
    node: FlowNode,
    place: Place,
    sentence: Says | str,
    remedy: Says | str,
    more: tuple[Pointer, ...],
) -> Found:
    return Found(node.procedure, place, sentence, remedy, node.calls, more)


RULES = (
    used_for_cooking,
    use_unstated,
    pot_too_small,
    pot_too_full,
    capacity_unstated,
    stuff_unstated,
    cannot_be_heated,
    pot_attacked,
    covered_without_lid,
)
