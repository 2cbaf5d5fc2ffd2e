"""Amounts, heats and times as a reader has them: in the units asked for, sensibly rounded.

Amounts are rounded as the weigh sheet rounds them (:mod:`procedure.quantity.rounding`).
``recalculate.js`` beside this file is given the same :class:`Scale` tables and prints
the same text; a test holds the one against the other.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from math import floor

from procedure.paper import kitchen
from procedure.quantity import rounding
from procedure.quantity.day import A_DAY
from procedure.quantity.interval import ENDLESS
from procedure.quantity.number_words import decimal, in_two, mixed, ranged
from procedure.quantity.record import NamedTuple
from procedure.vocabulary import Unit, vocabulary
from procedure.wording.reader import Reader
from procedure.wording.spelling import in_spelling

UNITS = ("metric", "us", "imperial", "both")
SPELLINGS = ("british", "us")
# Kinds of amount; parts of a weight, which add up to it, are told more finely.
MASS, FINE = "mass", "parts of a mass"
NARROW = "\u00a0"  # a number is never parted from its unit at the end of a line
HALF = Fraction(1, 2)
# Less than this is counted in fluid ounces (common practice).
FEWEST_GALLONS = Fraction(1, 4)


class Scale(NamedTuple):
    """How one system prints a kind of amount.

    ``holds`` grams or litres make one ``unit``, and ``steps`` tell how finely it is
    rounded. From ``many`` units on, ``large`` is used, which holds ``in_large`` units;
    it is printed with the rest in the small unit (1 lb 9.4 oz) where ``with_rest``.
    Below ``few`` units the scale ``small`` is used instead.
    """

    unit: str
    holds: Fraction
    steps: tuple[tuple[Fraction, Fraction], ...]
    large: str = ""
    in_large: Fraction = Fraction(0)
    with_rest: bool = False
    few: Fraction = Fraction(0)
    small: Scale | None = None


@cache
def scale_of(system: str, kind: str) -> Scale:
    """The scale of a system (metric, us, imperial) for a kind of amount (mass, volume)."""
    units = vocabulary().units
    if kind in (MASS, FINE):
        if system == "metric":
            return Scale("g", Fraction(1), rounding.MASS_STEPS, "kg", units["kg"].factor)
        ounce = units["oz"].factor
        pound = units["lb"].factor / ounce
        return Scale("oz", ounce, rounding.OUNCE_STEPS, "lb", pound, with_rest=True)
    if system == "metric":
        thousand = 1 / units["mL"].factor
        steps = tuple((above * thousand, step * thousand) for above, step in rounding.VOLUME_STEPS)
        return Scale("mL", units["mL"].factor, steps, "L", thousand)
    name = "US" if system == "us" else "imp"
    ounces = Scale(f"{name} fl oz", units[f"{name} fl oz"].factor, rounding.FLUID_OUNCE_STEPS)
    gallon = units[f"{name} gal"].factor
    return Scale(f"{name} gal", gallon, rounding.GALLON_STEPS, few=FEWEST_GALLONS, small=ounces)


def in_system(system: str, kind: str, low: Fraction, high: Fraction) -> str:
    """An amount of grams or litres in one system: ``28.8 g``, ``1 to 1.5 kg``."""
    return on_scale(scale_of(system, kind), low, high)


def on_scale(scale: Scale, low: Fraction, high: Fraction) -> str:
    """An amount on a scale, both its ends rounded alike; ``at least 5 g`` without an upper end."""
    if high == ENDLESS:
        return f"at least {on_scale(scale, low, low)}"
    if scale.small is not None and high / scale.holds < scale.few:
        scale = scale.small
    least, most = low / scale.holds, high / scale.holds
    step = rounding.sensible_step(least or most, scale.steps)
    least, most = nearest(least, step), nearest(most, step)
    if scale.large and most >= scale.in_large:
        if scale.with_rest:
            units = (scale.large, scale.unit)
            ends = (in_two(end, scale.in_large, units, space=NARROW) for end in (least, most))
            return ranged(*ends)
        first, last = decimal(least / scale.in_large), decimal(most / scale.in_large)
        unit = scale.large
    else:
        first, last, unit = decimal(least), decimal(most), scale.unit
    return f"{ranged(first, last)}{NARROW}{unit}"


def nearest(value: Fraction, step: Fraction) -> Fraction:
    """A number to the nearest step, halves up."""
    return floor(value / step + HALF) * step


def rounded(value: Fraction) -> Fraction:
    """A number to three figures, halves upwards; whole numbers keep all their figures."""
    step = Fraction(1)
    while 0 < value < step * 100:
        step /= 10
    return nearest(value, step)


def _two_figures(value: Fraction) -> Fraction:
    step = Fraction(1)
    while 0 < value < step * 10:
        step /= 10
    return nearest(value, step)


# A strength of fewer ounces in a gallon is told in grams (the project's choice: half an ounce is
# the least that tenths of one are fine enough for).
FEWEST_OUNCES = HALF


@dataclass(frozen=True, slots=True)
class Voice:
    """How a paper speaks: ``units`` metric, us, imperial or both; ``spelling`` british or us.

    With both, the customary units are those of the spelling's country. A ``reader`` has
    units of their own, one for each kind of amount: then heats are given in one scale
    only, and customary amounts as cooks and dyers measure them; with ``both_as_written`` a heat
    that is written on the other scale has that in brackets.
    """

    units: str = "both"
    spelling: str = "british"
    reader: Reader | None = None
    both_as_written: bool = False

    @property
    def systems(self) -> tuple[str, ...]:
        """The systems that amounts are given in, the first of them outside the brackets."""
        if self.units != "both":
            return (self.units,)
        return ("metric", "us" if self.spelling == "us" else "imperial")

    @property
    def heat_unit(self) -> str:
        """The scale in which a reader writes a heat down."""
        if self.reader is not None:
            return self.reader.heat
        return "°F" if self.units == "us" else "°C"

    def amount(self, kind: str, low: Fraction, high: Fraction, about: bool = False) -> str:
        """An amount in each system: ``28.8 g (1.02 oz)``."""
        if self.reader is not None:
            return f"{'about ' if about else ''}{_as_read(self.reader, kind, low, high)}"
        first, *rest = (in_system(system, kind, low, high) for system in self.systems)
        brackets = f" ({'; '.join(rest)})" if rest else ""
        return f"{'about ' if about else ''}{first}{brackets}"

    def heat(
        self, low: Fraction, high: Fraction, about: bool = False, written: Unit | None = None
    ) -> str:
        """A heat in both scales: ``85 °C (185 °F)``; °F first where the units are US.

        To a reader it is told in one, and in that in which it is ``written`` beside it.
        """
        scales = [_degrees(low, high, "°C"), _degrees(_fahrenheit(low), _fahrenheit(high), "°F")]
        if self.heat_unit == "°F":
            scales.reverse()
        beside = self.reader is None or (
            self.both_as_written and written is not None and written.name != self.heat_unit
        )
        said = f"{scales[0]} ({scales[1]})" if beside else scales[0]
        return f"{'about ' if about else ''}{said}"

    def strength(self, low: Fraction, high: Fraction, fine: bool = False) -> str:
        """Grams in a litre of liquor, as ``4 g/L`` or in ounces in a gallon, to two figures.

        ``fine`` is for what is read beside a strength too weak for ounces: grams in a gallon.
        """
        return self._in_liquor((low, high), "g", "oz", fine)

    def strength_by_volume(self, low: Fraction, high: Fraction, fine: bool = False) -> str:
        """Millilitres in a litre of liquor, as ``4 mL/L`` or in fluid ounces in a gallon."""
        return self._in_liquor((low, high), "mL", "fl oz", fine)

    def _in_liquor(
        self, ends: tuple[Fraction, Fraction], small: str, ounces: str, fine: bool
    ) -> str:
        """Thousandths of a kilogram or litre in a litre, in the units of this paper."""
        low, high = ends
        system = self.reader.volume if self.reader is not None else self.systems[0]
        unit = f"{small}/L"
        if system != "metric":
            name = "US" if system == "us" else "imp"
            units = vocabulary().units
            ounce = units["oz"].factor if small == "g" else units[f"{name} fl oz"].factor * 1000
            one = units[f"{name} gal"].factor / ounce
            if fine or 0 < high * one < FEWEST_OUNCES:
                # No scale in ounces tells so little: as the grams that are weighed out.
                return self._grams_a_gallon(low, high, small, name)
            low, high, unit = low * one, high * one, f"{ounces}/{name} gal"
        first, last = (decimal(_two_figures(end)) for end in (low, high))
        return f"{first if first == last else f'{first} to {last}'}{NARROW}{unit}"

    def _grams_a_gallon(self, low: Fraction, high: Fraction, small: str, name: str) -> str:
        gallon = vocabulary().units[f"{name} gal"].factor
        first, last = (decimal(_two_figures(end * gallon)) for end in (low, high))
        said = first if first == last else f"{first} to {last}"
        return f"{said}{NARROW}{small}/{name} gal"

    @property
    def paper_size(self) -> str:
        """The sheet that a reader's printer holds: letter in the United States, else a4."""
        return "letter" if self.units == "us" or self.spelling == "us" else "a4"

    @property
    def mass_unit(self) -> str:
        """The unit in which a reader writes a weight down."""
        mass = self.reader.mass if self.reader is not None else self.systems[0]
        return "g" if mass == "metric" else "oz"

    @property
    def volume_unit(self) -> str:
        """The unit in which a reader writes an amount of liquor down."""
        system = self.reader.volume if self.reader is not None else self.systems[0]
        return {"metric": "L", "us": "US qt", "imperial": "imp pt"}[system]

    @property
    def small_volume_unit(self) -> str:
        """The unit in which a reader writes a liquid down that is measured in a glass."""
        system = self.reader.volume if self.reader is not None else self.systems[0]
        return {"metric": "mL", "us": "US fl oz", "imperial": "imp fl oz"}[system]

    def spelt(self, text: str) -> str:
        """Our own words in the spelling of this paper."""
        return in_spelling(text, self.spelling)


_FIGURE = r"[−0-9.,½¼¾⅛⅜⅝⅞/\s]+"
_ONE_UNIT = re.compile(rf"(?:at least )?{_FIGURE}(?:to{_FIGURE})?([^\d(]+?)(?:\s*\(.*\))?")


def unit_of(amount: str) -> str:
    """The unit of an amount that a paper prints; empty where it has two (1 lb 9 oz) or none."""
    found = _ONE_UNIT.fullmatch(amount)
    return found[1].strip() if found is not None else ""


def _as_read(reader: Reader, kind: str, low: Fraction, high: Fraction) -> str:
    """An amount in a reader's own units alone."""
    if kind in (MASS, FINE):
        if reader.mass != "metric":
            return kitchen.mass(low, high, kind == FINE)
        return in_system("metric", MASS, low, high)
    said = kitchen.volume(reader.volume, low, high) if reader.volume != "metric" else ""
    return said or in_system(reader.volume, kind, low, high)


def _fahrenheit(celsius: Fraction) -> Fraction:
    unit = vocabulary().units["°F"]
    return celsius / unit.factor - unit.offset


def _degrees(low: Fraction, high: Fraction, scale: str) -> str:
    return f"{ranged(_degree(low), _degree(high))}{NARROW}{scale}"


def _degree(value: Fraction) -> str:
    """A heat to the whole degree, or to the half where it is written so."""
    near = (value * 2 + HALF).__floor__() if (value * 2).denominator == 1 else None
    if near is not None and near % 2:
        sign = "−" if near < 0 else ""
        return f"{sign}{decimal(abs(Fraction(near, 2)))}"
    whole = (value + HALF).__floor__()
    return f"−{-whole}" if whole < 0 else str(whole)


# ------------------------------------------------------------------ times

MINUTE, HOUR, DAY = Fraction(1), Fraction(60), Fraction(A_DAY)


def minutes(low: Fraction, high: Fraction, about: bool = False) -> str:
    """A time: ``45 minutes``, ``1 hour 10 minutes``, ``1 to 1½ hours``, ``at least 3 days``."""
    if high == ENDLESS:
        return f"at least {minutes(low, low, about)}"
    said = _one_time(low) if low == high else _range_of_times(low, high)
    return f"{'about ' if about else ''}{said}"


def _range_of_times(low: Fraction, high: Fraction) -> str:
    for size, name in ((DAY, "day"), (HOUR, "hour"), (MINUTE, "minute")):
        if low >= size and _plain(low / size) and _plain(high / size):
            return f"{mixed(low / size)} to {_counted(high / size, name)}"
    if high < 1:
        return f"{decimal(rounded(low * 60))} to {_counted(rounded(high * 60), 'second')}"
    if high <= 2 * HOUR:
        return f"{decimal(rounded(low))} to {_counted(rounded(high), 'minute')}"
    if high < 3 * DAY:
        return f"{_one_time(low)} to {_one_time(high)}"
    return f"{_one_time(rounded(low))} to {_one_time(rounded(high))}"


def _plain(value: Fraction) -> bool:
    return value.denominator in (1, 2, 4)


def _counted(value: Fraction, name: str) -> str:
    said = mixed(value) if _plain(value) else decimal(rounded(value))
    return f"{said}{NARROW}{name}{'' if value <= 1 else 's'}"


def _one_time(time: Fraction) -> str:
    if time < 1:
        return _counted(rounded(time * 60), "second")
    if time >= 2 * DAY and _plain(time / DAY):
        return _counted(time / DAY, "day")
    if time >= 2 * DAY:
        days, rest = divmod(time, DAY)
        return f"{_counted(Fraction(days), 'day')} {_one_time(rest)}"
    if time < HOUR or (time < 2 * HOUR and not _plain(time / HOUR) and time % 5):
        return _counted(time, "minute")
    if _plain(time / HOUR):
        return _counted(time / HOUR, "hour")
    hours, rest = divmod(time, HOUR)
    return f"{_counted(Fraction(hours), 'hour')} {_counted(rest, 'minute')}"
