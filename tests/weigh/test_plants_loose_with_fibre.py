"""Plants loose in the bath with the fibre, dyed together, and picked or shaken out afterwards."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from procedure.pipeline import Judged, read
from procedure.weigh.weighing import weigh

TEXT = """procedure "Onion skins and wool in one bath"
  by "Fellside Dye Circle"
  revised 2026-06-14
  source "our own workshop"
  makes "a skein of golden brown wool"
  place ventilated
  wearing gloves

fibre
  yarn: wool yarn, 100 g, scoured

equipment
  pot:    stainless steel pot, 8 L, lidded, for dyeing only
  bucket: plastic bucket, 10 L, for dyeing only

materials
  skins: onion skins, dried

steps
  wet out yarn in bucket with water 4 L at 30 °C for 1 h
  gold-bath: prepare in pot with water 4 L
  {together}
  dye yarn in gold-bath from 15 °C to 85 °C over 1 h for 1 h
  cool gold-bath to 30 °C overnight covered labelled
  lift yarn from gold-bath
  {apart}
  strain gold-bath
  rinse yarn in bucket with water 4 L at 30 °C until "the water runs clear"
  dry yarn
  discard gold-bath to "foul drain"
  clean pot, bucket
"""

TOGETHER = [
    "put yarn and 100 g of the skins into gold-bath together",
    "enter yarn and skins 100 g in gold-bath",
    "add yarn and skins 100 g to gold-bath",
]
APART = [
    "shake the skins out of the yarn",
    "pick skins out of yarn",
    "shake off the skins",
    "lift out skins from gold-bath",
    'throw out skins to "compost"',
]


def judged(together: str, apart: str) -> Judged:
    text = TEXT.format(together=together, apart=apart)
    return read(text, "skins.dye", Path("skins.dye"))


@pytest.mark.parametrize("apart", APART)
@pytest.mark.parametrize("together", TOGETHER)
def test_plants_dyed_loose_beside_the_fibre_are_followed(together: str, apart: str) -> None:
    plan = judged(together, apart)
    assert [one.sentence for one in plan.findings] == []
    rows = [row for row in weigh(plan).rows if row.thing == "skins"]
    assert [(row.low, row.high) for row in rows] == [(Fraction(100), Fraction(100))]
    assert not any(row.gap for row in rows)


def test_a_plant_among_fibre_that_is_dyed_is_told_where_it_goes() -> None:
    text = TEXT.format(together="add skins 100 g to gold-bath", apart="shake out the skins")
    plan = read(text.replace("dye yarn in", "dye yarn and skins together in"), "skins.dye")
    (told,) = [one for one in plan.findings if one.rule == "wrong-kind-of-thing"]
    assert "add skins to gold-bath" in told.remedy
