"""Colour: what a dyestuff needs before it, beside it and in heat, to give its colour."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from procedure.facts.liquor import (
    CELLULOSE,
    Stuff,
    fact,
    has_role,
    hottest,
    is_dyestuff,
    is_known,
    is_vat,
    kinds_of,
    lots_in,
    meetings,
    metal_of,
    names_unknown,
    only_of,
    sensitive,
    stuff,
)
from procedure.facts.study import Study
from procedure.findings import Heat, Liquor, Mass, Says, Span, Volume, say
from procedure.quantity.interval import Interval, middle
from procedure.rules.rinse import finished
from procedure.rules.rule import Found, at_node, on_way, rule
from procedure.trace import LotState, Moment, TakenUp
from procedure.vocabulary.effects import NOTHING
from procedure.vocabulary.thresholds import related, threshold

FAMILY = "colour"
THOUSAND = Fraction(1000)


def wants_mordant(study: Study, lot: LotState) -> list[tuple[Stuff, TakenUp]]:
    """The dyestuffs that a lot has met and that hold only on a mordant."""
    return [
        (one, lot.dyes[one.thing])
        for one in stuff(study, lot.dyes)
        if fact(one, "mordant") == "needed" and fact(one, "dye_class") == "mordant"
    ]


def _without(taken: list[TakenUp], beside: str) -> str | None:
    """The way on which none of these was met ('' for every way), None where there is none."""
    if not taken:
        return ""
    paths = {one.path for one in taken}
    if "" in paths or beside in paths:
        return None
    return "except " + " or ".join(sorted(paths))


@rule("no-mordant", level="warning", family=FAMILY, source="common practice")
def no_mordant(study: Study) -> Iterator[Found]:
    """A dyestuff that holds only on a mordant, on fibre that never meets one.

    The colour is pale and washes out. A mordant may come before the dye, with it or
    after it.

    Trips:
        fibre
          yarn: wool yarn, 100 g, scoured
        steps
          wet out yarn in tub with water 5 L for 1 h
          weld-bath: prepare in pan with water 3 L, weld 100 g
          dye yarn in weld-bath at 70 °C for 1 h
          rinse yarn in tub with water 5 L
          discard weld-bath to "foul drain"
    Cure:
        fibre
          yarn: wool yarn, 100 g, scoured
        steps
          wet out yarn in tub with water 5 L for 1 h
          alum-bath: prepare in kettle with water 3 L, alum 12 g
          mordant yarn in alum-bath at 85 °C for 1 h
          rinse yarn in tub with water 5 L
          weld-bath: prepare in pan with water 3 L, weld 100 g
          dye yarn in weld-bath at 70 °C for 1 h
          rinse yarn in tub with water 5 L
          discard alum-bath to "foul drain"
          discard weld-bath to "foul drain"
    """
    for lot, state in finished(study):
        if state.mordanted:
            continue
        mordants = [
            state.mordants[one.thing]
            for one in stuff(study, state.mordants)
            if metal_of(one.entry) or "mordant" in one.made.roles or one.entry is None
        ]
        for one, dye in wants_mordant(study, state):
            path = _without(mordants, dye.path)
            if path is None:
                continue
            way = on_way(path or dye.path)
            yield at_node(
                study.node(dye.node),
                say(
                    "{lot} is dyed with {material} and meets no mordant{way}.",
                    lot=study.thing(lot),
                    material=one.named,
                    way=way,
                ),
                "Mordant it first, with alum for example.",
                source=one.entry.facts["source"] if one.entry else "common practice",
            )


@rule("no-tannin", level="warning", family=FAMILY, source="Mairet 1916, ch. X")
def no_tannin(study: Study) -> Iterator[Found]:
    """Cotton or linen that is mordanted without tannin before a dye that needs a mordant.

    Cellulose holds little alum by itself: tannin goes on first and holds it. Aluminium
    acetate, or alum made basic with an alkali, holds without.

    Trips:
        fibre
          cloth: cotton cloth, 100 g, scoured
        steps
          wet out cloth in tub with water 5 L for 1 h
          alum-bath: prepare in kettle with water 3 L, alum 20 g
          mordant cloth in alum-bath at 50 °C for 2 h
          rinse cloth in tub with water 5 L
          weld-bath: prepare in pan with water 3 L, weld 100 g
          dye cloth in weld-bath at 70 °C for 1 h
          rinse cloth in tub with water 5 L
          discard alum-bath to "foul drain"
          discard weld-bath to "foul drain"
    Cure:
        fibre
          cloth: cotton cloth, 100 g, scoured
        steps
          wet out cloth in tub with water 5 L for 1 h
          tannin-bath: prepare in kettle with water 3 L, tannin 5 g
          mordant cloth in tannin-bath at 50 °C for 3 h
          rinse cloth in tub with water 5 L
          discard tannin-bath to "foul drain"
          clean kettle
          alum-bath: prepare in kettle with water 3 L, alum 20 g
          mordant cloth in alum-bath at 50 °C for 2 h
          rinse cloth in tub with water 5 L
          weld-bath: prepare in pan with water 3 L, weld 100 g
          dye cloth in weld-bath at 70 °C for 1 h
          rinse cloth in tub with water 5 L
          discard alum-bath to "foul drain"
          discard weld-bath to "foul drain"
    """
    basic = _made_basic(study)
    for lot, state in finished(study):
        if state.mordanted or not state.mordants:
            continue
        wanting = [f for f in state.fibres if f.facts.get("tannin") == "wanted"]
        if not wanting:
            continue
        metals = [one for one in stuff(study, state.mordants) if metal_of(one.entry)]
        if not metals or any(
            _needs_none(one) or (state.mordants[one.thing].node, one.thing) in basic
            for one in metals
        ):
            continue
        tannins = [
            taken
            for one in (*stuff(study, state.mordants), *stuff(study, state.dyes))
            if "tannin" in one.made.roles or "binder" in one.made.roles
            for taken in (state.mordants.get(one.thing) or state.dyes[one.thing],)
        ]
        for one, dye in wants_mordant(study, state):
            path = _without(tannins, dye.path)
            if path is None:
                continue
            mixed = not only_of(state, CELLULOSE)
            yield at_node(
                study.node(dye.node),
                say(
                    "{lot} is of {fibre} and is dyed with {material} without tannin{way}.",
                    lot=study.thing(lot),
                    fibre=wanting[0].name,
                    material=one.named,
                    way=on_way(path),
                ),
                "Give it tannin before the mordant, or mordant it with aluminium acetate.",
                related=study.at(state.mordants[metals[0].thing].node, "It is mordanted here."),
                level="note" if mixed else "",
                source=wanting[0].facts.get("source", "common practice"),
            )


def _needs_none(one: Stuff) -> bool:
    return any(rel.second == "tannin" for rel in related("stands in for", one.made.called))


def _made_basic(study: Study) -> set[tuple[int, str]]:
    """The mordants that fibre met beside an alkali, by step; these hold on cotton by themselves."""
    found = set()
    for moment in study.moments:
        bath = moment.bath_after
        if bath is not None and has_role(study, bath.contents, "alkali", "buffer", "binder"):
            found |= {(moment.node.id, thing) for thing in bath.contents}
    return found


@rule("dyestuff-too-hot", level="warning", family=FAMILY, source="Mairet 1916, ch. VI and VII")
def dyestuff_too_hot(study: Study) -> Iterator[Found]:
    """A dyestuff that is kept hotter than its colour bears.

    Madder bears the boil for ten minutes and is dulled by an hour of it; turmeric is
    not boiled; many berries brown.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        alum-bath: prepare in kettle with water 3 L, alum 12 g
        mordant yarn in alum-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        red-bath: prepare in pan with water 3 L, madder 50 g
        dye yarn in red-bath from 30 °C to boil over 1 h for 1 h gently
        rinse yarn in tub with water 5 L
        discard alum-bath to "foul drain"
        discard red-bath to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        alum-bath: prepare in kettle with water 3 L, alum 12 g
        mordant yarn in alum-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        red-bath: prepare in pan with water 3 L, madder 50 g
        dye yarn in red-bath from 30 °C to boil over 1 h for 10 min gently
        rinse yarn in tub with water 5 L
        discard alum-bath to "foul drain"
        discard red-bath to "foul drain"
    """
    for moment in study.moments:
        bath = moment.bath_after
        heat = middle(moment.peak)
        if bath is None or heat is None or _goes(moment):
            continue
        if moment.peak == _heat_before(moment) and not _says_heat(moment):
            continue
        lots = lots_in(moment)
        for one in stuff(study, bath.contents):
            limit = _limit(study, moment, one, lots)
            if limit is None or heat <= limit or not is_dyestuff(one):
                continue
            if fact(one, "dye_class") == "vat" and (
                not lots or any(sensitive(lot) for lot in lots.values())
            ):
                continue  # a vat is often made hotter than it is used; wool has its own rule
            bears = one.entry.number("minutes_above") if one.entry else None
            if bears is not None and (moment.held is None or moment.held[0] <= bears):
                continue
            assert one.entry is not None and moment.peak is not None
            why = one.entry.facts.get("heat_note") or "heat spoils its colour"
            held = Says("")
            if bears is not None and moment.held:
                held = say(" for {time}", time=Span(moment.held[0]))
            yield at_node(
                moment.node,
                say(
                    "{material} is kept at {heat}{held}; its limit is about {limit}: {why}.",
                    material=one.named,
                    heat=hottest(moment),
                    held=held,
                    limit=Heat(limit),
                    why=why,
                ),
                say(
                    "Keep it at {limit} or below, or no more than {bears} above.",
                    limit=Heat(limit),
                    bears=Span(bears),
                )
                if bears is not None
                else say("Keep it at {limit} or below.", limit=Heat(limit)),
                source=one.entry.facts["source"],
            )


def _goes(moment: Moment) -> bool:
    """True where a step ends what a bath does to its dyestuff, so that no heat is blamed on it."""
    does = moment.node.does
    return does.empties or does.stores or does.takes_out


def _heat_before(moment: Moment) -> Interval | None:
    bath = moment.bath_before
    return bath.heat if bath is not None else None


def _says_heat(moment: Moment) -> bool:
    """True where a step itself says how hot it is, or keeps what was hot for a time."""
    step = moment.step
    return step.does.says_heat or any(
        item is not None and item.quantity is not None and item.quantity.kind == "temperature"
        for item in (step.source, step.at, step.to, step.until)
    )


def _limit(study: Study, moment: Moment, one: Stuff, lots: dict[str, LotState]) -> Fraction | None:
    """The heat that a dyestuff bears, lower where it is to dye only cellulose."""
    if one.entry is None or one.entry.table != "dyestuffs":
        return None
    states = list(lots.values())
    if not states:
        treated = study.flow.treats.get(moment.node.bath, [])
        states = [study.trace.final.lots[lot] for lot in treated if lot in study.trace.final.lots]
    on_cotton = bool(states) and all(only_of(lot, CELLULOSE) for lot in states)
    lower = one.entry.number("heat_limit_cellulose_c") if on_cotton else None
    return lower if lower is not None else one.entry.number("heat_limit_c")


@rule("tannin-too-hot", level="warning", family=FAMILY, source="Mairet 1916, ch. X")
def tannin_too_hot(study: Study) -> Iterator[Found]:
    """Cotton or linen in a tannin bath hotter than 60 °C.

    The tannin goes on dark and unevenly. Mairet keeps it at 60 °C at most, for 3 to 12 h.

    Trips:
        wet out cloth in tub with water 5 L for 1 h
        tannin-bath: prepare in kettle with water 3 L, tannin 5 g
        mordant cloth in tannin-bath at 85 °C for 3 h
        rinse cloth in tub with water 5 L
        discard tannin-bath to "foul drain"
    Cure:
        wet out cloth in tub with water 5 L for 1 h
        tannin-bath: prepare in kettle with water 3 L, tannin 5 g
        mordant cloth in tannin-bath at 55 °C for 3 h
        rinse cloth in tub with water 5 L
        discard tannin-bath to "foul drain"
    """
    for moment in study.moments:
        bath = moment.bath_after
        heat = middle(moment.peak)
        if bath is None or heat is None:
            continue
        lots = [lot for lot, state in lots_in(moment).items() if only_of(state, CELLULOSE)]
        for one in stuff(study, bath.contents) if lots else ():
            if one.entry is None or one.entry.table != "mordants":
                continue
            limit = one.entry.number("heat_limit_c")
            if limit is not None and heat > limit:
                yield at_node(
                    moment.node,
                    say(
                        "{lot} lies in {material} at {heat}; for cotton and linen it is "
                        "kept at {limit} at most.",
                        lot=study.thing(lots[0]),
                        material=one.named,
                        heat=hottest(moment),
                        limit=Heat(limit),
                    ),
                    say("Keep it at {limit} or below.", limit=Heat(limit)),
                    source=one.entry.facts["source"],
                )


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
    for moment in study.moments:
        bath = moment.bath_after
        verb = moment.step.verb
        if bath is None or verb is None or not is_known(bath) or not moment.node.lots:
            continue
        if not verb.wants or any(not one.made.roles for one in stuff(study, bath.contents)):
            continue
        if names_unknown(study, bath.made):
            continue
        roles, what = verb.wants, verb.lacks
        if verb.does.dips and has_role(study, bath.contents, "reducer"):
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


# A vat that is dipped in needs a dye, whatever else stands in it.
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
    no_mordant,
    no_tannin,
    dyestuff_too_hot,
    tannin_too_hot,
    does_not_hold,
    nothing_to_dye_with,
    bath_without_fibre,
    too_little_liquor,
    iron_beside_bright,
)
