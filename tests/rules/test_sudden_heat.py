"""Wool that meets a sudden change without leaving its bath, and other slips of heat and time."""

from __future__ import annotations

import pytest
from expecting import expect, findings, rules_of

IN_THE_BATH = """
    wet out yarn in tub with water 5 L at 30 °C for 1 h
    gold-bath: prepare in kettle with water 4 L, onion 50 g at 20 °C
    enter yarn in gold-bath
    {pour}
    heat gold-bath to 70 °C over 45 min
    hold gold-bath at 70 °C for 1 h
    cool gold-bath to 30 °C overnight covered
    rinse yarn in tub with water 5 L at 30 °C
    discard gold-bath to "foul drain"
"""


@pytest.mark.parametrize(
    "pour",
    [
        "add water 4 L at the boil to gold-bath",
        "pour 4 L boiling water into gold-bath",
        "top up gold-bath to 9 L with boiling water",
    ],
)
def test_boiling_water_beside_wool_shocks_it(pour: str) -> None:
    (found,) = (one for one in findings(IN_THE_BATH.format(pour=pour)) if one.rule == "heat-shock")
    assert found.level == "warning"
    assert "with yarn in it, and wool felts" in found.sentence


@pytest.mark.parametrize(
    "pour", ["add water 1 L at the boil to gold-bath", "add water 4 L at 30 °C to gold-bath"]
)
def test_a_little_of_it_or_what_is_warm_does_not(pour: str) -> None:
    assert "heat-shock" not in rules_of(IN_THE_BATH.format(pour=pour))


def test_linen_bears_it() -> None:
    text = IN_THE_BATH.replace("yarn", "cloth").format(
        pour="add water 4 L at the boil to gold-bath"
    )
    assert "heat-shock" not in rules_of(text)


def test_cold_water_poured_on_hot_wool_shocks_it() -> None:
    text = """
        wet out yarn in tub with water 5 L at 30 °C for 1 h
        gold-bath: prepare in kettle with water 3 L, onion 50 g at 30 °C
        dye yarn in gold-bath from 30 °C to 85 °C over 45 min for 1 h
        add water 6 L at 10 °C to gold-bath
        rinse yarn in tub with water 5 L at 30 °C
        discard gold-bath to "foul drain"
    """
    found = [one for one in findings(text) if one.rule == "heat-shock"]
    assert ["let the bath cool by itself" in one.remedy for one in found] == [True]


@pytest.mark.parametrize(
    "water",
    [
        "under the cold tap",
        "under cold running water",
        "in cold running water",
        "under running cold water",
        "under the tap, cold",
    ],
)
def test_a_cold_tap_after_a_simmer_shocks_wool(water: str) -> None:
    text = """
        wet out yarn in tub with water 5 L at 30 °C for 1 h
        gold-bath: prepare in kettle with water 3 L, onion 50 g at 30 °C
        dye yarn in gold-bath from 30 °C to simmer over 45 min for 1 h
        rinse yarn {}
        discard gold-bath to "foul drain"
    """
    assert "heat-shock" in rules_of(text.format(water))
    assert "heat-shock" not in rules_of(text.format("under the tap"))
    assert "cannot-read" not in rules_of(text.format(water))


LYE_VAT = """
materials
  lye: {lye}
steps
  wet out {lot} in tub with water 5 L for 1 h
  vat: prepare in kettle with water 5 L, indigo 10 g, lye 8 g, reducer 15 g at 30 °C
  stand vat for 1 h covered labelled
  dip {lot} in vat at 30 °C for 10 min
  air {lot} for 15 min
  rinse {lot} in tub with water 5 L
  rinse {lot} in tub with water 5 L, vinegar 50 mL
  discard vat to "foul drain"
"""


@pytest.mark.parametrize("lye", ["caustic soda", "caustic potash"])
@pytest.mark.parametrize("lot", ["yarn", "silk"])
def test_wool_and_silk_in_a_vat_of_lye_are_told_of(lye: str, lot: str) -> None:
    (found,) = expect(LYE_VAT.format(lye=lye, lot=lot), "lye-vat-for-wool")
    assert found.level == "warning"  # Mairet 1938, ch. V: tendered and ruined


def test_cotton_in_a_vat_of_lye_is_not() -> None:
    expect(LYE_VAT.format(lye="caustic soda", lot="cloth"))


@pytest.mark.parametrize("long", ["3 h", "4 h", "5 hours"])
def test_a_dip_of_hours_is_a_slip(long: str) -> None:
    text = LYE_VAT.format(lye="caustic soda", lot="cloth").replace("for 10 min", f"for {long}")
    expect(text, "unlikely-time")


def test_wool_that_lies_in_what_is_poured_cold_has_its_heat() -> None:
    text = """
        wet out yarn in tub with water 5 L at 30 °C for 1 h
        gold-bath: prepare in kettle with water 3 L, onion 50 g at 30 °C
        dye yarn in gold-bath from 30 °C to 50 °C over 20 min for 1 h
        add water 2 L at 20 °C to gold-bath
        rinse yarn in tub with water 5 L at 30 °C
        discard gold-bath to "foul drain"
    """
    assert "heat-shock" not in rules_of(text)


@pytest.mark.parametrize("verb", ["dye", "mordant"])
def test_fibre_that_lies_in_what_cools_by_night_is_not_heated(verb: str) -> None:
    text = """
        wet out yarn in tub with water 5 L at 50 °C for 1 h
        gold-bath: prepare in kettle with water 3 L, alum 12 g, onion 50 g at hot
        {} yarn in gold-bath from hot to cold overnight covered
        rinse yarn in tub with water 5 L at 20 °C
        discard gold-bath to "foul drain"
    """
    assert not {"wrong-direction", "heated-unattended"} & rules_of(text.format(verb))


def test_what_was_strained_may_be_reheated_to_less_than_a_simmer() -> None:
    text = """
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        simmer gold-bath for 1 h
        strain gold-bath
        heat gold-bath to {} °C over 15 min
        discard gold-bath to "foul drain"
    """
    assert "wrong-direction" not in rules_of(text.format(60))
    assert "wrong-direction" in rules_of(text.format(30))


def test_a_note_of_the_bath_says_that_a_pale_colour_is_meant() -> None:
    text = """
        wet out yarn in tub with water 5 L at 30 °C for 1 h
        red-bath: prepare in kettle with water 3 L, madder 5 g{}
        dye yarn in red-bath from 30 °C to 70 °C over 45 min for 1 h
        rinse yarn in tub with water 5 L at 30 °C
        discard red-bath to "foul drain"
    """
    assert "too-little-dyestuff" in {one.rule for one in findings(text.format(""), "warning")}
    pale = findings(text.format(' note "a faint blush"'), "warning")
    assert "too-little-dyestuff" not in {one.rule for one in pale}
