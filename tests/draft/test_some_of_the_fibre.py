"""Which of the fibre is meant, what was so before, and what a sentence gives behind its deed."""

from __future__ import annotations

import pytest

from procedure.draft import drafted

WELD = "Simmer 100 g of weld in 4 litres of water for an hour and strain it. "
DYED = "Four skeins of wool, 50 g each. " + WELD + "Put the wool in for an hour. "
ONE = "200 g of wool yarn. " + WELD + "Put the wool in for an hour. "
BOTH = "100 g of silk and 100 g of wool. " + WELD + "Silk and wool went in. "

SAID = [
    # Some of the fibre, by what was said of it.
    (DYED + "Dip two of the yellow ones in a bath of 4 g iron in 4 litres of water.", "dip wool-1"),
    (DYED + "Dip a couple of skeins in the indigo vat. Dip those two again.", "dip wool-1"),
    (DYED + "Half of it was lifted out. Rinse that half three times.", "rinse wool-1"),
    (ONE + "Dip one half in the indigo vat. The other half is rinsed.", "rinse wool-2"),
    (ONE + "The second half was dipped in the indigo vat for a minute.", "dip wool-2"),
    # What stays in the bath is what is taken out of it, and what comes back was lifted last.
    (ONE + "Half the yarn comes out. Add 2 g of iron. Then take the yarn out.", "lift wool-2"),
    (
        ONE + "Half the yarn comes out. Lift the yarn out. The yarn goes back for 5 minutes.",
        "dye wool-2 in dye-bath for 5 min",
    ),
    # "Them" is more than the wool.
    (
        BOTH + "The silk came out and the wool stayed half an hour. Rinse them.",
        "rinse silk and wool",
    ),
    # Lots in turn.
    (
        "400 g of wool. Mordant it in two batches with 20 g of alum each in 6 litres of water."
        " Dye the first batch in 200 g of weld and 8 litres of water for an hour.",
        "dye wool-1 in dye-bath for 1 h",
    ),
    (
        "Three skeins of wool, 50 g each. " + WELD + "Put the skeins in. The first stays an hour,"
        " the second half an hour, and the third ten minutes.",
        "dye wool-3 in dye-bath for 10 min",
    ),
    (
        "Two skeins of wool. " + WELD + "The first went in for an hour. For the second I used the"
        " same bath with 2 g of iron added.",
        "add ferrous-sulphate 2 g to dye-bath",
    ),
    # Dips with an airing, in each round.
    (
        ONE + "It had three dips of 3 minutes each, with ten minutes of airing between.",
        "  repeat 3 times\n    dip wool in dye-bath for 3 min\n    air wool for 10 min",
    ),
    # The water, the time and the bath that come behind.
    (
        "100 g of wool. The wool was mordanted with 15 g of alum, simmered for an hour in 3 litres"
        " of water.",
        "with water 3 L, potassium-alum 15 g",
    ),
    (ONE + "It was heated slowly, taking two hours to get to 80 °C.", "to 80 °C over 2 h"),
    (
        "200 g of wool. Boil 100 g of madder for an hour. In another pot boil 100 g of weld. Top up"
        " the madder to 10 L.",
        "top up dye-bath to 10 L",
    ),
    (
        ONE + "I made a fresh bath with 5 g of iron in 8 litres of water and it went in for ten"
        " minutes.",
        "mordant wool in mordant-bath for 10 min",
    ),
    (
        ONE + "I stirred 5 g of iron into 8 litres of water and it went in for ten minutes.",
        "mordant-bath: prepare in pot-2 with ferrous-sulphate 5 g, water 8 L",
    ),
    (
        "200 g of wool. The wool went into a bath of 200 g of weld, boiled for an hour in 8 litres"
        " of water and strained.",
        "  boil dye-bath for 1 h\n  strain dye-bath\n  dye wool in dye-bath",
    ),
    (
        "200 g of wool. Madder: 100 g in 4 litres of water in one pot. Weld: 90 g in 5 litres of"
        " water in another pot. Strain both.",
        "strain dye-bath-2",
    ),
    # How much was in the bath that was told of.
    (
        "400 g of wool. Walnut: fill a bucket with green hulls, cover them with rainwater, and"
        " leave it for three weeks. For this batch I had 2 kg of hulls.",
        "walnut 2 kg",
    ),
    # What was so before.
    (
        "I had 500 g of wool which Joan had mordanted at home with 12% alum. " + WELD,
        "500 g, mordanted with potassium alum 12 %",
    ),
    (
        "You need two 50 g skeins of wool, A and B, both scoured. Mordant them with 10% alum.",
        "wool yarn, 2 skeins of 50 g, scoured",
    ),
    # What is worn with a stuff.
    (
        ONE + "Dip it in a bath of 3 g of iron in 4 litres of water. Rinse. Wear gloves with iron"
        " and keep it away from the tea.",
        "dip wool in mordant-bath wearing gloves",
    ),
    ("Dear Maud,\n\nYou asked how I got that yellow. I had 200 g of wool. " + WELD, "Weld on wool"),
    ("Greens at last!\n\nI had 200 g of wool. " + WELD, 'procedure "Greens at last!"'),
]


@pytest.mark.parametrize(("prose", "line"), SAID)
def test_it_is_read_so(prose: str, line: str) -> None:
    """Each sentence gives the line."""
    assert line in drafted(prose).text


ASKED = [
    (DYED + "Dip three in the indigo vat. Two of the green ones were dipped again.", 1),
    (ONE + "Some of the yarn was dipped in the indigo vat for a minute.", 0),
    (ONE + "The smaller ones were dipped in the indigo vat for a minute.", 0),
    (DYED + "The lighter two were dipped in the indigo vat.", 0),
    (DYED + "Dip this skein in the indigo vat for a minute.", 0),
]


@pytest.mark.parametrize(("prose", "dips"), ASKED)
def test_nothing_is_done_where_it_is_not_known_to_which(prose: str, dips: int) -> None:
    """What is done to some of the fibre is asked about, and done to none of it."""
    text = drafted(prose).text
    assert "which of the fibre is “" in text
    assert text.count("\n  dip ") == dips


NOT_DONE = [
    ("This is a simple exercise: one weld bath and two skeins that are mordanted.", "mordant "),
    ("The plan was to dye one skein in weld and dip the other.", "dip "),
    ("You need two skeins of wool, A and B, both scoured.", "scour "),
    (
        "I had 500 g of wool that had been mordanted with 10% alum the week before and dried.",
        "dry ",
    ),
    ("Two skeins of silk, 100 g, both scoured and mordanted with alum.", "mordant "),
    ("I saved the liquor in a can for the council tip and didn't pour it away.", "discard "),
]


@pytest.mark.parametrize(("sentence", "verb"), NOT_DONE)
def test_it_is_no_step(sentence: str, verb: str) -> None:
    """What is to come, what was done before and what is denied is done by no line."""
    before, behind = ("", f" {WELD}") if "council" not in sentence else (ONE, "")
    lines = drafted(before + sentence + behind).text.splitlines()
    assert not any(line.strip().startswith(verb) or f": {verb}" in line for line in lines)


def test_a_title_is_not_cut_within_a_word() -> None:
    """A long heading ends with a whole word."""
    heading = "Madder with an iron afterbath, and notes from Saturday's meeting of the Circle"
    first = drafted(f"{heading}\n\n200 g of wool. {WELD}").text.splitlines()[0]
    assert heading.startswith(first.removeprefix('procedure "').removesuffix('"'))
    assert first.endswith(" Saturday's\"")


def test_stuff_for_each_of_several_lots_is_asked_about() -> None:
    """So much for each lot stands in no line, since no line says how much that is."""
    prose = "400 g of wool. Mordant it in two lots with 20 g of alum in 6 litres of water for each."
    text = drafted(prose).text
    assert '# not placed: "20 g", of alum: for each of them' in text
    assert "potassium-alum unstated" in text
