"""Figures against the packages and standards that carry them."""

from __future__ import annotations

from fractions import Fraction

import pytest
from ambiance import Atmosphere
from iapws import IAPWS97
from iapws.iapws97 import _PSat_T, _TSat_P
from molmass import ELEMENTS, Formula

from procedure.model import Place, Quantity
from procedure.trace.boiling import boiling_point
from procedure.vocabulary import formula_weights
from procedure.vocabulary.estimates import water_at
from procedure.vocabulary.library import rows


@pytest.mark.parametrize("row", rows("atomic_weights"), ids=lambda row: row["symbol"])
def test_atomic_weights_are_those_of_molmass(row: dict[str, str]) -> None:
    assert float(row["weight"]) == pytest.approx(ELEMENTS[row["symbol"]].mass, rel=2e-4)


def trade(formula: str) -> float:
    """Grams per mole of a formula with water of crystals, by molmass."""
    total = 0.0
    for part in formula.split("·"):
        bare = part.lstrip("0123456789")
        total += int(part.removesuffix(bare) or 1) * float(Formula(bare).mass)
    return total


FORMULAS = sorted(
    {row["formula"] for table in ("mordants", "assistants", "salts_as_sold") for row in rows(table)}
    - {""}
)


@pytest.mark.parametrize("formula", FORMULAS)
def test_formula_weights_are_those_of_molmass(formula: str) -> None:
    assert float(formula_weights.weight(formula)) == pytest.approx(trade(formula), rel=2e-4)


def test_the_weights_of_the_two_common_aluminium_salts() -> None:
    # Reference works give 474.39 and 666.42 g/mol (CRC Handbook; from memory, unverified).
    assert float(formula_weights.weight("KAl(SO4)2·12H2O")) == pytest.approx(474.39, abs=0.03)
    assert float(formula_weights.weight("Al2(SO4)3·18H2O")) == pytest.approx(666.42, abs=0.03)


@pytest.mark.parametrize(
    "bad", ["", "Xx", "Al2(SO4", "Al2SO4)3", "2", "()", "alum", "H0", "Al2 SO4"]
)
def test_what_is_no_formula_is_refused(bad: str) -> None:
    with pytest.raises(ValueError):
        formula_weights.weight(bad)


def test_water_of_crystals_is_told_from_the_salt() -> None:
    assert formula_weights.without_water("Na2CO3·10H2O") == formula_weights.atoms("Na2CO3")
    assert formula_weights.without_water("CuSO4·5H2O") == formula_weights.atoms("CuSO4")


@pytest.mark.parametrize("heat", [1, 5, 18, 25, 37, 45, 55, 66, 73, 85, 92, 99])
def test_water_is_that_of_iapws_between_the_lines_of_the_table(heat: int) -> None:
    water, true = water_at(heat), IAPWS97(T=heat + 273.15, P=0.101325)
    assert water.density == pytest.approx(true.rho / 1000, rel=5e-4)
    assert water.heat_capacity == pytest.approx(true.cp, rel=3e-3)
    assert water.vapour_pressure == pytest.approx(_PSat_T(heat + 273.15) * 1000, rel=8e-3)


def metres(height: int) -> Quantity:
    return Quantity("length", Fraction(height), Fraction(height), f"{height} m", Place(1, 1, 1))


@pytest.mark.parametrize("height", [-200, 0, 200, 500, 1000, 1500, 2000, 3000, 4000, 5500])
def test_water_boils_where_iapws_says_at_the_pressure_of_the_standard_atmosphere(
    height: int,
) -> None:
    # ISO 2533 / ICAO standard atmosphere from the ambiance package; water from IAPWS-IF97.
    pressure = float(Atmosphere(height).pressure[0])
    true = _TSat_P(pressure / 1e6) - 273.15
    assert float(boiling_point(metres(height))) == pytest.approx(true, abs=0.08)


def test_latent_heat_is_that_of_iapws_at_the_normal_boil() -> None:
    said = next(row for row in rows("estimates") if row["name"] == "latent heat")
    true = IAPWS97(T=373.15, x=1).h - IAPWS97(T=373.15, x=0).h
    assert float(said["low"]) == pytest.approx(true, rel=1e-3)


def test_every_figure_has_a_spread_a_unit_and_a_source() -> None:
    known = {row["key"] for row in rows("sources")}
    for row in rows("estimates"):
        low, high = Fraction(row["low"]), Fraction(row["high"])
        assert 0 < low <= high and row["unit"] and row["meaning"]
        for source in row["source"].split("; "):
            bare = source.split(" (")[0]
            assert source in known or bare in known, source
