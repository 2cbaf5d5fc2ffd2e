"""Numbers as words for sentences and papers."""

from __future__ import annotations

from fractions import Fraction


def plain(value: Fraction, digits: int = 3) -> str:
    """A number for a sentence, to a few significant figures."""
    text = f"{float(value):.{digits}g}"
    return f"{float(text):g}" if "e" not in text else f"{float(text):.0f}"
