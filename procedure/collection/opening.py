"""The ``[workshop]`` section of a workshop file: when it is open, who is there, what it has."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from datetime import date
from typing import Any

from procedure.collection.opening_hours import BadHours, Hours, days_of, times_of
from procedure.collection.workshop import Opening
from procedure.quantity.number_words import UP_TO_TWELVE
from procedure.quantity.record import NamedTuple

KEYS = ("hours", "days", "people", "rings", "power", "line", "zone", "pots", "sinks")
MOST_PEOPLE = 50
MOST_RINGS = 50
MOST_POTS = 50
MOST_GRAMS = 100_000_000
_HOW_MANY = frozenset(
    "none dozen few some several many more most less least half couple pair both all any enough "
    "people persons person hand hands helpers".split()
).union(UP_TO_TWELVE)
_BESIDE = frozenset("a an the about around to or and at of up than".split())
"""Words that say how many, and those beside them: a name is not made of these alone.

Those beside them may be names by themselves: “A,B”, or An.
"""
_AMOUNT = r"\s*((?:\d+\s+)?\d+/\d+|\d*\.?\d+)\s*([^\s\d]\S*)\s*"


class Amiss(NamedTuple):
    """Something under ``[workshop]`` that cannot be followed: its key, why, and the remedy."""

    key: str
    sentence: str
    remedy: str


def people_of(said: object) -> tuple[str, ...]:
    """People from a count (2), or names in a list or between commas.

    Raises :class:`BadHours` with a plain sentence.
    """
    if isinstance(said, str) and said.strip().isdecimal():
        said = int(said)
    if isinstance(said, int) and not isinstance(said, bool):
        if not 1 <= said <= MOST_PEOPLE:
            raise BadHours(
                f"Somebody has to do it, from 1 to {MOST_PEOPLE} people; give 2, or Ada,Bo, say."
            )
        return ("you",) if said == 1 else tuple(f"person {i + 1}" for i in range(said))
    listed = said.split(",") if isinstance(said, str) else said
    if isinstance(listed, list) and all(isinstance(name, str) for name in listed):
        names = tuple(name.strip() for name in listed if name.strip())
        twice = next((name for name in names if names.count(name) > 1), "")
        if twice:
            raise BadHours(f"{twice} is named twice; give each person a name of their own.")
        if names and all(map(_is_name, names)) and len(names) <= MOST_PEOPLE:
            return names
    raise BadHours(f"“{said}” is no number of people, nor their names; give 2, or Ada,Bo, say.")


def _is_name(said: str) -> bool:
    """Whether it may be somebody's name: it begins with a letter, and does not say how many."""
    words = {*re.findall(r"[^\W\d_]+", said.lower())}
    return said[0].isalpha() and not (words & _HOW_MANY and words <= _HOW_MANY | _BESIDE)


def line_of(said: str) -> int:
    """Grams of fibre that the drying line holds, from “2 kg” or “1 lb”.

    Raises :class:`BadHours` with a plain sentence.
    """
    if re.fullmatch(r"[\d.]+", said.strip()):
        raise BadHours(
            f"“{said}” has no unit; give it with one, --line “{said.strip()} kg” or "
            f"“{said.strip()} lb”."
        )
    grams = int(_amount(said, "mass", "2 kg"))
    if not 0 < grams < MOST_GRAMS:
        raise BadHours("On the drying line hangs some fibre; give its weight, --line 2 kg, say.")
    return grams


def opening(found: Mapping[str, Any], amiss: list[Amiss]) -> Opening:
    """The section as far as it can be followed; what is wrong with it goes into ``amiss``."""
    known: dict[str, Any] = {}
    for key, read in (
        ("people", people_of),
        ("rings", _rings),
        ("power", lambda said: _amount(said, "power", "3 kW")),
        ("line", lambda said: _amount(said, "mass", "2 kg")),
        ("zone", _zone),
        ("pots", pots_of),
        ("sinks", _sinks),
    ):
        if key in found:
            _one(known, key, read, found[key], amiss)
    if "hours" in found or "days" in found:
        _hours(known, found, amiss)
    return Opening(**known)


def _one(
    known: dict[str, Any],
    key: str,
    read: Callable[[object], object],
    said: object,
    amiss: list[Amiss],
) -> None:
    try:
        known[key] = read(said)
    except BadHours as reason:
        amiss.append(Amiss(key, str(reason), f"Write it as in {key} = {_EXAMPLES[key]}."))


_EXAMPLES = {
    "hours": '"9:00-18:00"',
    "days": '"sat, sun"',
    "people": '["Ada", "Bo"], or 2',
    "rings": "2",
    "power": '"3 kW"',
    "line": '"2 kg"',
    "zone": '"Europe/London"',
    "pots": "{ kettle = 2, tub = 3 }",
    "sinks": "2",
}


def _hours(known: dict[str, Any], found: Mapping[str, Any], amiss: list[Amiss]) -> None:
    parts: dict[str, Any] = {}
    for key, read in (("hours", times_of), ("days", days_of)):
        if key in found:
            _one(parts, key, _text(read), found[key], amiss)
    if len(parts) < len([key for key in ("hours", "days") if key in found]):
        return
    times = parts.get("hours", Hours().times)
    weekdays, dates = parts.get("days", (frozenset(range(7)), frozenset()))
    dates_left = frozenset(each for each in dates if each >= date.today())
    if dates and not dates_left and not weekdays:
        said = f"The days “{found['days']}” have all passed, so the place is never open."
        amiss.append(Amiss("days", said, f"Write it as in days = {_EXAMPLES['days']}."))
        return
    known["hours"] = Hours(times, weekdays, dates)
    known["said"] = ", ".join(_in_words(found))


def _in_words(found: Mapping[str, Any]) -> Iterator[str]:
    yield str(found.get("hours", "9:00-18:00"))
    if "days" in found:
        yield str(found["days"])


def _text(read: Callable[[str], object]) -> Callable[[object], object]:
    def reading(said: object) -> object:
        if not isinstance(said, str):
            raise BadHours(f"“{said}” is not text.")
        return read(said)

    return reading


def _rings(said: object) -> int:
    if isinstance(said, int) and not isinstance(said, bool) and 1 <= said <= MOST_RINGS:
        return said
    raise BadHours(f"“{said}” is no number of rings from 1 to {MOST_RINGS}.")


def _sinks(said: object) -> int:
    if isinstance(said, int) and not isinstance(said, bool) and 1 <= said <= MOST_RINGS:
        return said
    raise BadHours(f"“{said}” is no number of sinks from 1 to {MOST_RINGS}.")


def pots_of(said: object) -> tuple[tuple[str, int], ...]:
    """Of which vessels there are several: ``kettle=2, tub=3``, or a table of them.

    Raises :class:`BadHours` with a plain sentence.
    """
    if isinstance(said, str):
        pairs = [part.partition("=") for part in said.split(",") if part.strip()]
        said = {
            name.strip(): int(count) if count.strip().isdecimal() else count
            for name, _, count in pairs
        }
    if not isinstance(said, dict) or not said:
        raise BadHours(f"“{said}” does not say how many there are of which pot: kettle=2, say.")
    for name, count in said.items():
        number = isinstance(count, int) and not isinstance(count, bool)
        if not name or not number or not 1 <= count <= MOST_POTS:
            raise BadHours(f"Of “{name}” there can be from 1 to {MOST_POTS}: {name}=2, say.")
    return tuple(said.items())


def _amount(said: object, kind: str, example: str) -> int:
    from fractions import Fraction

    from procedure.vocabulary import vocabulary

    match = re.fullmatch(_AMOUNT, said) if isinstance(said, str) else None
    unit = vocabulary().units.get(match[2]) if match is not None else None
    if match is None or unit is None or unit.kind != kind or unit.ask:
        raise BadHours(f"“{said}” is no {kind} that I can read; write {example}, say.")
    try:
        figure = sum(map(Fraction, match[1].split()))  # 2, 1.5, 1/2 or 1 1/2
    except ZeroDivisionError:
        raise BadHours(f"“{said}” divides by nothing; write {example}, say.") from None
    amount = round(figure * Fraction(unit.factor))
    if amount < 1:
        raise BadHours(f"“{said}” is nothing at all.")
    return amount


def _zone(said: object) -> str:
    from zoneinfo import ZoneInfo

    try:
        return ZoneInfo(str(said)).key
    except (KeyError, ValueError, OSError):
        raise BadHours(f"“{said}” is no time zone; write one as in Europe/London.") from None
