"""Amounts that are said in two parts, as people say them.

“An hour and a half”, “6 and a half L” and “2 pounds and three quarters” are one and a half, six
and a half and so on; “1 h and 30 min” is 1 h 30 min. “Half hot and half cold water” and “half and
half” say no amount: they are kept together, so that they are asked about.
"""

from __future__ import annotations

from fractions import Fraction

from procedure.language.numbers_in_full import NUMBERS, number_said
from procedure.language.tree import Token
from procedure.vocabulary import Unit, vocabulary

_SHARES = frozenset(("half", "third", "quarter", "thirds", "quarters"))
_MEASURED = frozenset(("time", "mass", "volume"))
# What an amount is of, behind it: then it is one of a list.
_OF_WHAT = frozenset("NAME OF HEAT LOOSE BASIS PER".split())
_PAUSES = frozenset(("AND", "COMMA"))


def with_its_part(tokens: list[Token]) -> list[Token]:
    """“An hour and a half” with its part in the number: 1 1/2 hours."""
    for at in range(2, len(tokens) - 1):
        if tokens[at].kind != "AND":
            continue
        share, end = _share(tokens, at + 1)
        number = at - 1 if tokens[at - 1].kind == "NUMBER" else at - 2
        if not share or tokens[number].kind != "NUMBER":
            continue
        if number == at - 2 and not _measures(tokens[at - 1]):
            continue
        if number == at - 1 and [one.kind for one in tokens[end : end + 1]] != ["UNIT"]:
            continue
        whole = _value(tokens[number])
        if whole.denominator > 1 or whole < 1:
            continue
        said = f"{whole} {share.numerator}/{share.denominator}"
        both = tokens[number]._replace(meant=said)
        return [*tokens[:number], both, *tokens[number + 1 : at], *with_its_part(tokens[end:])]
    return tokens


def _share(tokens: list[Token], at: int) -> tuple[Fraction, int]:
    """The share of one that is said at a place, and where it ends; nothing where none is."""
    for length in (1, 2):
        words = " ".join(one.word for one in tokens[at : at + length])
        share = NUMBERS.get(words, Fraction(0))
        if words.split(" ")[-1] in _SHARES and 0 < share < 1:
            return share, at + length
    return Fraction(0), at


def _value(token: Token) -> Fraction:
    """The number of a token, for one that is whole; else nothing."""
    said = number_said(token.word)
    return said if said is not None else Fraction(token.word if token.word.isdigit() else 0)


def _unit(token: Token) -> Unit | None:
    return vocabulary().units.get(token.word) if token.kind == "UNIT" else None


def _measures(token: Token) -> bool:
    unit = _unit(token)
    return unit is not None and unit.kind in _MEASURED


def in_one(tokens: list[Token]) -> list[Token]:
    """“1 h and 30 min” is 1 h 30 min, where the lesser one is of nothing else."""
    kinds = [token.kind for token in tokens]
    for at in range(2, len(tokens) - 2):
        if kinds[at] not in _PAUSES or kinds[at - 1] != "UNIT":
            continue
        if kinds[at - 2] != "NUMBER" or kinds[at + 1 : at + 3] != ["NUMBER", "UNIT"]:
            continue
        larger, lesser = _unit(tokens[at - 1]), _unit(tokens[at + 2])
        if larger is None or lesser is None or larger.kind != lesser.kind:
            continue
        time = larger.kind == "time" and (kinds[at] == "AND" or kinds[at - 3] in ("FOR", "OVER"))
        mass = larger.kind == "mass" and kinds[at] == "AND"
        of_nothing = kinds[at + 3 : at + 4] == [] or kinds[at + 3] not in _OF_WHAT
        if (time or (mass and of_nothing)) and lesser.factor < larger.factor:
            return [*tokens[:at], *in_one(tokens[at + 1 :])]
    return tokens


_DIVIDES = frozenset(("split", "divide"))
_EQUAL = frozenset(("parts", "amounts", "quantities"))


def half_and_half(tokens: list[Token]) -> list[Token]:
    """“Half hot and half cold water” and “half and half” as one piece, which says no amount."""
    if any(one.kind == "VERB" and one.word in _DIVIDES for one in tokens):
        return tokens
    halves = [at for at, one in enumerate(tokens) if one.kind == "NAME" and one.word == "half"]
    if len(halves) == 2 and halves[1] - halves[0] <= _NEAR and not _ends(tokens, *halves):
        begin, end = halves[0], halves[1] + 1
        if end - begin > len(("half", "and", "half")):  # half of each is of something
            end += [one.kind for one in tokens[end : end + 1]] in (["NAME"], ["HEAT"])
            end += tokens[end - 1].kind == "HEAT" and tokens[end : end + 1] != []
        return _asked(tokens, begin, end)
    for at, one in enumerate(tokens[:-1]):
        if one.kind == "NAME" and one.word == "equal" and tokens[at + 1].word in _EQUAL:
            return _asked(tokens, at, at + 2)
    return tokens


_NEAR = 4


def _ends(tokens: list[Token], first: int, last: int) -> bool:
    """True where another clause begins between two places."""
    return any(one.kind not in ("NAME", "HEAT", "AND", "COMMA") for one in tokens[first:last])


def _asked(tokens: list[Token], begin: int, end: int) -> list[Token]:
    """The tokens with some of them as one that cannot be read."""
    run = [one for one in tokens[begin:end] if one.line == tokens[begin].line]
    said = " ".join(one.text for one in run)
    asked = Token("ODD", said, run[0].line, run[0].column)
    return [*tokens[:begin], asked, *tokens[end:]]
