"""Units: numbers that are read without a doubt, and that cannot be."""

from __future__ import annotations

from collections.abc import Container, Iterator
from fractions import Fraction
from itertools import pairwise

from procedure.facts.study import Study
from procedure.findings import InUnit, Says, say
from procedure.model import Block, Name, Place, Procedure, Quantity, Step, Written
from procedure.quantity.interval import ENDLESS
from procedure.quantity.kept_answers import remembered
from procedure.quantity.ready_patterns import pattern
from procedure.rules.rule import Found, rule
from procedure.rules.units.at_quantity import found
from procedure.vocabulary import vocabulary
from procedure.vocabulary.thresholds import threshold

FAMILY = "units"
_PAIR = r"([0-9]+(?:\.[0-9]+)?)\s*([^\W\d_]+)"


@rule("cannot-be", level="error", family=FAMILY, source="common practice")
def cannot_be(study: Study) -> Iterator[Found]:
    """A number that cannot be: a day that no calendar has, pH 20, more than the whole.

    It is a slip of the pen, and nobody can tell what was meant.

    Trips:
        bath: prepare in kettle with water 3 L, alum 12 g
        discard 3/2 of bath to "foul drain"
    Cure:
        bath: prepare in kettle with water 3 L, alum 12 g
        discard 1/2 of bath to "foul drain"
        discard bath to "foul drain"
    """
    for procedure in study.procedures:
        yield from _dates(procedure)
        yield from _rounds(procedure, procedure.body)
    baths = {
        name
        for names in {id(node.names): node.names for node in study.flow.nodes}.values()
        for name, thing in names.items()
        if thing in study.flow.baths or thing in study.flow.pots
    }
    for procedure, written in study.written():
        said = _impossible(written, baths, procedure.materials)
        if said is not None:
            yield found(procedure, written, *said)


def _impossible(
    written: Written, baths: set[str], materials: Container[str]
) -> tuple[Says, Says | str] | None:
    quantity = written.quantity
    if quantity.low is None or quantity.high is None:
        return None
    text = quantity.text
    low, high = _as_written(quantity, quantity.low, quantity.high)
    if quantity.kind == "acidity" and not _in_water(low, high):
        return (
            say(
                "There is no “{text}” in water: pH goes from {low} to {high}.",
                text=text,
                low=InUnit(threshold("lowest pH").value, None, ""),
                high=InUnit(threshold("highest pH").value, None, ""),
            ),
            "Write the pH that the paper showed.",
        )
    if written.role == "altitude" and high > threshold("highest place").value:
        return (
            say("“{text}” is higher than any mountain.", text=text),
            "Write the height of the place above the sea.",
        )
    return (
        _beyond_the_whole(written, baths, materials)
        or _sign_missing(quantity, baths)
        or _carried(quantity)
    )


def _as_written(quantity: Quantity, low: Fraction, high: Fraction) -> tuple[Fraction, Fraction]:
    """The numbers themselves: “pH 11 or more” says no more than 11, and “about 14” says 14."""
    if quantity.about:
        low, high = low + 2 * quantity.slack_low, high - 2 * quantity.slack_high
    return (low, low) if quantity.bound == "least" else (low, high)


def _beyond_the_whole(
    written: Written, baths: set[str], materials: Container[str]
) -> tuple[Says, Says] | None:
    """``3/2 of weld`` where the weld itself is taken: there is no more of it than all."""
    quantity = written.quantity
    of, taken = quantity.base, written.item
    of_itself = of in materials and (taken is None or taken.text == of)
    if not (of in baths or of_itself):
        return None
    if of_itself and quantity.kind == "ratio":
        return (
            say("“{text}” measures {of} by itself.", text=quantity.text, of=of),
            say("Write a weight, or measure it by the fibre: “1 : 1 wof”."),
        )
    if quantity.kind not in ("share", "percent") or quantity.low is None or quantity.high is None:
        return None
    if _as_written(quantity, quantity.low, quantity.high)[1] <= 1:
        return None
    if of_itself and quantity.without_sign:
        return (
            say("“{text}” does not say of what kind the number is.", text=quantity.text),
            say(
                "Write its unit: “{of} {number} g”, or “{of} {number} % wof”.",
                of=of,
                number=quantity.without_sign,
            ),
        )
    return (
        say("“{text}” is more than the whole.", text=quantity.text),
        say(
            "Write a share of at most the whole, or {measure}.",
            measure="a weight" if of_itself else "a volume",
        ),
    )


def _in_water(low: Fraction, high: Fraction) -> bool:
    return threshold("lowest pH").value <= low <= high <= threshold("highest pH").value


def _sign_missing(quantity: Quantity, baths: set[str]) -> tuple[Says, Says] | None:
    """``tartar 3 of yarn``: three per cent, three parts, or three grams?"""
    number, of = quantity.without_sign, quantity.base
    if not number or of in baths:
        return None
    if quantity.of_fibre:
        return (
            say("“{text}” does not say of what kind the number is.", text=quantity.text),
            say("Write “{number} % wof”, or “{number} : 1 wof”.", number=number),
        )
    return (
        say("“{text}” does not say of what kind the number is.", text=quantity.text),
        say("Write “{number} % of {of}”, or “{number} : 1 of {of}”.", number=number, of=of),
    )


@remembered(4096)  # a text says the same amounts again and again
def _measures_in(text: str) -> tuple[tuple[str, str], ...]:
    """The numbers in an amount that a unit comes after, with their units."""
    units = vocabulary().units
    return tuple([(number, unit) for number, unit in pattern(_PAIR).findall(text) if unit in units])


def _carried(quantity: Quantity) -> tuple[Says, str] | None:
    """``1 h 75 min``: the smaller unit holds more than one of the larger."""
    measures = _measures_in(quantity.text)
    if len(measures) < 2:
        return None
    units = vocabulary().units
    for (_, large), (number, small) in pairwise(measures):
        same = units[large].kind == units[small].kind and units[small].factor < units[large].factor
        if same and " ".join((large, number)) in quantity.text:
            whole = units[large].factor
            if Fraction(number) * units[small].factor >= whole:
                return (
                    say(
                        "“{text}” counts more {small} than a whole {large} has.",
                        text=quantity.text,
                        small=small,
                        large=large,
                    ),
                    "Write the time or the weight again: one of the two numbers is a slip.",
                )
    return None


def _dates(procedure: Procedure) -> Iterator[Found]:
    dated = [procedure.revised] if procedure.revised is not None else []
    for material in procedure.materials.values():
        if material.gathered:
            place = Place(material.line, 1, 2)
            dated.append(Name(material.gathered, material.gathered_place or place))
    for name in dated:
        if not _is_a_day(name.text):
            yield Found(
                procedure,
                name.place,
                say("There is no day “{date}”.", date=name.text),
                "Write the year, the month and the day: 2026-06-14.",
            )


def _is_a_day(text: str) -> bool:
    year, _, rest = text.partition("-")
    month, _, day = rest.partition("-")
    shape = (len(year), len(month), len(day)) == (4, 2, 2) and (year + month + day).isdecimal()
    if shape and year > "0000" and "01" <= month <= "12" and "01" <= day <= "28":
        return True  # every month has that day, and datetime need not be imported
    from datetime import date

    try:
        date.fromisoformat(text)
    except ValueError:
        return False
    return True


def _rounds(procedure: Procedure, body: tuple[Step | Block, ...]) -> Iterator[Found]:
    for one in body:
        if not isinstance(one, Block):
            continue
        if one.times is not None and not _whole(one.times):
            yield Found(
                procedure,
                one.place,
                "What is repeated is done once or more, and a whole number of times.",
                "Write “repeat 2 times” or how often it is done, or take the block out.",
            )
        yield from _rounds(procedure, one.body)


def _whole(times: tuple[Fraction, Fraction]) -> bool:
    return all(end >= 1 and (end == ENDLESS or end.denominator == 1) for end in times)


RULES = (cannot_be,)
