"""Quantities that cannot be read one way only: each gives its own finding, at its place."""

from __future__ import annotations

import pytest
from expecting import findings, place

from procedure.findings import Finding

SOUND = '''alum-bath: prepare in kettle with water 3 L, alum 12 % of yarn
wet out yarn in tub with water 5 L at 30 °C for 1 h
simmer alum-bath at 85 °C for 10 min
mordant yarn in alum-bath from 30 °C to 85 °C over 45 min for 1 h
rinse yarn in tub with water 5 L
discard alum-bath to "foul drain"'''

# The words as they are sound, the slip in them, the rule, its level, and what is said.
SLIPS = [
    ("12 % of yarn", "12 %", "taken-of-the-fibre", "note", "of yarn"),
    ("at 30 °C", "at 30 min", "wrong-quantity", "error", "temperature"),
    ("for 1 h", "for 30 °C", "wrong-quantity", "error", "time"),
    ("over 45 min", "over 45 g", "wrong-quantity", "error", "time"),
    ("water 3 L", "water 2 gal", "which-gallon", "error", "imp gal"),
    ("water 3 L", "water 5 qt", "which-gallon", "error", "US qt"),
    ("water 3 L", "water 5 pints", "which-gallon", "error", "US pt"),
    ("water 3 L", "water 90 fl oz", "which-gallon", "error", "imp fl oz"),
    ("alum 12 % of yarn", "alum 1 tsp", "loose-measure", "note", "weight"),
    ("alum 12 % of yarn", "alum a handful", "loose-measure", "note", "weight"),
    ("alum 12 % of yarn", "alum some", "loose-measure", "note", "weight"),
    ("to 85 °C", "to 110 °C", "hotter-than-boiling", "error", "100 °C"),
    ("to 85 °C", "to 250 °F", "hotter-than-boiling", "error", "100 °C"),
    ("at 30 °C", "at -5 °C", "below-freezing", "error", "below freezing"),
    ("at 85 °C", "at 45 °C", "heat-word-mismatch", "warning", "80 to 95 °C"),
    ("water 3 L", "water 4 oz", "ounces-of-water", "warning", "fl oz"),
    ("with water 3 L", "with 4 oz of water", "ounces-of-water", "warning", "fl oz"),
    ("12 % of yarn", "8 to 3 % of yarn", "range-backwards", "error", "3 to 8 % of yarn"),
    ("12 % of yarn", "8–3 % of yarn", "range-backwards", "error", "3 – 8 % of yarn"),
    ("water 3 L", "water 3", "number-without-unit", "error", "unit"),
    ("water 3 L", "water 3 litters", "unknown-unit", "error", "litters"),
    # A capital that may be another unit is asked about.
    ("water 3 L", "water 3 M", "unknown-unit", "error", "“M”"),
    ("alum 12 % of yarn", "alum 2 T", "unknown-unit", "error", "“T”"),
    ("alum 12 % of yarn", "alum 2 t", "unknown-unit", "error", "1000000 g"),
    ("alum 12 % of yarn", "alum 2 Mg", "unknown-unit", "error", "“Mg”"),
    ("alum 12 % of yarn", "alum 2 c", "wrong-quantity", "error", "temperature"),
    ("for 1 h", "for 1 H", "unknown-unit", "error", "“H”"),
    ("for 10 min", "for 10 m", "wrong-quantity", "error", "length"),
    ("12 % of yarn", "0 g", "nothing-of-it", "error", "nothing"),
    ("12 % of yarn", "-5 g", "nothing-of-it", "error", "less than nothing"),
    ("alum 12 % of yarn", "alum unstated", "amount-unstated", "note", "how much"),
    ("alum 12 % of yarn", "alum", "amount-unstated", "note", "how much alum"),
    ("for 10 min", "for unstated", "time-unstated", "note", "how long"),
    ("at 30 °C", "at unstated", "heat-unstated", "note", "how hot"),
    ("water 3 L", "water unstated", "water-unstated", "note", "how much water"),
]


def units_of(example: str) -> list[Finding]:
    from procedure.rules import RULES
    from procedure.rules.units import unlikely

    names = {rule.name for rule in RULES if rule.family == "units" and rule not in unlikely.RULES}
    return [finding for finding in findings(example) if finding.rule in names]


def test_the_sound_one_has_none() -> None:
    assert units_of(SOUND) == []


@pytest.mark.parametrize(("sound", "slip", "rule", "level", "said"), SLIPS)
def test_slip(sound: str, slip: str, rule: str, level: str, said: str) -> None:
    example = SOUND.replace(sound, slip, 1)
    assert example != SOUND
    (found,) = units_of(example)
    assert (found.rule, found.level) == (rule, level)
    assert said in f"{found.sentence} {found.remedy}"
    line, column, to = place(example, f", {slip}" if slip == "alum" else f" {slip}")
    column += 1
    assert found.line == line
    if not rule.endswith("-unstated"):
        assert column <= found.column and found.to <= to


def test_cooling_to_a_higher_heat_is_a_slip() -> None:
    example = SOUND.replace("discard", "cool alum-bath from 30 °C to 60 °C\ndiscard")
    assert [f.rule for f in units_of(example)] == ["wrong-direction"]


def test_a_liquor_ratio_of_nothing() -> None:
    (found,) = units_of(SOUND.replace("water 3 L", "water 30 : 1"))
    assert found.rule == "taken-of-the-fibre" and "30 : 1 of yarn" in found.remedy


@pytest.mark.parametrize(
    ("altitude", "offends"),
    # Water boils near 95 °C at 1500 m and near 90 °C at 3000 m (ISO 2533 air pressure).
    [("0 m", False), ("1500 m", True), ("3000 m", True), ("10000 ft", True)],
)
def test_98_degrees_cannot_be_had_in_the_mountains(altitude: str, offends: bool) -> None:
    example = f'procedure "x"\n  altitude {altitude}\nsteps\n  ' + SOUND.replace(
        "to 85 °C", "to 98 °C"
    ).replace("\n", "\n  ")
    assert ("hotter-than-boiling" in {f.rule for f in units_of(example)}) is offends


def test_110_degrees_may_have_been_fahrenheit() -> None:
    (found,) = units_of(SOUND.replace("to 85 °C", "to 110 °C"))
    assert "43.3 °C" in found.remedy  # (110 - 32) / 1.8 = 43.33


def test_a_unit_from_elsewhere_is_told_what_it_is() -> None:
    (found,) = units_of(SOUND.replace("12 % of yarn", "12 carat"))
    assert found.rule == "unknown-unit" and "0.2 g;" in found.remedy  # a metric carat


def test_a_range_backwards_has_no_safe_edit_since_either_number_may_be_the_slip() -> None:
    (found,) = units_of(SOUND.replace("12 % of yarn", "8 to 3 % of yarn"))
    assert found.edit is None
