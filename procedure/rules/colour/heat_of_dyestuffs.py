"""Colour: dyestuffs and tannin that are hotter than they can be."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from procedure.facts.colour_meant import colours_meant
from procedure.facts.liquor import (
    CELLULOSE,
    Stuff,
    fact,
    hottest,
    is_dyestuff,
    lots_in,
    only_of,
    sensitive,
    stuff,
)
from procedure.facts.study import Study
from procedure.findings import Heat, Says, Span, say
from procedure.quantity.interval import Interval
from procedure.rules.rule import Found, at_node, rule
from procedure.trace import LotState, Moment
from procedure.wording.told import told

FAMILY = "colour"


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
        heat = moment.hottest
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
            why = told(one.entry.facts.get("heat_note") or "heat spoils its colour")
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
                level="note" if colours_meant(study, moment) & {"dark", "pale"} else "",
                source=one.entry.facts["source"],
            )


def _may_be_below(moment: Moment, limit: Fraction) -> bool:
    """True where a word such as hot leaves room below a limit; the reader takes that."""
    assert moment.peak is not None
    said = (moment.step.at, moment.step.to)
    word = any(one is not None and one.quantity is not None and one.quantity.word for one in said)
    return (word or moment.peak == _heat_before(moment)) and moment.peak.low < limit


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


@rule("tannin-too-hot", level="warning", family=FAMILY, source="Mairet 1938, ch. X")
def tannin_too_hot(study: Study) -> Iterator[Found]:
    """Cotton or linen in a tannin bath hotter than 60 °C.

    Mairet keeps the bath at 60 °C at most, for 3 to 12 h.

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
        heat = moment.hottest
        if bath is None or heat is None:
            continue
        lots = [lot for lot, state in lots_in(moment).items() if only_of(state, CELLULOSE)]
        for one in stuff(study, bath.contents) if lots else ():
            if one.entry is None or one.entry.table != "mordants":
                continue
            limit = one.entry.number("heat_limit_c")
            if limit is not None and heat > limit and not _may_be_below(moment, limit):
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


RULES = (
    dyestuff_too_hot,
    tannin_too_hot,
)
