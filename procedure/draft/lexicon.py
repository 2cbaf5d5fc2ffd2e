"""The words of recipes in prose, from ``words.csv`` and the vocabulary."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterable
from fractions import Fraction
from functools import cache
from pathlib import Path

from procedure.draft import limits
from procedure.vocabulary import vocabulary
from procedure.vocabulary.library import MATERIAL_TABLES

WORDS = Path(__file__).with_name("words.csv")


@cache
def meanings(kind: str) -> dict[str, str]:
    """The words of one kind, each with what it means."""
    with WORDS.open(encoding="utf-8", newline="") as file:
        return {row["word"]: row["means"] for row in csv.DictReader(file) if row["kind"] == kind}


Branches = dict[str, "Branches"]


def one_of(words: Iterable[str]) -> str:
    """A pattern for any of the words, the longest first.

    Words that begin alike share their beginning in the pattern, so that a place in a text is
    tried against a handful of letters and not against a thousand words.
    """
    tree: Branches = {}
    for word in words:
        here = tree
        for letter in word:
            here = here.setdefault(letter, {})
        here[""] = {}
    return _pattern_of(tree)


def _pattern_of(tree: Branches) -> str:
    ways = [
        (r"\s+" if letter == " " else re.escape(letter)) + _pattern_of(below)
        for letter, below in sorted(tree.items())
        if letter
    ]
    if not ways:
        return ""
    if "" in tree:
        return f"(?:{'|'.join(ways)})?"
    return ways[0] if len(ways) == 1 else f"(?:{'|'.join(ways)})"


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
            if table == "dyestuffs":
                found.setdefault(_plural(name.lower()), entry.name)
                if name.lower().endswith(" extract"):
                    found.setdefault(name.lower().removesuffix("ract"), entry.name)
            formula = str(entry.facts.get("formula") or "").partition("·")[0].lower()
            if len(formula) >= limits.LETTERS_OF_A_FORMULA and any(
                one.isdigit() for one in formula
            ):
                found.setdefault(formula, entry.name)  # "FeSO4" in a laboratory's hand
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


def _plural(name: str) -> str:
    """A plant as it is gathered: dahlias, elderberries, birches."""
    if name.endswith("y") and name[-2] not in "aeiou":
        return name[:-1] + "ies"
    return name + ("es" if name.endswith(("s", "x", "ch", "sh")) else "s")


@cache
def fibres() -> dict[str, str]:
    """The names of fibres in prose with their names in the vocabulary."""
    named = vocabulary().tables["fibres"]
    return {name.lower(): entry.name for name, entry in named.items()} | meanings("breed")
