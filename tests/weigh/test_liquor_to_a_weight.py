"""Gallons to the pound and litres to the kilogram: a liquor ratio in a dyer's own measures."""

from fractions import Fraction

import pytest

from procedure.pipeline import Judged, read
from procedure.rework.scaling import scale
from procedure.rules.example_kit import whole
from procedure.weigh.weighing import weigh

TEXT = whole(
    "steps\n  wet out yarn in tub with water AMOUNT for 1 h\n  rinse yarn in tub with water 5 L\n"
)


def plan(amount: str) -> Judged:
    return read(TEXT.replace("AMOUNT", amount), "liquor.dye")


def litres(of: Judged) -> tuple[float, float]:
    row = next(row for row in weigh(of).rows if row.thing == "water")
    return float(row.low or 0), float(row.high or 0)


# 100 g of yarn. A US gallon is 3.785411784 L, an imperial one 4.54609 L, a pound 453.59237 g
# (NIST SP 811, App. B.8).
@pytest.mark.parametrize(
    ("amount", "low", "high"),
    [
        ("30 L per kg of yarn", 3.0, 3.0),
        ("3 L per 100 g", 3.0, 3.0),
        ("4 imp gal per lb of yarn", 4 * 4.54609 / 4.5359237, 4 * 4.54609 / 4.5359237),
        ("4 US gal per lb", 4 * 3.785411784 / 4.5359237, 4 * 3.785411784 / 4.5359237),
        ("3 to 4 US gal per lb of yarn", 3 * 3.785411784 / 4.5359237, 4 * 3.785411784 / 4.5359237),
        ("4 gal per lb of yarn", 4 * 3.785411784 / 4.5359237, 4 * 4.54609 / 4.5359237),
    ],
)
def test_what_so_much_to_a_weight_comes_to(amount: str, low: float, high: float) -> None:
    assert litres(plan(amount)) == pytest.approx((low, high), rel=1e-4)


def test_it_grows_with_the_fibre() -> None:
    grown = scale(plan("30 L per kg of yarn"), {"yarn": Fraction(300)})
    assert litres(grown.plan) == pytest.approx((9, 9))


def test_whose_gallon_it_is_is_asked() -> None:
    asked = [one.sentence for one in plan("4 gal per lb of yarn").findings]
    assert any("may be US or imperial" in one for one in asked)
    sure = [one.sentence for one in plan("4 US gal per lb of yarn").findings]
    assert not any("may be US or imperial" in one for one in sure)


def test_a_plant_by_volume_is_no_weight_of_it() -> None:
    text = whole(
        "materials\n  bran: bran\nsteps\n"
        "  wet out yarn in tub with water 5 L for 1 h\n"
        "  bran-bath: prepare in kettle with water 4 L, bran 2 L per kg of yarn at 40 °C\n"
        "  steep yarn in bran-bath for 1 h\n"
        "  rinse yarn in tub with water 5 L\n"
    )
    row = next(row for row in weigh(read(text, "bran.dye")).rows if row.thing == "bran")
    assert row.kind == "volume"
    assert float(row.low or 0) == pytest.approx(0.2)
