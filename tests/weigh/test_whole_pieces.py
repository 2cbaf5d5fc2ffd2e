"""Batches of several lots: each is of whole skeins, and fits the pot."""

from __future__ import annotations

from fractions import Fraction

from procedure.facts.pot_fit import Fit, fits
from procedure.pipeline import read
from procedure.wording import said

PLAN = """procedure "Batches"
fibre
  yarn: wool yarn, {yarn}, scoured
  silk: silk yarn, {silk}, scoured
equipment
  kettle: stainless steel pot, {pot} L, lidded, for dyeing only
materials
  weld: weld, dried
steps
  bath: prepare in kettle with water 30 : 1 of yarn and silk, weld 100 g
  dye yarn, silk in bath from 30 °C to 80 °C over 45 min for 1 h
"""


def fit(yarn: str, silk: str, pot: int = 10) -> Fit:
    return fits(read(PLAN.format(yarn=yarn, silk=silk, pot=pot), "batches.dye").study)[-1]


def test_skeins_of_two_weights_are_shared_out_whole() -> None:
    found = fit("400 g, 4 skeins", "150 g, 3 skeins")
    weights = {"yarn": Fraction(100), "silk": Fraction(50)}
    each = [{lot.name: many for lot, many in batch.items()} for batch in found.shared_out]
    assert len(each) == 3
    assert sum(batch.get("yarn", 0) for batch in each) == 4
    assert sum(batch.get("silk", 0) for batch in each) == 3
    for batch in each:
        grams = sum(weights[lot] * many for lot, many in batch.items())
        assert grams <= found.most_of_fibre
    assert "in 3 batches of whole pieces: " in said(found.advised)
    assert sum(found.batches) == 7


def test_where_one_lot_is_not_counted_no_skein_is_cut_all_the_same() -> None:
    told = said(fit("400 g, 4 skeins", "150 g").advised)
    assert "batches of at most 2" in told and told.endswith("no piece cut.")


def test_a_skein_too_large_for_the_pot_wants_a_larger_one() -> None:
    told = said(fit("400 g, 1 skein", "150 g, 3 skeins", pot=5).advised)
    assert told == "Use a larger pot, or less liquor."


def test_what_is_not_counted_is_shared_by_weight() -> None:
    assert "of fibre each" in said(fit("400 g", "150 g").advised)
