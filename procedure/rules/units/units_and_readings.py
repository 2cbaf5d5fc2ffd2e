"""Units: words for units, and two readings of one thing."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from functools import cache

from procedure.facts.study import Study
from procedure.findings import Count, InUnit, Says, say
from procedure.model import Procedure, Quantity, Written
from procedure.model.quantity import READING_SHARE
from procedure.quantity.day import A_DAY
from procedure.rules.rule import Found, rule
from procedure.rules.units.at_quantity import KINDS, found
from procedure.rules.units.quantities import stuff_of
from procedure.vocabulary import near, vocabulary
from procedure.vocabulary.estimates import spoon_weights
from procedure.vocabulary.library import rows
from procedure.vocabulary.thresholds import threshold
from procedure.wording.samples import shown

FAMILY = "units"


def in_unit_of(quantity: Quantity, like: Quantity) -> InUnit:
    """A quantity said in the unit of another, as a reader would write it."""
    unit = like.unit
    assert unit is not None and quantity.low is not None and quantity.high is not None
    low, high = (end / unit.factor - unit.offset for end in (quantity.low, quantity.high))
    return InUnit(low, high, unit.name)


@rule("unknown-unit", level="error", family=FAMILY, source="common practice")
def unknown_unit(study: Study) -> Iterator[Found]:
    """A unit that the trade does not use, or a number that cannot be read.

    A second person cannot weigh or measure what they cannot read.

    Trips:
        wet out yarn in tub with water 5 litters for 1 h
    Cure:
        wet out yarn in tub with water 5 litres for 1 h
    """
    for procedure, written in study.written():
        for quantity in (written.quantity, written.quantity.reading):
            if quantity is None or quantity.kind != "unknown":
                continue
            if quantity.word.endswith(" together"):
                yield found(procedure, written, *_two_in_one(quantity))
                continue
            counted = _of_a_lot(procedure, quantity) or _counted_plants(procedure, quantity)
            if counted is not None:
                yield found(procedure, written, *counted)
                continue
            from procedure.language.faults import heaped

            if (heap := heaped(quantity.word)) is not None:
                yield found(procedure, written, *heap)
                continue
            from procedure.rules import edits

            units = vocabulary().units
            # The dram is no slip for the gram: it is another unit, and far from it.
            meant = None if _old_measure(quantity.word) else near(quantity.word, list(units))
            edit = edits.of_unit(quantity, meant)
            # The unit itself is offered, never a rare way to write it.
            meant = edit.text if edit else units[meant].name if meant in units else meant
            remedy = _which_degree(quantity) or (
                say("Did you mean “{meant}”?", meant=meant) if meant else _elsewhere(quantity)
            )
            sentence = say("“{word}” is not a unit that I know.", word=quantity.word)
            yield found(procedure, written, sentence, remedy, edit=edit)


# What is weighed, and never counted by the piece.
_METALS = frozenset(("mordant", "modifier", "alkali", "reducer", "assistant"))


def _of_a_lot(procedure: Procedure, quantity: Quantity) -> tuple[Says, Says] | None:
    """What is said of “12 yarn”, which lacks more than its sign."""
    if quantity.word not in procedure.lots:
        return None
    return (
        say("“{text}” does not say of what kind the number is.", text=quantity.text),
        say(
            "Write “{number} % of {lot}”, or “{number} : 1 of {lot}”.",
            number=quantity.text.partition(" ")[0],
            lot=quantity.word,
        ),
    )


def _counted_plants(procedure: Procedure, quantity: Quantity) -> tuple[Says, Says] | None:
    """What is said of “6 stones” of a material that is called so, or of the part of a plant."""
    said = _one_or_more(quantity.word)
    parts = [
        one
        for one in procedure.materials.values()
        if said & (_one_or_more(one.name.text) | _one_or_more(one.part))
    ]
    if not parts:
        return None
    name = parts[0].name.text
    if not _METALS.isdisjoint(parts[0].roles):
        number = quantity.text.partition(" ")[0]
        return (
            say("“{text}” does not say of what kind the number is.", text=quantity.text),
            say(
                "Write its unit: “{name} {number} g”, or “{name} {number} % wof”.",
                name=name,
                number=number,
            ),
        )
    return (
        say("“{text}” is a number of pieces, and no two weigh the same.", text=quantity.text),
        shown("Weigh them, and write the name first: “{name} {some_yarn}”.", name=name),
    )


# How the end of a word for several becomes that of the word for one.
_ENDS = (("s", ""), ("es", ""), ("ies", "y"), ("ves", "f"))


def _one_or_more(word: str) -> set[str]:
    """A word as it is said of one and of several: onions, onion; nothing for no word."""
    ones = {word.removesuffix(end) + one for end, one in _ENDS if word.endswith(end)}
    return ({word} | ones) - {""}


# Water boils at 100 °C; what is hotter by the figure is a heat in °F, or a slip.
_HOTTEST_BATH = 110


def _which_degree(quantity: Quantity) -> Says | None:
    """For “70 degrees”, “3 parts” and “3x”, as people write them."""
    figure = quantity.text.removesuffix(quantity.word).strip()
    if quantity.word in ("part", "parts"):
        return say("Write how much to how much: “{n} : 1 of yarn”, or “1/4 of yarn”.", n=figure)
    if quantity.word in ("degrees", "degree", "deg", "°"):
        if figure.isdigit() and int(figure) > _HOTTEST_BATH:
            return say("No bath gets as hot as {n} °C: write “{n} °F”, if that is meant.", n=figure)
        return say("A degree may be one of two: write “{n} °C” or “{n} °F”.", n=figure)
    if quantity.word.lower() in ("am", "pm", "o'clock", "o’clock"):
        return Says("A clock says when, and a step says how long: write “for 1 h”.")
    if " per " in quantity.word and quantity.word.rpartition(" ")[2] in (
        "min",
        "minute",
        "h",
        "hour",
    ):
        return shown("Say how long the heating takes: “to {hot} over 1 h”.")
    if quantity.word in ("x", "X", "times") and " " in figure:
        often, _, measure = quantity.text.partition(" " + quantity.word)
        return say(
            "Write how much it is in all; or how often it is done on a line of its own above it, "
            "“repeat {n} times”, and “{measure}” in the step.",
            n=often.strip(),
            measure=measure.strip(),
        )
    if quantity.word in ("x", "X", "times"):
        return say(
            "How often a step is done is on a line of its own above it: “repeat {n} times”.",
            n=figure,
        )
    return None


def _two_in_one(quantity: Quantity) -> tuple[Says, Says]:
    """What is said of “60 °C 1 h” and “45 min 1 h”, with one word in front of both."""
    sentence = say("“{text}” is more than one amount.", text=quantity.text)
    units = quantity.word.removesuffix(" together")
    known = [vocabulary().units.get(word) for word in units.split(" and ")]
    kinds = {unit.kind for unit in known if unit is not None}
    if kinds <= {"time", "temperature"} and "time" in kinds:
        return sentence, say(
            "Write a word in front of each: “at” a heat, “over” the time that the heating takes, "
            "“for” the time that it lasts."
        )
    return sentence, say("Write one of them, or the larger unit first: “1 lb 4 oz”.")


def _elsewhere(quantity: Quantity) -> Says | str:
    """What a unit from outside the trade comes to, where one is known."""
    row = _foreign_unit(quantity.word)
    if row is None:
        return "Write a unit such as g, mL, L, min, h or °C."
    # A drachm of old receipts is spelt so for the dram of either scale.
    word = row["name"]
    row = _foreign().get(_SPELT_ALSO.get(row["name"], ""), row)
    weeks = round(Fraction(row["amount"]) / _WEEK) if row["of"] == "min" else 0
    if weeks:  # a year, and a month, which is no number of minutes
        return say(
            "One {word} is about “{n} wk”: write it in weeks or days.",
            word=word,
            n=Count(Fraction(weeks)),
        )
    amount = InUnit(Fraction(row["amount"]), None, row["of"])
    if row["of"] == "min" and amount.low >= A_DAY:
        amount = InUnit(amount.low / A_DAY, None, "d")
    for size, said in _OTHER_SIZES.items():
        other = _foreign().get(" ".join((size, row["name"])))
        if other is not None:
            return say(
                said,
                word=word,
                amount=amount,
                other=InUnit(Fraction(other["amount"]), None, other["of"]),
            )
    return say("One {word} is {amount}; write it so.", word=word, amount=amount)


_OTHER_SIZES = {
    "imperial": "One {word} is {amount} in the US and {other} in Britain; write which, in L.",
    "long": "One {word} is {amount} in the US and {other} in Britain; write which, in kg.",
    "apothecary": "One {word} is {amount}, or {other} among apothecaries; write which, in g.",
}
_SPELT_ALSO = {"drachm": "dram", "cwt": "hundredweight"}
_LONG_ENOUGH = 4
_WEEK = 7 * A_DAY


def _foreign_unit(word: str) -> dict[str, str] | None:
    return _foreign().get(word) or _foreign().get(word.removesuffix("s"))


def _old_measure(word: str) -> bool:
    """Whether a word is a weight, a volume or a time from outside the trade, in full."""
    row = _foreign_unit(word) if len(word) >= _LONG_ENOUGH else None
    return row is not None and row["of"] in ("g", "L", "min")


@cache
def _foreign() -> dict[str, dict[str, str]]:
    return {row["name"]: row for row in rows("foreign_units")}


@rule("readings-disagree", level="error", family=FAMILY, source="NIST SP 811, B.8")
def readings_disagree(study: Study) -> Iterator[Found]:
    """Two readings of one thing that do not agree, such as °C and °F.

    Each reader takes the reading they are used to, so they work at different heats
    or weights. Half a unit of the last non-zero digit is allowed to each reading,
    but never more than 2 % (3 °C for temperatures).

    Trips:
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        heat gold-bath to 80 °C (155 °F)
        discard gold-bath to "foul drain"
    Cure:
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        heat gold-bath to 80 °C (176 °F)
        discard gold-bath to "foul drain"
    """
    for procedure, written in study.written():
        first, second = written.quantity, written.quantity.reading
        if second is None or "unknown" in (first.kind, second.kind) or first.kind == "number":
            continue  # a number that lacks its unit has a rule of its own
        if first.of_two_kinds and written.role == "amount":
            continue  # held against what the trace has them come to, below
        spoon, measured = (first, second) if first.kind == "spoon" else (second, first)
        if spoon.kind == "spoon" and measured.kind in ("mass", "volume"):
            told = _spooned(spoon, measured.kind, stuff_of(procedure, written))
            if told is not None and not _near_enough(told, measured):
                yield found(
                    procedure,
                    written,
                    say(
                        "“{said}” and “{second}” are meant to be the same, but {spoon} is "
                        "{converted}.",
                        said=first.text.split("(")[0].strip(),
                        second=second.text,
                        spoon=spoon.text.split("(")[0].strip(),
                        converted=in_unit_of(told, measured),
                    ),
                    "Put one of the two right.",
                )
            continue
        if first.word or second.word:
            if first.kind != second.kind:
                yield _two_things(procedure, written, first, second)
            continue  # a heat word against its number has a rule of its own
        if first.kind != second.kind or not first.known or not second.known:
            yield _two_things(procedure, written, first, second)
        elif not first.agrees(second) and first.unit is not None and first.unit == second.unit:
            yield _one_scale(procedure, written, first, second)
        elif not first.agrees(second):
            said = first.text.split("(")[0].strip()
            yield found(
                procedure,
                written,
                say(
                    "“{said}” and “{second}” are meant to be the same, but {said} is {converted}.",
                    said=said,
                    second=second.text,
                    converted=in_unit_of(first, second),
                ),
                say(
                    "Write {said} ({converted}), or put the first reading right: "
                    "{second} is {first}.",
                    said=said,
                    converted=in_unit_of(first, second),
                    second=second.text,
                    first=in_unit_of(second, first),
                )
                if first.unit is not None
                else "Put one of the two right.",
            )
    yield from _shares_and_weights(study)


def _shares_and_weights(study: Study) -> Iterator[Found]:
    """A weight and a share of the fibre that are said to be the same, and are not.

    The weight has the slack of any reading, and the share more.
    """
    strays = threshold("share beside a weight").value
    for moment in study.moments:
        for _, item, amount in moment.amounts:
            said, beside = item.quantity, amount.beside if amount is not None else None
            if said is None or said.reading is None or amount is None or beside is None:
                continue
            parts = (said, amount), (said.reading, beside)
            (measured, weight), (share, part) = sorted(parts, key=lambda one: one[1].of is not None)
            unit = measured.unit
            if weight.of is not None or part.of is None or weight.kind != part.kind or unit is None:
                continue
            slack = _strays(measured, READING_SHARE), _strays(share, strays)
            low = part.low * (1 - slack[1]) <= weight.high * (1 + slack[0])
            high = weight.low * (1 - slack[0]) <= part.high * (1 + slack[1])
            if low and high:
                continue
            first, second = said.text.split("(")[0].strip(), said.reading.text
            text = first if share is said else second
            comes = InUnit(part.low / unit.factor, part.high / unit.factor, unit.name)
            yield Found(
                moment.node.procedure,
                said.place,
                say(
                    "“{first}” and “{second}” are meant to be the same, but {share} is {comes}.",
                    first=first,
                    second=second,
                    share=text,
                    comes=comes,
                ),
                "Put one of the two right.",
            )


def _strays(quantity: Quantity, most: Fraction) -> Fraction:
    """The slack of the writing of a quantity, as a share of it, and no more than ``most``."""
    assert quantity.low is not None
    return min(quantity.slack_low / quantity.low, most) if quantity.low else most


# How far a spoon may be from what is written beside it: cups are printed as 240 mL, and a
# spoonful weighs from half to twice what the table says, by how it is ground and heaped
# (common practice).
_STRAYS = {"volume": Fraction(41, 40), "mass": Fraction(2)}


def _spooned(spoons: Quantity, kind: str, stuff: str) -> Quantity | None:
    """Spoons or cups as a volume, or as the grams of what they hold; None where none are known."""
    if spoons.low is None or spoons.high is None:
        return None
    if kind == "volume":
        return spoons._replace(kind=kind)
    weighs = spoon_weights().get(stuff)
    if weighs is None or weighs.liquid:
        return None
    low, high = spoons.ends.times(1000).times(weighs.grams)
    return spoons._replace(kind=kind, low=low, high=high)


def _near_enough(first: Quantity, second: Quantity) -> bool:
    if not second.known or second.low is None or first.low is None or first.high is None:
        return True
    strays = _STRAYS[second.kind]
    low, high = first.low / strays, first.high * strays
    return second.ends.low <= high and second.ends.high >= low


def _one_scale(procedure: Procedure, written: Written, first: Quantity, second: Quantity) -> Found:
    """A second reading in the unit of the first: most likely its unit is a slip."""
    assert first.unit is not None
    said, unit = first.text.split("(")[0].strip(), first.unit.name
    other = {"°C": "°F", "°F": "°C"}.get(unit, "another unit")
    return found(
        procedure,
        written,
        say(
            "“{said}” and “{second}” are both in {unit}, and they differ.",
            said=said,
            second=second.text,
            unit=unit,
        ),
        say("The reading in brackets is the same in {other}.", other=other),
    )


def _two_things(procedure: Procedure, written: Written, first: Quantity, second: Quantity) -> Found:
    remedy: Says | str = "Write the same thing in another unit between the brackets, or remove it."
    if (first.kind, second.kind) == ("temperature", "time"):
        remedy = say(
            "Write it without brackets: “over {time}” for how long the heating takes, or “for "
            "{time}” for how long it stays so hot.",
            time=second.text,
        )
    return found(
        procedure,
        written,
        say(
            "“{second}” in brackets is {kind}, which cannot be another reading of {other}.",
            second=second.text,
            kind=KINDS.get(second.kind, second.kind),
            other=KINDS.get(first.kind, first.kind),
        ),
        remedy,
    )


@rule("which-gallon", level="error", family=FAMILY, source="NIST SP 811, B.8")
def which_gallon(study: Study) -> Iterator[Found]:
    """A gallon, quart, pint or fluid ounce that does not say US or imperial.

    An imperial gallon is a fifth larger than a US one.

    Trips:
        wet out yarn in tub with water 2 gal for 1 h
    Cure:
        wet out yarn in tub with water 2 US gal for 1 h
    """
    for procedure, written in study.written():
        for quantity in (written.quantity, written.quantity.reading):
            if quantity is None or quantity.unit is None:
                continue
            # A spoon of a liquid is asked about as a loose measure, but not the gallon beside it.
            to_the_gallon = quantity.kind == "spoon by volume" and quantity.unit.kind == "volume"
            if quantity.kind.startswith("spoon") and not to_the_gallon:
                continue
            if quantity.unit.vague:
                assert quantity.low is not None and quantity.high is not None
                choices = quantity.unit.ask.replace("; ", "” or “")
                yield found(
                    procedure,
                    written,
                    say(
                        "“{text}” may be US or imperial, which is {low} or {high}.",
                        text=quantity.text,
                        low=_in_metric(quantity, quantity.low),
                        high=_in_metric(quantity, quantity.high),
                    ),
                    say("Write “{choices}”.", choices=choices),
                )


def _in_metric(quantity: Quantity, amount: Fraction) -> InUnit:
    """A volume in litres, or what is said to the gallon in grams or millilitres to the litre."""
    if quantity.kind in ("spoon by volume", "concentration by volume"):
        return InUnit(amount * 1000, None, "mL/L")
    return InUnit(amount, None, "g/L" if quantity.kind == "concentration" else "L")


@rule("ounces-of-water", level="warning", family=FAMILY, source="common practice")
def ounces_of_water(study: Study) -> Iterator[Found]:
    """Water in ounces: they may be of weight or fluid ounces, and of two sizes.

    An ounce is a weight here. Kitchen books mean fluid ounces, US or imperial.

    Trips:
        wet out yarn in tub with water 40 oz for 1 h
    Cure:
        wet out yarn in tub with water 40 US fl oz for 1 h
    """
    for procedure, written in study.written():
        unit = written.quantity.unit
        water = written.item is not None and written.item.text == "water"
        water = water or (written.item is None and written.quantity.base == "water")
        if water and unit is not None and unit.name == "oz":
            said = say(
                "“{text}”{item}",
                text=written.quantity.text,
                item=" of water" if written.item else "",
            )
            yield found(
                procedure,
                written,
                say("{said} is a weight as written; fluid ounces may be meant.", said=said),
                "Write “US fl oz”, “imp fl oz” or millilitres.",
            )


RULES = (
    unknown_unit,
    readings_disagree,
    which_gallon,
    ounces_of_water,
)
