"""What people write to each other today, and the lines that it comes to."""

from __future__ import annotations

import pytest

from procedure.draft import drafted

VAT = (
    "Wool 100 g. Fill the bucket with 6 litres of water at 55 °C. Stir in 20 g of indigo. Lower"
    " the wool into the vat, and keep it under for 2 minutes. Take it out and let it hang in the"
    " air for 15 minutes. Repeat 5 times."
)
MEANT_FOR = (
    "You will need: 100 g of wool, 10 g of alum, 200 g of weld, 3 L of water for the mordant,"
    " 5 L of water for the dye\n\nDissolve the alum in its water, put in the wool, heat to 80 °C."
    " Take out the wool.\nSimmer the weld for 1 h."
)
MEANWHILE = (
    "100 g of wool\n500 g of madder root\n10 g of alum\n\nChop the root and put it in the pot."
    " Cover with 4 litres of water and simmer for 1 hour. Strain.\nWhile the dye is simmering,"
    " mordant your wool: dissolve the alum in a little hot water, add to 3 litres of water in a"
    " second pot, add the wool and heat to 80 °C.\nTransfer the wool to the dye bath. Heat to"
    " 70 °C and hold for 1 h."
)
LATER = (
    "Silk scarf, 15 g\nHibiscus flowers, 15 g\nVinegar, 1 tbsp\n\nPour 600 ml of boiling water on"
    " the hibiscus; steep 30 minutes; strain.\nAdd the vinegar and the scarf. Leave for 4 hours."
)
TANNIN = (
    "200 g of cotton. Steep 20 g of ground galls in 1 litre of boiling water for 30 minutes, strain"
    " into a bucket with 5 litres of warm water and soak the cotton in it for 2 hours."
)
SAID = [
    (VAT, "repeat 5 times"),
    (VAT, "dip wool in dye-bath for 2 min"),
    (VAT, "  air wool for 15 min"),
    (MEANT_FOR, "prepare in pot-1 with potassium-alum 10 g, water 3 L"),
    (MEANT_FOR, "prepare in pot-2 with water 5 L, weld 200 g"),
    (MEANWHILE, "dye-bath: prepare in pot-1 with madder 500 g, water 4 L"),
    (MEANWHILE, "prepare in pot-2 with potassium-alum-liquor, water 3 L"),
    (MEANWHILE, "heat dye-bath to 70 °C"),
    (LATER, "add vinegar 1 tablespoon to dye-bath"),
    (LATER, "enter silk in dye-bath"),
    (TANNIN, "stand mordant-bath for 30 min"),
    (TANNIN, "steep cotton in mordant-bath for 2 h"),
    (
        "Wool 200 g. Simmer 200 g of weld in 6 L for 1 h, strain. Add the wool and simmer 1 h."
        " Take out the wool. Add another 100 g of wool, simmer 45 min.",
        "dye wool-2 in dye-bath",
    ),
    (
        "Cloth 6 lb. Take half a pound of fustic chips and four ounces of sumach;"
        " boil them together in 12 imp gal of water for one hour.",
        "prepare in pot-1 with old-fustic 1/2 lb, sumach 4 oz, water 12 imp gal",
    ),
    (
        "Wool 100 g. Boil 90 g of weld in 4 L for 1 h, strain. Simmer the wool in 3 L of water"
        " with 10 g of alum for 1 h. It is lifted and put straight into the weld liquor. Bring to"
        " a simmer and keep it there for 45 min.",
        "hold dye-bath for 45 min",
    ),
    (
        "Silk 100 g. Simmer 60 g of weld in 3 L for 1 h, strain. Silk in, 60 °C for 1 h."
        "\nVinegar bath, 50 ml in 5 litres, 10 minutes.",
        "rinse silk in tub with vinegar 50 mL, water 5 L for 10 min",
    ),
    (
        "Wool 100 g. Dye it in 90 g of weld and 4 L of water at 80 °C for 1 h. Hang up, wash after"
        " 3 days with 5 ml of soap.",
        "dry wool for 3 d",
    ),
    (
        "40 g of wool. Use red cabbage, 500 g. Cut up the cabbage and simmer it in 2 L for 1 h.",
        "red-cabbage 500 g",
    ),
    (
        "Each of you has one 25 g mini-skein. Put the skeins into 2 L of water with 2 g of alum.",
        "25 g",
    ),
]


@pytest.mark.parametrize(("prose", "line"), SAID)
def test_what_is_said_has_its_line(prose: str, line: str) -> None:
    draft = drafted(prose, place_unsure=True)
    code = "\n".join(one.partition("#")[0].rstrip() for one in draft.text.splitlines())
    assert line in code


NOT_SAID = [
    ("Prep time: 1 hour. Dye time: 2 hours.\nWool 100 g, alum 10 g in 3 L.", "2 h"),
    (
        "Wool 100 g. Simmer 90 g of weld in 4 L (you can use the same pot once it has been washed)"
        " for 1 h.",
        "wash ",
    ),
    (
        "Wool 100 g. Boil 90 g of weld in 4 L for 1 h. Strain it. The liquor should be no more than"
        " hand-warm.",
        "never above",
    ),
    ("This makes enough for two skeins.\n2 skeins of wool, 100 g each\nAlum 20 g.", "wool-2"),
    ("Wool C 40 g, and silk, both alumed at 12 %.", "potassium-alum 40 g"),
]


@pytest.mark.parametrize(("prose", "words"), NOT_SAID)
def test_what_is_not_said_has_none(prose: str, words: str) -> None:
    code = "\n".join(one.partition("#")[0] for one in drafted(prose).text.splitlines())
    assert words not in code


def test_a_number_at_the_end_of_a_line_counts_nothing_of_the_next() -> None:
    draft = drafted("Silk 50 g in 2 L with 8 g of lac.\nIn for 20 min at 75\nSkein 2 goes in too.")
    assert not any("Skein" in one.words for one in (*draft.left, *(p.amount for p in draft.placed)))


def test_liquor_that_is_transferred_is_no_fibre_that_goes_in() -> None:
    prose = (
        "Simmer 100 g of weld in 4 litres of water for 1 hour. Transfer the dyebath to a clean "
        "pot. Add 100 g of wool and simmer for 1 hour. Transfer to a bucket of cold water and "
        "rinse."
    )
    text = drafted(prose).text
    assert 'not read: "Transfer"' in text
    before, _, after = text.partition('"Add 100 g of wool')
    assert "dye wool" not in before and "dye wool in dye-bath" in after
    assert "rinse wool in tub" in after and "add water" not in after
