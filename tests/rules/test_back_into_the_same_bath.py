"""A lot that goes back into its bath brings nothing new: only its first entry is told."""

from __future__ import annotations

import pytest
from expecting import findings

MORDANTED = """
    wet out yarn in tub with water 5 L for 1 h
    alum-bath: prepare in kettle with water 3 L, alum 12 g
    mordant yarn in alum-bath at 85 °C for 1 h
    gold-bath: prepare in pan with water 3 L, weld 100 g
    dye yarn in gold-bath at 85 °C for 1 h
"""
DYED = """
    wet out yarn in tub with water 5 L for 1 h
    brown-bath: prepare in kettle with water 3 L, onion 50 g
    dye yarn in brown-bath at 85 °C for 1 h
    gold-bath: prepare in pan with water 3 L, weld 100 g
    dye yarn in gold-bath at 85 °C for 1 h
"""
SOAPED = """
    scour yarn in tub with water 5 L, soap 5 g at 40 °C for 1 h
    gold-bath: prepare in pan with water 3 L, weld 100 g
    dye yarn in gold-bath at 85 °C for 1 h
"""
AGAIN = (
    "lift yarn\n    add iron 1 g to gold-bath\n    put yarn back for 5 min",
    "lift yarn\n    air yarn for 5 min\n    dye yarn in gold-bath at 85 °C for 1 h",
    "split yarn into light 50 g, deep 50 g\n    dye deep in gold-bath at 85 °C for 1 h",
)


@pytest.mark.parametrize("again", AGAIN)
@pytest.mark.parametrize(
    ("begun", "rule"),
    [
        (MORDANTED, "mordant-not-rinsed"),
        (DYED, "dye-carried-over"),
        (SOAPED, "soap-carried-over"),
    ],
)
def test_only_the_first_entry_is_told(begun: str, rule: str, again: str) -> None:
    first, *more = [one for one in findings(f"{begun}    {again}\n") if one.rule == rule]
    assert first.line and not more


def test_another_bath_and_a_new_mordant_are_told() -> None:
    other = "pan2-bath: prepare in jar with water 3 L, onion 50 g\n"
    text = f"{MORDANTED}    {other}    dye yarn in pan2-bath at 85 °C for 1 h\n"
    assert [one.rule for one in findings(text)].count("mordant-not-rinsed") == 2
    anew = "mordant yarn in alum-bath at 85 °C for 1 h\n    dye yarn in gold-bath at 85 °C for 1 h"
    assert [one.rule for one in findings(f"{MORDANTED}    {anew}\n")].count(
        "mordant-not-rinsed"
    ) == 2
