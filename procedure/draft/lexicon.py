"""The words of recipes in prose, from ``words.csv`` and the vocabulary."""

from __future__ import annotations

import csv
import re
from fractions import Fraction
from functools import cache
from pathlib import Path

from procedure.vocabulary import vocabulary
from procedure.vocabulary.library import MATERIAL_TABLES

WORDS = Path(__file__).with_name("words.csv")


@cache
def meanings(kind: str) -> dict[str, str]:
    """The words of one kind, each with what it means."""
    with WORDS.open(encoding="utf-8", newline="") as file:
        return {row["word"]: row["means"] for row in csv.DictReader(file) if row["kind"] == kind}


def one_of(words: list[str] | dict[str, str]) -> str:
    """A pattern for any of the words, the longest first."""
    longest_first = sorted(words, key=lambda word: (-len(word), word))
    return "|".join(re.escape(word).replace(r"\ ", r"\s+") for word in longest_first)


@cache
def numbers() -> dict[str, Fraction]:
    """What number words come to."""
    found = {word: Fraction(means) for word, means in meanings("number").items()}
    found.update({word: Fraction(means) for word, means in meanings("part of one").items()})
    found.update({word: Fraction(means) for word, means in meanings("group").items()})
    return found


@cache
def materials() -> dict[str, str]:
    """The names of materials in prose, in lower case, with their names in the vocabulary."""
    words = vocabulary()
    found: dict[str, str] = {}
    for table in MATERIAL_TABLES:
        for name, entry in words.tables[table].items():
            found.setdefault(name.lower(), entry.name)
            parts = entry.words("part") if table == "dyestuffs" else ()
            for part in parts:
                found.setdefault(f"{name.lower()} {part}", entry.name)
    found.update(meanings("material"))
    for word in (
        "dye",
        "tin",
        "may",
        "sample",
        "gum",
        "lemon",
        "rabbit",
        "spirit",
        "ash",
        "broom",
        "box",
        "salt bath",
        "sig",
        "heather mixture",
    ):
        found.pop(word, None)
    return found


@cache
def fibres() -> dict[str, str]:
    """The names of fibres in prose with their names in the vocabulary."""
    named = vocabulary().tables["fibres"]
    return {name.lower(): entry.name for name, entry in named.items()} | meanings("breed")
