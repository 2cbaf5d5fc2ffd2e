"""What is parted off by the skein grows with its lot, as what is parted off by weight does."""

from fractions import Fraction

import pytest

from procedure.pipeline import read
from procedure.rework.scaling import scale

TEXT = """procedure "In skeins"
fibre
  yarn: wool yarn, 8 skeins of 25 g, scoured
equipment
  pot: stainless steel pot, 30 L, lidded, for dyeing only
materials
  madder: madder root, dried
steps
  split yarn into red {red}, coral {red}, salmon
  split red into first {first}, second
  dye-bath: prepare in pot with water 6 L, madder 100 % of red
  dye first, second, coral, salmon in dye-bath at 60 °C for 1 h
"""


@pytest.mark.parametrize("grams", [600, 250, 100, 50])
def test_parts_in_skeins_grow_as_parts_in_grams_do(grams: int) -> None:
    weights = []
    for red, first in (("2 skeins", "1 skein"), ("50 g", "25 g")):
        plan = read(TEXT.format(red=red, first=first))
        grown = scale(plan, {"yarn": Fraction(grams)}).plan
        assert "parts-and-whole" not in {one.rule for one in grown.findings}
        lots = grown.trace.final.lots
        weights.append({name: lots[name].weight for name in ("first", "second", "coral", "salmon")})
    assert weights[0] == weights[1]
    salmon = weights[0]["salmon"]
    assert salmon is not None and salmon.middle == Fraction(grams, 2)


ODD = """procedure "An odd number of skeins"
fibre
  yarn: wool yarn, 3 skeins, 300 g, scoured
steps
  split yarn into {parts}
"""


@pytest.mark.parametrize("grams", [350, 400, 450, 600])
@pytest.mark.parametrize(
    ("parts", "red"),
    [
        ("red 1 skein, blue 2 skeins", Fraction(3)),
        ("red 2 skeins, blue", Fraction(3, 2)),
        ("red 2 skeins, blue\n  split blue into half 1 skein", Fraction(3, 2)),
    ],
)
def test_a_part_is_weighed_where_a_skein_of_its_lot_would_be_cut(
    grams: int, parts: str, red: Fraction
) -> None:
    grown = scale(read(ODD.format(parts=parts)), {"yarn": Fraction(grams)}).plan
    lots = grown.trace.final.lots
    weights = {name: lot.weight for name, lot in lots.items() if name != "yarn"}
    assert all(weight is not None for weight in weights.values())
    first = weights["red"]
    assert first is not None and first.middle == grams / red
