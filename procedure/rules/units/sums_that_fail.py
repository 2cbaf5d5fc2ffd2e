"""Units: more is taken than there is, more is made ready than is used, a solid by its volume."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from procedure.facts.handling import told_apart
from procedure.facts.study import Study
from procedure.findings import Mass, Named, Volume, say
from procedure.model import Item, Material, Written
from procedure.quantity.interval import ZERO, Interval
from procedure.quantity.ready_patterns import pattern
from procedure.rules.rule import Found, at_node, rule
from procedure.rules.units.at_quantity import found
from procedure.trace import Moment
from procedure.trace.stocks import Stocks
from procedure.trace.uptake import grams_of, is_dry
from procedure.vocabulary import vocabulary
from procedure.vocabulary.thresholds import threshold

FAMILY = "units"


@rule("more-than-there-is", level="error", family=FAMILY, source="common practice")
def more_than_there_is(study: Study) -> Iterator[Found]:
    """More of a bath that is drawn off, poured or thrown away than the bath holds.

    Or more of a material that the steps take than its declaration says there is.
    One of the two amounts is a slip, and what comes after cannot be worked out.

    Trips:
        weld-bath: prepare in kettle with water 3 L, weld 100 g
        draw off 5 L of weld-bath into pan as second
        discard weld-bath to "foul drain"
        discard second to "foul drain"
    Cure:
        weld-bath: prepare in kettle with water 3 L, weld 100 g
        draw off 1 L of weld-bath into pan as second
        discard weld-bath to "foul drain"
        discard second to "foul drain"
    """
    yield from _more_than_the_stock(study)
    told: set[int] = set()
    spare = threshold("more than there is").value
    for moment in study.moments:
        for thing, item, litres in _taken_of(study, moment):
            bath = moment.before.baths.get(thing)
            taken = item.quantity
            if bath is None or bath.volume is None or taken is None or litres is None:
                continue
            if litres <= bath.volume.high * spare or moment.node.id in told:
                continue
            told.add(moment.node.id)
            yield Found(
                moment.node.procedure,
                taken.place,
                say(
                    "“{text}” is more than there is: {bath} holds {volume}.",
                    text=taken.text,
                    bath=study.thing(thing),
                    volume=Volume(*bath.volume),
                ),
                "See which of the two amounts is a slip.",
                moment.node.calls,
                study.at(bath.made, "It was made here."),
            )


def _more_than_the_stock(study: Study) -> Iterator[Found]:
    """Materials of which the steps take more than is declared."""
    stocks = Stocks(study.flow)
    for thing, (made, procedure) in study.flow.materials.items():
        stock = made.stock
        if stock is None or stock.kind not in ("mass", "volume") or not stock.known:
            continue
        taken = stocks.used(thing, stock.kind, (), study.trace.moments)
        if taken is None or taken.low <= stock.ends.high:
            continue
        sized = Mass if stock.kind == "mass" else Volume
        yield Found(
            procedure,
            stock.place,
            say(
                "The steps take {taken} of {material}, and there is {stock}.",
                taken=sized(*taken),
                material=told_apart(study, thing),
                stock=sized(*stock.ends),
            ),
            "See which of the amounts is a slip.",
        )


def _taken_of(study: Study, moment: Moment) -> Iterator[tuple[str, Item, Fraction | None]]:
    """The baths of which a step takes some: the item that says how much, the least in litres."""
    does = moment.node.does
    for item in moment.step.objects[:1] if does.draws_off or does.empties else ():
        taken = item.quantity
        litres = taken.low if taken is not None and taken.kind == "volume" else None
        yield moment.node.bath, item, litres
    for thing, item, amount in moment.amounts:
        if thing in study.flow.baths and thing != moment.node.bath and amount is not None:
            yield thing, item, amount.litres.low


@rule("more-ready-than-used", level="warning", family=FAMILY, source="common practice")
def more_ready_than_used(study: Study) -> Iterator[Found]:
    """Plants or other materials of which far more is ground, chopped or gathered than is used.

    Most likely a slip of the pen: kilograms for grams.

    Trips:
        grind madder 50 kg
        red-bath: prepare in kettle with water 3 L, madder 50 g note "hard tap water"
        discard red-bath to "foul drain"
    Cure:
        grind madder 50 g
        red-bath: prepare in kettle with water 3 L, madder 50 g note "hard tap water"
        discard red-bath to "foul drain"
    """
    if not any(moment.node.does.readies for moment in study.moments):
        return
    much = threshold("much made ready").value
    used: dict[str, Interval] = {}
    unsure: set[str] = set()
    for moment in study.moments:
        if moment.node.does.readies:
            continue
        for thing, _, amount in moment.amounts:
            grams = grams_of(study.flow, thing, amount)
            if amount is None or grams is None:
                unsure.add(thing)
            elif not amount.again:
                used[thing] = used.get(thing, ZERO).plus(grams)
        unsure |= {thing for thing, _ in moment.node.materials} - used.keys()
    told: set[int] = set()
    for moment in study.moments:
        for thing, _, amount in moment.amounts if moment.node.does.readies else ():
            needs, ready = used.get(thing), grams_of(study.flow, thing, amount)
            if ready is None or needs is None or thing in unsure or moment.node.id in told:
                continue
            if needs.high <= 0 or ready.low <= needs.high * much:
                continue
            told.add(moment.node.id)
            yield at_node(
                moment.node,
                say(
                    "{ready} of {material} is made ready, and {used} is used.",
                    ready=Mass(*ready),
                    material=told_apart(study, thing),
                    used=Mass(*needs),
                ),
                "See which of the two amounts is a slip.",
            )


@rule("solid-by-volume", level="warning", family=FAMILY, source="common practice")
def solid_by_volume(study: Study) -> Iterator[Found]:
    """A powder or crystals in millilitres or litres.

    A millilitre of alum is no gram of it; most likely the wrong unit was written.

    Trips:
        alum-bath: prepare in kettle with water 3 L, alum 12 mL
        discard alum-bath to "foul drain"
    Cure:
        alum-bath: prepare in kettle with water 3 L, alum 12 g
        discard alum-bath to "foul drain"
    """
    for procedure, written in study.written():
        made = procedure.materials.get(written.item.text) if written.item is not None else None
        if made is None or not _in_volume(written) or not _solid(made):
            continue
        yield found(
            procedure,
            written,
            say(
                "“{text}” is a volume, and {material} is weighed.",
                text=written.quantity.text,
                material=made.called,
            ),
            "Write its weight, or say the strength of the solution where it is declared.",
        )


def _in_volume(written: Written) -> bool:
    quantity = written.quantity
    return written.role == "amount" and quantity.kind == "volume" and not quantity.loosely


_SMALL = frozenset(("ground", "chipped"))


def _solid(made: Material) -> bool:
    """True of a salt or powder, as far as the vocabulary knows, that is declared as no solution."""
    if made.entry is not None and made.entry.table == "dyestuffs":
        # A jar of fresh flowers may be filled by eye.
        return is_dry(made) and (made.state == "dried" or not _SMALL.isdisjoint(made.words))
    return is_dry(made)


@rule("pieces-do-not-add-up", level="error", family=FAMILY, source="common practice")
def pieces_do_not_add_up(study: Study) -> Iterator[Found]:
    """A lot whose skeins or pieces do not weigh what the lot weighs.

    All amounts hang on the weight of the fibre, and one of the numbers is a slip.

    Trips:
        fibre
          yarn: wool yarn, 100 g, 3 skeins of 80 g, scoured
        steps
          wet out yarn in tub with water 5 L for 1 h
    Cure:
        fibre
          yarn: wool yarn, 240 g, 3 skeins of 80 g, scoured
        steps
          wet out yarn in tub with water 5 L for 1 h
    """
    for procedure in study.procedures:
        for lot in procedure.lots.values():
            whole, pieces = lot.weight, lot.pieces
            each = pieces.each if pieces is not None else None
            if whole is None or pieces is None or each is None or each.kind != "mass":
                continue
            if not (whole.known and pieces.known and each.known) or whole.text == pieces.text:
                continue
            slack = 1 + threshold("pieces and whole").value
            made = Interval(*each.ends).times(Interval(*pieces.ends))
            low, high = whole.ends
            if made.low <= high * slack and low <= made.high * slack:
                continue
            yield Found(
                procedure,
                pieces.place,
                say(
                    "The pieces of {lot} weigh {made} together, and the whole is {whole}.",
                    lot=Named("lot", lot.name.text),
                    made=Mass(*made),
                    whole=Mass(*whole.ends),
                ),
                "See which of the numbers is a slip.",
            )


# A weight as it stands among the words of a header: “300 g of yellow wool”, “2 1/2 lb”.
_WEIGHT = (
    r"(?<![\w.,/])(\d+(?:[.,]\d+)?)(?: ?(\d)/(\d))? ?"
    r"(kg|g|lbs?|oz|kilos?|grams?|pounds?|ounces?)\b"
)


@rule("makes-more-than-its-fibre", level="warning", family=FAMILY, source="common practice")
def makes_more_than_its_fibre(study: Study) -> Iterator[Found]:
    """A head that says that more fibre is made than is declared: 3 kg of yellow wool out of 300 g.

    Fibre gains little in a bath, so that one of the two numbers is a slip, and who goes by the head
    buys or promises what will not be there.

    Trips:
        procedure "An example"
          by "Fellside Dye Circle"
          revised 2026-06-14
          makes "1 kg of golden wool"
          place outdoors
          wearing gloves, eye protection
        steps
          wet out yarn in tub with water 5 L for 1 h
    Cure:
        procedure "An example"
          by "Fellside Dye Circle"
          revised 2026-06-14
          makes "100 g of golden wool"
          place outdoors
          wearing gloves, eye protection
        steps
          wet out yarn in tub with water 5 L for 1 h
    """
    made = study.procedure
    weights = [lot.weight for lot in made.lots.values()]
    if made.makes is None or not weights or len(study.procedures) > 1:
        return
    whole = ZERO
    for weight in weights:
        if weight is None or weight.kind != "mass" or not weight.known:
            return
        whole = whole.plus(Interval(*weight.ends))
    most = whole.high * threshold("gained in the bath").value
    for said in pattern(_WEIGHT).finditer(made.makes.text):
        grams = _grams(said)
        if grams > most:
            yield Found(
                made,
                made.makes.place,
                say(
                    "“{said}” is more than the fibre that goes in, which is {whole}.",
                    said=said.group(),
                    whole=Mass(*whole),
                ),
                "See which of the two weights is a slip.",
                source=threshold("gained in the bath").source,
            )
            return


def _grams(said: re.Match[str]) -> Fraction:
    number = Fraction(said.group(1).replace(",", "."))
    if said.group(2) and said.group(3) != "0":
        number += Fraction(int(said.group(2)), int(said.group(3)))
    return number * vocabulary().units[said.group(4)].factor


RULES = (
    makes_more_than_its_fibre,
    pieces_do_not_add_up,
    more_than_there_is,
    more_ready_than_used,
    solid_by_volume,
)
