"""Vessels that a step counts: “in 2 large pots” is what is declared as two large pots."""

import pytest

import procedure
from procedure.model.types import Step

HEAD = """procedure "Two pots"
fibre
  yarn: wool yarn, 100 g, scoured
equipment
  pot: stainless steel pot, 12 L, lidded, for dyeing only
  pots: 2 large stainless steel pots, 12 L each, lidded, for dyeing only
  pans: 3 pans, 12 L each, stainless steel, lidded, for dyeing only
materials
  weld: weld, dried
steps
"""


def read(line: str) -> procedure.Plan:
    return procedure.read(HEAD + f"  {line}\n", "x.dye")


@pytest.mark.parametrize(
    ("said", "name"),
    [
        ("2 large pots", "pots"),
        ("two large pots", "pots"),
        ("the two large pots", "pots"),
        ("2 pots", "pots"),
        ("2 stainless steel pots", "pots"),
        ("3 pans", "pans"),
        ("the three pans", "pans"),
    ],
)
def test_a_number_of_vessels_is_what_is_declared_so(said: str, name: str) -> None:
    plan = read(f"weld-bath: prepare in {said} with water 5 L, weld 100 g")
    (step,) = plan.model.body
    assert isinstance(step, Step)
    assert step.within is not None
    assert step.within.name is not None
    assert step.within.name.text == name
    assert {"cannot-read", "not-declared", "unknown-unit"}.isdisjoint(
        one.rule for one in plan.findings
    )


@pytest.mark.parametrize("said", ["3 pots", "2 pans", "3 large pans", "2 small pots", "4 tubs"])
def test_another_number_or_size_is_asked_about_as_a_whole(said: str) -> None:
    plan = read(f"weld-bath: prepare in {said} with water 5 L, weld 100 g")
    (asked,) = [one for one in plan.findings if one.rule == "not-declared"]
    assert f"“{said}”" in asked.sentence
    assert f": {said}, for dyeing only”" in asked.remedy


def test_vessels_are_cleaned_by_their_number() -> None:
    plan = read("clean 2 large pots")
    (step,) = plan.model.body
    assert isinstance(step, Step)
    assert [item.name.text for item in step.objects if item.name is not None] == ["pots"]


def test_cups_behind_a_number_are_an_amount() -> None:
    plan = read("weld-bath: prepare in pot with 2 cups water, weld 100 g")
    assert "not-declared" not in [one.rule for one in plan.findings]


def test_a_size_that_nothing_has_is_no_name_of_a_bath() -> None:
    plan = read("weld-bath: prepare in huge pot with water 5 L, weld 100 g")
    (asked,) = [one for one in plan.findings if one.rule == "cannot-read"]
    assert "declare it in the section “equipment”: “huge-pot: huge pot" in asked.remedy


@pytest.mark.parametrize("said", ["sediment", "dregs", "scum"])
def test_what_settles_is_no_thing_of_its_own(said: str) -> None:
    plan = read(f'throw out {said} to "compost"')
    (asked,) = [one for one in plan.findings if one.rule == "not-declared"]
    assert "no thing of its own" in asked.sentence
    assert f'“do "put the {said} where it may go"”' in asked.remedy
