"""Wool out of water that nobody said to heat, straight into a hot bath, meets a sudden change."""

from __future__ import annotations

import pytest
from expecting import findings

HOT = """
    gold-bath: prepare in kettle with water 4 L, onion 50 g
    simmer gold-bath at {heat} for 1 h
    {wet}
    {between}
    enter {lot} in gold-bath
    hold gold-bath for 1 h
    lift {lot} from gold-bath
"""


def told(
    heat: str = "90 °C",
    wet: str = "wet out yarn in tub with water 5 L for 1 h",
    between: str = "squeeze yarn",
    lot: str = "yarn",
) -> int:
    text = HOT.format(heat=heat, wet=wet, between=between, lot=lot)
    return [one.rule for one in findings(text)].count("heat-shock")


@pytest.mark.parametrize(
    "wet",
    [
        "wet out yarn in tub with water 5 L for 1 h",
        "rinse yarn in tub with water unstated",
        "wash yarn in tub with water 5 L, soap 3 g",
    ],
)
@pytest.mark.parametrize("between", ["squeeze yarn", "rest yarn for 5 min", "let yarn drip"])
def test_into_a_hot_bath(wet: str, between: str) -> None:
    assert told(wet=wet, between=between) == 1


def test_a_part_of_it_as_well() -> None:
    assert told(between="split yarn into light 50 g, deep 50 g", lot="light") == 1


def test_not_into_what_is_hand_hot_or_has_cooled_or_where_it_is_linen() -> None:
    assert told(heat="60 °C") == 0
    assert told(between="cool gold-bath to 40 °C") == 0
    assert told(wet="wet out cloth in tub with water 5 L for 1 h", between="", lot="cloth") == 0


def test_not_where_the_water_was_as_warm() -> None:
    assert told(wet="wet out yarn in tub with water 5 L at 65 °C for 1 h") == 0
