"""Vessels and lots that a recipe tells apart each have a bath or a name of their own."""

from __future__ import annotations

import pytest

from procedure.draft import drafted
from procedure.draft.lexicon import meanings

POTS = (
    "Wool 100 g.\nPot 1 (yellow): 300 g of weld, 6 L of water.\nPot 2 (red): 60 g of madder, 5 L of"
    " water.\nBoil pot 1 for 50 minutes and strain it.\nPot 2 goes up to 70 °C.\n"
)
LOTS = "Lot A weighs 150 g of wool, lot B weighs 75 g. Boil 90 g of weld in 4 L for 1 h. Strain. "
JARS = (
    "Yarn 10 g. Boil 120 g of onion skins in 4 L for 1 h and strain. Add the yarn for 40 minutes."
    " To jar B add 2 g of iron. Jar C got 2 teaspoons of vinegar and jar D 1 g of washing soda. "
)
SAID = [
    (POTS, "weld 300 g, water 6 L"),
    (POTS, "madder 60 g, water 5 L"),
    (POTS, "boil dye-bath for 50 min"),
    (f"{POTS}Strain pot 2. Put the wool into pot 2.", "heat dye-bath-2 to 70 °C"),
    (f"{POTS}The wool goes into the yellow pot for 20 minutes.", "dye wool in dye-bath for 20 min"),
    (f"{POTS}The wool goes into the red pot for 20 minutes.", "dye wool in dye-bath-2 for 20 min"),
    (
        "Wool 100 g. In the left-hand pot boil 90 g of weld in 3 L; in the right-hand one, 60 g of"
        " madder in 2 L.",
        "madder 60 g, water 2 L",
    ),
    (
        "Small copper: 30 g of alum in 4 L.\nBig copper: 90 g of weld in 6 L.\nWool 100 g.\n",
        "prepare in pot-1 with potassium-alum 30 g, water 4 L",
    ),
    (LOTS, "lot-a: wool yarn, 150 g"),
    (LOTS, "lot-b: wool yarn, 75 g"),
    (f"{LOTS}Put lot B into the bath for 40 minutes.", "dye lot-b in dye-bath for 40 min"),
    (f"{LOTS}Put lot A in for 1 h. Rinse both lots.", "rinse lot-a and lot-b"),
    (
        "Lot one: 400 g of wool. Boil 90 g of weld in 4 L for 1 h. Put it in for an hour. Lift it"
        " out. Lot two, the paler: 300 g. Into what was left, 30 minutes.",
        "dye lot-2 in dye-bath for 30 min",
    ),
    (JARS, "mordant-bath: prepare in pot-2 with water unstated, ferrous-sulphate 2 g"),
    (f"{JARS}Rinse it.", "washing-soda 1 g"),
]


@pytest.mark.parametrize(("prose", "line"), SAID)
def test_each_has_its_own(prose: str, line: str) -> None:
    assert line in drafted(prose, place_unsure=True).text


NEVER = [
    # What goes into each of several, or is of several, is of no one bath.
    (f"{JARS}Pour 250 mL into each jar.", "250 mL to"),
    (f"{JARS}The jars were kept at 80 °C.", "at 80 °C"),
    (f"{POTS}Bring both to 65 °C.", "to 65 °C"),
    # What stays as it is is not worked on.
    (f"{LOTS}Mordant lot A in 20 g of alum. Lot B stays as it is.", "mordant lot-b"),
    # What goes into one jar is in no other.
    (JARS, "add washing-soda"),
    (JARS, "add vinegar"),
    # What is pressed under is still in its bath.
    ("Wool 9 g. Boil 90 g of weld in 4 L for 1 h. Add the wool. Press it under.", "squeeze"),
]


@pytest.mark.parametrize(("prose", "never"), NEVER)
def test_no_one_bath_has_what_is_of_several(prose: str, never: str) -> None:
    lines = drafted(prose, place_unsure=True).text.splitlines()
    assert not any(never in line.partition("#")[0] for line in lines)


def test_one_label_alone_tells_nothing_apart() -> None:
    text = drafted("Wool 90 g. In the first pot boil 90 g of weld 1 h. Strain. Add the wool.").text
    assert "dye wool in dye-bath" in text
    assert text.count(": prepare in") == 1


def test_every_label_has_a_kind() -> None:
    for label in set(meanings("label").values()):
        assert label.isdigit() or label in meanings("kind of label"), label
    assert set(meanings("kind of label")) <= set(meanings("label").values())
