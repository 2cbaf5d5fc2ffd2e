"""How recipes list their fibre: weights by pieces, and what it is already."""

from __future__ import annotations

import pytest

from procedure.draft import drafted
from procedure.pipeline import read

AS_ITEM = """Onion yellow

You will need:
- {}
- 150 g onion skins

Method
1. Boil the skins in 6 litres of water for an hour and strain.
2. Put in the wool and simmer for an hour.
3. Rinse and dry.
"""
AS_SENTENCE = """Onion yellow

You'll want: {}. 150 g of onion skins.

Boil the skins in 6 litres of water.
"""


@pytest.mark.parametrize(
    ("said", "declared"),
    [
        (
            "200g wool yarn (four 50g skeins), scoured",
            "wool: wool yarn, 4 skeins of 50 g, 200 g, scoured",
        ),
        ("Four 50g skeins of wool, scoured", "yarn: wool yarn, 4 skeins of 50 g, scoured"),
        ("4 x 50 g skeins of superwash merino", "yarn: superwash wool yarn, 4 skeins of 50 g"),
        ("4x25g skeins of wool", "yarn: wool yarn, 4 skeins of 25 g"),
        ("300 g of wool in three equal skeins", "wool: wool yarn, 3 skeins, 300 g"),
        ("200g of yarn divided into four skeins", "yarn: wool yarn, 4 skeins, 200 g"),
        ("1 lb of wool yarn in 4 oz skeins", "wool: wool yarn, 4 skeins of 4 oz, 1 lb"),
        ("240 g of cotton in two pieces", "cotton: cotton cloth, 2 pieces, 240 g"),
        ("ten 10g mini-skeins of wool", "yarn: wool yarn, 10 skeins of 10 g"),
        ("Silk scarf x 3, about 20g each", "silk: silk cloth, 3 pieces of about 20 g"),
        ("50 g wool x 4", "wool: wool, 4 pieces of 50 g"),
        ("half a pound of fleece, well washed", 'fleece: wool fleece, 1/2 lb, "well washed"'),
        ("8oz. of white wool yarn, clean", 'wool: wool yarn, 8 oz, "white, clean"'),
        ("a kilo of fleece, scoured and dried", 'fleece: wool fleece, 1 kg, scoured, "dried"'),
        ("100 g alum-mordanted wool", "wool: wool, 100 g, mordanted with potassium alum"),
        (
            "100 g wool yarn (alum mordanted)",
            "wool: wool yarn, 100 g, mordanted with potassium alum",
        ),
        (
            "two skeins of alumed wool, 50 g each",
            "wool: wool, 2 skeins of 50 g, mordanted with potassium alum",
        ),
    ],
)
@pytest.mark.parametrize("form", [AS_ITEM, AS_SENTENCE], ids=["item", "sentence"])
def test_what_is_listed_is_declared(form: str, said: str, declared: str) -> None:
    draft = drafted(form.format(said)).text
    lots = draft.partition("\nfibre\n")[2].partition("\n\n")[0]
    # Where no wool is named otherwise, a yarn or a fleece of no fibre is declared as such.
    assert lots.strip() in (
        declared,
        declared.replace("wool fleece", "fleece"),
        declared.replace("wool yarn", "yarn"),
    )
    errors = [one for one in read(draft, "draft.dye").findings if one.level == "error"]
    assert not [one for one in errors if one.line == 6]


def test_what_a_ready_mordanted_lot_was_mordanted_with() -> None:
    draft = drafted(AS_ITEM.format("120 g wool, ready mordanted (alum 12 %)")).text
    assert "wool, 120 g, mordanted with potassium alum 12 %" in draft
    assert "mordant wool" not in draft


def test_what_is_done_to_fibre_is_no_state() -> None:
    """Scouring told as a deed stays a step."""
    draft = drafted(
        "Take 100 g of wool. The wool was scoured for an hour in 4 L of water. Dry it."
    ).text
    assert "scour wool" in draft
    assert "100 g, scoured" not in draft


def test_the_dash_of_the_next_item_makes_no_range() -> None:
    draft = drafted(AS_ITEM.format("alum 4\n- 20 g of chalk\n- 100 g wool")).text
    assert "4 to 20" not in draft
