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
]


@pytest.mark.parametrize(("words", "never"), NOT_SAID)
def test_not_said_so(words: str, never: str) -> None:
    assert never not in drafted(words).text
