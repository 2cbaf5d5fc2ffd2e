"""Drafts of the prose of the trials against what was worked out by hand.

The floors are what was measured when they were set, a little rounded down: they are there so
that a change which loses ground is seen. ``held_out`` is never read to mend the program.
"""

from __future__ import annotations

import pytest
from prose_measure import measured


@pytest.mark.parametrize(
    ("folder", "right", "wrong", "lost"),
    [
        ("open", 0.81, 0.015, 0.0),
        ("tuned", 0.94, 0.0, 0.0),
        ("checked", 0.92, 0.0, 0.0),
        ("further", 0.895, 0.025, 0.0),
        ("fresh", 0.93, 0.003, 0.0),
        ("fresh/later", 0.89, 0.0, 0.0),
        ("styles", 0.8, 0.014, 0.0),
        ("held_out", 0.69, 0.056, 0.0),
        ("other_hands/open", 0.63, 0.009, 0.0),
        ("other_hands/held_out", 0.51, 0.063, 0.0),
        ("later_hands/open", 0.885, 0.0, 0.0),
        ("later_hands/held_out", 0.82, 0.041, 0.0),
        ("many_hands/open", 0.86, 0.015, 0.0),
        ("many_hands/held_out", 0.7, 0.08, 0.0),
        ("strangers/open", 0.81, 0.006, 0.0),
        ("strangers/held_out", 0.575, 0.112, 0.0),
    ],
)
def test_amounts_are_placed_as_by_hand(
    folder: str, right: float, wrong: float, lost: float
) -> None:
    sums, listed = measured(folder)
    every = sum(sums[one] for one in ("right", "noted", "wrong", "left", "lost"))
    assert every > 150
    assert sums["invented"] == 0
    assert sums["right"] / every >= right
    assert sums["wrong"] / every <= wrong
    assert sums["lost"] / every <= lost
    assert len(listed) == every
