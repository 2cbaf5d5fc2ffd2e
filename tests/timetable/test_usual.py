"""The data of hands and waits: a row for every effect of a verb, figures that make sense."""

from __future__ import annotations

from procedure.timetable.usual import usual, waits
from procedure.timetable.work import Attendance
from procedure.vocabulary.data_files import rows
from procedure.vocabulary.effects import effects


def test_every_effect_of_a_verb_has_its_row() -> None:
    told = {row["effect"] for row in rows("hands_on_times")}
    assert told == {*effects(), ""}


def test_figures_run_upwards_and_hands_fit_into_the_step() -> None:
    for row in rows("hands_on_times"):
        one = usual(row["effect"], row["when"])
        assert 0 < one.low <= one.high, row
        if one.attendance is not Attendance.WHOLE:
            assert one.at_start + one.at_end <= one.low, row
        else:
            assert not row["start_min"] and not row["end_min"] and not one.night, row
        assert bool(one.every) == (one.attendance is Attendance.NOW_AND_THEN), row


def test_nothing_that_has_to_be_looked_at_goes_on_at_night() -> None:
    for row in rows("hands_on_times"):
        one = usual(row["effect"], row["when"])
        assert not (one.night and one.attendance is Attendance.NOW_AND_THEN), row


def test_waits_run_upwards_and_say_why() -> None:
    for what, wait in waits().items():
        assert 0 <= wait.least <= wait.most, what
        assert wait.why, what


def test_mordanted_wool_keeps_as_long_as_the_handbook_has_it() -> None:
    """Mairet 1916, ch. II: put away in a linen bag in a cool place for four or five days."""
    assert waits()["mordanted fibre"].most == 5 * 24 * 60
