"""What the tests of the sums share: procedures in a few lines, and what they weigh out to."""

from __future__ import annotations

from fractions import Fraction

import procedure
from procedure import Plan
from procedure.rules.example_kit import whole
from procedure.vocabulary import vocabulary
from procedure.weigh.weighing import Row, Weighing, weigh

POUND = vocabulary().units["lb"].factor
OUNCE = vocabulary().units["oz"].factor
IMPERIAL_GALLON = vocabulary().units["imp gal"].factor


def plan_of(example: str) -> Plan:
    """The lines of an example, with what they lack from the kit, as a plan."""
    return procedure.read(whole(example), "example.dye")


def weighed(example: str) -> Weighing:
    """What an example weighs out to."""
    return weigh(plan_of(example))


def row_of(weighing: Weighing, thing: str) -> Row:
    """The only row of a thing."""
    rows = [row for row in weighing.rows if row.called == thing]
    assert len(rows) == 1, [row.called for row in weighing.rows]
    return rows[0]


def grams(weighing: Weighing, thing: str) -> Fraction:
    """All grams of a thing, which must be one exact number."""
    things = {row.thing for row in weighing.rows if row.called == thing}
    assert len(things) == 1, thing
    ends = weighing.total(things.pop(), "mass")
    assert ends is not None and ends[0] == ends[1]
    return ends[0]


def bath(fibre: str, amounts: str, materials: str = "") -> str:
    """A procedure that puts a lot of fibre into one bath made of some amounts."""
    declared = f"materials\n{materials}\n" if materials else ""
    return f"""fibre
  yarn: {fibre}
equipment
  vessel: stainless steel pot, 2000 L, lidded, for dyeing only
{declared}steps
  the-bath: prepare in vessel with {amounts}
  dye yarn in the-bath at 80 °C for 1 h
  lift yarn from the-bath
  discard the-bath to "foul drain"
"""
