"""The highlighting description is up to date, and an engine for such grammars reads it as meant."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path

import pytest
from textmate_grammar.parsers.base import LanguageParser

from procedure.language.highlighting import FILE, text
from procedure.language.table import GRAMMAR_FOLDER
from procedure.vocabulary import vocabulary

CLAUSES = ["in", "into", "from", "with", "at", "to", "over", "for", "until", "after", "on"]
CLAUSES += ["through", "wearing", "as", "note", "and"]


@cache
def engine() -> LanguageParser:
    """A grammar engine that knows nothing of Vatwright, given the stored description."""
    return LanguageParser(json.loads(Path(GRAMMAR_FOLDER, FILE).read_text("utf-8")))


def marked(line: str) -> dict[str, list[str]]:
    """The words of a line of steps by the kind of thing that they are marked as."""
    parsed = engine().parse_string(f"steps\n  {line}\n")
    assert parsed is not None
    found: dict[str, list[str]] = {}
    for (row, _), said, kinds in parsed.flatten():
        if row == 1:
            found.setdefault(kinds[-1].removesuffix(".dye"), []).append(said.strip())
    return found


def test_the_stored_description_is_the_one_that_the_vocabulary_makes() -> None:
    stored = Path(GRAMMAR_FOLDER, FILE).read_text("utf-8")
    assert stored == text(), "run: python -m procedure.language.highlighting"


@pytest.mark.parametrize("verb", sorted(vocabulary().verbs))
def test_a_verb_is_marked_at_the_head_of_a_step(verb: str) -> None:
    assert marked(f"{verb} yarn")["keyword.operator.verb"] == [verb]
    labelled = marked(f"first-step: {verb} yarn")
    assert labelled["keyword.operator.verb"] == [verb]
    assert labelled["entity.name.label"] == ["first-step"]


@pytest.mark.parametrize("word", CLAUSES)
def test_a_clause_word_is_marked(word: str) -> None:
    assert marked(f"rinse yarn {word} tub")["keyword.other.clause"] == [word]


@pytest.mark.parametrize("word", sorted(vocabulary().names("manner")))
def test_a_manner_word_is_marked(word: str) -> None:
    assert marked(f"cool vat {word}")["storage.modifier.manner"] == [word]


@pytest.mark.parametrize("unit", sorted(vocabulary().units))
def test_a_unit_is_marked_behind_its_number(unit: str) -> None:
    found = marked(f"add soda 12 {unit}")
    assert found["constant.numeric"] == ["12"]
    assert found["keyword.other.unit"] == [unit]


@pytest.mark.parametrize("word", sorted(vocabulary().heats))
def test_a_named_heat_or_wait_is_marked(word: str) -> None:
    assert marked(f"hold vat at {word}")["constant.language.amount"] == [word]


@pytest.mark.parametrize("head", ["repeat 3 times", 'if "it is pale"', "for each sample in a, b"])
def test_a_block_is_marked(head: str) -> None:
    word = " ".join(head.split()[: 2 if head.startswith("for") else 1])
    assert marked(head)["keyword.control"] == [word]


def test_words_inside_other_words_are_not_marked() -> None:
    found = marked("rinse dye-lot, wash-house in indigo-tub")
    assert found["keyword.operator.verb"] == ["rinse"]
    assert found["keyword.other.clause"] == ["in"]


def test_comments_and_free_words_hide_what_is_in_them() -> None:
    found = marked('do "rinse in the beck" # dye with weld')
    assert found["string.quoted.double"] == ['"rinse in the beck"']
    assert found["comment.line.number-sign"] == ["# dye with weld"]
    assert "keyword.other.clause" not in found


def test_header_lines_are_marked_in_the_header_only() -> None:
    written = 'procedure "Gold"\n  by "Us"\n  place outdoors\nsteps\n  rinse yarn in place\n'
    parsed = engine().parse_string(written)
    assert parsed is not None
    kinds = {(row, said.strip()): kind[-1] for (row, _), said, kind in parsed.flatten()}
    assert kinds[1, "by"] == "keyword.other.header.dye"
    assert kinds[2, "place"] == "keyword.other.header.dye"
    assert kinds[3, "steps"] == "keyword.other.section.dye"
    assert kinds.get((4, "place")) != "keyword.other.header.dye"
