"""Colours and differences in the words of a dyer."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from procedure.colour import Colour, called, compared, from_hex
from procedure.colour.space import USUAL


@pytest.mark.parametrize(
    ("one", "other", "said"),
    [
        (Colour(70, 10, 60), Colour(70, 10, 60), "the same to the eye"),
        (Colour(70, 10, 60), Colour(70.2, 10, 60.3), "the same to the eye"),
        (Colour(70, 5, 60), Colour(70, 7.5, 59.7), "a little redder"),
        (Colour(70, 5, 60), Colour(70, 2.5, 60), "a little greener"),
        (Colour(45, 45, 30), Colour(45, 46, 28), "a little redder"),
        (Colour(60, -30, 20), Colour(60, -30, 20)._replace(a=-26, b=25), "clearly yellower"),
        (Colour(50, 0, 0), Colour(54, 0, 0), "clearly lighter"),
    ],
)
def test_a_difference_is_told(one: Colour, other: Colour, said: str) -> None:
    assert said in compared(one, other)


def test_paler_is_lighter_and_weaker_and_deeper_the_other_way() -> None:
    deep, pale = Colour(55, 10, 60), Colour(63, 9, 48)
    assert "paler" in compared(deep, pale)
    assert "deeper" in compared(pale, deep)


@pytest.mark.parametrize(
    ("hex_", "word"),
    [
        ("#c8a232", "yellow"),
        ("#808000", "olive"),  # the colour of that name in CSS Color Module Level 4
        ("#6b5c26", "olive"),
        ("#b5341c", "red"),
        ("#26557f", "blue"),
        ("#5b7c3a", "green"),
        ("#6b4526", "brown"),
        ("#7a7a7a", "grey"),
        ("#ffffff", "white"),
        ("#111111", "black"),
    ],
)
def test_a_colour_is_called_by_its_name(hex_: str, word: str) -> None:
    assert word in called(from_hex(hex_))


@given(
    st.builds(
        Colour, st.floats(0, 100), st.floats(-100, 100), st.floats(-100, 100), st.just(USUAL)
    ),
    st.builds(
        Colour, st.floats(0, 100), st.floats(-100, 100), st.floats(-100, 100), st.just(USUAL)
    ),
)
def test_any_two_colours_can_be_told_apart_in_words(one: Colour, other: Colour) -> None:
    assert called(one)
    assert compared(one, other)
