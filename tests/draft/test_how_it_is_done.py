"""How a thing is done stays with its step in a draft: lids, shade, signs, and what is worn."""

from __future__ import annotations

import pytest

from procedure.draft import drafted

BEGUN = "100 g of wool. Simmer 100 g of weld in 4 L of water for 1 h, strain, and put the wool in. "


def _code(prose: str) -> list[str]:
    """The lines of a draft without their comments."""
    lines = drafted(prose, place_unsure=True).text.splitlines()
    return [code for line in lines if (code := line.partition("  #")[0].strip())]


@pytest.mark.parametrize(
    ("prose", "line"),
    [
        ("Heat slowly to 80 C.", "heat dye-bath to 80 °C gently"),
        ("Bring it very gently to a simmer.", "heat dye-bath to simmer gently"),
        ("Hold for 45 minutes, stirring often.", "hold dye-bath for 45 min now and then"),
        ("Simmer for an hour with the lid on.", "simmer dye-bath for 1 h covered"),
        ("Let it cool overnight, covered.", "cool dye-bath overnight covered"),
        ("Rinse well.", "rinse wool thoroughly"),
        ("Rinse under the tap.", "rinse wool under running water"),
        ("Rinse until the water runs clear.", 'rinse wool until "the water runs clear"'),
        ("Rinse till it runs clear and dry.", 'rinse wool until "it runs clear"'),
        (
            "Rinse. Dry outdoors, away from direct sunlight.",
            "dry wool outdoors in the shade",
        ),
        (
            "Hold at 70 C for an hour. Do not let it boil.",
            "hold dye-bath at 70 °C for 1 h below the boil",
        ),
        (
            "Add 2 g of ferrous sulphate. Wear gloves for this.",
            "add ferrous-sulphate 2 g to dye-bath wearing gloves",
        ),
        (
            "Wearing goggles and rubber gloves, add 2 g of ferrous sulphate.",
            "add ferrous-sulphate 2 g to dye-bath wearing eye protection, gloves",
        ),
    ],
)
def test_the_step_says_how_it_is_done(prose: str, line: str) -> None:
    assert line in _code(BEGUN + prose)


@pytest.mark.parametrize(
    ("prose", "never"),
    [
        ("Simmer for an hour without a lid on.", "covered"),
        ("Simmer for an hour, covered with water.", "covered"),
        ("Rinse. Dry, but not in the sun.", "in the sun"),
        ("Add 2 g of ferrous sulphate. No gloves are needed.", "wearing"),
        ("Add 2 g of ferrous sulphate. Gloves do not help against heat.", "wearing"),
        ("Well, rinse it.", "thoroughly"),
        ("Rinse until it has been 20 minutes in the tub.", 'until "'),
    ],
)
def test_what_is_denied_or_means_something_else_is_not_said(prose: str, never: str) -> None:
    assert not any(never in line for line in _code(BEGUN + prose))


def test_what_is_worn_throughout_stands_in_the_header() -> None:
    lines = _code("Gloves, apron and goggles at all times. " + BEGUN)
    assert lines[1] == "wearing gloves, apron, eye protection"


def test_words_that_a_line_says_are_not_told_as_not_read() -> None:
    text = drafted(BEGUN + "Hold for 45 minutes, turning now and then. Rinse well.").text
    assert "now and then" not in text.partition("steps")[2].replace("min now and then", "").replace(
        'minutes, turning now and then."', ""
    )
    assert "not read" not in text.partition('# "Hold')[2]


@pytest.mark.parametrize(
    ("prose", "declared"),
    [
        (
            "Use 50 g of premordanted wool (alum 10% WOF).",
            "50 g, mordanted with potassium alum 10 %",
        ),
        (
            "The wool, 50 g, already alumed with 5 g, waits.",
            "50 g, mordanted with potassium alum 5 g",
        ),
        (
            "Put in 50 g of wool that had been mordanted with alum (10 %) the week before.",
            "50 g, mordanted with potassium alum 10 %",
        ),
        ("50 g of wool, mordanted.", "50 g, mordanted"),
        (
            "50 g of wool (premordanted by the leader, 12% alum).",
            "mordanted with potassium alum 12 %",
        ),
    ],
)
def test_fibre_that_comes_mordanted_is_declared_so(prose: str, declared: str) -> None:
    lines = _code(
        prose + " Simmer 50 g of weld in 2 L for an hour, strain, and dye the wool in it."
    )
    assert any(
        line.startswith(("wool: ", "fibre-lot: ")) and line.endswith(declared) for line in lines
    )
    assert not any(line.startswith("mordant ") for line in lines)


def test_mordanting_that_is_told_with_its_heat_is_a_step() -> None:
    lines = _code("Take 100 g of wool, already mordanted with 10 g of alum at 90 °C for an hour.")
    assert any(line.startswith("mordant ") for line in lines)
