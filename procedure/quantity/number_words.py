"""Numbers as words for sentences and papers."""

from __future__ import annotations

from fractions import Fraction

from procedure.quantity.interval import ENDLESS


def plain(value: Fraction, digits: int = 3) -> str:
    """A number for a sentence, to a few significant figures."""
    text = f"{float(value):.{digits}g}"
    return f"{float(text):g}" if "e" not in text else f"{float(text):.0f}"


def between(low: Fraction | int, high: Fraction | int) -> str:
    """Whole numbers as ``3``, ``2 to 4``, or ``3 or more`` where there is no upper end."""
    if high == ENDLESS:
        return f"{low} or more"
    return f"{low}" if low == high else f"{low} to {high}"
