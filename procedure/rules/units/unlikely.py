"""Units: what reads well and is hardly meant: a unit that looks like another, a point slipped."""

from collections import Counter
from collections.abc import Iterator
from fractions import Fraction
from functools import cache

from procedure.facts.handling import told_apart
from procedure.facts.liquor import (
    Stuff,
    declared,
    fact,
    item_of,
    kinds_of,
    litres,
    pot_of,
    pure,
    put_in,
    stuff,
)
from procedure.facts.study import Pointer, Study
from procedure.findings import Mass, Says, Span, Strength, say
from procedure.flow.graph import WATER
from procedure.model import Place, Procedure, Quantity
from procedure.quantity.interval import Interval
from procedure.quantity.record import NamedTuple
from procedure.rules.rule import Found, at_node, rule
from procedure.trace import Moment
from procedure.vocabulary.library import rows
from procedure.vocabulary.thresholds import Threshold, threshold

FAMILY = "units"
SCALES = ("°C", "°F")
# What is put in by the weight of the water and may be thick in it.
THICK = frozenset(("thickener", "solvent", "salt"))


@rule("heat-in-other-scale", level="warning", family=FAMILY, source="common practice")
def heat_in_other_scale(study: Study) -> Iterator[Found]:
    """A heat in °F among heats in °C, or the other way round, without a second reading.

    The one is easily read as the other, and 85 °F does not mordant anything.

    Trips:
        wet out yarn in tub with water 5 L at 30 °C for 1 h
        alum-bath: prepare in kettle with water 3 L, alum 12 g at 40 °C
        mordant yarn in alum-bath from 40 °C to 85 °F over 45 min for 1 h
        cool alum-bath to 30 °C overnight covered
        rinse yarn in tub with water 5 L at 30 °C
        discard alum-bath to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L at 30 °C for 1 h
        alum-bath: prepare in kettle with water 3 L, alum 12 g at 40 °C
        mordant yarn in alum-bath from 40 °C to 85 °C (185 °F) over 45 min for 1 h
        cool alum-bath to 30 °C overnight covered
        rinse yarn in tub with water 5 L at 30 °C
        discard alum-bath to "foul drain"
    """
    for procedure in study.procedures:
        heats = [
            written.quantity
            for written in procedure.written
            if written.quantity.kind == "temperature" and written.quantity.unit is not None
        ]
        by_scale = {
            scale: [one for one in heats if one.unit is not None and one.unit.name == scale]
            for scale in SCALES
        }
        rarer, other = sorted(SCALES, key=lambda scale: len(by_scale[scale]))
        if not by_scale[rarer]:
            continue
        for heat in by_scale[rarer]:
            if heat.reading is None:
                yield Found(
                    procedure,
                    heat.place,
                    say(
                        "“{heat}” is in {rarer}, where other heats here are in {other}.",
                        heat=heat.text,
                        rarer=rarer,
                        other=other,
                    ),
                    say("Write it in {other}, or give both: “85 °C (185 °F)”.", other=other),
                    related=tuple(
                        Pointer(procedure, one.place, say("Here it is in {other}.", other=other))
                        for one in by_scale[other][:1]
                    ),
                )


class _Usual(NamedTuple):
    """How long a verb usually takes, in minutes, in a band of heats in °C; None is open."""

    clause: str
    heats: tuple[Fraction | None, Fraction | None]
    least: Fraction
    most: Fraction
    source: str


@cache
def _usual_times() -> dict[str, tuple[_Usual, ...]]:
    found: dict[str, list[_Usual]] = {}
    for row in rows("usual_times"):
        band = (
            Fraction(row["heat_from_c"]) if row["heat_from_c"] else None,
            Fraction(row["heat_to_c"]) if row["heat_to_c"] else None,
        )
        least, most = Fraction(row["least_min"]), Fraction(row["most_min"])
        made = _Usual(row["clause"], band, least, most, row["source"])
        found.setdefault(row["verb"], []).append(made)
    return {verb: tuple(made) for verb, made in found.items()}


def _usual(verb: str, clause: str, heat: Fraction | None) -> _Usual | None:
    """The usual times of a verb at a heat; where the heat is not said, the widest of them."""
    fitting = [one for one in _usual_times().get(verb, ()) if one.clause == clause]
    if heat is not None:
        fitting = [
            one
            for one in fitting
            if (one.heats[0] is None or heat >= one.heats[0])
            and (one.heats[1] is None or heat < one.heats[1])
        ]
    if len(fitting) < 2:
        return fitting[0] if fitting else None
    least, most = min(one.least for one in fitting), max(one.most for one in fitting)
    return fitting[0]._replace(least=least, most=most)


@rule("unlikely-time", level="warning", family=FAMILY, source="common practice")
def unlikely_time(study: Study) -> Iterator[Found]:
    """A time that is far too short or far too long for what is done in it.

    Most likely a slip of the pen: hours for minutes, or minutes for hours.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        alum-bath: prepare in kettle with water 3 L, alum 12 g at 40 °C
        mordant yarn in alum-bath from 40 °C to 85 °C over 45 min for 1 min
        rinse yarn in tub with water 5 L
        discard alum-bath to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        alum-bath: prepare in kettle with water 3 L, alum 12 g at 40 °C
        mordant yarn in alum-bath from 40 °C to 85 °C over 45 min for 1 h
        rinse yarn in tub with water 5 L
        discard alum-bath to "foul drain"
    """
    told: set[int] = set()
    for moment in study.moments:
        step = moment.step
        if step.verb is None or moment.node.id in told:
            continue
        told.add(moment.node.id)
        for clause, quantity in (("for", step.lasting), ("over", step.over)):
            if quantity is None or quantity.kind != "time":
                continue
            usual = _usual(_done(study, moment), clause, moment.hottest)
            if clause == "for" and usual is not None and _steeped_for_colour(study, moment):
                shortest = threshold("short steep")
                usual = usual._replace(least=shortest.value, source=shortest.source)
            if usual is not None and quantity.low is not None and quantity.low > 0:
                yield from _out_of(moment, clause, quantity, usual)


def _done(study: Study, moment: Moment) -> str:
    """The verb by which a step is timed: who steeps fibre in a mordant or tannin mordants it."""
    verb, bath = moment.step.verb, moment.bath_after
    assert verb is not None
    kinds = kinds_of(study, bath) if bath is not None else frozenset()
    if kinds == {"iron"} and (verb.does.prepares_fibre or verb.does.unheated):
        return "modify"  # iron is given for minutes: longer it hardens wool and rots cotton
    if not (verb.does.unheated and moment.entering and bath is not None):
        return verb.name
    mordants = kinds & {"mordant", "tannin", "iron"} and not kinds & {"colour", "vat"}
    return "mordant" if mordants else verb.name


def _done_again(study: Study) -> frozenset[int]:
    """The steps that are done more than once."""
    counted = Counter(moment.node.id for moment in study.moments)
    return frozenset(step for step, times in counted.items() if times > 1)


def _steeped_for_colour(study: Study, moment: Moment) -> bool:
    """Whether undyed fibre lies in a cold dye bath to take up its colour, once and for all.

    What is steeped again and again, or dyed already, may be in it for minutes.
    """
    verb, bath = moment.step.verb, moment.bath_after
    if verb is None or bath is None or not verb.does.unheated:
        return False
    if moment.node.id in study.once(_done_again):
        return False
    cold = moment.hottest is None or moment.hottest < threshold("plants give in the warm").value
    lots = [moment.before.lots[lot] for lot in moment.entering if lot in moment.before.lots]
    fresh = bool(lots) and not any(lot.dyes for lot in lots)
    kinds = kinds_of(study, bath)
    return cold and fresh and "colour" in kinds and "vat" not in kinds


def _out_of(moment: Moment, clause: str, quantity: Quantity, usual: _Usual) -> Iterator[Found]:
    low, high = quantity.ends
    if usual.least <= high and low <= usual.most:
        return
    verb = moment.step.verb
    assert verb is not None
    short = high < usual.least
    if short and clause == "for" and _between_two_entries(moment):
        return
    what = say("to {verb}", verb=verb.name) if clause == "for" else Says("to heat it in")
    bound = Span(usual.least if short else usual.most)
    yield Found(
        moment.node.procedure,
        quantity.place,
        say(
            "“{text}” is very {length} {what}: it takes {limit} about {bound}.",
            text=quantity.text,
            length="short" if short else "long",
            what=what,
            limit="at least" if short else "at most",
            bound=bound,
        ),
        "See whether minutes and hours are mixed up.",
        moment.node.calls,
        source=usual.source,
    )


def _between_two_entries(moment: Moment) -> bool:
    """Whether a bath from which fibre was lifted is made hot again with none in it: for minutes."""
    node, bath = moment.node, moment.bath_before
    return not (node.lots or node.present) and bath is not None and bool(bath.treated)


@rule("too-much-of-it", level="warning", family=FAMILY, source="common practice")
def too_much_of_it(study: Study) -> Iterator[Found]:
    """Soap, acid, alkali or the like by the kilogram where grams are wanted.

    More than 100 g to the litre is most likely a slip of the pen, and hard on fibre,
    hands and drains; of soap it is 30 g, and of a strong acid 5 g, in which cotton rots.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        wash yarn in tub with water 5 L, soap 5 kg
        rinse yarn in tub with water 5 L
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        wash yarn in tub with water 5 L, soap 5 g
        rinse yarn in tub with water 5 L
    """
    told: set[tuple[int, str]] = set()
    for moment in study.moments:
        if not (moment.node.present or moment.node.lots):
            continue
        for one, node, grams, volume in _thick(study, moment):
            limit = _most_of(one)
            if grams[0] <= limit.value * volume[1] or (node, one.thing) in told:
                continue
            told.add((node, one.thing))
            procedure, place = _written(study, node, one.thing)
            each = grams[0] / volume[1] if volume[1] > 0 else grams[0]
            yield Found(
                procedure,
                place,
                say(
                    "{material} comes to {each} here; more than {limit} is hardly ever meant.",
                    material=told_apart(study, one.thing),
                    each=Strength(each),
                    limit=Strength(limit.value),
                ),
                "See whether g and kg, or mL and L, are mixed up.",
                study.node(node).calls,
                source=limit.source,
            )
    yield from _for_cleaning(study)


def _most_of(one: Stuff) -> Threshold:
    """How much of a material is likely to be meant in a litre, by the part that it plays."""
    roles = one.made.roles
    if "acid" in roles and fact(one, "strength") == "strong":
        return threshold("much strong acid")
    if one.entry is not None and one.entry.name in ("neutral soap", "soft soap"):  # no root or nut
        return threshold("much soap")
    return threshold("much assistant")


def _for_cleaning(study: Study) -> Iterator[Found]:
    """Kilograms of what pots are cleaned with, for which no water is said."""
    limit = threshold("much for cleaning")
    for moment in study.moments:
        if not moment.node.does.cleans:
            continue
        for thing, _, made in moment.amounts:
            if thing == WATER or made is None or made.grams is None:
                continue
            if made.grams.low <= limit.value:
                continue
            yield at_node(
                moment.node,
                say(
                    "{amount} of {material} to clean with is hardly ever meant.",
                    amount=Mass(made.grams.low),
                    material=told_apart(study, thing),
                ),
                "See whether g and kg are mixed up.",
                source=limit.source,
            )


def _thick(study: Study, moment: Moment) -> Iterator[tuple[Stuff, int, Interval, Interval]]:
    """The assistants in the liquor of a step: the step that put them in, grams, litres."""
    bath = moment.bath_after
    if bath is not None:
        whole = litres(study, bath)
        if whole is None:
            return
        held = {name: (c.node, c.grams) for name, c in bath.contents.items()}
        volume = whole
    else:
        water = [made.litres for name, _, made in moment.amounts if name == WATER and made]
        if not water:
            return
        held = {n: (moment.node.id, made.grams) for n, _, made in moment.amounts if made}
        volume = water[0]
    for one in stuff(study, held):
        node, grams = held[one.thing]
        known = one.entry is not None and one.entry.table == "assistants"
        if known and fact(one, "sold") == "a liquor":
            continue  # urine and the like are the bath, and are not weighed into it
        if known and grams is not None and not THICK & set(one.made.roles):
            itself = pure(grams, one.made)  # without the water of its bottle
            yield one, node, itself or grams, volume


def _written(study: Study, node: int, thing: str) -> tuple[Procedure, Place]:
    if item_of(study, node, thing) is None:
        made = study.node(node)
        return made.procedure, made.step.place
    return put_in(study, node, thing)


@rule("unlikely-size", level="warning", family=FAMILY, source="common practice")
def unlikely_size(study: Study) -> Iterator[Found]:
    """A pot for fibre or a bath that holds less than a cup, or more than a cartload.

    Most likely a slip of the pen: mL for L.

    Trips:
        equipment
          kettle: stainless steel pot, 15 mL, lidded, for dyeing only
        steps
          gold-bath: prepare in kettle with water 1/2 of kettle, onion 50 g
          discard gold-bath to "foul drain"
    Cure:
        equipment
          kettle: stainless steel pot, 15 L, lidded, for dyeing only
        steps
          gold-bath: prepare in kettle with water 1/2 of kettle, onion 50 g
          discard gold-bath to "foul drain"
    """
    least, most = threshold("least pot"), threshold("greatest pot")
    told: set[str] = set()
    for moment in study.moments:
        bath = moment.bath_after
        name = bath.pot if bath is not None else moment.node.pot
        pot = pot_of(study, name) if name not in told else None
        capacity = pot.capacity if pot is not None else None
        if pot is None or capacity is None or capacity.low is None:
            continue
        told.add(name)
        low, high = capacity.ends
        if least.value <= high and low <= most.value:
            continue
        yield at_node(
            moment.node,
            say(
                "{name} holds {capacity}, which is hardly meant.",
                name=study.thing(name),
                capacity=capacity.text,
            ),
            "See whether mL and L are mixed up.",
            related=declared(study, name, "The pot is declared here."),
            source=least.source,
        )
    for name, pot in study.procedure.equipment.items():
        capacity = pot.capacity
        known = capacity is not None and capacity.low is not None
        if name in told or capacity is None or not known or pot.kind is None:
            continue
        if pot.kind.name in _FOR_FIBRE and capacity.ends[1] < least.value:
            yield Found(
                study.procedure,
                pot.name.place,
                say(
                    "{name} holds {capacity}, which is hardly meant.",
                    name=pot.name.text,
                    capacity=capacity.text,
                ),
                "See whether mL and L are mixed up.",
                source=least.source,
            )


# Vessels that hold fibre or a bath; a jar or a basin may be small.
_FOR_FIBRE = frozenset(("pot", "kettle", "tub", "bucket", "barrel", "bath"))

RULES = (heat_in_other_scale, unlikely_time, too_much_of_it, unlikely_size)
