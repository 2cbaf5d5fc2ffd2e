"""What is done rightly by an old hand brings no alarm; what sends people away from a hot pot does.

Airing a vat's fibre, a vat of urine, words for an audience: common practice, and where a book
says so it stands beside the case.
"""

from __future__ import annotations

import pytest
from expecting import findings

VAT = """materials
  strong: sodium dithionite
  sour: vinegar, 5 %
steps
  wet out yarn in tub with water 5 L at 30 °C for 1 h
  vat: prepare in kettle with water 5 L, indigo 5 g, soda 10 g, strong 10 g at 50 °C covered
  stand vat for 1 h covered
  dip yarn in vat at 50 °C for 5 min
  {air}
  sour-bath: prepare in pan with water 5 L, sour 50 mL at 30 °C
  steep yarn in sour-bath at 30 °C for 10 min
  lift yarn from sour-bath
  rinse yarn in tub with water 5 L at 30 °C
  discard vat to "foul drain"
  discard sour-bath to "foul drain"
"""
MEETINGS = ("must-not-meet", "meet-in-the-waste")


def told(example: str, *rules: str) -> list[str]:
    return [f.level for f in findings(example) if f.rule in rules]


def test_aired_fibre_may_go_into_vinegar_as_the_program_itself_advises() -> None:
    assert told(VAT.format(air="air yarn for 30 min"), *MEETINGS) == []


def test_fibre_straight_from_the_vat_may_not() -> None:
    assert "error" in told(VAT.format(air="squeeze yarn"), *MEETINGS)


def test_a_vat_of_urine_is_read_as_one() -> None:
    example = """materials
  lant: stale urine
steps
  wet out yarn in tub with water 5 L at 30 °C for 1 h
  vat: prepare in jar with lant 2 L, indigo 10 g covered
  hold vat at 40 °C for 14 d covered
  dip yarn in vat at 40 °C for 10 min
  air yarn for 15 min
  rinse yarn in tub with water 5 L at 30 °C
"""
    assert told(example, "too-much-of-it", "vat-without-alkali", "strength-unstated") == []


HEAD = """procedure "An example"
  by "Fellside Dye Circle"
  revised 2026-06-14
  place outdoors
  wearing gloves, eye protection
  audience {who}
steps
  gold-bath: prepare in kettle with water 3 L, tansy 100 g
  discard gold-bath to "foul drain"
"""


@pytest.mark.parametrize(
    "who", ["families", "kids", "toddlers", "schoolchildren", "school class", '"children from six"']
)
def test_children_by_any_word_are_kept_from_poison(who: str) -> None:
    assert told(HEAD.format(who=who), "children-near-hazard") == ["error"]


def test_novices_are_beginners() -> None:
    assert told(HEAD.format(who="novices"), "children-near-hazard") == ["error"]


BATH = "bath: prepare in kettle with water 3 L, onion 50 g\n"


@pytest.mark.parametrize(
    "step",
    [
        'do "leave it simmering and go to bed"',
        'do "go to the shops while it boils"',
        'simmer bath at 85 °C for 30 min note "leave it on and go out"',
        "simmer bath at 85 °C for 12 h",
        "steep yarn in bath at 85 °C for 12 h",
    ],
)
def test_what_is_on_the_heat_is_not_left(step: str) -> None:
    assert "error" in told(BATH + step, "heated-unattended")


@pytest.mark.parametrize(
    "step",
    [
        'do "never leave it simmering when you go out"',
        'do "take the children to the shops"',
        'cool bath to 20 °C overnight covered note "go to bed"',
        "steep yarn in bath at 20 °C for 12 h",
    ],
)
def test_what_is_off_the_heat_may_be(step: str) -> None:
    assert told(BATH + step, "heated-unattended") == []


WASTE = """materials
  thing: {thing}
steps
  bath: prepare in tub with water 10 L, thing {much}
  discard bath to "{to}"
"""


@pytest.mark.parametrize(
    ("thing", "much", "to", "level"),
    [
        ("potassium permanganate", "500 g", "foul drain", "warning"),
        ("sodium sulphide", "200 g", "foul drain", "warning"),
        ("zinc dust", "50 g", "foul drain", "warning"),
        ("sodium dithionite", "500 g", "the pond", "error"),
        ("hydrogen peroxide, solution 30 % by weight", "2 L", "the toilet", "warning"),
        ("ferrous sulphate", "20 g", "septic tank", "error"),
        ("ferrous sulphate", "20 g", "the vegetable garden", "error"),
        ("milk", "1 L", "the stream", "warning"),
        ("neutral soap", "50 g", "the stream", "warning"),
    ],
)
def test_what_goes_where_it_harms_is_told(thing: str, much: str, to: str, level: str) -> None:
    assert told(WASTE.format(thing=thing, much=much, to=to), "wrong-way-out") == [level]


@pytest.mark.parametrize(
    ("thing", "much", "to"),
    [
        ("ammonium sulphate", "50 g", "the lawn"),  # a fertiliser
        ("household bleach, 5 %", "50 mL", "foul drain"),
        ("neutral soap", "50 g", "foul drain"),
        ("lemon juice", "50 mL", "soakaway"),
    ],
)
def test_what_harms_nothing_there_is_not(thing: str, much: str, to: str) -> None:
    assert told(WASTE.format(thing=thing, much=much, to=to), "wrong-way-out") == []


def test_a_strong_acid_without_a_name_is_an_error() -> None:
    example = """materials
  mystery: acid, {strength}
steps
  bath: prepare in tub with water 5 L, mystery 10 mL
  discard bath to "foul drain"
"""
    assert told(example.format(strength="90 %"), "shared-word") == ["error"]
    assert told(example.format(strength="5 %"), "shared-word") == ["warning"]


def test_a_tub_is_rinsed_with_litres_of_water() -> None:
    for line in ("rinse tub with water 10 L", "clean tub with water 10 L, soap 5 g"):
        assert told(line, "too-much-of-it") == []
    assert told("clean tub with soap 5 kg", "too-much-of-it") != []
