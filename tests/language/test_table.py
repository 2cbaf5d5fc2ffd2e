"""Our LALR(1) driver against Lark: the same table, the same trees, the same refusals."""

from __future__ import annotations

import json
import zlib
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any
from unittest.mock import patch

import lark
import pytest
from hypothesis import given, settings
from lark.lexer import Lexer
from strategies import EXAMPLES, procedures, texts

from procedure.language import Token, Tree, one_line, reading
from procedure.language import table as tables
from procedure.language.equal_lines import EqualLines
from procedure.language.parsing import Refusal, parse
from procedure.language.table import GRAMMAR_FOLDER, STARTS, build, table
from procedure.language.tree import Node
from procedure.rules import RULES
from procedure.rules.example_kit import whole

GRAMMAR = Path(GRAMMAR_FOLDER, "vatwright.lark").read_text("utf-8")


class Given(Lexer):
    """Hands Lark the tokens that our scanner made."""

    def __init__(self, _conf: object) -> None: ...

    def lex(self, lexer_state: Any, *_more: object) -> Iterator[lark.Token]:
        for token in lexer_state:
            yield lark.Token(token.kind, token.text, line=token.line, column=token.column)


@cache
def larks() -> lark.Lark:
    """Lark's own parser of the grammar; strict, so that any conflict is an error."""
    return lark.Lark(GRAMMAR, parser="lalr", start=list(STARTS), lexer=Given, strict=True)


def as_node(tree: Any) -> Any:
    """Lark's tree in the form of ours."""
    if isinstance(tree, lark.Token):
        return Token(tree.type, str(tree), tree.line or 0, tree.column or 0)
    return Node(str(tree.data), tuple(as_node(child) for child in tree.children))


def larks_answer(start: str, tokens: list[Token]) -> Node | Refusal:
    """What Lark's parser makes of the tokens: a tree, or where it stops and what could follow."""
    session: Any = larks().parse_interactive(start=start)
    for index, token in enumerate(tokens):
        try:
            session.feed_token(
                lark.Token(token.kind, token.text, line=token.line, column=token.column)
            )
        except lark.UnexpectedToken:
            return Refusal(index, frozenset(session.accepts()))
    try:
        return as_node(session.feed_eof())  # type: ignore[no-any-return]
    except lark.UnexpectedToken:
        return Refusal(len(tokens), frozenset(session.accepts()))


def parsed_lines(text: str) -> list[tuple[str, list[Token], Node | Refusal]]:
    """Every call of the driver that reading a text makes, with its answer."""
    calls: list[tuple[str, list[Token], Node | Refusal]] = []

    def watched(made: tables.ParsingTable, start: str, tokens: list[Token]) -> Node | Refusal:
        answer = parse(made, start, tokens)
        calls.append((start, tokens, answer))
        return answer

    anew = patch.object(EqualLines, "at", lambda *_: None)  # and not as they were read before
    with patch.object(one_line, "parse", watched), anew:
        tree: Tree = reading.read(text)
    assert tree.line_count >= 1
    return calls


def as_written(node: Any) -> Any:
    """A tree of which the tokens tell what was written alone, for Lark knows no more."""
    if isinstance(node, Token):
        return node._replace(meant="")
    return Node(node.kind, tuple(as_written(child) for child in node.children))


def agree(text: str) -> int:
    """Assert that Lark answers every line of a text as the driver does; how many lines."""
    calls = parsed_lines(text)
    for start, tokens, answer in calls:
        said = as_written(answer) if isinstance(answer, Node) else answer
        assert larks_answer(start, tokens) == said
    return len(calls)


def test_the_grammar_has_no_conflicts() -> None:
    assert larks().options.parser == "lalr" and larks().options.strict


def test_a_grammar_with_a_conflict_is_refused() -> None:
    twice = GRAMMAR + "\nfirst: NAME\nsecond: NAME\n%extend title: first | second\n"
    with pytest.raises(lark.exceptions.GrammarError, match=r"[Rr]educe/[Rr]educe"):
        build(twice)


def test_no_rule_is_empty() -> None:
    assert min(rule.length for rule in table().rules) >= 1  # the driver counts on it


def test_the_stored_table_is_what_lark_makes_of_the_grammar_now() -> None:
    stored = json.loads(Path(GRAMMAR_FOLDER, "table.json").read_text("utf-8"))
    assert stored["grammar"] == zlib.crc32(GRAMMAR.encode("utf-8"))
    fresh = json.loads(json.dumps(build(GRAMMAR)._asdict()))
    assert {key: stored[key] for key in ("states", "rules", "starts", "ends")} == {
        key: fresh[key] for key in ("states", "rules", "starts", "ends")
    }


def test_an_outdated_table_is_not_used() -> None:
    assert tables._stored(zlib.crc32(GRAMMAR.encode("utf-8"))) is not None
    assert tables._stored(0) is None


@pytest.mark.parametrize("path", sorted(EXAMPLES.rglob("*.dye")), ids=lambda path: path.stem)
def test_every_example_reads_alike(path: Any) -> None:
    assert agree(path.read_text("utf-8")) > 8


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_the_examples_of_the_rules_read_alike(rule: Any) -> None:
    assert agree(whole(rule.trips)) and agree(whole(rule.cure))


@settings(max_examples=60)
@given(procedures())
def test_generated_procedures_read_alike(written: Any) -> None:
    assert agree(written.text) > 3


@given(texts)
def test_any_text_is_read_or_refused_alike(text: str) -> None:
    agree(text)
