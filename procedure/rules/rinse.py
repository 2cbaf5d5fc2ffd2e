"""Rinse: nothing loose stays in fibre that it can harm, or goes on to the next bath."""

from __future__ import annotations

from collections.abc import Iterator
from operator import attrgetter

from procedure.facts.handling import called, hazards, told_apart
from procedure.facts.study import Study
from procedure.findings import MOST_IN_A_FACT, Named, Several, listed, say
from procedure.rules.rule import Found, at_node, on_way, rule
from procedure.rules.soak import goes_in
from procedure.trace import Carried, LotState, Moment

FAMILY = "rinse"
HARMED_BY_ALKALI = frozenset(("protein", "regenerated protein", "blend"))


def finished(study: Study) -> Iterator[tuple[str, LotState]]:
    """Every lot that is left at the end, with its last state."""
    gone = {part for origin in study.flow.lots.values() for part in origin.parts}
    for lot, state in study.trace.final.lots.items():
        if lot not in gone and state.last >= 0:
            yield lot, state


def carries(state: LotState, *kinds: str) -> list[Carried]:
    """What a lot carries loose, of these kinds."""
    return [loose for loose in state.carried.values() if loose.kind in kinds]


class BroughtBefore:
    """What lots have brought into baths so far: who goes back into the same bath with what is
    left of it brings nothing new. One for each rule, asked in the order of the steps."""

    def __init__(self, study: Study) -> None:
        self._lots = study.flow.lots
        self._seen: set[tuple[str, str, str, int]] = set()

    def anew(self, moment: Moment, lot: str, loose: list[Carried]) -> list[Carried]:
        """Those of ``loose`` that neither the lot nor what it was parted from brought in before."""
        bath = moment.node.bath
        seen, origin = self._seen, self._lots.get(lot)
        new = [one for one in loose if (lot, bath, one.thing, one.node) not in seen]
        if origin is not None and origin.parts:
            new = [one for one in new if not self._has_brought(lot, bath, one)]
        seen.update([(lot, bath, one.thing, one.node) for one in loose])
        return new

    def _has_brought(self, lot: str, bath: str, one: Carried) -> bool:
        """True where the lot brought this in before, or what it was parted from did."""
        climb, been = [lot], {lot}
        while climb:
            who = climb.pop()
            if (who, bath, one.thing, one.node) in self._seen:
                return True
            origin = self._lots.get(who)
            more = [part for part in (origin.parts if origin else ()) if part not in been]
            been.update(more)
            climb += more
        return False


class NamedThings(dict[str, Named]):
    """What carried things are called, each found once: many lots may carry the same."""

    def __init__(self, study: Study) -> None:
        super().__init__()
        self._study = study

    def __missing__(self, thing: str) -> Named:
        name = self[thing] = told_apart(self._study, thing)
        return name


def _names(study: Study, loose: list[Carried]) -> Several:
    things = list(dict.fromkeys([one.thing for one in loose]))
    named = study.once(NamedThings)
    told = [named[thing] for thing in things[:MOST_IN_A_FACT]]
    return listed(told, more=len(things) - len(told))


@rule("ends-unrinsed", level="warning", family=FAMILY, source="common practice")
def ends_unrinsed(study: Study) -> Iterator[Found]:
    """Fibre that ends with loose dye, mordant, soap or bleach in it.

    It rubs off on hands and on other wash, and mordant left in wool makes it harsh. Bleach that
    dries into cloth eats it, as strong acid and lye do in cotton and linen.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        dye yarn in gold-bath at 85 °C for 1 h
        dry yarn
        discard gold-bath to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        dye yarn in gold-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        dry yarn
        discard gold-bath to "foul drain"
    """
    for lot, state in finished(study):
        loose = carries(state, "dye", "mordant", "soap", "reducer", "tannin", "oxidiser")
        if not any(fibre.facts.get("class") in HARMED_BY_ALKALI for fibre in state.fibres):
            loose += [one for one in carries(state, "acid", "alkali") if _eats(study, one)]
        if loose:
            first = min(loose, key=attrgetter("path"))
            yield at_node(
                study.node(state.last),
                say(
                    "{lot} ends with {loose} not rinsed out{way}.",
                    lot=study.thing(lot),
                    loose=_names(study, loose),
                    way=on_way(first.path),
                ),
                say(
                    'Rinse it before the end: “rinse {lot} in ... until "the water runs clear"”.',
                    lot=study.thing(lot),
                ),
                related=study.at(first.node, "It gets into the fibre here."),
            )


def _eats(study: Study, one: Carried) -> bool:
    """Strong acid, or lye, that no water has taken out: it rots cotton and linen, and burns."""
    found = study.flow.materials.get(one.thing)
    entry = found[0].entry if found is not None else None
    return one.rinses == 0 and entry is not None and entry.facts.get("strength") == "strong"


@rule("mordant-not-rinsed", level="warning", family=FAMILY, source="Mairet 1916, ch. II and VI")
def mordant_not_rinsed(study: Study) -> Iterator[Found]:
    """Mordanted fibre that goes into another bath with loose mordant in it.

    Surplus mordant falls out in the dye bath, takes the dye with it and leaves the
    colour weak and rubbing off. Madder above all needs it washed out first.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        alum-bath: prepare in kettle with water 3 L, alum 12 g
        mordant yarn in alum-bath at 85 °C for 1 h
        gold-bath: prepare in pan with water 3 L, weld 100 g
        dye yarn in gold-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard alum-bath to "foul drain"
        discard gold-bath to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        alum-bath: prepare in kettle with water 3 L, alum 12 g
        mordant yarn in alum-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        gold-bath: prepare in pan with water 3 L, weld 100 g
        dye yarn in gold-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard alum-bath to "foul drain"
        discard gold-bath to "foul drain"
    """
    brought = BroughtBefore(study)
    for moment, lot in goes_in(study):
        bath = moment.bath_after
        if bath is None or moment.node.bath == moment.before.lots[lot].bath:
            continue
        loose = [
            one
            for one in carries(moment.before.lots[lot], "mordant")
            if one.thing not in bath.contents
        ]
        dyes = any(_dyes(study, thing) for thing in bath.contents)
        loose = brought.anew(moment, lot, loose) if dyes else []
        if loose:
            first = min(loose, key=attrgetter("path"))
            yield at_node(
                moment.node,
                say(
                    "{lot} goes into {bath} with loose {loose} in it{way}.",
                    lot=study.thing(lot),
                    bath=study.thing(moment.node.bath),
                    loose=_names(study, loose),
                    way=on_way(first.path),
                ),
                "Rinse it first.",
                related=study.at(first.node, "It was mordanted here."),
            )


def _dyes(study: Study, thing: str) -> bool:
    found = study.flow.materials.get(thing)
    return found is not None and "dyestuff" in found[0].roles


@rule("dye-carried-over", level="warning", family=FAMILY, source="common practice")
def dye_carried_over(study: Study) -> Iterator[Found]:
    """Dyed fibre that goes unrinsed into another dye bath or a vat.

    Loose dye muddies the next bath, and plant matter feeds or upsets a vat.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        dye yarn in gold-bath at 85 °C for 1 h
        weld-bath: prepare in pan with water 3 L, weld 100 g
        dye yarn in weld-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard gold-bath to "foul drain"
        discard weld-bath to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        dye yarn in gold-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        weld-bath: prepare in pan with water 3 L, weld 100 g
        dye yarn in weld-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard gold-bath to "foul drain"
        discard weld-bath to "foul drain"
    """
    brought = BroughtBefore(study)
    for moment, lot in goes_in(study):
        bath = moment.bath_after
        if bath is None:
            continue
        dyes = [thing for thing in bath.contents if _dyes(study, thing)]
        loose = [
            one for one in carries(moment.before.lots[lot], "dye") if one.thing not in bath.contents
        ]
        loose = brought.anew(moment, lot, loose) if dyes else []
        if loose:
            first = min(loose, key=attrgetter("path"))
            yield at_node(
                moment.node,
                say(
                    "{lot} goes into {bath} with loose {loose} in it{way}.",
                    lot=study.thing(lot),
                    bath=study.thing(moment.node.bath),
                    loose=_names(study, loose),
                    way=on_way(first.path),
                ),
                "Rinse it first.",
                related=study.at(first.node, "It was dyed here."),
            )


@rule("rinsed-together", level="warning", family=FAMILY, source="common practice")
def rinsed_together(study: Study) -> Iterator[Found]:
    """A lot with loose dye in it that shares a water with a lot of another colour.

    What comes off the one settles on the other. Each colour has waters of its own
    until they run clear; loose iron is as bad, for the least trace dulls a bright colour.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        split yarn into gold 50 g, plain 50 g
        gold-bath: prepare in kettle with water 3 L, onion 25 g
        dye gold in gold-bath at 85 °C for 1 h
        wash gold, plain in tub with water 5 L, soap 3 g
        rinse gold, plain in tub with water 5 L
        discard gold-bath to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        split yarn into gold 50 g, plain 50 g
        gold-bath: prepare in kettle with water 3 L, onion 25 g
        dye gold in gold-bath at 85 °C for 1 h
        rinse gold in tub with water 5 L until "the water runs clear"
        wash gold, plain in tub with water 5 L, soap 3 g
        rinse gold, plain in tub with water 5 L
        discard gold-bath to "foul drain"
    """
    for moment in study.moments:
        if not moment.node.does.washes_out or moment.node.bath:
            continue
        states = moment.before.lots
        lots = {lot: states[lot] for lot in moment.node.lots if lot in states}
        for lot, state in lots.items():
            for loose in _colours(study, state):
                others = [
                    other
                    for other, theirs in lots.items()
                    if other != lot
                    and loose.thing not in theirs.dyes
                    and loose.thing not in theirs.mordants
                ]
                if others:
                    yield at_node(
                        moment.node,
                        say(
                            "{lot} has loose {thing} in it{way}, and {other} shares its water.",
                            lot=study.thing(lot),
                            thing=told_apart(study, loose.thing),
                            way=on_way(loose.path),
                            other=study.thing(others[0]),
                        ),
                        say(
                            "Rinse {lot} by itself first, until the water runs clear.",
                            lot=study.thing(lot),
                        ),
                        related=study.at(loose.node, "It gets into the fibre here."),
                    )
                    break


def _colours(study: Study, state: LotState) -> list[Carried]:
    """What a lot carries loose that would stain or dull another: dyes, and iron."""
    return [
        loose
        for loose in carries(state, "dye", "mordant")
        if loose.kind == "dye" or _metal(study, loose.thing) == "iron"
    ]


def _metal(study: Study, thing: str) -> str:
    found = study.flow.materials.get(thing)
    entry = found[0].entry if found is not None else None
    return entry.facts.get("metal", "") if entry is not None else ""


@rule("soap-carried-over", level="warning", family=FAMILY, source="common practice")
def soap_carried_over(study: Study) -> Iterator[Found]:
    """Fibre that goes into a mordant or dye bath with soap still in it.

    Soap binds alum and lime into a scum that spots the fibre.

    Trips:
        scour yarn in tub with water 5 L, soap 5 g at 40 °C for 1 h
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        dye yarn in gold-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard gold-bath to "foul drain"
    Cure:
        scour yarn in tub with water 5 L, soap 5 g at 40 °C for 1 h
        rinse yarn in tub with water 5 L at 40 °C
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        dye yarn in gold-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard gold-bath to "foul drain"
    """
    brought = BroughtBefore(study)
    for moment, lot in goes_in(study):
        loose = brought.anew(moment, lot, carries(moment.before.lots[lot], "soap"))
        if loose:
            yield at_node(
                moment.node,
                say(
                    "{lot} goes into {bath} with {loose} still in it{way}.",
                    lot=study.thing(lot),
                    bath=study.thing(moment.node.bath),
                    loose=_names(study, loose),
                    way=on_way(loose[0].path),
                ),
                "Rinse the soap out first.",
                related=study.at(loose[0].node, "The soap gets in here."),
            )


@rule("poison-not-washed-out", level="warning", family="safety", source="common practice")
def poison_not_washed_out(study: Study) -> Iterator[Found]:
    """Fibre that ends without a wash after a toxic plant or metal.

    A rinse is not enough: what the plant or the salt left is washed out with mild
    soap before anyone wears it. It is an error with a plant that harms.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        gold-bath: prepare in kettle with water 3 L, tansy 100 g
        strain gold-bath
        throw out tansy to "a closed heap, out of reach of children and animals"
        dye yarn in gold-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard gold-bath to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        gold-bath: prepare in kettle with water 3 L, tansy 100 g
        strain gold-bath
        throw out tansy to "a closed heap, out of reach of children and animals"
        dye yarn in gold-bath at 85 °C for 1 h
        wash yarn in tub with water 5 L, soap 3 g
        rinse yarn in tub with water 5 L
        discard gold-bath to "foul drain"
    """
    for lot, state in finished(study):
        loose = carries(state, "poison")
        if loose:
            first = min(loose, key=attrgetter("path"))
            yield at_node(
                study.node(state.last),
                say(
                    "{lot} ends without a wash after {loose}{way}.",
                    lot=study.thing(lot),
                    loose=listed(dict.fromkeys(called(study, one.thing) for one in loose)),
                    way=on_way(first.path),
                ),
                "Wash it with mild soap and rinse it.",
                related=study.at(first.node, "It gets into the fibre here."),
                level="error" if any(_plant(study, one.thing) for one in loose) else "warning",
            )


def _plant(study: Study, thing: str) -> bool:
    """Whether a material is a plant that harms."""
    found = study.flow.materials.get(thing)
    return found is not None and any(h.facts.get("plant_level") for h in hazards(found[0]))


@rule("alkali-left", level="warning", family=FAMILY, source="Mairet 1916, ch. V")
def alkali_left(study: Study) -> Iterator[Found]:
    """Wool or silk that ends with alkali in it.

    Alkali makes protein fibre tender and harsh. A last water with a little acid
    neutralises it, or it is rinsed at least twice.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        vat: prepare in kettle with water 5 L, indigo 5 g, soda 20 g, reducer 15 g at 50 °C
        stand vat for 1 h covered
        dip yarn in vat at 50 °C for 10 min
        air yarn for 15 min
        rinse yarn in tub with water 5 L
        discard vat to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        vat: prepare in kettle with water 5 L, indigo 5 g, soda 20 g, reducer 15 g at 50 °C
        stand vat for 1 h covered
        dip yarn in vat at 50 °C for 10 min
        air yarn for 15 min
        rinse yarn in tub with water 5 L
        rinse yarn in tub with water 5 L, vinegar 50 mL
        discard vat to "foul drain"
    """
    for lot, state in finished(study):
        if not any(fibre.facts.get("class") in HARMED_BY_ALKALI for fibre in state.fibres):
            continue
        loose = [one for one in carries(state, "alkali") if not _mild(study, one.thing)]
        if loose:
            first = min(loose, key=attrgetter("path"))
            yield at_node(
                study.node(state.last),
                say(
                    "{lot} ends with {loose} still in it{way}, and alkali harms {fibre}.",
                    lot=study.thing(lot),
                    loose=_names(study, loose),
                    way=on_way(first.path),
                    fibre=state.fibres[0].name,
                ),
                "Rinse it twice, or once with a little vinegar.",
                related=study.at(first.node, "It gets into the fibre here."),
            )


def _mild(study: Study, thing: str) -> bool:
    """Chalk and its like harm no fibre."""
    found = study.flow.materials.get(thing)
    entry = found[0].entry if found is not None else None
    return entry is not None and entry.facts.get("strength") == "mild"


RULES = (
    ends_unrinsed,
    mordant_not_rinsed,
    dye_carried_over,
    rinsed_together,
    soap_carried_over,
    poison_not_washed_out,
    alkali_left,
)
