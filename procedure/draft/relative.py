"""Amounts that are said by something else: "half its weight", "twice as long", "the same water"."""

from __future__ import annotations

import re
from fractions import Fraction

from procedure.draft.amount import Amount
from procedure.draft.spelt_numbers import number, number_pattern

TIMES_OVER = {
    "own weight": "1",
    "weight for": "1",
    "heavy": "1",
    "equal": "1",
    "same": "1",
    "like": "1",
    "quarter": "1/4",
    "a third": "1/3",
    "double": "2",
    "twice": "2",
    "thrice": "3",
    "half": "1/2",
}
OF_FIBRE = re.compile(
    r"weight|as of wool|(?:of|as) (?:the\s+)?"
    r"(?:wool|silk|yarn|cotton|linen|fibre|goods|cloth|fleece)",
    re.I,
)
TIME = re.compile(r"\b(?:long|time)\b", re.I)
AGAIN = re.compile(r"\b(?:again|more)\b", re.I)


def factor(said: str) -> Fraction | None:
    """How many times the other amount; None where the words do not say."""
    found = re.match(number_pattern(), said, re.I)
    if found and found[0].lower() not in ("half", "a"):
        try:
            return number(found[0])
        except (ValueError, ZeroDivisionError):
            return None
    said = said.lower()
    known = next((Fraction(n) for word, n in TIMES_OVER.items() if word in said), None)
    return known or (Fraction(1) if said.startswith("as ") else None)


def by_fibre(amount: Amount) -> Amount | None:
    """The amount as a ratio to the fibre, where the words are about its weight."""
    said = amount.words.lower()
    if not OF_FIBRE.search(said) or "their" in said or AGAIN.search(said):
        return None
    many = factor(said)
    if many is None:
        return None
    if many < 1:
        return amount._replace(kind="share", low=many * 100, high=many * 100, unit="%")
    return amount._replace(kind="ratio", low=many, high=None, unit=": 1")


def by_other(amount: Amount, other: Amount) -> Amount | None:
    """The amount by another one: "half as much" of it, "twice as long", "the same"."""
    many = factor(amount.words)
    if many is None or other.low is None or other.bound:
        return None
    high = None if other.high is None else other.high * many
    return other._replace(
        low=other.low * many, high=high, words=amount.words, start=amount.start, end=amount.end
    )


def is_time(amount: Amount) -> bool:
    """True where the words are about how long."""
    return bool(TIME.search(amount.words))
