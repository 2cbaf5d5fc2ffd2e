"""A text in ounces, °F and US gallons, to three figures."""

from __future__ import annotations

import re
from collections.abc import Callable
from fractions import Fraction
from math import ceil

from procedure.paper.kitchen import HARD_SPACE, mass
from procedure.vocabulary import vocabulary
from procedure.wording.spelling import american


def in_us_units(text: str) -> str:
    """The text with ounces for grams, °F for °C and US gallons for litres, to three figures.

    What it says in words is spelt as an American spells it; its title and its maker's name
    are left as they were given.
    """
    units = vocabulary().units
    scale = units["°F"]

    def fahrenheit(match: re.Match[str]) -> str:
        return f"{round(Fraction(match[1]) / scale.factor - scale.offset)} °F"

    def measure(name: str, each: Fraction) -> Callable[[re.Match[str]], str]:
        return lambda match: f"{float(Fraction(match[1]) * each / units[name].factor):.3g} {name}"

    one, thousand = Fraction(1), Fraction(1000)
    text = re.sub(r'^  makes ".*$', lambda made: _made(made[0]), text, flags=re.M)
    text = re.sub(r"\b(\d+(?:\.\d+)?) °C", fahrenheit, text)
    text = re.sub(r"\b(\d+(?:\.\d+)?) kg\b", measure("lb", thousand), text)
    text = re.sub(r"\b(\d+(?:\.\d+)?) g\b(?!/)", measure("oz", one), text)
    text = re.sub(r"\b(\d+(?:\.\d+)?) L\b", _gallons, text)
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


def _gallons(match: re.Match[str]) -> str:
    """A vessel to the next half gallon: it may be larger, never smaller."""
    halves = ceil(Fraction(match[1]) / vocabulary().units["US gal"].factor * 2)
    return f"{halves / 2:g} US gal"
