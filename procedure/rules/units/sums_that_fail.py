"""Units: more is taken than there is, more is made ready than is used, a solid by its volume."""

from __future__ import annotations

from collections.abc import Iterator

from procedure.facts.study import Study
from procedure.findings import Mass, Volume, say
from procedure.model import Item, Material, Written
from procedure.quantity.interval import ZERO, Interval
from procedure.rules.rule import Found, at_node, rule
from procedure.rules.units.at_quantity import found
from procedure.trace import Moment
from procedure.vocabulary.estimates import spoon_weights
from procedure.vocabulary.thresholds import threshold

FAMILY = "units"


@rule("more-than-there-is", level="error", family=FAMILY, source="common practice")
def more_than_there_is(study: Study) -> Iterator[Found]:
    """More of a bath that is drawn off, poured or thrown away than the bath holds.

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
    told: set[int] = set()
    spare = threshold("more than there is").value
    for moment in study.moments:
        for thing, item in _taken_of(study, moment):
            bath = moment.before.baths.get(thing)
            taken = item.quantity
            if bath is None or bath.volume is None or taken is None or taken.low is None:
                continue
            too_much = taken.kind == "volume" and taken.low > bath.volume.high * spare
            if not too_much or moment.node.id in told:
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


def _taken_of(study: Study, moment: Moment) -> Iterator[tuple[str, Item]]:
    """The baths of which a step takes some, each with the item that says how much."""
    does = moment.node.does
    if does.draws_off or does.empties:
        yield from ((moment.node.bath, item) for item in moment.step.objects[:1])
    for thing, item in (*moment.node.materials, *moment.node.moved):
        if thing in study.flow.baths and thing != moment.node.bath:
            yield thing, item


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
    much = threshold("much made ready").value
    used: dict[str, Interval] = {}
    unsure: set[str] = set()
    for moment in study.moments:
        if moment.node.does.readies:
            continue
        for thing, _, amount in moment.amounts:
            if amount is None:
                unsure.add(thing)
            else:
                used[thing] = used.get(thing, ZERO).plus(amount.grams)
        unsure |= {thing for thing, _ in moment.node.materials} - used.keys()
    told: set[int] = set()
    for moment in study.moments:
        for thing, _, amount in moment.amounts if moment.node.does.readies else ():
            needs = used.get(thing)
            if amount is None or needs is None or thing in unsure or moment.node.id in told:
                continue
            if needs.high <= 0 or amount.grams.low <= needs.high * much:
                continue
            told.add(moment.node.id)
            yield at_node(
                moment.node,
                say(
                    "{ready} of {material} is made ready, and {used} is used.",
                    ready=Mass(*amount.grams),
                    material=study.thing(thing),
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
            "Write the grams, or say the strength of the solution where it is declared.",
        )


def _in_volume(written: Written) -> bool:
    quantity = written.quantity
    return written.role == "amount" and quantity.kind == "volume" and not quantity.loosely


def _solid(made: Material) -> bool:
    """True of a salt or powder, as far as the vocabulary knows, that is declared as no solution."""
    if made.entry is None or made.strength is not None:
        return False
    weighs = spoon_weights().get(made.entry.name)
    if weighs is not None:
        return not weighs.liquid
    return (
        made.entry.table == "mordants"
        and bool(made.entry.facts.get("metal"))
        and bool(made.entry.facts.get("formula"))
    )


RULES = (
    more_than_there_is,
    more_ready_than_used,
    solid_by_volume,
)
