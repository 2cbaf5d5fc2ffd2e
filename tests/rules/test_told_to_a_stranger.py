"""Faults that a dyer with only the reference made, and was not told of: here in other words."""

from __future__ import annotations

from textwrap import dedent

import pytest
from expecting import findings, rules_of

FRAME = """
fibre
  wool: wool yarn, 100 g, scoured
  skein: wool yarn, 200 g, scoured
equipment
  pan: {pan}, 15 L, lidded, for dyeing only
  vessel: stainless steel pot, 15 L, lidded, for dyeing only
  tub: plastic tub, 20 L, for dyeing only
materials
  alum: potassium alum
  oil: sulphuric acid, 96 %
  tin: stannous chloride
  reducer: fructose
  copperas: ferrous sulphate
  lime: slaked lime
  soda: soda ash
  sour: vinegar, 5 %
  blue: indigo
  soap: neutral soap
steps
  wet out wool in tub with water 8 L at 20 °C for 1 h
"""


def told(steps: str, pan: str = "enamel pan") -> set[str]:
    lines = "".join(f"  {one.strip()}\n" for one in steps.strip().split("\n"))
    return rules_of(FRAME.format(pan=pan) + lines)


VAT = """vat: prepare in vessel with water 8 L, blue 6 g, soda 20 g, reducer 18 g at 48 °C
stand vat for 1 h covered
{between}
dip wool in vat at {heat} for 8 min
air wool for 15 min
discard vat to "foul drain"
"""


@pytest.mark.parametrize("heat", ["8 °C", "14 °C", "10 to 15 °C"])
def test_a_cold_sugar_vat_is_warmed_and_never_cooled(heat: str) -> None:
    found = told(VAT.format(between="stand vat for 20 min covered", heat=heat))
    assert "vat-dipped-cold" in found
    assert "bath-still-hot" not in found


@pytest.mark.parametrize("heat", ["35 °C", "45 to 50 °C", "22 °C"])
def test_a_vat_that_is_warm_enough_is_let_be(heat: str) -> None:
    assert "vat-dipped-cold" not in told(VAT.format(between="", heat=heat).replace("\n\n", "\n"))


def test_copperas_reduces_in_the_cold() -> None:
    """Mairet 1938, ch. X, has the copperas vat for cotton cold."""
    steps = VAT.format(between="cool vat to 15 °C", heat="15 °C")
    steps = steps.replace("soda 20 g, reducer 18 g", "lime 40 g, copperas 15 g")
    assert "vat-dipped-cold" not in told(steps)


def test_acid_goes_into_a_rinse_and_not_into_the_vat() -> None:
    soured = VAT.format(between="add sour 150 mL to vat", heat="45 °C")
    assert "acid-in-the-vat" in told(soured)
    after = VAT.format(between="heat vat to 48 °C", heat="45 °C").replace(
        "discard", "rinse wool in tub with water 8 L, sour 50 mL\ndiscard"
    )
    assert "acid-in-the-vat" not in told(after)


def test_a_vat_stirred_in_the_open_takes_up_air() -> None:
    steps = VAT.format(between="heat vat to 48 °C", heat="45 °C")
    open_one = steps.replace("1 h covered", "1 h uncovered stirring")
    assert "vat-left-open" in told(open_one)
    assert "vat-left-open" not in told(steps)


@pytest.mark.parametrize(("amount", "much"), [("90 mL", True), ("3 mL", False)])
def test_strong_acid_by_the_cup(amount: str, much: bool) -> None:
    steps = f"rinse wool in tub with water 8 L, oil {amount}"
    assert ("too-much-of-it" in told(steps)) is much


@pytest.mark.parametrize(("amount", "much"), [("400 g", True), ("8 g", False)])
def test_soap_by_the_pound(amount: str, much: bool) -> None:
    steps = f"wash wool in tub with water 8 L, soap {amount} at 30 °C for 5 min"
    assert ("too-much-of-it" in told(steps)) is much


def test_tin_salt_eats_aluminium() -> None:
    steps = "tin-bath: prepare in pan with water 4 L, tin 2 g at 40 °C"
    assert "must-not-meet" in told(steps, "aluminium pan")
    assert "must-not-meet" not in told(steps)


def test_a_share_is_of_the_lot_that_goes_in() -> None:
    bath = "alum-bath: prepare in pan with water 6 L, alum 10 % of {of} at 40 °C\n"
    goes = "mordant wool in alum-bath at 40 °C for 12 h"
    assert "share-of-another-lot" in told(bath.format(of="skein") + goes)
    assert "share-of-another-lot" not in told(bath.format(of="wool") + goes)


def test_what_is_lifted_went_in_before() -> None:
    bath = "alum-bath: prepare in pan with water 6 L, alum 10 g at 40 °C\n"
    entered = bath + "mordant wool in alum-bath at 40 °C for 12 h\n"
    assert "not-in-that-bath" in told(entered + "lift wool, skein from alum-bath")
    assert "not-in-that-bath" not in told(entered + "lift wool from alum-bath")


@pytest.mark.parametrize(
    ("place", "kept"),
    [
        ("a gravestone by the lane", True),
        ("the nature reserve, past the gate", True),
        ("the churchyard, with the owner's permission", False),
        ("our own garden", False),
    ],
)
def test_where_nothing_is_gathered(place: str, kept: bool) -> None:
    example = f"""
    materials
      tops: goldenrod tops, fresh, gathered 2026-08-12, from "{place}"
    steps
      gold-bath: prepare in kettle with water 3 L, tops 100 g
    """
    assert ("gathered-where-kept" in rules_of(example)) is kept


@pytest.mark.parametrize(("salt", "fresh_air"), [("chrome", True), ("alum", False)])
def test_a_mask_is_no_fresh_air_for_what_can_kill(salt: str, fresh_air: bool) -> None:
    """Regulation (EC) No 1272/2008, Annex IV, P271 beside P284."""
    example = f"""
    procedure "An example"
      by "Fellside Dye Circle"
      revised 2026-06-14
      place indoors
      wearing gloves, eye protection, mask
    materials
      alum: potassium alum
      chrome: potassium dichromate
    steps
      metal-bath: prepare in kettle with water 3 L, {salt} 2 g
    """
    assert ("no-fresh-air" in {one.rule for one in findings(dedent(example).lstrip())}) is fresh_air
