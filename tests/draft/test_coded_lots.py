"""Lots that a recipe calls by a code or a word of its own, each worked by itself from there on."""

from __future__ import annotations

import pytest

from procedure.draft import drafted
from procedure.pipeline import read


def _text(prose: str) -> str:
    return drafted(prose, place_unsure=True).text


def _lines(prose: str) -> list[str]:
    return [
        code for line in _text(prose).splitlines() if (code := line.partition("  #")[0].strip())
    ]


BATH = " Dye all in 60 g of weld and 6 litres of water at 75 °C for an hour."


@pytest.mark.parametrize(
    ("prose", "lines"),
    [
        pytest.param(
            "240 g of linen in three pieces, labelled U, V and W." + BATH + " Lift W out. U and V"
            " stay in for 20 minutes more. V: iron, 2%, 40 °C, 5 minutes. Rinse it once.",
            [
                "split linen into linen-u 1 piece, linen-v 1 piece, linen-w",
                "lift linen-w",
                "dye linen-u and linen-v in dye-bath for 20 min",
                "prepare in pot-2 with water unstated, ferrous-sulphate 2 % of linen-v",
                "mordant linen-v in mordant-bath at 40 °C for 5 min",
                "rinse linen-v",
            ],
            id="letters, and what one heads",
        ),
        pytest.param(
            "80 g of silk. Cut it into four 20 g strips and label them T1 to T4." + BATH + "\n"
            "T2: iron, 0.4 g in 1 L of water, 3 minutes.\n"
            "11:30 T4: vinegar, 10 ml in 1 L of water, 5 minutes.\nRinse all.",
            [
                "mordant silk-t2 in mordant-bath for 3 min",
                "rinse silk-t4 in tub with vinegar 10 mL, water 1 L for 5 min",
                "rinse silk-t1-t3, silk-t2 and silk-t4",
            ],
            id="letters with figures",
        ),
        pytest.param(
            "Take 450 g of wool. Divide the wool into Hank A (300 g) and Hank B (150 g). Hank A is"
            " mordanted with 10 per cent alum in 9 litres of water; Hank B with 12 per cent alum"
            " in 5 litres of water. 85 °C, one hour in each case. Let the hanks cool in their"
            " baths. Rinse both.",
            [
                "split wool into wool-a 300 g, wool-b",
                "mordant-bath: prepare in pot-1 with potassium-alum 10 % of wool-a, water 9 L",
                "mordant-bath-2: prepare in pot-2 with potassium-alum 12 % of wool-b, water 5 L",
                "hold mordant-bath at 85 °C for 1 h",
                "hold mordant-bath-2 at 85 °C for 1 h",
                'cool mordant-bath until "it is cool"',
                'cool mordant-bath-2 until "it is cool"',
                "rinse wool-a and wool-b",
            ],
            id="by their weights, and both baths",
        ),
        pytest.param(
            "Divide the cotton into Batch A (200 g) and Batch B (100 g)." + BATH + " Lift Batch B.",
            ["batch-a: cotton, 200 g", "batch-b: cotton, 100 g", "lift batch-b"],
            id="by their weights, where the whole is not weighed",
        ),
        pytest.param(
            "Each lot is 90 g of wool, in three skeins of 30 g.\n\nLOT A: alum\n9 g alum, 4 litres"
            " of water. Enter the wool at 40 °C. Hold at 85 °C for 45 minutes.\n\nLOT B: iron\n"
            "2 g ferrous sulphate, 4 litres of water. Enter the wool at 40 °C. Rinse twice.\n\n"
            "BOTH LOTS\nWash the wool in 4 litres of water.",
            [
                "lot-a: wool yarn, 3 skeins of 30 g, 90 g",
                "lot-b: wool yarn, 3 skeins of 30 g, 90 g",
                "mordant lot-a in mordant-bath at 85 °C for 45 min",
                "mordant lot-b in mordant-bath-2 at 40 °C",
                "rinse lot-b",
                "wash lot-a and lot-b in tub with water 4 L",
            ],
            id="lots of one weight each, under their headings",
        ),
        pytest.param(
            "The yarn: three skeins of wool, all 40 g, the dark, the mid and the pale."
            + BATH
            + " Dark and mid went in 30 g of madder and 3 litres of water for an hour. The pale"
            " one went in 2 g of iron and 3 litres of water for 5 minutes.",
            [
                "yarn: wool yarn, 3 skeins of 40 g",
                "split yarn into yarn-dark-mid 2 skeins, yarn-pale",
                "dye yarn-dark-mid in dye-bath-2 for 1 h",
                "mordant yarn-pale in mordant-bath for 5 min",
            ],
            id="by what each looks like",
        ),
        pytest.param(
            "Samples: 2 x 25 g wool (N1, N2), 1 x 30 g silk (S)." + BATH + " N1 and half of S in"
            " 20 g of madder and 2 litres of water for an hour.",
            ["wool: wool, 2 skeins of 25 g", "dye wool-n1 and silk-1 in dye-bath-2 for 1 h"],
            id="in brackets behind what is listed",
        ),
        pytest.param(
            "150 g of wool in a big skein (100 g) and a small one (50 g)." + BATH + " Dip the small"
            " one in 1 g of iron and 2 litres of water for 5 minutes.",
            [
                "split wool into wool-big 100 g, wool-small",
                "dip wool-small in mordant-bath for 5 min",
            ],
            id="by their size",
        ),
        pytest.param(
            "Two skeins of wool called Nan and Bess, 50 g each." + BATH + " Nan goes into 1 g of"
            " iron and 2 litres of water for 5 minutes.",
            [
                "split wool into wool-nan 1 skein, wool-bess",
                "mordant wool-nan in mordant-bath for 5 min",
            ],
            id="by name",
        ),
        pytest.param(
            "Four silk squares of 10 g, numbered 1 to 4." + BATH + " Nos 2 to 4 go in 1 g of iron"
            " and 2 litres of water for 5 minutes.",
            ["silk: silk cloth, 4 pieces of 10 g", "mordant silk-2-3-4 in mordant-bath for 5 min"],
            id="by number",
        ),
    ],
)
def test_a_lot_is_known_by_its_code(prose: str, lines: list[str]) -> None:
    made = _lines(prose)
    assert [line for line in lines if not any(line in one for one in made)] == []


def test_a_code_of_which_no_line_tells_is_in_a_comment() -> None:
    text = _text(
        "90 g of wool in three skeins, marked F, G and H." + BATH + " F was a clear brick."
    )
    assert '# not read: "F' in text


def test_a_code_of_unknown_fibre_is_asked_about_and_nothing_done_to_all() -> None:
    text = _text(
        "300 g of wool. Divide it into Lot A (100 g) and Lot B (50 g)." + BATH + " Dip Lot B in 1 g"
        " of iron and 2 litres of water for 5 minutes."
    )
    assert "dip wool in mordant-bath" not in text
    assert "which of the fibre is “Lot B”?" in text


def test_a_letter_that_nobody_explains_is_in_a_comment() -> None:
    assert '# not read: "Q' in _text("100 g of wool." + BATH + " Q was brown.")


@pytest.mark.parametrize(
    "prose",
    [
        "A skein of wool, 50 g." + BATH + " A careless girl left it in for an hour.",
        "100 g of wool, 2 skeins." + BATH + " Heat to 70 C. Rinse the skeins in the dark.",
    ],
)
def test_other_letters_and_words_are_no_lots(prose: str) -> None:
    assert "split" not in _text(prose)


def test_a_part_gets_no_name_that_another_lot_has() -> None:
    text = _text(
        "100 g of wool in two skeins. Another 50 g of wool." + BATH + " Dip one skein in 1 g of"
        " iron and 2 litres of water for 5 minutes. Rinse all."
    )
    rules = {one.rule for one in read(text, "draft").findings}
    assert not rules & {"declared-twice", "not-declared", "cannot-read"}
