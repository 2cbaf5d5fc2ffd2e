"""Skeins asked for over several lots: what each gets, and no skein cut."""

from fractions import Fraction

import pytest

from procedure.pipeline import read
from procedure.rework.whole_skeins import in_pieces, pieces_shared_out
from procedure.rules.example_kit import whole
from procedure.weigh.cannot import CannotWeigh

LOTS = read(
    whole(
        "fibre\n  grey: wool yarn, 2 skeins of 50 g, scoured\n"
        "  pale: wool yarn, 1 skein of 100 g, scoured\n"
        "  dark: wool yarn, 1 skein of 80 g, scoured\n"
        "steps\n  wet out grey, pale, dark in tub with water 9 L for 1 h\n"
    ),
    "lots.dye",
)
SPLIT = read(
    whole(
        "fibre\n  yarn: wool yarn, 8 skeins of 100 g, scoured\n"
        "steps\n  split yarn into a 1/8 of yarn, b 3/8 of yarn, c\n"
    ),
    "split.dye",
)


def test_each_lot_gets_its_share_in_whole_skeins() -> None:
    """Two, one and one of four: of eight four, two and two, of the weight of each."""
    assert pieces_shared_out(LOTS, Fraction(8)) == {"grey": 200, "pale": 200, "dark": 160}


def test_what_cannot_be_shared_out_whole_is_told() -> None:
    with pytest.raises(CannotWeigh, match=r"grey 5, pale 2.5 and dark 2.5. 8 or 12 can be"):
        pieces_shared_out(LOTS, Fraction(10))


@pytest.mark.parametrize(("count", "grams"), [(8, 800), (16, 1600)])
def test_the_parts_of_a_lot_stay_whole(count: int, grams: int) -> None:
    assert in_pieces(SPLIT, "yarn", Fraction(count)) == grams


def test_no_skein_of_a_part_is_cut() -> None:
    with pytest.raises(CannotWeigh, match=r"a 1.25, b 3.75 and c 5. 8 or 16 can be"):
        in_pieces(SPLIT, "yarn", Fraction(10))
