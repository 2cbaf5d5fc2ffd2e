"""Baths, vessels and ways out as people wrote them who tried to do harm without a word."""

from pathlib import Path

import pytest

from procedure import read
from procedure.command.main import main

HEAD = """procedure "A trial"
  by "Fellside Dye Circle"
  wearing gloves, eye protection
  place outdoors
fibre
  yarn: wool yarn, 100 g, scoured
equipment
  pot: stainless steel pot, 8 L, lidded, for dyeing only
  tub: plastic tub, 8 L, lidded, for dyeing only
  jar: glass jar, 1 L, lidded, for dyeing only
materials
"""


def rules(materials: str, steps: str, head: str = HEAD) -> dict[str, str]:
    """The level of each finding of a short procedure by its rule, the last of each."""
    text = head + "".join(f"  {one}\n" for one in materials.split("; ")) + "steps\n"
    text += "".join(f"  {one}\n" for one in steps.splitlines())
    return {one.rule: one.level for one in read(text, "trial.dye").findings}


@pytest.mark.parametrize(
    ("first", "second", "meet"),
    [
        ("the slop bucket", "the waste bucket", True),
        ("our waste bucket", "the waste bucket", True),
        ("the acid bucket", "the waste bucket", False),
        ("a bucket of its own", "the waste bucket", False),
    ],
)
def test_two_names_of_one_waste_bucket(first: str, second: str, meet: bool) -> None:
    found = rules(
        "bleach: sodium hypochlorite, solution 5 %; sour: vinegar, 5 %",
        "white: prepare in tub with water 4 L, bleach 100 mL\n"
        f'discard white to "{first}"\n'
        "acid-bath: prepare in pot with water 1 L, sour 200 mL\n"
        f'discard acid-bath to "{second}"',
    )
    assert ("meet-in-the-waste" in found) == meet


@pytest.mark.parametrize(
    ("thing", "place", "rule", "level"),
    [
        ("ferrous sulphate", "the bean rows", "wrong-way-out", "error"),
        ("borax", "the cabbages", "wrong-way-out", "warning"),
        ("borax", "the rose bed", "wrong-way-out", "warning"),
        ("oxalic acid", "the horse trough", "wrong-way-out", "error"),
        ("ferrous sulphate", "where the old kiln was", "no-disposal", "warning"),
        ("copper sulphate", "where the old kiln was", "no-disposal", "error"),
        ("potassium alum", "where the old kiln was", "", ""),
    ],
)
def test_a_place_that_does_not_bear_it(thing: str, place: str, rule: str, level: str) -> None:
    found = rules(
        f"it: {thing}", f'one: prepare in pot with water 4 L, it 50 g\ndiscard one to "{place}"'
    )
    told = {rule: found[rule] for rule in ("wrong-way-out", "no-disposal") if rule in found}
    assert told == ({rule: level} if rule else {})


def test_indigo_in_strong_acid_is_no_vat() -> None:
    found = rules(
        "blue: natural indigo; acid: sulphuric acid, 96 %",
        "wet out yarn in tub with water 4 L for 1 h\n"
        "bath: prepare in pot with water 4 L, acid 20 mL, blue 5 g\n"
        "dye yarn in bath at 80 °C for 30 min\nlift yarn\n"
        'discard bath to "the hazardous waste point"',
    )
    assert not {rule for rule in found if rule.startswith("vat-")}


def test_a_liquid_takes_room_in_its_jar() -> None:
    steps = (
        "sour: prepare in jar with water {} mL\nadd acid 400 mL to sour\n"
        'discard sour to "the hazardous waste point"'
    )
    assert "pot-too-small" in rules("acid: sulphuric acid, 96 %", steps.format(700))
    assert "pot-too-small" not in rules("acid: sulphuric acid, 96 %", steps.format(300))


def test_the_strength_is_weighed_out_too(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "lye.dye"
    file.write_text(
        HEAD + "  lye: caustic soda, solution 30 %\nsteps\n"
        "  bath: prepare in pot with water 2 L, lye 100 mL\n"
        '  discard bath to "the hazardous waste point"\n',
        encoding="utf-8",
    )
    main(["weigh", str(file)])
    assert "caustic soda (lye in the list, 30 %)" in capsys.readouterr().out


@pytest.mark.parametrize(("note", "told"), [("", True), (' note "the lid lies loose"', False)])
def test_gas_is_never_shut_in(note: str, told: bool) -> None:
    found = rules(
        "white: hydrogen peroxide, 12 %; soda: soda ash",
        "pale: prepare in pot with water 2 L, white 1 L, soda 20 g\n"
        f"keep pale as pale-stock covered labelled{note}",
    )
    assert ("gas-shut-in" in found) == told


@pytest.mark.parametrize(
    ("vessel", "told"),
    [
        ("copper preserving pan, 8 L", True),
        ('plastic tub, 8 L, "the salad bowl"', True),
        ('wooden spoon, "kitchen"', True),
        ("stainless steel preserving pan, 8 L, for dyeing only", False),
        ("plastic tub, 8 L", False),
    ],
)
def test_a_vessel_of_the_kitchen_by_its_words(vessel: str, told: bool) -> None:
    head = HEAD.replace("materials\n", f"  thing: {vessel}\nmaterials\n")
    assert ("used-for-cooking" in rules("soap: neutral soap", 'do "stir" with thing', head)) == told


def test_suds_have_the_heat_of_what_is_scoured_in_them() -> None:
    found = rules(
        "soap: neutral soap",
        "suds: prepare in pot with water 5 L, soap 5 g\n"
        "scour yarn in suds from 20 °C to 45 °C over 30 min for 30 min\n"
        "cool suds to 30 °C\nlift yarn\nrinse yarn in tub with water 5 L\n"
        'discard suds to "foul drain"',
    )
    assert "wrong-direction" not in found


@pytest.mark.parametrize(("manner", "told"), [("covered labelled", False), ("labelled", True)])
def test_a_tincture_steeps_in_a_shut_jar(manner: str, told: bool) -> None:
    found = rules(
        "root: alkanet root, dried; spirit: methylated spirit",
        f"tincture: soak root 50 g in jar with spirit 500 mL at cold for 2 d {manner}\n"
        "strain tincture\n"
        'throw out root to "the hazardous waste point"\n'
        'discard tincture to "the hazardous waste point"',
    )
    assert ("plant-left-in" in found) == told
