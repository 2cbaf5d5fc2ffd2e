"""Kinds of sentences that strangers wrote, three of each in other words, and what they come to."""

from __future__ import annotations

import pytest

from procedure.draft import drafted

MORDANT = "Wool 100 g. Mordant it with 10 g of alum in 4 L at 80 °C for 1 h. "
DRAWN = "Wool 100 g. Boil 90 g of weld in 4 L for 1 h. Strain. "

PLACED = [
    # Liquor to a weight of fibre, in gallons or litres.
    (
        "Take 2 lb of wool. Mordant it with 4 oz of alum in 3 US gallons of water to the pound.",
        "water 3 US gal per lb of wool",
    ),
    (
        "Take 2 lb of wool. Mordant it with 4 oz of alum, three gallons of water per lb.",
        "water 3 gal per lb of wool",
    ),
    (
        "Take 2 lb of silk. Allow about 4 gallons (imp) of water to each pound. Add 4 oz of alum.",
        "water about 4 imp gal per lb of silk",
    ),
    # The share and the weight of one thing.
    (
        "Wool 500 g. Mordant it with 12 % alum, that is 60 g, in 15 L at 85 °C for 1 h.",
        "potassium-alum 60 g (12 % of wool), water 15 L",
    ),
    (
        "Wool 500 g. Mordant it with tartar 6 % = 30 g and 60 g of alum (12 %) in 15 L for 1 h.",
        "cream-of-tartar 30 g (6 % of wool), potassium-alum 60 g (12 % of wool)",
    ),
    # A pot of at least so much.
    ("Use a pot of at least 10 L. Simmer 500 g of weld in 5 L for 1 h.", 'pot-1: "at least 10 L"'),
    ("Weld 500 g. In a pot that holds at least 8 litres boil it 1 h.", 'pot-1: "at least 8 L"'),
    # Two numbers one after the other are a range.
    (f"{DRAWN}Add the wool. Rinse it two, three times.", "repeat 2 to 3 times"),
    (f"{DRAWN}Add the wool and hold at seventy, eighty degrees.", "at 70 to 80 °C"),
    (f"{DRAWN}Add the wool and hold at 170° to 180° F.", "at 170 to 180 °F"),
    # What goes in, without a verb.
    (f"{DRAWN}Skeins in. Hold 40 min.", "dye wool in dye-bath"),
    (f"{DRAWN}Then wet yarn in at 40 °C.", "dye wool in dye-bath at 40 °C"),
    (f"{DRAWN}Add the wool for 20 min. Lift. Chalk in.", "add chalk unstated to dye-bath"),
    (f"{DRAWN}Silk in damp. 60 °C, 45 min.", "dye wool in dye-bath"),
    (f"{DRAWN}Wool in from the start, and heat to 65 °C.", "dye wool in dye-bath"),
    # A clause that is nothing but the deed.
    (
        f"{DRAWN}Add the wool. Lift. Afterwards a good wash at 50 °C with 5 g of soap.",
        "wash wool in tub with neutral-soap 5 g at 50 °C",
    ),
    (f"{DRAWN}Add the wool. Lift. Then a cool rinse for 5 min.", "rinse wool"),
    (f"{DRAWN}Add the wool. Lift. A quick wash, 2 g of soap.", "wash wool in tub with neutral"),
    # What goes back.
    (f"{DRAWN}Add the wool. Lift it. Back in for 5 min.", "dye wool in dye-bath for 5 min"),
    (
        f"{DRAWN}Add the wool. Lift, stir in 1 g of iron sulphate, back for 4 min.",
        "dye wool in dye-bath for 4 min",
    ),
    (f"{DRAWN}Add the wool. Lift it. It went back in for 6 min.", "dye wool in dye-bath for 6 min"),
    # An amount that comes after what it measures was named.
    (f"{MORDANT}Lift. Now the weld. Six ounces, boiled an hour in 4 L.", "weld 6 oz"),
    (f"{MORDANT}Lift. Madder is dear; allow 50 g, soaked overnight in 2 L.", "madder 50 g"),
    (f"{MORDANT}Lift. Weld, stalks will do: 80 g. Cover with 3 L and simmer 1 h.", "weld 80 g"),
    # Lots by letter.
    (f"{DRAWN}Put lot B into it and simmer for 50 min.", "dye wool in dye-bath"),
    ("Lot A weighs 150 g, lot B weighs 75 g. Both are wool.", "yarn, 150 g"),
    (f"{DRAWN}Lot A goes in at 40 °C.", "dye wool in dye-bath at 40 °C"),
    # What hangs or lies in the air for days dries.
    (f"{DRAWN}Add the wool. Rinse. Hung up to dry, 36 h.", "dry wool for 36 h"),
    (f"{DRAWN}Add the wool. Lift. Leave it on the rack for 2 days.", "dry wool for 2 d"),
    (f"{DRAWN}Add the wool. Lift, and let it dry with the leaves on, 3 days.", "dry wool for 3 d"),
    # A plant made ready, and "it" after it.
    (f"{MORDANT}Lift. Cut up the weld. Put it in the pan with 2 L of water.", "weld unstated"),
    (f"{MORDANT}Lift. Chop the madder. Pour 3 L over it.", "madder unstated"),
    ("Wool 50 g, half a red cabbage. Cut up the cabbage. Put it in 2 L.", "red-cabbage unstated"),
    # The list about what brackets say was done before.
    ("You get 20 g of wool (scoured and mordanted with 10 % alum), 5 g of chalk.", "alum 10 %"),
    (f"{MORDANT}Lift. Weld 60 g (dried). Boil it in 2 L for 1 h.", "boil dye-bath for 1 h"),
    ("Alum-mordanted wool (12 % alum, 1 h at 80 °C), 5 skeins.", "potassium-alum 12 %"),
    # Scales and pounds as old books and scanners have them.
    (f"{DRAWN}Add the wool. Hang it at 110 F. for a day.", "at 110 °F"),
    (f"{MORDANT}Lift. The fustic chips, 4 Ibs., are boiled 2 hours in 15 gallons.", "fustic 4 lb"),
    (f"{DRAWN}Add the wool and bring it to the boil in half-an-\nhour.", "over 1/2 h"),
    # Mordants and dyes never go into the suds.
    ("Cotton 1 lb. 2 oz of soda and 1 oz of soap in 4 gallons, at the boil, 2 h.", "scour cotton"),
    (
        "Wool 100 g. Soak it 20 min in 2 L with 5 g of soap. Dissolve 10 g of alum in 4 L.",
        "mordant-bath: prepare in pot-2",
    ),
    (f"{MORDANT}Lift. Wash with 2 g of soap in 3 L at 40 °C.", "wash wool in tub"),
    # Airing that the words tell.
    ("Wool 50 g. Vat of indigo 40 g in 9 L. Dip 5 min, 15 min in the air.", "air wool for 15 min"),
    ("Wool 50 g. Indigo 40 g in 9 L. Two quick dips, 30 s each, 10 min of air.", "repeat 2 times"),
    ("Wool 50 g. Indigo 40 g in 9 L. Dip 2 min, then 8 min in the open air.", "air wool for 8 min"),
]


@pytest.mark.parametrize(("prose", "line"), PLACED)
def test_what_is_said_has_its_line(prose: str, line: str) -> None:
    assert line in drafted(prose).text


# What is told of others, meant, quoted, or a part of another time: a comment, and no line.
WATER = "3 gallons of water to the pound"
LEFT = [
    # So much for what is no fibre.
    ("Wool 2 lb. Boil 2 lb of weld in 3 gallons of water to the pound of weld.", WATER),
    (f"{DRAWN}Add the wool. My book says 5 g of chalk.", "5 g"),
    (f"{DRAWN}Add the wool. The leaflet gives 3 hours.", "3 hours"),
    (f"{DRAWN}Add the wool. Not for 2 hours, as the blog has it.", "2 hours"),
    (f"{DRAWN}Add the wool. I was going to give it a week.", "a week"),
    (f"{DRAWN}Add the wool. I meant to leave it 3 days.", "3 days"),
    (f"{DRAWN}Add the wool. I have never needed 4 hours.", "4 hours"),
    (f"{DRAWN}Add the wool. Now write to me in a month.", "a month"),
    (f"{DRAWN}Add the wool. Come and see us again in 2 weeks.", "2 weeks"),
    (f"{DRAWN}Add the wool. My sister gives hers 3 hours.", "3 hours"),
    (f"{DRAWN}Add the wool, 1 h. The colour deepens in the last 20 minutes.", "20 minutes"),
    (f"{DRAWN}Add the wool, 1 h. It turns green during the first 5 minutes.", "5 minutes"),
    (f"{DRAWN}Add the wool, 1 h. It froths only in the last 10 minutes.", "10 minutes"),
    ("> do you use 9 g of chalk?\nNo, 2 g. " + DRAWN, "9 g"),
    ("> and the iron, 7 g?\nLess. " + DRAWN, "7 g"),
    ("> I boiled mine 3 hours\nToo long. " + DRAWN, "3 hours"),
]


@pytest.mark.parametrize(("prose", "words"), LEFT)
def test_what_is_only_talked_of_has_no_line(prose: str, words: str) -> None:
    draft = drafted(prose)
    assert any(one.words == words for one in draft.left)
    assert not any(one.amount.words == words for one in draft.placed)


# The words move the fibre otherwise than the lines do: the times before are asked about.
UNSURE = [
    (f"{DRAWN}Enter the wool. Simmer 35 min. Next enter the yarn. Rinse.", "35 min"),
    (f"{DRAWN}The wool goes in. Hold 25 min. The wool goes in. Rinse it.", "25 min"),
    (f"{DRAWN}Put in the skeins. Hold at 60 °C. Return the skeins. Rinse.", "60 °C"),
]


@pytest.mark.parametrize(("prose", "words"), UNSURE)
def test_times_are_asked_about_where_fibre_may_be_elsewhere(prose: str, words: str) -> None:
    draft = drafted(prose)
    assert any(one.words.startswith(words) for one in draft.left)


def test_fibre_that_is_taken_out_was_in() -> None:
    draft = drafted(f"{DRAWN}Hold at 80 °C for 25 min. Take out the wool.")
    assert "dye wool in dye-bath at 80 °C for 25 min" in draft.text
