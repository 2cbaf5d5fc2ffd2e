"""Quantity nodes of the tree to quantities."""

from fractions import Fraction
from functools import lru_cache
from typing import NamedTuple

from procedure.language import Node, Token
from procedure.model.quantity import Number, Place, Quantity, number
from procedure.vocabulary import Unit, vocabulary


def place_of(token: Token) -> Place:
    """Where a token stands."""
    return Place(token.line, token.column, token.column + len(token.text))


def tokens_of(node: Node) -> list[Token]:
    """All tokens below a node, in order."""
    found: list[Token] = []
    for child in node.children:
        if isinstance(child, Token):
            found.append(child)
        else:
            found.extend(tokens_of(child))
    return found


def span_of(node: Node) -> Place:
    """From a node's first token to the last one on the same line."""
    first: Node | Token = node
    while type(first) is Node:
        first = first.children[0]
    last: Node | Token = node
    while type(last) is Node:
        last = last.children[-1]
    assert isinstance(first, Token) and isinstance(last, Token)
    if last.line != first.line:
        last = [token for token in tokens_of(node) if token.line == first.line][-1]
    return Place(first.line, first.column, last.column + len(last.text))


def text_of(node: Node) -> str:
    """A node as written, with single spaces."""
    said: list[str] = []
    for child in node.children:
        said.append(child.text if isinstance(child, Token) else text_of(child))
    joined = " ".join(part for part in said if part)
    if node.kind == "ratio":
        *words, last = said
        return f"{' '.join(words)} : {last}"
    if node.kind == "reading":
        return f"({joined})"
    if node.kind == "base" and said[0] not in ("wof", "owf"):
        return f"of {joined}"
    if node.kind == "acidity":
        return f"pH {joined}"
    return joined


def quantity(node: Node) -> Quantity:
    """The quantity that a ``quantity`` node says."""
    amount, *rest = node.children
    assert isinstance(amount, Node)
    base: Token | None = None
    basis = False
    each: Quantity | None = None
    reading: Quantity | None = None
    for child in rest:
        assert isinstance(child, Node)
        if child.kind == "base":
            token = child.children[0]
            assert isinstance(token, Token)
            basis = token.kind == "BASIS"
            base = None if basis else token
        elif child.kind == "each_of":
            each = _amount(Node("measure", child.children), child)
        else:
            inner = child.children[0]
            assert isinstance(inner, Node)
            reading = _amount(inner, inner)
    return _amount(amount, node, base, basis, each, reading)


class Value(NamedTuple):
    """What an amount says, wherever it stands."""

    kind: str
    low: Fraction | None = None
    high: Fraction | None = None
    slack: tuple[Fraction, Fraction] = (Fraction(0), Fraction(0))
    unit: Unit | None = None
    word: str = ""


def _amount(
    amount: Node,
    whole: Node,
    base: Token | None = None,
    basis: bool = False,
    each: Quantity | None = None,
    reading: Quantity | None = None,
) -> Quantity:
    tokens = tokens_of(amount)
    about = tokens[0].kind == "ABOUT"
    if about:
        del tokens[0]
    text = text_of(whole)
    of = base is not None or basis
    kind, low, high, slack, unit, word = _value(
        amount.kind,
        of,
        tuple([token.text for token in tokens]),
        tokens[1].kind == "RANGE" if len(tokens) > 1 else False,
    )
    backwards = low is not None and high is not None and low > high
    if backwards:
        low, high = high, low
    if about and low is not None and high is not None:
        low, high = low - slack[0] * 2, high + slack[1] * 2
    return Quantity(
        kind=kind,
        low=low,
        high=high,
        text=text,
        place=span_of(whole),
        unit=unit,
        word=word,
        about=about,
        backwards=backwards,
        slack_low=slack[0],
        slack_high=slack[1],
        base=base.text if base else "",
        base_place=place_of(base) if base else None,
        of_fibre=basis,
        each=each,
        reading=reading,
        unit_place=_place_of_unit(tokens, word) if kind == "unknown" else None,
    )


def _place_of_unit(tokens: list[Token], word: str) -> Place | None:
    unit = next((one for one in tokens if one.kind == "UNIT" and one.text == word), None)
    return None if unit is None else place_of(unit)


@lru_cache(maxsize=8192)
def _value(form: str, of: bool, texts: tuple[str, ...], ranged: bool) -> Value:
    """What the words of an amount come to. ``form`` is its rule in the grammar; ``of`` holds
    where it is measured by something; ``ranged`` where its second word marks a range."""
    if form in ("heat", "wait"):
        word = vocabulary().heats[texts[0]]
        kind = "temperature" if word.kind == "heat" else "time"
        return Value(kind, word.low, word.high, word=word.name)
    if form in ("loose", "unstated"):
        return Value(form, word=" ".join(texts) or form)
    try:
        low = high = number(texts[0])
        if ranged:
            high = number(texts[2])
        rest = texts[3:] if ranged else texts[1:]
        if form == "ratio":
            parts = number(rest[0]).value
            slack = (low.fineness / 2 / parts, high.fineness / 2 / parts)
            return Value("ratio", low.value / parts, high.value / parts, slack)
        if form == "measure":
            return _measured(low, high, rest)
    except ZeroDivisionError:
        return Value("unknown", word="a division by nothing")
    kind = "acidity" if form == "acidity" else "share" if of else "number"
    return Value(kind, low.value, high.value, (low.fineness / 2, high.fineness / 2))


def _measured(low: Number, high: Number, rest: tuple[str, ...]) -> Value:
    units = vocabulary().units
    unit = units.get(rest[0])
    if unit is None:
        return Value("unknown", word=rest[0])
    total_low = (low.value + unit.offset) * unit.factor
    total_high = (high.value + unit.offset) * unit.factor_high
    slack = (low.fineness / 2 * unit.factor, high.fineness / 2 * unit.factor_high)
    for figure, name in zip(rest[1::2], rest[2::2], strict=True):
        more = units.get(name)
        if more is None:
            return Value("unknown", word=name)
        if more.kind != unit.kind or unit.kind == "temperature":
            return Value("unknown", word=f"{rest[0]} and {name} together")
        extra = number(figure)
        total_low += extra.value * more.factor
        total_high += extra.value * more.factor_high
        slack = (extra.fineness / 2 * more.factor, extra.fineness / 2 * more.factor_high)
    if unit.vague and total_low > total_high:
        total_low, total_high = total_high, total_low
    return Value(unit.kind, total_low, total_high, slack, unit)
