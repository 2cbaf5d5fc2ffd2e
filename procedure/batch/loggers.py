"""A logger's CSV as a series of heats.

Minutes are counted from midnight of the first day, heats are °C.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Sequence
from datetime import datetime, time
from fractions import Fraction
from io import StringIO

from procedure.batch.types import HeatReading
from procedure.quantity.day import A_DAY
from procedure.quantity.record import NamedTuple

MOST_ROWS = 500_000
# Hotter than steam under pressure in any pot of a dyer (common practice): the file is in °F.
HOTTEST = Fraction(130)
_NOON = 12


class BadLog(ValueError):
    """A logger's file that cannot be used; the text is a plain sentence."""


class Logged(NamedTuple):
    """The readings of a logger's file, and the lines that held none."""

    readings: tuple[HeatReading, ...]
    unread: tuple[int, ...]


class _Columns(NamedTuple):
    """The first row of readings, the columns of time and heat, and whether heats are in °F."""

    start: int
    when: int
    heat: int
    fahrenheit: bool


_HEAT = re.compile(r"temp|heat|probe|°|celsius|fahrenheit", re.IGNORECASE)
_CLOCK = re.compile(r"time|clock", re.IGNORECASE)
_DATE = re.compile(r"date", re.IGNORECASE)
_FAHRENHEIT = re.compile(
    r"°\s*F\b|fahrenheit|[(\[]\s*F\s*[)\]]|(?:temp\w*?|deg\w*?)[\s_.-]*F\b", re.IGNORECASE
)
# A time of day at the end of a cell, whatever the way its date is written.
_TIME_OF_DAY = re.compile(
    r"(?:^|[\sT,])(\d{1,2}):(\d{2})(?::(\d{2})(?:[.,]\d+)?)?\s*([ap])?\.?(?:m\.?)?$", re.IGNORECASE
)


def from_logger(text: str, time_column: str = "", heat_column: str = "") -> Logged:
    """The readings in a logger's CSV.

    Columns are told by their names, or by what the record says of them; a comma, semicolon
    or tab may part them, and a decimal comma is taken where no comma parts them. °F is read
    where the column's name or the cell says so. Where the day is not written year-month-day
    the time alone is taken, and one that is earlier is of the next day. Raises
    :class:`BadLog` where there is no such column or nothing that can be read.
    """
    lines = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
    mark = _parting(lines)
    try:
        rows = list(csv.reader(StringIO(lines), delimiter=mark))
    except csv.Error as reason:
        raise BadLog(f"it is no CSV: {reason}") from None
    if len(rows) > MOST_ROWS:
        raise BadLog(f"it has more than {MOST_ROWS:,} lines, which no dye day has")
    columns = _columns(rows, time_column, heat_column)
    readings: list[HeatReading] = []
    unread: list[int] = []
    first: datetime | None = None
    for number, row in enumerate(rows[columns.start :], columns.start + 1):
        if not any(cell.strip() for cell in row):
            continue
        moment = _moment(row[columns.when]) if len(row) > columns.when else None
        cell = row[columns.heat] if len(row) > columns.heat else ""
        value = _degrees(cell, mark, columns.fahrenheit)
        if moment is None or value is None:
            unread.append(number)
            continue
        if isinstance(moment, datetime):
            first = first or moment
            days = (moment.date() - first.date()).days
            minute = _minutes(moment.time()) + days * A_DAY
        else:
            minute = _after(_minutes(moment), readings)
        readings.append(HeatReading(minute, value))
    if not readings:
        raise BadLog("it has no line with a time and a heat")
    top = max(reading.heat for reading in readings)
    if top > HOTTEST:
        raise BadLog(
            f"it reaches {float(top):g} °C, hotter than any bath; if that is °F, let the name of "
            "its column say so, as in Temperature (°F)"
        )
    return Logged(tuple(sorted(readings)), tuple(unread))


def _parting(text: str) -> str:
    head = text.split("\n")[:20]
    for mark in ("\t", ";"):
        if sum(mark in line for line in head) * 2 > len([line for line in head if line]):
            return mark
    return ","


def _columns(rows: list[list[str]], when: str, heat: str) -> _Columns:
    for at, row in enumerate(rows[:50]):
        names = [cell.strip() for cell in row]
        if (when and when not in names) or (heat and heat not in names):
            continue
        clock = names.index(when) if when else _found(names, _CLOCK)
        clock = _found(names, _DATE) if clock is None else clock
        degrees = names.index(heat) if heat else _found(names, _HEAT)
        if clock is not None and degrees is not None and clock != degrees:
            fahrenheit = bool(_FAHRENHEIT.search(names[degrees]))
            return _Columns(at + 1, clock, degrees, fahrenheit)
    named = [f"“{name}”" for name in (when, heat) if name]
    if named:
        raise BadLog(f"it has no column {' or '.join(named)}")
    if rows and len(rows[0]) >= 2 and _moment(rows[0][0]) is not None:
        return _Columns(0, 0, 1, False)  # no names at all: time, then heat
    first = next((row for row in rows if len(row) > 1), [])
    there = ", ".join(f"“{cell.strip()[:30]}”" for cell in first[:8])
    hint = f"; it begins with {there}: name two of them after time and heat" if there else ""
    raise BadLog(f"no line names a column for the time and one for the heat{hint}")


def _found(names: list[str], pattern: re.Pattern[str]) -> int | None:
    return next((at for at, name in enumerate(names) if pattern.search(name)), None)


def _moment(cell: str) -> datetime | time | None:
    cell = cell.strip()
    for read in (datetime.fromisoformat, time.fromisoformat):
        if ":" not in cell:
            break
        try:
            found = read(cell if len(cell.split(":")[0]) != 1 else f"0{cell}")
        except ValueError:
            continue
        return found.replace(tzinfo=None)
    told = _TIME_OF_DAY.search(cell)
    if told is None:
        return None
    hour, half = int(told[1]), (told[4] or "").casefold()
    if half:
        hour = hour % _NOON + (_NOON if half == "p" else 0)
    try:
        return time(hour, int(told[2]), int(told[3] or 0))
    except ValueError:
        return None


def _degrees(cell: str, mark: str, fahrenheit: bool) -> Fraction | None:
    """A heat in °C; a letter after the number goes before what the column's name says."""
    bare = cell.strip()
    letter = bare[-1:].upper()
    text = bare.rstrip("°CFcf ").replace("−", "-")
    if mark != ",":
        text = text.replace(",", ".")
    if not re.fullmatch(r"-?[0-9]{1,4}(\.[0-9]{1,9})?", text):
        return None
    value = Fraction(text)
    in_fahrenheit = letter == "F" or (fahrenheit and letter != "C")
    return (value - 32) * 5 / 9 if in_fahrenheit else value


def _minutes(when: time) -> Fraction:
    return Fraction(when.hour * 60 + when.minute) + Fraction(when.second, 60)


def _after(minute: Fraction, readings: Sequence[HeatReading]) -> Fraction:
    """A time of day after those before it: a smaller one is of the next day."""
    if not readings:
        return minute
    last = readings[-1].minute
    minute += last // A_DAY * A_DAY
    return minute if minute >= last else minute + A_DAY
