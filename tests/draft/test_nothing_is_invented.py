"""What words speak of and nobody does: no step comes of it, and what is meant is not doubled."""

from __future__ import annotations

import pytest

from procedure.draft import drafted

BEGUN = "100 g of wool yarn. Simmer 100 g of dried weld in 4 litres of water. Strain. "
DYED = BEGUN + "Put the wool in and simmer for an hour. "

# Prose, and what the draft must not have below the words quoted.
NOT_DONE = [
    ("Stir in half a teaspoon of chalk as our water is very soft.", "add water"),
    ("Set it aside in the same water till morning.", "add water"),
    ("Add a spoon of chalk, since the water here is soft.", "add water"),
    ("Lime is kept dry. Always add lime to water, not the other way round.", "add slaked-lime"),
    ("It goes on getting darker after it comes out, so stop early.", "lift wool"),
    ("The shade deepens after the wool comes out.", "lift wool"),
    ("Add more water if the wool has not room to lie easy.", "dye wool"),
    ("When you have finished dipping, hang it up overnight.", "dip wool"),
    ("Always air it fully between dips.", "dip wool"),
    ("A friend boiled her madder and her yarn came out brown.", "boil dye-bath"),
    ("Somebody's pan went over 75 and her wool came out like brick.", "lift wool"),
    ("Let it air for a day, which seems to make it darker.", "dye wool"),
    ("Add 5 g of cream of tartar to brighten it.", "dye wool"),
    ("Rinse and dry it in the shade. It should be dry by Thursday.", "dry wool\n"),
    ("This is the grey we use on the aprons.", "wearing"),
    ("The linen was only 50 g and got two dips of a minute.", "dip wool"),
    ("The rinse water was poured away down the foul drain.", "discard"),
    ("The linen was soaked in vinegar water and then rinsed.", "rinse wool"),
    ("Take off a litre of the liquor and dissolve 2 g of iron in that, then return it.", "lift"),
    ("Stir 2 g of iron into half a cup of the warm dye and pour it back into the pot.", "heat"),
    ("I stirred 2 g of iron, melted in a cup of the hot dye, back into the pot.", "heat"),
    ("Ladle out a cup of the dye, melt 2 g of iron in it and tip it back into the pot.", "lift"),
]


@pytest.mark.parametrize(("words", "step"), NOT_DONE)
def test_no_step_comes_of_what_is_not_done(words: str, step: str) -> None:
    assert step not in _behind(drafted(DYED + words).text, words)


BORROWED = [one for one, _ in NOT_DONE if "2 g of iron" in one]


@pytest.mark.parametrize("words", BORROWED)
def test_what_is_dissolved_in_some_of_a_bath_goes_into_it(words: str) -> None:
    lines = _behind(drafted(DYED + words).text, words)
    assert "add ferrous-sulphate 2 g to dye-bath" in lines
    assert "prepare" not in lines


def test_the_sentence_goes_on_behind_what_is_given_back() -> None:
    words = (
        "Take off a litre of the liquor, dissolve 2 g of iron in that and return it to the pot, "
        "then put the wool back for ten minutes."
    )
    lines = _behind(drafted(f"{DYED}Lift the wool. {words}").text, words)
    assert lines.index("add ferrous-sulphate 2 g") < lines.index("dye wool in dye-bath for 10 min")


@pytest.mark.parametrize(
    "words",
    [
        "Have your indigo vat ready at 45 °C.",
        "Prepare an indigo vat and warm it to 45 °C.",
        "Warm the woad vat to 45 °C.",
        "I took the wool, still damp, to the indigo vat.",
    ],
)
def test_a_vat_is_another_bath_than_the_yellow(words: str) -> None:
    text = drafted(f"{DYED}Rinse. {words} Dip the wool for one minute and air it for ten.").text
    assert "dye-bath-2: prepare in pot-2 with water unstated" in text
    assert "dip wool in dye-bath-2 for 1 min" in text


def test_what_is_lifted_first_is_lifted_before_the_iron_goes_in() -> None:
    words = "Lift the wool when it has been long enough in the dye and add 2 g of iron."
    lines = _behind(drafted(DYED + words).text, words)
    assert lines.index("lift wool") < lines.index("add ferrous-sulphate")


def test_what_may_be_done_with_husks_makes_no_bath() -> None:
    prose = (
        "One pound of wool. The husks may be put in a tub, covered with water and kept. "
        "Take three pounds of walnut husks. Put them in a pan with four gallons of water and "
        "boil for two hours."
    )
    assert "dye-bath: prepare in pot-1 with walnut 3 lb, water 4 gal" in drafted(prose).text


def test_a_bath_that_is_told_of_is_one_of_its_own() -> None:
    prose = (
        "100 g of cotton. Simmer 150 g of sumac leaves in 5 litres of water for an hour. Strain. "
        "The cotton lay in it overnight and was spun out. "
        "The iron bath was 2 g of ferrous sulphate in 4 litres of cold water. "
        "We put the cotton in for ten minutes."
    )
    text = drafted(prose).text
    assert "with ferrous-sulphate 2 g, water 4 L at cold" in text
    assert "cotton in mordant-bath-2 for 10 min" in text


def test_what_was_soaked_goes_over_with_its_water() -> None:
    prose = (
        "100 g of wool. Soak 100 g of madder root in 2 litres of water overnight. "
        "We tipped root and water together into the copper and simmered it for an hour."
    )
    assert "add water" not in drafted(prose).text


def _behind(text: str, words: str) -> str:
    return text[text.index(words.split(".")[0][:30]) :]
