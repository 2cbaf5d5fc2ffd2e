"""What is dissolved in water of its own first, and poured into the water of a bath then.

A cup of boiling water in six cold litres makes no boiling bath: each has the heat said of it.
"""

from __future__ import annotations

import pytest

from procedure.draft import drafted
from procedure.pipeline import read

FIBRE = "100 g of wool yarn. "
AFTER = " Put the wool in and bring to 85 °C for an hour. Lift it, rinse it and dry it."
DYED = (
    FIBRE + "Simmer 100 g of dried weld in 4 litres of water for an hour and strain it. "
    "Put the wool in and simmer for an hour. Lift the wool. "
)
LIQUOR = "potassium-alum-liquor"
OF_IRON = "ferrous-sulphate-liquor: dissolve ferrous-sulphate 2 g in jar with water 1 cup at hot"

Told = tuple[str, tuple[str, ...]]
MORDANTED: list[Told] = [
    (
        "Dissolve 12 g of alum in a cup of hot water and stir it into 6 litres of lukewarm water.",
        (
            f"{LIQUOR}: dissolve potassium-alum 12 g in jar with water 1 cup at hot",
            f"mordant-bath: prepare in pot-1 with {LIQUOR}, water 6 L at tepid",
        ),
    ),
    (
        "Dissolve 12 g of alum in a cup of hot water and pour into a pot with 4 litres"
        " of warm water.",
        (
            f"{LIQUOR}: dissolve potassium-alum 12 g in jar with water 1 cup at hot",
            f"mordant-bath: prepare in pot-1 with {LIQUOR}, water 4 L at hand-hot",
        ),
    ),
    (
        "Dissolve 12 g of alum and 6 g of cream of tartar in boiling water. Add both to"
        " 4 L of cool water.",
        (
            f"{LIQUOR}: dissolve potassium-alum 12 g, cream-of-tartar 6 g in jar"
            " with water unstated at boil",
            f"mordant-bath: prepare in pot-1 with {LIQUOR}, water 4 L at cold",
        ),
    ),
    (
        "Fill the pot with 5 litres of water. Dissolve 12 g of alum in 500 ml of hot"
        " water and stir it"
        " into the pot.",
        (
            "mordant-bath: prepare in pot-1 with water 5 L",
            f"{LIQUOR}: dissolve potassium-alum 12 g in jar with water 500 mL at hot",
            f"add {LIQUOR} to mordant-bath",
        ),
    ),
    (
        "Pour 5 litres of water into a pan. Mix 12 g of alum with a little boiling water"
        " in a jam jar,"
        " then tip it into the pan.",
        (
            "mordant-bath: prepare in pot-1 with water 5 L",
            f"{LIQUOR}: dissolve potassium-alum 12 g in jar with water a little at boil",
            f"add {LIQUOR} to mordant-bath",
        ),
    ),
    (
        "In a jug dissolve 12 g of alum in a little boiling water, tip it into the"
        " mordant pot and make"
        " up to 5 litres.",
        (
            f"{LIQUOR}: dissolve potassium-alum 12 g in jar with water a little at boil",
            f"mordant-bath: prepare in pot-1 with {LIQUOR}",
            "top up mordant-bath to 5 L",
        ),
    ),
    (
        "Mix 12 g of alum with a cup of boiling water and add to 4 litres of cold water.",
        (
            f"{LIQUOR}: dissolve potassium-alum 12 g in jar with water 1 cup at boil",
            f"mordant-bath: prepare in pot-1 with {LIQUOR}, water 4 L at cold",
        ),
    ),
    (
        "I dissolved 12 g of alum in a jug of boiling water and poured it into the big pan with 6"
        " litres of cold water.",
        (
            f"{LIQUOR}: dissolve potassium-alum 12 g in jar with water unstated at boil",
            f"mordant-bath: prepare in pot-1 with {LIQUOR}, water 6 L at cold",
        ),
    ),
    # What is dissolved in the water of the bath itself is no liquor.
    (
        "Dissolve 12 g of alum in 5 litres of hot water. Add 6 g of cream of tartar.",
        ("prepare in pot-1 with potassium-alum 12 g, water 5 L, cream-of-tartar 6 g at hot",),
    ),
]
SADDENED: list[Told] = [
    (
        "Dissolve 2 g of iron in a cup of hot water and stir it into the dye bath.",
        (OF_IRON, "add ferrous-sulphate-liquor to dye-bath"),
    ),
    (
        "Two grams of copperas in a cupful of hot water, and stir that into the weld liquor.",
        (OF_IRON, "add ferrous-sulphate-liquor to dye-bath"),
    ),
    (
        "Dissolve 2 g of iron in a cup of hot water and stir it into 4 litres of warm water.",
        (OF_IRON, "prepare in pot-2 with ferrous-sulphate-liquor, water 4 L at hand-hot"),
    ),
]


@pytest.mark.parametrize(("prose", "lines"), MORDANTED)
def test_a_mordant_has_water_of_its_own(prose: str, lines: tuple[str, ...]) -> None:
    _has(FIBRE + prose + AFTER, lines)


@pytest.mark.parametrize(("prose", "lines"), SADDENED)
def test_iron_has_water_of_its_own(prose: str, lines: tuple[str, ...]) -> None:
    _has(DYED + prose + " Put the wool back for ten minutes. Lift it, rinse it and dry it.", lines)


def test_the_water_of_a_list_is_that_of_the_bath() -> None:
    listed = "200 g of wool, 24 g alum, 10 litres of water. "
    prose = "Dissolve the alum in boiling water and pour it into the pot of warm water."
    _has(
        listed + prose + AFTER,
        (
            f"{LIQUOR}: dissolve potassium-alum 24 g in jar with water unstated at boil",
            f"prepare in pot-1 with {LIQUOR}, water 10 L at hand-hot",
        ),
    )


def _has(prose: str, lines: tuple[str, ...]) -> None:
    text = drafted(prose).text
    for line in lines:
        assert line in text
    assert not [one for one in read(text, "draft.dye").findings if one.level == "error"]
