"""Units: amounts, weights, times, heats and waters that are not said."""

from __future__ import annotations

from collections.abc import Iterator

from procedure.facts.study import Study
from procedure.findings import Heat, Mass, say
from procedure.rules.rule import Found, at_node, rule
from procedure.rules.units.at_quantity import found
from procedure.trace import Moment
from procedure.trace.used_again import PlantsInHand

FAMILY = "units"


@rule("amount-unstated", level="note", family=FAMILY, source="common practice")
def amount_unstated(study: Study) -> Iterator[Found]:
    """A material without an amount, or an amount given as unstated.

    The reader must guess, and the colour follows the guess.

    Trips:
        alum-bath: prepare in kettle with water 3 L, alum
        discard alum-bath to "foul drain"
    Cure:
        alum-bath: prepare in kettle with water 3 L, alum 12 g
        discard alum-bath to "foul drain"
    """
    for procedure, written in study.written():
        if written.quantity.kind == "unstated" and written.role == "amount":
            what = written.item.text if written.item else "this"
            if what != "water":
                yield found(
                    procedure,
                    written,
                    say("The source does not say how much {what}.", what=what),
                    "Try it out, and write down what worked.",
                )
    yield from _what_is_left(study)
    yield from _by_another(study)
    yield from _drawn_off(study)
    yield from _the_same_again(study)
    in_hand = PlantsInHand()
    for at, moment in enumerate(study.moments):
        brought = [*moment.node.materials]
        does = moment.node.does
        brought += [pair for pair in moment.node.moved if does.adds or does.makes_bath]
        known = [item for _, item, amount in moment.amounts if amount is not None]
        for thing, item in brought:
            if item.quantity is not None or item.name is None or thing == "water":
                continue
            if any(item is one for one in known):
                continue
            # Plants that are boiled again were asked about where they went in first.
            if thing in study.flow.baths or in_hand.of(thing, study.moments[:at]) is not None:
                continue
            yield Found(
                moment.node.procedure,
                item.place,
                say("It is not said how much {item}.", item=item.name.text),
                "Write the amount after the name, such as 12 % of the fibre.",
                moment.node.calls,
            )


def _the_same_again(study: Study) -> Iterator[Found]:
    """Plants that go into a new bath without an amount, taken for those that came out of another.

    Who boils them again says so by the verb; “prepare” may as well be meant of new ones.
    """
    for moment in study.moments:
        verb = moment.step.verb
        if verb is None or not verb.does.prepares or moment.step.word != verb.name:
            continue
        said_of = moment.node.procedure.said_of
        if any(word.place.line == moment.step.place.line for word, _ in said_of):
            continue  # the strained weld
        for _, item, amount in moment.amounts:
            if amount is None or not amount.again or item.quantity is not None:
                continue
            yield Found(
                moment.node.procedure,
                item.place,
                say(
                    "It is not said how much {item}, so it is read as the {grams} that came out of "
                    "a bath before, used once more.",
                    item=item.name.text if item.name is not None else "it",
                    grams=Mass(amount.low, amount.high),
                ),
                "Write the amount where new ones are meant.",
                moment.node.calls,
            )


def _drawn_off(study: Study) -> Iterator[Found]:
    """Some of a bath is taken away, and nothing says how much: what is left is not known."""
    for moment in study.moments:
        node = moment.node
        if not node.does.draws_off or not moment.step.objects or moment.bath_before is None:
            continue
        item = moment.step.objects[0]
        if item.quantity is not None:
            continue
        yield Found(
            node.procedure,
            item.place,
            say(
                "It is not said how much of {bath} is taken away, nor so how much is left.",
                bath=study.thing(node.bath),
            ),
            say(
                "Write the amount before it, as in “1/4 of {bath}”; for all of it write "
                "“discard {bath}”.",
                bath=item.name.text if item.name is not None else "it",
            ),
            node.calls,
        )


def _by_another(study: Study) -> Iterator[Found]:
    """An amount by another material, such as half of the alum, of which no weight is known here."""
    for moment in study.moments:
        for thing, item, amount in moment.amounts:
            measured = item.quantity
            if measured is None or amount is not None or not measured.base or measured.left:
                continue
            base = moment.node.names.get(measured.base, measured.base)
            if base == thing or base not in study.flow.materials or base in study.flow.baths:
                continue
            if measured.kind not in ("percent", "ratio", "share"):
                continue
            from procedure.wording.samples import shown

            yield Found(
                moment.node.procedure,
                item.place,
                say(
                    "It is not known here how much {base} there is, so “{text}” cannot be "
                    "worked out.",
                    base=measured.base,
                    text=measured.text,
                ),
                shown(
                    "Weigh {base} into the same bath, before it or with it, or write how much it "
                    "is: “{item} {some_alum}”.",
                    base=measured.base,
                    item=item.name.text if item.name is not None else thing,
                ),
                moment.node.calls,
                level="error",
            )


def _what_is_left(study: Study) -> Iterator[Found]:
    """The rest of a material, or half of it, where nothing says how much there is in all."""
    for moment in study.moments:
        for thing, item, amount in moment.amounts:
            measured = item.quantity
            if measured is None or amount is not None:
                continue
            name = item.name.text if item.name is not None else measured.base
            base = moment.node.names.get(measured.base, measured.base)
            if thing not in study.flow.materials or thing in study.flow.baths:
                continue
            of_itself = measured.kind in ("share", "percent") and base == thing
            if not (measured.left or of_itself):
                continue
            if of_itself and measured.high is not None and measured.high > 1:
                continue  # more than the whole, which cannot be
            from procedure.wording.samples import shown

            yield Found(
                moment.node.procedure,
                item.place,
                say(
                    "It is not said how much {item} there is, so “{text}” cannot be worked out.",
                    item=name,
                    text=measured.text,
                ),
                shown(
                    "Say among the materials how much there is in all, as in “{item}: {what}, "
                    "{some_yarn}”, and in each step before how much it takes.",
                    item=name,
                    what=study.flow.materials[thing][0].called,
                ),
                moment.node.calls,
            )


@rule("weight-unstated", level="warning", family=FAMILY, source="common practice")
def weight_unstated(study: Study) -> Iterator[Found]:
    """Fibre without a weight, where amounts are measured by it.

    Without it no percentage can be worked out.

    Trips:
        procedure "An example"
        fibre
          yarn: wool yarn, scoured
        steps
          wet out yarn in tub with water 20 : 1 of yarn for 1 h
    Cure:
        procedure "An example"
        fibre
          yarn: wool yarn, 100 g, scoured
        steps
          wet out yarn in tub with water 20 : 1 of yarn for 1 h
    """
    odd = {  # an amount that cannot be read is told as one
        (procedure.key, written.quantity.place.line)
        for procedure, written in study.written()
        if written.step is None and written.quantity.kind in ("unknown", "number")
    }
    for procedure in study.procedures:
        for lot in procedure.lots.values():
            if lot.weight is None and (procedure.key, lot.name.place.line) not in odd:
                yield Found(
                    procedure,
                    lot.name.place,
                    say("The weight of {lot} is not said.", lot=lot.name.text),
                    "Weigh it dry and write the weight.",
                )


def _said_of_its_bath(study: Study, at: int) -> Iterator[Moment]:
    """The steps right behind one, while its fibre lies there, that heat its bath or keep it so.

    “Mordant yarn in alum-bath”, “heat to 85 °C”, “keep for 1 h” say in three lines how hot and how
    long.
    """
    node = study.moments[at].node
    if not node.lots or not node.bath or not node.does.puts_fibre_in:
        return
    for moment in study.moments[at + 1 :]:
        does = moment.node.does
        if moment.node.bath != node.bath or moment.node.lots:
            return
        if does.warms or does.keeps_heat:
            yield moment


@rule("time-unstated", level="note", family=FAMILY, source="common practice")
def time_unstated(study: Study) -> Iterator[Found]:
    """A step that takes time without saying how long.

    The reader must guess.

    Trips:
        wet out yarn in tub with water 5 L
    Cure:
        wet out yarn in tub with water 5 L for 1 h
    """
    for procedure, written in study.written():
        if written.quantity.kind == "unstated" and written.role == "time":
            yield found(
                procedure,
                written,
                "The source does not say how long.",
                "Try it out, and write down what worked.",
            )
    for at, moment in enumerate(study.moments):
        verb, step = moment.step.verb, moment.step
        if verb is None or "time" not in verb.asks:
            continue
        if any(one.minutes is not None for one in _said_of_its_bath(study, at)):
            continue
        waits = moment.minutes is not None and step.over is None
        held = moment.held is not None and (moment.held[1] > 0 or step.lasting is not None)
        if not waits and not held and step.until is None and step.lasting is None:
            yield at_node(
                moment.node,
                say("It is not said how long to {verb}.", verb=verb.name),
                "Say it with “for”, or say what to look for with “until”.",
            )


@rule("heat-unstated", level="note", family=FAMILY, source="common practice")
def heat_unstated(study: Study) -> Iterator[Found]:
    """A step whose heat matters, in a bath whose heat nobody has said.

    The reader must guess.

    Trips:
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        wet out yarn in tub with water 5 L for 1 h
        dye yarn in gold-bath for 1 h
        rinse yarn in tub with water 5 L
        discard gold-bath to "foul drain"
    Cure:
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        wet out yarn in tub with water 5 L for 1 h
        dye yarn in gold-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard gold-bath to "foul drain"
    """
    for procedure, written in study.written():
        if written.quantity.kind == "unstated" and written.role in ("heat", "from", "to"):
            yield found(
                procedure,
                written,
                "The source does not say how hot.",
                "Try it out, and write down what worked.",
            )
    yield from _how_far_it_cools(study)
    heated: set[str] = set()
    for at, moment in enumerate(study.moments):
        verb, step = moment.step.verb, moment.step
        if verb is None:
            continue
        said = step.at or step.to or step.source or step.until
        if (verb.does.warms or verb.does.cools) or (said and verb.group != "material"):
            heated.add(moment.node.bath)
        # What brings its own water each time has to say its heat each time.
        unsaid = moment.node.own_water or moment.node.bath not in heated
        later = (one.step for one in _said_of_its_bath(study, at))
        if any(one.at or one.to or one.does.heat for one in later):
            continue
        if "heat" in verb.asks and not said and unsaid:
            yield at_node(
                moment.node,
                say("It is not said how hot to {verb}.", verb=verb.name),
                "Say it with “at”, or with “from” and “to”.",
            )


def _how_far_it_cools(study: Study) -> Iterator[Found]:
    """Where a bath is told to cool and no word says how far, and what is taken for it."""
    for moment in study.moments:
        step, goal = moment.step, moment.step.to
        heat = goal.quantity if goal is not None and moment.node.does.cools else None
        if heat is None or heat.place != step.verb_place or heat.low is None:
            continue
        yield at_node(
            moment.node,
            say(
                "It is not said how far to cool, so it is read as {heat}.",
                heat=Heat(heat.low, heat.high),
            ),
            "Say how far, where less will do: “to hand-hot”.",
        )


@rule("water-unstated", level="note", family=FAMILY, source="common practice")
def water_unstated(study: Study) -> Iterator[Found]:
    """A bath that is prepared without saying how much water.

    The strength of the bath and the size of the pot hang on it.

    Trips:
        alum-bath: prepare in kettle with alum 12 g
        discard alum-bath to "foul drain"
    Cure:
        alum-bath: prepare in kettle with water 3 L, alum 12 g
        discard alum-bath to "foul drain"
    """
    for procedure, written in study.written():
        water = written.item is not None and written.item.text == "water"
        if written.quantity.kind == "unstated" and written.role == "amount" and water:
            yield found(
                procedure,
                written,
                "The source does not say how much water.",
                "Write a liquor ratio such as 30 : 1 of the fibre.",
            )
    for moment in study.moments:
        node = moment.node
        if not (node.does.prepares or node.does.first_water) or (node.bath and not node.makes):
            continue
        liquid = [
            item for thing, item in node.materials if thing == "water" or thing in study.flow.baths
        ]
        if not liquid or any(
            item.quantity is None
            for item in liquid
            if item.name is not None and item.name.text == "water"
        ):
            yield at_node(
                node,
                "It is not said how much water.",
                "Write a liquor ratio such as “water 30 : 1 of yarn”, or a volume.",
            )


RULES = (
    amount_unstated,
    weight_unstated,
    time_unstated,
    heat_unstated,
    water_unstated,
)
