"""A lot that is parted and joined again and again is of its first lot, in more ways than can be."""

from __future__ import annotations

from fractions import Fraction

import procedure
from procedure.pipeline import read
from procedure.rework.scaling import scale

TIMES = 60


def _text() -> str:
    lots = ["yarn", *(f"c{at}" for at in range(TIMES))]
    parted = "".join(
        f"  split {lots[at]} into a{at}, b{at}\n  join a{at}, b{at} as {lots[at + 1]}\n"
        for at in range(TIMES)
    )
    return f"""procedure "Parted and joined"
fibre
  yarn: wool yarn, 100 g, 5 skeins, scoured
equipment
  pot: stainless steel pot, 10 L, lidded, for dyeing only
materials
  alum: alum
  weld: weld, dried
steps
  al: prepare in pot with water 4 L, alum 12 g at 40 °C
  mordant yarn in al at 80 °C for 1 h
{parted}  gold: prepare in pot with water 4 L, weld 50 g
  dye {lots[-1]} in gold at 80 °C for 1 h
"""


def test_it_is_checked() -> None:
    """Whether it was in a vat before the weld is looked for in all that it comes of."""
    assert "mordant-not-rinsed" in {one.rule for one in procedure.read(_text()).findings}


def test_it_is_scaled() -> None:
    """Whether a skein would be cut is looked for in the lots that it is of."""
    grown = scale(read(_text()), {"yarn": Fraction(200)}).plan
    assert [str(lot.weight and lot.weight.text) for lot in grown.model.lots.values()] == ["200 g"]
