"""Which of the fibre a deed is done to, by the ways in which recipes speak of it."""

from __future__ import annotations

from fractions import Fraction

import pytest

from procedure.draft import drafted
from procedure.draft.shares import FibreShare, Lot, union, whole
from procedure.pipeline import read

HALF, THIRD = Fraction(1, 2), Fraction(1, 3)


def _text(prose: str) -> str:
    return drafted(prose, place_unsure=True).text


def _steps(prose: str) -> list[str]:
    text = _text(prose).partition("\nsteps\n")[2]
    return [code for line in text.splitlines() if (code := line.partition("  #")[0].strip())]


FOUR = "4 skeins of 50 g wool. Mordant the wool with 20 g alum in 8 L water for an hour. Rinse. "
THREE = "300 g of wool yarn. Mordant it with 30 g alum in 9 L water for an hour. Rinse. "
WELD = "Weld 100 g in 6 L water: simmer for an hour and strain. "


@pytest.mark.parametrize(
    ("prose", "lines"),
    [
        pytest.param(
            FOUR
            + WELD
            + "Put two skeins in the weld for 30 minutes, and the other two for an hour.",
            ["dye wool-1 in dye-bath for 30 min", "dye wool-2 in dye-bath for 1 h"],
            id="counts",
        ),
        pytest.param(
            THREE + WELD + "Put half of the yarn in the bath for 30 minutes. Lift it. Put the other"
            " half in the same bath for an hour.",
            [
                "split wool into wool-1 1/2 of wool, wool-2",
                "dye wool-1 in dye-bath for 30 min",
                "lift wool-1",
                "dye wool-2 in dye-bath for 1 h",
            ],
            id="halves, the second in the spent bath",
        ),
        pytest.param(
            FOUR + WELD + "Skeins 1-3 go in the weld for 30 minutes. Skein 4 goes in for an hour.",
            ["split wool into wool-1 3 skeins, wool-2", "dye wool-1 in dye-bath for 30 min"],
            id="labels",
        ),
        pytest.param(
            "Lot A: 100 g wool. Lot B: 100 g wool. Lot C: 50 g wool. "
            + WELD
            + "A, B and C into the bath for 30 minutes. Lift A. Leave B and C for another 30"
            " minutes. Rinse and dry A, B and C.",
            [
                "dye lot-a, lot-b and lot-c in dye-bath for 30 min",
                "lift lot-a",
                "rinse lot-a, lot-b and lot-c",
            ],
            id="letters",
        ),
        pytest.param(
            "Weigh out four 25 g skeins of wool. Mordant two with alum (15%) and two with iron"
            " (2%), each for an hour at 80 C. Make a bath of 100 g tansy; simmer it for an hour and"
            " strain. Put one skein of each in the tansy for 30 minutes.",
            [
                "mordant yarn-1 and yarn-2 in mordant-bath at 80 °C for 1 h",
                "mordant yarn-3 and yarn-4 in mordant-bath-2 at 80 °C for 1 h",
                "dye yarn-1 and yarn-3 in dye-bath for 30 min",
            ],
            id="one of each, and a time for each",
        ),
        pytest.param(
            "100 g cotton yarn and 60 g silk yarn. "
            + WELD
            + "Put the cotton and the silk in for 30"
            " minutes. Remove the silk. Rinse both.",
            ["dye cotton and silk in dye-bath for 30 min", "lift silk", "rinse cotton and silk"],
            id="two fibres",
        ),
        pytest.param(
            "300 g of wool. Mordant it with 30 g alum in 9 L water for an hour. Rinse. "
            + WELD
            + "Dye 100 g of the wool for an hour. Lift it.",
            ["split wool into wool-1 100 g, wool-2", "dye wool-1 in dye-bath for 1 h"],
            id="a weight",
        ),
        pytest.param(
            "Cotton, three skeins of 100 g. Dip all three in the vat for 5 minutes. Set one aside."
            " Dip the other two for 5 minutes. Set one of them aside. Dip the last skein for 5"
            " minutes. Rinse all.",
            [
                "dip cotton in bath for 5 min",
                "dip cotton-2 and cotton-3 in bath for 5 min",
                "dip cotton-3 in bath for 5 min",
                "rinse cotton-1, cotton-2 and cotton-3",
            ],
            id="one fewer at each dip",
        ),
        pytest.param(
            THREE + WELD + "Divide the wool into three. Dye the first for 30 minutes. Lift it. Dye"
            " the second for an hour. Lift it.",
            [
                "split wool into wool-1 1/3 of wool, wool-2 1/3 of wool, wool-3",
                "dye wool-1 in dye-bath for 30 min",
                "dye wool-2 in dye-bath for 1 h",
            ],
            id="equal parts, by their order",
        ),
    ],
)
def test_each_deed_is_done_to_the_fibre_that_is_meant(prose: str, lines: list[str]) -> None:
    made = _steps(prose)
    assert [one for one in made if one in lines] == lines, made


@pytest.mark.parametrize(
    "prose",
    [
        FOUR + WELD + "Put seven skeins in the weld.",  # more than there are
        "Wool, 100 g. " + WELD + "Put the wool in. Take out the second skein.",  # none are told
        FOUR + WELD + "Put the wool in. Lift the skeins one at a time.",
        FOUR + "A decoction of 100 g weld in 6 L water is simmered for an hour and strained.",
    ],
)
def test_words_that_do_not_fit_part_nothing(prose: str) -> None:
    assert not any(one.startswith("split ") for one in _steps(prose))


def test_shares_of_mordant_for_several_lots_are_of_the_fibre_in_the_bath() -> None:
    text = _text(
        "4 skeins of 50 g wool. Mordant three skeins with 10% alum for an hour. Then take one of"
        " them and one more."
    )
    assert "potassium-alum 10 % of wool-1" in text or "potassium-alum 10 % wof" in text


def test_a_draft_with_lots_is_in_the_language() -> None:
    text = _text(
        FOUR + WELD + "All four skeins in the bath for 45 min. Then:\n- skein 1: as is\n- skein 2:"
        " iron 2%, 10 min\n- skein 4: washing soda 1 tsp, 5 min\nRinse all."
    )
    rules = {one.rule for one in read(text).findings}
    assert not rules & {"cannot-read", "not-declared", "split-does-not-add-up", "two-places"}


def test_shares_are_added_and_taken_away_as_parts_of_a_whole() -> None:
    wool, silk = Lot("wool"), Lot("silk")
    first = FibreShare([(wool, Fraction(0), HALF)])
    assert whole([wool]) - first | first == whole([wool])
    assert (whole([wool, silk]) - whole([silk])).lots == [wool]
    assert first & FibreShare([(wool, THIRD, Fraction(1))]) == FibreShare([(wool, THIRD, HALF)])
    assert not first & whole([silk])
    assert whole([wool]).first(THIRD) == FibreShare([(wool, Fraction(0), THIRD)])
    assert first.first(Fraction(3, 4)) is None
    wool.divided = 4
    assert [one.size for one in first.pieces] == [Fraction(1, 4)] * 2
    assert union(whole([wool]).pieces) == whole([wool])


def test_how_often_skeins_are_turned_is_no_label() -> None:
    """“The skeins one last time”, “the skeins three times”: of all of them."""
    prose = "Mordant 4 skeins of wool in 20 g of alum for an hour. Lift the skeins one last time."
    assert "  split " not in drafted(prose).text


def test_fibre_that_is_only_kept_has_no_step() -> None:
    """“Leave the other half unmordanted” is no mordanting of it."""
    prose = (
        "Scour 200 g of wool. Mordant half of it with 20 g of alum for an hour. "
        "Leave the other half unmordanted. Dye all of it in 200 g of alder for an hour."
    )
    text = drafted(prose).text
    assert "mordant wool-1 in" in text
    assert "mordant wool-2" not in text
    assert 'not followed: "leave"' in text
