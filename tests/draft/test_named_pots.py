"""Pots are called by what they are made of, and kept for dyeing where the prose says so."""

from __future__ import annotations

import pytest

from procedure.draft import drafted

NO_POT_FOR_FOOD = 'pot-1: "a pot that the prose does not name", for dyeing only'
DYED = "100 g of wool. {} Simmer 100 g of weld in 4 L of water for 1 h."


@pytest.mark.parametrize(
    ("prose", "declared"),
    [
        ("You need a stainless steel pot.", "pot-1: stainless steel pot"),
        ("You need a big enamel pan (10 L).", "pot-1: enamel pan, 10 L"),
        ("Fill an iron kettle.", "pot-1: iron pot"),
        (
            "You need an old aluminum saucepan you don't cook in.",
            "pot-1: aluminium pan, for dyeing only",
        ),
        ("Two steel pots (not the ones you cook in).", NO_POT_FOR_FOOD),
        (
            "The pot is kept for dyeing.",
            'pot-1: "a pot that the prose does not name", for dyeing only',
        ),
    ],
)
def test_a_pot_is_what_the_prose_says(prose: str, declared: str) -> None:
    lines = [line.strip() for line in drafted(DYED.format(prose)).text.splitlines()]
    assert declared in lines


@pytest.mark.parametrize(
    "prose",
    [
        "Never use an iron pot.",
        "If you have a copper pan, the better.",
        "It looks like a copper kettle.",
    ],
)
def test_a_pot_that_is_not_there_is_not_declared(prose: str) -> None:
    lines = [line.strip() for line in drafted(DYED.format(prose)).text.splitlines()]
    assert 'pot-1: "a pot that the prose does not name"' in lines
