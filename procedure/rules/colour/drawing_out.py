"""Colour: whether plants have given their colour to the bath before they are taken out of it."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from procedure.facts.liquor import fact, has_role, is_known, stuff
from procedure.facts.study import Study
from procedure.findings import Says, Span, say
from procedure.rules.rule import Found, at_node, rule
from procedure.trace import BathState, Moment
from procedure.vocabulary.thresholds import threshold

FAMILY = "colour"
# What gives its colour to cold water by itself: juice, and petals that are wrung out.
_GIVES_COLD = frozenset(("berries", "berry", "fruit", "fruits", "juice", "petals", "hulls", "hull"))


@rule("plants-taken-out-cold", level="warning", family=FAMILY, source="common practice")
def plants_taken_out_cold(study: Study) -> Iterator[Found]:
    """Dried plants that are strained out of water which was never warm, after a short time.

    Wood, bark, roots and dried tops give their colour in hot water, or in cold water in a night
    or in days; strained out at once they leave a bath that hardly dyes. Fresh plants, berries,
    petals, powders, what is steeped in spirit or feeds a vat, and plants that lie in the bath
    with the fibre are not meant.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        strain gold-bath
        dye yarn in gold-bath from 30 °C to 85 °C over 45 min for 1 h
        rinse yarn in tub with water 5 L
        discard gold-bath to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        simmer gold-bath at 85 °C for 1 h
        cool gold-bath to 30 °C
        strain gold-bath
        dye yarn in gold-bath from 30 °C to 85 °C over 45 min for 1 h
        rinse yarn in tub with water 5 L
        discard gold-bath to "foul drain"
    """
    warm, long = threshold("plants give in the warm"), threshold("left alone")
    put: dict[tuple[str, str], int] = {}
    lain: dict[tuple[str, str], Fraction] = {}
    drawn: set[tuple[str, str]] = set()
    for moment in study.moments:
        name, before, after = moment.node.bath, moment.bath_before, moment.bath_after
        if not name or after is None:
            continue
        for thing in _plants(study, after):
            key = name, thing
            if key not in put:
                put[key], lain[key] = moment.node.id, Fraction(0)
            if moment.minutes is not None:
                lain[key] += moment.minutes.high
            if _may_draw(moment, after, warm.value) or lain[key] >= long.value:
                drawn.add(key)
        if before is None or not moment.node.does.strains:
            continue
        out = [thing for thing in _plants(study, before) if (name, thing) in put]
        cold = [
            thing
            for thing in out
            if (name, thing) not in drawn and not before.contents[thing].again
        ]
        if not cold or not is_known(before):
            continue
        drawn |= {(name, thing) for thing in cold}
        yield at_node(
            moment.node,
            say(
                "{plant} comes out of {bath} here, which has never been warm: it has given little "
                "of its colour.",
                plant=study.thing(cold[0]),
                bath=study.thing(name),
            ),
            _remedy(study, name),
            related=study.at(put[(name, cold[0])], "It went in here."),
            source=warm.source,
        )


def _remedy(study: Study, bath: str) -> Says:
    return say(
        "Heat it first and let it cool, as with “simmer {bath} for {time} covered”, or let it "
        "stand in the water for a night.",
        bath=study.thing(bath),
        time=Span(Fraction(60)),
    )


def _plants(study: Study, bath: BathState) -> list[str]:
    """The dried plants in pieces in a bath that want warmth to give their colour."""
    if has_role(study, bath.contents, "solvent", "vat dye"):
        return []
    return [
        one.thing
        for one in stuff(study, bath.contents)
        if bath.contents[one.thing].solid
        and one.entry is not None
        and one.entry.table == "dyestuffs"
        and one.made.state == "dried"
        and one.made.part not in _GIVES_COLD
        and not {"ground", "powder"} & {*one.made.words, one.made.part}
        and fact(one, "dye_class") != "vat"
        and not bath.contents[one.thing].bag
    ]


def _warm(bath: BathState, least: Fraction) -> bool:
    return bath.heat is not None and bath.heat.high >= least


def _may_draw(moment: Moment, after: BathState, warm: Fraction) -> bool:
    """True where a step warms a bath, lets it stand for long or for nobody knows how long, or has
    fibre in it."""
    step, does = moment.step, moment.node.does
    hot = moment.hottest is not None and moment.hottest >= warm
    waits = step.until is not None or bool(step.manner & {"overnight", "until-next-day"})
    if waits or step.note or moment.entering:
        return True
    if does.cools:  # what is only said to cool was not warmed by it
        return False
    rests = (does.settles or does.keeps_heat) and moment.minutes is None
    return hot or does.warms or rests or _warm(after, warm)


RULES = (plants_taken_out_cold,)
