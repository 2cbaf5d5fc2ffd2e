"""The parsing table that Lark makes of the grammar, kept ready beside it.

Lark checks the grammar and computes the LALR(1) table; what it computed is
stored as plain data in ``grammar/table.json``, because importing Lark and
building the table takes longer than checking a procedure. The stored table
carries a check sum of the grammar: where they disagree, the table is built anew
in memory. ``python -m procedure.language.table`` stores it; a test compares it.
"""

from __future__ import annotations

import os
import zlib
from functools import cache

from procedure.quantity.kept_ready import kept_ready
from procedure.quantity.record import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from typing import Any

# As text: to import pathlib takes as long as reading all the words of the trade.
_PROGRAM = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
_INSIDE = os.path.join(_PROGRAM, "grammar")
GRAMMAR_FOLDER = (
    _INSIDE if os.path.exists(_INSIDE) else os.path.join(os.path.dirname(_PROGRAM), "grammar")
)

STARTS = ("title", "section", "header", "declaration", "step", "quantity")


class Reduction(NamedTuple):
    """A reduction: how many values it takes, which of them stay, what it makes of them."""

    origin: str
    kind: str
    length: int
    keep: tuple[int, ...]
    inline: bool


class ParsingTable(NamedTuple):
    """Actions by state and terminal (a state to go to, or ``-1 - rule``), and the rules."""

    states: list[dict[str, int]]
    rules: list[Reduction]
    starts: dict[str, int]
    ends: dict[str, int]


def build(grammar: str) -> ParsingTable:
    """Let Lark check the grammar strictly and compute its table.

    Raises ``lark.exceptions.GrammarError`` where the grammar is wrong or has a conflict.
    """
    from lark import Lark
    from lark.lexer import Lexer
    from lark.parsers.lalr_analysis import Shift

    class Elsewhere(Lexer):
        """Tokens come from :mod:`procedure.language.words`."""

        def __init__(self, _conf: object) -> None: ...

        def lex(self, *_state: object):  # type: ignore[no-untyped-def]
            return iter(())

    made = Lark(grammar, parser="lalr", start=list(STARTS), lexer=Elsewhere, strict=True)
    lark_table = made.parser.parser._parse_table
    rules: list[Reduction] = []
    numbers: dict[object, int] = {}
    for rule in made.rules:
        keep = tuple(
            i
            for i, symbol in enumerate(rule.expansion)
            if not (symbol.is_term and getattr(symbol, "filter_out", False))
        )
        origin = str(rule.origin.name)
        inline = any(
            not symbol.is_term and symbol.name.startswith("_") for symbol in rule.expansion
        )
        numbers[rule] = len(rules)
        rules.append(Reduction(origin, rule.alias or origin, len(rule.expansion), keep, inline))
    states: list[dict[str, int]] = [{} for _ in lark_table.states]
    for state, actions in lark_table.states.items():
        for symbol, (action, argument) in sorted(actions.items()):
            shift = action is Shift
            states[state][str(symbol)] = argument if shift else -1 - numbers[argument]
    return _in_order(states, rules, lark_table.start_states, lark_table.end_states)


def _in_order(
    states: list[dict[str, int]],
    rules: list[Reduction],
    starts: dict[str, int],
    ends: dict[str, int],
) -> ParsingTable:
    """The table with its states numbered as they are met from the starts.

    Lark's own numbers differ from run to run, and a stored table should not.
    """
    met = [starts[start] for start in STARTS]
    for state in met:  # grows as it is walked
        met += dict.fromkeys(
            to for _, to in sorted(states[state].items()) if to >= 0 and to not in met
        )
    number = {state: i for i, state in enumerate(met)}
    return ParsingTable(
        [
            {symbol: to if to < 0 else number[to] for symbol, to in sorted(states[state].items())}
            for state in met
        ],
        rules,
        {start: number[starts[start]] for start in STARTS},
        {start: number[ends[start]] for start in STARTS},
    )


def _read(stored: bytes) -> dict[str, Any]:
    import json  # where the table is kept ready, it is not needed

    found: dict[str, Any] = json.loads(stored)
    return found


def _stored(check_sum: int) -> ParsingTable | None:
    data = kept_ready(os.path.join(GRAMMAR_FOLDER, "table.json"), _read)
    if data["grammar"] != check_sum:
        return None
    rules = [Reduction(o, k, n, tuple(keep), inline) for o, k, n, keep, inline in data["rules"]]
    return ParsingTable(data["states"], rules, data["starts"], data["ends"])


@cache
def table() -> ParsingTable:
    """The table of the grammar: the stored one where it is up to date."""
    grammar = _grammar()
    try:
        found = _stored(zlib.crc32(grammar))
    except FileNotFoundError:
        found = None
    return found or build(grammar.decode("utf-8"))


def _grammar() -> bytes:
    with open(os.path.join(GRAMMAR_FOLDER, "vatwright.lark"), "rb") as file:
        return file.read().replace(b"\r\n", b"\n")


def store() -> None:
    """Build the table and store it beside the grammar."""
    grammar = _grammar()
    made = build(grammar.decode("utf-8"))
    import json

    data = {"grammar": zlib.crc32(grammar), **made._asdict()}
    with open(os.path.join(GRAMMAR_FOLDER, "table.json"), "w", encoding="utf-8") as file:
        file.write(json.dumps(data, separators=(",", ":")) + "\n")


if __name__ == "__main__":
    store()
