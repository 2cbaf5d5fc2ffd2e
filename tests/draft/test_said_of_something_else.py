"""Words that name a plant, a heat or a deed of something else than the recipe at hand.

All sentences are our own.
"""

from __future__ import annotations

import pytest

from procedure.draft import drafted

WELD = (
    "200 g of wool. Simmer 100 g of weld in 4 litres of water for an hour, strain, put in the"
    " wool. "
)


def steps_of(prose: str) -> list[str]:
    """The step lines of a draft."""
    lines = drafted(prose).text.partition("\nsteps\n")[2].splitlines()
    return [one.strip() for one in lines if one.strip() and not one.strip().startswith("#")]


@pytest.mark.parametrize("tree", ["chestnut", "filbert", "almond"])
def test_hulls_of_another_tree_are_no_walnut(tree: str) -> None:
    text = drafted(f"200 g of wool. Boil 300 g of {tree} hulls in 5 litres of water.").text
    assert f"{tree}-hulls" in text
    assert "walnut" not in text


@pytest.mark.parametrize("said", ["the hulls", "green hulls", "fresh hulls", "walnut hulls"])
def test_hulls_alone_are_those_of_the_walnut(said: str) -> None:
    text = drafted(f"200 g of wool. Boil {said}, 300 g, in 5 litres of water.").text
    assert "walnut: walnut" in text


def test_oak_galls_with_a_hyphen_are_no_oak() -> None:
    made = steps_of("200 g of wool. Boil 2 oz of oak-galls in 5 litres of water for an hour.")
    assert "with oak-galls 2 oz, water 5 L" in made[0]


@pytest.mark.parametrize(
    "said",
    [
        "Never let it go over 70 C, as I did last time at 85 C.",
        "Keep it below 70 C, as my aunt always did at 60 C.",
    ],
)
def test_the_heat_of_another_time_is_none_of_the_bath(said: str) -> None:
    made = "\n".join(steps_of(WELD + said))
    assert "85" not in made and "60" not in made


def test_what_is_offered_if_one_must_is_left() -> None:
    made = steps_of(
        "200 g of wool. Mordant with 10% alum in 5 litres of water; skip the tartar altogether (if"
        " you must, 3% will do)."
    )
    assert "tartar" not in "\n".join(made)


@pytest.mark.parametrize(
    "said",
    [
        "Dried needs double.",
        "The wool came out a mustard.",
        "The wool came out quite a deep gold.",
    ],
)
def test_how_it_is_and_looks_is_no_deed(said: str) -> None:
    assert steps_of(WELD + said) == steps_of(WELD)


def test_how_a_plant_comes_in_brackets_dries_no_fibre() -> None:
    made = steps_of("200 g of wool. 200 g broom (dry), 3 L, 95 C, 60 min.")
    assert made[0].endswith("with broom 200 g, water 3 L")
    assert not any(one.startswith("dry") for one in made)


def test_what_a_boil_gets_out_goes_into_no_bath() -> None:
    prose = "100 g of cotton. I boiled it in soda for an hour to get the starch out. Rinse."
    made = steps_of(prose)
    assert "starch" not in "\n".join(made)
    assert [one.split()[0] for one in made[-2:]] == ["boil", "rinse"]


@pytest.mark.parametrize("when", ["in the spring", "last week", "in March", "two weeks ago"])
def test_fibre_comes_mordanted_by_the_season(when: str) -> None:
    text = drafted(f"7 oz of wool (mordanted {when} with alum). Simmer 100 g of weld in 3 L.").text
    assert "mordanted with potassium alum" in text
    assert "mordant-bath" not in text


@pytest.mark.parametrize(
    "said",
    [
        "Second boil of the weld, 2 L, for 40 minutes.",
        "2nd extract, same plants: 2.0 L, 95 C, 45 min.",
    ],
)
def test_the_water_of_a_second_boil_is_no_dyestuff(said: str) -> None:
    prose = f"100 g of wool. Simmer 100 g of weld in 3 litres of water for an hour. Strain. {said}"
    made = steps_of(prose)
    assert "dye-bath-2: prepare in pot-2 with weld unstated, water 2 L" in made


@pytest.mark.parametrize(
    "said",
    [
        "Boil 100 g of weld in 3 L of water for an hour, and when it is lukewarm put in the wool.",
        "Boil 100 g of weld in 3 L for an hour, and when it is but blood-warm put in the wool.",
    ],
)
def test_the_heat_of_a_when_is_that_of_the_next_deed(said: str) -> None:
    made = steps_of("100 g of wool. " + said)
    assert made[-2:] == ["boil dye-bath for 1 h", "dye wool in dye-bath at tepid"]


def test_a_bath_that_is_let_fall_cools() -> None:
    assert steps_of(WELD + "Let it fall to 40 C.")[-1] == "cool dye-bath to 40 °C"
