"""Our exact numbers against Python's own fractions, in everything that is asked of them."""

from __future__ import annotations

import copy
import operator
import pickle
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from procedure.quantity.exact import Exact, exactly
from procedure.quantity.interval import ENDLESS

FRACTIONS = st.fractions(max_denominator=1000)
OTHERS = FRACTIONS | st.integers(-1000, 1000) | st.floats(-100, 100)
ARITHMETIC = (operator.add, operator.sub, operator.mul, operator.truediv)
MORE = (operator.floordiv, operator.mod, divmod)
COMPARED = (operator.lt, operator.le, operator.gt, operator.ge, operator.eq, operator.ne)


def answer(of: Any, *numbers: Any) -> Any:
    try:
        made = of(*numbers)
    except ZeroDivisionError:
        return "divided by nothing"
    return made.as_integer_ratio() if isinstance(made, Fraction) else made


@given(FRACTIONS, OTHERS)
def test_as_fractions_do(one: Fraction, other: Any) -> None:
    exact = exactly(other) if isinstance(other, Fraction) else other
    for does in (*ARITHMETIC, *MORE, *COMPARED):
        for mine, its in ((exactly(one), other), (exactly(one), exact), (one, exact)):
            assert answer(does, mine, its) == answer(does, one, other)
            assert answer(does, its, mine) == answer(does, other, one)


@given(FRACTIONS)
def test_alone_as_a_fraction(one: Fraction) -> None:
    exact = exactly(one)
    assert (hash(exact), bool(exact), str(exact), float(exact), round(exact), int(exact)) == (
        hash(one), bool(one), str(one), float(one), round(one), int(one),
    )  # fmt: skip
    assert abs(exact) == abs(one) and -exact == -one and exact**2 == one**2
    assert exactly(exact) is exact and {one: 1}[exact] == 1
    assert repr(exact) == repr(one)
    for again in (copy.copy(exact), copy.deepcopy(exact), pickle.loads(pickle.dumps(exact))):
        assert again == one and type(again) is Exact


@given(FRACTIONS, FRACTIONS, st.integers(-9, 9))
def test_what_comes_of_them_is_one_of_them(one: Fraction, other: Fraction, whole: int) -> None:
    for does in (operator.add, operator.sub, operator.mul):
        for number in (other, exactly(other), whole):
            assert type(does(exactly(one), number)) is Exact
        assert type(does(other, exactly(one))) is Exact


@given(FRACTIONS, st.decimals(allow_nan=False, allow_infinity=False, places=2) | st.booleans())
def test_beside_numbers_of_other_kinds_as_a_fraction(one: Fraction, other: Any) -> None:
    def of(does: Any, *numbers: Any) -> Any:
        try:
            return answer(does, *numbers)
        except TypeError:  # as fractions and decimals do not add up
            return "not done"

    for does in (*ARITHMETIC, *COMPARED):
        assert of(does, exactly(one), other) == of(does, one, other)
        assert of(does, other, exactly(one)) == of(does, other, one)
    same = Fraction(other)
    assert exactly(same) == other and hash(exactly(same)) == hash(other)


@given(FRACTIONS)
def test_a_number_without_an_end_is_asked_first(one: Fraction) -> None:
    assert exactly(one) < ENDLESS and not exactly(one) >= ENDLESS
    assert exactly(one) + ENDLESS is ENDLESS and exactly(one) != ENDLESS
    with pytest.raises(ValueError, match="without an end"):
        exactly(one) - ENDLESS
