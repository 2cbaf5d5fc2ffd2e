"""How an amount of the prose is written in the language, where the language has a form for it."""

from __future__ import annotations

import re
from fractions import Fraction

from procedure.draft.amount import Amount
from procedure.vocabulary import vocabulary

# A named wait that says how long; "next day" alone says when.
LASTS = re.compile(
    r"\b(?:till|until|to|overnight|over|all|whole|through)\b|^o/n|^o'ni|^ov(?:er|r)n"
    r"|^(?:the |a |one )?night$",
    re.I,
)
# Kinds that the language has no form for.
FORMLESS = frozenset(("figure", "rate", "full", "relative", "number"))


# Heats that a bath may be said to be kept below.
BELOW = {"boil": "below the boil", "simmer": "below simmer"}


def figure(value: Fraction) -> str:
    """A number as the language writes it: whole, a small fraction, or a decimal."""
    if value.denominator == 1:
        return str(value.numerator)
    if value.denominator <= 16 and value.denominator not in (5, 10):
        whole, rest = divmod(value, 1)
        return f"{whole} {rest}" if whole else str(rest)
    return f"{float(value):.6g}"


def span(amount: Amount, to: str = " to ") -> str:
    """The number or the range of an amount."""
    assert amount.low is not None
    high = amount.low if amount.high is None else amount.high
    said = figure(amount.low) if high == amount.low else f"{figure(amount.low)}{to}{figure(high)}"
    return f"about {said}" if amount.about else said


def written(amount: Amount, lot: str, scale: str) -> str | None:
    """An amount as the language writes it, or None where the language has no such form.

    ``lot`` is what shares are of; ``scale`` the scale of heats that say none.
    """
    if amount.bound:
        return _bounded(amount, lot, scale)
    if amount.kind in FORMLESS:
        return None
    if amount.kind == "named wait" and not LASTS.search(amount.words):
        return None  # it says when, not how long
    if amount.kind in ("named heat", "named wait"):
        return amount.unit
    if amount.kind == "loose" or (amount.kind == "odd" and amount.unit != "exact"):
        return _loose(amount)
    if amount.low is None:
        return None
    return _measured(amount, lot, scale)


def _measured(amount: Amount, lot: str, scale: str) -> str | None:
    if amount.kind == "temperature":
        unit = amount.unit or scale
        return f"{span(amount)} {unit}{_other(amount)}" if unit else None
    if amount.per:
        return f"{span(amount)} {amount.unit} per {amount.per}{f' of {lot}' if lot else ''}"
    if amount.kind == "share":
        of = "wof" if amount.base == "wof" or not lot else f"of {lot}"
        return f"{span(amount)} % {of}"
    if amount.kind == "ratio":
        about = "about " if amount.about else ""
        said = f"{about}{amount.reading}" if amount.reading else f"{span(amount)} : 1"
        return f"{said} of {lot}" if lot else None
    if amount.kind == "acidity":
        ends = [amount.low] if amount.high in (None, amount.low) else [amount.low, amount.high]
        return f"pH {' to '.join(f'{float(end):g}' for end in ends if end is not None)}"
    if amount.kind == "count" and amount.unit != "skein":
        return f"{span(amount)} pieces"
    return f"{span(amount)} {amount.unit}{_other(amount)}"


def _other(amount: Amount) -> str:
    """The same amount in another unit, in the brackets of the language."""
    return f" ({amount.reading})" if amount.reading else ""


def _bounded(amount: Amount, lot: str, scale: str) -> str | None:
    """An amount with one end: "at least 1 h", "at most 60 °C"."""
    if amount.low is None or amount.kind in ("odd", "loose", "named wait", "count", "acidity"):
        return None
    if amount.kind == "named heat":
        return BELOW.get(amount.unit)
    plain = amount._replace(bound="", about=False)
    value = written(plain, lot, scale)
    if value is None:
        return None
    return f"at {amount.bound} {value}"


def _loose(amount: Amount) -> str:
    said = re.sub(r"\s+of$", "", amount.words.lower())
    known = vocabulary().tables["loose"]
    return said if said in known else "some"
