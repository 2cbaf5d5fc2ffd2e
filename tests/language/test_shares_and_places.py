"""Shares of a weight, some of a bath, the rest, and where fibre is laid: as dyers say it."""

from __future__ import annotations

from fractions import Fraction

import pytest
from expecting import findings, plan_of

from procedure.findings import Finding
from procedure.model import Step

MADE = "  bath: prepare in kettle with water 5 L, alum 12 g\n"


def steps_of(text: str) -> list[Step]:
    return [one for one in plan_of(text).model.body if isinstance(one, Step)]


def taken(said: str) -> Fraction | None:
    """How many grams of alum a bath gets for 100 g of yarn."""
    plan = plan_of(f"  bath: prepare in kettle with water 5 L, {said}\n")
    amount = plan.trace.moments[0].amounts[-1][2]
    return amount.low if amount is not None and amount.low == amount.high else None


@pytest.mark.parametrize(
    "said",
    [
        "alum 1/4 of the weight of yarn",
        "alum a quarter of the weight of yarn",
        "alum one fourth of the weight of yarn",
        "alum a fourth part of yarn",
        "alum one fourth part of yarn",
        "alum 1/4 of the dry weight of yarn",
    ],
)
def test_a_share_of_the_weight(said: str) -> None:
    assert taken(said) == 25


@pytest.mark.parametrize(
    ("said", "litres"),
    [("2 imp gallons", "9.09218"), ("3 imp pints", "1.70478375"), ("2 imp quarts", "2.273045")],
)
def test_imperial_measures_in_short(said: str, litres: str) -> None:
    plan = plan_of(f"  bath: prepare in kettle with {said} water\n")
    amount = plan.trace.moments[0].amounts[0][2]
    assert amount is not None
    assert amount.low == Fraction(litres)


@pytest.mark.parametrize("said", ["part of bath", "a part of bath", "some of bath"])
def test_nobody_knows_how_much_some_of_a_bath_is(said: str) -> None:
    text = MADE + f'  discard {said} to "foul drain"\n  enter yarn in bath\n'
    told = [one for one in findings(text) if one.rule == "loose-measure"]
    assert [one.remedy for one in told] == [
        "Write how much of it: a share, such as 1/4, or a volume."
    ]
    assert plan_of(text).trace.moments[-1].node.bath  # there is a bath still


def test_a_part_of_what_is_asked() -> None:
    told, *_ = findings("  bath: prepare in kettle with water 5 L, alum 3 parts\n", "error")
    assert told.remedy.startswith("Write how much to how much")


def faults(text: str) -> list[Finding]:
    return [one for one in findings(text) if one.rule == "cannot-read"]


@pytest.mark.parametrize("word", ["the rest", "rest", "the remainder"])
def test_what_a_split_leaves_is_called_the_rest(word: str) -> None:
    name = word.removeprefix("the ")
    text = f"  split yarn into deep 60 g and {word}\n  rinse {word} in tub with water 5 L\n"
    plan = plan_of(text)
    assert [one for one in plan.findings if one.level == "error"] == []
    weight = plan.trace.moments[-1].after.lots[name].weight
    assert weight is not None
    assert weight.low == 40


def test_so_much_into_one_and_the_rest_into_another() -> None:
    plan = plan_of("  split yarn, 60 g into deep, the rest into pale\n")
    weights = {name: lot.weight for name, lot in plan.trace.moments[0].after.lots.items()}
    assert weights["deep"] is not None
    assert weights["pale"] is not None
    assert weights["deep"].low == 60
    assert weights["pale"].low == 40


def test_rest_begins_a_step_where_something_follows() -> None:
    verbs = [one.verb and one.verb.name for one in steps_of("  squeeze yarn, then rest for 1 h\n")]
    assert verbs == ["squeeze", "rest"]


@pytest.mark.parametrize(
    ("said", "verb", "note"),
    [
        ("place the yarn on the line", "rest", ""),
        ("lay yarn on line to dry", "dry", ""),
        ("lay the yarn flat on a towel to dry", "dry", "flat"),
        ("put yarn on a towel", "rest", ""),
        ("mangle yarn", "squeeze", ""),
        ("spin yarn", "squeeze", ""),
    ],
)
def test_where_fibre_is_laid(said: str, verb: str, note: str) -> None:
    tools = (
        "equipment\n  towel: cotton towel, for dyeing only\n  line: drying line, for dyeing only\n"
    )
    (step,) = steps_of(tools + f"steps\n  {said}\n")
    assert step.verb is not None
    assert (step.verb.name, step.note) == (verb, note)


@pytest.mark.parametrize("said", ["airing it often", "airing frequently", "lifting it often"])
def test_what_is_done_now_and_then_is_told_whole(said: str) -> None:
    *_, step = steps_of(MADE + f"  work yarn in bath for 45 min, {said}\n")
    assert step.note == said


@pytest.mark.parametrize(
    "said",
    [
        "steep yarn in bath from hot to cold overnight covered",
        "leave yarn in bath from 80 °C to 20 °C overnight covered",
        "enter yarn in bath\n  stand bath from 80 °C to 20 °C overnight covered",
        "enter yarn in bath\n  let bath go from hot to cold overnight covered",
    ],
)
def test_from_hot_to_cold_is_cooling(said: str) -> None:
    made = "  bath: prepare in kettle with water 5 L, alum 12 g at hot\n"
    rules = {one.rule for one in findings(made + f"  {said}\n", "error")}
    assert rules <= {"left-in-bath"}


def test_a_bath_is_not_heated_to_what_is_colder() -> None:
    text = MADE + "  dye yarn in bath from 80 °C to 20 °C over 1 h for 1 h\n"
    assert "wrong-direction" in {one.rule for one in findings(text)}


def test_what_is_left_on_the_stove_overnight_is_still_told_of() -> None:
    text = (
        "equipment\n  hob: hotplate, 2 kW\nsteps\n"
        + MADE
        + "  steep yarn in bath from 80 °C to 20 °C overnight on hob\n"
    )
    assert "heated-unattended" in {one.rule for one in findings(text)}


@pytest.mark.parametrize(
    ("said", "meant"),
    [("at boyl", "boil"), ("at hand-hott", "hand-hot"), ("at simer", "simmer")],
)
def test_a_misspelt_heat_is_told_of_as_a_heat(said: str, meant: str) -> None:
    (told,) = faults(f"  bath: prepare in kettle with water 5 L, alum 12 g {said}\n")
    assert "is no heat that I know" in told.sentence
    assert told.remedy == f"Did you mean “{meant}”?"


@pytest.mark.parametrize(("said", "meant"), [("wrng yarn", "wring"), ("hnag yarn", "hang")])
def test_an_everyday_verb_is_offered_too(said: str, meant: str) -> None:
    (told,) = faults(f"  {said}\n")
    assert told.remedy == f"Did you mean “{meant}”?"


def test_fibre_among_the_materials_is_asked_about() -> None:
    for said in ("yarn 50 g", "half of the yarn"):
        text = f"  bath: prepare in kettle with water 5 L, {said}\n"
        (told,) = (one for one in findings(text) if one.rule == "wrong-kind-of-thing")
        assert told.remedy == "Fibre goes in by a step of its own: “enter yarn in ...”."


@pytest.mark.parametrize("named", ["linen cloth", "cotton cloth", "old cloth"])
def test_liquor_is_strained_through_a_cloth(named: str) -> None:
    text = f"equipment\n  sheet: {named}, for dyeing only\nsteps\n" + MADE
    text += "  strain bath through sheet\n"
    assert not {one.rule for one in findings(text)} & {"unknown-word", "wrong-kind-of-thing"}


def test_fibre_that_was_dyed_before_is_not_asked_for_its_mordant() -> None:
    text = "fibre\n  yarn: wool yarn, 100 g, scoured, dyed with weld 100 %, dry\nsteps\n"
    assert "no-mordant" not in {one.rule for one in findings(text + "  dry yarn\n")}


def test_at_least_twice_has_no_upper_end() -> None:
    text = '  repeat at least twice until "clear"\n    rinse yarn in tub with water 5 L\n'
    (block,) = (one for one in plan_of(text).model.body if not isinstance(one, Step))
    assert block.times is not None
    assert block.times[0] == 2
    assert block.times[1] > 10**6
    (often,) = plan_of("  rinse yarn at least thrice in tub with water 5 L\n").model.body
    assert not isinstance(often, Step)
    assert often.times is not None
    assert often.times[0] == 3


def test_at_least_twice_the_weight_is_an_amount() -> None:
    plan = plan_of(
        "  bath: prepare in kettle with water 5 L, weld at least twice the weight of yarn\n"
    )
    amount = plan.trace.moments[0].amounts[-1][2]
    assert amount is not None
    assert amount.low == 200


def test_so_much_to_an_unknown_gallon_is_told_as_a_strength() -> None:
    text = "  bath: prepare in kettle with water 5 L, soda 1 oz to the gallon\n"
    (told,) = (one for one in findings(text) if one.rule == "which-gallon")
    assert "6.24 g/L or 7.49 g/L" in told.sentence
