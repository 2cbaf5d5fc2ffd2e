"""The colour of a plant is that of the part which was used."""

from __future__ import annotations

import pytest

from procedure.vocabulary.colours import colour_of


@pytest.mark.parametrize(
    ("dyestuff", "part", "colour"),
    [
        ("silver birch", "leaves", "yellow"),  # E. M. Mairet, Vegetable Dyes (1938), chapter III
        ("silver birch", "bark", "red"),
        ("silver birch", "twigs", None),
        ("silver birch", "", None),
        ("elderberry", "berries", "violet"),
        ("elderberry", "leaves", "green"),
        ("madder", "powder", "red"),
    ],
)
def test_a_part_has_its_own_colour(dyestuff: str, part: str, colour: str | None) -> None:
    found = colour_of(dyestuff, "protein", "aluminium", part=part)
    assert (found.colour if found is not None else None) == colour
