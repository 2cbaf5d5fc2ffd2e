"""Which bath is meant, which vessel, and whether the fibre is in it."""

from __future__ import annotations

import re

import pytest

from procedure.draft import drafted

DYED = (
    "100 g of wool yarn, two skeins of 50 g. Simmer 100 g of dried weld in 4 litres of water for an"
    " hour and strain it. Put the wool in the dye bath. Hold it at 80C for an hour."
    " Lift it out. "
)
TWO_POTS = (
    "100 g of wool, already mordanted with alum. Simmer 100 g of dock roots in 4 litres of water"
    " for an hour and strain. In another pot simmer 80 g of alder cones in 4 litres of water for an"
    " hour and strain. Put the wool in the dock at 80C for half an hour. "
)


def steps(text: str) -> str:
    """The steps of a draft without its comments."""
    lines = drafted(text).text.partition("\nsteps\n")[2].splitlines()
    return "\n".join(
        line.partition("  # ")[0] for line in lines if not line.strip().startswith("#")
    )


OWN = [
    (
        "Have by you a pail of five litres of warm water in which 2 g of copperas has been"
        " dissolved; draw the yarn through it for four minutes.",
        "ferrous-sulphate 2 g",
        "for 4 min",
    ),
    (
        "Make ready a tub with 6 litres of tepid water and 3 g of iron in it. The skeins go"
        " through that for two minutes.",
        "ferrous-sulphate 3 g",
        "for 2 min",
    ),
    (
        "The yarn is given a mild soda bath (4 g in 3 litres, cold, 5 minutes).",
        "washing-soda 4 g",
        "for 5 min",
    ),
]


@pytest.mark.parametrize(("words", "stuff", "time"), OWN)
def test_an_after_bath_has_a_vessel_of_its_own(words: str, stuff: str, time: str) -> None:
    text = steps(DYED + words)
    made = re.search(rf"([\w-]+): prepare in pot-2 with [^\n]*{stuff}", text)
    assert made is not None
    assert re.search(rf"modify wool in {made[1]}[^\n]* {time}", text)
    assert "to dye-bath" not in text


def test_what_may_be_done_is_left_to_the_reader() -> None:
    said = OWN[2][0].replace("is given", "may be given")
    assert steps(DYED + said) == steps(DYED)
    assert f'# "{said}"' in drafted(DYED + said).text


@pytest.mark.parametrize(
    "weighed", ["of the total weight of fibre", "of the whole weight of the yarn"]
)
def test_what_is_weighed_against_fibre_soaks_alone(weighed: str) -> None:
    text = steps(
        f"300 g of wool. Madder, 40 per cent {weighed}, is steeped overnight in 5 litres of water,"
        " simmered for an hour and strained. Enter the wool and hold at 70C for an hour."
    )
    assert "stand dye-bath overnight" in text
    assert "steep wool" not in text
    assert text.index("strain dye-bath") < text.index("dye wool in dye-bath")


@pytest.mark.parametrize("apart", ["separately", "by itself", "on its own"])
def test_what_is_drawn_out_apart_has_a_pot_of_its_own(apart: str) -> None:
    text = steps(
        "200 g of wool. Simmer 100 g of weld in 4 litres of water for an hour and strain."
        f" Madder, 80 g of it, simmered {apart} for an hour in 3 litres."
    )
    assert re.search(r"dye-bath-2: prepare in pot-2 with madder 80 g, water 3 L", text)
    assert "simmer dye-bath-2 for 1 h" in text
    assert "add " not in text


@pytest.mark.parametrize(
    "words",
    [
        "Then I moved it over to the cones for twenty minutes.",
        "Lift the wool and shift it across to the alder for twenty minutes.",
        "Lift the wool and move it to what's left of the alder for 20 minutes.",
    ],
)
def test_a_bath_is_called_by_its_plant_or_a_part_of_it(words: str) -> None:
    text = steps(TWO_POTS + words)
    assert "dye wool in dye-bath-2 for 20 min" in text
    assert "add " not in text


def test_where_two_baths_are_named_it_is_asked() -> None:
    words = "I moved one across to the cones and the other to the dock, ten minutes each."
    text = drafted(TWO_POTS + words).text
    assert '# not placed: "ten minutes each"' in text
    assert '# not followed: "moved"' in text
    assert "add alder" not in text
    assert "add dock" not in text


def test_what_is_brought_is_no_place() -> None:
    text = steps(DYED + "Put in another 20 g of the weld, and return the wool for half an hour.")
    assert "add weld 20 g to dye-bath" in text


def test_them_and_short_names_are_the_plant_that_was_named_so() -> None:
    text = steps(
        "150 g of wool, already mordanted with alum. You keep your walnut hulls until you have a"
        " bucket full, about 300 g. Put them in the boiler with 5 litres of water and boil them an"
        " hour."
    )
    assert re.search(r"dye-bath: prepare in pot-1 with walnut about 300 g, water 5 L", text) or (
        re.search(r"dye-bath: prepare in pot-1 with water 5 L, walnut about 300 g", text)
    )
    text = steps(
        "I picked alder cones, 200 g. There was weld by the gate, too. Cones into the old jam pan"
        " with 6 litres of rainwater, simmered an hour."
    )
    assert "prepare in pot-1 with alder 200 g, water 6 L" in text


@pytest.mark.parametrize(
    "words",
    [
        "First scour it well. 10 g of soda ash and 5 g of soap in a big pot, boil an hour.",
        "First wash it: 10 g of soda ash and 5 g of soap in a big pot of water, boil 1 hour.",
    ],
)
def test_the_scour_is_no_mordant_bath(words: str) -> None:
    text = steps(
        f"500 g of cotton yarn. {words} Rinse. Next day squeeze it and put it in 15% alum, hand"
        " hot, overnight."
    )
    assert re.search(r"cotton in tub with soda-ash 10 g, neutral-soap 5 g at boil for 1 h", text)
    assert re.search(r"mordant-bath: prepare in pot-1 with [^\n]*potassium-alum 15 % of", text)
    assert "add " not in text


def test_the_mordant_comes_after_the_galls_in_a_bath_of_its_own() -> None:
    text = steps(
        "500 g of cotton yarn. Then a tannin bath: 50 g of oak galls in 10 L at 50C, 2 hours. Next"
        " day squeeze it out and put it in 15% alum plus 2% soda ash, hand hot, overnight."
    )
    assert re.search(r"mordant-bath-2: prepare in pot-2 with [^\n]*potassium-alum 15 %", text)


def test_what_is_lifted_and_rinsed_was_in() -> None:
    text = steps(
        "200 g of wool yarn, already mordanted with alum. Soak 100 g of madder overnight in 4"
        " litres of water. Start cold. 30C for half an hour, then up to 65C over one hour. Lift it"
        " out and rinse."
    )
    assert "dye wool in dye-bath at 30 °C for 1/2 h" in text
    assert "heat dye-bath to 65 °C over 1 h" in text
    assert text.index("lift wool") < text.index("rinse wool")
    assert "strain" not in text


def test_a_heat_with_its_time_is_not_where_the_rise_begins() -> None:
    text = steps(DYED + "Put it back. 40C for 15 min, then up to 75C over 50 minutes, hold 30 min.")
    assert re.search(r"at 40 °C for 15 min\n", text)
    assert "heat dye-bath to 75 °C over 50 min\n" in text
    assert "hold dye-bath for 30 min" in text


def test_how_long_it_sat_before_it_cooled() -> None:
    text = steps(
        "200 g of wool. Dissolve 20 g of alum in 6 litres of hot water and put in the wool. Bring"
        " it to 85C. It sat like that for forty minutes and then I let it cool until supper."
    )
    assert re.search(r"hold mordant-bath for 40 min\n\s*cool mordant-bath", text)


def test_the_time_of_each_dip_and_of_each_airing() -> None:
    text = steps(
        "100 g of cotton. Make an indigo vat with 20 g of indigo, 40 g of slaked lime and 60 g of"
        " fructose in 10 litres of water. Dip the cotton four times. Each dip is three minutes;"
        " each airing, fifteen."
    )
    assert re.search(
        r"repeat 4 times\n\s*dip cotton in dye-bath for 3 min\n\s*air cotton for 15 min", text
    )


def test_fibre_in_a_bag_is_out_of_its_bath() -> None:
    text = steps(DYED + "Stored damp in bag, 36 h. Rinse it.")
    assert "rest wool for 36 h" in text
    assert "hold dye-bath for 36 h" not in text


def test_where_the_thermometer_strayed_to_is_no_step() -> None:
    assert "91" not in steps(DYED + "Put it back at 75C for an hour. It went to 91 once.")


def test_a_vat_that_stands_ready_is_a_bath_of_its_own() -> None:
    text = drafted(
        DYED + "Rinse it. Now the green: my vat lives in a dustbin in the shed. I dipped the yarn"
        " for five minutes and aired it for ten minutes."
    ).text
    assert re.search(r"dye-bath-2: prepare in pot-2 with water unstated, of-the-vat unstated", text)
    assert "which the prose does not name" in text
    assert "dip wool in dye-bath-2 for 5 min" in text
    assert "dip wool in dye-bath " not in text


@pytest.mark.parametrize(
    "again",
    [
        "Boil the dregs once more with 300 ml of fresh water, 10 minutes.",
        "Boil the same roots again with 300 ml of water for 10 minutes.",
    ],
)
def test_plants_drawn_again_leave_the_first_liquor_at_hand(again: str) -> None:
    text = steps(
        "80 g of silk, already mordanted with alum. Boil 40 g of dock roots in 2 litres of water"
        f" for half an hour and strain. {again} Put both liquors together. Put the silk in the bath"
        " at 40C and hold for 45 minutes."
    )
    assert "dye-bath-2: prepare in pot-2 with dock unstated, water 300 mL" in text
    assert "boil dye-bath-2 for 10 min" in text
    assert "dye silk in dye-bath at 40 °C" in text
    assert "hold dye-bath for 45 min" in text


def test_the_red_liquor_of_a_dye_is_no_mordant() -> None:
    text = drafted(
        "40 g of silk. Boil 4 g of cochineal in half a litre of water for 15 minutes and pour the"
        " red liquor through a filter."
    ).text
    assert "aluminium" not in text
