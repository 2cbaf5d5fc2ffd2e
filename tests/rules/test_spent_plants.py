"""What is left of a poisonous plant: each way in which it leaves a bath, and each place for it.

That it must lie where neither children nor animals get at it: Royal Horticultural Society,
Potentially harmful garden plants (“do not leave prunings or uprooted plants in reach of farm
animals or pets”).
"""

from __future__ import annotations

import pytest

import procedure

HEAD = """procedure "Gold"
  by "Fellside Dye Circle"
  revised 2026-06-14
  source "our own workshop"
  makes "a gold skein"
  place outdoors
  wearing gloves, eye protection
  audience experienced dyers

fibre
  yarn: wool yarn, 100 g, scoured

equipment
  pot: stainless steel pot, 15 L, lidded, for dyeing only
  other: stainless steel pot, 15 L, lidded, for dyeing only
  sieve: sieve, for dyeing only
  bag: net bag, for dyeing only

materials
  plant: {plant}, fresh

steps
"""
LOOSE = "  gold: prepare in pot with water 6 L, plant 300 g covered\n"
IN_BAG = (
    "  put plant 300 g in bag\n  gold: prepare in pot with water 6 L covered\n  put bag into gold\n"
)
END = '  discard gold to "foul drain"\n'
RULE = "spent-plant-goes-nowhere"

WAYS = {
    "strained": LOOSE + "  strain gold\n",
    "strained through a sieve": LOOSE + "  strain gold through sieve\n",
    "sieved": LOOSE + "  sieve gold\n",
    "filtered into another pot": LOOSE + "  filter gold through sieve into other\n",
    "lifted out": LOOSE + "  lift out plant from gold\n",
    "taken out": LOOSE + "  take plant out of gold\n",
    "removed": LOOSE + "  remove plant from gold\n",
    "bag taken out": IN_BAG + "  take bag out of gold\n",
    "sieve emptied nowhere": LOOSE + "  strain gold through sieve\n  empty sieve\n",
    "sieve only cleaned": LOOSE + "  strain gold through sieve\n  clean sieve\n",
    "left on the wall": LOOSE + '  strain gold through sieve note "put the tansy on the wall"\n',
    "poured into another bath": LOOSE
    + "  red: prepare in other with water 2 L covered\n  strain gold into red\n"
    + '  discard red to "foul drain"\n',
}


def found(steps: str, plant: str = "tansy tops") -> list[tuple[str, int, str]]:
    text = HEAD.format(plant=plant) + steps
    return [
        (one.level, one.line, one.sentence)
        for one in procedure.read(text, "gold.dye").findings
        if one.rule == RULE
    ]


@pytest.mark.parametrize("way", WAYS)
def test_what_leaves_a_bath_has_to_go_somewhere(way: str) -> None:
    steps = WAYS[way] + ("" if "into red" in WAYS[way] else END)
    assert [level for level, _, _ in found(steps)] == ["error"]


@pytest.mark.parametrize(
    "more",
    [
        '  strain gold\n  throw out plant to "a closed heap that no animal can reach"\n',
        '  strain gold through sieve\n  empty sieve to "the hazardous waste point"\n',
        '  strain gold through sieve\n  empty sieve to "the dustbin"\n',
        '  lift out plant from gold to "the closed compost, out of reach of children"\n',
        '  strain gold note "the tansy goes into the closed compost"\n',
    ],
)
def test_a_place_for_it_is_enough(more: str) -> None:
    assert found(LOOSE + more + END) == []


def test_the_liquors_own_step_may_say_it() -> None:
    away = '  discard gold to "foul drain; the spent tops to a closed heap"\n'
    assert found(LOOSE + "  strain gold\n" + away) == []


def test_it_is_told_at_the_step_at_which_it_comes_out() -> None:
    at = (HEAD + LOOSE).count("\n") + 1
    assert [line for _, line, _ in found(LOOSE + "  strain gold\n" + END)] == [at]


def test_a_place_that_nobody_knows_is_none() -> None:
    steps = LOOSE + '  strain gold through sieve\n  empty sieve to "the kitchen table"\n' + END
    assert ["no place that I know" in said for _, _, said in found(steps)] == [True]


def test_lifted_out_onto_an_open_heap_is_an_error_too() -> None:
    text = HEAD.format(plant="tansy tops") + LOOSE + '  lift out plant from gold to "compost"\n'
    rules = {one.rule for one in procedure.read(text + END, "gold.dye").findings}
    assert "plant-thrown-where-it-harms" in rules and RULE not in rules


@pytest.mark.parametrize(
    ("plant", "levels"),
    [("weld tops", []), ("foxglove leaves", ["error"]), ("elderberries", ["note"])],
)
def test_only_what_harms_is_asked_for(plant: str, levels: list[str]) -> None:
    assert [level for level, _, _ in found(LOOSE + "  strain gold\n" + END, plant)] == levels


_SQUEEZED = """procedure "Pressed"
fibre
  yarn: wool yarn, 100 g, scoured
equipment
  kettle: stainless steel pot, 15 L, lidded, for dyeing only
  bowl: plastic tub, 5 L, for dyeing only
  net: net bag, for dyeing only
materials
  greens: foxglove leaves, fresh
steps
  bath: prepare in kettle with water 6 L
  {step}
"""


@pytest.mark.parametrize(
    "step",
    [
        "squeeze greens 100 g into bath",
        "press greens 100 g into bowl",
        "wring out greens 100 g through net into bath",
        "fill net with greens 100 g\n  squeeze net into bowl",
        "fill net with greens 100 g\n  wring out net",
    ],
)
def test_a_plant_squeezed_out_is_handled_and_goes_somewhere(step: str) -> None:
    """What is left in the hand or the bag is the plant still (common practice)."""
    text = _SQUEEZED.format(step=step)
    found = procedure.read(text, "pressed.dye").findings
    assert "cannot-read" not in {one.rule for one in found}
    last = len(text.splitlines())
    assert "spent-plant-goes-nowhere" in {one.rule for one in found if one.line == last}
    assert {"no-gloves", "no-eye-protection"} <= {one.rule for one in found}
    thrown = "empty net" if "net" in step else "throw out greens"
    placed = f'{text}  {thrown} to "the hazardous waste point"\n'
    rules = {one.rule for one in procedure.read(placed, "pressed.dye").findings}
    assert "spent-plant-goes-nowhere" not in rules
