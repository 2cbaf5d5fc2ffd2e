"""CIEDE2000 and CIELAB against the published pairs and a reference library."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from procedure.colour import Colour, Light, ciede2000, cielab_difference, parts
from procedure.colour.space import USUAL

# G. Sharma, W. Wu and E. N. Dalal, Color Research and Application 30 (2005), pages 21 to 30,
# table 1: 34 pairs with their difference to four decimals.
with (Path(__file__).parent / "sharma_wu_dalal.csv").open(encoding="utf-8") as lines:
    PAIRS = [tuple(map(float, row.values())) for row in csv.DictReader(lines)]


@pytest.mark.parametrize("pair", PAIRS, ids=[f"pair {n}" for n in range(1, len(PAIRS) + 1)])
def test_the_published_pairs_come_out_both_ways(pair: tuple[float, ...]) -> None:
    one, other = Colour(pair[0], pair[1], pair[2]), Colour(pair[3], pair[4], pair[5])
    assert ciede2000(one, other) == pytest.approx(pair[6], abs=5e-5)
    assert ciede2000(other, one) == pytest.approx(pair[6], abs=5e-5)


def test_there_are_all_34_pairs() -> None:
    assert len(PAIRS) == 34


_labs = st.builds(
    Colour,
    st.floats(0, 100),
    st.floats(-120, 120),
    st.floats(-120, 120),
    st.just(USUAL),
)


@given(_labs, _labs)
def test_a_difference_is_the_same_both_ways_and_never_below_nothing(
    one: Colour, other: Colour
) -> None:
    forth, back = parts(one, other), parts(other, one)
    assert forth.whole >= 0
    if abs(forth.hue) > 1e-6 and abs((one.hue - other.hue) % 360 - 180) < 1:
        return  # opposite hues: the formula itself jumps there
    assert forth.whole == pytest.approx(back.whole, abs=1e-6)
    assert ciede2000(one, one) == 0


def test_a_thousand_pairs_agree_with_colour_science() -> None:
    # colour-science 0.4, delta_E_CIE2000 and delta_E_CIE1976: a general reference library.
    numpy = pytest.importorskip("numpy")
    colour = pytest.importorskip("colour")
    chance = numpy.random.default_rng(15)
    low, high = (0, -100, -100), (100, 100, 100)
    first = chance.uniform(low, high, (1000, 3))
    second = first + chance.normal(0, 5, (1000, 3))
    theirs = colour.difference.delta_E_CIE2000(first, second)
    plain = colour.difference.delta_E_CIE1976(first, second)
    for a, b, whole, straight in zip(first, second, theirs, plain, strict=True):
        one = Colour(float(a[0]), float(a[1]), float(a[2]))
        other = Colour(float(b[0]), float(b[1]), float(b[2]))
        assert ciede2000(one, other) == pytest.approx(float(whole), abs=1e-4)
        assert cielab_difference(one, other) == pytest.approx(float(straight), abs=1e-9)


def test_the_same_white_under_two_lights_is_no_difference() -> None:
    white = Colour(100, 0, 0, Light("D65", 10))
    assert ciede2000(white, Colour(100, 0, 0, Light("A", 2))) == pytest.approx(0, abs=1e-9)
