"""Units: quantities that do not fit their place, or say nothing."""

from __future__ import annotations

from collections.abc import Iterator

from procedure.facts.handling import grave, hazards
from procedure.facts.study import Study
from procedure.findings import Says, say
from procedure.model import Procedure, Quantity, Written
from procedure.quantity.ready_patterns import pattern
from procedure.rules.rule import Found, rule
from procedure.rules.units.at_quantity import KINDS, found
from procedure.vocabulary.estimates import spoon_weights

FAMILY = "units"


# The kinds of quantity that fit each part that a quantity can play.
FITTING: dict[str, frozenset[str]] = {
    "heat": frozenset(("temperature",)),
    "time": frozenset(("time",)),
    "from": frozenset(("temperature", "volume", "mass", "share")),
    "to": frozenset(("temperature", "volume", "share", "acidity")),
    "until": frozenset(("temperature", "time", "acidity", "volume")),
    "amount": frozenset(
        (
            *("mass", "volume", "percent", "ratio", "share", "concentration", "spoon", "count"),
            *("acidity", "concentration by volume", "spoon by weight", "spoon by volume"),
        )
    ),
    "altitude": frozenset(("length",)),
    "past": frozenset(("percent", "mass", "ratio")),
}


ANYWHERE = frozenset(("loose", "unstated", "number", "unknown"))


SAID = {
    "heat": "a temperature",
    "time": "a time",
    "from": "a temperature",
    "to": "a temperature or a volume",
    "until": "a temperature, a time or a sign to look for",
    "amount": "an amount of material",
    "altitude": "a height, in metres or feet",
    "weight": "a weight",
    "capacity": "a volume",
    "past": "a percentage or a weight",
}


@rule("wrong-quantity", level="error", family=FAMILY, source="common practice")
def wrong_quantity(study: Study) -> Iterator[Found]:
    """A quantity of the wrong kind for its place: a time where a heat belongs, and so on.

    It is nearly always a slip of the pen, and the true value is lost with it.

    Trips:
        wet out yarn in tub with water 5 L at 30 min for 1 h
    Cure:
        wet out yarn in tub with water 5 L at 30 °C for 1 h
    """
    for procedure, written in study.written():
        fitting = FITTING.get(written.role)
        kind = written.quantity.kind
        if fitting is not None:
            if kind == "ratio" and (written.role == "time" or _of_what_is_done_to(written)):
                yield found(
                    procedure,
                    written,
                    say("“{text}” looks like a clock.", text=written.quantity.text),
                    "Write hours and minutes: “for 1 h 30 min”.",
                )
            elif kind not in fitting | ANYWHERE or _from_no_thing(written):
                yield found(
                    procedure,
                    written,
                    say(
                        "“{text}” is {kind}, but {role} belongs here.",
                        text=written.quantity.text,
                        kind=KINDS.get(kind, kind),
                        role=SAID[written.role],
                    ),
                    "Write the right quantity, or put this one into the clause it belongs to.",
                )
    for procedure in study.procedures:
        for one in procedure.beside:
            if one.kind != "no place" or one.first not in KINDS:
                continue
            kind = KINDS[one.first]
            yield Found(
                procedure, one.word.place, *_declared_as_nothing(one.section, one.word.text, kind)
            )


# What the declarations of other things than fibre have amounts of.
_AMOUNTS_OF = {
    "equipment": "equipment has what it holds, how many there are, and the power of a hotplate",
    "materials": "a material has its strength and how much there is of it",
}


def _declared_as_nothing(section: str, text: str, kind: str) -> tuple[Says, Says]:
    """What is said of an amount that the things of a section have not, and what to do."""
    if section == "fibre":
        return (
            say(
                "“{text}” is {kind}, but the amount of fibre is given as its weight.",
                text=text,
                kind=kind,
            ),
            Says("Weigh the fibre dry and write grams, ounces or pounds."),
        )
    return (
        say("“{text}” is {kind}; {has}.", text=text, kind=kind, has=_AMOUNTS_OF[section]),
        Says("Put what is only for the reader into quotation marks."),
    )


def _of_what_is_done_to(written: Written) -> bool:
    """True of “simmer weld-bath 1:30”: no part of a bath or a lot is told by such a ratio."""
    step, item = written.step, written.item
    if step is None or item is None or step.verb is None or written.quantity.base:
        return False
    own = frozenset(step.verb.objects) <= {"bath", "lot"}
    return own and any(one.name == item for one in step.objects)


def _from_no_thing(written: Written) -> bool:
    """True of “from 40 g”: a weight or a volume there is one of something that is named."""
    quantity = written.quantity
    alone = written.role == "from" and written.item is None and not quantity.base
    return alone and quantity.kind in ("mass", "volume")


@rule("loose-measure", level="note", family=FAMILY, source="common practice")
def loose_measure(study: Study) -> Iterator[Found]:
    """A measure that differs from hand to hand: some, a handful, a teaspoon of a solid.

    A teaspoon of alum may weigh four grams or seven, by how it is ground and heaped. Of what
    poisons or burns that is no safe measure either, and its spoon must never go back to a kitchen.

    Trips:
        alum-bath: prepare in kettle with water 3 L, alum 1 tsp
        discard alum-bath to "foul drain"
    Cure:
        alum-bath: prepare in kettle with water 3 L, alum 5 g
        discard alum-bath to "foul drain"
    """
    for procedure, written in study.written():
        quantity = written.quantity
        stuff = stuff_of(procedure, written)
        item = written.item.text if written.item is not None else ""
        if written.role == "pieces" and item in procedure.materials:
            yield found(
                procedure,
                written,
                say(
                    "“{text}” counts {item}, and no two weigh the same.",
                    text=quantity.text,
                    item=item,
                ),
                "Weigh them, and write the weight in its place.",
            )
            continue
        if quantity.kind == "spoon" and _told_beside(quantity, stuff):
            continue
        if quantity.kind == "spoon" and stuff in _liquids():
            if quantity.unit is not None and quantity.unit.vague:
                yield found(
                    procedure,
                    written,
                    say("“{text}” is another amount in each country.", text=quantity.text),
                    "Say which: a US, metric or imperial one, or write millilitres (mL).",
                )
            continue
        if quantity.kind == "loose" or quantity.kind.startswith("spoon") or quantity.loosely:
            of = (
                say(" of {item}", item=written.item.text)
                if written.item and quantity.kind == "spoon"
                else Says("")
            )
            if _harms(procedure, written):
                yield found(
                    procedure,
                    written,
                    say(
                        "“{text}”{of} is a loose measure, and no safe one for what harms whoever "
                        "has too much of it.",
                        text=quantity.text,
                        of=of,
                    ),
                    "Weigh it on a scale, write the weight, and keep its spoon out of the kitchen.",
                )
                continue
            yield found(
                procedure,
                written,
                say(
                    "“{text}”{of} is a loose measure: everyone's is different.",
                    text=quantity.text,
                    of=of,
                ),
                _exacter(study, written),
            )


def _harms(procedure: Procedure, written: Written) -> bool:
    """True for a spoon or a pinch of what blinds, burns or poisons."""
    spoon = written.quantity.kind.startswith("spoon")
    made = procedure.materials.get(written.item.text) if spoon and written.item else None
    return any(grave(one) or one.name.startswith("H30") for one in hazards(made))


def _liquids() -> frozenset[str]:
    pour = (name for name, weight in spoon_weights().items() if weight.liquid)
    return frozenset(("water", *pour))


def _told_beside(quantity: Quantity, stuff: str) -> bool:
    """True where grams are written beside a spoon, or millilitres beside one of a liquid."""
    beside = quantity.reading
    if beside is None or not beside.known:
        return False
    return beside.kind == "mass" or (beside.kind == "volume" and stuff in _liquids())


def stuff_of(procedure: Procedure, written: Written) -> str:
    """What a quantity measures, by its name in the vocabulary."""
    if written.item is None:
        return ""
    material = procedure.materials.get(written.item.text)
    return material.called if material is not None else written.item.text


_EXACTER = {
    "time": "Write how many minutes or hours, or a sign to look for: until and words in marks.",
    "temperature": "Take the heat once, and write the degrees.",
    "share": "Measure it once, and write how much it is.",
}


def _exacter(study: Study, written: Written) -> str:
    """How it is said exactly: what is weighed in grams, liquor as a share of its bath."""
    name = written.item.text if written.item is not None else written.quantity.base
    if written.quantity.kind == "loose" and name in map(study.called, study.flow.baths):
        return "Write how much of it: a share, such as 1/4, or a volume."
    return _EXACTER.get(written.quantity.kind, "Weigh it once and write the weight.")


@rule("number-without-unit", level="error", family=FAMILY, source="common practice")
def number_without_unit(study: Study) -> Iterator[Found]:
    """A number with no unit after it.

    Thirty may be degrees, minutes or grams.

    Trips:
        wet out yarn in tub with water 5 for 1 h
    Cure:
        wet out yarn in tub with water 5 L for 1 h
    """
    for procedure, written in study.written():
        if written.quantity.kind == "number":
            yield found(
                procedure,
                written,
                say("“{text}” has no unit.", text=written.quantity.text),
                _with_a_unit(written),
            )


def _with_a_unit(written: Written) -> Says:
    """How a number is written that has no unit: a heat and a time by their clause."""
    number = written.quantity.text
    if written.role == "heat" and not number.startswith("pH"):
        return say("Write which degrees: “{number} °C” or “{number} °F”.", number=number)
    if written.role == "time":
        return say("Write which time: “{number} min” or “{number} h”.", number=number)
    if written.role in ("from", "to"):
        return say("Write the unit after it, such as “{number} °C” or “{number} L”.", number=number)
    return Says("Write the unit after the number.")


@rule("nothing-of-it", level="error", family=FAMILY, source="common practice")
def nothing_of_it(study: Study) -> Iterator[Found]:
    """An amount or a time that is zero or less.

    Nothing can be weighed out from it; most often a digit is missing.

    Trips:
        wet out yarn in tub with water 0 L for 1 h
    Cure:
        wet out yarn in tub with water 10 L for 1 h
    """
    for procedure, written in study.written():
        quantity = written.quantity
        if quantity.kind in ("temperature", "unknown", "length") or quantity.low is None:
            continue
        each = quantity.each
        # The signs of fractions tell as much as comparing them, in a fraction of the time.
        below = quantity.low.numerator < 0 or (
            each is not None and each.low is not None and each.low.numerator <= 0
        )
        if quantity.high is not None and (quantity.high.numerator <= 0 or below):
            yield found(
                procedure,
                written,
                say("“{text}” is nothing, or less than nothing.", text=quantity.text),
                "Write the amount that is used, or leave the item out.",
            )


@rule("range-backwards", level="error", family=FAMILY, source="common practice")
def range_backwards(study: Study) -> Iterator[Found]:
    """A range whose first number is the larger.

    It may be a slip in either number.

    Trips:
        alum-bath: prepare in kettle with water 3 L, alum 8 to 3 % of yarn
        wet out yarn in tub with water 5 L for 1 h
        discard alum-bath to "foul drain"
    Cure:
        alum-bath: prepare in kettle with water 3 L, alum 3 to 8 % of yarn
        wet out yarn in tub with water 5 L for 1 h
        discard alum-bath to "foul drain"
    """
    for procedure, written in study.written():
        quantity = written.quantity
        if not quantity.backwards:
            continue
        first, mark, second, after = _range_parts(quantity.text)
        turned = say(
            "{second} {mark} {first}{after}", second=second, mark=mark, first=first, after=after
        )
        yield found(
            procedure,
            written,
            say("“{text}” runs backwards.", text=quantity.text),
            say("Write “{turned}”, if both numbers are right.", turned=turned),
        )


def _range_parts(text: str) -> tuple[str, str, str, str]:
    """The two numbers of a range, its mark, and what comes after."""

    found = pattern(r"(?:about )?(\S+(?: \d+/\d+)?) (to|[-–—−]) (\S+(?: \d+/\d+)?)(.*)").match(text)
    return found.groups() if found else (text, "to", "", "")  # type: ignore[return-value]


RULES = (
    wrong_quantity,
    loose_measure,
    number_without_unit,
    nothing_of_it,
    range_backwards,
)
