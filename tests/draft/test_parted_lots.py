"""A lot that is parted on the way: from there on the two parts are lots of their own."""

from __future__ import annotations

import pytest

from procedure.draft import drafted
from procedure.pipeline import read

DYED = (
    "3 skeins of 50 g wool, mordanted. Boil 300 g walnut hulls in 6 L water for an hour, strain,"
    " put the wool in and simmer for an hour. "
)


def _steps(prose: str) -> list[str]:
    text = drafted(prose, place_unsure=True).text.partition("\nsteps\n")[2]
    return [code for line in text.splitlines() if (code := line.partition("  #")[0].strip())]


@pytest.mark.parametrize(
    ("prose", "lines"),
    [
        (
            "Take out one skein. Add 1 g of iron sulphate to the bath and leave the rest in for"
            " 10 minutes. Rinse all the skeins.",
            [
                "split wool into wool-1 1 skein, wool-2",
                "enter wool-1 and wool-2 in dye-bath",
                "lift wool-1",
                "add ferrous-sulphate 1 g to dye-bath",
                "dye wool-2 in dye-bath for 10 min",
                "rinse wool-1 and wool-2",
            ],
        ),
        (
            "Rinse and dry. Dip half the yarn in 1 g iron sulphate in 3 L of water for 5 minutes."
            " Rinse it.",
            [
                "rinse wool",
                "dry wool",
                "split wool into wool-1 1/2 of wool, wool-2",
                "mordant-bath: prepare in pot-2 with ferrous-sulphate 1 g, water 3 L",
                "dip wool-1 in mordant-bath for 5 min",
                "rinse wool-1",
            ],
        ),
        (
            "We took half out. To the rest we added a pinch of iron and gave it five minutes. Both"
            " rinsed and dried.",
            [
                "split wool into wool-1 1/2 of wool, wool-2",
                "enter wool-1 and wool-2 in dye-bath",
                "lift wool-1",
                "add ferrous-sulphate some to dye-bath",
                "dye wool-2 in dye-bath for 5 min",
                "rinse wool-1 and wool-2",
            ],
        ),
        (
            "Rinse. I dipped two skeins (100 g) in 1 g iron sulphate in 3 L of water for 5 min.",
            ["rinse wool", "split wool into wool-1 2 skeins, wool-2"],
        ),
    ],
)
def test_the_parts_are_lots_of_their_own(prose: str, lines: list[str]) -> None:
    made = _steps(DYED + prose)
    at = made.index(lines[0])
    assert [one for one in made[at : at + len(lines) + 1] if one in lines] == lines


@pytest.mark.parametrize(
    "prose",
    [
        "Lift all three skeins. Rinse.",
        "Lift one skein at a time and rinse.",
        "Take out the skeins. Half of the bath is kept.",
        "Take out half of the water. Rinse the wool.",
    ],
)
def test_what_is_done_with_all_parts_nothing(prose: str) -> None:
    assert not any(line.startswith("split ") for line in _steps(DYED + prose))


def test_a_part_of_a_lot_that_has_no_pieces_is_asked_about() -> None:
    prose = "100 g wool. Simmer 50 g weld in 4 L, strain, put the wool in. Take out one skein."
    assert not any(line.startswith("split ") for line in _steps(prose))


def test_a_draft_with_parts_is_read_without_error_about_its_lots() -> None:
    text = drafted(DYED + "Take out one skein. Hold for 10 minutes. Rinse all and dry.").text
    rules = {one.rule for one in read(text, "draft").findings}
    told = {"not-declared", "declared-twice", "cannot-read", "divided-in-its-bath", "in-it-already"}
    assert not rules & told


def test_the_first_skein_comes_out_and_the_others_stay() -> None:
    text = drafted(
        "150 g of wool, three skeins of 50 g. Simmer 150 g of weld in 5 litres of water for an"
        " hour and strain. Put the wool in and hold at 80 C. Lift the first skein out after 20"
        " minutes. Leave the others for half an hour. Lift the others and rinse.",
        place_unsure=True,
    ).text
    assert "wool: wool yarn, 3 skeins of 50 g, 150 g" in text
    assert "split wool into wool-1 1 skein, wool-2" in text
    assert "rest wool-2" not in text
    assert text.index("lift wool-1") < text.index("lift wool-2")


def test_what_says_more_of_a_weight_is_no_other_lot() -> None:
    for said in (
        "100 g of wool, two skeins of 50 g.",
        "100 g of wool yarn (two 50 g skeins).",
        "100 g wool in two skeins.",
    ):
        text = drafted(f"{said} Wet it out for 1 h.").text
        assert text.count(": wool") == 1, said
    both = drafted("100 g of wool and two skeins of silk. Wet them out for 1 h.").text
    assert "wool-2" in both or "silk" in both
