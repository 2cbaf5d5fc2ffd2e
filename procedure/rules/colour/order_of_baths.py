"""Colour: what goes first where one bath follows another on the same fibre."""

from __future__ import annotations

import re
from collections.abc import Iterator

from procedure.facts.in_words import said
from procedure.facts.liquor import (
    CELLULOSE,
    Stuff,
    fact,
    has_role,
    is_dyestuff,
    is_known,
    is_vat,
    meetings,
    metal_of,
    only_of,
    stuff,
)
from procedure.facts.study import Study
from procedure.findings import listed, say
from procedure.model import Procedure, Step
from procedure.model.harm import clauses_of, undenied
from procedure.model.substances import substances_named
from procedure.quantity.ready_patterns import pattern
from procedure.rules.rule import Found, at_node, on_way, rule
from procedure.trace import BathState, LotState

FAMILY = "colour"


# The number of no step: what never happened comes before all that did.
NEVER = -2


def mordant_dyes(study: Study, things: object) -> list[Stuff]:
    """The dyestuffs among things that hold only on a mordant."""
    return [
        one
        for one in stuff(study, things)
        if fact(one, "dye_class") == "mordant" and fact(one, "mordant") == "needed"
    ]


def alkaline_vat(study: Study, bath: BathState) -> bool:
    """True for a vat of known contents that holds an alkali."""
    return is_known(bath) and is_vat(study, bath) and has_role(study, bath.contents, "alkali")


def last_alum(study: Study, lot: LotState) -> int:
    """The step that gave a lot its aluminium last; -1 where it came mordanted, -2 for none."""
    nodes = [
        lot.mordants[one.thing].node
        for one in stuff(study, lot.mordants)
        if metal_of(one.entry) == "aluminium"
    ]
    return max(nodes, default=-1 if lot.mordanted else NEVER)


@rule("iron-before-colour", level="note", family=FAMILY, source="Mairet 1916, ch. II")
def iron_before_colour(study: Study) -> Iterator[Found]:
    """Iron on the fibre before a colour that iron dulls, or before a vat.

    Mairet gives the iron last, after an hour in the dye; so put on, it saddens as far as
    pleases the eye and no further. Before the dye it darkens from the start, which is done
    for greys and olives. In an alkaline vat iron on the fibre turns to rust.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        iron-bath: prepare in kettle with water 3 L, iron 4 g
        mordant yarn in iron-bath at 60 °C for 30 min
        rinse yarn in tub with water 5 L
        gold-bath: prepare in pan with water 3 L, weld 100 g
        dye yarn in gold-bath at 80 °C for 1 h
        rinse yarn in tub with water 5 L
        discard iron-bath to "foul drain"
        discard gold-bath to "foul drain"
        clean kettle
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        gold-bath: prepare in pan with water 3 L, weld 100 g
        dye yarn in gold-bath at 80 °C for 1 h
        rinse yarn in tub with water 5 L
        iron-bath: prepare in kettle with water 3 L, iron 4 g
        modify yarn in iron-bath at 60 °C for 30 min
        rinse yarn in tub with water 5 L
        discard iron-bath to "foul drain"
        discard gold-bath to "foul drain"
        clean kettle
    """
    told: set[tuple[str, str]] = set()
    for moment, lot, state, bath in meetings(study):
        irons = [one for one in stuff(study, state.mordants) if metal_of(one.entry) == "iron"]
        if not irons or irons[0].thing in bath.contents or (lot, moment.node.bath) in told:
            continue
        bright = [
            one
            for one in stuff(study, bath.contents)
            if is_dyestuff(one) and fact(one, "iron_sensitive") == "yes"
        ]
        vat = alkaline_vat(study, bath)
        # Back into a bath that it has been in already is no new colour.
        if not vat and (not bright or lot in (moment.bath_before or bath).treated):
            continue
        told.add((lot, moment.node.bath))
        name = study.thing(moment.node.bath)
        why = "the vat's alkali turns iron on the fibre to rust" if vat else "iron dulls it"
        what = "" if vat else say(" for {bright}", bright=bright[0].named)
        yield at_node(
            moment.node,
            say(
                "{lot} has iron in it and goes into {name}{what}: {why}.",
                lot=study.thing(lot),
                name=name,
                what=what,
                why=why,
            ),
            "Iron usually comes last: see whether it can go on after this.",
            related=study.at(state.mordants[irons[0].thing].node, "It gets its iron here."),
            source="common practice" if vat else "",
        )


@rule("tannin-after-alum", level="warning", family=FAMILY, source="Mairet 1938, ch. X")
def tannin_after_alum(study: Study) -> Iterator[Found]:
    """Cotton or linen that gets its tannin after its alum, and no alum again before the dye.

    The tannin is there to hold the metal, so it goes on first. Some dyers give alum,
    tannin and alum again, and nothing is said of that.

    Trips:
        fibre
          cloth: cotton cloth, 100 g, scoured
        steps
          wet out cloth in tub with water 5 L for 1 h
          alum-bath: prepare in kettle with water 3 L, alum 20 g
          mordant cloth in alum-bath at 50 °C for 2 h
          rinse cloth in tub with water 5 L
          tannin-bath: prepare in pan with water 3 L, tannin 5 g
          mordant cloth in tannin-bath at 50 °C for 3 h
          rinse cloth in tub with water 5 L
          discard alum-bath to "foul drain"
          discard tannin-bath to "foul drain"
          clean pan
          weld-bath: prepare in pan with water 3 L, weld 100 g
          dye cloth in weld-bath at 70 °C for 1 h
          rinse cloth in tub with water 5 L
          discard weld-bath to "foul drain"
    Cure:
        fibre
          cloth: cotton cloth, 100 g, scoured
        steps
          wet out cloth in tub with water 5 L for 1 h
          tannin-bath: prepare in pan with water 3 L, tannin 5 g
          mordant cloth in tannin-bath at 50 °C for 3 h
          rinse cloth in tub with water 5 L
          alum-bath: prepare in kettle with water 3 L, alum 20 g
          mordant cloth in alum-bath at 50 °C for 2 h
          rinse cloth in tub with water 5 L
          discard alum-bath to "foul drain"
          discard tannin-bath to "foul drain"
          clean pan
          weld-bath: prepare in pan with water 3 L, weld 100 g
          dye cloth in weld-bath at 70 °C for 1 h
          rinse cloth in tub with water 5 L
          discard weld-bath to "foul drain"
    """
    told: set[str] = set()
    for _, lot, state, bath in meetings(study):
        if lot in told or not only_of(state, CELLULOSE) or not mordant_dyes(study, bath.contents):
            continue
        alum = last_alum(study, state)
        tannins = [
            state.mordants[one.thing].node
            for one in stuff(study, state.mordants)
            if one.entry is not None and "tannin" in one.made.roles
        ]
        if alum < 0 or not tannins or min(tannins) < alum or state.dyes:
            continue
        told.add(lot)
        yield at_node(
            study.node(min(tannins)),
            say(
                "{lot} gets its tannin after its alum, and goes into the dye with no alum over it.",
                lot=study.thing(lot),
            ),
            "Give the tannin first and the alum after it, or alum once more.",
            related=study.at(alum, "It gets its alum here."),
        )


@rule("scoured-after-mordant", level="warning", family=FAMILY, source="common practice")
def scoured_after_mordant(study: Study) -> Iterator[Found]:
    """Fibre that is scoured after it was mordanted, before any dye is on it.

    Hot soap and soda take off what the mordant bath put on. Grease and gum come out
    first.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        alum-bath: prepare in kettle with water 3 L, alum 12 g
        mordant yarn in alum-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        scour yarn in tub with water 5 L, soap 5 g at 40 °C for 1 h
        rinse yarn in tub with water 5 L at 40 °C
        discard alum-bath to "foul drain"
    Cure:
        scour yarn in tub with water 5 L, soap 5 g at 40 °C for 1 h
        rinse yarn in tub with water 5 L at 40 °C
        alum-bath: prepare in kettle with water 3 L, alum 12 g
        mordant yarn in alum-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard alum-bath to "foul drain"
    """
    for moment in study.moments:
        if not moment.node.does.scours:
            continue
        for lot in moment.node.lots:
            state = moment.before.lots.get(lot)
            if state is None or state.dyes:
                continue
            metals = [one for one in stuff(study, state.mordants) if metal_of(one.entry)]
            if metals:
                taken = state.mordants[metals[0].thing]
                yield at_node(
                    moment.node,
                    say(
                        "{lot} is scoured after it was mordanted with {metals}{way}.",
                        lot=study.thing(lot),
                        metals=metals[0].named,
                        way=on_way(taken.path),
                    ),
                    "Scour first, then mordant.",
                    related=study.at(taken.node, "It is mordanted here."),
                )


@rule("iron-onto-fibre", level="warning", family=FAMILY, source="Mairet 1916, ch. II")
def iron_onto_fibre(study: Study) -> Iterator[Found]:
    """Iron or tin that goes into a bath while fibre lies in it, or is strewn over the fibre.

    Where it falls, undissolved, it stains: Mairet has copperas thoroughly dissolved and mixed with
    the water before the wool is entered. Free words that sprinkle it over fibre are read as well.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        onion-bath: prepare in kettle with water 3 L, onion 50 g
        simmer onion-bath at 85 °C for 1 h
        cool onion-bath to 30 °C
        strain onion-bath
        dye yarn in onion-bath at 80 °C for 1 h
        add iron 2 g to onion-bath
        hold onion-bath at 80 °C for 15 min
        rinse yarn in tub with water 5 L
        discard onion-bath to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        onion-bath: prepare in kettle with water 3 L, onion 50 g
        simmer onion-bath at 85 °C for 1 h
        cool onion-bath to 30 °C
        strain onion-bath
        dye yarn in onion-bath at 80 °C for 1 h
        lift yarn from onion-bath
        add iron 2 g to onion-bath
        modify yarn in onion-bath at 80 °C for 15 min
        rinse yarn in tub with water 5 L
        discard onion-bath to "foul drain"
    """
    for moment in study.moments:
        node = moment.node
        if not (node.does.adds and node.present) or _dissolved(node.step):
            continue
        added = [thing for thing, _, _ in moment.amounts]
        metals = [one for one in stuff(study, added) if metal_of(one.entry) in _STAINING]
        if not metals or all(one.made.strength is not None for one in metals):
            continue
        lots = [study.thing(lot) for lot in node.present]
        yield at_node(
            node,
            say(
                "{material} goes in while {lots} {verb} in {bath}, and stains where it falls.",
                material=metals[0].named,
                lots=listed(lots, last=" and "),
                verb="lies" if len(lots) == 1 else "lie",
                bath=study.thing(node.bath),
            ),
            say(
                "Lift {lots} out first, stir it in until it is dissolved, then put {them} back.",
                lots=listed(lots, last=" and "),
                them="it" if len(lots) == 1 else "them",
            ),
        )

    yield from _strewn(study)


_STAINING = frozenset(("iron", "tin"))
_STREWS = (
    r"\b(?:sprinkl|strew|scatter|shak|dust|crumbl)\w*\b.*?\b(?:over|on|onto|upon|across|among)\b"
    r"(?P<onto>.*)"
)
_FIBRE = (
    r"\b(?:yarns?|skeins?|hanks?|wool|wools|fibres?|fibers?|fleece|cloths?|fabrics?|silks?|cotton"
    r"|linen|lots?|scar(?:f|ves)|shawls?|socks?|shirts?|squares?|them|threads?|textiles?|felt)\b"
)


def _strewn(study: Study) -> Iterator[Found]:
    """Free words that have iron or tin strewn over fibre: “sprinkle copperas over the wet yarn”."""
    for words in said(study):
        for clause in clauses_of(words.text):
            strewn = pattern(_STREWS).search(undenied(clause))
            if strewn is None or not _is_on_fibre(strewn["onto"], words.procedure):
                continue
            known = [entry for entry, _ in substances_named(clause)]
            made = (words.procedure.materials.get(name) for name in re.findall(r"[\w-]+", clause))
            known += [one.entry for one in made if one is not None and one.entry is not None]
            metal = next((one for one in known if metal_of(one) in _STAINING), None)
            if metal is not None:
                yield Found(
                    words.procedure,
                    words.place,
                    say(
                        "{metal} that is strewn over fibre stains where it falls.", metal=metal.name
                    ),
                    "Dissolve it in a bath first: lift the fibre out, stir the bath, and put the "
                    "fibre in when nothing is left to dissolve.",
                    calls=words.calls,
                )
                break


def _is_on_fibre(onto: str, procedure: Procedure) -> bool:
    """True where words name fibre, or a lot of the procedure."""
    named = pattern(r"[\w-]+").findall(onto)
    return bool(pattern(_FIBRE).search(onto)) or not procedure.lots.keys().isdisjoint(named)


def _dissolved(step: object) -> bool:
    """True where a step says that what it adds is dissolved before, or the fibre held aside."""
    told = step.note.lower() if isinstance(step, Step) else ""
    return re.search(r"dissol|aside|out of the way|lift|melted", told) is not None


RULES = (
    iron_before_colour,
    tannin_after_alum,
    scoured_after_mordant,
    iron_onto_fibre,
)
