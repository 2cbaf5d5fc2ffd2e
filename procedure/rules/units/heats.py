"""Units: heats that cannot be, and heats that go the wrong way."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from procedure.facts.study import Study
from procedure.findings import Heat, InUnit, Says, Span, say
from procedure.rules.rule import Found, at_node, rule
from procedure.rules.units.at_quantity import found
from procedure.vocabulary import vocabulary
from procedure.vocabulary.thresholds import threshold

FAMILY = "units"


@rule("hotter-than-boiling", level="error", family=FAMILY, source="IAPWS-95 (boiling of water)")
def hotter_than_boiling(study: Study) -> Iterator[Found]:
    """A heat above the boiling point of water at the altitude of the place.

    No open pot gets there; the number is wrong, or it is meant in °F.

    Trips:
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        heat gold-bath to 110 °C
        discard gold-bath to "foul drain"
    Cure:
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        heat gold-bath to 90 °C
        discard gold-bath to "foul drain"
    """
    top = study.trace.boiling
    for procedure, written in study.written():
        quantity = written.quantity
        if quantity.kind != "temperature" or quantity.high is None or quantity.word:
            continue
        if quantity.high > top and quantity.high - quantity.slack_high > top:
            here = "" if study.procedure.altitude is None else " at this altitude"
            remedy = Says("Write a heat that water can reach, or “boil”.")
            if quantity.unit is not None and quantity.unit.name == "°C":
                remedy = say(
                    "Write a heat that water can reach, or “boil”. If °F was meant, {number} °F is "
                    "{heat}.",
                    number=quantity.text[:-2].strip(),
                    heat=InUnit((quantity.high - 32) * Fraction(5, 9), None, "°C"),
                )
            yield found(
                procedure,
                written,
                say(
                    "“{text}” is hotter than boiling water, which is {top}{here}.",
                    text=quantity.text,
                    top=Heat(top),
                    here=here,
                ),
                remedy,
            )


@rule("below-freezing", level="error", family=FAMILY, source="common practice")
def below_freezing(study: Study) -> Iterator[Found]:
    """A heat below the freezing point of water.

    A bath cannot be that cold; most often °C was written for °F or a minus slipped in.

    Trips:
        wet out yarn in tub with water 5 L at -5 °C for 1 h
    Cure:
        wet out yarn in tub with water 5 L at 15 °C for 1 h
    """
    for procedure, written in study.written():
        quantity = written.quantity
        low = quantity.low
        if quantity.kind == "temperature" and low is not None and low.numerator < 0:
            yield found(
                procedure,
                written,
                say("“{text}” is below freezing.", text=quantity.text),
                "Write the heat of the bath in °C or °F.",
            )


@rule("heat-word-mismatch", level="warning", family=FAMILY, source="common practice")
def heat_word_mismatch(study: Study) -> Iterator[Found]:
    """A word for a heat beside a number that it does not mean, as in simmer at 45 °C.

    One of the two is wrong, and the reader cannot tell which.

    Trips:
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        simmer gold-bath at 45 °C for 1 h
        discard gold-bath to "foul drain"
    Cure:
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        simmer gold-bath at 85 °C for 1 h
        discard gold-bath to "foul drain"
    """
    heats = vocabulary().heats
    for procedure, written in study.written():
        quantity, step = written.quantity, written.step
        word, number = "", quantity
        if step is not None and step.does.heat and written.role == "heat":
            word = step.does.heat
        elif quantity.word in heats and quantity.reading is not None:
            word, number = quantity.word, quantity.reading
        elif quantity.reading is not None and quantity.reading.word in heats:
            word = quantity.reading.word
        if not word or number.low is None or number.high is None:
            continue
        heat = heats[word]
        if heat.kind == "heat" and number.kind != "temperature":
            continue
        low, high = heat.low, heat.high
        temperature = heat.kind == "heat"
        if word == "boil":
            low, high = min(low, study.trace.boiling - 3), max(high, study.trace.boiling)
        near = threshold("reading of a dial").value if temperature else 0
        if (
            number.high < low - number.slack_low - near
            or number.low > high + number.slack_high + near
        ):
            yield found(
                procedure,
                written,
                say(
                    "“{word}” means {range}, but “{number}” is written beside it.",
                    word=word,
                    range=Heat(low, high, worded=False) if temperature else Span(low, high),
                    number=number.text,
                ),
                "Change the word or the number.",
                source=heat.source,
            )


@rule("wrong-direction", level="error", family=FAMILY, source="common practice")
def wrong_direction(study: Study) -> Iterator[Found]:
    """A bath that is heated to a lower heat, or cooled to a higher one.

    The two numbers have changed places, or one is wrong.

    Trips:
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        heat gold-bath from 80 °C to 20 °C
        discard gold-bath to "foul drain"
    Cure:
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        heat gold-bath from 20 °C to 80 °C
        discard gold-bath to "foul drain"
    """
    for moment in study.moments:
        step = moment.step
        if not step.does.changes_heat:
            continue
        target = step.to or (step.at if step.does.to_a_heat else None)
        if target is None or target.quantity is None or target.quantity.low is None:
            continue
        if target.quantity.kind != "temperature" or target.quantity.high is None:
            continue
        start = step.source.quantity if step.source else None
        ends = None
        if start is not None and start.kind == "temperature" and start.low is not None:
            assert start.high is not None
            ends = (start.low, start.high)
        elif step.does.to_a_heat and moment.bath_before is not None:
            ends = moment.bath_before.heat
        if ends is None:
            continue
        # What was strained or stood may be cooler than its heat was: the wider that is, the more.
        slack = (ends[1] - ends[0]) / 2 if step.source is None else 0
        if not (step.does.cools or step.left_to_cool) and target.quantity.high < ends[0] - slack:
            word = "heated"
        elif step.does.cools and target.quantity.low > ends[1]:
            word = "cooled"
        else:
            continue
        started = Heat(ends[0] if word == "heated" else ends[1])
        yield at_node(
            moment.node,
            say(
                "The bath is {word} from {started} to “{target}”, which is the wrong way.",
                word=word,
                started=started,
                target=target.quantity.text,
            ),
            "Swap the two numbers, or use the other verb.",
        )


RULES = (
    hotter_than_boiling,
    below_freezing,
    heat_word_mismatch,
    wrong_direction,
)
