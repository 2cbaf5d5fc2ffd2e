"""A text in ounces and gallons, with °F where those are of the US, to three figures."""

from __future__ import annotations

import re
from collections.abc import Callable
from fractions import Fraction
from math import ceil

from procedure.paper.kitchen import HARD_SPACE, mass
from procedure.vocabulary import vocabulary
from procedure.wording.spelling import american

GALLONS = {"us": "US gal", "imperial": "imp gal"}


def in_units_of(system: str, text: str) -> str:
    """The text with ounces for grams and gallons for litres, to three figures.

    ``system`` is us or imperial. For the US, °F stand for °C, and what the text says in words
    is spelt as an American spells it; its title and its maker's name are left as they were given.
    """
    units = vocabulary().units
    scale, gallon = units["°F"], GALLONS[system]

    def fahrenheit(match: re.Match[str]) -> str:
        return f"{round(Fraction(match[1]) / scale.factor - scale.offset)} °F"

    def measure(name: str, each: Fraction) -> Callable[[re.Match[str]], str]:
        return lambda match: f"{float(Fraction(match[1]) * each / units[name].factor):.3g} {name}"

    def gallons(match: re.Match[str]) -> str:
        """A vessel to the next half gallon: it may be larger, never smaller."""
        halves = ceil(Fraction(match[1]) / units[gallon].factor * 2)
        return f"{halves / 2:g} {gallon}"

    one, thousand = Fraction(1), Fraction(1000)
    text = re.sub(r'^  makes ".*$', lambda made: _made(made[0]), text, flags=re.M)
    text = re.sub(r"\b(\d+(?:\.\d+)?) kg\b", measure("lb", thousand), text)
    text = re.sub(r"\b(\d+(?:\.\d+)?) g\b(?!/)", measure("oz", one), text)
    text = re.sub(r"\b(\d+(?:\.\d+)?) L\b", gallons, text)
    if system == "imperial":
        return text
    text = re.sub(r"\b(\d+(?:\.\d+)?) °C", fahrenheit, text)
    return re.sub(
        r'^(?:(?!procedure "|  by ").*"| *#).*$', lambda line: _spelt(line[0]), text, flags=re.M
    )


def _spelt(line: str) -> str:
    """Comments, and what is within quotation marks, in American words."""
    said = line.replace("foul drain", "sewer drain")  # a drain to the sewer, not to a stream
    if line.lstrip().startswith("#"):
        return american(said)
    return re.sub(r'"[^"]*"', lambda quoted: american(quoted[0]), said)


def _made(line: str) -> str:
    """What it makes, in the ounces or pounds of a kitchen's scale."""

    def weight(match: re.Match[str]) -> str:
        grams = Fraction(match[1]) * (1000 if match[2] == "kg" else 1)
        return mass(grams, grams).replace(HARD_SPACE, " ")

    return re.sub(r"\b(\d+(?:\.\d+)?) (k?g)\b", weight, line)
