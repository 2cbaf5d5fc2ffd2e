"""What recipes commonly say, and the lines that it comes to: headings, pots beside, rounds."""

from __future__ import annotations

import pytest

from procedure.draft import drafted

HEADED = (
    "200 g wool\n24 g alum\n100 g logwood chips\n\n1. Mordanting. Heat 6 l of water to 40 C."
    " Add the alum. Enter the wool. Raise to 90 C and hold for 1 hour.\n2. Extraction. Soak the"
    " chips in 5 l of hot water for 24 hours. Strain.\n3. Dyeing. Make up the liquor to 6 l."
    " Enter the wool."
)
DRAWN = "Wool 100 g. Boil 90 g of weld in 4 L for 1 h. Strain. Add the wool."
SAID = [
    (HEADED, "prepare in pot-1 with potassium-alum 24 g, water 6 L"),
    (HEADED, "prepare in pot-2 with logwood 100 g, water 5 L at hot"),
    (HEADED, "top up dye-bath to 6 L"),
    (
        "Alum ......... 20 g\nDissolve the alum in 4 L of water. Add the wool.",
        "potassium-alum 20 g",
    ),
    (
        "Wool 1 lb. Take for every four pounds of wool half a pound of logwood; boil it an hour.",
        "logwood 1/2 lb per 4 lb of wool",
    ),
    (
        "Put 60 g of indigo in 9 L of water. Dip the wool for 3 minutes, air for 10 minutes, and"
        " repeat 4 times.",
        "repeat 4 times",
    ),
    (
        "Wool 100 g. Simmer 90 g of weld in 4 L for 1 h, strain. Add the wool, simmer 1 h. Remove"
        " the wool. Dissolve 1 g of iron in 50 ml hot water, add to the bath, return the wool.",
        "add ferrous-sulphate-liquor to dye-bath",
    ),
    (
        "Dissolve 30 g of alum and half as much cream of tartar in 5 L. Add the wool.",
        "cream-of-tartar 15 g",
    ),
    ("4 silk scarves (25 g each). Boil 60 g of weld 1 h.", "silk cloth, 4 pieces of 25 g"),
    (
        "Wool 90 g. Simmer 90 g of weld in 3 L. Cool to 40 °C, add the wool. Heat to 80 °C;"
        " this should take 40 minutes.",
        "heat dye-bath to 80 °C over 40 min",
    ),
    ("Start at 40 °C, raise to 80 °C. Wool 90 g, weld 90 g.", "from 40 °C to 80 °C"),
    (
        "Dissolve 60 g of iron in 3 L of hot water, and in another tub 40 g of alum in 4 L."
        " Dip the wool in the iron 5 minutes.",
        "prepare in pot-2 with potassium-alum 40 g, water 4 L",
    ),
    (
        "Lot   Fibre\nA   wool   100 g   alum 12 %   madder   50 %\nMordant the wool at 90 °C.",
        "potassium-alum 12 % of",
    ),
    ("Materials\n  wool 50 g\n  weld leaf ... 150 g\nBoil the weld 1 h in 3 L.", "weld 150 g"),
    (
        "Two 50 g skeins of wool. Mordant: 10 g of alum. Dissolve it in 4 litres of water, slip the"
        " yarn in and take it up to 85 °C over an hour.",
        "prepare in pot-1 with potassium-alum 10 g, water 4 L",
    ),
    ("Two 50 g skeins of wool. Boil 60 g of weld 1 h in 3 L.", "2 skeins of 50 g"),
    (
        "8 oz of wool can be dyed with privet leaves. Dissolve 2 oz alum in 2 gallons of water. Put"
        " in the wool and simmer 1 hour.",
        "mordant-bath: prepare in pot-1 with potassium-alum 2 oz, water 2 gal",
    ),
    (
        "Wool 250 g. The wool has been alumed at 15 per cent. Boil 250 g of broom in 8 l an hour.",
        "dye-bath: prepare in pot-2 with broom 250 g, water 8 L",
    ),
    ("Dye 100 g wool in 90 g weld, 4 L, 1 h. Lay it on the grass an hour.", "air wool for 1 h"),
    ("Silk 90 g. Logwood ext. 3 %. Dissolve hot, 200 ml. Silk in, 1 h.", "logwood-extract 3 %"),
    (
        "Dye 100 g wool in 90 g weld, 4 L, 1 h. Rinse it. Add 20 ml of vinegar to the last rinse.",
        "rinse wool in tub with vinegar 20 mL",
    ),
    (
        "Dye 100 g wool in 90 g weld and 4 L. Take a separate pan, 3 L of water, 1 g of iron; dip"
        " the wool for 2 minutes.",
        "prepare in pot-2 with water 3 L, ferrous-sulphate 1 g",
    ),
    (
        "Ten pounds of wool. Logwood and fustic, 3 lb of each, boiled in 15 gallons of water 1 h.",
        "logwood 3 lb, fustic 3 lb",
    ),
    (
        "For every pound of silk dissolve four ounces of alum in water, and steep the silk in it"
        " overnight. Boil two ounces of cochineal in water ten minutes; strain. Enter the silk.",
        "cochineal 2 oz per lb of silk",
    ),
    (
        "To each pound of silk allow two ounces of alum. Dissolve it in warm water and steep the"
        " silk in it two hours.",
        "mordant silk in mordant-bath for 2 h",
    ),
    ("Boil weld 1 lb and half a gill of vinegar in 4 gallons. Add the wool.", "vinegar 1/8 pt"),
    (
        "Mohair 400 g\nAlum 48 g\nTurmeric 80 g\n\nFill the pot with 12 litres of water. Add the"
        " alum and heat to 60 °C. Put in the mohair.",
        "heat mordant-bath to 60 °C",
    ),
    (
        "Simmer 90 g of weld in 4 L for 1 h, strain. Add the wool, hold for 1 h. Finish with a wash"
        " at 35 °C.",
        "wash wool at 35 °C",
    ),
    ("Dissolve 43 g of alum in 3 gal (11 L) of water. Add the linen.", "alum 43 g, water 3 gal"),
    ("Put the wool in warm water for half an hour. Boil 90 g of weld 1 h.", "wet out wool in tub"),
    (
        "You will need: a pan (not one you cook in), 100 g wool, 50 g onion skins, 10 g alum. Put"
        " the skins in 3 litres of water and simmer half an hour.",
        "dye-bath: prepare in pot-1 with onion 50 g, water 3 L",
    ),
    (
        "Simmer 90 g of madder in 3 L for 25 minutes before the wool goes in. Add 90 g wool.",
        "simmer dye-bath for 25 min",
    ),
    # A vat ripens without fibre, and rounds may be repeated in a sentence of their own.
    (
        "Indigo 20 g. Lime 40 g. Fructose 60 g. Mix all with 10 L of water at 50 °C. Stir gently."
        " Cover. Mind the scum. Leave 45 minutes. Linen 300 g, wetted. Dip it.",
        "dye-bath for 45 min",
    ),
    (
        "Linen 300 g. Indigo 20 g in 10 L. Dip 5 min, air 10 min. Repeat x 4.",
        "repeat 4 times\n    dip linen in dye-bath for 5 min",
    ),
    (f"{DRAWN} Heat gently to just under a simmer.", "heat dye-bath below simmer"),
    (
        "Wool 100 g. Alum 10 g. Start with the mordant. Dissolve the alum in 4 L. Add the wool.",
        "mordant-bath: prepare in pot-1 with potassium-alum 10 g, water 4 L",
    ),
    (
        "Wool 100 g. Dissolve 10 g of alum in 4 L and put in the wool. Raise the temperature to"
        " 80 °C over an hour.",
        "heat mordant-bath to 80 °C over 1 h",
    ),
    (
        "Wool 100 g. Cold mordant: dissolve 10 g of alum in 4 L, add the wool. Leave for 24 hours.",
        "hold mordant-bath for 24 h",
    ),
    (
        "Wool 100 g\nWeld 90 g\nExtract: weld, 5 L water, 80 °C, 1 h. Strain. Add the wool.",
        "dye-bath: prepare in pot-1 with weld 90 g, water 5 L",
    ),
    (
        f"{DRAWN} Rinse. Simmer the wool in soapy water for ten minutes.",
        "wash wool at simmer for 10 min",
    ),
    (f"{DRAWN} Lift the wool, squeeze, keep damp 2 days.", "rest wool for 2 d"),
    (
        f"{DRAWN} Lift the wool, add 1 g of iron, replace the wool and simmer 10 minutes.",
        "simmer dye-bath for 10 min",
    ),
    ("100 g of wool. 50g dry onion skins in 3 L, boiled an hour.", "onion 50 g"),
    ("Three skeins of wool, each weighing 50 g. Mordant with 10 g alum.", "3 skeins of 50 g"),
    ("150 g merino and 50 g silk. Mordant with 10 g of alum in 3 L.", "silk: silk, 50 g"),
    (
        "Wool 100 g. Boil 90 g of weld in 4 L 1 h. Strain. Separately, simmer the wool in 2 L of"
        " water and 50 ml of vinegar for 1 hour.",
        "water 2 L, vinegar 50 mL",
    ),
]


@pytest.mark.parametrize(("prose", "line"), SAID)
def test_what_is_commonly_said_has_its_line(prose: str, line: str) -> None:
    assert line in _code(prose)


@pytest.mark.parametrize(
    ("prose", "never"),
    [
        # A caution in brackets is nothing that is done; what is boiled down is not poured in.
        ("Add 20 g lye (take care: add the soda to the water) to 5 L. Add the wool.", "soda"),
        ("Boil 90 g of galls in 4 L till it be reduced to 3 litres. Add the wool.", "3 L"),
        ("Tie 90 g of weld in a bag and boil it in 4 L.", "a bag"),
        ("Grind 9 g of cochineal in a coffee mill and boil it in 2 L. Add the wool.", "coffee"),
        # The wool soaks beside the dye bath, whose water this is not.
        (
            "Put 90 g of weld in 4 L. Soak the wool overnight in 9 L water with a cup of vinegar.",
            "add water 9 L to dye-bath",
        ),
    ],
)
def test_what_is_no_part_of_the_bath_is_not_poured_in(prose: str, never: str) -> None:
    assert never not in _code(prose)


@pytest.mark.parametrize(
    ("prose", "words"),
    [
        # What may be done, what another would do, and what is seen, are left with their words.
        ("Simmer 90 g of weld in 4 L 1 h, strain. Add wool 90 g. One can add 5 g of iron.", "5 g"),
        ("Simmer 90 g of weld in 4 L 1 h. Want it redder? Add a teaspoon of soda.", "a teaspoon"),
        ("Simmer 90 g of weld in 4 L 1 h. My book says 5 g.", "5 g"),
        ("Add wool 90 g to 4 L with 9 g of weld. The orange comes in the last 20 min.", "20 min"),
        ("Dye 90 g wool in weld 90 g, 4 L, 1 h. For a deeper shade, keep it in for 3 h.", "3 h"),
        ("Add 250 g weld to 4 L. Let us say 60 g like yours.", "60 g"),
    ],
)
def test_what_is_doubtful_is_left_with_its_words(prose: str, words: str) -> None:
    draft = drafted(prose)
    assert words in " ".join(amount.words for amount in draft.left)
    assert not [one for one in draft.placed if one.amount.words == words]


@pytest.mark.parametrize(
    ("prose", "never"),
    [
        # How a thing is said to be is nothing that is done to it.
        ("We used both scoured wool and silk. Mordant with 10 g alum in 3 L.", "scour "),
        ("200 g cotton, scoured and mordanted. Boil 90 g of weld in 4 L for 1 h.", "scour cotton"),
        ("Wool 100 g.\n8 avocado pits, washed\nSimmer the pits in 3 L for 1 h.", "wash"),
        # The C of degrees is no "c." of what is only about so much.
        (f"{DRAWN} Bring it to 80 °C. An hour at 80 °C, then lift.", "about"),
        (f"{DRAWN} Rinse until no more colour comes out.", "lift"),
        ("Wool 100 g. Chop 90 g of nettles (gloves!) and boil an hour in 4 L.", "cloth"),
        ("Wool 100 g. Boil 90 g weld in the big pot, 8 litres altogether.", "pot-1: 8 L"),
    ],
)
def test_what_is_not_done_has_no_line(prose: str, never: str) -> None:
    assert never not in _code(prose)


def test_what_goes_by_first_comes_first() -> None:
    code = _code("Put 90 g of woad in 9 L. Heat to 50 °C. After 24 hours add 3 g of lime and stir.")
    assert code.index("for 24 h") < code.index("lime 3 g")


def _code(prose: str) -> str:
    """The lines of a draft without its comments."""
    return "\n".join(line.partition("#")[0] for line in drafted(prose).text.splitlines()[1:])
