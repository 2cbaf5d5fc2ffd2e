"""Materials that no section declares: what they would do in the bath is told all the same."""

from __future__ import annotations

import pytest
from expecting import findings

VINEGAR = """
materials
  vinegar: vinegar, 5 %
equipment
  tub: plastic tub, 20 L, for dyeing only
  pan: aluminium pan, 12 L, for dyeing only
steps
"""


def told(*steps: str) -> list[str]:
    text = VINEGAR + "".join(f"  {step}\n" for step in steps)
    return [found.sentence for found in findings(text) if found.rule == "must-not-meet"]


@pytest.mark.parametrize(
    "steps",
    [
        ["wet out yarn in tub with water 5 L, bleach 20 mL, vinegar 50 mL for 1 h"],
        [
            "rinse yarn in tub with water 5 L, vinegar 50 mL",
            "rinse yarn in tub with water 5 L, chlorine-bleach 20 mL",
        ],
        [
            "rinse yarn in tub with water 5 L, household-bleach 20 mL",
            "rinse yarn in tub with water 5 L, vinegar 50 mL",
        ],
        [
            "rinse yarn in tub with water 5 L, citric-acid 5 g",
            "rinse yarn in tub with water 5 L, bleach 20 mL",
        ],
        [
            "rinse yarn in tub with water 5 L, vinegar 50 mL",
            "pour a cup of household bleach into tub",
        ],
        ["rinse yarn in tub with water 5 L, vinegar 50 mL", "clean tub with bleach"],
    ],
    ids=["in one bath", "after acid", "before acid", "two undeclared", "poured in", "to clean"],
)
def test_bleach_and_acid_are_told_before_they_are_declared(steps: list[str]) -> None:
    assert any("chlorine gas" in sentence for sentence in told(*steps)), told(*steps)


def test_a_tub_that_was_cleaned_between_holds_no_acid() -> None:
    said = told(
        "rinse yarn in tub with water 5 L, vinegar 50 mL",
        "clean tub",
        "rinse yarn in tub with water 5 L, bleach 20 mL",
    )
    assert not any("chlorine gas" in sentence for sentence in said)


def test_lye_in_aluminium_and_bleach_on_wool() -> None:
    (lye,) = told("soak yarn in pan with water 5 L, caustic-soda 50 g for 1 h")
    assert "caustic soda and pan meet: hydrogen gas" in lye
    (bleach,) = told("wash yarn in tub with water 5 L, bleach 50 mL")
    assert "bleach and yarn meet: dissolves wool and silk" in bleach


def test_what_harms_nothing_is_only_undeclared() -> None:
    assert not told("rinse yarn in tub with water 5 L, tartar 5 g, vinegar 50 mL")
