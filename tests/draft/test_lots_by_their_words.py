"""Lots told of in one breath, taken out at told times, kept back, and not to be told apart."""

from __future__ import annotations

import pytest

from procedure.draft import drafted
from procedure.pipeline import read


def _text(prose: str) -> str:
    return drafted(prose, place_unsure=True).text


def _steps(prose: str) -> list[str]:
    text = _text(prose).partition("\nsteps\n")[2]
    return [code for line in text.splitlines() if (code := line.partition("  #")[0].strip())]


TANSY = "Simmer 150 g of tansy in 6 L of water for an hour and strain it. "
THREE = "Three hanks of wool, 40 g each. " + TANSY + "Put all three in for an hour. "
VAT = "Make a vat of 8 g of indigo in 9 L of water. "


@pytest.mark.parametrize(
    ("prose", "lines"),
    [
        pytest.param(
            "We mordanted three skeins with alum and two with iron. All five are 30 g of wool. The"
            " alum was 12% and we simmered them for an hour; the iron was 3%, a quarter of an hour"
            " at 70 C.",
            [
                "split yarn into yarn-1 3 skeins, yarn-2",
                "mordant yarn-1 in mordant-bath",
                "mordant yarn-2 in mordant-bath-2",
                "simmer mordant-bath for 1 h",
                "mordant yarn-2 in mordant-bath-2 at 70 °C for 1/4 h",
            ],
            id="counted lot by lot, and the amounts told later",
        ),
        pytest.param(
            "80 g wool, 40 g silk, 60 g linen.\nWool and silk: alum 9%, an hour at 70 C.\n"
            "Linen: oak gall 7% for two hours, then alum acetate 5% for an hour at 45 C.\n",
            [
                "mordant wool and silk in mordant-bath at 70 °C for 1 h",
                "mordant linen in mordant-bath-2 for 2 h",
                "mordant linen in mordant-bath-3 at 45 °C for 1 h",
            ],
            id="fibres by their heads, and one bath after another",
        ),
        pytest.param(
            "Five hanks of wool, 20 g each. Mordant the hanks with 10 g of alum for an hour. Leave"
            " one hank unmordanted. " + TANSY + "Put in all five hanks.",
            ["mordant wool-1 in mordant-bath for 1 h", "dye wool-1 and wool-2 in dye-bath"],
            id="one kept back from the mordant",
        ),
        pytest.param(
            "Three hanks of wool, 40 g each. " + TANSY + "Put all three in at 80 C. Take one out"
            " after 20 minutes, one after 45, and leave the last in overnight.",
            [
                "hold dye-bath for 20 min",
                "lift wool-1",
                'lift wool-2 note "after 45"',
                "cool dye-bath overnight",
            ],
            id="taken out at told times",
        ),
        pytest.param(
            "Four pieces of silk, 10 g each. "
            + TANSY
            + "Enter the silk. After 10 minutes remove one"
            " piece. After another 15 minutes remove the second.",
            [
                "hold dye-bath for 10 min",
                "lift cloth-1",
                "hold dye-bath for 15 min",
                "lift cloth-2",
            ],
            id="and so long after that",
        ),
        pytest.param(
            THREE + "Lift one of the three. Lift another hank.",
            ["lift wool-1", "lift wool-2"],
            id="one of the three",
        ),
        pytest.param(
            THREE + "Dip one in a weak iron bath (1 g in 2 litres of water) for 4 minutes.",
            [
                "mordant-bath: prepare in pot-2 with ferrous-sulphate 1 g, water 2 L",
                "dip wool-1 in mordant-bath for 4 min",
            ],
            id="a bath named by its salt",
        ),
        pytest.param(
            "A skein of wool and a skein of silk, both 60 g. Mordant the wool in 6 g of alum for an"
            " hour and leave the silk in a cold alum bath (9 g) overnight.",
            [
                "mordant wool in mordant-bath for 1 h",
                "mordant silk in mordant-bath-2 at cold overnight",
            ],
            id="another bath of the same salt",
        ),
        pytest.param(
            "50 g wool and 50 g silk. "
            + TANSY
            + "Put the silk in for ten minutes, lift it out and then the wool for half an hour.",
            ["dye silk in dye-bath for 10 min", "lift silk", "dye wool in dye-bath for 1/2 h"],
            id="then the next",
        ),
        pytest.param(
            "Three hanks of wool, 40 g each. " + TANSY + "First bath: hank A goes in for an hour.\n"
            "Second bath: without adding anything, hank B, an hour.\n",
            ["dye wool-1 in dye-bath for 1 h", "dye wool-2 in dye-bath for 1 h"],
            id="baths of one liquor",
        ),
        pytest.param(
            "Three hanks of wool, 40 g each. " + TANSY + "Put hank A in for an hour. Hank B is not"
            " dyed in the tansy, it goes into the indigo vat for three minutes.",
            ["dye wool-1 in dye-bath for 1 h", "dye wool-2 in dye-bath-2 for 3 min"],
            id="what is denied",
        ),
        pytest.param(
            "Tea towels of cotton (set of 6, 300 g). " + TANSY + "Put two of the towels in for 20"
            " minutes, the other four for an hour.",
            ["dye cloth-1 in dye-bath for 20 min", "dye cloth-2 in dye-bath for 1 h"],
            id="pieces of a set",
        ),
    ],
)
def test_each_lot_goes_where_the_words_say(prose: str, lines: list[str]) -> None:
    made = _steps(prose)
    assert [one for one in made if one in lines] == lines, made


@pytest.mark.parametrize(
    ("prose", "words"),
    [
        (THREE + "Put the others back for ten minutes.", "the others"),
        (THREE + "Dip the blue hank in iron for ten minutes.", "the blue hank"),
        (THREE + "Put one hank in each jar. Leave it there for an hour.", "one hank"),
        (THREE + "Put seven of the hanks back for five minutes.", "seven of the hanks"),
    ],
)
def test_a_deed_to_fibre_that_is_not_known_is_asked_about(prose: str, words: str) -> None:
    """Silence would have it done to all the fibre."""
    text = _text(prose)
    assert f"which of the fibre is “{words}”?" in text
    behind = text.partition("Put all three in for an hour.")[2]
    assert " wool in " not in behind.partition("\n")[2].partition('"Put')[2].partition("\n")[2]


def test_what_follows_such_a_deed_falls_on_no_other_fibre() -> None:
    made = _steps(THREE + "Dip the blue hank in iron for ten minutes, air it for an hour.")
    assert not any(one.startswith(("air", "dip")) for one in made)


def test_so_much_for_each_skein_is_no_amount_of_the_bath() -> None:
    text = _text("Two hanks of wool, 50 g each. Mordant them with 5 g of alum each for an hour.")
    assert "potassium-alum unstated" in text
    assert '# not placed: "5 g", of alum: for each of them' in text


@pytest.mark.parametrize(
    ("said", "fibre"),
    [
        ("Take three hanks of wool, of a quarter of a pound each.", "3 skeins of 1/4 lb"),
        ("Scour all four skeins (25 g wool each).", "4 skeins of 25 g"),
        ("Three skeins of wool. All three are 30 g.", "3 skeins of 30 g"),
    ],
)
def test_a_weight_of_each_is_not_that_of_all(said: str, fibre: str) -> None:
    assert fibre in _text(f"{said} Dye them in 100 g of weld for an hour.")


def test_a_colour_tells_what_was_not_saddened_since() -> None:
    made = _steps(
        "Two hanks of wool, 50 g each. " + TANSY + "Enter both hanks for an hour. Lift one of the"
        " two. Put the other in an iron bath (2 g) for 5 minutes. Dip the yellow hank in an indigo"
        " vat for a minute."
    )
    assert "mordant wool-2 in mordant-bath for 5 min" in made
    assert any(one.startswith("dip wool-1 in ") for one in made)


def test_a_round_of_dips_done_twice_more_is_told_besides_the_first() -> None:
    made = _steps(
        "One hank of wool, 50 g. " + VAT + "Dip the hank for 4 minutes, air for 9 minutes;"
        " twice more. Rinse."
    )
    at = made.index("repeat 2 times")
    one_round = ["dip wool in dye-bath for 4 min", "air wool for 9 min"]
    assert made[at - 2 : at] == made[at + 1 : at + 3] == one_round


def test_wool_and_silk_are_a_blend_where_neither_is_named_alone() -> None:
    blend = "Mordant 100 g of wool and silk yarn with 10 g of alum for an hour."
    assert "wool-silk" in _text(blend)
    apart = _steps(
        "60 g wool, 40 g silk, 50 g linen. Mordant the wool and silk with 10 g of alum for an hour."
    )
    assert "mordant wool and silk in mordant-bath for 1 h" in apart


def test_the_drafts_are_in_the_language() -> None:
    text = _text(
        "Three hanks of wool, 40 g each. " + TANSY + "Put all three in at 80 C. Take one out after"
        " 20 minutes, one after half an hour, and leave the last in overnight. Rinse all."
    )
    rules = {one.rule for one in read(text).findings}
    assert not rules & {"cannot-read", "not-declared", "split-does-not-add-up", "two-places"}
