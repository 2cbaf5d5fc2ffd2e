"""A weight and a share of the fibre, said of one thing: 75 g (15 % of wool)."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from procedure.pipeline import read

TEXT = """procedure "A share beside a weight"

fibre
  wool: wool yarn, {grams} g

equipment
  pot: stainless steel pot, 60 L, for dyeing only

materials
  alum: potassium alum

steps
  alum-bath: prepare in pot with alum {said}, water 10 L
  mordant wool in alum-bath at 85 °C for 1 h
"""


def findings(said: str, grams: int = 500) -> list[str]:
    """What is found wrong with the readings, in words."""
    plan = read(TEXT.format(said=said, grams=grams), "a.dye")
    assert "cannot-read" not in {one.rule for one in plan.findings}, said
    return [str(one.sentence) for one in plan.findings if one.rule == "readings-disagree"]


@pytest.mark.parametrize(
    "said",
    ["75 g (15 % of wool)", "75 g (15 %)", "75 g (15 % wof)", "15 % of wool (75 g)",
     "15 % (75 g)", "2.65 oz (15 %)", "500 g (1 : 1)", "1 kg (2 : 1 of wool)",
     "125 g (1/4 of wool)"],
)  # fmt: skip
def test_what_comes_to_the_same_is_read_and_is_silent(said: str) -> None:
    assert findings(said) == []


@pytest.mark.parametrize(
    ("said", "comes"),
    [("75 g (12 %)", "60 g"), ("12 % of wool (75 g)", "60 g"), ("7.5 g (15 %)", "75 g"),
     ("4 oz (15 %)", "2.65 oz"), ("1 kg (1 : 1)", "0.5 kg"), ("75 g (1.5 %)", "7.5 g")],
)  # fmt: skip
def test_what_does_not_is_told_with_what_the_share_comes_to(said: str, comes: str) -> None:
    [found] = findings(said)
    assert f"is {comes}" in found


@given(grams=st.integers(20, 2000), percent=st.integers(1, 40))
@settings(deadline=None, max_examples=60)
def test_a_share_that_was_worked_out_to_the_gram_always_agrees(grams: int, percent: int) -> None:
    tenths = round(grams * percent / 10)
    assert findings(f"{tenths / 10:g} g ({percent} %)", grams) == []
    assert findings(f"{percent} % of wool ({tenths / 10:g} g)", grams) == []


def test_a_slip_of_a_row_in_a_table_is_found() -> None:
    """The share of the lot beside: 12 % of 400 g where the lot has 500."""
    assert findings("48 g (12 %)") != []


def test_a_number_without_its_unit_is_told_of_once() -> None:
    plan = read(TEXT.format(said="75 (15 %)", grams=500), "a.dye")
    errors = [one.rule for one in plan.findings if one.level == "error" and one.line == 13]
    assert errors == ["number-without-unit"]
