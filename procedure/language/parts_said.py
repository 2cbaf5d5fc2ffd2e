"""Amounts said once for several parts, or beside what they are of, as people write them.

“Into red, rust and plum, 50 g each” is red 50 g, rust 50 g, plum 50 g; “with 20 g alum in pot
with 6 litres” brings 20 g of alum and 6 litres of water; “to 85 in 1 hour” is no length.
"""

from __future__ import annotations

from fractions import Fraction

from procedure.language.numbers_in_full import NUMBERS
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


# Into how many equal parts these words divide.
_FOLDS = {
    "half": 2,
    "halves": 2,
    "thirds": 3,
    "quarters": 4,
    "fourths": 4,
    "fifths": 5,
    "sixths": 6,
}
_EQUAL = frozenset(("equal", "even", "equally", "evenly"))
_PARTS = frozenset("lots parts pieces portions shares bundles batches groups".split())
_REST = frozenset(("rest", "remainder", "remaining"))


def shares_of_a_lot(tokens: list[Token]) -> list[Token]:
    """“Split yarn into one third gold, the rest moss” is gold 1/3 of yarn, moss.

    “Into three equal lots” names none of them: the count stays, so that the names are asked for.
    """
    kinds = [token.kind for token in tokens]
    if kinds[:2] != ["VERB", "NAME"] or kinds[2:3] not in (["INTO"], ["IN"], ["NAME"]):
        return tokens
    equal = any(token.word in _EQUAL for token in tokens)
    written = tokens
    tokens = _without_equal(tokens)
    if len(tokens) < 4 or tokens[2].kind not in ("INTO", "IN"):
        return tokens
    end = 3
    while end < len(tokens) and tokens[end].kind not in _ENDS:
        end += 1
    said, after = _without_count(tokens[3:end]), tokens[end:]
    many = _how_many(said)
    if many:
        here = said[0]
        count = here._replace(kind="NUMBER", meant=str(many))
        return [*tokens[:2], count, Token("UNIT", "", here.line, here.to, "pieces"), *after]
    if tokens[2].kind == "IN":
        return tokens
    parts = _parted(said)
    if equal and len({tuple(token.word for token in part[1:]) for part in parts}) > 1:
        return written  # 40 g and 60 g in equal parts: no word of it is dropped
    made = [_share(part, tokens[1]) for part in parts]
    if len(parts) == 2 and _REST & {parts[1][0].word} and len(parts[0]) == 1:
        made[0] = _part_alone(parts[0][0], tokens[1])  # a third and the rest
    if equal and all([token.kind for token in part] == ["NAME"] for part in parts):
        share = Fraction(1, len(parts))
        made = [[*part, *_so_much_of(share, part, tokens[1])] for part in parts[:-1]]
        made.append(parts[-1])  # what remains
    if made == parts and len(said) == end - 3:
        return tokens
    names = [part[0].word for part in made if part]
    if len(set(names)) < len(parts):  # a third, a third and a third
        here = said[0]
        count = here._replace(kind="NUMBER", meant=str(len(parts)))
        return [*tokens[:2], count, Token("UNIT", "", here.line, here.to, "pieces"), *after]
    pause = Token("COMMA", "", said[0].line, said[0].column, ",")
    listed = [token for part in made for token in (pause, *part)]
    return [*tokens[:3], *listed[1:], *after]


def _without_equal(tokens: list[Token]) -> list[Token]:
    """Without “equally” and “in equal parts”, which is what parts without a share are."""
    words = [token.word for token in tokens]
    if words[2] in _EQUAL and tokens[3:4] and tokens[3].kind in ("INTO", "IN"):
        return [*tokens[:2], *tokens[3:]]
    for at in range(4, len(tokens) - 2):
        if words[at] == "in" and words[at + 1] in _EQUAL and words[at + 2] in _PARTS:
            return [*tokens[:at], *tokens[at + 3 :]]
    return tokens


def _how_many(said: list[Token]) -> int:
    """Into how many parts “three equal lots” and “thirds” divide; 0 where there is more to it."""
    words = [token.word for token in said if token.word not in _EQUAL]
    many = 0
    if words and (words[0].isdigit() or words[0] in NUMBERS):
        number = NUMBERS.get(words[0]) or Fraction(words[0])
        many = int(number) if number.denominator == 1 else 0
        words = words[1:] if many > 1 else words
    if words == [] and many > 1:
        return many
    if len(words) != 1:
        return 0
    fold = _FOLDS.get(words[0], 0)
    if fold and many in (0, fold):
        return fold
    counted = vocabulary().units.get(words[0])
    if words[0] in _PARTS or (counted is not None and counted.kind == "count"):
        return many if many > 1 else 2
    return 0


def _parted(said: list[Token]) -> list[list[Token]]:
    """The tokens of each part, between commas and “and”."""
    parts: list[list[Token]] = [[]]
    for token in said:
        if token.kind in _PAUSES:
            parts.append([])
        else:
            parts[-1].append(token)
    return [part for part in parts if part]


def _share(part: list[Token], lot: Token) -> list[Token]:
    """“One third gold”, “gold 1/3” and “the rest moss” as a name and its share of a lot."""
    words = [token.word for token in part]
    if len(part) == 2 and part[0].kind == part[1].kind == "NAME" and _REST & set(words):
        return [part[words[0] in _REST]]
    for name, run in ((part[-1:], part[:-1]), (part[:1], part[1:]), ([], part)):
        phrase = " ".join(token.word for token in run)
        none = NUMBERS.get("a " + phrase, Fraction(2)) if name else Fraction(2)
        share = NUMBERS.get(phrase, none)
        share = _fraction(run) if len(run) == 1 and run[0].kind == "NUMBER" else share
        if share >= 1 or (name and name[0].kind != "NAME"):
            continue
        called = name[0] if name else run[-1]._replace(kind="NAME")
        return [called, *_so_much_of(share, run, lot)]
    return part


def _part_alone(part: Token, lot: Token) -> list[Token]:
    """“A third” with the rest beside it: a lot of that name, which is so much of the whole."""
    share = NUMBERS.get("a " + part.word)
    return [part] if share is None else [part, *_so_much_of(share, [part], lot)]


def _so_much_of(share: Fraction, said: list[Token], lot: Token) -> list[Token]:
    """A share of a lot, at the place where it is said."""
    first, last = said[0], said[-1]
    text = " ".join(token.text for token in said)
    return [
        Token("NUMBER", text, first.line, first.column, str(share)),
        Token("OF", "", last.line, last.to, "of"),
        lot,
    ]


def _fraction(run: list[Token]) -> Fraction:
    """What a figure such as 1/3 comes to; more than the whole where it is none."""
    top, line, below = run[0].word.partition("/")
    if line and top.isdigit() and below.isdigit() and int(below):
        return Fraction(int(top), int(below))
    return NUMBERS.get(run[0].word, Fraction(2))


def _without_count(tokens: list[Token]) -> list[Token]:
    """The parts themselves, behind “4:” and “four lots:”, which say how many they are."""
    kinds = [token.kind for token in tokens[:3]]
    counts = kinds[:1] == ["NUMBER"] or (bool(tokens) and tokens[0].word in NUMBERS)
    if counts and kinds[1:2] == ["COLON"]:
        return tokens[2:]
    if counts and len(tokens) > 2 and tokens[1].word in _EQUAL:
        tokens = [tokens[0], *tokens[2:]]
        kinds = [token.kind for token in tokens[:3]]
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
