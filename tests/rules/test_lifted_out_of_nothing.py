"""Fibre that is lifted, and lies in no bath: told of at that step, and of no other lift."""

from __future__ import annotations

import pytest
from expecting import findings

BATH = "weld-bath: prepare in kettle with water 4 L, weld 100 g at 40 °C\n"


def told(steps: str) -> list[tuple[str, str]]:
    found = [one for one in findings(steps) if one.rule == "not-in-that-bath"]
    return [(one.sentence, one.remedy) for one in found]


@pytest.mark.parametrize(
    "steps",
    [
        "lift yarn",
        "dry yarn\nlift yarn",
        "dry yarn\nrest yarn for 1 d\nlift yarn",
        "enter yarn in weld-bath\nlift yarn\nlift yarn",
        "split yarn into pale 40 g, yarn-b\nlift pale",
        "air yarn for 5 min\nlift yarn and squeeze",
    ],
)
def test_lifted_out_of_nothing(steps: str) -> None:
    ((sentence, remedy),) = told(BATH + steps)
    lot = "pale" if "pale" in steps else "yarn"
    assert sentence == f"{lot} is in no bath here."
    assert remedy == f"Put it in before, “enter {lot} in weld-bath”, or leave this step out."


@pytest.mark.parametrize(
    "steps",
    [
        "enter yarn in weld-bath\nlift yarn",
        "enter yarn in weld-bath\nrest yarn for 1 h\nlift yarn",
        "rinse yarn in tub\nlift yarn",  # out of the tub
        "wet out yarn in tub with water 5 L for 1 h\nlift yarn",
        "dip yarn in weld-bath for 5 min\nlift yarn",  # the dip has taken it out: said twice
        "enter yarn in weld-bath\nsqueeze yarn\nlift yarn",  # squeezed in the bath
        "wibble yarn in weld-bath\nlift yarn",  # what nobody can read may put it in
        "enter yarn in wald-bath\nlift yarn",  # the name has its own finding
        'mordant yarn in weld-bath at 40 °C for 1 h\nif "pale"\n  lift yarn\nlift yarn',
    ],
)
def test_no_other_lift_is_told_of(steps: str) -> None:
    assert told(BATH + steps) == []


def test_where_no_bath_is_there_none_is_named() -> None:
    ((_, remedy),) = told("lift yarn")
    assert remedy == "Write above it what it is put into, or leave this step out."


def test_a_label_that_names_a_step_is_told_of_where_a_bath_was_meant() -> None:
    steps = f"{BATH}red-bath: pour weld-bath into pan\nsimmer red-bath for 1 h"
    (found,) = [one for one in findings(steps) if one.rule == "not-declared"]
    assert "is the name of the step in line" in found.sentence
    assert found.remedy == "A bath keeps its name in another pot: write “weld-bath” here."


@pytest.mark.parametrize(("said", "meant"), [("walnut-bath", ""), ("wled-bath", "weld-bath")])
def test_names_that_are_alike_in_their_tail_alone_are_no_slips(said: str, meant: str) -> None:
    steps = f"{BATH}alum-bath: prepare in pan with water 4 L, alum 12 g\nsimmer {said} for 1 h"
    (found,) = [one for one in findings(steps) if one.rule == "not-declared"]
    assert ("Did you mean" in found.remedy) is bool(meant)
    assert meant in found.remedy


def test_the_pot_of_several_is_asked_about_by_their_names() -> None:
    kit = (
        "equipment\n"
        "  kettle: stainless steel pot, 12 L, for dyeing only\n"
        "  pan: stainless steel pot, 8 L, for dyeing only\n"
        "steps\n"
        "  clean the pot\n"
    )
    (found,) = [one for one in findings(kit) if one.rule == "not-declared"]
    assert found.remedy == "Write which: “kettle” or “pan”."
