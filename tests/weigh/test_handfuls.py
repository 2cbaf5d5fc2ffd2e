"""Handfuls and pinches: ranges of grams, told as loose once, grown only where they say per what."""

from fractions import Fraction

import pytest

from procedure.pipeline import Judged, read
from procedure.rework.scaling import scale
from procedure.rules.example_kit import whole
from procedure.weigh.weighing import weigh

TEXT = whole(
    "materials\n  bran: bran\nsteps\n"
    "  wet out yarn in tub with water 5 L for 1 h\n"
    "  bran-bath: prepare in kettle with water 4 L, AMOUNT at 40 °C\n"
    "  steep yarn in bran-bath for 1 h\n"
    "  rinse yarn in tub with water 5 L\n"
)


def plan(amount: str) -> Judged:
    return read(TEXT.replace("AMOUNT", amount), "bran.dye")


def bran(of: Judged) -> tuple[Fraction | None, Fraction | None, tuple[str, ...]]:
    (row,) = [row for row in weigh(of).rows if row.thing == "bran"]
    return row.low, row.high, (row.note,) if isinstance(row.note, str) else tuple(row.note)


# 58 g of bran in a cup of 237 mL (USDA SR28, 20077), 256 to 320 kg/m3 in tables of bulk
# densities: 0.22 to 0.33 g/mL; a handful is 60 to 120 mL.
@pytest.mark.parametrize(
    ("amount", "low", "high"),
    [
        ("a handful of bran", 13.2, 39.6),
        ("2 handfuls of bran", 26.4, 79.2),
        ("a handful of bran per 50 g of yarn", 26.4, 79.2),
        ("bran a handful per 100 g of yarn", 13.2, 39.6),
        ("a pinch of bran", 0.066, 0.198),
    ],
)
def test_what_a_handful_weighs(amount: str, low: float, high: float) -> None:
    found = bran(plan(amount))
    assert (float(found[0] or 0), float(found[1] or 0)) == pytest.approx((low, high))


def test_a_handful_per_what_grows_and_another_does_not() -> None:
    grown = scale(plan("a handful of bran per 100 g of yarn"), {"yarn": Fraction(300)})
    assert float(bran(grown.plan)[0] or 0) == pytest.approx(3 * 13.2)
    alone = bran(scale(plan("a handful of bran"), {"yarn": Fraction(300)}).plan)
    assert float(alone[0] or 0) == pytest.approx(13.2)
    assert "does not grow with the fibre" in " ".join(alone[2])


@pytest.mark.parametrize("amount", ["a handful of bran", "a handful of bran per lb of yarn"])
def test_it_is_told_once_as_loose(amount: str) -> None:
    told = [f for f in plan(amount).findings if f.rule == "loose-measure"]
    assert len(told) == 1
