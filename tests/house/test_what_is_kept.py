"""Whatever the program keeps has an end: a server that runs for days does not grow.

A function of no arguments is worked out once; one whose arguments are words of the tables has as
many answers as those have rows; all others keep so many. What is made of a line or a clause
that somebody writes is kept by ``quantity/kept_answers.py``, which keeps no long ones.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import NamedTuple

HOUSE = Path(__file__).parents[2] / "procedure"
MOST = 10_000

# By what they are asked, and why that has an end.
OF_TABLES = {
    "_asked": "embedded or not",
    "_bounds": "a kind of colour word of the tables",
    "_documented": "a rule",
    "_fonts": "embedded or not",
    "_like": "an effect of the tables",
    "_litres_of_a_gram": "a threshold of the tables",
    "_orders": "so many results as are set in every order, which is few",
    "_without": "what the tables say is worn",
    "_pattern_of": "words of the tables",
    "_patterns": "a kind of the tables",
    "_refusals_of": "a way of the tables",
    "_stamp": "a folder of the program",
    "_turn_at": "a row of a table",
    "_word_by_word": "words of the tables",
    "meanings": "a kind of the tables",
    "of_kind": "a kind of sign of the tables",
    "patches": "a code of the tables",
    "picture": "a code of the tables",
    "raw_characters": "what the code names",
    "scale_of": "a system of units and a kind of quantity",
}
# Of one text, and it is a cell of a table, a name of a plant or a whole text; so they keep few.
NO_LINES = {"_lines": 8, "_once_in": 16, "spots": 8}


class Kept(NamedTuple):
    """A function whose answers are kept: how many (None: all), and of what."""

    name: str
    most: int | None
    arguments: tuple[str, ...]


@cache
def kept() -> tuple[Kept, ...]:
    """Every such function of the program."""
    texts = (file.read_text("utf-8") for file in sorted(HOUSE.rglob("*.py")))
    return tuple(one for text in texts if "cache\n" in text or "lru" in text for one in _kept(text))


def _kept(text: str) -> Iterator[Kept]:
    for one in ast.walk(ast.parse(text)):
        if isinstance(one, ast.FunctionDef):
            of = tuple(ast.unparse(each.annotation or each) for each in one.args.args)
            for each in map(ast.unparse, one.decorator_list):
                if each in ("cache", "functools.cache"):
                    yield Kept(one.name, None, of)
                elif "lru_cache" in each:
                    most = each.partition("maxsize=")[2].rstrip(")").replace("_", "")
                    yield Kept(one.name, int(most) if most.isdecimal() else None, of)


def test_what_is_kept_without_end_is_of_the_tables() -> None:
    without_end = {one.name for one in kept() if one.most is None and one.arguments}
    assert without_end == OF_TABLES.keys()


def test_of_anything_else_only_so_much_is_kept() -> None:
    many = {one.name for one in kept() if one.most is not None and one.most > MOST}
    assert many == set()


def test_what_is_made_of_a_line_is_remembered_where_it_is_short() -> None:
    of_a_text = {
        one.name: one.most
        for one in kept()
        if one.most is not None and one.arguments in (("str",), ("str", "Vocabulary"))
    }
    words = {"near_harm": 1024, "asked_of": 1024, "exact": 8192}
    assert of_a_text == NO_LINES | words
