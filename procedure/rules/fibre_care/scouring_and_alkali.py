"""Fibre care: fibre that is scoured before it is dyed, and what alkali does to it."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from procedure.facts.liquor import (
    brought,
    fact,
    has_role,
    hottest,
    is_known,
    is_vat,
    kinds_of,
    meetings,
    names_unknown,
    sensitive,
    stuff,
)
from procedure.facts.study import Study
from procedure.findings import Heat, say
from procedure.rules.fibre_care.heat_and_felting import in_liquor
from procedure.rules.rule import Found, at_node, rule
from procedure.vocabulary.thresholds import threshold

FAMILY = "fibre care"


@rule("unscoured-fibre", level="warning", family=FAMILY, source="common practice")
def unscoured_fibre(study: Study) -> Iterator[Found]:
    """Fibre with its grease, size or gum still in it that goes into a mordant or a dye.

    Nothing gets through to the thread, and the colour comes out in patches.

    Trips:
        fibre
          yarn: wool yarn, 100 g, unscoured
        steps
          wet out yarn in tub with water 5 L for 1 h
          gold-bath: prepare in kettle with water 3 L, onion 50 g
          dye yarn in gold-bath at 85 °C for 1 h
          rinse yarn in tub with water 5 L
          discard gold-bath to "foul drain"
    Cure:
        fibre
          yarn: wool yarn, 100 g, unscoured
        steps
          scour yarn in tub with water 5 L, soap 5 g at 40 °C for 1 h
          rinse yarn in tub with water 5 L at 40 °C
          gold-bath: prepare in kettle with water 3 L, onion 50 g
          dye yarn in gold-bath at 85 °C for 1 h
          rinse yarn in tub with water 5 L
          discard gold-bath to "foul drain"
    """
    told: set[str] = set()
    for moment, lot, state, bath in meetings(study):
        gum = any(fibre.name == "raw silk" for fibre in state.fibres)
        dirty = state.scoured is False or (gum and state.scoured is None)
        if dirty and lot not in told and (kinds_of(study, bath) or not is_known(bath)):
            told.add(lot)
            yield at_node(
                moment.node,
                say(
                    "{lot} has not been scoured and goes into {bath}.",
                    lot=study.thing(lot),
                    bath=study.thing(moment.node.bath),
                ),
                say(
                    "Scour it first: “scour {lot} in ... with water ..., soap ...”.",
                    lot=study.thing(lot),
                ),
            )


@rule("scouring-unstated", level="note", family=FAMILY, source="common practice")
def scouring_unstated(study: Study) -> Iterator[Found]:
    """Fibre that goes into a bath without a word on whether it is scoured.

    Grease or gum that is still in it keeps mordant and colour out in patches.

    Trips:
        fibre
          yarn: wool yarn, 100 g
        steps
          wet out yarn in tub with water 5 L for 1 h
          gold-bath: prepare in kettle with water 3 L, onion 50 g
          dye yarn in gold-bath at 85 °C for 1 h
          rinse yarn in tub with water 5 L
          discard gold-bath to "foul drain"
    Cure:
        fibre
          yarn: wool yarn, 100 g, scoured
        steps
          wet out yarn in tub with water 5 L for 1 h
          gold-bath: prepare in kettle with water 3 L, onion 50 g
          dye yarn in gold-bath at 85 °C for 1 h
          rinse yarn in tub with water 5 L
          discard gold-bath to "foul drain"
    """
    told: set[str] = set()
    for _, lot, state, _ in meetings(study):
        origin = study.flow.lots.get(lot)
        if origin is None or origin.declared is None or state.scoured is not None or lot in told:
            continue
        told.add(lot)
        yield Found(
            origin.procedure,
            origin.declared.name.place,
            say("It is not said whether {lot} is scoured.", lot=study.thing(lot)),
            "Write “scoured” or “unscoured” where it is declared.",
        )


@rule("scoured-in-plain-water", level="warning", family=FAMILY, source="common practice")
def scoured_in_plain_water(study: Study) -> Iterator[Found]:
    """Fibre that is scoured without soap or alkali.

    Water alone leaves grease, wax and size where they are.

    Trips:
        scour yarn in tub with water 5 L at 40 °C for 1 h
    Cure:
        scour yarn in tub with water 5 L, soap 5 g at 40 °C for 1 h
        rinse yarn in tub with water 5 L at 40 °C
    """
    for moment in study.moments:
        if not moment.node.does.scours or not moment.node.lots:
            continue
        bath = moment.bath_after
        if bath is not None and not is_known(bath):
            continue
        things = brought(moment)
        unknown = names_unknown(study, moment.node.id) or any(
            not one.made.roles for one in stuff(study, things)
        )
        helps = has_role(
            study, things, "detergent", "alkali", "buffer", "leveller", "food for ferment"
        )
        if not helps and not unknown:
            yield at_node(
                moment.node,
                "The fibre is scoured in plain water here.",
                "Add soap, or for cotton and linen soap and soda ash.",
            )


@rule("strong-alkali", level="warning", family=FAMILY, source="common practice")
def strong_alkali(study: Study) -> Iterator[Found]:
    """Wool or silk in lye or lime, or in hot soda.

    Alkali eats protein fibre, and the hotter it is the faster. A vat may be alkaline
    if it is kept at 50 to 60 °C.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        scour yarn in kettle with water 5 L, soda 20 g at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        rinse yarn in tub with water 5 L
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        scour yarn in kettle with water 5 L, soap 5 g at 40 °C for 1 h
        rinse yarn in tub with water 5 L
        rinse yarn in tub with water 5 L
    """
    most = threshold("alkali heat")
    for moment, lot, state in in_liquor(study):
        fibre = sensitive(state)
        bath = moment.bath_after
        if fibre is None or (bath is not None and is_vat(study, bath)):
            continue
        heat = moment.hottest
        hot = heat is not None and heat > most.value
        for one in stuff(study, brought(moment)):
            strength = fact(one, "strength")
            if "alkali" not in one.made.roles or strength == "mild":
                continue
            if strength == "strong" or hot:
                at = say(" at {heat}", heat=hottest(moment)) if hot and heat is not None else ""
                yield at_node(
                    moment.node,
                    say(
                        "{lot} lies in {material}{at}, which eats {fibre}.",
                        lot=study.thing(lot),
                        material=one.named,
                        at=at,
                        fibre=fibre.name,
                    ),
                    "Use neutral soap, or a mild alkali at hand heat.",
                    source=most.source,
                )


@rule("vat-too-hot", level="warning", family=FAMILY, source="Mairet 1916, ch. V")
def vat_too_hot(study: Study) -> Iterator[Found]:
    """Wool or silk in a vat hotter than 60 °C.

    The alkali of the vat eats the fibre, and the heat spoils the vat. Mairet keeps a
    vat for wool at 120 to 140 °F (49 to 60 °C).

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        vat: prepare in kettle with water 5 L, indigo 5 g, soda 20 g, reducer 15 g at 50 °C
        stand vat for 1 h covered
        dip yarn in vat at 85 °C for 10 min
        air yarn for 15 min
        rinse yarn in tub with water 5 L
        rinse yarn in tub with water 5 L, vinegar 50 mL
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
    most = threshold("vat heat")
    for moment, lot, state in in_liquor(study):
        bath = moment.bath_after
        heat = moment.hottest
        fibre = sensitive(state)
        if bath is None or heat is None or fibre is None or heat <= most.value:
            continue
        kept = not is_known(bath) and moment.node.does.dips
        if kept or is_vat(study, bath):
            yield at_node(
                moment.node,
                say(
                    "{lot} is in the vat at {heat}, and its alkali eats {fibre} at that heat.",
                    lot=study.thing(lot),
                    heat=hottest(moment),
                    fibre=fibre.name,
                ),
                say(
                    "Keep the vat at {usual}, and never above {limit}.",
                    usual=Heat(Fraction(50)),
                    limit=Heat(most.value),
                ),
                source=most.source,
            )


@rule("vat-overheated", level="warning", family=FAMILY, source="Mairet 1938, ch. V")
def vat_overheated(study: Study) -> Iterator[Found]:
    """A vat that stands or is kept far above 60 °C.

    Heat spoils the reduced indigo: Mairet keeps stock and vat at 120 °F (49 °C), and on no
    account above 140 °F (60 °C). What is made hot and cooled at once is left alone.

    Trips:
        vat: prepare in kettle with water 5 L, indigo 5 g, soda 20 g, reducer 15 g at 50 °C
        stand vat for 2 h at 85 °C covered
        discard vat to "foul drain"
    Cure:
        vat: prepare in kettle with water 5 L, indigo 5 g, soda 20 g, reducer 15 g at 50 °C
        stand vat for 2 h at 50 °C covered
        discard vat to "foul drain"
    """
    most, spare = threshold("vat heat"), threshold("sudden change").value / 2
    for moment in study.moments:
        bath, heat, does = moment.bath_after, moment.hottest, moment.node.does
        if bath is None or heat is None or heat <= most.value + spare or not is_vat(study, bath):
            continue
        if does.cools or not (does.settles or does.keeps_heat) or moment.node.present:
            continue
        if not any(has_role(study, bath.contents, role) for role in ("alkali", "reducer")):
            continue  # leaves that are scalded: no indigo is dissolved yet
        yield at_node(
            moment.node,
            say(
                "{vat} is kept at {heat}, which spoils the dissolved indigo.",
                vat=study.thing(moment.node.bath),
                heat=hottest(moment),
            ),
            say(
                "Keep it at {usual}, and never above {limit}.",
                usual=Heat(Fraction(50)),
                limit=Heat(most.value),
            ),
            source=most.source,
        )


RULES = (
    vat_overheated,
    unscoured_fibre,
    scouring_unstated,
    scoured_in_plain_water,
    strong_alkali,
    vat_too_hot,
)
