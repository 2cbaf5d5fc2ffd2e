"""Quantity nodes of the tree to quantities."""

from __future__ import annotations

from fractions import Fraction

from procedure.language import Node, Token
from procedure.model.quantity import Place, Quantity, number
from procedure.vocabulary import vocabulary


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
    tokens = tokens_of(node)
    first = tokens[0]
    last = [token for token in tokens if token.line == first.line][-1]
    return Place(first.line, first.column, last.to)


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


def _amount(
    amount: Node,
    whole: Node,
    base: Token | None = None,
    basis: bool = False,
    each: Quantity | None = None,
    reading: Quantity | None = None,
) -> Quantity:
    tokens = list(amount.children)
    about = isinstance(tokens[0], Token) and tokens[0].kind == "ABOUT"
    if about:
        tokens = tokens[1:]
    text = text_of(whole)
    where = span_of(whole) if tokens_of(whole) else Place(1, 1, 1)
    base_name = base.text if base else ""
    base_place = place_of(base) if base else None

    def made(
        kind: str,
        low: Fraction | None = None,
        high: Fraction | None = None,
        slack: tuple[Fraction, Fraction] = (Fraction(0), Fraction(0)),
        **more: object,
    ) -> Quantity:
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
            place=where,
            about=about,
            backwards=backwards,
            slack_low=slack[0],
            slack_high=slack[1],
            base=base_name,
            base_place=base_place,
            of_fibre=basis,
            each=each,
            reading=reading,
            **more,  # type: ignore[arg-type]
        )

    if amount.kind in ("heat", "wait"):
        token = tokens[0]
        assert isinstance(token, Token)
        word = vocabulary().heats[token.text]
        kind = "temperature" if word.kind == "heat" else "time"
        return made(kind, word.low, word.high, word=word.name)
    if amount.kind in ("loose", "unstated"):
        return made(amount.kind, word=text)
    span = tokens[0]
    assert isinstance(span, Node)
    try:
        ends = [number(token.text) for token in span.children if token.kind == "NUMBER"]  # type: ignore[union-attr]
    except ZeroDivisionError:
        return made("unknown", word="a fraction with nothing below its line")
    low, high = ends[0], ends[-1]
    if amount.kind == "ratio":
        second = tokens[1]
        assert isinstance(second, Token)
        parts = number(second.text).value
        if parts == 0:
            return made("unknown", word="a ratio to nothing")
        slack = (low.fineness / 2 / parts, high.fineness / 2 / parts)
        return made("ratio", low.value / parts, high.value / parts, slack)
    if amount.kind in ("acidity", "bare"):
        kind = "acidity" if amount.kind == "acidity" else "share" if base or basis else "number"
        return made(kind, low.value, high.value, (low.fineness / 2, high.fineness / 2))
    return _measured(tokens, low, high, made)


def _measured(tokens, low, high, made) -> Quantity:  # type: ignore[no-untyped-def]
    units = vocabulary().units
    unit = units.get(tokens[1].text)
    if unit is None:
        return made("unknown", word=tokens[1].text)
    total_low = (low.value + unit.offset) * unit.factor
    total_high = (high.value + unit.offset) * unit.factor_high
    fine = (low.fineness / 2 * unit.factor, high.fineness / 2 * unit.factor_high)
    for first, second in zip(tokens[2::2], tokens[3::2], strict=True):
        more = units.get(second.text)
        if more is None:
            return made("unknown", word=second.text)
        if more.kind != unit.kind or unit.kind == "temperature":
            return made("unknown", word=f"{tokens[1].text} and {second.text} together")
        extra = number(first.text)
        total_low += extra.value * more.factor
        total_high += extra.value * more.factor_high
        fine = (extra.fineness / 2 * more.factor, extra.fineness / 2 * more.factor_high)
    if unit.vague and total_low > total_high:
        total_low, total_high = total_high, total_low
    return made(unit.kind, total_low, total_high, fine, unit=unit)
