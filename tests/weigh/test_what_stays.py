"""A fixed bath stays as it is, with all that is made ready for it alone, wherever that is done."""

from fractions import Fraction

import pytest

from procedure.pipeline import read
from procedure.rework.scaling import scale
from procedure.rules.example_kit import whole
from procedure.weigh.weighing import weigh

VAT = "  vat: prepare in kettle with water 8 L, soda 20 g fixed\n"


def twice_the_fibre(steps: str) -> dict[str, Fraction | None]:
    """The low end of each material, in grams or litres, for 200 g of yarn instead of 100 g."""
    made = read(whole("equipment\n  bag: net bag, for dyeing only\nsteps\n" + steps), "vat.dye")
    return {r.thing: r.low for r in weigh(scale(made, {"yarn": Fraction(200)}).plan).rows}


@pytest.mark.parametrize(
    "readied",
    [
        "  iron-water: dissolve iron 20 g in pan with hot water 1 L\n  add iron-water to vat\n",
        "  grind iron 20 g with water unstated\n  add iron to vat\n",
        "  chop iron 20 g\n  fill bag with iron\n  lower bag into vat\n",
        "  fill bag with iron 20 g\n  lower bag into vat\n",
        "  soak iron 20 g in pan with water 1 L overnight\n  strain pan into vat\n",
        "  first: dissolve iron 20 g in jar with hot water 1 L\n"
        "  second: prepare in pan with water 1 L\n  add first to second\n  add second to vat\n",
        "  draw off 1 L of vat into pan as starter\n  add iron 20 g to starter\n"
        "  add starter to vat\n",
    ],
)
def test_what_goes_into_a_fixed_bath_alone_stays(readied: str) -> None:
    found = twice_the_fibre(VAT + readied + "  dip yarn in vat for 5 min\n")
    assert found["iron"] == found["soda"] == 20


def test_what_is_also_for_fibre_grows() -> None:
    shared = "  iron-water: dissolve iron 20 g in pan with hot water 1 L\n"
    shared += "  add half of iron-water to vat\n  modify yarn in iron-water at 40 °C for 5 min\n"
    assert twice_the_fibre(VAT + shared)["iron"] == 40


def test_what_is_drawn_off_for_fibre_grows_with_it_as_what_is_added_to_it_does() -> None:
    drawn = "  draw off 2 L of vat into pan as dye-bath\n  add iron 5 g to dye-bath\n"
    drawn += "  dye yarn in dye-bath at 40 °C for 1 h\n"
    made = read(whole("steps\n" + VAT + drawn), "vat.dye")
    grown = scale(made, {"yarn": Fraction(200)}).plan
    volume = grown.trace.final.baths["dye-bath"].volume
    assert volume is not None and volume.middle == 4
    assert twice_the_fibre(VAT + drawn)["iron"] == 10
    assert twice_the_fibre(VAT + drawn)["soda"] == 20
