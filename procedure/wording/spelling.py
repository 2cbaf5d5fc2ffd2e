"""British words in American spelling (``spellings.csv`` beside this file)."""

from __future__ import annotations

import io
import os
import re
from functools import cache

from procedure.quantity.kept_ready import kept_ready
from procedure.quantity.ready_patterns import pattern

# To import pathlib and csv takes as long as judging a short text, and most are not American.
_SPELLINGS = os.path.join(os.path.dirname(__file__), "spellings.csv")


@cache
def _spellings() -> dict[str, str]:
    found: dict[str, str] = kept_ready(_SPELLINGS, _by_british)
    return found


def _by_british(data: bytes) -> dict[str, str]:
    import csv

    lines = io.StringIO(data.decode("utf-8"), newline="")
    return {row["british"]: row["us"] for row in csv.DictReader(lines)}


def in_spelling(text: str, spelling: str) -> str:
    """Our own words in a spelling, british or us; the one place where any paper asks for it."""
    return american(text) if spelling == "us" else text


def american(text: str) -> str:
    """Our own words in American spelling; capitals stay as they are."""
    words = _spellings()

    def other(found: re.Match[str]) -> str:
        word = found.group()
        made = words.get(word.lower())
        if made is None:
            return word
        return made[:1].upper() + made[1:] if word[:1].isupper() else made

    return pattern(r"[^\W\d_]+").sub(other, text)
