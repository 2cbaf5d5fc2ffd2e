"""Exact numbers, as ``Fraction`` has them, compared and worked with in a third of the time.

``Fraction`` asks at each step which kind of number the other side is, by way of abstract
classes, and each result is brought to its lowest terms anew. Most of our numbers are whole, and
all are fractions: these are asked for first, and everything else is left to ``Fraction``.
"""

from __future__ import annotations

from fractions import Fraction
from math import gcd

from procedure.quantity.record import TYPE_CHECKING

if TYPE_CHECKING:
    from typing import Any

_new = object.__new__


class Exact(Fraction):
    """A fraction; what comes of one and of any other fraction is one again."""

    __slots__ = ()

    def __repr__(self) -> str:
        return f"Fraction({self.numerator}, {self.denominator})"  # as which it is written

    if not TYPE_CHECKING:  # to a type checker all is as in Fraction

        def __eq__(self, other: Any) -> Any:
            kind = type(other)
            if kind is Exact or kind is Fraction:
                return (
                    self._numerator == other._numerator and self._denominator == other._denominator
                )
            return Fraction.__eq__(self, other)

        def __hash__(self) -> int:
            return hash(self._numerator) if self._denominator == 1 else Fraction.__hash__(self)

        def __bool__(self) -> bool:
            return self._numerator != 0

        def __lt__(self, other: Any) -> Any:
            kind = type(other)
            if kind is Exact or kind is Fraction:
                return self._numerator * other._denominator < other._numerator * self._denominator
            if kind is int:
                return self._numerator < other * self._denominator
            return Fraction.__lt__(self, other)

        def __le__(self, other: Any) -> Any:
            kind = type(other)
            if kind is Exact or kind is Fraction:
                return self._numerator * other._denominator <= other._numerator * self._denominator
            if kind is int:
                return self._numerator <= other * self._denominator
            return Fraction.__le__(self, other)

        def __gt__(self, other: Any) -> Any:
            kind = type(other)
            if kind is Exact or kind is Fraction:
                return self._numerator * other._denominator > other._numerator * self._denominator
            if kind is int:
                return self._numerator > other * self._denominator
            return Fraction.__gt__(self, other)

        def __ge__(self, other: Any) -> Any:
            kind = type(other)
            if kind is Exact or kind is Fraction:
                return self._numerator * other._denominator >= other._numerator * self._denominator
            if kind is int:
                return self._numerator >= other * self._denominator
            return Fraction.__ge__(self, other)

        def __add__(self, other: Any) -> Any:
            kind = type(other)
            if kind is Exact or kind is Fraction:
                below, under = self._denominator, other._denominator
                if below == under == 1:
                    return _made(self._numerator + other._numerator, 1)
                return _lowest(self._numerator * under + other._numerator * below, below * under)
            if kind is int:
                return _made(self._numerator + other * self._denominator, self._denominator)
            return Fraction.__add__(self, other)

        def __sub__(self, other: Any) -> Any:
            kind = type(other)
            if kind is Exact or kind is Fraction:
                below, under = self._denominator, other._denominator
                if below == under == 1:
                    return _made(self._numerator - other._numerator, 1)
                return _lowest(self._numerator * under - other._numerator * below, below * under)
            if kind is int:
                return _made(self._numerator - other * self._denominator, self._denominator)
            return Fraction.__sub__(self, other)

        def __mul__(self, other: Any) -> Any:
            kind = type(other)
            if kind is Exact or kind is Fraction:
                below = self._denominator * other._denominator
                if below == 1:
                    return _made(self._numerator * other._numerator, 1)
                return _lowest(self._numerator * other._numerator, below)
            if kind is int:
                return _lowest(self._numerator * other, self._denominator)
            return Fraction.__mul__(self, other)

        def __truediv__(self, other: Any) -> Any:
            kind = type(other)
            if (kind is Exact or kind is Fraction) and other._numerator > 0:
                above, below = self._numerator, other._numerator
                return _lowest(above * other._denominator, self._denominator * below)
            if kind is int and other > 0:
                return _lowest(self._numerator, self._denominator * other)
            return Fraction.__truediv__(self, other)

        # Asked where the other side is a plain fraction, as Python does for a subclass, or an int.
        def __radd__(self, other: Any) -> Any:
            kind = type(other)
            if kind is Fraction or kind is int:
                return self + other
            return Fraction.__radd__(self, other)

        def __rsub__(self, other: Any) -> Any:
            return (
                _exact(other) - self if type(other) is Fraction else Fraction.__rsub__(self, other)
            )

        def __rmul__(self, other: Any) -> Any:
            kind = type(other)
            if kind is Fraction or kind is int:
                return self * other
            return Fraction.__rmul__(self, other)

        def __rtruediv__(self, other: Any) -> Any:
            if type(other) is Fraction:
                return _exact(other) / self
            return Fraction.__rtruediv__(self, other)


def exactly(number: Fraction | int) -> Fraction:
    """The same number, of those that are quick to work with."""
    return number if isinstance(number, Exact) else _exact(number)


def _exact(number: Fraction | int) -> Fraction:
    return _made(*number.as_integer_ratio())


def _made(above: int, below: int) -> Fraction:
    """The fraction of two numbers that are in their lowest terms, the second above nothing."""
    made: Any = _new(Exact)
    made._numerator = above
    made._denominator = below
    return made  # type: ignore[no-any-return]


def _lowest(above: int, below: int) -> Fraction:
    """The fraction of two numbers, the second above nothing."""
    common = gcd(above, below)
    if common != 1:
        above //= common
        below //= common
    made: Any = _new(Exact)
    made._numerator = above
    made._denominator = below
    return made  # type: ignore[no-any-return]
