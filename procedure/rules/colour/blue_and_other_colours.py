"""Colour: whether the vat or the other colour comes first on the same fibre."""

from __future__ import annotations

from collections.abc import Iterator

from procedure.facts.liquor import (
    CELLULOSE,
    ancestors,
    fact,
    is_dyestuff,
    meetings,
    metal_of,
    only_of,
    stuff,
)
from procedure.facts.study import Study
from procedure.findings import say
from procedure.rules.colour.order_of_baths import NEVER, alkaline_vat, last_alum, mordant_dyes
from procedure.rules.rule import Found, at_node, on_way, rule
from procedure.vocabulary.thresholds import related

FAMILY = "colour"


@rule("vat-between-mordant-and-dye", level="note", family=FAMILY, source="common practice")
def vat_between_mordant_and_dye(study: Study) -> Iterator[Found]:
    """A vat between the alum and the dye that needs it.

    Alkali strips alum. On cotton and linen, which hold it weakly, little is left for the
    dye, and this is a warning: the blue goes first and the mordant comes after it. Wool and silk
    hold their alum better, and dyers do it either way, or have mordant and dye both on before;
    Mairet's Jade green has alum, then blue, then yellow, but its blue is an extract, without
    alkali (ch. IX).

    Trips:
        wet out cloth in tub with water 5 L for 1 h
        vat: prepare in kettle with water 5 L, indigo 5 g, soda 20 g, reducer 15 g at 50 °C
        stand vat for 1 h covered
        dip cloth in vat at 50 °C for 10 min
        air cloth for 15 min
        rinse cloth in tub with water 5 L
        rinse cloth in tub with water 5 L, vinegar 50 mL
        weld-bath: prepare in pan with water 3 L, weld 100 g
        dye cloth in weld-bath at 70 °C for 1 h
        rinse cloth in tub with water 5 L
        discard vat to "foul drain"
        discard weld-bath to "foul drain"
    Cure:
        wet out cloth in tub with water 5 L for 1 h
        vat: prepare in kettle with water 5 L, indigo 5 g, soda 20 g, reducer 15 g at 50 °C
        stand vat for 1 h covered
        dip cloth in vat at 50 °C for 10 min
        air cloth for 15 min
        rinse cloth in tub with water 5 L
        rinse cloth in tub with water 5 L, vinegar 50 mL
        alum-bath: prepare in pan with water 3 L, alum 20 g
        mordant cloth in alum-bath at 50 °C for 2 h
        rinse cloth in tub with water 5 L
        discard alum-bath to "foul drain"
        clean pan
        weld-bath: prepare in pan with water 3 L, weld 100 g
        dye cloth in weld-bath at 70 °C for 1 h
        rinse cloth in tub with water 5 L
        discard vat to "foul drain"
        discard weld-bath to "foul drain"
    """
    vats: dict[str, int] = {}
    for moment, lot, state, bath in meetings(study):
        if alkaline_vat(study, bath):
            vats[lot] = moment.node.id
            continue
        dyes = mordant_dyes(study, bath.contents)
        alum = last_alum(study, state)
        vat = _vat_of(study, vats, lot)
        if not dyes or alum == NEVER or vat <= alum:
            continue
        # What was dyed before the vat has had its use of the alum already.
        if any(alum < state.dyes[one.thing].node < vat for one in mordant_dyes(study, state.dyes)):
            continue
        if any(metal_of(one.entry) for one in stuff(study, bath.contents)):
            continue  # the bath brings a mordant of its own
        cotton = only_of(state, CELLULOSE)
        yield at_node(
            moment.node,
            say(
                "{lot} had its alum before the vat and goes into {dye} after it; the vat's "
                "alkali strips alum, and cotton and linen hold it weakly."
                if cotton
                else "{lot} had its alum before the vat and goes into {dye} after it; the vat's "
                "alkali strips alum.",
                lot=study.thing(lot),
                dye=dyes[0].named,
            ),
            "Put the blue on first and mordant after it."
            if cotton
            else "Put the blue on first and mordant after it, or dye before the vat; on wool and "
            "silk either is done, and a sample tells.",
            related=study.at(vat, "It goes into the vat here."),
            level="warning" if cotton else "",
        )


def _vat_of(study: Study, vats: dict[str, int], lot: str) -> int:
    """The step at which a lot, or the lots that it comes of, went into a vat last; -2 for none."""
    return max(vats.get(one, NEVER) for one in (lot, *ancestors(study, lot)))


@rule("vat-over-colour", level="note", family=FAMILY, source="common practice")
def vat_over_colour(study: Study) -> Iterator[Found]:
    """An alkaline vat over a colour that its alkali harms.

    Blue over yellow or yellow over blue are both done on wool, and nothing is said of
    them. On cotton and linen the alkali takes alum, and the colour on it, off again, which is a
    warning; and some colours change in alkali on any fibre. There the blue is safer first.

    Trips:
        fibre
          yarn: wool yarn, 100 g, scoured, mordanted
        materials
          crimson: cochineal, powder
        steps
          wet out yarn in tub with water 5 L for 1 h
          red-bath: prepare in pan with water 3 L, crimson 8 g
          dye yarn in red-bath at 80 °C for 1 h
          rinse yarn in tub with water 5 L
          vat: prepare in kettle with water 5 L, indigo 5 g, soda 20 g, reducer 15 g at 50 °C
          stand vat for 1 h covered
          dip yarn in vat at 50 °C for 10 min
          air yarn for 15 min
          rinse yarn in tub with water 5 L
          rinse yarn in tub with water 5 L, vinegar 50 mL
          discard vat to "foul drain"
          discard red-bath to "foul drain"
    Cure:
        fibre
          yarn: wool yarn, 100 g, scoured
        materials
          crimson: cochineal, powder
        steps
          wet out yarn in tub with water 5 L for 1 h
          vat: prepare in kettle with water 5 L, indigo 5 g, soda 20 g, reducer 15 g at 50 °C
          stand vat for 1 h covered
          dip yarn in vat at 50 °C for 10 min
          air yarn for 15 min
          rinse yarn in tub with water 5 L
          rinse yarn in tub with water 5 L, vinegar 50 mL
          alum-bath: prepare in pan with water 3 L, alum 12 g
          mordant yarn in alum-bath at 85 °C for 1 h
          rinse yarn in tub with water 5 L
          discard alum-bath to "foul drain"
          clean pan
          red-bath: prepare in pan with water 3 L, crimson 8 g
          dye yarn in red-bath at 80 °C for 1 h
          rinse yarn in tub with water 5 L
          discard vat to "foul drain"
          discard red-bath to "foul drain"
    """
    told: set[tuple[str, str]] = set()
    for moment, lot, state, bath in meetings(study):
        if not alkaline_vat(study, bath) or (lot, moment.node.bath) in told:
            continue
        cotton = only_of(state, CELLULOSE)
        for one in stuff(study, state.dyes):
            if not is_dyestuff(one) or fact(one, "dye_class") == "vat":
                continue
            changed = related("changed by", one.made.called)
            weak = cotton and bool(mordant_dyes(study, [one.thing]))
            if not changed and not weak:
                continue
            told.add((lot, moment.node.bath))
            taken = state.dyes[one.thing]
            why = (
                say("in alkali {material} {note}", material=one.named, note=changed[0].note)
                if changed
                else say(
                    "its alkali takes alum and the {material} on it from cotton and linen",
                    material=one.named,
                )
            )
            yield at_node(
                moment.node,
                say(
                    "{lot} goes into {bath} over {material}{way}: {why}.",
                    lot=study.thing(lot),
                    bath=study.thing(moment.node.bath),
                    material=one.named,
                    way=on_way(taken.path),
                    why=why,
                ),
                "Blue first is safer; over it, keep the dips short and put a little acid in the "
                "last water.",
                related=study.at(taken.node, "It is dyed here."),
                source=changed[0].source if changed else "common practice",
                level="warning" if weak else "",
            )
            break


RULES = (
    vat_between_mordant_and_dye,
    vat_over_colour,
)
