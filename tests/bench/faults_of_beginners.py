"""Faults of those who write their first procedure: numbers, signs and headings in another form."""

from __future__ import annotations

import re
from collections.abc import Iterator

from faults import Fault, fault, kind
from faults_in_words import AMOUNTS, NOT_DONE, _concerned
from sound import Sound, written_unit

from procedure.model import Quantity
from procedure.vocabulary import vocabulary

# What follows where a line is not read: what it does is not done.
UNREAD = (
    NOT_DONE + " not-declared used-after-emptied vat-without-reducer dried-before-bath "
    "plant-left-in vat-without-alkali tannin-after-alum "
)
HEADINGS = {"fibre": "yarns", "equipment": "tools", "materials": "ingredients", "steps": "method"}


def _measured(sound: Sound, *kinds: str) -> Iterator[tuple[Quantity, set[int], re.Match[str]]]:
    """Each amount of a step of those kinds, the lines that it concerns, and its number."""
    for written in sound.model.written:
        quantity = written.quantity
        place = written_unit(quantity)
        if written.step is None or place is None or quantity.kind not in kinds:
            continue
        if quantity.reading is not None or sound.model.altitude is quantity:
            continue
        row = sound.lines[place.line - 1]
        number = re.search(r"(?<![\d.,/])\d+(?= ?$)", row[: place.column - 1])
        if number is not None and number.start() + 1 >= quantity.place.column:
            yield quantity, _concerned(sound, written), number


def _number(sound: Sound, quantity: Quantity, number: re.Match[str], now: str) -> str:
    line = quantity.place.line
    row = sound.lines[line - 1]
    return sound.with_line(line, row[: number.start()] + now + row[number.end() :])


@kind("a letter in a number", "units", finds="cannot-read", follows=UNREAD)
def letter_in_a_number(sound: Sound) -> Iterator[Fault]:
    """A nought becomes the letter o. Found at the number."""
    for quantity, _, number in _measured(sound, "mass", "volume", "time", "temperature"):
        now = number.group()[:-1] + "o" if number.group()[-1] == "0" else number.group() + "o"
        text = _number(sound, quantity, number, now)
        yield fault(text, [quantity.place.line], f"“{number.group()}” becomes “{now}”")


@kind("a comma in a number", "units", finds="cannot-read", follows=UNREAD)
def comma_in_a_number(sound: Sound) -> Iterator[Fault]:
    """A number gets a comma and a five. Found at the number."""
    for quantity, _, number in _measured(sound, "mass", "volume"):
        text = _number(sound, quantity, number, f"{number.group()},5")
        yield fault(text, [quantity.place.line], f"“{number.group()},5”")


@kind(
    "a gallon of no country",
    "units",
    finds="which-gallon",
    follows=AMOUNTS + " weight-unstated",
)
def gallon_of_no_country(sound: Sound) -> Iterator[Fault]:
    """Litres become gallons. Found where they stand."""
    for quantity, lines, _ in _measured(sound, "volume"):
        place = written_unit(quantity)
        if place is not None and quantity.unit is not None and quantity.unit.name == "L":
            yield fault(sound.put(place, "gallons"), lines, f"“{quantity.text}” becomes gallons")


@kind("a time by the clock", "units", finds="wrong-quantity cannot-read", follows=UNREAD)
def time_by_the_clock(sound: Sound) -> Iterator[Fault]:
    """``1 h`` becomes ``1:30``. Found where it stands."""
    for step in sound.steps:
        lasting = step.lasting
        if lasting is not None and re.fullmatch(r"\d+ h", lasting.text):
            text = sound.put(lasting.place, lasting.text.replace(" h", ":30"))
            yield fault(text, [lasting.place.line], f"“{lasting.text}” becomes a clock")


@kind("a sign without its marks", "names", finds="cannot-read", follows=UNREAD)
def sign_without_marks(sound: Sound) -> Iterator[Fault]:
    """What to look for loses its quotation marks, where it is no common sign. Found there."""
    for step in sound.steps:
        words = step.until.words if step.until is not None else None
        if words is None or vocabulary().find(words.text, "sign") is not None:
            continue
        line = words.place.line
        row = sound.lines[line - 1]
        marked = f'"{words.text}"'
        if marked in row and len(words.text.split()) > 2:
            text = sound.with_line(line, row.replace(marked, f"{words.text} indeed", 1))
            yield fault(text, [line], f"{marked} without its marks")


@kind("a number before a step", "names", finds="cannot-read")
def number_before_a_step(sound: Sound) -> Iterator[Fault]:
    """A step gets a number, as in a list. Found at that line."""
    for step in sound.steps:
        row = sound.lines[step.place.line - 1]
        text = sound.with_line(step.place.line, re.sub(r"^(\s*)", r"\g<1>1. ", row, count=1))
        yield fault(text, [step.place.line], "numbered")


@kind("a heading by another name", "names", finds="cannot-read")
def heading_by_another_name(sound: Sound) -> Iterator[Fault]:
    """A heading becomes another word for the same. Found at that line."""
    for number, row in enumerate(sound.lines, 1):
        if row in HEADINGS:
            text = sound.with_line(number, HEADINGS[row])
            yield fault(text, [number], f"“{row}” becomes “{HEADINGS[row]}”")


@kind("a step that is optional", "order", finds="cannot-read")
def optional_step(sound: Sound) -> Iterator[Fault]:
    """A step gets “optional:” in front, where it has no label. Found at that line."""
    for step in sound.steps:
        if step.label is not None or step.verb is None:
            continue
        line = step.place.line
        row = sound.lines[line - 1]
        if row.strip().startswith(step.verb.name):
            text = sound.with_line(line, re.sub(r"^(\s*)", r"\g<1>optional: ", row, count=1))
            yield fault(text, [line], "optional")
