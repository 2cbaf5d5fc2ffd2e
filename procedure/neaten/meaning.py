"""What a procedure means, without where its words are and how they were spelled."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction
from typing import Any

from procedure.model import Place, Procedure, Quantity, Step, Written
from procedure.model.types import UnknownWord
from procedure.quantity.interval import ENDLESS
from procedure.vocabulary import Entry, Unit, Verb

# What says where something is, or which file it is in.
_PLACES = frozenset(
    ("file", "key", "workshop", "line_count", "section_lines", "sections_twice", "brought")
)
# The verb and the amount as they were written: the verb and the amount themselves stay.
_SPELLED: dict[type[Any], frozenset[str]] = {
    Step: frozenset(("word",)),
    Quantity: frozenset(("text",)),
    Written: frozenset(("step",)),  # its step is among the steps already
    UnknownWord: frozenset(("to",)),  # the column where what is told of it ends
}
# A unit turned into another changes these besides: how finely the number was written.
_FINENESS = frozenset(("unit", "slack_low", "slack_high", "reading", "text", "each"))
# Two numbers that differ by no more mean the same, where one was rounded to three figures
# (a share of one, then a least amount: half a degree, or of whatever else there is).
_ROUNDED = Fraction(1, 100)
_ROUNDED_HEAT = Fraction(1, 2)

Meaning = tuple[Any, ...]


def meaning(procedure: Procedure, loosely: bool = False) -> Meaning:
    """All that a procedure says, to be held against another.

    ``loosely`` leaves out what changes when an amount is written in other units; its numbers
    are then to be compared with :func:`much_the_same`.
    """
    return tuple(
        (name, _stripped(value, loosely))
        for name, value in vars(procedure).items()
        if name not in _PLACES
    )


def much_the_same(one: Any, other: Any) -> bool:
    """True where two meanings differ in rounding only."""
    if type(one) is tuple and type(other) is tuple:
        return len(one) == len(other) and all(map(much_the_same, one, other))
    if isinstance(one, Fraction) and isinstance(other, Fraction):
        if ENDLESS in (one, other):
            return one == other
        return abs(one - other) <= max(abs(one) * _ROUNDED, _ROUNDED_HEAT * (abs(one) >= 5))
    return bool(one == other)


def lines_that_differ(one: Procedure, other: Procedure) -> set[int]:
    """The lines, in the first text, of the steps that do not mean the same in the second."""
    from procedure.model import Block

    def steps(body: tuple[Step | Block, ...]) -> Iterator[Step | Block]:
        for step in body:
            yield step
            if isinstance(step, Block):
                yield from steps(step.body)

    def alone(step: Step | Block) -> Any:
        return _stripped(step._replace(body=()) if isinstance(step, Block) else step, False)

    pairs = list(zip(steps(one.body), steps(other.body), strict=False))
    return {first.place.line for first, second in pairs if alone(first) != alone(second)}


def _kept(kind: type[Any], loosely: bool) -> tuple[int, ...]:
    """The places in a record of the fields that say what it means."""
    found = _KEPT.get((kind, loosely))
    if found is None:
        left_out = _SPELLED.get(kind, frozenset()) | {"line"}
        if loosely and kind is Quantity:
            left_out |= _FINENESS
        found = tuple(i for i, field in enumerate(kind._fields) if field not in left_out)
        _KEPT[kind, loosely] = found
    return found


_KEPT: dict[tuple[type[Any], bool], tuple[int, ...]] = {}


def _stripped(value: Any, loosely: bool) -> Any:
    # By the very type, at once: a meaning has a thousand values for every few steps.
    kind = type(value)
    strip = _STRIPPED.get(kind)
    if strip is None:
        above = (_STRIPPED[one] for one in kind.__mro__[:-1] if one in _STRIPPED)
        strip = _record if hasattr(kind, "_fields") else next(above, _as_it_is)
        _STRIPPED[kind] = strip
    return strip(value, loosely)


def _as_it_is(value: Any, loosely: bool) -> Any:
    return value


def _record(value: Any, loosely: bool) -> Meaning:
    return tuple([_stripped(value[i], loosely) for i in _kept(type(value), loosely)])


def _quantity(value: Quantity, loosely: bool) -> Meaning:
    if loosely and value.about:
        value = value._replace(low=None, high=None)  # its width hangs on its figures
    return _record(value, loosely)


def _many(value: Any, loosely: bool) -> Meaning:
    return tuple([_stripped(one, loosely) for one in value]) if value else ()


# What becomes of a value, by its type; records are taken apart, and what is none stays.
_STRIPPED: dict[type[Any], Callable[[Any, bool], Any]] = {
    **dict.fromkeys((type(None), str, bool, int, Fraction, Entry, Verb, Unit), _as_it_is),
    Place: lambda value, loosely: (),
    Quantity: _quantity,
    **dict.fromkeys((tuple, list), _many),
    dict: lambda value, loosely: tuple(
        [(key, _stripped(one, loosely)) for key, one in value.items()]
    ),
    **dict.fromkeys((set, frozenset), lambda value, loosely: tuple(sorted(value))),
}
