"""Whatever “for each” calls the thing whose turn it is, an amount of that name is of that thing."""

from fractions import Fraction

import pytest

from procedure.pipeline import read
from procedure.rules.example_kit import whole
from procedure.weigh.weighing import weigh

TEXT = """fibre
  yarn: wool yarn, 80 g, scoured
steps
  split yarn into ash 50 g, birch
  for each NAME in ash, birch
    wet out NAME in tub with water 4 L for 1 h
    alum-bath: prepare in kettle with water 30 : 1 of NAME, alum 12 % of NAME at 30 °C
    mordant NAME in alum-bath from 30 °C to 80 °C over 1 h for 1 h
    rinse NAME in tub with water 4 L
    discard alum-bath to "foul drain"
    clean kettle
"""


@pytest.mark.parametrize(
    "name", ["skein", "hank", "ball", "wool", "yarns", "fibre", "lot", "piece"]
)
def test_a_share_of_the_name_is_of_the_lot_whose_turn_it_is(name: str) -> None:
    made = weigh(read(whole(TEXT.replace("NAME", name)), "turns.dye"))
    found = [row.low for row in made.rows if row.called == "alum"]
    assert found == [6, Fraction("3.6")]  # 12 % of 50 g and of 30 g
    baths = [row.low for row in made.rows if row.called == "water" and "30 : 1" in row.written]
    assert baths == [Fraction("1.5"), Fraction("0.9")]


def test_behind_the_block_a_word_for_all_the_yarn_means_all_of_it() -> None:
    text = TEXT.replace("NAME", "skein") + (
        "  tan-bath: prepare in kettle with water 4 L, tannin 10 % of all yarn\n"
        "  steep ash, birch in tan-bath for 1 h\n"
        '  discard tan-bath to "foul drain"\n'
    )
    made = weigh(read(whole(text), "turns.dye"))
    assert [row.low for row in made.rows if row.called == "tannin"] == [8]
