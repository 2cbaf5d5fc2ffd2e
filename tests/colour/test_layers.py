"""Estimates of one colour over another, held against what dyers have always got."""

from __future__ import annotations

import pytest

from procedure.colour.layers import layered
from procedure.colour.space import from_hex
from procedure.vocabulary.colours import colour_of

YELLOW, RED, BLUE = "#f3c300", "#bc3f4a", "#00416a"  # weld, madder and indigo by themselves


@pytest.mark.parametrize(
    ("one", "other", "low", "high"),
    [
        # Yellow and blue make green, red and yellow orange, red and blue purple (common practice);
        # hue angles of CIELAB: 90 is yellow, 180 green, 270 blue, 0 red.
        (YELLOW, BLUE, 100, 180),
        (YELLOW, RED, 30, 80),
        (RED, BLUE, 285, 360),
    ],
)
def test_two_layers_give_the_colour_between_them(
    one: str, other: str, low: float, high: float
) -> None:
    assert low < layered([one, other]).hue < high
    assert layered([one, other]) == layered([other, one])


def test_weld_over_indigo_is_near_the_green_of_the_book() -> None:
    """Mairet 1938, ch. IX: weld and indigo give green (the swatch is that of NBS SP 440)."""
    book = colour_of("weld", "protein", "aluminium", "overdye: indigo")
    assert book is not None
    assert abs(layered([YELLOW, BLUE]).hue - from_hex(book.hex).hue) < 25
