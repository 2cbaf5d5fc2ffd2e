"""The language as a TextMate grammar, so that editors and web pages can colour a procedure.

Many open tools read that format: patterns in the Oniguruma dialect, each with the
kind of thing that it marks. The words in it come from the vocabulary.
``python -m procedure.language.highlighting`` stores it in
``grammar/vatwright.tmLanguage.json``; a test compares the two.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable
from pathlib import Path

from procedure.language.table import GRAMMAR_FOLDER
from procedure.language.words import BLOCK_WORDS, CLAUSE_WORDS, HEADER_WORDS, SECTIONS
from procedure.vocabulary import vocabulary

FILE = "vatwright.tmLanguage.json"
_NAME = r"[^\W\d_][^\W_]*(?:['’-][^\W_]+)*(?:\.[^\W\d_][^\W_]*(?:-[^\W_]+)*)*"
# The verb comes first in its line, or first after a label.
_HEAD = rf"^\s*(?:({_NAME})\s*(:))?\s*"


def _any(words: Iterable[str]) -> str:
    """One of the words, the longest first, so that a phrase is not cut short."""
    return "|".join(re.escape(word) for word in sorted(set(words), key=lambda w: (-len(w), w)))


def _whole(words: Iterable[str]) -> str:
    return rf"(?<![\w-])(?:{_any(words)})(?![\w-])"


def description() -> dict[str, object]:
    """The grammar as plain data: what marks what, with the words of the vocabulary."""
    known = vocabulary()
    marks = [unit for unit in known.units if not unit[0].isalpha()]
    units = [unit for unit in known.units if unit[0].isalpha()]
    number = r"(?:\d+\s+\d+\s*/\s*\d+|\d+\s*/\s*\d+|\d+(?:\.\d+)?\s?[½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞]?|\.\d+)"
    blocks = [word for word in BLOCK_WORDS if word not in ("for", "allow")]
    patterns: list[dict[str, object]] = [
        {"name": "comment.line.number-sign", "match": "#.*$"},
        {"name": "string.quoted.double", "match": '"[^"]*"|“[^”]*”'},
        {"name": "invalid.illegal.unclosed", "match": '["“].*$'},
        {
            "match": rf"^({_any(SECTIONS)})\s*:?\s*(?=#|$)",
            "captures": {"1": {"name": "keyword.other.section"}},
        },
        {
            "match": rf"{_HEAD}({_any(known.verbs)})(?![\w-])(?!\s*:)",
            "captures": _head("keyword.operator.verb"),
        },
        {
            "match": rf"{_HEAD}({_any(blocks)}|for\s+each)(?![\w-])(?!\s*:)",
            "captures": _head("keyword.control"),
        },
        {
            "match": rf"^\s*({_NAME})\s*(:)",
            "captures": {
                "1": {"name": "entity.name.label"},
                "2": {"name": "punctuation.separator"},
            },
        },
        {"name": "constant.numeric.date", "match": r"\b\d{4}-\d{2}-\d{2}\b"},
        {
            "match": rf"({number}(?:\s*(?:to|[-–—−:])\s*{number})?)"
            rf"(?:\s*({_any(marks)}|(?:{_any(units)})(?![\w-])))?",
            "captures": {
                "1": {"name": "constant.numeric"},
                "2": {"name": "keyword.other.unit"},
            },
        },
        {
            "name": "constant.language.amount",
            "match": _whole(
                [*known.heats, *known.names("loose"), "unstated", "about", "wof", "owf", "pH"]
            ),
        },
        {"name": "storage.modifier.manner", "match": _whole(known.names("manner"))},
        {"name": "keyword.other.clause", "match": _whole([*CLAUSE_WORDS, "of", "times", "each"])},
    ]
    header: dict[str, object] = {
        "begin": r"^(procedure)\b",
        "end": rf"^(?=(?:{_any(SECTIONS)})\b)",
        "beginCaptures": {"1": {"name": "keyword.other.section.dye"}},
        "patterns": [
            {
                "match": rf"^\s+({_any(HEADER_WORDS)})(?![\w-])",
                "captures": {"1": {"name": "keyword.other.header.dye"}},
            },
            {"include": "#line"},
        ],
    }
    return {
        "name": "Dye procedure",
        "scopeName": "source.dye",
        "fileTypes": ["dye"],
        "patterns": [header, {"include": "#line"}],
        "repository": {"line": {"patterns": [_scoped(pattern) for pattern in patterns]}},
    }


def _head(kind: str) -> dict[str, dict[str, str]]:
    return {
        "1": {"name": "entity.name.label"},
        "2": {"name": "punctuation.separator"},
        "3": {"name": kind},
    }


def _scoped(pattern: dict[str, object]) -> dict[str, object]:
    """The pattern with the language's own ending on the names of its kinds, as the format asks."""
    made = dict(pattern)
    if "name" in made:
        made["name"] = f"{made['name']}.dye"
    captures = made.get("captures")
    if isinstance(captures, dict):
        made["captures"] = {
            number: {"name": f"{kind['name']}.dye"} for number, kind in captures.items()
        }
    return made


def text() -> str:
    """The grammar as it is stored."""
    return json.dumps(description(), ensure_ascii=False, indent=2) + "\n"


if __name__ == "__main__":
    Path(GRAMMAR_FOLDER, FILE).write_text(text(), encoding="utf-8")
