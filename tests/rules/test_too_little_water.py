"""What heats, spits or catches fire in a little water goes into plenty of it.

Which they are is in ``meetings.csv`` with the sources; how little is too little is in
``thresholds.csv`` (common practice).
"""

from __future__ import annotations

import pytest
from expecting import findings

WHOLE = """procedure "A trial"
  by "Fellside Dye Circle"
  revised 2026-06-14
  place outdoors
  wearing gloves, eye protection, mask
materials
  thing: {thing}
steps
  {steps}
"""
PASTES = {
    "sodium dithionite": ("50 mL", "100 g"),
    "zinc dust": ("50 mL", "100 g"),
    "quicklime": ("200 mL", "500 g"),
    "bleaching powder": ("20 mL", "200 g"),
    "sulphuric acid, solution 96 % by weight": ("100 mL", "100 mL"),
    "lye": ("100 mL", "100 g"),
}


def levels(thing: str, steps: str) -> list[str]:
    text = WHOLE.format(thing=thing, steps=steps)
    return [f.level for f in findings(text) if f.rule == "wrong-order-of-pouring"]


@pytest.mark.parametrize("thing", PASTES)
def test_a_paste_is_an_error_though_the_water_comes_first(thing: str) -> None:
    water, much = PASTES[thing]
    assert levels(thing, f"b: prepare in jar with water {water}, thing {much}") == ["error"]
    assert levels(thing, f"dissolve thing {much} in jar with water {water}") == ["error"]


@pytest.mark.parametrize("thing", sorted(PASTES.keys() - {"quicklime"}))
def test_plenty_of_water_is_none(thing: str) -> None:
    assert levels(thing, "b: prepare in tub with water 10 L, thing 50 g") == []
