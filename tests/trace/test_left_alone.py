"""What the trace knows of place, lid, label and who is by."""

from __future__ import annotations

from fractions import Fraction

import pytest
from expecting import plan_of

from procedure.trace import Moment

STEPS = """
gold-bath: prepare in kettle with water 3 L, tansy 100 g
{step}
discard gold-bath to "foul drain"
"""


def second(step: str) -> Moment:
    return plan_of(STEPS.format(step=step).strip()).trace.moments[1]


@pytest.mark.parametrize(
    ("step", "attended"),
    [
        ("stand gold-bath for 1 h", True),
        ("stand gold-bath for 12 h", False),
        ("stand gold-bath for 12 h attended", True),
        ("cool gold-bath to 20 °C overnight", False),
        ("stand gold-bath until-next-day", False),
        ("simmer gold-bath for 5 h", True),
        ("simmer gold-bath for 1 h unattended", False),
    ],
)
def test_a_bath_is_left_alone_overnight_for_long_or_where_said(step: str, attended: bool) -> None:
    assert second(step).attended is attended


def test_the_place_is_that_of_the_step_or_of_the_head() -> None:
    assert second("simmer gold-bath for 1 h").setting == "outdoors"
    assert second("simmer gold-bath for 1 h indoors").setting == "indoors"


def test_a_label_stays_on_a_bath_but_not_when_it_moves() -> None:
    labelled = second("stand gold-bath for 1 h covered labelled")
    assert labelled.labelled and labelled.covered
    moved = plan_of(
        STEPS.format(step="stand gold-bath for 1 h labelled\nstrain gold-bath into pan").strip()
    ).trace.moments
    assert [moment.labelled for moment in moved] == [False, True, False, False]


def test_plant_matter_is_in_the_bath_until_it_is_strained() -> None:
    moment = second("strain gold-bath")
    assert moment.bath_before is not None and moment.bath_after is not None
    assert moment.bath_before.contents["tansy"].solid
    assert "tansy" in moment.bath_after.contents
    assert not moment.bath_after.contents["tansy"].solid


def test_what_is_worn_is_that_of_the_step_and_of_the_head() -> None:
    moment = second("stand gold-bath for 1 h wearing apron")
    assert moment.wearing == {"gloves", "eye protection", "mask", "apron"}


@pytest.mark.parametrize(
    ("step", "hours"),
    [
        ("stand gold-bath overnight", (8, 16)),
        ("stand gold-bath for 10 to 12 h overnight", (10, 12)),
        ("stand gold-bath for 24 h until-next-day", (24, 24)),
        ("simmer gold-bath for 1 h overnight", (9, 17)),
    ],
)
def test_hours_as_long_as_a_night_are_the_night_and_not_one_more(
    step: str, hours: tuple[int, int]
) -> None:
    took = second(step).minutes
    assert took is not None
    assert [took.low / 60, took.high / 60] == [*map(Fraction, hours)]
