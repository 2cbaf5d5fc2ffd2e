"""What plain recipes in ordinary words showed at first sight: each was read otherwise before."""

from __future__ import annotations

import pytest

from procedure.draft import drafted


def _code(prose: str) -> list[str]:
    lines = drafted(prose, place_unsure=True).text.splitlines()
    return [code for line in lines if (code := line.partition("  #")[0].strip())]


@pytest.mark.parametrize(
    ("prose", "lines"),
    [
        (  # the jar's boiling water is not what the wool goes into
            "100 g wool. Dissolve 10 g alum in a jar of boiling water, pour it into a pan with"
            " 4 litres of cold water and put the wool in.",
            [
                "potassium-alum-liquor: dissolve potassium-alum 10 g in jar"
                " with water unstated at boil",
                "mordant-bath: prepare in pot-1 with potassium-alum-liquor, water 4 L at cold",
            ],
        ),
        (
            "100 g wool. Soak it overnight in water with a drop of washing-up liquid.",
            [
                "wet out wool in tub with water unstated, neutral-detergent 1 drop overnight",
            ],
        ),
        (
            "100 g wool. Wet the wool out for 1 h. Mordant with 10 g alum in 4 L.",
            ["wet out wool in tub for 1 h"],
        ),
        (
            "100 g wool. Mordant it with 10 g alum in 4 L: raise to 90 °C in 60 min, 45"
            " min at 90 °C.",
            ["heat mordant-bath to 90 °C over 60 min", "hold mordant-bath at 90 °C for 45 min"],
        ),
        (
            "100 g wool. Chop 200 g of weld and boil it in 4 L for an hour.",
            ["chop weld", "dye-bath: prepare in pot-1 with weld 200 g, water 4 L"],
        ),
        (
            "100 g wool. Wash 50 g of walnut hulls and soak them for three days in a"
            " covered bucket.",
            ["stand dye-bath for 3 d covered"],
        ),
        (
            "300 g linen. I make it with fructose: 30 g indigo, 60 g lime, 90 g fructose in 20 L.",
            [
                "dye-bath: prepare in pot-1 with fructose 90 g, indigo 30 g, slaked-lime 60 g,"
                " water 20 L"
            ],
        ),
        (
            "Tansy on wool, quantities for 500 g.\nMordant: 50 g alum, 90 °C, 1 h.\n"
            "Dye: 1 kg fresh tansy.\nCover with water, boil 1 h, strain. Enter the wool.",
            [
                "wool: wool, 500 g",
                "boil dye-bath for 1 h",
                "strain dye-bath",
                "dye wool in dye-bath",
            ],
        ),
        (
            "10 lb of cotton, scoured. Boil 1 lb of cutch in 10 gal of water for an hour,"
            " strain, and"
            " dye the cotton in it. Wring out, and pass through a fresh bath of 10 gallons of water"
            " in which have been dissolved three ounces of alum.",
            ["mordant-bath: prepare in pot-2 with water 10 gal, potassium-alum 3 oz"],
        ),
        (
            "100 g wool. Boil 1 L of water in a tin or well tinned copper kettle; put in"
            " 5 g of tartar.",
            ["add cream-of-tartar 5 g to bath"],
        ),
        (
            "The wool weighed just over 200 g. Mordant it with 20 g alum in 6 L at 80 °C for 1 h.",
            ["wool: wool, about 200 g"],
        ),
        (
            "100 g wool. Simmer 100 g weld in 4 L for 1 h, strain, put the wool in. Add 2 g iron"
            " sulphate (dissolved in hot water) to the bath, and stir.",
            [
                "ferrous-sulphate-liquor: dissolve ferrous-sulphate 2 g in jar with water unstated"
                " at hot",
                "add ferrous-sulphate-liquor to dye-bath",
            ],
        ),
        (
            "You need: 100 g of wool, 10 g of alum, a 2 litre jug. Dissolve the alum in 3"
            " L of water.",
            ["mordant-bath: prepare in pot-1 with potassium-alum 10 g, water 3 L"],
        ),
        (
            "Yield: 200 g of red wool\nWool: 200 g\nSimmer 100 g of madder in 6 L for 1 h.",
            ["wool: wool, 200 g"],
        ),
        (
            "4 silk scarves (about 15 g each). Simmer 60 g weld in 3 L.",
            ["silk: silk cloth, 4 pieces of about 15 g"],
        ),
        (
            "1 kg of rhubarb roots gives a strong gold on 300 g of wool without any mordant. Put"
            " the roots in 6 L of cold water and simmer 1 h. Strain, and put the wool in.",
            [
                "dye-bath: prepare in pot-1 with rhubarb 1 kg, water 6 L at cold",
                "strain dye-bath",
                "dye wool in dye-bath",
            ],
        ),
        (
            "100 g wool. Dissolve 10 g alum in 4 L of water. Add the scoured, wetted wool and"
            " heat slowly to simmering, about an hour.",
            ["mordant wool in mordant-bath", "heat mordant-bath to simmer over about 1 h gently"],
        ),
        (
            "Cotton towels (6, about 60 g each). Dip three towels in 20 g of oak galls and 6 L.",
            ["cotton: cotton cloth, 6 pieces of about 60 g"],
        ),
        (
            "100 g wool. Use 50 g of madder. Put it in a muslin bag and soak it overnight in 4 L.",
            ["dye-bath: prepare in pot-1 with madder 50 g, water 4 L", "stand dye-bath overnight"],
        ),
    ],
)
def test_lines_of_plain_prose(prose: str, lines: list[str]) -> None:
    made = _code(prose)
    assert [line for line in lines if line not in made] == []


@pytest.mark.parametrize(
    ("prose", "never"),
    [
        ("Wool 100 g. Wash 50 g of avocado stones well. Boil them in 2 L.", "wash wool"),
        ("I had 100 g of wool left over. Simmer 50 g of weld in 2 L.", "pot-2"),
        (
            "100 g wool. Simmer 50 g weld in 2 L, strain. For a deeper colour leave overnight.",
            "overnight",
        ),
        (
            "100 g wool. Simmer 50 g weld in 2 L. Bring to a boil, lower the heat and simmer 1 h.",
            "cool dye-bath",
        ),
        ("100 g wool. Put on your gloves and dissolve 10 g alum in 4 L.", "mordant wool"),
        (
            "100 g wool. Hold it at 60 °C in 4 L for an hour (it looks lighter when dry).",
            "dry wool",
        ),
        (
            "100 g wool. Vat: 15 L water at 50 C. Lower the stock jar in and empty it under the"
            " surface. Rest 30 min.",
            "discard",
        ),
        ("Each brings a skein of 50 g of wool. Simmer 50 g of weld in 2 L.", "enter wool"),
        (
            "100 g wool. Weigh the wool and calculate the mordants. Then 10 g alum in 4 L.",
            "mordant wool",
        ),
        (
            "100 g wool. Mordant with 10 g alum in 4 L at 80 °C for 1 h. The bath can be used again"
            " once: add half the amount of alum.",
            "add potassium-alum",
        ),
        (
            "100 g wool\nStep 1 - Scour\nFill a pot with 4 L of hot water and 5 g soap."
            " Add the wool.",
            "scour wool in tub",
        ),
        ("The silk is degummed already, 50 g. Simmer 50 g weld in 2 L.", "degum silk"),
        (
            "100 g wool. Dye it in 50 g weld and 2 L at 80 °C for 1 h. The rest of the"
            " bath goes back"
            " into the barrel.",
            "enter wool",
        ),
    ],
)
def test_what_is_no_step_of_the_fibre(prose: str, never: str) -> None:
    assert not any(never in line for line in _code(prose)), _code(prose)
