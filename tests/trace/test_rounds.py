"""A bath between rounds that are far apart is as cool as the room by the next."""

from __future__ import annotations

from fractions import Fraction

import pytest
from expecting import plan_of

from procedure.trace import Moment

STEPS = """
vat: prepare in kettle with water 3 L, tansy 100 g at 50 °C
repeat 4 times{every}
  stir vat for 2 min
discard vat to "foul drain"
"""


def stirred(every: str) -> list[Moment]:
    moments = plan_of(STEPS.format(every=every).strip()).trace.moments
    return [each for each in moments if each.step.verb and each.step.verb.name == "stir"]


def heats(every: str) -> tuple[float, float]:
    bath = stirred(every)[-1].bath_before
    assert bath is not None and bath.heat is not None
    return float(bath.heat.low), float(bath.heat.high)


@pytest.mark.parametrize(
    ("every", "low", "high"),
    [
        ("", 10, 50),
        (" every 10 min", 10, 50),
        (" every 2 h", 10, 50),
        (" every 12 h", 10, 25),
        (" every 1 d", 10, 25),
    ],
)
def test_a_bath_that_stands_between_rounds_cools(every: str, low: float, high: float) -> None:
    """Stirring takes some of its heat in any case; after a night there is none left."""
    assert heats(every) == (low, high)


def test_it_is_warm_in_the_first_round_and_not_said_to_be_so_later() -> None:
    first, *_, last = stirred(" every 1 d")
    assert first.bath_before is not None and first.bath_before.heat is not None
    assert first.bath_before.heat.low == Fraction(50)
    assert last.bath_before is not None and not last.bath_before.heat_said
