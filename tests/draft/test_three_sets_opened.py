"""Kinds of wording that three sets of prose showed when they were opened, in other words."""

from __future__ import annotations

import pytest

from procedure.draft import drafted

DYED = (
    "100 g of wool yarn. Simmer 100 g of dried weld in 4 litres of water for an hour and strain it."
    " Put the wool in the dye bath. "
)
WOOL = "100 g of wool. "
ALUM_AND_WELD = (
    "100 g of wool. You need: 10 g alum, 100 g weld, 2 g iron, 1 tsp chalk. Mordant the wool with"
    " the alum in 4 litres of water, an hour. Simmer the weld in 5 litres of water for 45 minutes."
    " Put in the wool for an hour. "
)
SAID = [
    # A row of amounts, each of the thing that stands in its place.
    (
        "200 g of yarn. Mordant with 12 % alum and 6 % tartar (24 g and 12 g) in 8 litres of water,"
        " an hour at 85 °C.",
        "potassium-alum 24 g (12 % of yarn), cream-of-tartar 12 g (6 % of yarn)",
    ),
    (
        "300 g of wool. I take 8 % alum and 5 % tartar, that is 24 g and 15 g, in 6 litres of water"
        " and simmer the wool in it for an hour.",
        "potassium-alum 24 g (8 % of wool), cream-of-tartar 15 g (5 % of wool)",
    ),
    (
        "200 g of yarn. Alum and tartar, 20 g and 10 g respectively, are dissolved in 8 litres of"
        " water. Put the yarn in and simmer an hour.",
        "potassium-alum 20 g, cream-of-tartar 10 g",
    ),
    (
        "200 g of yarn. Use 24 g and 12 g of alum and tartar in 6 litres of water. Simmer the yarn"
        " in it an hour.",
        "potassium-alum 24 g, cream-of-tartar 12 g",
    ),
    (
        "200 g of yarn. The dye is equal weight of weld, so another 200g. Simmer it in 6 litres of"
        " water for an hour.",
        "weld 200 g (1 : 1 of yarn), water 6 L",
    ),
    # "Dye is ...": a noun, and no fibre goes in yet.
    (
        "200 g of yarn. Dye was 50% weld. Pour boiling water over it, leave it 20 minutes, strain.",
        "stand dye-bath for 20 min",
    ),
    (
        "200 g of yarn. Dye is 150 g of madder. Soak it in 5 L overnight.",
        "stand dye-bath overnight",
    ),
    # How large a vessel is.
    (
        "For a bucket of 12 litres you need 100 g of wool, 20 g of indigo and 40 g of lime. Fill"
        " the bucket with 9 litres of hot water.",
        'pot-1: 12 L, "a pot that the prose does not name"',
    ),
    # Dips, with an airing between them.
    (
        DYED + "Give it three dips of two minutes with 10 minutes out of the vat between each.",
        "  repeat 3 times\n    dip wool in dye-bath for 2 min\n    air wool for 10 min\n",
    ),
    (
        DYED + "Dip it 3 times for 2 minutes and air it for 8 minutes between dips.",
        "    dip wool in dye-bath for 2 min\n    air wool for 8 min\n",
    ),
    (
        DYED + "Dip it 3 times for 2 minutes. Air it for 8 minutes between dips.",
        "    dip wool in dye-bath for 2 min\n    air wool for 8 min\n",
    ),
    # One weight of wool and of stuff.
    (
        "Put wool and weld into the pot in layers. Say two pounds of each. Cover with water and"
        " simmer for two hours.",
        "wool: wool, about 2 lb",
    ),
    ("Fill the pot with layers of onion skins and wool, 100 g of each.", "wool: wool, 100 g"),
    ("You need yarn and madder, 90 g of each. Soak the madder in 3 L.", "madder 90 g, water 3 L"),
    # What is soaked itself, for a bath that is no dye's.
    (
        "100 g of cotton. For the soy soak: 90 g of soya beans, 3 L water. For the dye: 50 g of"
        " madder, 3 L water. Soak the beans overnight and strain. Put the cotton in the soy milk"
        " for 6 hours. Dry. Soak the madder overnight, put in the cotton and heat to 60 °C.",
        "prepare in pot-1 with water 3 L, soya-beans 90 g\n",
    ),
    (
        "100 g of cotton. For the soy soak: 90 g of soya beans, 3 L water. For the dye: 50 g of"
        " madder, 3 L water. Soak the beans overnight and strain. Put the cotton in the soy milk"
        " for 6 hours. Dry. Soak the madder overnight, put in the cotton and heat to 60 °C.",
        "dye-bath: prepare in pot-2 with water 3 L, madder 50 g\n  stand dye-bath overnight\n",
    ),
    # What is stirred into a bath that the fibre has left, and fibre that is put back.
    (
        ALUM_AND_WELD + "Take the wool out, stir the chalk into the bath, put the wool back for 5"
        " minutes.",
        "  lift wool\n  add chalk 1 teaspoon to dye-bath\n  dye wool in dye-bath for 5 min\n",
    ),
    (
        ALUM_AND_WELD + "Lift it out to look, and put it back for 6 minutes.",
        "  dye wool in dye-bath for 6 min\n",
    ),
    # Left before what is done with it next, out of any bath.
    (
        DYED + "Lift it and hang it to dry. Leave the wool for a week before you dye it.",
        "rest wool",
    ),
    (
        "200 g of wool. Mordant it with 20 g of alum in 5 L of water for an hour. Squeeze it. Let"
        " the wool rest two days before dyeing.",
        "rest wool for 2 d",
    ),
    # One piece that all is for, and the pounds of a heading.
    (
        "Per 5 oz skein you will need 1/2 oz alum. Dissolve it in 2 US gallons of water, add the"
        " skein and heat to 180F.",
        "yarn: yarn, 5 oz",
    ),
    (
        "A BLUE. For every five pounds of yarn. Dissolve five ounces of alum in ten gallons of"
        " water and boil the yarn in it for an hour.",
        "potassium-alum 5 oz, water 10 gal",
    ),
    # What was done to the fibre before it goes in.
    (
        WOOL + "Simmer 100 g of weld in 4 L an hour and strain. Enter the wool, which has been well"
        " scoured; work at a simmer for an hour.",
        "  scour wool in tub\n  dye wool in dye-bath\n  hold dye-bath at simmer for 1 h\n",
    ),
    (
        WOOL + "Simmer 100 g of weld in 4 L an hour and strain. Enter the wool, which has been"
        " washed and wetted, and simmer an hour.",
        "  wash wool\n  wet out wool in tub\n  dye wool in dye-bath\n",
    ),
]


def _lines(prose: str) -> str:
    """The draft without its comments."""
    lines = drafted(prose).text.splitlines(keepends=True)
    return "".join(line for line in lines if not line.lstrip().startswith("#"))


@pytest.mark.parametrize(("prose", "line"), SAID)
def test_each_kind_has_its_line(prose: str, line: str) -> None:
    assert line in _lines(prose)


# What comes out of a bath is no water that goes in, and a dip that is not told has no airing.
ASKED = [
    (DYED + "That gave me about 7 litres of inky stuff.", "7 litres", "7 L"),
    (DYED + "That left me with 3 litres of liquor.", "3 litres", "3 L"),
    (DYED + "Strained, it came to about 3 litres.", "3 litres", "3 L"),
    (
        "Three skeins of 20 g of cotton. The vat: 15 g of indigo, 30 g of fructose, 20 g of lime in"
        " 12 litres of water. Dip the first skein for a minute. The second one gets two dips of"
        " three minutes and the last one four, with ten minutes on the line in between.",
        "ten minutes",
        "10 min",
    ),
    (ALUM_AND_WELD + "Take it out, look, and put it back for 5 minutes.", "2 g", "iron 2 g"),
]


@pytest.mark.parametrize(("prose", "words", "written"), ASKED)
def test_what_is_not_said_is_left(prose: str, words: str, written: str) -> None:
    assert f'# not placed: "{words}"' in drafted(prose).text
    assert written not in _lines(prose)


def test_beans_are_soaked_and_no_cotton() -> None:
    text = drafted(
        "80 g of cotton, scoured. Soya beans 80 g. Wet the cotton. Soak the beans overnight and"
        " blend them with 3 litres of water. Strain."
    ).text
    assert "stand bath overnight" in text
    assert "steep cotton" not in text


def test_a_pot_of_each_size_is_no_water() -> None:
    text = drafted(
        "100 g of wool. Take a pot of 15 litres and fill it with 10 litres of water. Add 10 g of"
        " alum and put in the wool for an hour."
    ).text
    assert "water 10 L, potassium-alum 10 g" in text
    assert "15 L" in text.split("steps")[0]
