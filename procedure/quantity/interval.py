"""Intervals of exact numbers: what a procedure says of an amount, a heat or a time.

Both ends belong to an interval. An end that is not said, as in “at least 1 h”, is
:data:`ENDLESS`: a number above every other, so that a comparison with a limit gives the
answer that a careful reader gives. What is not known at all is None in the place of the
interval; :func:`plus`, :func:`hull` and :func:`middle` pass that on.

The arithmetic is that of intervals: the result holds every number that comes of one
from each side, each taken by itself.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from procedure.quantity.exact import Exact, exactly
from procedure.quantity.record import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from typing import Any


class _Endless(Exact):
    """Above every number. A subclass, so that Python asks it before the other side."""

    __slots__ = ()

    def __new__(cls) -> _Endless:
        return super().__new__(cls, 1)

    def __repr__(self) -> str:
        return "ENDLESS"

    def __str__(self) -> str:
        return "no limit"

    def __float__(self) -> float:
        return float("inf")

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Endless) or other == float("inf")

    def __hash__(self) -> int:  # type: ignore[override]
        return hash(float("inf"))

    def __lt__(self, other: object) -> bool:
        return False

    def __le__(self, other: object) -> bool:
        return self == other

    def __gt__(self, other: object) -> bool:
        return not self == other

    def __ge__(self, other: object) -> bool:
        return True

    def _stays(self, other: Any) -> Any:
        return self

    __add__ = __radd__ = _stays

    def __sub__(self, other: Any) -> Any:
        if isinstance(other, _Endless):
            raise ValueError("no end less no end is anything")
        return self

    def __rsub__(self, other: Any) -> Any:
        raise ValueError("a number without an end cannot be taken from another")

    def __mul__(self, other: Any) -> Any:
        if other < 0:
            raise ValueError("a number without an end is above nothing, never below")
        # None of something has an end, however much of it there may be.
        return self if other > 0 else _NONE

    __rmul__ = __mul__

    def __truediv__(self, other: Any) -> Any:
        if isinstance(other, _Endless) or other <= 0:
            raise ValueError("a number without an end can only be divided by one above nothing")
        return self

    def __rtruediv__(self, other: Any) -> Any:
        return _NONE

    def __abs__(self) -> Any:
        return self

    def _no_digits(self, *_: object) -> Any:
        raise OverflowError("a number without an end has no digits")

    __int__ = __trunc__ = __floor__ = __ceil__ = _no_digits
    __round__ = _no_digits  # type: ignore[assignment]
    __floordiv__ = __rfloordiv__ = __mod__ = __rmod__ = _no_digits

    def __reduce__(self) -> Any:
        return _endless, ()

    def __copy__(self) -> _Endless:
        return self

    def __deepcopy__(self, memo: object) -> _Endless:
        return self


ENDLESS: Fraction = _Endless()
_NONE = exactly(0)


def _endless() -> Fraction:
    return ENDLESS


class Interval(NamedTuple):
    """From ``low`` to ``high``, in the unit that its owner names; ``low <= high``.

    It is a pair, so that ``low, high = interval`` and comparing for equality go on.
    ``high`` may be :data:`ENDLESS`; ``low`` is always a number.
    """

    low: Fraction
    high: Fraction

    @classmethod
    def of(cls, number: Fraction) -> Interval:
        """The number and nothing else."""
        return cls(number, number)

    @classmethod
    def at_least(cls, low: Fraction) -> Interval:
        """From the number on, without an end."""
        return cls(low, ENDLESS)

    @classmethod
    def at_most(cls, high: Fraction) -> Interval:
        """From nothing to the number: amounts and times are never below nothing."""
        return cls(_NONE, high)

    @property
    def open(self) -> bool:
        """True where no upper end is said."""
        return isinstance(self.high, _Endless)

    @property
    def exact(self) -> bool:
        """True where it is one number."""
        return self.low == self.high

    @property
    def middle(self) -> Fraction:
        """Half way between the ends; the lower end where there is no upper one."""
        if self.low is self.high or isinstance(self.high, _Endless):
            return self.low
        return (self.low + self.high) / 2

    @property
    def firm(self) -> Fraction:
        """The upper end, or the lower one where no upper end is said: for what must be planned."""
        return self.low if self.open else self.high

    def plus(self, other: Interval) -> Interval:
        """Both together."""
        if self is ZERO or other is ZERO:  # what sums begin with, and what many states hold
            return other if self is ZERO else self
        low = self.low + other.low
        if self.low is self.high and other.low is other.high:
            return Interval(low, low)  # most amounts are one number: half of the work
        return Interval(low, self.high + other.high)

    def minus(self, other: Interval) -> Interval:
        """What is left when the other is taken away: never less than nothing.

        An end that is not said takes everything at the least, and leaves an end that is
        not said where this one has none.
        """
        low = _NONE if other.open else max(self.low - other.high, _NONE)
        return Interval(low, max(self.high - other.low, _NONE))

    def times(self, other: Interval | Fraction | int) -> Interval:
        """So many times. Raises ``ValueError`` for a factor below nothing."""
        if self is ZERO:
            return self
        low, high = other if isinstance(other, Interval) else (other, other)
        if low.numerator < 0:  # comparing fractions takes several times as long
            raise ValueError("an amount is not taken less than no times")
        if low is high and self.low is self.high:
            product = self.low * low
            return Interval(product, product)
        if self.low.numerator >= 0:
            return Interval(self.low * low, self.high * high)
        # Heats may be below zero: then the larger factor gives the smaller product.
        return Interval(
            self.low * (low if self.low >= 0 else high),
            self.high * (high if self.high >= 0 else low),
        )

    def over(self, other: Interval | Fraction | int) -> Interval:
        """Divided by what is above nothing. Raises ``ValueError`` where it may be nothing."""
        low, high = other if isinstance(other, Interval) else (other, other)
        if low <= 0:
            raise ValueError("divided by what may be nothing")
        if low is high and self.low is self.high:
            share = self.low / low
            return Interval(share, share)
        return Interval(
            self.low / (high if self.low >= 0 else low),
            self.high / (low if self.high >= 0 else high),
        )

    def hull(self, other: Interval) -> Interval:
        """The least interval that holds both."""
        return Interval(min(self.low, other.low), max(self.high, other.high))

    def capped(self, most: Fraction) -> Interval:
        """The same with no number above ``most``."""
        return Interval(min(self.low, most), min(self.high, most))

    def overlaps(self, other: Interval) -> bool:
        """True where some number is in both."""
        return self.low <= other.high and other.low <= self.high

    def holds(self, number: Fraction) -> bool:
        """True where the number is in it."""
        return self.low <= number <= self.high

    def surely_at_least(self, number: Fraction) -> bool:
        """True where no number in it is below."""
        return self.low >= number

    def surely_at_most(self, number: Fraction) -> bool:
        """True where no number in it is above."""
        return self.high <= number


ZERO = Interval(_NONE, _NONE)
ONE = Interval.of(exactly(1))


def known(low: Fraction | None, high: Fraction | None) -> Interval | None:
    """The interval of two ends; None where either is unknown."""
    return None if low is None or high is None else Interval(low, high)


def plus(one: Interval | None, two: Interval | None) -> Interval | None:
    """Both together; None where either is unknown."""
    return None if one is None or two is None else one.plus(two)


def hull(one: Interval | None, two: Interval | None) -> Interval | None:
    """The least interval that holds both; None where either is unknown."""
    return None if one is None or two is None else one.hull(two)


def middle(of: Interval | None) -> Fraction | None:
    """Half way between the ends; None where they are unknown."""
    return None if of is None else of.middle


def total(of: Iterable[Interval]) -> Interval:
    """All of them together; nothing of none."""
    made = ZERO
    for one in of:
        made = made.plus(one)
    return made
