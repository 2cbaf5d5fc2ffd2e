"""What a recipe offers instead, tells as known or puts right is not taken for its steps."""

from __future__ import annotations

import pytest

from procedure.draft import drafted


def _code(prose: str) -> list[str]:
    lines = drafted(prose, place_unsure=True).text.splitlines()
    return [code for line in lines if (code := line.partition("  #")[0].strip())]


@pytest.mark.parametrize(
    ("prose", "lines", "never"),
    [
        (  # what stands in brackets as another way goes into no bath
            "200 g cotton. Steep the cotton in 20 g of galls (or 60 g of oak bark, boiled for"
            " an hour and strained) in 5 litres of water at 50 °C for 2 hours.",
            ["oak-galls 20 g", "water 5 L"],
            ["60 g", "boil ", "strain "],
        ),
        (
            "1 lb wool. Boil 8 oz of weld (or, failing that, 4 oz of fustic) in 3 gallons for an"
            " hour, strain, put the wool in and simmer for half an hour.",
            ["weld 8 oz", "water 3 gal", "for 1/2 h"],
            ["fustic"],
        ),
        (  # a second shade by the same way adds nothing to the first
            "1 lb wool, mordanted with alum. Boil 12 oz of weld in 3 gallons for an hour and"
            " strain. Put in the wool and simmer it for 45 minutes. For olive, do the same,"
            " adding half an ounce of copperas.",
            ["weld 12 oz"],
            ["ferrous-sulphate"],
        ),
        (  # what many do is talk
            "1 lb wool. Many now use a pinch of tin. Mordant the wool with 3 oz of alum in 3"
            " gallons for an hour.",
            ["potassium-alum 3 oz"],
            ["stannous"],
        ),
        (  # a condition puts nothing in
            "200 g wool. Warm 10 litres of water to 50 °C. Add 20 g of indigo, 30 g of soda ash"
            " and 40 g of hydros. The vat must be clear yellow before any wool is put in. Leave"
            " it for an hour. Dip the wool for 5 minutes.",
            ["dip wool in dye-bath for 5 min"],
            ["dye wool"],
        ),
        (
            "100 g wool. Boil 200 g of weld in 4 litres for an hour and strain. Enter the wool and"
            " simmer for 1 h. These skeins must have been mordanted with 12 g of alum.",
            ["simmer dye-bath for 1 h"],
            ["mordant-bath"],
        ),
        (  # a vessel's size is no water
            "300 g wool. In a 3-pint enamel jug put 20 g of indigo and 40 g of soda ash.",
            ["indigo 20 g"],
            ["water 3 pt"],
        ),
        (  # slips that the same sentence puts right
            "100 g wool, mordanted. Simmer 250 g of weld - no, sorry, 200 g - in 5 litres for an"
            " hour.",
            ["weld 200 g"],
            ["250 g"],
        ),
        (
            "100 g wool, mordanted. Boil 80 g of madder in 5 litres for 20 minutes, no, I mean 40"
            " minutes, and strain.",
            ["boil dye-bath for 40 min"],
            ["20 min"],
        ),
        (  # skeins named by their mordant
            "500 g wool yarn. Boil 400 g of onion skins in 8 litres for an hour and strain. Put in"
            " the two alum skeins and simmer for 30 minutes.",
            ["simmer dye-bath for 30 min"],
            ["potassium-alum", "mordant "],
        ),
        (  # cold water cools, and is in the bath
            "1 lb wool, mordanted. Boil 1 lb of weld in 3 gallons for an hour. Cool the bath with"
            " half a gallon of cold water, put in the wool and simmer for an hour.",
            ["add water 1/2 gal to dye-bath at cold"],
            ["until “it is cool”", 'until "it is cool"'],
        ),
        (  # the same weight as before
            "1 lb wool. Mordant with 3 oz of alum in 3 gallons for an hour. Rinse. Boil 5 oz of"
            " cochineal in 3 gallons for half an hour. Dye the wool for an hour and rinse it."
            " Boil the same weight of cochineal in fresh water.",
            ["cochineal 5 oz"],
            ["1 : 1"],
        ),
        (  # the wool that so much is for is in no bath before the bark is strained off
            "To 2 lb of wool, 1 lb of alder bark boiled an hour and strained. Simmer the wool in"
            " it for half an hour.",
            ["strain dye-bath", "enter wool in dye-bath"],
            [],
        ),
        (  # a part of a recipe has baths of its own
            "1 lb wool.\n\nFirst way. Boil 1 lb of weld in 3 gallons for an hour, strain, put in"
            " the wool and simmer for an hour. Rinse.\n\nSecond way, upon blue. Boil 8 oz of"
            " fustic in 3 gallons for an hour.",
            ["weld 1 lb", "fustic 8 oz"],
            ["add fustic"],
        ),
        (  # a jug that goes in is no fibre
            "1 lb wool. Warm 3 gallons of water to 50 °C. Add 1 oz of indigo and 3 oz of soda ash."
            " Lower the jug under the surface.",
            ["indigo 1 oz"],
            ["dye wool", "enter wool"],
        ),
        (  # back to the vat
            "1 lb wool. Stir 1 oz of indigo and 3 oz of soda ash into 3 gallons of water at 50 °C."
            " Dip the wool for 5 minutes and air it for 15 minutes. Mordant it with 3 oz of alum in"
            " 3 gallons for an hour. Rinse. Dip again for 1 minute.",
            ["dip wool in dye-bath for 5 min", "dip wool in dye-bath for 1 min"],
            ["dip wool in mordant-bath"],
        ),
    ],
)
def test_only_what_is_done_is_drafted(prose: str, lines: list[str], never: list[str]) -> None:
    made = _code(prose)
    steps = "\n".join(made[made.index("steps") :])
    for line in lines:
        assert line in steps, (line, made)
    for one in never:
        assert one not in steps, (one, made)


def test_the_chips_tied_up_are_what_is_soaked() -> None:
    made = _code(
        "Materials: 300 g wool; 30 g alum; 60 g logwood chips; 5 g iron.\n\nMordant the wool with"
        " the alum in 6 litres of water, and simmer for an hour. Leave to cool.\n\nTie the chips in"
        " muslin and soak overnight in 2 litres of water."
    )
    assert "dye-bath: prepare in pot-2 with logwood 60 g, water 2 L" in made
    assert not any(one.startswith("hold mordant-bath overnight") for one in made)


def test_what_is_offered_is_told_of() -> None:
    text = drafted(
        "200 g cotton. Steep the cotton in 20 g of galls (or 60 g of oak bark, boiled for an"
        " hour and strained) in 5 litres of water for 2 hours."
    ).text
    assert '# not placed: "60 g"' in text
    assert '# not followed: "boiled"' in text
