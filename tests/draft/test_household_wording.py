"""Kinds of wording that household receipts showed, in other words than theirs."""

from __future__ import annotations

import pytest

from procedure.draft import drafted

BATH = (
    "100 g of wool yarn, two skeins of 50 g. Simmer 100 g of dried weld in 4 litres of water for an"
    " hour and strain it. "
)
DYED = BATH + "Put the wool in the dye bath. Simmer it for an hour. "


def without_comments(words: str) -> str:
    """The lines of a draft that are none of its comments."""
    lines = drafted(words).text.splitlines()
    return "\n".join(line for line in lines if not line.strip().startswith("#"))


WETTED = "wet out wool in tub "
SAID = [
    # A bath made up to so much: not so much at most.
    (BATH + "Make the dye liquor up to 9 litres.", "top up dye-bath to 9 L"),
    (BATH + "Fill the pan with water up to 10 litres.", "top up dye-bath to 10 L"),
    (BATH + "Bring the volume up to 6 L. Enter the wool.", "top up dye-bath to 6 L"),
    (BATH + "Dilute the dye to six litres.", "top up dye-bath to 6 L"),
    (BATH + "Add hot water up to 7 litres.", "top up dye-bath at hot to 7 L"),
    (BATH + "Add up to 2 litres of water.", "add water at most 2 L"),
    # So much of the fibre, and no time.
    (DYED + "Rinse one half, which is finished.", "split wool into wool-1 1 skein, wool-2"),
    (DYED + "Wring out one half, and put the other back for ten minutes.", "squeeze wool-1"),
    (DYED + "Hang up a quarter.", "split wool into wool-1 1/4 of wool"),
    (DYED + "Lift it, dip it for two minutes, air five.", "air wool for 5 min"),
    # Fibre that has been wetted before it goes in.
    (BATH + "Put in the wool, which has lain an hour in plain water.", WETTED + "for 1 h\n  dye"),
    (BATH + "Put the wool, that has lain in water overnight, into the dye bath.", WETTED + "over"),
    (BATH + "Into this put the wool, it having lain overnight in water.", WETTED + "overnight"),
    (BATH + "Enter the wool, previously soaked two hours in water.", WETTED + "for 2 h"),
    (BATH + "Add the skeins, which have been soaking for two hours in cool water.", "at cold for"),
    (BATH + "Enter the yarn, which will have had an hour in a bucket of tepid water.", "for 1 h"),
    # Until it is so warm: it cools.
    (BATH + "Let it stand till it is blood warm, and put in the wool.", "cool dye-bath to tepid"),
    (BATH + "Let it cool till it is no more than lukewarm.", "cool dye-bath to tepid"),
    (BATH + "Let the liquor stand until it is about 40 °C.", "cool dye-bath to about 40 °C"),
    (BATH + "Let it stand till not above blood heat.", "cool dye-bath to tepid"),
    (BATH + "Wait until it is tepid, and put in the wool.", "cool dye-bath to tepid"),
    (DYED + "Leave the wool in till it is lukewarm. Rinse.", "cool dye-bath to tepid"),
    # Amounts that their own sentence corrects.
    (BATH + "Add water: a gallon, no, a gallon and a half of it.", "water 1 1/2 gal"),
    (DYED + "Keep it in for ten, no, twenty minutes.", "hold dye-bath for 20 min"),
    (DYED + "Leave it in ten minutes - no, fifteen.", "hold dye-bath for 15 min"),
    (DYED + "It was going to be ten minutes and turned out to be twenty.", "for 20 min"),
    (DYED + "It was supposed to be 20 minutes but ended up as 45.", "for 45 min"),
    (DYED + "It became dark after an hour.", "simmer dye-bath for 1 h"),
    # How fibre comes, and no deed.
    (
        "To 500 g of wool, well scoured: 100 g of alum and 30 g of tartar in 10 litres of water."
        " Simmer an hour.",
        "potassium-alum 100 g, cream-of-tartar 30 g, water 10 L",
    ),
    # How long what was done in the sentence before.
    ("Soak 100 g of wool in cool water. An hour will do.", "wet out wool in tub at cold for 1 h"),
    ("Wet out 100 g of silk in water. Ten minutes is all it needs.", "in tub for 10 min"),
    (BATH + "Put the wool in. Simmer it. Forty minutes is enough.", "simmer dye-bath for 40 min"),
    (BATH + "Put the wool in. Dye it at 80 °C. About an hour will do.", "at 80 °C for about 1 h"),
    # Fibre that cools out of its bath.
    (DYED + "Lift it. Let it cool in the air an hour.", "air wool for 1 h"),
    (DYED + "Take the wool out and let it cool for ten minutes.", "rest wool for 10 min"),
    (DYED + "Let the skeins cool in the air for an hour.", "air wool for 1 h"),
    (DYED + "Lift the wool out and let the bath cool to 40 °C.", "cool dye-bath to 40 °C"),
    (DYED + "Turn off the heat. Press it down, and leave it to cool for 2 hours.", "cool dye-bath"),
    # A vessel filled anew: a bath of its own.
    (
        DYED + "Take the wool out. Then fill the boiler afresh, add 5 g of cochineal and boil ten"
        " minutes. Put the wool in.",
        "add cochineal 5 g to dye-bath-2",
    ),
    # Stuff ground with water, and a time that is at least so long.
    (
        "Indigo, the best, well ground with water, half a pound; lime, two pounds. Put in twenty"
        " gallons of water. Throw in the lime.",
        "indigo 1/2 lb, slaked-lime 2 lb, water 20 gal",
    ),
    ("Lime slaked with water, 2 lb. Add 10 gallons of water. Stir.", "slaked-lime 2 lb"),
    ("Boil 100 g of weld in 4 L of water for an hour anyhow.", "at least 1 h"),
]


@pytest.mark.parametrize(("words", "holds"), SAID)
def test_said_so(words: str, holds: str) -> None:
    assert holds in without_comments(words)


NOT_SAID = [
    (DYED + "Rinse one half and hang it up.", "1/2 h"),
    (DYED + "Simmer it for one half.", "1/2 h"),
    (DYED + "Rinse three and hang them up.", "for 3 h"),
    ("A brown for yarn spun at home. Boil 100 g of walnut hulls in 4 L for an hour.", "squeeze"),
    (BATH + "Put in the wool, which has lain an hour in plain water.", "hold"),
    (DYED + "Keep it in for ten, no, twenty minutes.", "10 h"),
    ("To 500 g of wool, well scoured: 100 g of alum in 10 litres.", "scour wool in"),
]


@pytest.mark.parametrize(("words", "never"), NOT_SAID)
def test_not_said_so(words: str, never: str) -> None:
    assert never not in without_comments(words)
