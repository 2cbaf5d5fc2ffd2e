"""British words in American spelling (``spellings.csv`` beside this file)."""

from __future__ import annotations

import csv
import re
from functools import cache
from pathlib import Path


@cache
def _spellings() -> dict[str, str]:
    with (Path(__file__).parent / "spellings.csv").open(encoding="utf-8", newline="") as lines:
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

    return re.sub(r"[^\W\d_]+", other, text)
