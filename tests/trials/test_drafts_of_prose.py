"""Drafts of the prose of the trials against what was worked out by hand.

The floors are what was measured when they were set, a little rounded down: they are there so
that a change which loses ground is seen. Of the sets named ``held_out`` all have been opened but
those of ``later_hands`` and ``pairs`` (see the README of the sets), which are never read to mend
the program.
What the reader makes of the words is measured first, and then what it places by itself, where it
leaves as a comment what the words do not surely say.
"""

from __future__ import annotations

from collections import Counter

import pytest
from prose_measure import measured
from sampling import sampled

# Sets of a few recipes each, which are measured together.
SMALL = {
    "several": 140,
    "ordinary/held_out": 90,
    "neighbours/open": 100,
    "neighbours/held_out": 85,
}  # amounts of the sets that have fewer than most
TOGETHER = {"several": ("several/open", "several/held_out")}


# What the reader makes of the words by itself is measured in a third of the sets in every run, and
# what it places, which is what a dyer gets, in all of them.
READ = [
    ("open", 0.82, 0.015, 0.0),
    ("tuned", 0.95, 0, 0.0),
    ("checked", 0.912, 0, 0.0),
    ("further", 0.895, 0.024, 0.0),
    ("fresh", 0.945, 0.002, 0.0),
    ("fresh/later", 0.905, 0, 0.0),
    ("styles", 0.81, 0.015, 0.0),
    ("held_out", 0.775, 0.0245, 0.0),
    ("other_hands/open", 0.645, 0.012, 0.0),
    ("other_hands/held_out", 0.63, 0.025, 0.0),
    ("later_hands/open", 0.89, 0, 0.0),
    ("later_hands/held_out", 0.865, 0.034, 0.0),
    ("many_hands/open", 0.87, 0.014, 0.0),
    ("many_hands/held_out", 0.89, 0.013, 0.0),
    ("strangers/open", 0.825, 0.003, 0.0),
    ("strangers/held_out", 0.72, 0.043, 0.0),
    ("ordinary/open", 0.915, 0, 0.0),
    ("ordinary/held_out", 0.92, 0, 0.0),
    ("everyday/open", 0.82, 0.026, 0.0),
    ("everyday/held_out", 0.955, 0.006, 0.0),
    ("several", 0.73, 0.103, 0.0),
    ("neighbours/open", 0.81, 0.049, 0.0),
    ("neighbours/held_out", 0.85, 0.0115, 0.0),
    ("plain_hands/open", 0.765, 0.079, 0.0),
    ("plain_hands/held_out", 0.8, 0.031, 0.0),
    ("receipts/open", 0.7, 0.0096, 0.0),
    ("receipts/held_out", 0.71, 0.034, 0.0),
    ("pairs/open", 0.805, 0.0215, 0.0),
    ("pairs/held_out", 0.795, 0.068, 0.0),
]


@pytest.mark.parametrize(("folder", "right", "wrong", "lost"), sampled(READ, 9))
def test_amounts_are_placed_as_by_hand(
    folder: str, right: float, wrong: float, lost: float
) -> None:
    _holds(folder, right, wrong, lost, place_unsure=True)


@pytest.mark.parametrize(
    ("folder", "right", "wrong", "lost"),
    [
        ("open", 0.785, 0.0145, 0.0),
        ("tuned", 0.925, 0, 0.0),
        ("checked", 0.912, 0, 0.0),
        ("further", 0.865, 0.0235, 0.0),
        ("fresh", 0.915, 0.002, 0.0),
        ("fresh/later", 0.865, 0, 0.0),
        ("styles", 0.79, 0.015, 0.0),
        ("held_out", 0.775, 0.017, 0.0),
        ("other_hands/open", 0.61, 0.009, 0.0),
        ("other_hands/held_out", 0.6, 0.017, 0.0),
        ("later_hands/open", 0.84, 0, 0.0),
        ("later_hands/held_out", 0.82, 0.024, 0.0),
        ("many_hands/open", 0.85, 0.009, 0.0),
        ("many_hands/held_out", 0.88, 0.0065, 0.0),
        ("strangers/open", 0.795, 0.003, 0.0),
        ("strangers/held_out", 0.695, 0.0155, 0.0),
        ("ordinary/open", 0.865, 0, 0.0),
        ("ordinary/held_out", 0.92, 0, 0.0),
        ("everyday/open", 0.775, 0.013, 0.0),
        ("everyday/held_out", 0.935, 0, 0.0),
        ("several", 0.71, 0.089, 0.0),
        ("neighbours/open", 0.78, 0.049, 0.0),
        ("neighbours/held_out", 0.84, 0, 0.0),
        ("plain_hands/open", 0.74, 0.079, 0.0),
        ("plain_hands/held_out", 0.76, 0.031, 0.0),
        ("receipts/open", 0.605, 0.005, 0.0),
        ("receipts/held_out", 0.66, 0.0245, 0.0),
        ("pairs/open", 0.765, 0.0175, 0.0),
        ("pairs/held_out", 0.755, 0.072, 0.0),
    ],
)
def test_what_is_not_sure_is_left_and_less_is_placed_wrong(
    folder: str, right: float, wrong: float, lost: float
) -> None:
    _holds(folder, right, wrong, lost, place_unsure=False)


def _holds(folder: str, right: float, wrong: float, lost: float, place_unsure: bool) -> None:
    sums: Counter[str] = Counter()
    listed = 0
    for one in TOGETHER.get(folder, (folder,)):
        here, verdicts = measured(one, place_unsure=place_unsure)
        sums += here
        listed += len(verdicts)
    every = sum(sums[one] for one in ("right", "noted", "wrong", "left", "lost"))
    assert every > SMALL.get(folder, 150)
    assert sums["invented"] == 0
    assert sums["right"] / every >= right
    assert sums["wrong"] / every <= wrong
    assert sums["lost"] / every <= lost
    assert listed == every
