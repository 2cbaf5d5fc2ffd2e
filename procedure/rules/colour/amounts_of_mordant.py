"""Colour: amounts of mordant against what is usual for the fibre."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from procedure.facts.colour_meant import colours_meant
from procedure.facts.handling import declared
from procedure.facts.liquor import (
    CELLULOSE,
    PROTEIN,
    is_vat,
    only_of,
    stuff,
)
from procedure.facts.study import Study
from procedure.findings import Named, Percent, Says, plainly_said, say
from procedure.rules.colour.share_of_fibre import UseOnLot, at_material, fibre_of, uses
from procedure.rules.rule import Found, at_node, rule
from procedure.trace import LotState
from procedure.vocabulary import Entry
from procedure.vocabulary.thresholds import related, threshold

FAMILY = "colour"


def _range(entry: Entry, state: LotState, end: str) -> Fraction | None:
    """An end of a mordant's usual range on a lot: the looser of two where its fibres differ."""
    columns = [f"protein_{end}", f"cellulose_{end}"]
    if only_of(state, PROTEIN):
        columns = columns[:1]
    elif only_of(state, CELLULOSE):
        columns = columns[1:]
    known = [value for column in columns if (value := entry.number(column)) is not None]
    if not known:
        return None
    return min(known) if end == "low" else max(known)


def _mordants(study: Study) -> Iterator[UseOnLot]:
    """Mordants as they are used on fibre; in a vat a metal salt is a reducer."""
    for use in uses(study):
        entry = use.one.entry
        if entry is not None and entry.table == "mordants" and not is_vat(study, use.bath):
            yield use


@rule("too-much-mordant", level="warning", family=FAMILY, source="Mairet 1916, ch. II")
def too_much_mordant(study: Study) -> Iterator[Found]:
    """More mordant than the fibre bears, or (as a note) more than is usual.

    Alum in excess makes wool sticky; iron hardens wool and rots cloth; tin makes it
    brittle.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        alum-bath: prepare in kettle with water 3 L, alum 40 g
        mordant yarn in alum-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard alum-bath to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        alum-bath: prepare in kettle with water 3 L, alum 25 g
        mordant yarn in alum-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard alum-bath to "foul drain"
    """
    for use in _mordants(study):
        entry = use.one.entry
        assert entry is not None
        excess, high = _range(entry, use.state, "excess"), _range(entry, use.state, "high")
        if use.least is None:
            continue
        if excess is not None and use.least > excess:
            effect = _effect(entry, use.state)
            yield at_material(
                study,
                use,
                say(
                    "{least} of {mordant} on {fibre} is in excess of {excess}, and {effect}.",
                    least=Percent(use.least),
                    mordant=Named("material", entry.name),
                    fibre=fibre_of(use.state),
                    excess=Percent(excess),
                    effect=plainly_said(effect),
                ),
                say("Use {usual}.", usual=_usual(entry, use.state)),
                "note" if _for_dark(study, use, excess) else "",
            )
        elif high is not None and use.least > high:
            far = use.least > high * threshold("much mordant").value
            yield at_material(
                study,
                use,
                say(
                    "{least} of {mordant} on {fibre} is {far}more than the usual {high}.",
                    least=Percent(use.least),
                    mordant=Named("material", entry.name),
                    fibre=fibre_of(use.state),
                    far="far " if far else "",
                    high=Percent(high),
                ),
                say("Usual is {usual}.", usual=_usual(entry, use.state)),
                "" if far else "note",
            )


def _effect(entry: Entry, state: LotState) -> str:
    """What an excess does, where that is known of this fibre: what wool suffers silk may not."""
    known = entry.facts.get("excess_effect") or ""
    of_wool = known.startswith(("makes wool", "hardens wool"))
    suffers = any(fibre.facts.get("felts") == "yes" for fibre in state.fibres)
    return known if known and (suffers or not of_wool) else "is more than the fibre bears"


def _for_dark(study: Study, use: UseOnLot, excess: Fraction) -> bool:
    """True of much iron where a black or a brown is wanted; wool bears less of it than cotton."""
    assert use.one.entry is not None
    iron = use.one.entry.facts.get("metal") == "iron"
    if not iron or "dark" not in colours_meant(study, use.moment) or use.least is None:
        return False
    wool = only_of(use.state, PROTEIN)
    times = threshold("dark on iron for wool" if wool else "dark on iron").value
    return use.least <= excess * times


def _usual(entry: Entry, state: LotState) -> Says | Percent:
    low, high = _range(entry, state, "low"), _range(entry, state, "high")
    if high is None:
        return Says("less")
    return Percent(low, high) if low is not None else say("up to {high}", high=Percent(high))


def _has_it_already(study: Study, use: UseOnLot) -> bool:
    """True where the lot was given the same mordant before: a little more of it is an addition."""
    before = use.moment.before.lots.get(use.lot)
    earlier = before.mordants if before is not None else {}
    made = [declared(study, thing) for thing, took in earlier.items() if took.node != use.node]
    return any(one is not None and one.entry is use.one.entry for one in made)


@rule("too-little-mordant", level="warning", family=FAMILY, source="Mairet 1916, ch. II")
def too_little_mordant(study: Study) -> Iterator[Found]:
    """Far less mordant than is usual: most likely a slip of the pen.

    Too little mordant gives a pale colour that does not hold. A little less than usual
    is only noted.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        alum-bath: prepare in kettle with water 3 L, alum 1.2 g
        mordant yarn in alum-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard alum-bath to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        alum-bath: prepare in kettle with water 3 L, alum 12 g
        mordant yarn in alum-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard alum-bath to "foul drain"
    """
    little = threshold("little mordant")
    for use in _mordants(study):
        entry = use.one.entry
        assert entry is not None
        low = _range(entry, use.state, "low")
        if not use.first or low is None or use.most is None or use.most >= low:
            continue
        if _has_it_already(study, use):
            continue
        far = use.most < low * little.value
        yield at_material(
            study,
            use,
            say(
                "{most} of {mordant} on {fibre} is {far}less than the usual {usual}.",
                most=Percent(use.most),
                mordant=Named("material", entry.name),
                fibre=fibre_of(use.state),
                far="far " if far else "",
                usual=_usual(entry, use.state),
            ),
            "See whether a figure slipped; otherwise say that a pale colour is wanted.",
            "" if far and "pale" not in colours_meant(study, use.moment) else "note",
        )


@rule("bath-worn-out", level="warning", family=FAMILY, source="common practice")
def bath_worn_out(study: Study) -> Iterator[Found]:
    """A mordant bath used for more fibre than its mordant serves.

    The later lots take up too little, and their colour is pale and does not hold. Where a pale
    colour is wanted, where fibre that is dyed already is changed by eye, or where a sign says when
    it is enough, that is only noted.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        wet out silk in tub with water 5 L for 1 h
        alum-bath: prepare in kettle with water 3 L, alum 12 g
        mordant yarn in alum-bath at 80 °C for 1 h
        rinse yarn in tub with water 5 L
        mordant silk in alum-bath at 80 °C for 1 h
        rinse silk in tub with water 5 L
        discard alum-bath to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        wet out silk in tub with water 5 L for 1 h
        alum-bath: prepare in kettle with water 3 L, alum 12 g
        mordant yarn in alum-bath at 80 °C for 1 h
        rinse yarn in tub with water 5 L
        add alum 12 g to alum-bath
        mordant silk in alum-bath at 80 °C for 1 h
        rinse silk in tub with water 5 L
        discard alum-bath to "foul drain"
    """
    for use in _mordants(study):
        entry = use.one.entry
        assert entry is not None
        low = _range(entry, use.state, "low")
        before = use.moment.bath_before
        if use.first or before is None or use.lot in before.treated:
            continue
        if before.served == use.bath.served or low is None or use.most is None:
            continue
        if use.most < low and use.one.thing in before.contents:
            yield at_node(
                use.moment.node,
                say(
                    "With {lot}, {bath} has treated so much fibre that its {mordant} "
                    "comes to {most}; {usual} is usual.",
                    lot=study.thing(use.lot),
                    bath=study.thing(use.moment.node.bath),
                    mordant=Named("material", entry.name),
                    most=Percent(use.most),
                    usual=_usual(entry, use.state),
                ),
                say(
                    "Add more {thing} first, or make a new bath.", thing=study.thing(use.one.thing)
                ),
                related=study.at(use.node, "It was put in here."),
                source=entry.facts["source"],
                level="note" if _by_eye(study, use) else "",
            )


def _by_eye(study: Study, use: UseOnLot) -> bool:
    """True where somebody looks whether it is enough, or wants it paler."""
    until = use.moment.step.until
    looked_for = until is not None and until.words is not None
    pale = "pale" in colours_meant(study, use.moment)
    return looked_for or pale or bool(use.moment.before.lots[use.lot].dyes)


@rule("mordant-for-other-fibre", level="warning", family=FAMILY, source="common practice")
def mordant_for_other_fibre(study: Study) -> Iterator[Found]:
    """A mordant that is meant for another kind of fibre.

    Aluminium acetate is for cotton and linen and does little on wool; chrome is for
    wool and silk.

    Trips:
        materials
          acetate: aluminium acetate
        steps
          wet out yarn in tub with water 5 L for 1 h
          alum-bath: prepare in kettle with water 3 L, acetate 8 g
          mordant yarn in alum-bath at 50 °C for 1 h
          rinse yarn in tub with water 5 L
          discard alum-bath to "foul drain"
    Cure:
        materials
          acetate: aluminium acetate
        steps
          wet out cloth in tub with water 5 L for 1 h
          alum-bath: prepare in kettle with water 3 L, acetate 8 g
          mordant cloth in alum-bath at 50 °C for 1 h
          rinse cloth in tub with water 5 L
          discard alum-bath to "foul drain"
    """
    for use in _mordants(study):
        entry = use.one.entry
        assert entry is not None
        here, there = "protein", "cellulose"
        if only_of(use.state, CELLULOSE):
            here, there = there, here
        elif not only_of(use.state, PROTEIN):
            continue
        fits = {other.second for other in related("serves also", entry.name)}
        if use.state.fibres and {fibre.name for fibre in use.state.fibres} <= fits:
            continue
        if entry.number(f"{here}_high") is None and entry.number(f"{there}_high") is not None:
            kind = "wool and silk" if there == "protein" else "cotton and linen"
            yield at_node(
                use.moment.node,
                say(
                    "{mordant} is for {kind}, and {lot} is of {fibre}.",
                    mordant=Named("material", entry.name),
                    kind=kind,
                    lot=study.thing(use.lot),
                    fibre=fibre_of(use.state),
                ),
                "Use potassium alum.",
                source=entry.facts["source"],
            )


@rule("tin-without-oxalic-acid", level="note", family=FAMILY, source="Mairet 1916, ch. II")
def tin_without_oxalic_acid(study: Study) -> Iterator[Found]:
    """More than 4 % of tin without oxalic acid beside it.

    Tin hardens wool; Mairet gives 4 % with 2 % of oxalic acid.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        tin-bath: prepare in kettle with water 3 L, tin 6 g
        mordant yarn in tin-bath from 20 °C to 85 °C over 1 h for 1 h
        wash yarn in tub with water 5 L, soap 3 g
        rinse yarn in tub with water 5 L
        discard tin-bath to "the hazardous waste collection"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        tin-bath: prepare in kettle with water 3 L, tin 4 g, oxalic 2 g
        mordant yarn in tin-bath from 20 °C to 85 °C over 1 h for 1 h
        wash yarn in tub with water 5 L, soap 3 g
        rinse yarn in tub with water 5 L
        discard tin-bath to "the hazardous waste collection"
    """
    for use in _mordants(study):
        entry = use.one.entry
        assert entry is not None
        beside = {one.made.called for one in stuff(study, use.bath.contents)}
        for relation in related("wants beside it", entry.name):
            instead = {other.second for other in related("does instead of", relation.second)}
            if relation.above is None or use.least is None or {relation.second, *instead} & beside:
                continue
            if use.least > relation.above:
                yield at_material(
                    study,
                    use,
                    say(
                        "{least} of {mordant} without {second}: {note}.",
                        least=Percent(use.least),
                        mordant=Named("material", entry.name),
                        second=relation.second,
                        note=relation.note,
                    ),
                    say(
                        "Use {above} at most, with half as much {second}.",
                        above=Percent(relation.above),
                        second=relation.second,
                    ),
                )


RULES = (
    too_much_mordant,
    too_little_mordant,
    bath_worn_out,
    mordant_for_other_fibre,
    tin_without_oxalic_acid,
)
