"""A vat that is stirred once a day is cold when it is dipped in, as one that stands for a week."""

from __future__ import annotations

import pytest
from expecting import plan_of

STEPS = """
wet out yarn in tub with water 5 L for 1 h
vat: prepare in kettle with water 5 L, indigo 5 g, soda 20 g, reducer 15 g at 50 °C
{waits}
dip yarn in vat at {heat} for 10 min
air yarn for 15 min
rinse yarn in tub with water 5 L
rinse yarn in tub with water 5 L, vinegar 50 mL
discard vat to "foul drain"
"""
DAILY = "repeat 7 times every 1 d\n  stir vat for 2 min"


def trips(waits: str, heat: str = "50 °C") -> bool:
    plan = plan_of(STEPS.format(waits=waits, heat=heat).strip())
    return any(each.rule == "gone-cold" for each in plan.findings)


@pytest.mark.parametrize("waits", (DAILY, "stand vat overnight covered labelled"))
@pytest.mark.parametrize("heat", ("35 °C", "50 °C"))
def test_it_is_cold_after_days_or_a_night(waits: str, heat: str) -> None:
    assert trips(waits, heat)


@pytest.mark.parametrize(
    ("waits", "heat"),
    (
        (f"{DAILY}\nheat vat to 50 °C", "50 °C"),
        (DAILY, "20 °C"),
        (DAILY, "30 °C"),
        ("repeat 7 times every 10 min\n  stir vat for 2 min", "50 °C"),
        ("stir vat for 2 min", "50 °C"),
    ),
)
def test_what_is_warmed_or_warm_still_is_not(waits: str, heat: str) -> None:
    assert not trips(waits, heat)
