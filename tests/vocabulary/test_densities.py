"""Densities of strong solutions, against a model of the literature.

The figures are those of M. Laliberté and W. E. Cooper, Model for calculating the density of
aqueous electrolyte solutions, J. Chem. Eng. Data 49 (2004) 1141, at 20 °C, as the package thermo
computes them (``Laliberte_density``); of spirit those of The United States Pharmacopeia 29,
alcoholometric table, by weight.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

import procedure
from procedure.vocabulary import vocabulary
from procedure.vocabulary.densities import density
from procedure.vocabulary.library import rows

OUTSIDE = {
    ("sulphuric acid", 10): 1.067,
    ("sulphuric acid", 30): 1.219,
    ("sulphuric acid", 40): 1.304,
    ("hydrochloric acid", 10): 1.047,
    ("hydrochloric acid", 20): 1.098,
    ("hydrochloric acid", 30): 1.149,
    ("nitric acid", 30): 1.180,
    ("nitric acid", 70): 1.410,
    ("ammonia", 10): 0.959,
    ("ammonia", 25): 0.907,
    ("lye", 10): 1.109,
    ("lye", 30): 1.326,
    ("lye", 50): 1.516,
    ("caustic potash", 20): 1.187,
    ("caustic potash", 40): 1.397,
    ("alcohol", 10): 0.983,
    ("alcohol", 20): 0.970,
    ("alcohol", 30): 0.957,
}


@pytest.mark.parametrize(("material", "percent"), OUTSIDE)
def test_a_density_is_that_of_the_literature_to_a_twentieth(material: str, percent: int) -> None:
    assert float(density(material, Fraction(percent))) == pytest.approx(
        OUTSIDE[material, percent], abs=0.03
    )


def test_each_row_is_of_a_known_material_and_in_order() -> None:
    known = vocabulary().tables["assistants"]
    assert {row["material"] for row in rows("densities")} <= set(known)
    order = [(row["material"], float(row["percent"])) for row in rows("densities")]
    assert order == sorted(order)


@pytest.mark.parametrize(
    ("material", "percent"), [("vinegar", 5), ("ammonia", None), ("hydrogen peroxide", 3)]
)
def test_what_is_weak_or_not_known_weighs_as_water(material: str, percent: int | None) -> None:
    assert density(material, None if percent is None else Fraction(percent)) == 1


def test_a_bath_counts_what_was_poured_by_its_weight() -> None:
    text = (
        'procedure "x"\nequipment\n  jar: glass jar, 3 L\nmaterials\n'
        "  acid: sulphuric acid, 95 %\nsteps\n  a: prepare in jar with water 1 L, acid 100 mL"
    )
    plan = procedure.read(text, "x.dye")
    (grams,) = [one.grams for one in plan.trace.moments[-1].after.baths["a"].contents.values()]
    assert grams is not None and grams[0] == 185
