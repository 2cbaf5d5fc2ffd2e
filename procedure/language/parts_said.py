"""Amounts said once for several parts, or beside what they are of, as people write them.

“Into red, rust and plum, 50 g each” is red 50 g, rust 50 g, plum 50 g; “with 20 g alum in pot
with 6 litres” brings 20 g of alum and 6 litres of water; “to 85 in 1 hour” is no length.
"""

from __future__ import annotations

from procedure.language.spoken import NUMBERS
from procedure.language.tree import Token
from procedure.vocabulary import vocabulary

_ENDS = frozenset("IN INTO FROM WITH AT TO OVER FOR UNTIL AFTER ON THROUGH AS MANNER NOTE".split())
_LISTED = frozenset(("NAME", "COMMA", "AND"))
_PAUSES = frozenset(("COMMA", "AND"))


def of_each_part(tokens: list[Token]) -> list[Token]:
    """A list of parts, each with the amount that is said of each of them behind it."""
    kinds = [token.kind for token in tokens]
    begin = kinds.index("INTO") + 1
    tokens = [*tokens[:begin], *_without_count(tokens[begin:])]
    end = begin
    while end < len(tokens) and tokens[end].kind in _LISTED:
        end += 1
    rest = [token.kind for token in tokens[end : end + 3]]
    names = [token for token in tokens[begin:end] if token.kind == "NAME"]
    if len(names) < 2:
        return tokens
    if rest == ["NUMBER", "UNIT", "EACH"]:
        amount, after = tokens[end : end + 2], tokens[end + 3 :]
    elif rest == ["EACH", "NUMBER", "UNIT"]:
        amount, after = tokens[end + 1 : end + 3], tokens[end + 3 :]
    else:
        return tokens
    listed = list(tokens[begin:end])
    while listed[-1].kind in _PAUSES:
        listed.pop()
    made: list[Token] = []
    for token in listed:
        made += [token, *amount] if token.kind == "NAME" else [token]
    return [*tokens[:begin], *made, *after]


def _without_count(tokens: list[Token]) -> list[Token]:
    """The parts themselves, behind “4:” and “four lots:”, which say how many they are."""
    kinds = [token.kind for token in tokens[:3]]
    if kinds[:2] == ["NUMBER", "COLON"]:
        return tokens[2:]
    counts = kinds[:1] == ["NUMBER"] or (bool(tokens) and tokens[0].word in NUMBERS)
    if counts and kinds[2:] == ["COLON"] and kinds[1] in ("UNIT", "NAME"):
        return tokens[3:]
    return tokens


def brought_once(tokens: list[Token]) -> list[Token]:
    """What a step brings in two places of its line, in one."""
    kinds = [token.kind for token in tokens]
    tokens = _with_water(tokens) if kinds.count("WITH") == 2 else tokens
    places = [at for at, token in enumerate(tokens) if token.kind == "WITH"]
    if len(places) != 2:
        return tokens
    first, second = places
    stop = _end_of(tokens, second + 1)
    between = _end_of(tokens, first + 1)
    if stop == second + 1 or between == second or tokens[first].line != tokens[second].line:
        return tokens
    if any(token.kind in ("VERB", "COLON") for token in tokens[first:second]):
        return tokens  # of another step
    comma = tokens[second]._replace(kind="COMMA", meant=",")
    more = [comma, *tokens[second + 1 : stop]]
    return [*tokens[:between], *more, *tokens[between:second], *tokens[stop:]]


def _end_of(tokens: list[Token], at: int) -> int:
    """Where a clause ends that goes on at a place."""
    while at < len(tokens) and tokens[at].kind not in _ENDS:
        at += 1
    while tokens[at - 1].kind in _PAUSES:
        at -= 1
    return at


def _with_water(tokens: list[Token]) -> list[Token]:
    """“with 6 litres” of nothing else is with 6 litres of water."""
    for at in range(2, len(tokens)):
        if [token.kind for token in tokens[at - 2 : at + 1]] != ["WITH", "NUMBER", "UNIT"]:
            continue
        unit = vocabulary().units.get(tokens[at].word)
        after = tokens[at + 1].kind if at + 1 < len(tokens) else "COMMA"
        if unit is not None and unit.kind == "volume" and after in (*_ENDS, *_PAUSES):
            here = tokens[at]
            water = Token("NAME", "", here.line, here.to, "water")
            return [*tokens[: at + 1], water, *tokens[at + 1 :]]
    return tokens


def inches_of_time(tokens: list[Token]) -> list[Token]:
    """“to 85 in 1 hour”: the in goes with the time, and the 85 has no unit."""
    for at in range(2, len(tokens) - 2):
        before, unit, number, hour = tokens[at - 2], tokens[at], tokens[at + 1], tokens[at + 2]
        if unit.kind != "UNIT" or unit.text != "in" or before.kind not in ("TO", "AT"):
            continue
        known = vocabulary().units.get(hour.word) if hour.kind == "UNIT" else None
        if number.kind == "NUMBER" and known is not None and known.kind == "time":
            over = unit._replace(kind="OVER", meant="over")
            return [*tokens[:at], over, *tokens[at + 1 :]]
    return tokens
