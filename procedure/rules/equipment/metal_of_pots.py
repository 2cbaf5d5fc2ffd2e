"""Equipment: what the metal of a pot does to the bath in it."""

from __future__ import annotations

from collections.abc import Iterator

from procedure.facts.liquor import (
    declared,
    kinds_of,
    met_metals,
    metals_in,
    pot_of,
)
from procedure.facts.study import Study
from procedure.findings import plainly_said, say
from procedure.model import Equipment, Step
from procedure.rules.rule import Found, at_node, named_in, rule
from procedure.vocabulary.thresholds import related, threshold

FAMILY = "equipment"


# What a pot's own metal does to a bath that it spoils: these harm, the others shift the hue.
HARMING = frozenset(("iron", "copper"))


def _only_steel(thing: Equipment) -> bool:
    """True for a pot of “steel”, which may be stainless: nobody says mild steel by it."""
    words = [word for said in thing.words for word in said.lower().split()]
    return "steel" in words and not {"mild", "carbon"} & set(words)


@rule("pot-acts-as-mordant", level="warning", family=FAMILY, source="Mairet 1916, ch. II and VI")
def pot_acts_as_mordant(study: Study) -> Iterator[Found]:
    """A pot whose metal goes into the bath and changes the colour.

    An iron or rusty pot dulls reds, yellows and oranges, and copper greens yellows.
    Tin and aluminium shift the hue less; they are noted.

    Trips:
        equipment
          kettle: rusty iron pot, 15 L, lidded, for dyeing only
        steps
          wet out yarn in tub with water 5 L for 1 h
          gold-bath: prepare in kettle with water 6 L, onion 50 g
          dye yarn in gold-bath at 85 °C for 1 h
          rinse yarn in tub with water 5 L
          discard gold-bath to "foul drain"
    Cure:
        equipment
          kettle: stainless steel pot, 15 L, lidded, for dyeing only
        steps
          wet out yarn in tub with water 5 L for 1 h
          gold-bath: prepare in kettle with water 6 L, onion 50 g
          dye yarn in gold-bath at 85 °C for 1 h
          rinse yarn in tub with water 5 L
          discard gold-bath to "foul drain"
    """
    hot = threshold("heated by hand").value
    for moment in study.moments:
        bath = moment.bath_after
        thing = pot_of(study, bath.pot) if bath is not None else None
        if bath is None or thing is None or thing.metal is None:
            continue
        metal = thing.metal.facts.get("acts_as", "")
        if not metal or metal in metals_in(study, bath.contents) or bath.came < 0:
            continue
        if moment.entering:
            lots = [moment.before.lots[lot] for lot in moment.entering if lot in moment.before.lots]
        else:
            heat = moment.hottest
            if not moment.node.does.warms or heat is None or heat <= hot:
                continue
            treated = study.flow.treats.get(moment.node.bath, [])
            lots = [study.trace.final.lots[lot] for lot in treated if lot in study.trace.final.lots]
        if lots and all(metal in met_metals(study, lot) for lot in lots):
            continue
        kinds = kinds_of(study, bath)
        relation = next((r for r in related("spoils", metal) if r.second in kinds), None)
        if relation is None and metal == "iron" and kinds - {"vat", "iron"}:
            relation = next(iter(related("stains", thing.metal.name)), None)
        if relation is None and not (metal == "alum" and "bright colour" in kinds):
            continue
        node = study.node(bath.came)
        note = relation.note if relation is not None else "it acts as a little alum"
        harms = metal in HARMING
        assert isinstance(node.step, Step)
        place = named_in(node.step, thing.name.text)
        yield Found(
            node.procedure,
            place.place if place is not None else node.step.place,
            say(
                "{pot} is of {metal}, which goes into {bath}: {note}.",
                pot=study.thing(bath.pot),
                metal=plainly_said(thing.metal.name),
                bath=study.thing(moment.node.bath),
                note=plainly_said(note),
            ),
            "If it is stainless, write “stainless steel”; else use such a pot, or sound enamel."
            if harms and _only_steel(thing)
            else "Use a pot of stainless steel or sound enamel."
            if harms
            else "Say that the colour needs this pot, or use stainless steel or sound enamel.",
            node.calls,
            declared(study, bath.pot, "The pot is declared here."),
            level="warning" if harms else "note",
            source=thing.metal.facts.get("source", "common practice"),
        )


@rule("water-in-rusty-pot", level="warning", family=FAMILY, source="Mairet 1916, ch. VI")
def water_in_rusty_pot(study: Study) -> Iterator[Found]:
    """Fibre that is soaked, scoured, rinsed or washed in a rusty or chipped pot.

    Rust stains it, and no rinse takes the stain out.

    Trips:
        equipment
          pan: rusty iron pan, 15 L, for dyeing only
        steps
          wet out yarn in pan with water 5 L for 1 h
    Cure:
        equipment
          pan: stainless steel pan, 15 L, for dyeing only
        steps
          wet out yarn in pan with water 5 L for 1 h
    """
    for moment in study.moments:
        node = moment.node
        thing = pot_of(study, node.pot) if node.own_water and not node.bath else None
        if thing is None or thing.metal is None:
            continue
        lots = [moment.before.lots[lot] for lot in node.lots if lot in moment.before.lots]
        if lots and all("iron" in met_metals(study, lot) for lot in lots):
            continue
        for relation in related("stains", thing.metal.name):
            yield at_node(
                node,
                say(
                    "{pot} is of {metal}, and {note}.",
                    pot=study.thing(node.pot),
                    metal=plainly_said(thing.metal.name),
                    note=plainly_said(relation.note),
                ),
                "Use a sound pot.",
                related=declared(study, node.pot, "The pot is declared here."),
                source=relation.source,
            )


RULES = (
    pot_acts_as_mordant,
    water_in_rusty_pot,
)
