"""Kinds of wording in which heat, time and stuff were given to the wrong bath, or not read at all.

Each kind was found in recipes by other hands; the sentences here are further ones of the same kind.
"""

from __future__ import annotations

import pytest

from procedure.draft import drafted

Told = tuple[str, tuple[str, ...]]
# Fibre that is treated: the stuff says with what, by a verb or by a noun.
TREATED: list[Told] = [
    (
        "Silk cloth, 200 g. It was treated with tannic acid (4% o.w.f.) at 55 °C for 2 "
        "hours, and, without rinsing, with aluminium acetate (6% o.w.f.) at 40 °C for 1"
        " hour.",
        (
            "mordant silk in mordant-bath at 55 °C for 2 h",
            "mordant silk in mordant-bath-2 at 40 °C for 1 h",
        ),
    ),
    (
        "Cotton, 100 g. Pre-treatment with tannic acid (5% owf) was performed at 60 °C for 90 min.",
        ("mordant cotton in mordant-bath at 60 °C for 90 min",),
    ),
    (
        "Cotton, 100 g. Dyed with 50 g madder in 2 L of water at 80 °C for 1 h. "
        "After-treatment was carried out with ferrous sulfate (3% owf) at 50 °C for 20 "
        "min.",
        ("modify cotton in mordant-bath at 50 °C for 20 min",),
    ),
    (
        "Wool, 1 kg. Dye with 500 g of madder in 20 litres of water at 80 °C for 1 "
        "hour. Finish in a bath at 40 °C with 20 g of soap, a quarter of an hour, and "
        "dry.",
        ("wash wool in tub with neutral-soap 20 g at 40 °C for 1/4 h",),
    ),
    (
        "Wool, 1 kg. Dye with 500 g of madder in 20 litres of water at 80 °C for 1 "
        "hour. Rinse. Sour in 10 litres of water with 50 ml of vinegar.",
        ("rinse wool in tub with water 10 L, vinegar 50 mL",),
    ),
    (
        "Linen, 500 g. Dye with 300 g of weld in 12 litres of water at 70 °C for an "
        "hour. Aftertreat in 10 litres of water with 5 g of copperas for 10 minutes.",
        ("modify linen in mordant-bath for 10 min",),
    ),
    (
        "Wool 500 g. Mordanting was carried out with alum (10 % owf) at 85 °C for 60 min.",
        ("mordant wool in mordant-bath at 85 °C for 60 min",),
    ),
    (
        "Wool, 2 kg. Dye with 1 kg of weld in 40 litres of water at 80 °C for an hour. "
        "Give it a bath of copperas, 20 g in 30 litres, for ten minutes.",
        ("modify wool in mordant-bath for 10 min",),
    ),
    (
        "Linen, 50 kg. Lastly give a decoction of logwood, 3 kg, at 40 °C for an hour.",
        ("dye linen in dye-bath at 40 °C for 1 h",),
    ),
    (
        "Silk 40 g. The silk was treated in a solution of 4 g alum in 1 L of water for "
        "12 h and rinsed.",
        ("mordant silk in mordant-bath for 12 h",),
    ),
]
# Baths that are called by what they are for, or by what is in them.
BATHS: list[Told] = [
    (
        "Wool 200 g. Water, mordant: 8 L. Water, dye: 10 L. Alum 30 g. Madder 100 g. "
        "Dissolve the alum in the mordant water at 50 °C.",
        ("prepare in pot-1 with potassium-alum 30 g, water 8 L",),
    ),
    (
        "Wool 100 g. Mordant with 10 g of alum in 4 L of water at 85 °C for an hour. "
        "Dye with 50 g of madder in 5 L of water at 70 °C for an hour. Back to the alum"
        " solution, 10 minutes; then again to the dye for half an hour.",
        (
            "mordant wool in mordant-bath for 10 min",
            "dye wool in dye-bath for 1/2 h",
        ),
    ),
    (
        "Wool 100 g. Mordant with 10 g of alum in 4 L of water at 85 °C for an hour. "
        "Dye with 50 g of madder in 5 L of water at 70 °C for an hour. It returns to "
        "the mordant liquid, 20 minutes. Again to the dye liquid, 15 minutes.",
        (
            "mordant wool in mordant-bath for 20 min",
            "dye wool in dye-bath for 15 min",
        ),
    ),
    (
        "Silk 80 g. Boil 120 g of sappan wood in 2 L of water for 20 minutes and "
        "strain. The alum, 8 g, is melted in 4 L of hot water. The cloth is soaked 30 "
        "minutes.",
        ("steep silk in mordant-bath for 30 min",),
    ),
    (
        "Silk 80 g. Boil 120 g of sappan wood in 2 L of water and strain. The silk is "
        "passed through the hot water of 40 degrees.",
        ("wet out silk in tub at 40 °C",),
    ),
]
# How many pieces there are, where the number stands behind them, and what they weigh in all.
HOW_MANY: list[Told] = [
    (
        "Mine are old linen napkins, six of them, 180 grams all together. Wash them.",
        ("linen cloth, 6 pieces, 180 g",),
    ),
    (
        "There were twenty-four skeins in all, of 1 oz (28 g) each. Rinse them.",
        ("yarn, 24 skeins of 1 oz (28 g)",),
    ),
    (
        "6/22 Corriedale 2-ply, wt dry 227g, 2 sk. Wet it out.",
        ("wool yarn, 2 skeins, 227 g",),
    ),
    (
        "2 cotton bags (60 g each). Wet them out.",
        ("2 pieces of 60 g",),
    ),
    (
        "Three cotton aprons, 150 g each. Scour them.",
        ("3 pieces of 150 g",),
    ),
    (
        "Napkins: eight, of linen, 300 g in all. Scour them.",
        ("linen cloth, 8 pieces, 300 g",),
    ),
    (
        "Take 12 lengths of white wool, 60 g in all. Wet them out.",
        ("wool, 12 pieces, 60 g",),
    ),
    (
        "Tea towels: five, linen, 350 g altogether. Scour them.",
        ("linen cloth, 5 pieces, 350 g",),
    ),
]
# A mordanting told of as it was done: as follows, or of fibre that is named first.
MORDANTED: list[Told] = [
    (
        "The yarn, 500 g, is alumed thus: alum 60 g; tartar 30 g; water 15 litres. Heat"
        " to 85 °C in an hour and hold one hour.",
        (
            "add cream-of-tartar 30 g to mordant-bath",
            "heat mordant-bath to 85 °C over 1 h",
        ),
    ),
    (
        "Boil 4 lb of privet for an hour in 3 gallons of water. Meanwhile your wool, 2 "
        "lb. in hanks, has been mordanted as follows: alum, 6 ozs.; water, 5 galls. "
        "Bring to the boil in one hour.",
        (
            "add water 5 gal to mordant-bath",
            "heat mordant-bath to boil over 1 h",
        ),
    ),
    (
        "Wool 500 g. The wool I mordanted with 50 g of alum in 15 L of water at 80 °C "
        "for one hour.",
        ("mordant wool in mordant-bath at 80 °C for 1 h",),
    ),
    (
        "Wool 800 g. The wool I mordanted with rhubarb leaves, 1.6 kg of them, in 20 "
        "litres for an hour.",
        ("mordant-bath: prepare in pot-1 with rhubarb 1.6 kg",),
    ),
]
# Where the fibre is: on a rail, in a towel, in the bath that it is in already, in water of its own.
WHERE: list[Told] = [
    (
        "Yarn 200 g. Mordanted with 16 g of alum. Madder: 100 g, washed in cold water, "
        "then put in 8 L and kept at 40 °C for 2 hours. Put in the yarn for an hour.",
        ("hold dye-bath at 40 °C for 2 h",),
    ),
    (
        "Wool 200 g. Dye in 100 g of madder in 8 L at 70 °C for an hour. Left on the "
        "line overnight, then soaked in water with a cup of vinegar for twenty minutes,"
        " and washed.",
        (
            "air wool overnight",
            "steep wool in bath for 20 min",
        ),
    ),
    (
        "Wool cloth 200 g. Dye in 100 g of madder in 8 L at 70 °C for an hour. Lay the "
        "wet cloth over a rail for 10 minutes, return it for another 10.",
        ("air wool for 10 min",),
    ),
    (
        "Silk 60 g. Dye with 30 g of weld in 3 L of water at 70 °C for an hour. Spread "
        "the damp silk on a rack for half an hour.",
        ("air silk for 1/2 h",),
    ),
    (
        "Samples of wool, 10 g. Rinsed with distilled water and air-dried at 25 °C for 24 h.",
        ("dry cloth at 25 °C for 24 h",),
    ),
    (
        "Wool 200 g. Mordant with 20 g of alum in 8 L of water at 85 °C for an hour. It"
        " is better for lying a day or two in a damp towel.",
        ("rest wool for 1 to 2 d",),
    ),
    (
        "Wool 200 g. Mordant with 20 g of alum in 8 L of water at 85 °C for an hour. "
        "Squeeze it and keep it in a plastic bag for three days.",
        ("rest wool for 3 d",),
    ),
    (
        "Stockings. Boil 5 oz of annatto in 2 gallons of water a quarter of an hour. "
        "Lay the stockings in the liquor when it is blood warm and let them take the "
        "colour for ten or twelve minutes.",
        ("hold dye-bath for 10 to 12 min",),
    ),
    (
        "FIRST BATH.--Dissolve 10 lbs. of cutch in 12 gallons of water. Enter the yarn "
        "at 160 °F., and let it steep overnight in the cooling liquor.\n\nSECOND "
        "BATH.--Wring evenly.",
        ("hold dye-bath overnight",),
    ),
    (
        "Wool yarn 345 g. Before: scour both skeins together. 10 L of water, 10 g of "
        "wool soap, 50 °C, 30 min.",
        ("scour wool in tub with water 10 L, neutral-soap 10 g at 50 °C for 30 min",),
    ),
    (
        "Wool 200 g. Dye with 100 g of madder in 5 L at 70 °C for an hour. Wash. 5 "
        "litres of water, 5 g of soap, 35 °C, ten minutes.",
        ("wash wool in tub with water 5 L, neutral-soap 5 g at 35 °C for 10 min",),
    ),
    (
        "Wool 100 g. Dye with 50 g of madder in 4 L at 70 °C for an hour. Rinse in a "
        "quart of water wherein has been put a tablespoon of vinegar.",
        ("rinse wool in tub with water 1 qt, vinegar 1 tablespoon",),
    ),
]
# What a vessel holds, what is added behind a passive, and letters that a scanner misread.
SIZES: list[Told] = [
    (
        "The vat: 4 oz of indigo in a 40 litre bin, with 5 oz of soda ash, the water at"
        " 50 °C. Dip the wool for 5 minutes.",
        ("pot-1: 40 L",),
    ),
    (
        "Wool 100 g. Put 120 g of sappan wood in 2 L of water. The vinegar is added 5 "
        "mL. Boil 20 minutes.",
        ("vinegar 5 mL",),
    ),
    (
        "Wool, 2 1bs. Mordant with 4 oz of alum as fol1ows: wi1l do.",
        ("wool, 2 lb",),
    ),
    (
        "You need 2 oz of indigo, 6 oz of lime, a tall bin that holds 5 gallons, and a "
        "stick. Fill it with water.",
        ("pot-1: 5 gal",),
    ),
]


@pytest.mark.parametrize(
    ("told", "lines"), [*TREATED, *BATHS, *HOW_MANY, *MORDANTED, *WHERE, *SIZES]
)
def test_what_is_told_stands_in_its_line(told: str, lines: tuple[str, ...]) -> None:
    text = drafted(told).text
    assert [line for line in lines if line not in text] == []


DYED = "Wool 100 g. Dye with 50 g of madder in 4 L of water at 70 °C for an hour. "


def steps(told: str) -> list[str]:
    """The steps of a draft."""
    lines = drafted(told).text.partition("\nsteps\n")[2].splitlines()
    return [one.strip() for one in lines if one.strip() and not one.strip().startswith("#")]


@pytest.mark.parametrize(
    ("told", "words"),
    [
        ("Age 7 to 11.", '"7 to 11"'),
        ("For ages 9 and up.", '"9"'),
        ("The wool is 145 g m-2.", '"145 g"'),
        ("The cloth weighs 120 g per square metre.", '"120 g"'),
        ("The soap is from the chemist (4d.).", '"4d'),
    ],
)
def test_a_figure_that_measures_nothing_is_told_and_makes_no_step(told: str, words: str) -> None:
    assert steps(DYED + told) == steps(DYED)
    assert f"not placed: {words}" in drafted(DYED + told).text


def test_how_long_stuff_stood_before_is_no_time_of_the_bath() -> None:
    made = steps(
        "Cotton 100 g. Work it half an hour in a bath of 5 g of copperas and 5 g of old iron,"
        " upon which sour beer has stood six weeks."
    )
    assert not any("6 wk" in one for one in made)
    assert any("for 1/2 h" in one for one in made)


@pytest.mark.parametrize(
    "told",
    [
        "The wool was treated gently.",
        "Treat the pot with care.",
        "The next lot was treated likewise.",
    ],
)
def test_a_treatment_without_stuff_makes_no_step(told: str) -> None:
    assert steps(DYED + told) == steps(DYED)


def test_what_must_have_been_done_is_not_done_now() -> None:
    made = steps(
        "The cloth must first have been washed and wetted. Boil 5 lb of weld in 60 gallons."
    )
    assert not any(one.startswith(("wash", "wet")) for one in made)


def test_a_towel_that_is_a_tool_is_not_dyed() -> None:
    made = steps(
        "Cotton napkins, 180 g. Crush the galls in a tea towel, and put them in a pot with 4 litres"
        " of water. Simmer for 90 minutes. Strain. Put the napkins in."
    )
    assert [one.split()[0] for one in made].index("strain") < len(made) - 1
    assert sum(" in " in one and "cotton" in one for one in made) == 1


@pytest.mark.parametrize(
    "told",
    [
        "Fleece 2 lb. A cup of soft soap and warm water, left it an hour, and rinsed.",
        "Cotton 100 g. Stir 10 g of galls into 3 L of hot water. Wet the cotton. Leave it 2 hours.",
    ],
)
def test_a_time_in_a_bath_that_was_missed_is_asked_about(told: str) -> None:
    assert not any(one.startswith("rest") for one in steps(told))


@pytest.mark.parametrize(
    "told",
    [
        "Stir 10 g of alum into 3 litres of hot water. Put the wool in for an hour.",
        "Half an ounce of alum is stirred into 3 litres of hot water. Put the wool in for an hour.",
        "Stir a spoonful of alum into 3 litres of hot water. Put the wool in for an hour.",
    ],
)
def test_what_is_stirred_into_water_makes_a_bath(told: str) -> None:
    made = steps("Wool 100 g. " + told)
    assert made[0].startswith("mordant-bath: prepare")
    assert made[1].startswith("mordant wool in mordant-bath")
