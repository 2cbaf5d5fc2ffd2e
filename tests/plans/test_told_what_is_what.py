"""What a followed procedure is told, and what is said where that is wrong."""

from __future__ import annotations

from pathlib import Path

import pytest
from expecting import expect, findings

import procedure
from procedure.rules.example_kit import followed, whole

DIP = """

# saved as: dip.dye
fibre
  wool: wool yarn, 50 g, scoured
materials
  vat: kept bath, "warm and clear"
steps
  wet out wool in tub with water 50 : 1 of wool at 35 °C for 1 h
  dip wool in vat at 50 °C for 5 min
  air wool for 15 min
  rinse: rinse wool in tub with water 50 : 1 of wool at 35 °C
  rinse wool in tub with water 50 : 1 of wool, vinegar 20 mL at 35 °C
"""
VAT = """

# saved as: make.dye
steps
  vat: prepare in kettle with water 5 L, indigo 5 g, soda 20 g, reducer 15 g at 55 °C covered
  stand vat for 1 h at 50 °C covered
  keep vat as fructose-vat covered labelled
"""
SOUND = """blue: follow "make.dye" with kettle
dipping: follow "dip.dye" with wool = yarn, vat = blue.fructose-vat, tub
dry yarn after dipping.rinse"""


def test_a_vat_made_in_one_file_is_dipped_in_by_another() -> None:
    expect(SOUND + DIP + VAT)


def test_what_the_vat_holds_goes_with_it(tmp_path: Path) -> None:
    """The dip is in indigo, which only the first file names."""
    for name, text in followed(SOUND + DIP + VAT).items():
        (tmp_path / name).write_text(text, encoding="utf-8")
    main = tmp_path / "main.dye"
    main.write_text(whole(SOUND), encoding="utf-8")
    plan = procedure.load(main)
    assert "blue.indigo" in plan.trace.final.lots["yarn"].dyes
    assert plan.trace.final.baths["blue.vat"].served == (100, 100)


@pytest.mark.parametrize(
    ("told", "rule", "said"),
    [
        ("with wool = yarn, tub", "follow-needs", "“vat”, a kept bath (warm and clear)"),
        ("with vat = blue.fructose-vat, tub", "follow-needs", "“wool”, a lot of fibre (wool yarn"),
        ("with tub", "follow-needs", ", and “vat”, a kept bath"),
        (
            "with wool = tub, vat = blue.fructose-vat",
            "follow-needs",
            "“tub” cannot take the place of",
        ),
        ("with wool = yarn, vat = yarn, tub", "follow-needs", "“vat”, a kept bath"),
        ("with wool = yarn, vatt = blue.fructose-vat", "follow-needs", "called “vatt”"),
        ("with wool = yarn, vat = blue.fructose-vet", "not-declared", "blue.fructose-vet"),
        ("with wool = yarn, wool = silk, vat = blue.fructose-vat", "follow-needs", "told twice"),
    ],
)
def test_what_is_missing_or_mistaken_is_said_at_the_call(told: str, rule: str, said: str) -> None:
    main = SOUND.replace("with wool = yarn, vat = blue.fructose-vat, tub", told)
    main = main.replace(
        "dry yarn after dipping.rinse", "wet out silk in tub with water 5 L for 1 h"
    )
    found = [one for one in findings(main + DIP + VAT, "error") if one.rule == rule]
    assert any(said in one.sentence for one in found), [one.sentence for one in found]
    assert {Path(one.file).name for one in found} == {"example.dye"}


def test_what_is_needed_is_pointed_at_in_its_own_file() -> None:
    main = SOUND.replace("wool = yarn, ", "")
    main = main.replace("dry yarn after dipping.rinse", "dry yarn")
    (found,) = [one for one in findings(main + DIP + VAT) if one.rule == "follow-needs"]
    (place,) = found.related
    assert Path(place.file).name == "dip.dye"


def test_a_lot_that_was_divided_cannot_be_given() -> None:
    main = SOUND.replace("dipping:", "split yarn into gold 50 g, moss 50 g\ndipping:")
    main = main.replace("dry yarn after dipping.rinse", "dry gold, moss")
    found = findings(main + DIP + VAT, "error")
    assert {one.rule for one in found} == {"lot-in-two-places"}


def test_a_bath_that_is_gone_cannot_be_lent() -> None:
    main = SOUND.replace("dipping:", 'discard blue.fructose-vat to "foul drain"\ndipping:')
    rules = {one.rule for one in findings(main + DIP + VAT, "error")}
    assert "used-after-emptied" in rules


def test_a_heater_or_tool_need_not_be_told() -> None:
    other = DIP.replace(
        "materials", "equipment\n  ring: gas ring\n  line: washing line, for dyeing only\nmaterials"
    )
    expect(SOUND + other + VAT)


def test_a_main_file_that_is_followed_again_is_a_circle(tmp_path: Path) -> None:
    for name, other in (("a", "b"), ("b", "a")):
        text = f'procedure "x"\nsteps\n  do "stir"\n  follow "{other}.dye"\n'
        (tmp_path / f"{name}.dye").write_text(text, encoding="utf-8")
    (found,) = [f for f in procedure.load(tmp_path / "a.dye").findings if f.level == "error"]
    assert found.rule == "follows-itself"
    assert found.sentence == (
        "These procedures go round in a circle: a.dye, then b.dye, and back to a.dye."
    )


def test_the_text_may_go_by_another_name_than_its_file(tmp_path: Path) -> None:
    (tmp_path / "b.dye").write_text('procedure "x"\nsteps\n  do "stir"\n', encoding="utf-8")
    plan = procedure.read('procedure "x"\nsteps\n  follow "b.dye"\n', "shown", tmp_path / "a.dye")
    assert [one for one in plan.findings if one.level == "error"] == []


@pytest.mark.parametrize(
    "lines",
    [
        "split yarn into gold 50 g, moss 50 g\nsplit yarn into one 50 g, two 50 g",
        "for each lot in yarn\n  split lot into gold 50 g, moss 50 g\n"
        "  split lot into one 50 g, two 50 g",
    ],
)
def test_a_split_of_what_was_split_away(lines: str) -> None:
    (found,) = findings(lines, "error")
    assert found.rule == "divided-again"
    assert "gold" in found.remedy and "moss" in found.remedy
