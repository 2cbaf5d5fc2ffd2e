"""Colour: baths used again, with what is left in them and what got in."""

from __future__ import annotations

from collections.abc import Iterator

from procedure.facts.liquor import kinds_of, meetings, met_metals, stuff
from procedure.facts.study import Study
from procedure.findings import Count, Percent, say
from procedure.rules.rule import Found, at_node, on_way, rule
from procedure.trace import BathState
from procedure.vocabulary.thresholds import related, threshold

FAMILY = "colour"


@rule("vat-needs-rest", level="warning", family=FAMILY, source="common practice")
def vat_needs_rest(study: Study) -> Iterator[Found]:
    """A vat that is dipped in again and again and never left to settle.

    Every dip carries air in and stirs the sediment up; the blue then sits on the fibre
    as dust and rubs off.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        vat: prepare in kettle with water 5 L, indigo 5 g, soda 20 g, reducer 15 g at 50 °C
        stand vat for 1 h covered
        repeat 12 times
          dip yarn in vat at 50 °C for 5 min
          air yarn for 15 min
        rinse yarn in tub with water 5 L
        rinse yarn in tub with water 5 L, vinegar 50 mL
        discard vat to "foul drain"
        clean kettle
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        vat: prepare in kettle with water 5 L, indigo 5 g, soda 20 g, reducer 15 g at 50 °C
        stand vat for 1 h covered
        repeat 6 times
          dip yarn in vat at 50 °C for 5 min
          air yarn for 15 min
        stand vat for 1 h at 50 °C covered
        repeat 6 times
          dip yarn in vat at 50 °C for 5 min
          air yarn for 15 min
        rinse yarn in tub with water 5 L
        rinse yarn in tub with water 5 L, vinegar 50 mL
        discard vat to "foul drain"
        clean kettle
    """
    most = threshold("vat dips")
    told: set[str] = set()
    last: dict[str, int] = {}
    for moment in study.moments:
        name = moment.node.bath
        if moment.node.does.dips:
            last[name] = moment.node.id
        # What a repeat adds beyond the passes that are followed shows at the step after it.
        for bath in (moment.bath_before, moment.bath_after):
            if bath is not None and bath.dips and bath.dips > most.value and name not in told:
                told.add(name)
                yield _stirred(study, name, last[name], bath)
        if moment.bath_after is not None and moment.bath_after.dips == 0:
            told.discard(name)
    for name, bath in study.trace.final.baths.items():
        if bath.dips > most.value and name not in told:
            yield _stirred(study, name, last[name], bath)


def _stirred(study: Study, name: str, dip: int, bath: BathState) -> Found:
    most = threshold("vat dips")
    return at_node(
        study.node(dip),
        say(
            "{name} is dipped in more than {most} times here without a rest.",
            name=study.thing(name),
            most=Count(most.value),
        ),
        say("Let it settle in between: “stand {name} for 1 h covered”.", name=study.thing(name)),
        related=study.at(bath.made, "The vat is made here."),
        source=most.source,
    )


@rule("vat-needs-reducer", level="note", family=FAMILY, source="common practice")
def vat_needs_reducer(study: Study) -> Iterator[Found]:
    """A vat that was dipped in, stood for a night or longer, and is used again as it is.

    Air has used some of the reducer up, and a tired vat gives a grey blue that does not
    hold. A vat that ferments wakes by itself.

    Trips:
        wet out yarn, silk in tub with water 5 L for 1 h
        vat: prepare in kettle with water 5 L, indigo 5 g, soda 20 g, reducer 15 g at 50 °C
        stand vat for 1 h covered
        dip yarn in vat at 50 °C for 10 min
        air yarn for 15 min
        stand vat for 12 h covered labelled
        heat vat to 50 °C
        dip silk in vat at 50 °C for 10 min
        air silk for 15 min
        rinse yarn, silk in tub with water 5 L
        rinse yarn, silk in tub with water 5 L, vinegar 50 mL
        discard vat to "foul drain"
        clean kettle
    Cure:
        wet out yarn, silk in tub with water 5 L for 1 h
        vat: prepare in kettle with water 5 L, indigo 5 g, soda 20 g, reducer 15 g at 50 °C
        stand vat for 1 h covered
        dip yarn in vat at 50 °C for 10 min
        air yarn for 15 min
        stand vat for 12 h covered labelled
        add reducer 5 g to vat
        heat vat to 50 °C
        dip silk in vat at 50 °C for 10 min
        air silk for 15 min
        rinse yarn, silk in tub with water 5 L
        rinse yarn, silk in tub with water 5 L, vinegar 50 mL
        discard vat to "foul drain"
        clean kettle
    """
    stale = threshold("vat stale")
    told: set[tuple[str, int]] = set()
    for moment, _, _, _ in meetings(study):
        bath = moment.bath_before
        if bath is None or bath.stale < 0 or (moment.node.bath, bath.stale) in told:
            continue
        told.add((moment.node.bath, bath.stale))
        name = study.thing(moment.node.bath)
        yield at_node(
            moment.node,
            say(
                "{name} was used, has stood since, and had no reducer added before this dip.",
                name=name,
            ),
            "See that it is clear and yellow-green; if not, add a little reducer and warmth, and "
            "wait.",
            related=study.at(bath.stale, "It is left standing here."),
            source=stale.source,
        )


@rule("dye-worn-out", level="note", family=FAMILY, source="common practice")
def dye_worn_out(study: Study) -> Iterator[Found]:
    """A vat or a dye bath used for more fibre than its dye serves.

    The later lots come out paler. That is often what is wanted; where it is not, the
    bath needs more dye.

    Trips:
        wet out yarn, silk in tub with water 10 L for 1 h
        orange-bath: prepare in kettle with water 5 L, onion 30 g
        dye yarn in orange-bath from 30 °C to 80 °C over 45 min for 1 h
        cool orange-bath to 40 °C
        rinse yarn in tub with water 5 L at 40 °C
        dye silk in orange-bath from 40 °C to 80 °C over 45 min for 1 h
        rinse silk in tub with water 5 L
        discard orange-bath to "foul drain"
        clean kettle
    Cure:
        wet out yarn, silk in tub with water 10 L for 1 h
        orange-bath: prepare in kettle with water 5 L, onion 30 g
        dye yarn in orange-bath from 30 °C to 80 °C over 45 min for 1 h
        cool orange-bath to 40 °C
        rinse yarn in tub with water 5 L at 40 °C
        add onion 20 g to orange-bath
        dye silk in orange-bath from 40 °C to 80 °C over 45 min for 1 h
        rinse silk in tub with water 5 L
        discard orange-bath to "foul drain"
        clean kettle
    """
    told: set[str] = set()
    for moment, lot, _, bath in meetings(study):
        before = moment.bath_before
        if before is None or not before.treated or before.served == bath.served:
            continue
        if moment.node.bath in told or bath.served is None or bath.served[0] <= 0:
            continue
        for one in stuff(study, before.contents):
            grams = bath.contents[one.thing].grams if one.thing in bath.contents else None
            if one.entry is None or one.entry.table != "dyestuffs" or grams is None:
                continue
            kind = "fresh" if one.made.state == "fresh" else "dried"
            low = one.entry.number(f"{kind}_low")
            share = grams[1] / bath.served[0] * 100
            if low is None or share >= low:
                continue
            told.add(moment.node.bath)
            yield at_node(
                moment.node,
                say(
                    "With {lot}, {bath} has treated so much fibre that its {material} "
                    "comes to {share}; {usual} and more is usual.",
                    lot=study.thing(lot),
                    bath=study.thing(moment.node.bath),
                    material=one.named,
                    share=Percent(share),
                    usual=Percent(low),
                ),
                say("Expect a paler colour, or add more {thing}.", thing=study.thing(one.thing)),
                related=study.at(bath.contents[one.thing].node, "It was put in here."),
                source=one.entry.facts["source"],
            )
            break


@rule("iron-got-in", level="warning", family=FAMILY, source="Mairet 1916, ch. II")
def iron_got_in(study: Study) -> Iterator[Found]:
    """A bath into which one lot carried loose iron, and another lot comes after it.

    The least trace of iron dulls reds, yellows and oranges, and it stays in the bath.

    Trips:
        wet out yarn, silk in tub with water 10 L for 1 h
        iron-bath: prepare in pan with water 3 L, iron 3 g
        mordant silk in iron-bath at 50 °C for 30 min
        alum-bath: prepare in kettle with water 8 L, alum 24 g
        mordant silk in alum-bath at 50 °C for 1 h
        mordant yarn in alum-bath at 50 °C for 1 h
        rinse yarn in tub with water 5 L
        rinse silk in tub with water 5 L
        discard iron-bath to "foul drain"
        discard alum-bath to "foul drain"
        clean pan
    Cure:
        wet out yarn, silk in tub with water 10 L for 1 h
        iron-bath: prepare in pan with water 3 L, iron 3 g
        mordant silk in iron-bath at 50 °C for 30 min
        rinse silk in tub with water 5 L
        clean tub
        alum-bath: prepare in kettle with water 8 L, alum 24 g
        mordant silk in alum-bath at 50 °C for 1 h
        mordant yarn in alum-bath at 50 °C for 1 h
        rinse yarn in tub with water 5 L
        rinse silk in tub with water 5 L
        discard iron-bath to "foul drain"
        discard alum-bath to "foul drain"
        clean pan
    """
    for moment, lot, state, bath in meetings(study):
        before = moment.bath_before
        if before is None or not before.fouled or "iron" in met_metals(study, state):
            continue
        kinds = kinds_of(study, bath)
        relation = next((rel for rel in related("spoils", "iron") if rel.second in kinds), None)
        residue = next(iter(before.fouled.values()))
        if relation is None:
            continue
        name = study.thing(moment.node.bath)
        yield at_node(
            moment.node,
            say(
                "{lot} goes into {name} after a lot that carried loose {thing} "
                "into it{way}: {note}.",
                lot=study.thing(lot),
                name=name,
                thing=study.thing(residue.thing),
                way=on_way(residue.path),
                note=relation.note,
            ),
            "Rinse the iron out before that lot goes in, or make this bath anew.",
            related=study.at(residue.node, "The iron gets in here."),
            source=relation.source,
        )


RULES = (vat_needs_rest, vat_needs_reducer, dye_worn_out, iron_got_in)
