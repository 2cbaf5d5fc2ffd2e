"""What the program says and what its pages tell is in the plain English of today.

A dyer who begins is told what comes after a word and not what stands behind it. Only text for
people is looked at: sentences in the code, and the pages.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest
from test_order_of_rooms import HOUSE, ROOT

PAGES = ("README.md", "DEVELOPERS.md", "grammar", "examples/tutorial")
OLD = (
    r"behind (?:the|a|an) (?:verb|name|word|step|number|unit|heat|label|comma|yarn|amount)\b",
    r"behind (?:[“`‘]|it\b)",
    r"grown[- ](?:people|ups?|folk)",
    r"\breckon(?:ed|s|ing)?\b",
    r"\b(?:whilst|thereof|wherein|thereby|hither|unto|betwixt)\b",
    r"take out what is too much",
    # A bath may be left to stand; words are written, or come before others.
    r"\bstands? (?:here|below|above|behind|before|apart|for itself|in the (?:header|text))\b",
)


def sentences(file: Path) -> Iterator[str]:
    """The strings of a module that people are told: of several words, and no documentation."""
    tree = ast.parse(file.read_text("utf-8"))
    silent = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    for node in ast.walk(tree):
        said = node.value if isinstance(node, ast.Constant) and id(node) not in silent else None
        if isinstance(said, str) and " " in said:
            yield said


def texts() -> Iterator[tuple[str, str]]:
    for file in sorted(HOUSE.rglob("*.py")):
        where = file.relative_to(ROOT).as_posix()
        # What prose says in old words is read there.
        if not where.startswith("procedure/draft/"):
            yield from ((where, said) for said in sentences(file))
    for name in PAGES:
        page = ROOT / name
        for file in [page] if page.is_file() else sorted(page.rglob("*.md")):
            yield file.relative_to(ROOT).as_posix(), file.read_text("utf-8")


@cache
def every() -> tuple[tuple[str, str], ...]:
    """All of them, read once by the worker that has the tests."""
    return tuple(texts())


@pytest.mark.parametrize("pattern", OLD)
def test_old_words_are_said_to_nobody(pattern: str) -> None:
    found = [
        (where, said[max(0, one.start() - 30) : one.end() + 30])
        for where, said in every()
        for one in re.finditer(pattern, said, re.IGNORECASE)
    ]
    assert found == []
