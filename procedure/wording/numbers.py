"""Typed values as words in a reader's units; no other module writes a number of a finding."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from functools import cache

from procedure.findings import (
    Count,
    Heat,
    InUnit,
    Liquor,
    Mass,
    Measured,
    Percent,
    Rate,
    Span,
    Strength,
    Volume,
    Warmer,
    Warmth,
)
from procedure.quantity.day import A_DAY
from procedure.quantity.interval import ENDLESS
from procedure.quantity.number_words import plain, ranged
from procedure.vocabulary import vocabulary
from procedure.wording.reader import Reader

THOUSAND = Fraction(1000)
HOUR, DAY = Fraction(60), Fraction(A_DAY)
# From so many minutes on a time is said in hours, and in days; whole hours always are.
SECONDS = Fraction(60)
HOURS_FROM, DAYS_FROM = 2 * HOUR, 2 * DAY


def measured(value: Measured | InUnit, reader: Reader) -> str:
    """A number with its unit, as the reader has it: ``85 °C``, ``1.5 h``, ``2 to 3 lb``."""
    low, high = value.low, value.low if value.high is None else value.high
    if isinstance(value, InUnit):
        return _ranged(low, high, value.unit, reader)
    if isinstance(value, Heat):
        return _heat(low, high, reader, value.worded)
    return _WAYS[type(value)](low, high, reader)


def _ranged(low: Fraction, high: Fraction, unit: str, reader: Reader, digits: int = 3) -> str:
    if high == ENDLESS:
        return f"{_ranged(low, low, unit, reader, digits)} or more"
    said = ranged(plain(low, digits), plain(high, digits))
    if not unit:
        return said
    return f"{said}{chr(0xA0) if reader.form == 'paper' else ' '}{unit}"


# ------------------------------------------------------------------ heat


@cache
def _words_of_heat() -> dict[tuple[Fraction, Fraction], str]:
    """The heat words by the heats that they stand for."""
    words = vocabulary().heats.values()
    return {(word.low, word.high): word.name for word in words if word.kind == "heat"}


# How a heat word reads after “at”, “to” and “from”.
_SAID = {"boil": "the boil", "simmer": "a simmer"}


def _heat(low: Fraction, high: Fraction, reader: Reader, worded: bool) -> str:
    word = _words_of_heat().get((low, high)) if worded else None
    if word in _SAID:
        return _SAID[word]
    if reader.heat == "°C":
        said = _ranged(low, high, "°C", reader)
    else:
        unit = vocabulary().units["°F"]
        low, high = (_whole(end / unit.factor - unit.offset) for end in (low, high))
        said = _ranged(low, high, "°F", reader, 4)
    return f"{word} ({said})" if word else said


def _whole(value: Fraction) -> Fraction:
    """To the whole degree, halves up."""
    if value == ENDLESS:
        return value
    return Fraction((value + Fraction(1, 2)).__floor__())


def _warmer(low: Fraction, high: Fraction, reader: Reader) -> str:
    if reader.heat == "°F":
        factor = vocabulary().units["°F"].factor
        low, high = low / factor, high / factor
    return _ranged(low, high, reader.heat, reader)


def _warmth(low: Fraction, high: Fraction, reader: Reader) -> str:
    if reader.heat == "°F":
        factor = vocabulary().units["°F"].factor
        low, high = low / factor, high / factor
    return f"{_ranged(low, high, '', reader)} degree hours"


def _rate(low: Fraction, high: Fraction, reader: Reader) -> str:
    if reader.heat == "°F":
        factor = vocabulary().units["°F"].factor
        low, high = low / factor, high / factor
    return f"{_ranged(low, high, reader.heat, reader, 2)} a minute"


# ------------------------------------------------------------------ times


def _span(low: Fraction, high: Fraction, reader: Reader) -> str:
    most = low if high == ENDLESS else high
    if 0 < most < 1:
        return _ranged(low * SECONDS, high * SECONDS, "s", reader)
    if most >= DAYS_FROM:
        return _ranged(low / DAY, high / DAY, "d", reader)
    if most >= HOURS_FROM or (low == most and most and most % HOUR == 0):
        return _ranged(low / HOUR, high / HOUR, "h", reader)
    return _ranged(low, high, "min", reader)


# ------------------------------------------------------------------ amounts


def _mass(low: Fraction, high: Fraction, reader: Reader) -> str:
    if reader.mass == "metric":
        if low >= THOUSAND:
            return _ranged(low / THOUSAND, high / THOUSAND, "kg", reader)
        return _ranged(low, high, "g", reader, 4)
    units = vocabulary().units
    unit = "lb" if low >= units["lb"].factor else "oz"
    return _ranged(low / units[unit].factor, high / units[unit].factor, unit, reader)


# Below so many of the large unit, the small one is used.
_FEW = Fraction(1, 4)


def _volume(low: Fraction, high: Fraction, reader: Reader) -> str:
    if reader.volume == "metric":
        if 0 < high < _FEW:
            return _ranged(low * THOUSAND, high * THOUSAND, "mL", reader)
        return _ranged(low, high, "L", reader)
    name = "US" if reader.volume == "us" else "imp"
    units = vocabulary().units
    unit = f"{name} gal"
    if high < _FEW * units[unit].factor:
        unit = f"{name} fl oz"
    return _ranged(low / units[unit].factor, high / units[unit].factor, unit, reader)


def _liquor(low: Fraction, high: Fraction, reader: Reader) -> str:
    if reader.volume == "metric" and reader.mass == "metric":
        return f"{_ranged(low, high, 'L', reader, 2)} to a kilogram"
    units = vocabulary().units
    pound = units["lb"].factor / THOUSAND
    if reader.volume == "metric":
        return f"{_ranged(low * pound, high * pound, 'L', reader, 2)} to a pound"
    gallon = "US gal" if reader.volume == "us" else "imp gal"
    share = pound / units[gallon].factor
    return f"{_ranged(low * share, high * share, gallon, reader, 2)} to a pound"


def _strength(low: Fraction, high: Fraction, reader: Reader) -> str:
    if reader.volume == "metric":
        return f"{_ranged(low, high, 'g', reader)} in each litre"
    units = vocabulary().units
    gallon = "US gal" if reader.volume == "us" else "imp gal"
    share = units[gallon].factor / units["oz"].factor
    return f"{_ranged(low * share, high * share, 'oz', reader)} in each {gallon}"


def _percent(low: Fraction, high: Fraction, reader: Reader) -> str:
    return _ranged(low, high, "%", reader)


def _count(low: Fraction, high: Fraction, reader: Reader) -> str:
    if low.denominator != 1 or high != low:
        return _ranged(low, high, "", reader)
    return f"{low.numerator:,}"  # a number of things is told to the last of them


_WAYS: dict[type, Callable[[Fraction, Fraction, Reader], str]] = {
    Rate: _rate,
    Warmer: _warmer,
    Warmth: _warmth,
    Span: _span,
    Mass: _mass,
    Volume: _volume,
    Liquor: _liquor,
    Strength: _strength,
    Percent: _percent,
    Count: _count,
}
