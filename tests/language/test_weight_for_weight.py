"""How much of a thing is taken by the weight of the fibre, in the words that dyers use."""

from fractions import Fraction

import pytest
from expecting import findings, plan_of

from procedure.weigh.weighing import weigh

HEAD = """fibre
  yarn: wool yarn, 100 g, scoured
materials
  weld: weld tops, dried
  alum: potassium alum
steps
"""
USUAL = {"left-in-bath", "bath-left-over", "heat-unstated", "time-unstated", "entered-dry"}


def grams(said: str, thing: str = "weld") -> Fraction:
    text = f"{HEAD}  dye yarn in kettle with water 4 L, {said}\n"
    assert not [f for f in findings(text, "error") if f.rule not in USUAL]
    found = weigh(plan_of(text)).total(thing, "mass")
    assert found is not None and found.low == found.high
    return found.low


@pytest.mark.parametrize(
    ("said", "is_"),
    [
        ("weld 1.5 times the weight of the yarn", 150),
        ("weld 0.75 times the dry weight of yarn", 75),
        ("weld 1 1/2 times the weight of yarn", 150),
        ("weld one and a half times the weight of yarn", 150),
        ("weld 3x the weight of the yarn", 300),
        ("weld three times the weight", 300),
        ("weld double the weight of yarn", 200),
        ("weld half its weight", 50),
        ("weld a quarter of its weight", 25),
        ("weld its own weight", 100),
        ("half its weight of weld", 50),
        ("1.5 times its weight of weld", 150),
        ("a quarter of its weight of weld", 25),
        ("three times the weight of the yarn of weld", 300),
        ("twice its weight in weld", 200),
        ("half the weight of the yarn in weld", 50),
        ("weld, half the weight of the yarn", 50),
        ("weld twice the yarn's weight", 200),
        ("weld half yarn weight", 50),
        ("half the yarn's weight of weld", 50),
        ("weld 1.5 times yarn weight", 150),
        ("weld 1.5 times wof", 150),
        ("weld 1.5 times as much as the yarn", 150),
        ("1.5 times as much weld as yarn", 150),
        ("weld half as much again as yarn", 150),
        ("weld the same weight as yarn", 100),
        ("weld equal weight to yarn", 100),
        ("an equal weight of weld", 100),
        ("the same weight of weld", 100),
        ("weld weight for weight", 100),
        ("weld at 120 % of yarn", 120),
        ("weld at twice the weight of the yarn", 200),
    ],
)
def test_so_many_times_the_weight(said: str, is_: int) -> None:
    assert grams(said) == is_


@pytest.mark.parametrize(
    "said",
    [
        "1 part of alum to 4 of yarn",
        "one part of alum to four of yarn",
        "1 part alum to 4 parts yarn",
        "1 part of alum by weight to 4 of yarn",
        "1 part by weight of alum to 4 of yarn",
        "1 part of alum to every 4 parts of yarn",
        "alum, 1 part to 4 of yarn",
        "alum 1 part to 4 parts of yarn",
        "alum 1 part in 4 of yarn",
        "1 part of alum to 4 parts",
        "alum in the proportion of 1 to 4 of yarn",
    ],
)
def test_so_many_parts_to_so_many(said: str) -> None:
    assert grams(said, "alum") == 25


def test_parts_of_water_are_litres_to_the_kilogram() -> None:
    text = f"{HEAD}  b: prepare in kettle with 30 parts of water to 1 of yarn, alum 5 g\n"
    found = weigh(plan_of(text)).total("water", "volume")
    assert found is not None and found.low == 3


@pytest.mark.parametrize(
    "first", ["1 1/2 times the weight of yarn", "1.5 times the weight of yarn", "3 g"]
)
def test_what_was_read_before_changes_nothing(first: str) -> None:
    plan_of(f"{HEAD}  b: prepare in kettle with water 4 L, weld {first}\n")
    assert grams("weld 0.75 times the weight of yarn") == 75
    assert grams("weld 3 times the weight of yarn") == 300
    assert grams("weld 2 1/2 times the weight of yarn") == 250


@pytest.mark.parametrize(
    "said", ["alum 3 parts", "alum 1 to 4 of yarn", "twice as much again as yarn of alum"]
)
def test_what_may_mean_several_things_is_asked(said: str) -> None:
    text = f"{HEAD}  dye yarn in kettle with water 4 L, {said}\n"
    assert len([f for f in findings(text, "error") if f.rule not in USUAL]) == 1


def test_its_weight_is_of_fibre_that_is_there() -> None:
    text = f"{HEAD}  b: prepare in kettle with water 4 L, weld half its weight\n"
    told = next(one for one in findings(text) if one.rule == "share-of-no-fibre")
    assert "“half of yarn”" in told.remedy
    assert grams("weld half of yarn") == 50


def test_the_weight_of_another_lot_is_that_lots() -> None:
    said = "with water 4 L, the same weight of weld as silk"
    lots = HEAD.replace("materials\n", "  silk: silk yarn, 50 g, scoured\nmaterials\n")
    found = weigh(plan_of(f"{lots}  dye yarn in kettle {said}\n")).total("weld", "mass")
    assert found is not None and found.low == found.high == 50


def test_what_belongs_nowhere_is_told_beside_a_bath_that_is_left_over() -> None:
    text = f"{HEAD}  bath: prepare in kettle with water 4 L, weld 12 g as silk\n"
    assert "clause-out-of-place" in {one.rule for one in findings(text, "error")}
