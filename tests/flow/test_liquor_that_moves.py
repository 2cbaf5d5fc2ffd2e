"""Liquor that is parted, poured and boiled twice: each is a bath that the steps below can name."""

from __future__ import annotations

from collections.abc import Mapping

import pytest
from expecting import between, findings, plan_of
from papers import told

from procedure.findings import Finding
from procedure.trace.states import BathState

DYE = "dye-bath: prepare in kettle with water 8 L, onion 100 g, alum 8 g at 40 °C\n"
BOILED = "boil onion 100 g in kettle with water 4 L for 1 h\n"
SOAKED = "soak onion 100 g in tub with water 4 L for 3 h\n"


def baths(steps: str) -> Mapping[str, BathState]:
    return plan_of(steps.strip()).trace.final.baths


def errors(steps: str) -> list[str]:
    return [finding.sentence for finding in gravest(steps)]


def gravest(steps: str) -> list[Finding]:
    """The errors, but for fibre that is in its bath when an example ends."""
    found = findings(steps.strip(), "error")
    return [finding for finding in found if finding.rule != "left-in-bath"]


# ------------------------------------------------------------ a part of a bath


@pytest.mark.parametrize(
    "said",
    [
        "draw off 2 L of dye-bath into pan",
        "ladle 2 L of dye-bath into pan",
        "scoop 2 L of dye-bath into pan",
        "pour 2 L of dye-bath into pan",
        "pour a quarter of dye-bath into pan",
        "decant 2 L of dye-bath into pan",
        "add 2 L of dye-bath to pan",
        "transfer 2 L of dye-bath to pan",
        "strain 2 L of dye-bath into pan",
    ],
)
def test_a_part_that_goes_into_an_empty_pot_is_a_bath_by_that_pot(said: str) -> None:
    steps = DYE + f"{said}\nadd iron 1 g to pan\ndye silk in the pan bath at 40 °C for 5 min"
    assert errors(steps) == []
    after = baths(steps)
    assert after["dye-bath"].volume == between(6)
    small = after["pan bath"]
    assert small.volume == between(2) and small.pot == "pan"
    assert small.contents["alum"].grams == between(2)
    assert "iron" in small.contents and "iron" not in after["dye-bath"].contents


def test_a_second_part_joins_the_first() -> None:
    after = baths(DYE + "ladle 2 L of dye-bath into pan\nladle 1 L of dye-bath into pan")
    assert after["pan bath"].volume == between(3)
    assert after["dye-bath"].volume == between(5)


def test_a_share_of_what_was_drawn_off_is_a_share_of_that() -> None:
    after = baths(DYE + "pour 2 L of dye-bath into pan\npour half of pan bath into jar")
    assert after["jar bath"].volume == between(1)
    assert after["pan bath"].volume == between(1)


def test_what_was_drawn_off_goes_back() -> None:
    after = baths(
        DYE + "draw off 2 L of dye-bath into pan\nadd iron 1 g to pan\npour pan back into dye-bath"
    )
    assert after["dye-bath"].volume == between(8)
    assert after["dye-bath"].contents["iron"].grams == between(1)


def test_what_is_drawn_off_may_have_its_name_in_front() -> None:
    steps = DYE + "small: draw off 2 L of dye-bath into pan\ndye silk in small at 40 °C for 5 min"
    assert gravest(steps) == []
    assert baths(steps)["small"].volume == between(2)
    assert (
        told(steps)[1]
        == "Draw off 2 L of the dye bath into the pan; this is the small from now on."
    )


def test_what_is_removed_from_no_bath_is_no_liquor() -> None:
    steps = DYE + "enter yarn in dye-bath at 40 °C for 1 h\nlift yarn\n"
    assert [f.rule for f in gravest(steps + "enter silk in dye-bath\nlift silk\nremove")] != []
    assert baths(steps + "remove")["dye-bath"].volume == between(8)


def test_which_of_the_two_is_meant_is_asked_for() -> None:
    steps = DYE + "ladle 2 L of dye-bath into pan and stir in 1 g iron"
    (found,) = gravest(steps)
    assert found.rule == "something-missing"
    assert found.remedy == "Say where: “to dye-bath” or “to pan”."


# ------------------------------------------------------------ a whole bath


@pytest.mark.parametrize(
    "said",
    [
        "pour tub into kettle",
        "tip tub into kettle",
        "empty tub into kettle",
        "transfer tub into kettle",
        "pour the tub bath into kettle",
        "pour the liquor into kettle",
    ],
)
def test_what_is_poured_over_goes_with_its_plants(said: str) -> None:
    steps = SOAKED + f"{said}\nboil kettle for 1 h"
    assert errors(steps) == []
    (bath,) = baths(steps).values()
    assert bath.pot == "kettle" and bath.contents["onion"].solid


def test_what_is_thrown_away_is_no_pouring_over() -> None:
    steps = SOAKED + 'tip tub to "the drain"'
    assert [node.does.empties for node in plan_of(steps).flow.nodes] == [False, True]


def test_later_steps_follow_the_liquor_into_its_pot() -> None:
    steps = BOILED.strip() + " then strain into pan and add alum 2 g\n"
    steps += "cool to 40 °C\nenter yarn at 40 °C"
    assert errors(steps) == []
    (bath,) = baths(steps).values()
    assert bath.pot == "pan" and "alum" in bath.contents
    assert plan_of(steps).trace.final.lots["yarn"].bath == "onion bath"


@pytest.mark.parametrize(
    "said", ["lift yarn out of the bath", "take first out of the bath", "add iron 2 g to the bath"]
)
def test_the_bath_is_the_only_one_in_whatever_pot_it_is(said: str) -> None:
    steps = BOILED + "strain kettle into pan\ncool the bath to 40 °C\nenter yarn in pan at 40 °C\n"
    if "first" in said:
        steps += "split yarn into first 50 g, second\n"
    assert errors(steps + said) == []


def test_a_bath_that_there_is_not_is_no_bath() -> None:
    steps = "wet out yarn in tub with water 5 L for 1 h\nlift yarn out of the bath"
    assert any("bath" in sentence for sentence in errors(steps))


# ------------------------------------------------------------ two extractions


@pytest.mark.parametrize("second", ["boil the onion again in kettle", "boil again in kettle"])
def test_the_second_liquor_of_a_pot_joins_the_first(second: str) -> None:
    steps = BOILED + f"strain kettle bath into pan\n{second} with water 3 L for 30 min\n"
    after = plan_of(steps + "strain kettle into pan")
    assert [f.sentence for f in after.findings if f.level == "error"] == []
    bath = after.trace.final.baths["onion bath"]
    assert bath.volume == between(7) and bath.contents["onion"].grams == between(100)


def test_of_two_extractions_each_has_its_own_name_in_the_paper() -> None:
    steps = "first: boil onion 100 g in kettle with water 4 L for 1 h\nstrain first into pan\n"
    steps += "second: boil the onion again in kettle with water 3 L for 30 min\n"
    for into in ("first", "pan"):
        said = steps + f"strain second into {into}"
        plan = plan_of(said)
        assert [f.sentence for f in plan.findings if f.level == "error"] == []
        assert plan.trace.final.baths["first"].volume == between(7)
        assert told(said)[3].startswith("Strain the second into the ")


def test_liquors_of_two_plants_are_not_mixed_unasked() -> None:
    steps = "weld-bath: boil weld 50 g in kettle with water 4 L for 1 h\n"
    steps += "madder-bath: soak madder 50 g in pan with water 4 L for 3 h\n"
    (found,) = gravest(steps + "strain weld-bath into pan")
    assert found.rule == "pot-not-free"
    assert "strain weld-bath into madder-bath" in found.remedy
    assert errors(steps + "strain weld-bath into madder-bath") == []


def test_a_full_pot_is_told_of_once() -> None:
    again = BOILED.replace("onion", "weld")
    found = gravest(BOILED + "strain kettle\n" + again)
    assert [one.rule for one in found] == ["pot-not-free"]


# ------------------------------------------------------------ said otherwise


@pytest.mark.parametrize(
    "said",
    [
        "acidify dye-bath with vinegar to pH 5",
        "acidify dye-bath to pH 5 with vinegar",
        "add vinegar to dye-bath to pH 5",
        "acidify dye-bath with vinegar 20 mL",
        "acidify kettle with vinegar 20 mL",
    ],
)
def test_what_makes_a_bath_sour_goes_into_it(said: str) -> None:
    steps = DYE + said + "\ncool dye-bath to 30 °C"
    assert errors(steps) == []
    assert "vinegar" in baths(steps)["dye-bath"].contents


def test_with_what_a_bath_is_made_sour_is_asked_for() -> None:
    assert errors(DYE + "acidify dye-bath to pH 5") == ["“acidify” does not say what is added."]


@pytest.mark.parametrize("label", ["Onion bath", "onion bath"])
@pytest.mark.parametrize("said", ["onion bath", "Onion bath"])
def test_a_name_of_two_words_is_the_same_in_any_case(label: str, said: str) -> None:
    steps = f"{label}: boil onion 100 g in kettle with water 4 L for 1 h\nstrain the {said}"
    assert errors(steps) == []


@pytest.mark.parametrize(
    "said",
    [
        "take 1 skein out of dye-bath",
        "pull 1 skein out",
        "take out 1 skein of yarn",
        "remove 1 skein from dye-bath",
    ],
)
def test_some_skeins_of_a_lot_are_parted_from_it_before(said: str) -> None:
    fibre = "fibre\n  yarn: wool yarn, 4 skeins of 25 g, scoured, mordanted\n"
    steps = DYE + "enter yarn in dye-bath at 40 °C for 1 h\n"
    (found,) = gravest(f"{fibre}steps\n" + _in(steps + said))
    assert found.rule == "part-of-a-lot"
    remedy = found.remedy.partition("“")[2].partition("”")[0]
    one = remedy.split(" into ")[1].split()[0]
    cured = f"{fibre}steps\n" + _in(f"{steps}{remedy}\ntake {one} out of dye-bath")
    assert [f.sentence for f in gravest(cured)] == []


def _in(steps: str) -> str:
    return "".join(f"  {line}\n" for line in steps.split("\n"))


def test_a_lot_that_is_called_plum_is_no_plant() -> None:
    steps = "take out yarn and split it into 4: rust, plum and pink\n"
    steps += "dip plum in tub with water 5 L for 5 min"
    assert not any("Prunus" in one.remedy for one in findings(steps))
    poison = findings("simmer oleander in kettle with water 5 L for 1 h")
    assert any("oleander" in one.sentence.lower() + one.remedy.lower() for one in poison)


# ------------------------------------------------------------ what it is called


MOVED = """
prepare in kettle with water 4 L, weld 100 g
simmer kettle for 1 h
strain kettle into pan
clean kettle
prepare in kettle with water 4 L, alum 12 g at 30 °C
mordant silk in kettle from 30 °C to 80 °C over 45 min for 1 h
"""


def test_what_goes_on_to_another_pot_is_called_by_what_is_in_it() -> None:
    assert list(baths(MOVED)) == ["weld bath", "kettle bath"]
    poured = MOVED.replace("strain kettle into pan", "pour kettle into pan")
    assert list(baths(poured)) == ["weld bath", "kettle bath"]


def test_what_stays_in_its_pot_is_called_by_it() -> None:
    assert list(
        baths(MOVED.replace("strain kettle into pan", 'discard kettle to "foul drain"'))
    ) == ["kettle bath"]


@pytest.mark.parametrize("said", ["cool weld bath to 30 °C", "cool pan to 30 °C"])
def test_that_name_can_be_written(said: str) -> None:
    assert errors(MOVED + said) == errors(MOVED)
