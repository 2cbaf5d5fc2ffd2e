"""Lanes by lot and by pot: who stands where."""

from __future__ import annotations

import pytest
from drawn import Read, dot_of, of_steps, plan


def lanes_of(drawn: Read) -> dict[str, set[str]]:
    """What stands in each lane, by the words at its head."""
    found: dict[str, set[str]] = {}
    for words, names in drawn.lanes.values():
        found.setdefault(words, set()).update(names)
    return found


def test_lanes_by_lot() -> None:
    lanes = lanes_of(dot_of(plan(), lanes="lot", sheet="roll"))
    assert set(lanes) == {"baths and pots", "yarn, then moss", "gold"}
    assert {"step 2", "step 6", "step 7"} <= lanes["baths and pots"]
    assert {"step 1", "step 3", "step 8", "step 10", "step 11"} <= lanes["yarn, then moss"]
    assert "step 15" in lanes["gold"]


def test_lanes_by_pot() -> None:
    lanes = lanes_of(dot_of(plan(), lanes="pot", sheet="roll"))
    assert {"step 1", "step 5", "step 16", "step 17"} <= lanes["tub"]
    assert {"step 2", "step 3", "step 4", "step 6", "step 7"} <= lanes["kettle"]
    assert {"step 8", "step 11", "step 18"} <= lanes["outside the pots"]


def test_no_lanes() -> None:
    drawn = dot_of(plan(), lanes="none", sheet="roll")
    assert set(lanes_of(drawn)) <= {""}
    assert drawn.labels("lane") == []


def test_the_lanes_have_heads() -> None:
    assert set(dot_of(plan(), sheet="roll").labels("lane")) == {
        "baths and pots",
        "yarn, then moss",
        "gold",
    }


def test_a_step_on_two_lots_spans_both_lanes() -> None:
    drawn = dot_of(plan(), sheet="roll")
    one, both = drawn.node("step 3").box, drawn.node("step 16").box
    assert both[2] - both[0] > 1.8 * (one[2] - one[0])


@pytest.mark.parametrize("lots", [6, 12])
def test_more_lots_than_lanes_are_still_all_drawn(lots: int) -> None:
    names = [f"lot-{n}" for n in range(lots)]
    steps = f"split yarn into {', '.join(f'{name} 1 g' for name in names)}\n"
    steps += "".join(f"rinse {name} in tub with water 5 L\n" for name in names)
    drawn = dot_of(of_steps(steps + f"dry {', '.join(names)}\n"))
    panels = [name.rsplit("panel", 1)[1] for name in drawn.lanes]
    assert max(panels.count(panel) for panel in panels) <= 5
    for number in range(1, lots + 3):
        assert drawn.has(f"step {number}")
