"""Heats that the hand tells, and how long a rise took somebody."""

from __future__ import annotations

import pytest

from procedure.draft import drafted

BEFORE = (
    "100 g of wool. Simmer 100 g of dried weld in 4 litres of water for an hour and strain it. "
)


@pytest.mark.parametrize(
    ("prose", "line"),
    [
        ("Let it cool until you can bear your hand in it.", "cool dye-bath to hand-hot"),
        ("Leave it till I can just hold a finger in it.", "cool dye-bath to hand-hot"),
        ("Cool it until I could bear my hand in it.", "cool dye-bath to hand-hot"),
        ("Put the wool in. Keep it between 180 and 190F for an hour.", "at 180 to 190 °F for 1 h"),
        ("Put the wool in. Keep it at 180F for an hour.", "at 180 °F for 1 h"),
        ("Cool until you can keep an elbow in.", "cool dye-bath to hand-hot"),
        (
            "Put the wool in and take it up to a bare simmer, which took me about forty minutes.",
            "heat dye-bath to simmer over about 40 min",
        ),
        (
            "Put the wool in. Getting it to 60 °C took me ninety minutes.",
            "heat dye-bath to 60 °C over 90 min",
        ),
        (
            "Put the wool in. Bring it to 85 °C, which should take the better part of an hour.",
            "heat dye-bath to 85 °C over 1 h",
        ),
        ("Put the wool in. Keep it between 60 and 65 for an hour.", "at 60 to 65 °C for 1 h"),
        (
            "Put the wool in. Keep it between 140 °F and 150 °F for half an hour.",
            "at 140 to 150 °F for 1/2 h",
        ),
    ],
)
def test_what_the_words_say_stands_in_a_line(prose: str, line: str) -> None:
    assert line in drafted(BEFORE + prose).text


@pytest.mark.parametrize(
    ("prose", "lines"),
    [
        (
            "5 lb. wool. Mordant: Alum, 12 oz. Tartar, 4 oz. Water, 15 gallons. Enter the wool.",
            ("potassium-alum 12 oz", "cream-of-tartar 4 oz", "water 15 gal"),
        ),
        (
            "5 lb. wool.\nMordant.--Bichromate of potash, 2 oz. Tartar, 1 oz. Water, 15 gallons."
            " Enter it.",
            ("potassium-dichromate 2 oz", "cream-of-tartar 1 oz", "water 15 gal"),
        ),
        (
            "For 5 lb. wool. Madder, 2 lb. Chalk, 1 oz. Enter the wool and boil an hour.",
            ("madder 2 lb", "chalk 1 oz"),
        ),
        (
            "For 5 lb. wool. Take 2 oz. Alum, 1 oz. Tartar, 3 gallons Water. Enter the wool.",
            ("potassium-alum 2 oz", "cream-of-tartar 1 oz", "water 3 gal"),
        ),
    ],
)
def test_a_row_goes_from_thing_to_amount_or_from_amount_to_thing(
    prose: str, lines: tuple[str, ...]
) -> None:
    draft = drafted(prose).text
    assert not [one for one in lines if one not in draft]
