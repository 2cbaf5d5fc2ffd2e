"""Fibre that is divided as people say it: into thirds, equal lots, a third and the rest."""

from __future__ import annotations

import re

import pytest
from expecting import findings, plan_of

FOUR = dict.fromkeys(("gold", "moss", "rust", "plum"), 25)
SPLIT = "split yarn into {}\n"


def parts(said: str) -> dict[str, tuple[float, float]]:
    lots = plan_of(SPLIT.format(said)).trace.final.lots
    found = {name: lot.weight for name, lot in lots.items() if name != "yarn"}
    return {name: (float(one.low), float(one.high)) for name, one in found.items() if one}


def asked(steps: str) -> list[str]:
    return [one.remedy for one in findings(steps, "error") if one.rule != "left-in-bath"]


@pytest.mark.parametrize(
    ("said", "grams"),
    [
        ("one quarter gold, three quarters moss", {"gold": 25, "moss": 75}),
        ("a quarter gold, the rest moss", {"gold": 25, "moss": 75}),
        ("gold 1/4, moss 3/4", {"gold": 25, "moss": 75}),
        ("gold a quarter, moss the rest", {"gold": 25, "moss": 75}),
        ("gold a half and moss", {"gold": 50, "moss": 50}),
        ("a quarter and the rest", {"quarter": 25, "rest": 75}),
        ("two fifths gold, three fifths moss", {"gold": 40, "moss": 60}),
        ("four equal lots: gold, moss, rust and plum", FOUR),
        ("two equal lots: gold and moss", {"gold": 50, "moss": 50}),
        ("gold and moss in equal parts", {"gold": 50, "moss": 50}),
    ],
)
def test_shares_are_read_as_they_are_said(said: str, grams: dict[str, int]) -> None:
    assert asked(SPLIT.format(said)) == []
    assert parts(said) == {name: (weight, weight) for name, weight in grams.items()}


@pytest.mark.parametrize(
    ("said", "many"),
    [
        ("into thirds", 3),
        ("in thirds", 3),
        ("into three lots", 3),
        ("into 3 equal lots", 3),
        ("into a third, a third and a third", 3),
        ("into quarters", 4),
        ("into five bundles", 5),
        ("into halves", 2),
        ("in two", 2),
        ("into equal parts", 2),
    ],
)
def test_parts_without_names_are_asked_for_with_as_many_names(said: str, many: int) -> None:
    (remedy,) = asked(f"split yarn {said}\n")
    written = re.findall("“(.+?)”", remedy)[0]
    names = re.findall(r"part-\w+", written)
    assert len(names) == many
    assert asked(written + "\n") == []
    grams = parts(written.removeprefix("split yarn into "))
    assert all(abs(grams[name][0] - 100 / many) < 0.001 for name in names)


PUT = "kettle-bath: prepare in kettle with water 4 L, alum 12 g at 30 °C\n"


@pytest.mark.parametrize(
    "part",
    [
        "a third of the yarn",
        "two thirds of the yarn",
        "1/4 of yarn",
        "half the yarn",
        "some of the yarn",
        "part of the yarn",
        "most of the yarn",
        "50 g of the yarn",
        "40 g yarn",
    ],
)
def test_what_is_offered_for_a_part_is_not_asked_about_again(part: str) -> None:
    (remedy,) = asked(f"{PUT}put {part} in kettle-bath\n")
    split, name = re.findall("“(.+?)”", remedy)
    assert split.startswith("split yarn into ") and name == "part-one"
    assert (
        asked(f"{PUT}{split}\nput {name} in kettle-bath\nput the other part in kettle-bath") == []
    )


THREE = """fibre
  red: wool yarn, 100 g, scoured
  blue: wool yarn, 100 g, scoured
  gold: wool yarn, 100 g, scoured
steps
  wet out {all} in tub with water 5 L at 30 °C for 1 h
  kettle-bath: prepare in kettle with water 9 L, alum 36 g at 30 °C
  put red in kettle-bath
  {step}
"""


def lots_in(step: str, every: str = "the lots") -> tuple[str, ...]:
    return plan_of(THREE.format(all=every, step=step)).study.moments[-1].node.lots


@pytest.mark.parametrize("said", ["lots", "three lots", "all three lots", "all three"])
def test_all_the_lots_by_their_number(said: str) -> None:
    plan = plan_of(THREE.format(all=f"the {said}", step="rinse red in tub with water 5 L"))
    assert plan.study.moments[0].node.lots == ("red", "blue", "gold")


@pytest.mark.parametrize("said", ["the other two", "the other two lots", "the other two parts"])
def test_the_other_two_lots(said: str) -> None:
    assert lots_in(f"put {said} in kettle-bath") == ("blue", "gold")


@pytest.mark.parametrize(
    "said", ["one lot", "two lots", "the first lot", "two of the lots", "all four lots"]
)
def test_which_lots_is_asked_once_by_their_names(said: str) -> None:
    (remedy,) = asked(THREE.format(all="the lots", step=f"put {said} in kettle-bath"))
    assert remedy == "Write the names of the lots: some of red, blue and gold."


def test_a_lot_may_be_called_by_a_number() -> None:
    steps = "split yarn into one 40 g, two 60 g\nrinse two in tub with water 5 L\n"
    assert plan_of(steps).study.moments[-1].node.lots == ("two",)


def test_parts_that_are_equal_and_are_not_are_told_of() -> None:
    assert asked(SPLIT.format("gold 40 g, moss 60 g in equal parts"))
    assert not asked(SPLIT.format("gold 50 g, moss 50 g in equal parts"))
