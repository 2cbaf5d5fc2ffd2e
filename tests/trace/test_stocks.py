"""The rest of a material and a share of it: worked out from all there is and what was used."""

from __future__ import annotations

from fractions import Fraction

import pytest

import procedure
from procedure.rework.scaling import scale
from procedure.weigh.weighing import weigh

TEXT = """procedure "The rest"

fibre
  yarn: wool yarn, 100 g, scoured

equipment
  kettle: stainless steel pot, 15 L, lidded, for dyeing only

materials
  alum: potassium alum, {stock}
  onion: onion skins, dried

steps
  chop onion 90 g
  dye-bath: prepare in kettle with water 4 L, alum 12 g
{steps}
"""


def taken(steps: str, stock: str = "20 g") -> list[tuple[str, object, object]]:
    """What each step behind the making of the bath takes: the thing and grams, from and to."""
    text = TEXT.format(stock=stock, steps="\n".join(f"  {one}" for one in steps.split("\n")))
    plan = procedure.read(text)
    return [
        (thing, *((None, None) if amount is None else (amount.low, amount.high)))
        for moment in plan.trace.moments[2:]
        for thing, _, amount in moment.amounts
    ]


def rules(steps: str, stock: str = "20 g") -> set[str]:
    text = TEXT.format(stock=stock, steps="\n".join(f"  {one}" for one in steps.split("\n")))
    return {one.rule for one in procedure.read(text).findings}


@pytest.mark.parametrize(
    "said",
    ["the rest of the alum", "the remaining alum", "what is left of the alum", "the last of alum"],
)
def test_the_rest_is_what_was_not_used_before(said: str) -> None:
    """20 g in all, less the 12 g of the bath, is 8 g."""
    assert taken(f"add {said} to dye-bath") == [("alum", 8, 8)]


@pytest.mark.parametrize(
    "said",
    ["half the rest of the alum", "half of the remaining alum", "1/2 of what is left of the alum"],
)
def test_half_the_rest_and_then_the_rest(said: str) -> None:
    """Half of 8 g is 4 g, and 4 g are left."""
    steps = f"add {said} to dye-bath\nadd the rest of the alum to dye-bath"
    assert taken(steps) == [("alum", 4, 4), ("alum", 4, 4)]


def test_half_of_a_material_is_half_of_all_there_is() -> None:
    """Not half of what the bath has of it: 10 g of the 20 g, though 12 g are in the bath."""
    assert taken("add half of the alum to dye-bath") == [("alum", 10, 10)]


def test_all_there_is_may_be_what_was_made_ready() -> None:
    """90 g of skins are chopped, and three times 10 g used."""
    steps = "repeat 3 times\n  add onion 10 g to dye-bath\nadd the rest of onion to dye-bath"
    assert taken(steps)[-1] == ("onion", 60, 60)


def test_what_is_done_on_a_condition_or_on_another_way() -> None:
    """Perhaps 5 g more are gone, so 3 to 8 g are left; another way takes nothing on this one."""
    steps = 'if "pale"\n  add alum 5 g to dye-bath\nadd the rest of the alum to dye-bath'
    assert taken(steps)[-1] == ("alum", 3, 8)
    steps = 'either "a"\n  add alum 5 g to dye-bath\nor "b"\n  add the rest of alum to dye-bath'
    assert taken(steps)[-1] == ("alum", 8, 8)


def test_where_it_is_not_said_how_much_there_is_it_is_asked() -> None:
    assert taken("add the rest of the alum to dye-bath", "bought") == [("alum", None, None)]
    assert "amount-unstated" in rules("add the rest of the alum to dye-bath", "bought")
    assert "amount-unstated" not in rules("add the rest of the alum to dye-bath")


def test_more_than_there_is_of_a_material_is_told() -> None:
    assert "more-than-there-is" in rules("add alum 9 g to dye-bath")
    assert "more-than-there-is" not in rules("add alum 8 g to dye-bath")


def test_the_rest_grows_with_the_fibre() -> None:
    """For three times the yarn 60 g in all, 36 g in the bath and 24 g left."""
    text = TEXT.format(
        stock="20 g", steps="  enter yarn in dye-bath\n  add the rest of alum to dye-bath"
    )
    plan = procedure.read(text)
    grown = scale(plan, {"yarn": Fraction(300)}).plan
    rows = [row.low for row in weigh(grown).rows if row.thing == "alum"]
    assert rows == [36, 24]


def test_the_rest_of_a_bath_or_of_a_lot_is_all_of_it() -> None:
    """As before: what is there now is what is left."""
    steps = "enter the remaining yarn in dye-bath\nlift yarn"
    text = TEXT.format(stock="20 g", steps="\n".join(f"  {one}" for one in steps.split("\n")))
    assert procedure.read(text).trace.moments[-2].node.lots == ("yarn",)
