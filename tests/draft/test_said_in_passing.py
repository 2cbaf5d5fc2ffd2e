"""Deeds that a recipe tells in passing, and headings, states and states of fastness that are none.

All sentences are our own.
"""

from __future__ import annotations

import pytest

from procedure.draft import drafted

WOOL = "500 g of wool yarn. Simmer 250 g of dried weld in 8 litres of water for an hour. "
LISTED = "Wool 400 g, scoured\nAlum 12%\nCream of tartar 5%\nWeld, dried 100%\n\n"


def steps_of(prose: str) -> list[str]:
    """The step lines of a draft."""
    text = drafted(prose).text
    lines = text.partition("\nsteps\n")[2].splitlines()
    return [one.strip() for one in lines if one.strip() and not one.strip().startswith("#")]


@pytest.mark.parametrize(
    "said",
    ["After straining I added a pinch of chalk.", "After sieving, stir in a pinch of chalk."],
)
def test_a_bath_is_strained_in_passing(said: str) -> None:
    steps = steps_of(WOOL + said)
    assert "strain dye-bath" in steps
    assert steps.index("strain dye-bath") < len(steps) - 1


@pytest.mark.parametrize(
    "said",
    [
        "Rinse in two lots of tepid water.",
        "Rinse it in two changes of cool water.",
        "Rinse the yarn in 2 goes of cold water.",
    ],
)
def test_so_many_waters_are_so_many_rinses(said: str) -> None:
    steps = steps_of(WOOL + "Strain it. Put the wool in for an hour. " + said)
    assert "repeat 2 times" in steps
    assert any(one.startswith("rinse wool") and "unstated" not in one for one in steps)


@pytest.mark.parametrize(
    "said",
    [
        "The fastness to light is fair, and to washing good.",
        "It is fast to washing and to rubbing.",
        "Silk loses its shine if it boils.",
        "Wool goes harsh if the bath boils.",
    ],
)
def test_what_a_colour_or_a_fibre_bears_is_no_deed(said: str) -> None:
    before = WOOL + "Strain it. Put the wool in for an hour. "
    verbs = [one.split()[0] for one in steps_of(before + said)]
    assert verbs == [one.split()[0] for one in steps_of(before)]


@pytest.mark.parametrize("said", ["1. Wet out 1 h.", "1. Wet out, 2 hours."])
def test_it_is_fibre_that_is_wetted_out(said: str) -> None:
    (wetted,) = steps_of(LISTED + said)
    assert wetted.startswith("wet out wool in tub for")


@pytest.mark.parametrize(
    ("said", "water"),
    [
        ("Alum + tartar in 12 L.", "water 12 L"),
        ("Alum and tartar, 12 L water.", "water 12 L"),
        ("Alum and tartar in about 3 gallons of water.", "water about 3 gal"),
    ],
)
def test_a_bath_is_made_of_what_is_listed(said: str, water: str) -> None:
    made = steps_of(LISTED + f"1. {said} Enter at 40 C. Raise to 85 C in 1 h.")
    assert made[0].startswith("mordant-bath: prepare in")
    assert made[0].endswith(f"potassium-alum 12 % of wool, cream-of-tartar 5 % of wool, {water}")
    assert made[1] == "mordant wool in mordant-bath at 40 °C"


def test_chips_are_boiled_before_they_dye() -> None:
    prose = (
        "5 lb of wool. Dye in a fresh bath with 2 lb of fustic and 3 oz of madder, previously"
        " boiled for 1 hour in 6 gallons of water. Enter at 120 F."
    )
    made = steps_of(prose)
    assert made == [
        "dye-bath: prepare in pot-1 with fustic 2 lb, madder 3 oz, water 6 gal",
        "boil dye-bath for 1 h",
        "dye wool in dye-bath at 120 °F",
    ]


def test_chips_that_come_extracted_make_no_step() -> None:
    made = steps_of("5 lb of wool. Dye with 2 lb of fustic, previously extracted. Rinse.")
    assert [one.split()[0] for one in made] == ["dye-bath:", "dye", "rinse"]


@pytest.mark.parametrize(
    "bath", ["Dye the wool. Dye the silk.", "Dye the wool. Dye the silk at 40 C."]
)
def test_a_deed_is_no_heading_where_its_bath_waits(bath: str) -> None:
    prose = "100 g of wool, 60 g of silk. Simmer 150 g of weld in 6 L of water and strain. "
    made = steps_of(prose + bath)
    assert "dye wool in dye-bath" in made
    assert any(one.startswith("dye silk in dye-bath") for one in made)


def test_a_heading_stays_one_where_no_bath_waits() -> None:
    prose = (
        "100 g of wool.\n\nDye the wool.\n"
        "Simmer 150 g of weld in 6 L of water, strain, and put in the wool."
    )
    made = steps_of(prose)
    assert [one.split()[0] for one in made] == ["dye-bath:", "simmer", "strain", "dye"]


def test_lines_with_a_clock_are_told_apart() -> None:
    prose = (
        "100 g of wool.\n01:20 soaking - the wool in plain water overnight\n"
        "02:45 the flowers - 50 g of dried marigolds, simmered an hour in 3 litres of water\n"
        "08:30 the wool went in at 40 C for an hour\n12:05 rinsing - twice in cool water\n"
    )
    sentences = [one.words for one in drafted(prose).sentences]
    assert [one[:5] for one in sentences[1:]] == ["01:20", "02:45", "08:30", "12:05"]


@pytest.mark.parametrize(
    ("said", "lot"),
    [
        ("For six pair of socks, which will weigh about a pound, take", "12 pieces, about 1 lb"),
        ("For my worsted, of which there should be four pounds, take", "4 lb"),
    ],
)
def test_what_fibre_weighs_is_told_behind_it(said: str, lot: str) -> None:
    text = drafted(said + " two pounds of alder bark and boil it in 3 gallons of water.").text
    assert lot in text.partition("fibre\n")[2].partition("\n\n")[0]


@pytest.mark.parametrize("aside", ["which weighed 300 g together", "300 g", "all of it wet"])
def test_fibre_goes_in_behind_an_aside(aside: str) -> None:
    prose = f"My wool, {aside}, went into the pot with 36 g of alum in 8 litres of water."
    made = [one for one in steps_of(prose) if not one.startswith("wet out")]
    assert made == [
        "mordant-bath: prepare in pot-1 with potassium-alum 36 g, water 8 L",
        "mordant wool in mordant-bath",
    ]


def test_a_denied_verb_in_brackets_denies_nothing_outside_them() -> None:
    prose = (
        "1 kg of cotton. Then a tannin bath: 100 g of sumac (or 60 g of oak galls if you can't get"
        " it) in 20 L of water, and leave the cotton in overnight."
    )
    made = steps_of(prose)
    assert made[0] == "mordant-bath: prepare in pot-1 with sumach 100 g, water 20 L"
    assert "galls" not in "".join(made)


CUTCH = (
    "200 g of linen. Dissolve 30 g of cutch in 10 litres of water, put in the linen and simmer an"
    " hour. "
)


def test_what_has_the_water_of_a_bath_is_one() -> None:
    made = steps_of(
        CUTCH + "Dissolve 8 g of copper sulphate in 9 litres of warm water. Work the linen in this"
        " for a quarter of an hour."
    )
    assert made[-2:] == [
        "mordant-bath: prepare in pot-2 with copper-sulphate 8 g, water 9 L at hand-hot",
        "mordant linen in mordant-bath for 1/4 h",
    ]


@pytest.mark.parametrize(
    "water", ["half a litre of hot water", "a cup of hot water", "5 litres of water"]
)
def test_what_is_poured_a_sentence_later_is_a_liquor(water: str) -> None:
    made = steps_of(
        CUTCH + f"Dissolve 4 g of iron in {water}. Lift the linen and add the iron to the dye."
        " Put the linen back for ten minutes."
    )
    assert made[-4].startswith("ferrous-sulphate-liquor: dissolve ferrous-sulphate 4 g in jar")
    assert made[-3:] == [
        "lift linen",
        "add ferrous-sulphate-liquor to dye-bath",
        "dye linen in dye-bath for 10 min",
    ]


@pytest.mark.parametrize(
    ("listed", "then", "line"),
    [
        (
            "Soda ash for scouring, 10 g.",
            "Scour the wool in 6 L of water with the soda ash.",
            "10 g",
        ),
        (
            "10 g soda ash (for the scour).",
            "Scour the wool in 6 L of water with the soda ash.",
            "10 g",
        ),
        ("Alum for the mordant: 24 g.", "Dissolve the alum in 8 L of water.", "alum 24 g"),
        (
            "Chalk to soften the water, 4 g.",
            "Simmer 100 g of weld and the chalk in 6 L of water.",
            "chalk 4 g",
        ),
        (
            "Vinegar for the last rinse, 50 ml.",
            "Rinse with the vinegar in 5 L of water.",
            "vinegar 50 mL",
        ),
    ],
)
def test_what_is_listed_with_its_purpose_is_no_deed(listed: str, then: str, line: str) -> None:
    wool = "200 g of wool. "
    assert steps_of(wool + listed) == []
    assert line in steps_of(f"{wool}{listed} {then} Put the wool in.")[0]


@pytest.mark.parametrize(
    "said",
    [
        "You'll need two 100 g skeins of wool, already mordanted with 12 % alum and 6 % tartar.",
        "I used 200 g of wool yarn, already mordanted with 12 % alum and 6 % tartar.",
        "200 g of wool yarn, previously mordanted with 12 % alum and 6 % tartar.",
    ],
)
def test_fibre_comes_mordanted_with_tartar_beside(said: str) -> None:
    text = drafted(said + " Simmer 200 g of weld in 6 litres of water.").text
    assert "mordanted with potassium alum 12 % and cream of tartar 6 %" in text
    assert "mordant-bath" not in text


@pytest.mark.parametrize(
    ("said", "mordanted"),
    [
        ("You need 200 g of mordanted wool.", True),
        ("You need 200 g of pre-mordanted wool.", True),
        ("You need 200 g of unmordanted wool.", False),
        ("You need 200 g of un-mordanted wool.", False),
    ],
)
def test_fibre_comes_mordanted_nobody_says_with_what(said: str, mordanted: bool) -> None:
    text = drafted(said + " Simmer 200 g of weld in 6 litres of water.").text
    assert ("wool, 200 g, mordanted\n" in text) is mordanted


def test_straining_is_noted_without_the_next_deed() -> None:
    made = steps_of(
        "Simmer 100 g of weld in 6 litres of water, strain through a sieve and make up to 8 litres."
    )
    assert made[-2:] == ['strain dye-bath note "through a sieve"', "top up dye-bath to 8 L"]
