"""Fibre as a list has it, the same fibre told twice, titles, and what is for each of two."""

from __future__ import annotations

import pytest

from procedure.draft import drafted


def _lines(prose: str) -> list[str]:
    text = drafted(prose, place_unsure=True).text
    return [code for line in text.splitlines() if (code := line.partition("  #")[0].strip())]


@pytest.mark.parametrize(
    ("prose", "lines", "lots"),
    [
        pytest.param(
            "YARN: 1 x 80 g skein of fine wool, 2 x 20 g hanks of spun silk\n"
            "MORDANT: 8 g alum for the wool, 3 g for the silk, in two separate pots\n",
            [
                "wool: wool, 80 g",
                "silk: silk, 2 skeins of 20 g",
                "mordant-bath: prepare in pot-1 with water unstated, potassium-alum 8 g",
                "mordant wool in mordant-bath",
                "mordant-bath-2: prepare in pot-2 with water unstated, potassium-alum 3 g",
                "mordant silk in mordant-bath-2",
            ],
            2,
            id="two fibres, and so much for each",
        ),
        pytest.param(
            "For 1 kg of linen yarn (ten 100 g hanks). Dye it in 400 g of weld and 20 litres of"
            " water for an hour. Half of them get an iron dip, 5 g of iron in 10 L, ten minutes."
            " Two of the rest go in 50 g of madder and 4 litres of water for an hour.",
            [
                "linen: linen yarn, 10 skeins of 100 g, 1 kg",
                "split linen into linen-1 5 skeins, linen-2 2 skeins, linen-3",
                "dye linen-2 in dye-bath-3 for 1 h",
            ],
            1,
            id="the same yarn by its hanks, and two of the rest",
        ),
        pytest.param(
            "Two Fleeces, One Pot\n\n250 g of wool yarn in two skeins. Dye it in 100 g of weld and"
            " 5 litres of water for an hour.",
            ["wool: wool yarn, 2 skeins, 250 g"],
            1,
            id="a title counts no fleeces",
        ),
        pytest.param(
            "Three linen towels, 80 g each. Make a vat of 30 g of indigo in 18 litres of water. I"
            " kept one as it came, gave one a single dip and the third five dips. I rinsed all the"
            " blue ones and dried them.",
            [
                "dip linen-2 in dye-bath",
                "dip linen-3 in dye-bath",
                "rinse linen-2 and linen-3",
                "dry linen-2 and linen-3",
            ],
            1,
            id="one, one and the third",
        ),
        pytest.param(
            "Three linen napkins, 50 g each. Make a vat of 30 g of indigo in 18 litres of water."
            " One stayed white, one had a single dip in the vat and the third had six dips.",
            ["dip linen-1 in dye-bath", "repeat 6 times", "dip linen-3 in dye-bath"],
            1,
            id="one had a dip",
        ),
        pytest.param(
            "Six skeins of wool, 30 g each. Dye all in 90 g of madder and 8 litres of water at"
            " 65 °C for an hour. The last two stay in for half an hour more. Rinse the first two.",
            ["dye wool-3 in dye-bath for 1/2 h", "rinse wool-1"],
            1,
            id="so many from one end",
        ),
        pytest.param(
            "A pound of wool, four skeins. Dye it in 8 oz of onion skins and 3 gallons of water."
            " After 20 minutes pull one skein. After another 20 minutes pull the next one. The"
            " last two stay in for an hour. Take one of those and dip it in 2 g of iron in a"
            " gallon of water for 5 minutes.",
            ["lift wool-1", "lift wool-2", "dip wool-3 in mordant-bath for 5 min"],
            1,
            id="one of those",
        ),
        pytest.param(
            "Take two pounds of wool. Divide it in two equal parcels. Put the first parcel in 1 lb"
            " of weld and 2 gallons of water, and raise it to a simmer; let it so continue one"
            " hour. Take it up, air it well, and wash it. Enter the second parcel in the same"
            " liquor for half an hour.",
            ["air wool-1", "wash wool-1", "dye wool-2 in dye-bath for 1/2 h"],
            1,
            id="parcels, and what is done to it",
        ),
    ],
)
def test_fibre_of_a_list_is_told_apart(prose: str, lines: list[str], lots: int) -> None:
    made = _lines(prose)
    assert [line for line in lines if line not in made] == []
    at = made.index("fibre")
    assert len(made[at + 1 : min(made.index(one) for one in ("equipment",))]) == lots
