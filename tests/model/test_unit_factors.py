"""Every unit against the outside: NIST SP 811 by hand, and pint for all of them."""

from __future__ import annotations

import csv
from fractions import Fraction
from pathlib import Path

import pytest
from units_outside import units_of_pint

import procedure
from procedure.vocabulary import Unit, library, vocabulary

# NIST Special Publication 811 (2008), appendix B.8, as printed: one of it is so many
# of the base unit. Bold figures there are exact; those are marked so here.
NIST = {
    "lb": ("g", Fraction("453.59237")),  # pound (avoirdupois): 4.5359237 E-01 kg, exact
    "oz": ("g", Fraction("28.349523125")),  # ounce (avoirdupois): 2.834952 E-02 kg; lb/16
    "US gal": ("L", Fraction("3.785411784")),  # gallon (US): 3.785412 E-03 m3; 231 in3
    "imp gal": ("L", Fraction("4.54609")),  # gallon (UK): 4.54609 E-03 m3, exact
    "in": ("m", Fraction("0.0254")),  # inch: 2.54 E-02 m, exact
    "ft": ("m", Fraction("0.3048")),  # foot: 3.048 E-01 m, exact
    "yd": ("m", Fraction("0.9144")),  # yard: 9.144 E-01 m, exact
    "min": ("min", Fraction(1)),  # minute: 60 s, exact
    "h": ("min", Fraction(60)),  # hour: 3600 s, exact
    "d": ("min", Fraction(1440)),  # day: 86 400 s, exact
}
# The parts of the gallons: a quart is a quarter and a pint an eighth of either; a
# fluid ounce is 1/128 of the US and 1/160 of the imperial gallon (NIST SP 811, B.8:
# 2.957353 E-05 m3 and 2.841306 E-05 m3).
PARTS = {"qt": (4, 4), "pt": (8, 8), "fl oz": (128, 160)}

# What pint calls our units; those that it lacks or that are of the trade only have None.
PINT = {
    "g": "gram",
    "kg": "kilogram",
    "mg": "milligram",
    "lb": "pound",
    "oz": "ounce",
    "L": "liter",
    "mL": "milliliter",
    "US gal": "US_liquid_gallon",
    "US qt": "US_liquid_quart",
    "US pt": "US_pint",
    "US fl oz": "US_fluid_ounce",
    "imp gal": "imperial_gallon",
    "imp qt": "imperial_quart",
    "imp pt": "imperial_pint",
    "imp fl oz": "imperial_fluid_ounce",
    "°C": "degree_Celsius",
    "°F": "degree_Fahrenheit",
    "min": "minute",
    "s": "second",
    "h": "hour",
    "d": "day",
    "wk": "week",
    "fortnight": "fortnight",
    "m": "meter",
    "cm": "centimeter",
    "mm": "millimeter",
    "in": "inch",
    "ft": "foot",
    "yd": "yard",
    "%": "percent",
    "g/L": "gram/liter",
    "mL/L": "milliliter/liter",
    "kW": "kilowatt",
    "W": "watt",
}
# A gallon and its parts with no country, and measures by the spoon or the piece.
NO_UNIT_OF_PINT = {
    "gal",
    "qt",
    "pt",
    "fl oz",
    "teaspoon",
    "tablespoon",
    "cup",
    "drop",
    "pinch",
    "handful",
    # Measures of kitchens outside the United States, which pint lacks.
    "metric teaspoon",
    "metric tablespoon",
    "Australian tablespoon",
    "metric cup",
    "imp cup",
    "US teaspoon",
    "US tablespoon",
    "US cup",
    "skein",
    "piece",
}
BASES = {
    "mass": "gram",
    "volume": "liter",
    "temperature": "degree_Celsius",
    "time": "minute",
    "length": "meter",
    "percent": "dimensionless",
    "concentration": "gram/liter",
    "concentration by volume": "dimensionless",
    "power": "watt",
}


def rows() -> list[dict[str, str]]:
    with (Path(library.__file__).parent / "data" / "units.csv").open(encoding="utf-8") as lines:
        return list(csv.DictReader(lines))


def unit(name: str) -> Unit:
    return vocabulary().units[name]


@pytest.mark.parametrize(("name", "factor"), [(n, f) for n, (_, f) in NIST.items()])
def test_factor_of_nist(name: str, factor: Fraction) -> None:
    assert unit(name).factor == factor == unit(name).factor_high


@pytest.mark.parametrize("part", PARTS)
def test_parts_of_the_gallons(part: str) -> None:
    of_us, of_imperial = PARTS[part]
    us = NIST["US gal"][1] / of_us
    imperial = NIST["imp gal"][1] / of_imperial
    assert unit(f"US {part}").factor == us
    assert unit(f"imp {part}").factor == imperial
    assert (unit(part).factor, unit(part).factor_high) == (min(us, imperial), max(us, imperial))


def test_a_gallon_without_a_country_may_be_either() -> None:
    assert unit("gal").vague
    assert (unit("gal").factor, unit("gal").factor_high) == (NIST["US gal"][1], NIST["imp gal"][1])


@pytest.mark.parametrize(
    ("fahrenheit", "celsius"),
    # t/°F = 1.8 t/°C + 32 (NIST SP 811, B.8)
    [(32, 0), (212, 100), (176, 80), (185, 85), (-40, -40), (98.6, 37)],
)
def test_fahrenheit(fahrenheit: float, celsius: int) -> None:
    one = unit("°F")
    assert (Fraction(str(fahrenheit)) + one.offset) * one.factor == celsius


def test_each_unit_is_either_in_pint_or_of_the_trade_only() -> None:
    assert {row["name"] for row in rows()} == set(PINT) | NO_UNIT_OF_PINT


@pytest.mark.parametrize("name", PINT)
def test_pint_agrees(name: str) -> None:
    quantity = units_of_pint().Quantity
    one = unit(name)
    for value in (1, 12):
        theirs = quantity(value, PINT[name]).to(BASES[one.kind]).magnitude
        ours = (value + one.offset) * one.factor
        assert float(ours) == pytest.approx(theirs, rel=1e-9)


@pytest.mark.parametrize(
    ("name", "theirs"), [("teaspoon", 0.005), ("tablespoon", 0.015), ("drop", 0.00005)]
)
def test_spoons_are_metric_ones(name: str, theirs: float) -> None:
    # Common practice: 5 mL, 15 mL and about 20 drops to the millilitre; all of them loose.
    assert (unit(name).kind, float(unit(name).factor)) == ("spoon", theirs)


def test_a_cup_is_between_the_us_and_the_imperial_half_pint() -> None:
    quantity = units_of_pint().Quantity
    us = quantity(1, "US_pint").to("liter").magnitude / 2
    imperial = quantity(1, "imperial_pint").to("liter").magnitude / 2
    assert float(unit("cup").factor) == pytest.approx(us, rel=1e-5)
    assert float(unit("cup").factor_high) == pytest.approx(imperial, rel=1e-5)


@pytest.mark.parametrize("row", rows(), ids=lambda row: row["name"])
def test_every_alias_is_read_as_its_unit(row: dict[str, str]) -> None:
    for alias in (row["name"], *[a.strip() for a in row["aliases"].split(";") if a.strip()]):
        text = f'procedure "x"\nfibre\n  yarn: wool yarn, "x" 3 {alias}\n'
        (written,) = procedure.read(text).model.written
        assert written.quantity.unit is not None, alias
        assert written.quantity.unit.name == row["name"], alias
        if alias == "m":
            continue  # in a step, “5 m” behind a thing is asked about: metres, or minutes?
        # A bare heat or time behind a thing is a clause of the step by itself.
        clause = {"time": "for", "temperature": "at"}.get(row["kind"])
        said = f"{clause} 3 {alias} with water 2 L" if clause else f"with soap 3 {alias}, water 2 L"
        step = f'procedure "x"\nsteps\n  wash yarn {said}\n'
        first, _ = procedure.read(step).model.written
        assert first.quantity.unit is not None, alias
        assert first.quantity.unit.name == row["name"], alias
