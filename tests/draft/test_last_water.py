"""What goes into the last of several rinses is in that one only, and "the last" is no fibre."""

from __future__ import annotations

import pytest

from procedure.draft import drafted

DYED = (
    "100 g of wool yarn, two skeins of 50 g. Simmer 100 g of dried weld in 4 litres of water for an"
    " hour and strain it. Put the wool in the dye bath. Simmer it for an hour. "
)
TWICE = "  repeat 2 times\n    rinse wool\n  rinse wool in tub with vinegar "
SAID = [
    ("Rinse in three waters, the last with a spoonful of vinegar.", TWICE + "a spoonful"),
    ("Rinse it three times, with 50 ml of vinegar in the last.", TWICE + "50 mL"),
    ("Three rinses in the stream, and a cup of vinegar in the last of them.", TWICE + "1 cup"),
    ("Rinse x3, last rinse with 1 tbsp vinegar.", TWICE + "1 tablespoon"),
    ("Rinse it in three waters, and to the last put 20 ml of vinegar.", TWICE + "20 mL"),
    ("Two rinses, the second with 10 ml of vinegar.", "rinse wool in tub with vinegar 10 mL"),
    ("Wash it in two waters and add a cup of vinegar to the second.", "vinegar 1 cup"),
]


@pytest.mark.parametrize(("words", "holds"), SAID)
def test_the_last_rinse_has_a_line_of_its_own(words: str, holds: str) -> None:
    text = "\n".join(
        line for line in drafted(DYED + words).text.splitlines() if not line.strip().startswith("#")
    )
    assert holds in text
    assert "split" not in text


def test_in_the_sentence_behind() -> None:
    text = drafted(DYED + "Rinse it three times. Last rinse gets a teacup of vinegar.").text
    assert "rinse wool in tub with vinegar 1 cup" in text
    assert "repeat 2 times" in text


@pytest.mark.parametrize(
    "words",
    [
        "Rinse two or three times, adding 20 ml of vinegar to the final rinse.",
        "Rinse it three times, with 20 ml of vinegar in the second.",
        "Rinse, three goes, with 20 ml of vinegar in the middle one.",
    ],
)
def test_another_than_the_last_is_asked_about(words: str) -> None:
    text = drafted(DYED + words).text
    assert "vinegar 20 mL" not in text
    assert '# not placed: "20 ml"' in text
    assert "3 times" in text


def test_the_second_skein_is_fibre() -> None:
    text = drafted(DYED + "Rinse the first skein twice, the second once.").text
    assert "split wool" in text
