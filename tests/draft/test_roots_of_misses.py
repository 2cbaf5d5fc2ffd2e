"""Small words on which much hangs: once they are misread, what follows in a recipe is left behind.

Each is tried in several wordings of our own, none of them from the sets of prose.
"""

from __future__ import annotations

import pytest

from procedure.draft import drafted

POT = "100 g of wool. Simmer 100 g of weld in 4 L of water for an hour and strain. "
WELD = POT + "Put the wool in the dye bath. "
SQUARES = "24 squares of cotton, 480 g. "
READ = [
    # Plants of the lists whose names have an apostrophe, and plants named by their part.
    ("300 g of wool. Simmer 200 g of dyer's chamomile in 6 L for an hour.", "chamomile 200 g"),
    ("300 g of wool. St John's wort, 400 g. Simmer it half an hour in 4 L.", "wort 400 g"),
    ("500 g of cotton. Boil 1200 g of sweet chestnut bark in 18 L an hour.", "bark 1200 g"),
    # What gives tannin, beside a dye plant.
    ("300 g of wool. Boil 200 g of fustic and 100 g of sumach in 4 L.", "sumach 100 g, water 4 L"),
    # An end that is no denial.
    ("100 g of wool. Wet the wool for not less than 1 hour.", "wet out wool in tub at least 1 h"),
    # So long, in so much.
    ("300 g of wool. Boil 300 g of dock leaves 20 mins in 1 1/2 gal.", "water 1 1/2 gal"),
    ("300 g of wool. Boil 300 g of dock leaves 1 hr. in 3 galls. of soft water.", "for 1 h"),
    ("300 g of wool. Simmer 300 g of weld 40 minutes in 2 1/2 L.", "for 40 min"),
    (WELD + "Dip the wool for 30 s.", "for 30 s"),
    (WELD + "Hold it 90 s, then lift.", "hold dye-bath for 90 s"),
    # Somebody does it after that.
    (WELD + "After that we wash it with lukewarm water.", "wash wool at tepid"),
    (WELD + "After that I rinse it in cold water and hang it up.", "rinse wool at cold"),
    (WELD + "Once that is done we rinse it twice.", "repeat 2 times"),
    # Pieces of a plant.
    (
        SQUARES + "Heat avocado stones, five of them, in 6 L to 80 °C.",
        "avocado 5 pieces, water 6 L",
    ),
    (SQUARES + "Boil the onions, six of them, in 6 L for an hour.", "onion 6 pieces"),
    # The same fibre for deeds that share the words.
    (SQUARES + POT[15:] + "Strain and put in twelve of the squares.", "dye cloth-1 in dye-bath"),
    (WELD + "Rinse and dry a third of the wool.", "dry wool-1"),
    # "Once" that counts.
    (POT + "Rinse once and put it into the dye bath.", "rinse wool\n  dye wool in dye-bath"),
    (POT + "Wash it once with soap and enter it in the weld liquor at 35 °C.", "at 35 °C"),
    # No new bath is announced.
    (WELD + "Now the part you skipped. Raise it to 60 °C.", "heat dye-bath to 60 °C"),
    (WELD + "Next the tricky bit. Raise it to 80 °C.", "heat dye-bath to 80 °C"),
    (WELD + "Rinse in dilute vinegar (10 mL/L), and wash.", "with vinegar 10 mL/L"),
    ("300 g of wool. Boil 200 g of weld in 8 L of the burn for an hour.", "weld 200 g, water 8 L"),
    # Alum water.
    ("300 g of silk. Lay it over night in cold alum water, 30 g to the litre.", "alum 30 g/L"),
    ("300 g of silk. Lay the silk in alum water for a night.", "mordant silk in mordant-bath"),
    ("300 g of silk. Soak it in alum water (20 g to the litre) for a day.", "alum 20 g/L"),
    (
        "300 g of silk. Dissolve 30 g of alum in 5 L of water. Put the silk in the alum water for a"
        " night.",
        "potassium-alum 30 g, water 5 L\n",
    ),
    # What a plant is boiled in.
    (
        "300 g of silk. I boiled 150 g of logwood chips in a muslin in 5 L half an hour and took"
        " the bag out.",
        "water 5 L\n  boil dye-bath for 1/2 h",
    ),
    (WELD + "40 min to reach 85, then 50 min.", "to 85 °C over 40 min"),
    # Fixed in a bath of its own.
    (
        "300 g of cotton. Mordant it with 30 g of alum in 6 L for an hour. Fixing: 30 g of chalk in"
        " 6 L at 40 °C, 10 min.",
        "steep cotton in bath at 40 °C for 10 min",
    ),
    (WELD + "The wool is fixed with 10 g of chalk in 5 L of water.", "with chalk 10 g, water 5 L"),
]
NOT_SAID = [
    ("300 g of wool, 300 g of weld, 6 L of warm water. Boil the weld in the water.", "hand-hot"),
    (WELD + "Dissolve 2 g of copperas in a cup of water and add a third of it.", "split"),
    (WELD + "Check the liquor with a pail of cold.", "at cold"),
    (WELD + "Keep it 20 minutes, never letting it get hot.", "at hot"),
    (SQUARES + "Boil the walnuts (ten of them) in 6 L of water for an hour.", "split"),
    (WELD + "Keep it at a fixed heat of 80 °C for an hour.", "prepare in pot-2"),
    ("300 g of wool. I mordanted it with 30 g of alum (it took 6 litres).", "take"),
]


@pytest.mark.parametrize(("prose", "line"), READ)
def test_what_much_hangs_on_is_read(prose: str, line: str) -> None:
    assert line in drafted(prose).text


@pytest.mark.parametrize(("prose", "line"), NOT_SAID)
def test_what_the_words_do_not_say_is_not_written(prose: str, line: str) -> None:
    lines = [one.split("#")[0] for one in drafted(prose).text.splitlines()]
    assert not any(line in one for one in lines)
