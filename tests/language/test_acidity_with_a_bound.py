"""A bound of a pH, before “pH” or after it; an open end says no more than its number."""

from fractions import Fraction

import pytest
from expecting import findings, plan_of

from procedure.model import Step
from procedure.quantity.interval import ENDLESS

BATH = "steps\n  bath: prepare in kettle with water 4 L, alum 12 g\n"


@pytest.mark.parametrize(
    ("said", "low", "high"),
    [
        ("pH at least 8", 8, ENDLESS),
        ("pH 8 or more", 8, ENDLESS),
        ("at least pH 8", 8, ENDLESS),
        ("pH not less than 8", 8, ENDLESS),
        ("pH at most 9.5", 0, Fraction("9.5")),
        ("pH below 9", 0, 9),
        ("pH up to 9", 0, 9),
        ("pH no more than 9", 0, 9),
        ("pH 9 or below", 0, 9),
        ("pH at least 9 to 10", 9, ENDLESS),
        ("pH about 9", 8, 10),
        ("about pH 9", 8, 10),
    ],
)
def test_a_bound_of_a_ph(said: str, low: Fraction | int, high: Fraction | int) -> None:
    text = f"{BATH}  stand bath until {said}\n"
    step = plan_of(text).model.body[-1]
    assert isinstance(step, Step) and step.until is not None and step.until.quantity is not None
    found = step.until.quantity
    assert (found.kind, found.low, found.high) == ("acidity", low, high)
    assert not {one.rule for one in findings(text)} & {"cannot-be", "cannot-read"}


@pytest.mark.parametrize("said", ["pH 15 or more", "pH at most 15", "at least pH 14.5", "pH 20"])
def test_what_no_water_has_is_told(said: str) -> None:
    assert "cannot-be" in {one.rule for one in findings(f"{BATH}  stand bath until {said}\n")}


@pytest.mark.parametrize("share", ["2/3 of bath or more", "at least half of bath"])
def test_a_share_with_an_open_end_is_not_more_than_the_whole(share: str) -> None:
    text = f'{BATH}  discard {share} to "foul drain"\n'
    assert "cannot-be" not in {one.rule for one in findings(text)}
    assert "cannot-be" in {one.rule for one in findings(text.replace(share, "3/2 of bath or more"))}
