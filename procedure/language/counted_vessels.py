"""Vessels that are counted in a step: “in 2 large pots” is the name of what is declared so.

Where nothing is declared as that many vessels of that kind and size, the words are one name, which
is asked about as a whole.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence

from procedure.language.numbers_in_full import NUMBERS
from procedure.language.tree import Token
from procedure.vocabulary import vocabulary

_BEFORE = frozenset(("IN", "INTO", "FROM", "TO", "THROUGH", "VERB"))
# A number, what the vessels are like in three words, and what they are.
_LONGEST = 5


def counted(tokens: list[Token], named: Callable[[Iterable[str]], str]) -> list[Token]:
    """The tokens of a step with each number of vessels as the name of what is declared so.

    ``named`` gives the name of what descriptions fit, and nothing where they fit no one thing.
    """
    for at in range(1, len(tokens) - 1):
        if tokens[at - 1].kind not in _BEFORE or not _many(tokens[at]):
            continue
        length = _length(tokens[at : at + _LONGEST])
        if length:
            run = tokens[at : at + length]
            whole = _in_one(run, named(described(run)))
            return [*tokens[:at], whole, *counted(tokens[at + length :], named)]
    return tokens


def _many(token: Token) -> str:
    """A number of vessels in figures; empty where a token is none."""
    if token.kind == "NAME" and token.word in NUMBERS:
        number = NUMBERS[token.word]
        return str(number) if number.denominator == 1 and number > 1 else ""
    return token.word if token.kind == "NUMBER" and token.word.isdigit() else ""


def _length(tokens: Sequence[Token]) -> int:
    """How many tokens from a number on are so many vessels; 0 where they are none.

    What stands right behind a number is taken for a unit, unless it is one: “2 cups” is an amount.
    """
    known = vocabulary()
    if tokens[1].word in known.units:
        return 0
    for at, token in enumerate(tokens[1:], 1):
        if token.kind not in ("UNIT", "NAME") or token.line != tokens[0].line:
            return 0
        word, after = token.word.rpartition(" ")[2], tokens[at + 1 : at + 2]
        more = any(known.find(one.word, "vessel") is not None for one in after)
        if known.find(word, "vessel") is not None and not more:
            return at + 1 if word.endswith("s") else 0
    return 0


def described(tokens: Sequence[Token]) -> Iterator[str]:
    """What a number of vessels is known by: its number and kind, and each word that tells more."""
    many = _many(tokens[0])
    words = [word for token in tokens[1:] for word in token.word.split()]
    known = vocabulary()
    kinds = [known.find(word, "vessel") for word in words]
    vessel = next((kind for kind in reversed(kinds) if kind is not None), None)
    if vessel is None or not many:
        return
    yield f"{many} {vessel.name}"
    for word, kind in zip(words, kinds, strict=True):
        if kind is None:
            yield f"{many} {word} {vessel.name}"


def _in_one(run: Sequence[Token], name: str) -> Token:
    said = " ".join(token.text for token in run)
    gaps = run[-1].to - run[0].column - len(said)
    return Token("NAME", said + " " * max(gaps, 0), run[0].line, run[0].column, name or said)
