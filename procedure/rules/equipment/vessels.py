"""Equipment: pots for dyeing only, with all that is to be said of them."""

from __future__ import annotations

from collections.abc import Iterator

from procedure.facts.liquor import (
    declared,
    pot_here,
    pot_of,
)
from procedure.facts.study import Pointer, Study
from procedure.findings import Named, Says, say
from procedure.flow import FlowNode
from procedure.model import Equipment, Place
from procedure.quantity.ready_patterns import pattern
from procedure.rules.rule import Found, rule
from procedure.rules.safety.food_places import food_in
from procedure.vocabulary import vocabulary

FAMILY = "equipment"


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
            elif word := _of_the_kitchen(thing):
                yield Found(
                    procedure,
                    thing.name.place,
                    say(
                        "{pot} is one for food by its own words (“{word}”); nothing that dyes "
                        "may touch food.",
                        pot=Named("pot", thing.name.text),
                        word=word,
                    ),
                    "Use a pot or tool that is kept for dyeing only, and mark it so.",
                )


def _gives_heat(thing: Equipment) -> bool:
    """True for a hotplate or a fire; a cooker of so many litres is a pot."""
    return thing.kind is not None and thing.kind.table == "heater" and thing.capacity is None


# Tools that no liquor of a bath runs over.
_BESIDE = frozenset(("for drying", "tells the time", "marks, ties or covers"))


def _beside_the_dye(thing: Equipment) -> bool:
    """True for a washing line, a clock and a label."""
    return thing.kind is not None and thing.kind.facts.get("meaning") in _BESIDE


def _of_the_kitchen(thing: Equipment) -> str:
    """The words that tell a thing of the kitchen, where it is not said what it is kept for."""
    if thing.use or _gives_heat(thing):
        return ""
    kitchen = pattern(r"\bkitchen\b")
    return next(
        (
            found
            for text in (*thing.words, thing.name.text)
            if (found := "kitchen" if kitchen.search(text.lower()) else food_in(text))
        ),
        "",
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
            beside = _gives_heat(thing) or _beside_the_dye(thing)
            if not thing.use and not beside and not _of_the_kitchen(thing):
                yield Found(
                    procedure,
                    thing.name.place,
                    say(
                        "It is not said whether {pot} is for dyeing only.",
                        pot=Named("pot", thing.name.text),
                    ),
                    "Write “for dyeing only”.",
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
        elif thing.kind is None and vocabulary().find(thing.metal.name, "vessel") is not None:
            yield _at_pot(
                study,
                pot,
                say(
                    "“{metal}” is a pot made of {metal}, or an old word for a boiler.",
                    metal=thing.metal.name,
                ),
                say(
                    "Write which: “{metal} pot”, or what the boiler is made of, as in “stainless "
                    "steel boiler”.",
                    metal=thing.metal.name,
                ),
            )


def _pots_with_liquor(study: Study) -> Iterator[tuple[Equipment, str]]:
    used = {pot_here(moment) for moment in study.moments if not moment.node.does.cleans}
    for pot, (thing, _) in study.flow.pots.items():
        if pot in used and thing.holds:
            yield thing, pot


def _at_pot(study: Study, pot: str, sentence: Says | str, remedy: Says | str) -> Found:
    thing, procedure = study.flow.pots[pot]
    return Found(procedure, thing.name.place, sentence, remedy)


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
    capacity_unstated,
    stuff_unstated,
    covered_without_lid,
)
