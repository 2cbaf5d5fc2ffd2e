"""Equipment: what a pot holds, is made of and has held before."""

from __future__ import annotations

import pytest
from expecting import expect, findings, place, rules_of

# Iron for one lot, then a yellow for another in the same kettle.
SHARED = """
wet out silk in tub with water 5 L for 1 h
wet out yarn in tub with water 5 L for 1 h
first: prepare in kettle with water 6 L, {first}
modify silk in first at 60 °C for 20 min
wash silk in tub with water 5 L, soap 3 g
rinse silk in tub with water 5 L
clean tub
discard first to "the hazardous waste collection"
{between}
second: prepare in kettle with water 6 L, {second}
{verb} yarn in second at 60 °C for 1 h
rinse yarn in tub with water 5 L
discard second to "foul drain"
"""


def shared(first: str, second: str, between: str = "", verb: str = "dye") -> str:
    text = SHARED.format(first=first, second=second, between=between, verb=verb)
    return "\n".join(line for line in text.split("\n") if line)


@pytest.mark.parametrize(
    ("first", "second"),
    [
        # Mairet 1916, ch. II: the least trace of iron dulls reds, yellows and oranges.
        ("iron 5 g", "onion 50 g"),
        ("iron 5 g", "weld 100 g"),
        ("iron 5 g", "madder 50 g"),
        ("copper 3 g", "weld 100 g"),  # common practice: copper greens yellows
        ("tin 2 g, oxalic 1 g", "madder 50 g"),
        ("tannin 5 g", "weld 100 g"),
        ("madder 50 g", "weld 100 g"),  # common practice: one dye muddies the next
    ],
)
def test_a_pot_is_cleaned_between_baths_that_spoil_each_other(first: str, second: str) -> None:
    found = expect(shared(first, second), "pot-not-cleaned")
    assert [f.line for f in found] == [place(shared(first, second), "second: prepare")[0]]
    expect(shared(first, second, "clean kettle"))


def test_iron_spoils_an_alum_bath_too() -> None:
    expect(shared("iron 5 g", "alum 12 g", verb="mordant"), "pot-not-cleaned")
    expect(shared("iron 5 g", "alum 12 g", "clean kettle", verb="mordant"))


def test_iron_is_still_there_after_another_bath_has_been_in_the_pot() -> None:
    between = "\n".join(
        (
            "rinse silk in kettle with water 5 L",
            "squeeze silk",
        )
    )
    expect(shared("iron 5 g", "weld 100 g", between), "pot-not-cleaned")
    # Another dye is gone with the rinsing water.
    expect(shared("madder 50 g", "weld 100 g", between))


def test_the_same_again_in_the_same_pot_needs_no_cleaning() -> None:
    expect(shared("iron 5 g", "iron 5 g", verb="modify"))
    expect(shared("onion 50 g", "onion 50 g"))


def test_what_a_lot_has_met_already_does_it_no_harm() -> None:
    example = """
wet out yarn in tub with water 5 L for 1 h
gold-bath: prepare in kettle with water 6 L, onion 50 g
dye yarn in gold-bath at 60 °C for 1 h
rinse yarn in tub with water 5 L
discard gold-bath to "foul drain"
iron-bath: prepare in kettle with water 6 L, iron 4 g
modify yarn in iron-bath at 60 °C for 20 min
rinse yarn in tub with water 5 L
discard iron-bath to "foul drain"
"""
    expect(example.strip("\n"), "pot-not-rinsed")


def test_wood_keeps_iron_however_it_is_scrubbed() -> None:
    sections = "equipment\n  kettle: wooden tub, 15 L, for dyeing only\nsteps\n"
    steps = shared("iron 5 g", "onion 50 g", "clean kettle").replace("60 °C", "30 °C")
    text = sections + "".join(f"  {line}\n" for line in steps.split("\n"))
    (found,) = expect(text, "pot-not-cleaned")
    assert "Keep another pot" in found.remedy


def test_water_poured_onto_what_is_left_of_iron() -> None:
    example = """
wet out silk in tub with water 5 L for 1 h
wet out yarn in pan with water 5 L for 1 h
modify silk in tub with water 6 L, iron 5 g at 30 °C for 20 min
lift silk
discard tub to "foul drain"
{between}rinse yarn in tub with water 5 L
rinse silk in pan with water 5 L
"""
    expect(example.format(between="").strip("\n"), "pot-not-cleaned")
    expect(example.format(between="clean tub\n").strip("\n"))


def test_a_strained_bath_meets_what_its_new_pot_held() -> None:
    example = """
wet out silk, yarn in tub with water 5 L for 1 h
iron-bath: prepare in kettle with water 6 L, iron 4 g
modify silk in iron-bath at 60 °C for 20 min
rinse silk in tub with water 5 L
clean tub
discard iron-bath to "foul drain"
{between}gold-bath: prepare in pan with water 5 L, onion 50 g
simmer gold-bath at 85 °C for 1 h
cool gold-bath to 30 °C
strain gold-bath into kettle
dye yarn in gold-bath at 60 °C for 1 h
rinse yarn in tub with water 5 L
discard gold-bath to "foul drain"
"""
    (found,) = expect(example.format(between="").strip("\n"), "pot-not-cleaned")
    assert found.line == place(example.format(between="").strip("\n"), "strain")[0]
    expect(example.format(between="clean kettle\n").strip("\n"))


def test_cleaning_on_one_way_only_is_said() -> None:
    between = 'if "the pot looks grey"\n  clean kettle'
    (found,) = expect(shared("iron 5 g", "weld 100 g", between), "pot-not-cleaned")
    assert "when “the pot looks grey” does not hold" in found.sentence


# ------------------------------------------------------------------ the pot's own metal

DYED = """
equipment
  kettle: {pot}, 15 L, lidded, for dyeing only
steps
  wet out yarn in tub with water 5 L for 1 h
  bath: prepare in kettle with water 6 L, {dye}
  dye yarn in bath at 60 °C for 1 h
  rinse yarn in tub with water 5 L
  discard bath to "foul drain"
"""


@pytest.mark.parametrize(
    "pot", ["iron pot", "cast iron pot", "rusty iron pot", "chipped enamel pot"]
)
@pytest.mark.parametrize("dye", ["madder 50 g", "weld 100 g"])
def test_an_iron_or_rusty_pot_dulls_madder_and_weld(pot: str, dye: str) -> None:
    # Mairet 1916, ch. VI: clean pots, no rust; ch. II: the least trace of iron dulls.
    expect(DYED.format(pot=pot, dye=dye), "pot-acts-as-mordant")


def test_a_copper_pot_greens_a_yellow() -> None:
    expect(DYED.format(pot="copper pot", dye="weld 100 g"), "pot-acts-as-mordant")


def test_aluminium_and_tin_pots_are_only_noted() -> None:
    for pot in ("aluminium pot", "tinned copper pot"):
        found = findings(DYED.format(pot=pot, dye="weld 100 g"))
        assert {f.level for f in found if f.rule == "pot-acts-as-mordant"} == {"note"}
        expect(DYED.format(pot=pot, dye="weld 100 g"), "pot-acts-as-mordant")


@pytest.mark.parametrize("pot", ["stainless steel pot", "enamelled pot"])
def test_steel_and_sound_enamel_are_safe(pot: str) -> None:
    expect(DYED.format(pot=pot, dye="weld 100 g"))


def test_an_iron_pot_does_no_harm_to_an_iron_bath_or_a_brown() -> None:
    expect(DYED.format(pot="iron pot", dye="iron 5 g").replace("dye yarn", "modify yarn"))
    walnut = "materials\n  walnut: walnut hulls, dried\n"
    expect(walnut + DYED.format(pot="iron pot", dye="walnut 100 g").lstrip("\n"))


# ------------------------------------------------------------------ room


@pytest.mark.parametrize(
    ("litres", "rules"),
    [
        ("2 L", {"pot-too-small"}),
        ("3 L", {"pot-too-small"}),  # the fibre and the skins need room as well
        ("4 L", {"pot-too-full"}),  # 3.1 L in 4 L: more than three quarters
        ("4.5 L", set()),
        ("15 L", set()),
    ],
)
def test_a_pot_holds_liquor_fibre_and_plants(litres: str, rules: set[str]) -> None:
    example = DYED.format(pot="stainless steel pot", dye="onion 50 g").replace("6 L", "3 L")
    expect(example.replace("15 L", litres), *rules)


def test_rinsing_water_may_stand_higher_than_a_bath_that_is_worked() -> None:
    text = "wet out yarn in tub with water {} L for 1 h"
    expect(text.format(17))
    expect(text.format(19), "pot-too-full")
    expect(text.format(25), "pot-too-small")


def test_a_gallon_is_weighed_against_litres() -> None:
    text = "wet out yarn in tub with water {} for 1 h"
    expect(text.format("4 imp gal"), "pot-too-full")  # 18.2 L in 20 L
    expect(text.format("5 imp gal"), "pot-too-small")  # 22.7 L


def test_a_pot_without_capacity_or_stuff_is_noted() -> None:
    text = DYED.format(pot="pot", dye="onion 50 g").replace(", 15 L", "")
    expect(text, "capacity-unstated", "stuff-unstated")


# ------------------------------------------------------------------ heat


def heated(vessel: str, step: str) -> str:
    return f"""equipment
  pot: {vessel}, 20 L, lidded, for dyeing only
steps
  wet out cloth in tub with water 5 L for 1 h
  bath: prepare in pot with water 6 L, onion 50 g
  {step}
  strain bath
  dye cloth in bath for 1 h
  rinse cloth in tub with water 5 L
  discard bath to "foul drain"
"""


@pytest.mark.parametrize("vessel", ["plastic tub", "wooden tub", "stoneware jar", "glass jar"])
@pytest.mark.parametrize("step", ["boil bath for 1 h", "simmer bath for 1 h", "heat bath to 85 °C"])
def test_plastic_wood_glass_and_stoneware_are_not_heated(vessel: str, step: str) -> None:
    assert "cannot-be-heated" in rules_of(heated(vessel, step))


def test_steel_is_heated_and_a_vessel_for_no_heat_is_told_by_its_name() -> None:
    expect(heated("stainless steel pot", "boil bath for 1 h"))
    expect(heated("stainless steel bucket", "boil bath for 1 h"))
    assert "cannot-be-heated" in rules_of(heated("bucket", "boil bath for 1 h"))


def test_zinc_and_heatproof_glass_are_warmed_but_not_boiled() -> None:
    expect(heated("heatproof glass jar", "heat bath to 60 °C"))
    expect(heated("heatproof glass jar", "boil bath for 1 h"), "cannot-be-heated")


def test_hot_water_may_be_poured_into_a_tub() -> None:
    rinse = "\nrinse cloth in tub with water 5 L"
    expect("wash cloth in tub with water 5 L, soap 3 g at 50 °C for 10 min" + rinse)
    example = (
        "scour cloth in tub with water 5 L, soap 3 g at {} °C for 2 h\n"
        "rinse cloth in tub with water 5 L"
    )
    expect(example.format(50))
    expect(example.format(95), "cannot-be-heated")


# ------------------------------------------------------------------ acid, alkali, lids


def test_acid_eats_brass_and_leaves_steel() -> None:
    example = """equipment
  pan: {} pan, 15 L, for dyeing only
materials
  sour: citric acid
steps
  wet out yarn in tub with water 5 L for 1 h
  rinse yarn in pan with water 5 L, sour 5 g
"""
    expect(example.format("brass"), "pot-attacked")
    expect(example.format("stainless steel"))


def test_a_mild_acid_is_only_noted() -> None:
    example = """equipment
  pan: brass pan, 15 L, for dyeing only
steps
  wet out yarn in tub with water 5 L for 1 h
  rinse yarn in pan with water 5 L, vinegar 50 mL
"""
    (found,) = expect(example, "pot-attacked")
    assert found.level == "note"


def test_soda_eats_a_tinned_pot() -> None:
    example = """equipment
  pan: tinned copper pan, 15 L, for dyeing only
steps
  scour cloth in pan with water 5 L, soda 5 g at 60 °C for 1 h
  rinse cloth in tub with water 5 L
"""
    expect(example, "pot-attacked")


def test_what_is_covered_needs_a_lid() -> None:
    example = """
wet out yarn in tub with water 5 L for 1 h
bath: prepare in {} with water 6 L, onion 50 g
dye yarn in bath at 40 °C for 1 h covered
rinse yarn in kettle with water 5 L
discard bath to "foul drain"
"""
    (found,) = expect(example.format("tub").strip("\n"), "covered-without-lid")
    assert (found.line, found.column, found.to) == place(
        example.format("tub").strip("\n"), "covered", 1
    )
    expect(example.format("pan").strip("\n"))
