"""Every step is on the chart, with its words and every number that the work needs."""

from __future__ import annotations

from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
from drawn import HEAD, dot_of, example_drawn, of_steps, plan

from procedure import read
from procedure.model import Block


@pytest.mark.parametrize("lanes", ["both", "lot", "pot", "none"])
@pytest.mark.parametrize("sheet", ["a4", "letter", "roll"])
def test_every_step_is_there(lanes: str, sheet: str) -> None:
    made = plan()
    drawn = dot_of(made, lanes=lanes, sheet=sheet)
    numbers = [node.step.number for node in made.flow.nodes if node.kind != "end"]
    assert len(numbers) == 19
    for number in numbers:
        assert drawn.says(f"step {number}").startswith(f"{number}. ")
    blocks = [n.step.number for n in made.flow.nodes if isinstance(n.step, Block)]
    for number in blocks:
        assert drawn.has(f"end of {number}")


def test_a_step_says_its_verb_and_its_clauses() -> None:
    drawn = dot_of(plan())
    assert drawn.says("step 3") == "3. mordant yarn"
    assert "in alum-bath" in drawn.says("step 3 details")
    assert "over 45 min, for 1 h" in drawn.says("step 3 details")
    assert drawn.says("step 2") == "2. prepare alum-bath"
    assert drawn.says("step 1") == "1. wet out yarn (soak)"
    assert "until “the water runs clear”" in drawn.says("step 5 details")
    assert "to “foul drain”" in drawn.says("step 6 details")
    assert "into gold 120 g and moss 120 g" in drawn.says("step 8 details")
    assert drawn.says("step 15") == "15. do: tie on the labels"


def test_amounts_are_worked_out() -> None:
    """30 litres to the kilogram and 12 % of 240 g of wool (common practice)."""
    details = dot_of(plan()).says("step 2 details")
    assert "water: 30 : 1 of yarn = 7.2 L" in details
    assert "alum: 12 % of yarn = 28.8 g" in details


def test_an_amount_in_foreign_units_comes_in_those_of_the_procedure_too() -> None:
    """1 imp gal = 4.54609 L (NIST SP 811, B.8); weights are mostly in ounces here."""
    drawn = dot_of(
        of_steps("alum-bath: prepare in kettle with water 2 imp gal, alum 4 oz\n"), lanes="none"
    )
    details = drawn.says("step 1 details")
    assert "water: 2 imp gal = 9.09 L" in details
    assert details.endswith("alum: 4 oz")


@pytest.mark.parametrize(
    ("written", "shown"),
    [
        ("85 °C", "85 °C"),
        ("85 °C (185 °F)", "85 °C"),
        ("50 to 60 °C", "50 to 60 °C"),
        ("about 40 °C", "about 40 °C"),
        # the vocabulary's word for 25 to 38 °C (common practice)
        ("tepid", "tepid, 25 to 38 °C"),
    ],
)
def test_a_heat_is_on_the_readers_scale_alone(written: str, shown: str) -> None:
    drawn = dot_of(of_steps(f"wet out yarn in tub with water 5 L at {written} for 1 h\n"))
    assert f"at {shown};" in drawn.says("step 1 details")
    assert "°F" not in drawn.says("step 1 details")


def test_whoever_writes_in_fahrenheit_reads_fahrenheit() -> None:
    drawn = dot_of(of_steps("wet out yarn in tub with water 5 L at 140 °F for 1 h\n"))
    assert "at 140 °F;" in drawn.says("step 1 details")


def test_the_number_stands_beside_a_word() -> None:
    """Overnight is 8 to 16 hours, a simmer 80 to 95 °C (common practice, the vocabulary)."""
    drawn = dot_of(plan())
    assert "overnight (8 to 16 h)" in drawn.says("step 4 details")
    simmered = dot_of(
        of_steps("weld-bath: prepare in kettle with water 5 L\nsimmer weld-bath for 1 h\n"),
        lanes="none",
    )
    assert "80 to 95 °C" in simmered.says("step 2 details")


@pytest.mark.parametrize(
    ("written", "shown"),
    [
        ("at most 60 °C", "at most 60 °C"),
        ("at at least 70 °C", "at least 70 °C"),
        # below the boil of the vocabulary, which begins at 95 °C (common practice)
        ("below the boil", "at most 95 °C"),
    ],
)
def test_a_bound_of_heat_is_its_end_and_no_range(written: str, shown: str) -> None:
    steps = f"weld-bath: prepare in kettle with water 5 L\nhold weld-bath {written} for 1 h\n"
    details = dot_of(of_steps(steps), lanes="none").says("step 2 details")
    assert f"{shown}; for 1 h" in details
    assert "at at" not in details and "boil" not in details


def test_a_simmer_below_the_boil_is_as_hot_as_a_simmer() -> None:
    steps = "weld-bath: prepare in kettle with water 5 L\nsimmer weld-bath below the boil for 1 h\n"
    details = dot_of(of_steps(steps), lanes="none").says("step 2 details")
    assert "at 80 to 95 °C; for 1 h; below the boil" in details


def test_what_is_not_said_is_shown_as_unstated() -> None:
    drawn = dot_of(of_steps("wet out yarn in tub with water unstated at unstated for unstated\n"))
    details = drawn.says("step 1 details")
    assert "water: unstated" in details
    assert "heat unstated" in details
    assert "time unstated" in details


def test_fibre_comes_in_and_is_finished() -> None:
    drawn = dot_of(plan())
    said = drawn.labels("words")
    assert set(drawn.labels("terminator")) <= {"start", "end", ""}
    assert any(label == "yarn" for label in said)
    assert any("gold" in label and "finished" in label for label in said)
    assert any("wool, 240 g, 4 skeins, scoured" in label for label in drawn.labels("details"))


def test_a_part_that_nothing_is_done_to_is_finished_where_it_is_parted_off() -> None:
    drawn = dot_of(of_steps("dry yarn\nsplit yarn into gold 2 skeins, moss\nair moss for 10 min\n"))
    said = drawn.labels("words")
    assert "gold is finished" in said
    assert "moss is finished" in said


def test_an_empty_procedure_is_drawn_too() -> None:
    drawn = dot_of(plan(HEAD.format(title="Nothing yet")))
    assert "DRAFT: Nothing yet" in drawn.labels()


def test_a_long_step_is_shortened_and_still_there() -> None:
    words = " ".join(f"word{n}" for n in range(400))
    drawn = dot_of(of_steps(f'wet out yarn in tub with water 5 L for 1 h note "{words}"\n'))
    details = drawn.says("step 1 details")
    assert "word0" in details
    assert "word399" not in details
    assert details.endswith("… (the rest is in the procedure)")


def test_a_bag_is_put_onto_fibre_and_into_a_bath() -> None:
    drawn = example_drawn(Path(__file__).parents[2] / "examples" / "tansy-on-two-mordants.dye")
    assert drawn.says("step 5 details") == "into tansy-bath"
    assert drawn.says("step 11 details") == "onto pale"


UNREAD = """procedure "A gap"
fibre
  yarn: wool yarn, 100 g, scoured
equipment
  pot: steel pot, 8 L, for dyeing only
steps
  frobnicate the pot well
  wet out yarn in pot with water 4 L for 1 h
  repeat 2 times
    rinse yarn in pot with water 4 L
    splosh yarn three times
  splash it about
  dry yarn
  drapple it
"""


@pytest.mark.parametrize("options", [{}, {"lanes": "lot"}, {"lanes": "pot"}, {"lanes": "none"}])
def test_a_line_that_could_not_be_read_has_a_box_of_its_own(options: dict[str, Any]) -> None:
    """Dashed, in its place and with its number, as the handout has it."""
    svg = read(UNREAD, "x.dye").chart(**options)
    assert isinstance(svg, str)
    said = " ".join(" ".join(one.itertext()) for one in ElementTree.fromstring(svg).iter())
    for words in ("frobnicate the pot well", "splosh yarn three", "splash it about", "drapple it"):
        assert f"NOT UNDERSTOOD: “{words}" in said, words
    at = [svg.index(words) for words in ("frobnicate", "splosh", "splash it", "drapple")]
    assert at == sorted(at) and svg.index("drapple it") > svg.index("wet out")
    assert "DRAFT: A gap" in said and "stroke-dasharray" in svg
