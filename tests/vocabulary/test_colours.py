"""What each dyestuff gives: names that resolve, swatches that are those of the named colour.

The swatches are the centroids of the ISCC-NBS colour names (Kelly and Judd, NBS Special
Publication 440, 1976), turned into CIELAB by the formulas of IEC 61966-2-1 and CIE 15.
"""

from __future__ import annotations

import pytest
from data_tables import REFERENCE, Row, by_name, rows, words

AFTER = {
    "acid",
    "alkali",
    "ammonia steep",
    "boil",
    "chromium",
    "galls",
    "iron",
    "long boil",
    "oil",
    "repeated mordanting",
    "salt",
    "short boil",
    "soap",
    "tin",
}
COLOURS = rows("colours")


def known_dyestuffs() -> set[str]:
    return set(by_name("dyestuffs")) | set(by_name("plants_that_harm"))


def test_each_dyestuff_fibre_and_mordant_is_known() -> None:
    fibres = set(by_name("fibres")) | {row["class"] for row in rows("fibres")}
    metals = {row["metal"] for row in rows("mordants")} - {""} | {"none"}
    for row in COLOURS:
        assert row["dyestuff"] in known_dyestuffs(), row
        assert row["fibre"] in fibres, row
        assert row["mordant"] in metals, row


def test_what_comes_after_is_a_known_word_or_a_dyestuff_over_it() -> None:
    for row in COLOURS:
        for after in words(row["after"]):
            under, _, dyestuff = after.partition(": ")
            if under == "overdye":
                assert dyestuff in known_dyestuffs(), row
            else:
                assert after in AFTER, row


def test_no_two_rows_say_the_same_thing() -> None:
    keys = [
        tuple(row[c] for c in ("dyestuff", "fibre", "mordant", "after", "part", "colour"))
        for row in COLOURS
    ]
    assert len(keys) == len(set(keys))


@pytest.mark.parametrize("row", COLOURS, ids=lambda row: f"{row['dyestuff']} {row['colour']}")
def test_a_swatch_is_the_centroid_of_its_colour_name(row: Row) -> None:
    centroids = {one["name"]: one["hex"] for one in rows("iscc_nbs_centroids", REFERENCE)}
    assert row["hex"] == centroids[row["iscc_nbs"]]
    for column, expected in zip("lab", lab(row["hex"]), strict=True):
        assert abs(float(row[column]) - expected) <= 0.6, (row, column)
    assert 0 <= float(row["l"]) <= 100
    assert row["approximate"] == "yes"  # a swatch from words only is never exact


def lab(code: str) -> tuple[float, float, float]:
    """CIELAB (D65, 2 degrees) of an sRGB colour written #rrggbb."""
    channels = [int(code[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (
        c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels
    )
    x = (0.4124 * red + 0.3576 * green + 0.1805 * blue) / 0.9505
    y = 0.2126 * red + 0.7152 * green + 0.0722 * blue
    z = (0.0193 * red + 0.1192 * green + 0.9505 * blue) / 1.0890
    fx, fy, fz = (v ** (1 / 3) if v > 0.008856 else 7.787 * v + 16 / 116 for v in (x, y, z))
    return 116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz)


# Mairet, Vegetable Dyes, printing of 1938, chapters II, V, VI, VII.
@pytest.mark.parametrize(
    ("dyestuff", "mordant", "colour"),
    [
        ("cochineal", "aluminium", "crimson"),
        ("cochineal", "tin", "scarlet"),
        ("cochineal", "chromium", "purple"),
        ("logwood", "aluminium", "mauve"),
        ("weld", "aluminium", "bright yellow"),
        ("weld", "chromium", "old gold"),
        ("weld", "iron", "olive"),
        ("old fustic", "copper", "olive"),
        ("madder", "aluminium", "red"),
    ],
)
def test_the_handbook_colours_are_there(dyestuff: str, mordant: str, colour: str) -> None:
    assert any(
        (row["dyestuff"], row["fibre"], row["mordant"], row["colour"])
        == (dyestuff, "protein", mordant, colour)
        for row in COLOURS
    )


def test_light_fastness_names_known_dyestuffs_mordants_and_fibres() -> None:
    metals = {row["metal"] for row in rows("mordants")} - {""} | {"none", ""}
    for row in rows("lightfastness"):
        assert row["dyestuff"] in known_dyestuffs() | {"*"}, row
        assert row["mordant"] in metals, row
        assert row["fibre"] in set(by_name("fibres")) | {""}, row


# Crews 1982 (abstract): turmeric, fustic and marigold faded most of 18 yellows on wool.
@pytest.mark.parametrize(
    "name", ["old fustic", "fustic extract", "marigold", "camwood", "turmeric"]
)
def test_the_dyes_that_fade_most_are_called_so(name: str) -> None:
    assert by_name("dyestuffs")[name]["lightfast"] in {"poor", "fugitive"}
