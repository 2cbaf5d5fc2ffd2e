"""A series of heats: from a record or a logger's file, and what can be said of it.

Minutes are counted from midnight of the first day, heats are °C. Between two readings the
heat is taken to go straight from the one to the other.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Sequence
from datetime import datetime, time
from fractions import Fraction
from io import StringIO
from itertools import pairwise

from procedure.batch.types import Done, Reading
from procedure.model.quantity import Quantity
from procedure.quantity.record import NamedTuple

MOST_ROWS = 500_000
_DAY = 24 * 60


class BadLog(ValueError):
    """A logger's file that cannot be used; the text is a plain sentence."""


class Logged(NamedTuple):
    """The readings of a logger's file, and the lines that held none."""

    readings: tuple[Reading, ...]
    unread: tuple[int, ...]


class Rise(NamedTuple):
    """The fastest rise: °C in a minute, and between which minutes."""

    rate: Fraction
    begins: Fraction
    ends: Fraction


class Band(NamedTuple):
    """What was planned at a minute from the step's beginning: from ``low`` to ``high`` °C."""

    minute: Fraction
    low: Fraction
    high: Fraction


# ------------------------------------------------------------------ a logger's file

_HEAT = re.compile(r"temp|heat|probe|°|celsius|fahrenheit", re.IGNORECASE)
_TIME = re.compile(r"time|date|clock", re.IGNORECASE)
_FAHRENHEIT = re.compile(r"°\s*F\b|fahrenheit|\(F\)", re.IGNORECASE)


def from_logger(text: str, time_column: str = "", heat_column: str = "") -> Logged:
    """The readings in a logger's CSV.

    Columns are told by their names, or by what the record says of them; a comma, semicolon
    or tab may part them, and a decimal comma is taken where no comma parts them. °F is read
    where the column's name says so. Raises :class:`BadLog` where there is no such column or
    nothing that can be read.
    """
    lines = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
    mark = _parting(lines)
    try:
        rows = list(csv.reader(StringIO(lines), delimiter=mark))
    except csv.Error as reason:
        raise BadLog(f"it is no CSV: {reason}") from None
    if len(rows) > MOST_ROWS:
        raise BadLog(f"it has more than {MOST_ROWS:,} lines, which no dye day has")
    start, when, heat = _columns(rows, time_column, heat_column)
    scale = bool(start and _FAHRENHEIT.search(rows[start - 1][heat]))
    readings: list[Reading] = []
    unread: list[int] = []
    first: datetime | None = None
    for number, row in enumerate(rows[start:], start + 1):
        if not any(cell.strip() for cell in row):
            continue
        moment = _moment(row[when]) if len(row) > when else None
        value = _degrees(row[heat], mark) if len(row) > heat else None
        if moment is None or value is None:
            unread.append(number)
            continue
        if isinstance(moment, datetime):
            first = first or moment
            days = (moment.date() - first.date()).days
            minute = _minutes(moment.time()) + days * _DAY
        else:
            minute = _after(_minutes(moment), readings)
        value = (value - 32) * 5 / 9 if scale else value
        readings.append(Reading(minute, value))
    if not readings:
        raise BadLog("it has no line with a time and a heat")
    return Logged(tuple(sorted(readings)), tuple(unread))


def _parting(text: str) -> str:
    head = text.split("\n")[:20]
    for mark in ("\t", ";"):
        if sum(mark in line for line in head) * 2 > len([line for line in head if line]):
            return mark
    return ","


def _columns(rows: list[list[str]], when: str, heat: str) -> tuple[int, int, int]:
    """The first row of readings, and the columns of time and heat."""
    for at, row in enumerate(rows[:50]):
        names = [cell.strip() for cell in row]
        if (when and when not in names) or (heat and heat not in names):
            continue
        clock = names.index(when) if when else _found(names, _TIME)
        degrees = names.index(heat) if heat else _found(names, _HEAT)
        if clock is not None and degrees is not None and clock != degrees:
            return at + 1, clock, degrees
    named = [f"“{name}”" for name in (when, heat) if name]
    if named:
        raise BadLog(f"it has no column {' or '.join(named)}")
    if rows and len(rows[0]) >= 2 and _moment(rows[0][0]) is not None:
        return 0, 0, 1  # no names at all: time, then heat
    raise BadLog("no line names a column for the time and one for the heat")


def _found(names: list[str], pattern: re.Pattern[str]) -> int | None:
    return next((at for at, name in enumerate(names) if pattern.search(name)), None)


def _moment(cell: str) -> datetime | time | None:
    cell = cell.strip()
    for read in (datetime.fromisoformat, time.fromisoformat):
        try:
            found = read(cell if len(cell.split(":")[0]) != 1 else f"0{cell}")
        except ValueError:
            continue
        return found.replace(tzinfo=None)
    return None


def _degrees(cell: str, mark: str) -> Fraction | None:
    text = cell.strip().rstrip("°CF ").replace("−", "-")
    if mark != ",":
        text = text.replace(",", ".")
    return Fraction(text) if re.fullmatch(r"-?[0-9]{1,4}(\.[0-9]{1,9})?", text) else None


def _minutes(when: time) -> Fraction:
    return Fraction(when.hour * 60 + when.minute) + Fraction(when.second, 60)


def _after(minute: Fraction, readings: Sequence[Reading]) -> Fraction:
    """A time of day behind those before it: a smaller one is of the next day."""
    if not readings:
        return minute
    last = readings[-1].minute
    minute += last // _DAY * _DAY
    return minute if minute >= last else minute + _DAY


# ------------------------------------------------------------------ what it says


def time_above(series: Sequence[Reading], limit: Fraction) -> Fraction:
    """Minutes for which the heat was above a limit."""
    total = Fraction(0)
    for one, two in pairwise(series):
        low, high = sorted((one.heat, two.heat))
        if low >= limit:
            total += two.minute - one.minute if high > limit else 0
        elif high > limit:
            total += (two.minute - one.minute) * (high - limit) / (high - low)
    return total


def hottest(series: Sequence[Reading]) -> Reading:
    """The first reading of the greatest heat. Raises ``ValueError`` where there is none."""
    return max(series, key=lambda one: (one.heat, -one.minute))


def fastest_rise(series: Sequence[Reading], least: Fraction = Fraction(1)) -> Rise | None:
    """The fastest rise over at least so many minutes; None where the heat never rose.

    Readings closer together than ``least`` are joined, because a thermometer's last digit
    makes any two readings of one second look steep.
    """
    best: Rise | None = None
    begin = 0
    for end in range(1, len(series)):
        while begin + 1 < end and series[end].minute - series[begin + 1].minute >= least:
            begin += 1
        one, two = series[begin], series[end]
        if two.minute - one.minute < least or two.heat <= one.heat:
            continue
        rate = (two.heat - one.heat) / (two.minute - one.minute)
        if best is None or rate > best.rate:
            best = Rise(rate, one.minute, two.minute)
    return best


def integral(series: Sequence[Reading], base: Fraction = Fraction(0)) -> Fraction:
    """Degree hours above a base heat: how much warmth the fibre had in all."""
    total = Fraction(0)
    for one, two in pairwise(series):
        above = [max(one.heat - base, Fraction(0)), max(two.heat - base, Fraction(0))]
        minutes = two.minute - one.minute
        if (one.heat - base) * (two.heat - base) < 0:  # it crosses the base on the way
            minutes *= max(above) / abs(two.heat - one.heat)
        total += minutes * sum(above) / 2 / 60
    return total


# ------------------------------------------------------------------ the plan


def planned_band(step: Done) -> tuple[Band, ...]:
    """The heats that a step planned, from its beginning on; empty where it planned none.

    The rise goes from ``from`` to ``to`` (or ``at``) over ``over``, and is then held for
    ``for``. Where a time was planned as a range, its middle is taken.
    """
    begin = _planned(step, "from", "temperature")
    end = _planned(step, "to", "temperature") or _planned(step, "at", "temperature")
    rise = _middle(_planned(step, "over", "time"))
    hold = _middle(_planned(step, "for", "time"))
    if end is None:
        return ()
    points: list[Band] = []
    if begin is not None and rise:
        points.append(Band(Fraction(0), *begin))
    points.append(Band(rise if points else Fraction(0), *end))
    if hold:
        points.append(Band(points[-1].minute + hold, *end))
    return tuple(points) if len(points) > 1 else ()


def _planned(step: Done, word: str, kind: str) -> tuple[Fraction, Fraction] | None:
    answer = step.answer(word)
    planned = answer.planned if answer is not None else None
    if not isinstance(planned, Quantity) or planned.kind != kind:
        return None
    low, high = planned.low, planned.high
    if low is None and high is None:
        return None
    return (high if low is None else low), (low if high is None else high)  # type: ignore[return-value]


def _middle(ends: tuple[Fraction, Fraction] | None) -> Fraction:
    return Fraction(0) if ends is None else (ends[0] + ends[1]) / 2


def planned_integral(
    band: Sequence[Band], base: Fraction = Fraction(0)
) -> tuple[Fraction, Fraction]:
    """Degree hours above a base that a plan gives, from least to most."""
    low = [Reading(point.minute, point.low) for point in band]
    high = [Reading(point.minute, point.high) for point in band]
    return integral(low, base), integral(high, base)
