"""Skeins asked for over several lots: what each gets, and no skein cut."""

from fractions import Fraction

import pytest

from procedure.pipeline import read
from procedure.rework.amounts_asked_for import amount
from procedure.rework.backwards import most
from procedure.rework.whole_skeins import in_pieces, pieces_shared_out
from procedure.rules.example_kit import whole
from procedure.weigh.cannot import CannotWeigh
from procedure.wording import of_system

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


GOODS = """procedure "Scarves in onion"
  place ventilated
fibre
  scarf: silk scarf, 60 g, scoured, mordanted with alum 10 %
  shawls: silk shawls, 3 pieces of 50 g, scoured, mordanted with alum 10 %
equipment
  pot: stainless steel pot, 20 L, lidded, for dyeing only
materials
  skins: onion skins, dried
steps
  onion-bath: prepare in pot with water 10 L, skins 50 % of scarf and shawls
  dye scarf and shawls in onion-bath at 80 °C for 1 h
"""


def at_hand(text: str, grams: int) -> dict[str, Fraction]:
    return dict(most(read(text, "x.dye"), {"skins": amount(f"{grams} g", "skins")}, {}).sure)


def test_what_is_at_hand_is_for_whole_scarves_and_shawls() -> None:
    # By hand: half the weight, so 250 g are enough for 500 g in the proportion of 60 to 150,
    # which is 142.9 g of scarf and 357.1 g of shawls: two scarves and seven shawls.
    assert at_hand(GOODS, 250) == {"scarf": 120, "shawls": 350}
    assert at_hand(GOODS, 120) == {"scarf": 60, "shawls": 150}


def test_less_than_a_scarf_is_said_and_not_cut() -> None:
    with pytest.raises(CannotWeigh, match=r"enough for 34.29 g of scarf.*weighs 60 g"):
        at_hand(GOODS, 60)


def test_a_shawl_of_wool_is_not_cut_and_the_reason_is_in_the_readers_units() -> None:
    # By hand: half the weight, so an ounce is enough for two, and the shawl weighs eight.
    shawl = GOODS.replace("scarf: silk scarf, 60 g", "scarf: wool shawl, 1 piece of 8 oz")
    shawl = shawl.replace(shawl[shawl.index("  shawls:") : shawl.index("equipment")], "")
    plan = read(shawl.replace("scarf and shawls", "scarf"), "x.dye")
    have = {"skins": amount("1 oz", "skins")}
    with pytest.raises(CannotWeigh, match=r"enough for 2 oz of scarf.*weighs 8 oz"):
        most(plan, have, {})
    with pytest.raises(CannotWeigh, match=r"enough for 56.7 g of scarf.*weighs 226.8 g"):
        most(plan, have, {}, of_system("metric"))


def test_what_is_left_is_left_of_whole_pieces() -> None:
    (left,) = most(read(GOODS, "x.dye"), {"skins": amount("250 g", "skins")}, {}).left
    assert left.low == 250 - (120 + 350) / 2


@pytest.mark.parametrize("counted", ["3 skeins", "3 pieces", "3 hanks", "3 balls"])
def test_yarn_is_wound_into_what_there_is(counted: str) -> None:
    yarn = GOODS.replace("silk scarf, 60 g", "silk yarn, 60 g")
    yarn = yarn.replace("silk shawls, 3 pieces", f"silk yarn, {counted}")
    assert at_hand(yarn, 60) == {"scarf": Fraction(240, 7), "shawls": Fraction(600, 7)}
