"""Quantity nodes of the tree to quantities."""

from fractions import Fraction
from functools import cache, lru_cache

from procedure.language import Node, Token, once_for_each_node_of_a_line
from procedure.language.numbers_in_full import group_said
from procedure.language.spoken import BEYOND, BOUNDS
from procedure.model.quantity import Number, Place, Quantity, number
from procedure.quantity.interval import ENDLESS, ZERO
from procedure.quantity.record import NamedTuple
from procedure.vocabulary import Unit, vocabulary


def place_of(token: Token) -> Place:
    """Where a token is."""
    return Place(token.line, token.column, token.column + len(token.text))


def tokens_of(node: Node) -> list[Token]:
    """All tokens below a node, in order."""
    found: list[Token] = []
    for child in node.children:
        if type(child) is Node:
            found.extend(tokens_of(child))
        else:
            found.append(child)  # type: ignore[arg-type]
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
    place = _between(first, last)
    if place is not None:
        return place
    if (last.line, last.column) < (first.line, first.column):  # read in another order than written
        every = sorted(tokens_of(node), key=lambda token: (token.line, token.column))
        first, last = every[0], every[-1]
    if last.line != first.line:
        here = (token for token in tokens_of(node) if token.line == first.line)
        last = max(here, key=lambda token: token.column)
    return Place(first.line, first.column, last.column + len(last.text))


def _between(first: Token, last: Token) -> Place | None:
    """From one token to another behind it on the same line; None where it is elsewhere."""
    # Every clause and every amount comes by here: each field is asked for once.
    _, _, line, column, _ = first
    _, text, last_line, last_column, _ = last
    if last_line == line and last_column >= column:
        return Place(line, column, last_column + len(text))
    return None


def text_of(node: Node) -> str:
    """A node as written, with single spaces."""
    said: list[str] = []
    for child in node.children:
        said.append(_as_said(child) if isinstance(child, Token) else text_of(child))
    joined = " ".join(filter(None, said))
    if node.kind not in _SAID_WITH_MORE:
        return joined
    if node.kind == "ratio":
        *words, last = said
        return f"{' '.join(words)} : {last}"
    if node.kind == "reading":
        return f"({joined})"
    if node.kind == "base" and said[0].lower() not in ("wof", "owf"):
        return f"of {joined}"
    if node.kind == "per" and any(isinstance(c, Token) and c.kind == "NAME" for c in node.children):
        *first, last = said
        return f"{' '.join(first)} of {last}"
    if node.kind == "acidity":
        return f"pH {joined}"
    return joined


_SAID_WITH_MORE = frozenset(("ratio", "reading", "base", "per", "acidity"))


def _as_said(token: Token) -> str:
    """A token as written; a number that is said in a turn of speech as the plain one."""
    # The word that the token is read as, without asking it: every amount comes by here.
    return token.meant or token.text if token.kind in ("NUMBER", "COLON") else token.text.rstrip()


class _Parts(NamedTuple):
    """What is around an amount in a quantity."""

    amount: Node
    bound: str = ""
    held: bool = False
    so: bool = False
    base: Token | None = None
    basis: bool = False
    each: Quantity | None = None
    per: Node | None = None
    reading: Quantity | None = None


@once_for_each_node_of_a_line
def quantity(node: Node) -> Quantity:
    """The quantity that a ``quantity`` or ``limit`` node says."""
    return _amount(_parts(node), node)


def _parts(node: Node) -> _Parts:
    first = node.children[0]
    if len(node.children) == 1 and isinstance(first, Node) and first.kind not in _AROUND:
        return _Parts(first)  # most are no more than an amount
    made = _Parts(node)
    for child in node.children:
        if isinstance(child, Token):
            end = (BEYOND if child.kind == "BEYOND" else BOUNDS)[" ".join(child.word.split())]
            if end == "about":
                made = made._replace(so=True)
            else:
                made = made._replace(bound=end, held=child.text.startswith("never"))
        elif child.kind == "base":
            token = child.children[0]
            assert isinstance(token, Token)
            basis = token.kind == "BASIS"
            made = made._replace(base=None if basis else token, basis=basis)
        elif child.kind == "each_of":
            measured = Node("measure", child.children)
            made = made._replace(each=_amount(_Parts(measured), child))
        elif child.kind == "per":
            made = made._replace(per=child)
        elif child.kind == "reading":
            inner = Node("quantity", child.children)
            made = made._replace(reading=_amount(_parts(inner), inner))
        else:
            made = made._replace(amount=child)
    return made


# What a quantity may have beside its amount.
_AROUND = frozenset(("base", "each_of", "per", "reading"))


class Value(NamedTuple):
    """What an amount says, wherever it is."""

    kind: str
    low: Fraction | None = None
    high: Fraction | None = None
    slack: tuple[Fraction, Fraction] = ZERO
    unit: Unit | None = None
    word: str = ""


def _amount(parts: _Parts, whole: Node) -> Quantity:
    amount, base = parts.amount, parts.base
    tokens = tokens_of(amount)
    # Most are no more than an amount, of which all tokens are at hand.
    alone = whole.children == (amount,) and amount.kind not in _SAID_WITH_MORE
    about = tokens[0].kind == "ABOUT"
    if tokens[0].kind == "BOUND":  # pH at least 8
        parts = parts._replace(bound=BOUNDS[" ".join(tokens[0].word.split())])
    if about or tokens[0].kind == "BOUND":
        alone = False
        del tokens[0]
    value = _value(
        amount.kind,
        base is not None or parts.basis,
        tuple([token.meant or token.text for token in tokens]),
        tuple([i for i, token in enumerate(tokens) if token.kind == "RANGE"]),
    )
    basis = parts.basis
    if parts.per is not None:
        value, base, basis = _each(value, parts)
    kind, low, high, slack, unit, word = value
    # Of most amounts both ends are the very same number, and there is nothing to compare.
    backwards = low is not high and low is not None and high is not None and low > high
    if backwards:
        low, high = high, low
    about = about or parts.so
    if about and low is not None and high is not None:
        slack = _slack_of_about(kind, low, high, slack)
        low, high = low - slack[0] * 2, high + slack[1] * 2
    if parts.bound and low is not None and high is not None:
        low, high = _one_end(parts.bound, kind, low, high, exclusive=bool(word))
    return Quantity(
        kind=kind,
        low=low,
        high=high,
        text=" ".join(filter(None, map(_as_said, tokens))) if alone else text_of(whole),
        place=_between(tokens[0], tokens[-1]) or span_of(whole) if alone else span_of(whole),
        unit=unit,
        word=word,
        about=about,
        backwards=backwards,
        slack_low=slack[0],
        slack_high=slack[1],
        base=base.word if base else "",
        base_place=place_of(base) if base else None,
        of_fibre=basis,
        each=parts.each,
        reading=parts.reading,
        unit_place=_place_of_unit(tokens, word) if kind == "unknown" else None,
        bound=parts.bound,
        held=parts.held,
        loosely=parts.so or word in _vague_waits(),
    )


@cache
def _vague_waits() -> frozenset[str]:
    return frozenset(word.name for word in vocabulary().heats.values() if word.kind == "vague wait")


# “about” widens by the last digit that was written, but never by more than a quarter, and
# a heat by no more than five degrees: about 1 oz is no nothing to two.
_WIDEST_ABOUT = Fraction(1, 4)
_WIDEST_HEAT = Fraction(5)


def _slack_of_about(
    kind: str, low: Fraction, high: Fraction, slack: tuple[Fraction, Fraction]
) -> tuple[Fraction, Fraction]:
    if kind == "temperature":
        return min(slack[0], _WIDEST_HEAT / 2), min(slack[1], _WIDEST_HEAT / 2)
    return (
        min(slack[0], abs(low) * _WIDEST_ABOUT / 2),
        min(slack[1], abs(high) * _WIDEST_ABOUT / 2),
    )


def _one_end(
    bound: str, kind: str, low: Fraction, high: Fraction, exclusive: bool
) -> tuple[Fraction, Fraction]:
    """Both ends of a bound. ``exclusive`` holds for heat words: below the boil is no boil."""
    if kind == "temperature":
        heats = vocabulary().heats
        coldest, boil = heats["cold"].low, heats["boil"].high
        if bound == "most":
            most = low if exclusive else high
            return min(coldest, most), most
        return low, max(boil, low)
    return (Fraction(0), high) if bound == "most" else (low, ENDLESS)


def _each(value: Value, parts: _Parts) -> tuple[Value, Token | None, bool]:
    """``4 oz per lb of yarn`` as a share of it, ``1 oz to the gallon`` as a strength."""
    assert parts.per is not None
    inside = tokens_of(parts.per)[1:]
    of = next((token for token in inside if token.kind == "NAME"), None)
    texts = tuple(token.word for token in inside if token.kind != "NAME")
    if inside[0].kind == "UNIT":
        texts = ("1", *texts)
    by = _value("measure", False, texts, (1,) if len(texts) > 2 else ())
    kinds = (value.kind, by.kind)
    made = _PER.get(kinds)
    if made is None or not by.low or not by.high or value.low is None or value.high is None:
        if value.kind == "loose" and by.kind == "mass":
            return value._replace(low=None, high=None), of or parts.base, of is None
        return Value("unknown", word=f"{text_of(parts.amount)} {text_of(parts.per)}"), None, False
    most, least = by.high / _TO_ONE.get(made, 1), by.low / _TO_ONE.get(made, 1)
    shared = value._replace(
        kind=made,
        low=value.low / most,
        high=value.high / least,
        slack=(value.slack[0] / most, value.slack[1] / least),
        unit=by.unit if by.unit is not None and by.unit.vague else value.unit,
    )
    if made not in ("percent", "spoon by weight", "ratio"):
        return shared, None, False
    return shared, of or parts.base, of is None and parts.base is None


_PER = {
    ("mass", "mass"): "percent",
    ("spoon", "mass"): "spoon by weight",
    ("spoon", "volume"): "spoon by volume",
    ("mass", "volume"): "concentration",
    ("volume", "volume"): "concentration by volume",
    ("volume", "mass"): "ratio",
}
# Litres to a kilogram, since weights are kept in grams.
_TO_ONE = {"ratio": 1000}


def _place_of_unit(tokens: list[Token], word: str) -> Place | None:
    unit = next((one for one in tokens if one.kind == "UNIT" and one.text == word), None)
    return None if unit is None else place_of(unit)


@lru_cache(maxsize=8192)
def _value(form: str, of: bool, texts: tuple[str, ...], ranges: tuple[int, ...]) -> Value:
    """What the words of an amount come to. ``form`` is its rule in the grammar; ``of`` holds
    where it is measured by something; ``ranges`` are the places of the marks of ranges."""
    if form in ("heat", "wait"):
        word = vocabulary().heats[texts[0]]
        kind = "temperature" if word.kind == "heat" else "time"
        return Value(kind, word.low, word.high, word=word.name)
    if form in ("loose", "unstated"):
        return Value(form, word=" ".join(texts) or form)
    try:
        low = high = number(texts[0])
        ranged = ranges[:1] == (1,)
        if ranged:
            high = number(texts[2])
            low = _of_the_same_group(low, high, texts[2])
        rest = texts[3:] if ranged else texts[1:]
        if ranges and ranges[-1] > 1:
            return _from_to(texts, ranges)
        if form == "ratio":
            parts = number(rest[0]).value
            if low is high:
                share, fine = low.value / parts, low.fineness / 2 / parts
                return Value("ratio", share, share, (fine, fine))
            slack = (low.fineness / 2 / parts, high.fineness / 2 / parts)
            return Value("ratio", low.value / parts, high.value / parts, slack)
        if form == "measure":
            return _measured(low, high, rest)
    except ZeroDivisionError:
        return Value("unknown", word="a division by nothing")
    kind = "acidity" if form == "acidity" else "share" if of else "number"
    return Value(kind, low.value, high.value, (low.fineness / 2, high.fineness / 2))


def _of_the_same_group(low: Number, high: Number, text: str) -> Number:
    """The two of “two or three hundred” is two hundred as well; ``text`` is what ends it."""
    group = group_said(text)
    if group == 1 or low.value >= high.value / group:
        return low
    return Number(low.value * group, low.fineness * group)


def _from_to(texts: tuple[str, ...], ranges: tuple[int, ...]) -> Value:
    """``1 h to 1 h 30 min``: a measure at either end."""
    at = ranges[-1]
    if len(ranges) > 1:
        return Value("unknown", word="two ranges in one")
    ends = [_value("measure", False, part, ()) for part in (texts[:at], texts[at + 1 :])]
    first, last = ends
    if first.kind != last.kind or first.low is None or last.low is None:
        return next((end for end in ends if end.kind == "unknown"), Value("unknown"))
    return first._replace(high=last.high, slack=(first.slack[0], last.slack[1]))


def _measured(low: Number, high: Number, rest: tuple[str, ...]) -> Value:
    units = vocabulary().units
    unit = units.get(rest[0])
    if unit is None:
        return Value("unknown", word=rest[0])
    total_low = (low.value + unit.offset) * unit.factor
    total_high = (high.value + unit.offset) * unit.factor_high
    slack = (low.fineness / 2 * unit.factor, high.fineness / 2 * unit.factor_high)
    smallest = unit.factor
    for figure, name in zip(rest[1::2], rest[2::2], strict=True):
        more = units.get(name)
        if more is None:
            return Value("unknown", word=name)
        if more.kind != unit.kind or unit.kind == "temperature" or more.factor >= smallest:
            # 60 °C 1 h, and 45 min 1 h: two amounts, and not one of two parts
            return Value("unknown", word=f"{rest[0]} and {name} together")
        smallest = more.factor
        extra = number(figure)
        total_low += extra.value * more.factor
        total_high += extra.value * more.factor_high
        slack = (extra.fineness / 2 * more.factor, extra.fineness / 2 * more.factor_high)
    if unit.vague and total_low > total_high:
        total_low, total_high = total_high, total_low
    elif low is high and total_low == total_high:
        total_high = total_low  # the very same: whoever counts on with it has half of the work
    return Value(unit.kind, total_low, total_high, slack, unit)
