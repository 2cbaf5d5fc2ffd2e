"""What lots tell as fact was written: no heat that nobody wrote, no weight of an unknown spoon."""

from __future__ import annotations

from fractions import Fraction

import pytest
from papers import METRIC

import procedure
from procedure.handout.lot_stories import stories
from procedure.rules import RULES
from procedure.trace.uptake import grams_of

HEAD = """procedure "A trial"
  by "Fellside Dye Circle"
  revised 2026-06-14
  source "our own workshop"
  makes "a skein"
  place ventilated
  wearing gloves, eye protection, mask
fibre
  yarn: wool yarn, 100 g, scoured
equipment
  pot: stainless steel pot, 12 L, lidded, for dyeing only
  tub: plastic tub, 20 L, for dyeing only
  beaker: glass beaker, 1 L, for dyeing only
  crate: plastic beaker, 1 L, for dyeing only
  warmer: water bath, for dyeing only
  hob: hotplate, 2 kW
materials
  alum: potassium alum
  copperas: ferrous sulphate
  madder: madder root, dried
  pipes: modifier, "old pipe ends"
  vinegar: vinegar, 5 %
steps
"""


def story(*lines: str) -> str:
    """What is told of the lot."""
    plan = procedure.read(HEAD + "".join(f"  {line}\n" for line in lines))
    (told,) = stories(plan, METRIC)
    return "\n".join(event.sentence for event in told.events).replace("\N{NO-BREAK SPACE}", " ")


def test_a_heat_that_nobody_wrote_is_not_told() -> None:
    told = story(
        "bath: prepare in pot with water 5 L, alum 12 g",
        "mordant yarn in bath for 1 h",
        "lift yarn",
    )
    assert "°C" not in told


def test_nor_is_it_told_of_the_next_step_in_that_bath() -> None:
    told = story(
        "bath: prepare in pot with water 5 L, alum 12 g",
        "mordant yarn in bath for 1 h",
        "stir yarn in bath for 10 min",
        "lift yarn",
    )
    assert "°C" not in told


@pytest.mark.parametrize("at", [("at 40 °C", ""), ("", " at 40 °C")])
def test_a_heat_that_is_written_is_told(at: tuple[str, str]) -> None:
    told = story(
        f"bath: prepare in pot with water 5 L, alum 12 g {at[0]}",
        f"mordant yarn in bath{at[1]} for 1 h",
        "lift yarn",
    )
    assert "at 40 °C" in told


@pytest.mark.parametrize(
    ("material", "said"),
    [
        ("copperas 1 tablespoon", "(1 tablespoon, a loose measure)"),
        ("copperas a pinch", "(a pinch, a loose measure)"),
        ("madder 1 handful", "(1 handful, a loose measure)"),
        ("alum 1 tablespoon", "(11.2 to 19.2 %)"),  # grams are known of it: spoon_weights.csv
        ("copperas 2 g", "(2 %)"),
    ],
)
def test_a_spoon_of_what_nobody_weighed_has_no_share(material: str, said: str) -> None:
    told = story(f"bath: prepare in pot with water 5 L, {material} at 40 °C", "dye yarn in bath")
    assert said in told


def test_a_liquid_has_its_litres() -> None:
    told = story(
        "bath: prepare in pot with water 5 L, copperas 1 g, vinegar 150 mL at 40 °C",
        "modify yarn in bath for 5 min",
    )
    assert "vinegar (150 mL)" in told


@pytest.mark.parametrize(
    ("material", "grams"),
    [
        ("copperas 1 tablespoon", None),
        ("pipes 1 tablespoon", None),
        ("madder 1 handful", None),
        ("alum 10 mL", (Fraction("7.5"), Fraction("9.6"))),
        ("vinegar 10 mL", (10, 10)),
    ],
)
def test_no_solid_is_reckoned_as_water(
    material: str, grams: tuple[Fraction | int, Fraction | int] | None
) -> None:
    plan = procedure.read(HEAD + f"  bath: prepare in pot with water 5 L, {material}\n")
    moment = next(one for one in plan.trace.moments if one.node.bath)
    thing, _, amount = moment.amounts[1]
    weight = grams_of(plan.flow, thing, amount)
    assert (None if weight is None else tuple(weight)) == grams


def test_no_rule_speaks_of_too_much_of_a_spoon_that_nobody_weighed() -> None:
    lines = ("bath: prepare in pot with water 5 L, copperas 1 tablespoon", "dye yarn in bath")
    plan = procedure.read(HEAD + "".join(f"  {line}\n" for line in lines))
    told = {one.rule for one in plan.findings}
    assert "loose-measure" in told
    assert "too-much-mordant" in {rule.name for rule in RULES} - told


def test_plants_taken_out_of_fibre_went_in_with_nothing() -> None:
    told = story(
        "bath: prepare in pot with water 5 L, madder 50 g at 40 °C",
        "dye yarn in bath",
        "lift yarn",
        "shake out madder from yarn",
    )
    assert "freed of madder" in told


@pytest.mark.parametrize(
    ("vessel", "where", "refused"),
    [
        ("beaker", "on warmer", False),
        ("beaker", "on hob", True),
        ("crate", "on warmer", True),
    ],
)
def test_glass_is_warmed_in_a_water_bath(vessel: str, where: str, refused: bool) -> None:
    lines = (
        f"bath: prepare in {vessel} with water 0.5 L, alum 1 g at 40 °C",
        f"heat bath to 80 °C over 45 min {where}",
        "hold bath at 80 °C for 10 min",
    )
    plan = procedure.read(HEAD + "".join(f"  {line}\n" for line in lines))
    assert ("cannot-be-heated" in {one.rule for one in plan.findings}) == refused
