"""Units: what a percentage or ratio is of, where it does not say."""

from __future__ import annotations

from collections.abc import Iterator

from procedure.facts.study import Study
from procedure.findings import Value, listed, say
from procedure.model import Place, Procedure, Written
from procedure.rules.rule import Found, rule
from procedure.rules.units.at_quantity import found

FAMILY = "units"


@rule("percentage-of-nothing", level="error", family=FAMILY, source="common practice")
def percentage_of_nothing(study: Study) -> Iterator[Found]:
    """A percentage, ratio or share that does not say of what.

    Dyers mean the dry weight of the fibre, bakers the flour and chemists the
    water; the difference can be thirtyfold.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        split yarn into pale 20 %, dark
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        split yarn into pale 20 % of yarn, dark
    """
    for procedure, written in study.written():
        quantity = written.quantity
        if written.role != "amount" or quantity.kind not in ("percent", "ratio"):
            continue
        if not quantity.base and not quantity.of_fibre:
            yield _of_what(procedure, written, "“{text}” does not say of what.")


@rule("share-of-no-fibre", level="error", family=FAMILY, source="common practice")
def share_of_no_fibre(study: Study) -> Iterator[Found]:
    """An amount by the weight of the fibre, where no fibre goes into the bath.

    It comes to nothing that anybody could weigh.

    Trips:
        alum-bath: prepare in kettle with water 3 L, alum 12 %
        discard alum-bath to "foul drain"
    Cure:
        alum-bath: prepare in kettle with water 3 L, alum 12 % of yarn
        wet out yarn in tub with water 5 L for 1 h
        discard alum-bath to "foul drain"
    """
    taken = _taken_of(study)
    for procedure, written in study.written():
        quantity = written.quantity
        if (
            quantity.of_fibre
            and not quantity.without_sign
            and taken.get((procedure.key, quantity.place)) == ()
        ):
            yield found(
                procedure,
                written,
                say(
                    "“{text}” is of the fibre that goes into the bath, and none goes into it here.",
                    text=quantity.text,
                ),
                say(
                    "Say which lot it is of, “{text} of {of}”, or put fibre into the bath.",
                    text=_number_alone(quantity.text),
                    of=next(iter(procedure.lots), "yarn"),
                ),
            )


def _number_alone(text: str) -> str:
    """``12 %`` of “12 % wof”, “half” of “half of its weight”."""
    return text.removesuffix(" wof").removesuffix(" owf").partition(" of ")[0]


@rule("taken-of-the-fibre", level="note", family=FAMILY, source="common practice")
def taken_of_the_fibre(study: Study) -> Iterator[Found]:
    """A percentage or ratio that does not say of what, and is taken of the fibre.

    Dyers mean the dry weight of all the fibre that the bath is to treat. Whoever reads it
    needs to know that, above all where a bath takes several lots.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        alum-bath: prepare in kettle with water 4 L, alum 12 % at 40 °C
        mordant yarn in alum-bath at 40 °C for 12 h
        rinse yarn in tub with water 5 L
        discard alum-bath to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        alum-bath: prepare in kettle with water 4 L, alum 12 % of yarn at 40 °C
        mordant yarn in alum-bath at 40 °C for 12 h
        rinse yarn in tub with water 5 L
        discard alum-bath to "foul drain"
    """
    taken = _taken_of(study)
    for procedure, written in study.written():
        quantity = written.quantity
        lots = taken.get((procedure.key, quantity.place), ())
        if quantity.taken and lots:
            yield _of_what(
                procedure,
                written,
                "“{text}” does not say of what; it is taken of the dry weight of {lots}.",
                lots=listed(study.thing(lot) for lot in lots),
            )


@rule("share-of-another-lot", level="warning", family=FAMILY, source="common practice")
def share_of_another_lot(study: Study) -> Iterator[Found]:
    """An amount by the weight of one lot, in a bath that only another lot goes into.

    Either the wrong lot goes in, or the amount is reckoned of the wrong one.

    Trips:
        fibre
          gold: wool yarn, 100 g, scoured
          olive: wool yarn, 200 g, scoured
        steps
          wet out gold, olive in tub with water 9 L for 1 h
          alum-bath: prepare in kettle with water 4 L, alum 12 % of olive at 40 °C
          mordant gold in alum-bath at 40 °C for 12 h
          rinse gold, olive in tub with water 9 L
          discard alum-bath to "foul drain"
    Cure:
        fibre
          gold: wool yarn, 100 g, scoured
          olive: wool yarn, 200 g, scoured
        steps
          wet out gold, olive in tub with water 9 L for 1 h
          alum-bath: prepare in kettle with water 4 L, alum 12 % of gold at 40 °C
          mordant gold in alum-bath at 40 °C for 12 h
          rinse gold, olive in tub with water 9 L
          discard alum-bath to "foul drain"
    """
    told: set[Place] = set()
    for moment in study.moments:
        goes_in = study.flow.treats.get(moment.node.bath, ())
        declared = moment.node.procedure.lots
        if not goes_in or not set(goes_in) <= declared.keys():
            continue  # what is parted off is a part of the lot that it is measured by
        for _, item, amount in moment.amounts:
            quantity = item.quantity
            if quantity is None or not quantity.base or amount is None or amount.of is None:
                continue
            of = amount.of.things
            known = of and all(one in declared and one not in goes_in for one in of)
            if not known or quantity.place in told:
                continue
            told.add(quantity.place)
            yield Found(
                moment.node.procedure,
                quantity.place,
                say(
                    "“{text}” is of {of}, and {lots} goes into {bath}.",
                    text=quantity.text,
                    of=listed(study.thing(one) for one in of),
                    lots=listed(study.thing(lot) for lot in goes_in),
                    bath=study.thing(moment.node.bath),
                ),
                "See which lot is meant, and name the same one in both places.",
                moment.node.calls,
            )


def _taken_of(study: Study) -> dict[tuple[str, Place], tuple[str, ...]]:
    """The lots of which an amount of all the fibre is taken, by file and place; none is ()."""
    found: dict[tuple[str, Place], tuple[str, ...]] = {}
    for moment in study.trace.moments:
        lots = tuple(study.flow.treats.get(moment.node.bath, ())) or moment.node.lots
        for _, item, amount in moment.amounts:
            quantity = item.quantity
            if quantity is not None and quantity.of_fibre:
                of = amount.of.things if amount is not None and amount.of is not None else lots
                key = (moment.node.procedure.key, quantity.place)
                found[key] = of or found.get(key, ())
    return found


def _of_what(procedure: Procedure, written: Written, sentence: str, **told: Value) -> Found:
    text = written.quantity.text
    lots = list(procedure.lots)
    return found(
        procedure,
        written,
        say(sentence, text=text, **told),
        say(
            "Write “{text} of {of}”, or “wof” for all the fibre that the bath is to treat.",
            text=text.removesuffix(" wof").removesuffix(" owf"),
            of=lots[0] if len(lots) == 1 else "the lot",
        ),
    )


RULES = (percentage_of_nothing, share_of_no_fibre, taken_of_the_fibre, share_of_another_lot)
