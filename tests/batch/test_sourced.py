"""Published colours ranked by their difference from a wanted one."""

from __future__ import annotations

import csv
import json
from pathlib import Path

import pytest

from procedure.batch.nearest_batches import wanted
from procedure.batch.sourced import NoFibre, on, sourced
from procedure.colour import Colour, Light, cielab_difference, from_hex
from procedure.command.main import main

DATA = Path(__file__).parents[2] / "procedure" / "vocabulary" / "data"


def table() -> list[dict[str, str]]:
    with (DATA / "colours.csv").open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(lines))


def test_its_own_swatch_is_nearest_to_a_colour() -> None:
    for row in table():
        ranked = sourced(from_hex(row["hex"]))
        if row["dyestuff"] not in ranked.refused:
            assert ranked.found[0].difference == pytest.approx(0, abs=1e-6)
            same = [one.shade.dyestuff for one in ranked.found if one.difference < 1e-6]
            assert row["dyestuff"] in same
        differences = [one.difference for one in ranked.found]
        assert differences == sorted(differences)


def test_the_swatches_are_the_lab_of_the_table() -> None:
    """The table has CIELAB (D65) beside hex, rounded: the two ways must tell the same."""
    light = Light("D65", 2)
    for row in table():
        lab = Colour(float(row["l"]), float(row["a"]), float(row["b"]), light)
        assert cielab_difference(lab, from_hex(row["hex"])) < 3, row


def test_madder_on_alum_is_a_red_of_wool_and_of_cotton() -> None:
    """Mairet 1938, ch. VI (1) and X (4): red with aluminium on wool and on cotton."""
    red = wanted("#bc3f4a")
    for fibre, of in (("wool", "wool (protein)"), ("cotton", "cotton and linen (cellulose)")):
        same = [one for one in sourced(red, fibre).found if one.difference < 0.01]
        madder = next(one for one in same if one.shade.dyestuff == "madder")
        assert on(madder.shade) == of
        # Mairet 1938, ch. II (8 to 25 % on wool) and X (25 % on cotton, over galls).
        said = [need.said.replace("\u00a0", " ") for need in madder.needs]
        usual = "8 to 25 %" if fibre == "wool" else "10 to 25 %"
        assert said[-1] == f"potassium alum {usual} (a mordant of aluminium)"
        assert any("oak galls 5 to 25 %" in one for one in said) == (fibre == "cotton")


def test_a_fibre_keeps_the_others_out() -> None:
    red = wanted("#bc3f4a")
    counts = {
        fibre: sum(row["fibre"] == fibre for row in table())
        for fibre in ("protein", "silk", "cellulose")
    }
    for fibre, kind in (("merino", "protein"), ("silk", "silk"), ("linen", "cellulose")):
        ranked = sourced(red, fibre)
        assert {one.shade.fibre for one in ranked.found} == {kind}
        left_out = sum(row["dyestuff"] in ranked.refused for row in table())
        assert counts[kind] - left_out <= len(ranked.found) <= counts[kind]
    with pytest.raises(NoFibre, match="Did you mean “wool”"):
        sourced(red, "wol")


def test_poisons_are_refused_or_told() -> None:
    ranked = sourced(wanted("#d4af37"))
    assert "deadly nightshade" in ranked.refused
    assert not {one.shade.dyestuff for one in ranked.found} & set(ranked.refused)
    lichen = next(one for one in ranked.found if one.shade.dyestuff == "wolf lichen")
    assert "wolf lichen is poisonous" in lichen.cautions[0] and "weld" in lichen.cautions[0]
    for one in ranked.found:
        if "chromium" in (one.shade.mordant, *one.shade.after.split("; ")):
            assert any("carcinogenic" in said for said in one.cautions)


def test_what_follows_is_among_the_needs() -> None:
    found = sourced(wanted("#bc3f4a"), "cotton").found
    oiled = next(one for one in found if one.shade.after == "oil; soap")
    told = [(need.part, need.name, need.remark) for need in oiled.needs]
    assert told == [
        ("dyestuff", "madder", "roots"),
        ("tannin", "oak galls", "first, unless the aluminium is acetate"),
        ("mordant", "potassium alum", "a mordant of aluminium"),
        ("besides", "oil", "besides"),
        ("besides", "soap", "besides"),
    ]


def test_every_need_has_an_amount_or_says_why_not() -> None:
    for one in sourced(wanted("#808080")).found:
        for need in one.needs:
            if need.part in ("mordant", "tannin") and need.name != "no mordant":
                assert need.shares or "known" in need.remark or "restricted" in need.remark
            if need.shares:
                assert need.source, need
            # Nobody is told how much of a restricted salt to weigh (H350, chromium(VI)).
            assert not (need.shares and "dichromate" in need.name)
            assert all(0 < share.low <= share.high for share in need.shares)


def test_the_same_as_data(capsys: pytest.CaptureFixture[str]) -> None:
    records = str(Path(__file__).parents[2] / "examples" / "records")
    assert main(["match", "#d8b848", records, "--fibre", "wool", "--most", "2"]) == 0
    text = capsys.readouterr().out
    assert (
        main(["match", "#d8b848", records, "--fibre", "wool", "--most", "2", "--format", "json"])
        == 0
    )
    found = json.loads(capsys.readouterr().out)
    assert len(found["own"]) == len(found["published"]) == 2
    assert found["wanted"]["hex"] == "#d8b848" and found["refused"]
    for own in found["own"]:
        assert f"{own['difference']:.1f} away: {own['hex']}" in text
        assert own["percent_of_fibre"]["alum"] == pytest.approx(12, abs=1)
    (mordant,) = [need for need in found["published"][0]["needs"] if need["part"] == "mordant"]
    assert mordant["name"] == "potassium alum" and mordant["source"].startswith("Mairet 1938")
    assert mordant["percent_of_fibre"] == [{"from": 8.0, "to": 25.0, "form": ""}]


def test_of_equal_swatches_the_harmless_come_first() -> None:
    same = [one for one in sourced(wanted("#d4af37"), "wool").found if one.difference < 1e-6]
    cautions = [len(one.cautions) for one in same]
    assert cautions == sorted(cautions) and cautions[0] == 0 and cautions[-1] > 0
