"""Kinds of wording that two sets of prose showed when they were opened, in other words."""

from __future__ import annotations

import pytest

from procedure.draft import drafted

POT = "Simmer 100 g of weld in 4 L of water for an hour and strain. Put in 100 g of wool. "
ALUM = "Add 12 g of alum to 4 L of water and put in 100 g of wool. Simmer an hour. "
SAID = [
    # An amount that says again what the one before it has said.
    (
        "8 oz of yarn. Alum at 3 oz per lb, = 1 1/2 oz for us. Dissolve it in 1 gal, and add the"
        " yarn.",
        "potassium-alum 1 1/2 oz (18 3/4 % wof)",
    ),
    ("Linen 350 g. Gall 8pc wof. So 28 g. Soak it overnight in 1 L.", "oak-galls 28 g (8 % wof)"),
    ("200 g of wool. Add 26 g of alum, that is to say 13 per cent, to 6 L.", "26 g (about 13 %"),
    ("Soak 450 g / 1 lb grey wool.", "wool: wool, 450 g (1 lb)"),
    (
        "Gather tansy: twice the weight of the warp. For my 500 g that is 1 kg. Boil it in 9 L for"
        " an hour and enter the warp.",
        "tansy 1 kg (2 : 1 of yarn)",
    ),
    ("WOF = 227 g (1/2 lb). Wash the cotton.", "227 g (1/2 lb)"),
    # A unit that is the one before it.
    (
        "Boil 2 lb of wool an hour with six ounces of alum and two of tartar in 5 imp gal.",
        "potassium-alum 6 oz, cream-of-tartar 2 oz",
    ),
    # How often, and at least how long.
    ("100 g of wool. Rinse the skeins once and wring them.", "rinse wool"),
    ("100 g of wool. Wet it out, 2 h min.", "at least 2 h"),
    (POT + "Keep it there min. 1 hour.", "at least 1 h"),
    (POT + "Simmer it an hour at the least.", "at least 1 h"),
    (POT + "Steep it at least two days, at most a week.", "for 2 to 7 d"),
    (POT + "Leave it in for not less than 3 hours and not more than five.", "for 3 to 5 h"),
    # Short writing.
    ("Put 200 g of oak bark in 5 L and boil 45m.", "boil dye-bath for 45 min"),
    ("Simmer 2 mugs of blackberries in 3 L an hour.", "# “2 mugs”"),
    ("Simmer 200 g of weld in 25 dl an hour.", "water 2500 mL"),
    (POT + "Leave it in o'nite.", "overnight"),
    # Until it is cold, whatever is.
    (ALUM + "Leave it in till the liquor is cold.", 'cool mordant-bath until "the liquor is cold"'),
    (ALUM + "Let it lie till the pot's stone cold.", 'until "the pot\'s stone cold"'),
    (ALUM + "It stays in until cold.", 'cool mordant-bath until "it is cold"'),
    # What is listed, where only the water is said with what is done.
    (
        "100 g of wool. Alum 12 g. Weld 100 g. Mordant an hour in 4 L of water.",
        "prepare in pot-1 with potassium-alum 12 g, water 4 L",
    ),
    (
        "50 g of weld. 100 g of wool. Dye the wool in 4 L of water at 70 °C for an hour.",
        "prepare in pot-1 with weld 50 g, water 4 L",
    ),
    # Plants cooked and drawn; plants that no list knows.
    ("200 g of dried tansy. Cook it in 5 L for an hour, and sieve.", "tansy 200 g, water 5 L"),
    (
        "Pot one is weld: 300 g, in 9 L, drawn at 80 °C for an hour, strained. Enter 100 g of"
        " wool.",
        "hold dye-bath at 80 °C for 1 h",
    ),
    ("Simmer 300 g of coprosma bark in 4 L for an hour.", "coprosma-bark 300 g"),
    ("Simmer half a pound of tutsan leaves in 1 gal for an hour.", "tutsan-leaves 1/2 lb"),
    # Water that brings a bath up to so much.
    (
        "Boil 50 g of weld in 1 L for an hour; strain. Add enough water to make 4 litres.",
        "top up dye-bath to 4 L",
    ),
    (
        "Boil 50 g of weld in 1 L for an hour; strain, and add cold water to bring it up to 5"
        " litres.",
        "top up dye-bath at cold to 5 L",
    ),
    # Rows of a card, and the sizes of things.
    (
        "FIBRE: linen, 500 g\nMORDANT: aluminium acetate 6 %; LR 1:20; 40 °C; 2 h\n"
        "DYE: madder 25 %",
        "in mordant-bath at 40 °C for 2 h",
    ),
    ("Cotton 300 g.\nTANNIN: tara, 6 %; 45 °C; 90 min", "in mordant-bath at 45 °C for 90 min"),
    ("A vessel of 30 L capacity was filled with water and 100 g of weld.", "pot-1: 30 L"),
    (POT + "Lift it. A vinegar rinse (4 ml/L).", "vinegar 4 mL/L"),
    (POT + "Stir in 5 g (1 level tsp) copper sulphate.", "copper-sulphate 5 g"),
    (
        "6 lb of cotton. Allow three pounds of madder to four of cotton. Simmer it in 5 imp gal.",
        "madder 3 lb per 4 lb of cotton",
    ),
    ("Two shirts.\n| Rinse | all | 3 x 5 L | 30 °C |", "with water 5 L at 30 °C"),
]


@pytest.mark.parametrize(("prose", "line"), SAID)
def test_what_is_said_in_these_ways_is_read(prose: str, line: str) -> None:
    """What the reader makes of it, whatever it would ask about before it places it."""
    assert line in drafted(prose, place_unsure=True).text


NEVER = [
    # What is no amount of the work.
    ("(2/3) Now skins. Simmer 50 g of onion skins in 2 L for an hour.", "2/3 pieces"),
    ("8 oz of onion skins (it takes about 3 months of cooking). Simmer them in 2 gal.", "90 d"),
    (POT + "Wool only, up to 450 g a day.", "for 1 d"),
    ("10 oz of silk, ready boiled. Rinse it.", "boil"),
    ("Vat: 30 L of water, 50 g of indigo. Do not let it fall below 45 °C.", "at most 45 °C"),
    (POT + "Raise it 20 degrees every 10 minutes until 90 °C is reached.", "from 20"),
    ("500 g of cotton squares. Boil avocado stones, five of them, in 6 L.", "split"),
    ("Tea in 2 L of boiling water (ours holds 3 litres).", "3 L"),
    ("100 g of wool. Rinse at once, three times.", "once"),
]


@pytest.mark.parametrize(("prose", "line"), NEVER)
def test_what_is_no_amount_of_the_work_stands_in_no_line(prose: str, line: str) -> None:
    lines = [one.split("#")[0] for one in drafted(prose).text.splitlines()]
    assert not any(line in one for one in lines if not one.startswith("procedure"))
