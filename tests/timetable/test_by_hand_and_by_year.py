"""Working fibre about takes somebody all the while; what takes longer than any plan is told so."""

from __future__ import annotations

from datetime import datetime

import pytest

from procedure.collection.opening_hours import Hours
from procedure.pipeline import read
from procedure.rules.example_kit import whole
from procedure.timetable import NoPlan, fitted
from procedure.timetable.from_plans import work_of
from procedure.timetable.refused_words import refusal
from procedure.timetable.terms import Asked
from procedure.timetable.work import Attendance, Work

NINE = datetime(2099, 11, 28, 9)
TEXT = """wet out yarn in tub with water 5 L at 30 °C for 1 h
alum-bath: prepare in kettle with water 4 L, alum 12 % of yarn at 30 °C
{step}
rinse yarn in tub with water 5 L
discard alum-bath to "foul drain"
"""


def work(step: str) -> Work:
    plan = read(whole(TEXT.format(step=step)), "hands.dye")
    return work_of([plan], Asked(NINE, Hours(), "9:00-18:00")).work


@pytest.mark.parametrize(
    ("step", "whole_time"),
    [
        ("work yarn in alum-bath for 1 h", True),
        ("steep yarn in alum-bath for 1 h stirring", True),
        ("steep yarn in alum-bath for 1 h", False),
        ("work yarn in alum-bath for 1 h unattended", False),
    ],
)
def test_fibre_that_is_worked_about_takes_hands(step: str, whole_time: bool) -> None:
    hours = [each for each in work(step).activities if each.lasting.most == 60 and each.lots]
    found = hours[-1]
    assert (found.attendance is Attendance.WHOLE) is whole_time


def test_a_soak_beyond_all_plans_is_told_as_that() -> None:
    made = fitted(work("steep yarn in alum-bath for 52 wk covered"), reasons=False).made
    assert isinstance(made, NoPlan)
    said = refusal(made)
    assert "too long for a timetable" in said
    assert "364 days" in said
    assert "do not go together" not in said
