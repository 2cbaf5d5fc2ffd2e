"""What prose says twice of one thing: a weight, and the share of the fibre that it is."""

from __future__ import annotations

import pytest

from procedure.draft import drafted


@pytest.mark.parametrize(
    ("prose", "line"),
    [
        ("500 g of wool. 75 g alum (15% WOF), 20 litres water. Put the wool in.",
         "potassium-alum 75 g (15 % wof)"),
        ("150 g wool. Mordant with 10 % (15 g) alum in 4 L of water for an hour at 85 °C.",
         "potassium-alum 15 g (10 % of wool)"),
        ("400 g of silk. 15 % alum, that is 60 g. Dissolve in 10 L of water. Put the silk in.",
         "potassium-alum 60 g (15 % of silk)"),
        ("40 g of silk. Weld tops dried, 60 g = 150 %. Boil in 2 L of water for an hour.",
         "weld 60 g (150 % of silk)"),
        ("120 g of wool. Hulls: 240 g dry (2:1), soaked 3 days in 5 L rainwater.",
         "walnut 240 g (2 : 1 of wool)"),
    ],
)  # fmt: skip
def test_both_stand_in_the_line(prose: str, line: str) -> None:
    assert line in drafted(prose).text


def test_shares_far_from_a_weight_stay_apart() -> None:
    text = drafted(
        "200 g of wool. Take 30 g of alum. Other people whom I have asked swear by much less, "
        "and say that 8 % is plenty."
    ).text
    assert "(8 %" not in text


@pytest.mark.parametrize(
    "prose",
    [
        "Brown. Directions: 1. Soak hulls in 8 L of water for 3 days. 2. Simmer 2 hours, then "
        "strain. 3. Add 500 g of wet wool and simmer 1 hour.",
        "Brown. (1) Soak hulls in 8 L of water for 3 days. (2) Simmer 2 hours, then strain. "
        "(3) Add 500 g of wet wool and simmer 1 hour.",
    ],
)
def test_numbered_steps_in_a_row_are_steps(prose: str) -> None:
    text = drafted(prose).text
    assert "simmer dye-bath for 2 h" in text
    assert 'not placed: "2"' not in text


def test_a_ratio_and_a_sum_are_no_steps() -> None:
    text = drafted(
        "100 g of wool were mordanted at a liquor ratio of 40 : 1. After cooling 2. In all 4 L."
    ).text
    assert "40 : 1" in text
