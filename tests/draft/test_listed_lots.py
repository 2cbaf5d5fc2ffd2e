"""Lots known by a label in a list, amounts behind brackets, fibre out of one of several pots."""

from __future__ import annotations

import pytest

from procedure.draft import drafted


def _lines(prose: str, head: str) -> list[str]:
    """The lines beneath a heading of the draft, without comments."""
    text = drafted(prose).text.partition(f"\n{head}\n")[2].partition("\n\n")[0]
    return [code for line in text.splitlines() if (code := line.partition("  #")[0].strip())]


def _steps(prose: str) -> list[str]:
    return _lines(prose, "steps")


WELD = "Simmer 80 g weld in 4 L of water for an hour. "


@pytest.mark.parametrize(
    ("listed", "lots"),
    [
        (
            "90 g hemp cloth (lot A), 60 g silk (lot B), 15 g alum.",
            ["hemp: hemp cloth, 90 g", "silk: silk, 60 g"],
        ),
        (
            "120 g wool yarn (batch 1), 80 g wool yarn (batch 2), 20 g alum and 90 g weld.",
            ["wool: wool yarn, 120 g", "wool-2: wool yarn, 80 g"],
        ),
        (
            "90 g wool cloth (scoured), 11 g alum (powdered), 70 g weld.",
            ["wool: wool cloth, 90 g, scoured"],
        ),
    ],
)
def test_an_amount_behind_a_bracket_is_of_its_own_thing(listed: str, lots: list[str]) -> None:
    prose = f"You need: {listed} Mordant it with the alum in 4 L of water for an hour."
    assert _lines(prose, "fibre") == lots
    alum = [one for one in _steps(prose) if "potassium-alum" in one]
    assert len(alum) == 1
    assert "potassium-alum unstated" not in alum[0]


LISTED = "You need: 300 g hemp cloth (lot 1), 250 g wool yarn (lot 2), 30 g soda.\n"


@pytest.mark.parametrize(
    ("prose", "steps"),
    [
        (
            f"{LISTED}Scour lot 1 and lot 2 in 12 L of water for an hour. Air lot 2 for a day."
            " Wash lot 1 in 5 L of water.",
            [
                "scour hemp and wool in tub with water 12 L for 1 h",
                "air wool for 1 d",
                "wash hemp in tub with water 5 L",
            ],
        ),
        (
            "I scoured 300 g of hemp (lot 1) and 250 g of wool (lot 2) in 12 L of water."
            " Dry lot 1.",
            ["scour hemp and wool in tub with water 12 L", "dry hemp"],
        ),
        (
            "Lot 1: 100 g wool. Lot 2: 60 g silk. Scour lot 2 in 3 L of water. Dry lot 1.",
            ["scour lot-2 in tub with water 3 L", "dry lot-1"],
        ),
        (
            f"{LISTED}{WELD}Enter lot 1. Take lot 1 out. Rinse the lots in cold water.",
            [
                "dye-bath: prepare in pot-1 with weld 80 g, water 4 L",
                "simmer dye-bath for 1 h",
                "dye hemp in dye-bath",
                "lift hemp",
                "rinse hemp and wool at cold",
            ],
        ),
    ],
)
def test_lots_are_followed_by_the_labels_of_a_list(prose: str, steps: list[str]) -> None:
    assert _steps(prose) == steps
    assert 'not placed: "lot' not in drafted(prose).text.lower()


def test_a_lot_that_is_nowhere_told_is_asked_about() -> None:
    prose = f"Wet out 150 g cotton in 3 L of water. {WELD}Put batch 1 in for 20 minutes. "
    prose += "Put batch 2 in for an hour. Dry batch 1."
    assert not [one for one in _steps(prose) if one.startswith(("dye ", "dry ", "enter "))]
    text = drafted(prose).text
    for deed, batch in (("put", 1), ("put", 2), ("dry", 1)):
        assert f'# not followed: "{deed}": which of the fibre is “batch {batch}”?' in text


def test_skeins_that_only_their_labels_count() -> None:
    prose = f"{WELD}Put the skeins in for an hour. Hank one is rinsed. Hank two is aired for a day."
    assert _steps(prose)[-2:] == ["rinse yarn-1", "air yarn-2 for 1 d"]


JARS = (
    "Wet out four silk squares, 10 g each, in 2 L of water. Jar A: simmer 9 g madder in 1 L of"
    " water for half an hour. Jar B: simmer 9 g weld in 1 L of water for half an hour. "
)


@pytest.mark.parametrize(
    ("prose", "steps"),
    [
        (
            "Two squares go into jar A and two into jar B. Take one square out of jar A and hang"
            " it up. Lift the squares out of jar B and dry them.",
            [
                "split silk into silk-1 1 piece, silk-2 1 piece, silk-3",
                "dye silk-1 and silk-2 in dye-bath",
                "dye silk-3 in dye-bath-2",
                "lift silk-1",
                "lift silk-3",
                "dry silk-3",
            ],
        ),
        (
            "Half of the silk goes into jar A and half into jar B. Take the silk out of jar B and"
            " dry it.",
            [
                "split silk into silk-1 2 pieces, silk-2",
                "dye silk-1 in dye-bath",
                "dye silk-2 in dye-bath-2",
                "lift silk-2",
                "dry silk-2",
            ],
        ),
    ],
)
def test_what_comes_out_of_one_pot_is_of_what_lies_there(prose: str, steps: list[str]) -> None:
    made = [one for one in _steps(JARS + prose) if not one.startswith("air ")]
    assert made[-len(steps) :] == steps


def test_fibre_is_not_taken_out_of_a_pot_that_it_is_not_in() -> None:
    prose = f"{JARS}Put the silk into jar A for an hour. Take the silk out of jar B."
    assert not any(one.startswith("lift") for one in _steps(prose))
    assert "which of the fibre is “jar B”?" in drafted(prose).text


def test_shirts_and_scarves_are_counted_into_pots() -> None:
    prose = (
        "Five cotton shirts, 90 g each. Pot 1: simmer 90 g madder in 9 L of water for an hour."
        " Pot 2: simmer 90 g weld in 9 L of water for an hour."
        " Two shirts went into pot 1 and three into pot 2."
    )
    assert _steps(prose)[-2:] == [
        "dye cotton-1 in dye-bath",
        "dye cotton-2 in dye-bath-2",
    ]


def test_what_was_never_put_in_makes_no_step_when_it_comes_out() -> None:
    prose = f"Two hanks of wool, 50 g each. {WELD}Hank A went into the weld for half an hour. "
    before = _steps(prose)
    prose += "Hank B was taken out after ten minutes."
    assert _steps(prose) == before
    assert '# not placed: "ten minutes"' in drafted(prose).text
