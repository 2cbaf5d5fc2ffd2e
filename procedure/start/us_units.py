"""A text in ounces, °F and US gallons, to three figures."""

from __future__ import annotations

import re
from collections.abc import Callable
from fractions import Fraction
from math import ceil

from procedure.vocabulary import vocabulary


def in_us_units(text: str) -> str:
    """The text with ounces for grams, °F for °C and US gallons for litres, to three figures."""
    units = vocabulary().units
    scale = units["°F"]

    def fahrenheit(match: re.Match[str]) -> str:
        return f"{round(Fraction(match[1]) / scale.factor - scale.offset)} °F"

    def measure(name: str, each: Fraction) -> Callable[[re.Match[str]], str]:
        return lambda match: f"{float(Fraction(match[1]) * each / units[name].factor):.3g} {name}"

    one, thousand = Fraction(1), Fraction(1000)
    text = re.sub(r"\b(\d+(?:\.\d+)?) °C", fahrenheit, text)
    text = re.sub(r"\b(\d+(?:\.\d+)?) kg\b", measure("lb", thousand), text)
    text = re.sub(r"\b(\d+(?:\.\d+)?) g\b(?!/)", measure("oz", one), text)
    return re.sub(r"\b(\d+(?:\.\d+)?) L\b", _gallons, text)


def _gallons(match: re.Match[str]) -> str:
    """A vessel to the next half gallon: it may be larger, never smaller."""
    halves = ceil(Fraction(match[1]) / vocabulary().units["US gal"].factor * 2)
    return f"{halves / 2:g} US gal"
