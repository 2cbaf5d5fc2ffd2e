"""Formula weights, from the standard atomic weights in ``atomic_weights.csv``."""

from __future__ import annotations

from fractions import Fraction
from functools import cache

from procedure.quantity.ready_patterns import pattern
from procedure.vocabulary.library import rows

_PART = pattern(r"([A-Z][a-z]?)|(\()|(\))|(\d+)")
WATER_OF_CRYSTALS = {"H": 2, "O": 1}


@cache
def atomic_weights() -> dict[str, Fraction]:
    """Grams per mole by symbol."""
    return {row["symbol"]: Fraction(row["weight"]) for row in rows("atomic_weights")}


@cache
def symbols() -> dict[str, str]:
    """Symbols of the elements by their plain names."""
    return {row["name"]: row["symbol"] for row in rows("atomic_weights")}


def atoms(formula: str) -> dict[str, int]:
    """How many atoms of each element a formula holds, water of crystals with it.

    ``KAl(SO4)2·12H2O`` and ``KAl(SO4)2.12H2O`` are the same. Raises ``ValueError``
    where it is no formula or has an element that the data file lacks.
    """
    total: dict[str, int] = {}
    for part in pattern(r"[·.*]").split(formula):
        times, bare = _factor(part)
        for symbol, count in _group(bare, formula).items():
            total[symbol] = total.get(symbol, 0) + count * times
    return total


def without_water(formula: str) -> dict[str, int]:
    """The atoms of a formula without its water of crystals."""
    parts = [part for part in pattern(r"[·.*]").split(formula) if atoms(part) != _waters(part)]
    return atoms("·".join(parts)) if parts else {}


def weight(formula: str) -> Fraction:
    """Grams per mole. Raises ``ValueError`` as :func:`atoms` does."""
    table = atomic_weights()
    return sum((table[symbol] * count for symbol, count in atoms(formula).items()), Fraction(0))


def _waters(part: str) -> dict[str, int]:
    times, _ = _factor(part)
    return {symbol: count * times for symbol, count in WATER_OF_CRYSTALS.items()}


def _factor(part: str) -> tuple[int, str]:
    found = pattern(r"\d+").match(part)
    return (int(found.group()), part[found.end() :]) if found else (1, part)


def _group(text: str, whole: str) -> dict[str, int]:
    stack: list[dict[str, int]] = [{}]
    last: dict[str, int] = {}
    at = 0
    while at < len(text):
        found = _PART.match(text, at)
        if found is None or not text:
            raise ValueError(f"“{whole}” is no formula")
        at = found.end()
        symbol, opens, closes, digits = found.groups()
        if symbol:
            if symbol not in atomic_weights():
                raise ValueError(f"“{symbol}” in “{whole}” is no element that is known here")
            last = {symbol: 1}
            _add(stack[-1], last, 1)
        elif opens:
            stack.append({})
            last = {}
        elif closes:
            if len(stack) == 1:
                raise ValueError(f"“{whole}” closes a bracket that was not opened")
            last = stack.pop()
            _add(stack[-1], last, 1)
        else:
            if not last or int(digits) == 0:
                raise ValueError(f"“{whole}” is no formula")
            _add(stack[-1], last, int(digits) - 1)
            last = {}
    if len(stack) > 1 or not stack[0]:
        raise ValueError(f"“{whole}” is no formula")
    return stack[0]


def _add(into: dict[str, int], what: dict[str, int], times: int) -> None:
    for symbol, count in what.items():
        into[symbol] = into.get(symbol, 0) + count * times
