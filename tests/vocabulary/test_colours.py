"""What dyestuffs give, as one is told of it and as one may browse it."""

from __future__ import annotations

import re

import pytest

from procedure.command.main import main
from procedure.vocabulary.colours import colour_of, colours_of, families, fastness, shades
from procedure.vocabulary.library import rows
from procedure.vocabulary.troubles import MOST, know_how, troubles


def test_a_colour_has_its_source_and_a_swatch_that_is_one() -> None:
    for one in shades():
        assert one.source
        assert one.hex == "" or re.fullmatch(r"#[0-9a-f]{6}", one.hex)
    assert len(families()) >= 8


def test_madder_is_red_with_alum_and_brown_with_iron() -> None:
    # Mairet 1938, ch. VI (1) and ch. VIII.
    red, brown = colour_of("madder", "protein", "aluminium"), colour_of("madder", "protein", "iron")
    assert red is not None and red.family == "red"
    assert brown is not None and brown.family == "brown"
    assert {one.fibre for one in colours_of("madder")} == {"protein", "cellulose", "silk"}
    assert fastness("madder")


def test_one_may_ask_for_a_yellow_on_cotton(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["know", "--list", "dyestuffs", "--colour", "yellow", "--fibre", "cotton"]) == 0
    said = capsys.readouterr().out
    assert "weld: yellow" in said and "madder" not in said and "Mairet" in said
    assert main(["know", "madder"]) == 0
    assert "with aluminium red (#bc3f4a)" in " ".join(capsys.readouterr().out.split())


@pytest.mark.parametrize(
    "asked",
    [["--colour", "mauve"], ["--list", "mordants", "--colour", "red"], [], ["--fibre", "tin"]],
)
def test_what_cannot_be_listed_is_one_sentence(
    asked: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["know", *asked]) == 2
    assert capsys.readouterr().err.count("\n") == 1


def test_troubles_are_those_of_the_dye_and_the_fibre() -> None:
    found = troubles({"dyestuff": {"madder"}, "effect": {"treat"}}, ["protein", "felting"])
    assert [one.trouble for one in found] == [
        "dull or brown", "orange and not red", "red that rubs off", "patchy", "felted",
    ]  # fmt: skip
    on_silk = troubles({"metal": {"aluminium"}, "effect": {"treat"}}, ["silk"])
    assert {one.trouble for one in on_silk} == {"duller than it should be", "patchy"}
    on_cotton = troubles({"effect": {"treat"}}, ["cellulose"])
    assert [one.trouble for one in on_cotton] == ["patchy"]
    assert all(one.source for one in know_how())


def test_the_troubles_that_every_dyer_meets_are_never_crowded_out() -> None:
    met = {
        "dyestuff": {"madder", "weld", "walnut"},
        "metal": {"iron", "aluminium", "tin"},
        "class": {"vat"},
        "effect": {"treat", "mordant", "scour"},
        "role": {"dyestuff"},
    }
    found = [one.trouble for one in troubles(met, ["protein", "felting"])]
    assert len(found) == MOST and {"patchy", "pale", "felted"} <= set(found)


def test_most_troubles_are_from_a_handbook() -> None:
    sources = [row["source"] for row in rows("troubles")]
    assert len(sources) >= 40
    assert sum("Mairet" in source for source in sources) >= 35


def test_a_plant_that_harms_is_told_as_such_in_the_list_of_colours(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["know", "--colour", "yellow", "--fibre", "wool"]) == 0
    lines = capsys.readouterr().out.splitlines()
    told = "ragwort (Jacobaea vulgaris, which is poisonous):"
    assert any(line.startswith(told) for line in lines)
    assert any(line.startswith("weld: ") for line in lines)


def test_what_the_writer_says_of_drying_is_not_said_again() -> None:
    dry = next(one for one in know_how() if one.what == "dry")
    assert "out of the sun" in dry.beside("")
    for written in ("in the shade, turned once", "in the sun"):
        assert "sun" not in dry.beside(written)
        assert "Do not wring" in dry.beside(written)
