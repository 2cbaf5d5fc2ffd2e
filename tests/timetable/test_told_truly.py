"""What a plan tells of what is done, of nights and of people is so, and can be done."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from itertools import pairwise
from pathlib import Path

import pytest

import procedure
from procedure.collection.opening_hours import Hours, days_of
from procedure.command.main import main
from procedure.pipeline import Judged
from procedure.timetable import NoPlan, Timetable, agenda, fitted
from procedure.timetable.by_day import report
from procedure.timetable.drawn_papers import _DOTS, _DOTS_OF_MANY
from procedure.timetable.from_plans import work_of
from procedure.timetable.planned_words import how_good
from procedure.timetable.refused_words import refusal
from procedure.timetable.terms import Asked, Happened
from procedure.timetable.told_first import _is_busy
from procedure.timetable.unsure import cautions_at

EXAMPLES = Path(__file__).parents[2] / "examples"
ONION = str(EXAMPLES / "first-onion-skins.dye")
TURMERIC = str(EXAMPLES / "turmeric-on-cotton.dye")
NINE = datetime(2099, 11, 28, 9)


def example(name: str) -> Judged:
    return procedure.load(str(EXAMPLES / f"{name}.dye"))


def made_again(name: str, now: datetime, **done: datetime) -> Timetable:
    """The plan of an example of which steps, “s4” the one numbered 4, were over at some moments."""
    happened = tuple(Happened(f"step {key[1:]}", end) for key, end in done.items())
    asked = Asked(NINE, Hours(), "9:00-18:00", happened=happened, now=now)
    made = fitted(work_of([example(name)], asked).work, reasons=False).made
    assert isinstance(made, Timetable)
    return made


def at(hour: int, minute: int = 0, day: int = 28) -> datetime:
    return datetime(2099, 11, day, hour, minute)


def test_what_is_all_done_is_told_to_be_over_and_asks_nobody_back() -> None:
    ends = {f"s{n}": at(9 + n, 0) for n in range(1, 9)}
    ends |= {"s9": at(9, 30, 29), "s10": at(9, 40, 30)}
    said = report(agenda(made_again("first-onion-skins", at(10, 30, 30), **ends)))
    assert "All is done: it was over at 09:40" in said
    for never in ("Be back", "still to do", "shorter", "What can give", "Planned again"):
        assert never not in said


def test_of_a_day_that_is_past_nothing_is_left_to_be_seen_to() -> None:
    made = made_again("first-onion-skins", at(10, 30, 29), s6=at(16, 20), s7=at(9, 30, 29))
    first_day = report(agenda(made)).partition("Sunday 29 November, open")[0]
    assert "Done by 16:20" in first_day
    assert "Be back" not in first_day and "Stands there then" not in first_day


@pytest.mark.parametrize(
    ("strained", "said"),
    [(at(14, 40), "and “cool gold-bath” (4), which comes before it, at 15:20"), (at(15, 30), "")],
)
def test_what_was_over_before_what_it_follows_is_told(strained: datetime, said: str) -> None:
    made = made_again("first-onion-skins", at(15, 35), s5=strained, s4=at(15, 20))
    told = [each for each in made.work.notes if "told to have been over" in each]
    assert len(told) == bool(said) and all(said in each for each in told)


def test_what_was_over_far_too_soon_is_told() -> None:
    made = made_again("first-onion-skins", at(10, 30), s2=at(9, 20), s3=at(9, 50))
    assert any("and takes 1\u202fh 30\u202fmin at the least" in each for each in made.work.notes)


def test_fibre_out_of_a_vat_airs_by_itself_and_is_not_late() -> None:
    made = made_again(
        "heather-purple-wool", at(14, 50), s1=at(10, 20), s3=at(10, 25), s4=at(10, 45)
    )
    assert not any(each.startswith("Late by now: “air") for each in made.work.notes)
    airs = next(each for each in made.work.activities if each.printed == "5")
    assert made.at[airs.key].start == 105


def test_who_is_there_as_it_is_planned_again_goes_on_at_once() -> None:
    """Nothing waits unrinsed until the next day to save a day on which somebody is there."""
    made = made_again(
        "heather-purple-wool", at(14, 50), s1=at(10, 20), s3=at(10, 25), s4=at(10, 45)
    )
    rinsed = next(each for each in made.work.activities if each.printed == "6")
    assert made.at[rinsed.key].start < 9 * 60
    assert "on fewer days" not in how_good(made)


def test_a_bath_that_has_stood_for_a_day_is_told_to_be_measured() -> None:
    made = fitted(work_of([example("raven-grey")], Asked(NINE, Hours())).work, reasons=False).made
    assert isinstance(made, Timetable)
    cools = {
        each.printed: each.key for each in made.work.activities if each.printed in ("15", "16")
    }
    stood = " ".join(cautions_at(made, cools["16"]))
    assert "stood off the heat since 12:10 on Saturday" in stood
    assert "stood off" not in " ".join(cautions_at(made, cools["15"]))


def test_nights_are_counted_where_there_are_too_few() -> None:
    weekdays, dates = days_of("2099-11-28,2099-11-29")
    asked = Asked(NINE, Hours(weekdays=weekdays, dates=dates), "9:00-18:00")
    unfit = fitted(work_of([example("madder-red-wool")], asked).work).made
    assert isinstance(unfit, NoPlan)
    said = refusal(unfit).split("\n")
    assert "line 39) and “cool madder-bath overnight” (line 42) take a night each" in said[1]
    assert said[1].endswith("there is 1 night for them.") and "is open" in said[2]
    # With a night more there is a plan: the reason is the whole one.
    weekdays, dates = days_of("2099-11-28,2099-11-29,2099-11-30")
    more = replace(asked, hours=Hours(weekdays=weekdays, dates=dates))
    assert isinstance(fitted(work_of([example("madder-red-wool")], more).work).made, Timetable)


def test_no_plan_is_said_not_to_be_over_before_it_begins() -> None:
    made = fitted(work_of([example("turmeric-on-cotton")], Asked(NINE, Hours())).work).made
    assert isinstance(made, Timetable)
    assert "none is over before" not in how_good(replace(made, bound=0))
    assert "none is over before" in how_good(replace(made, bound=60))


@pytest.mark.parametrize(
    ("files", "said"),
    [((TURMERIC, ONION), "A2 (prepare yellow-bath in pot) or B2 (prepare gold-bath in pot)")],
)
def test_a_number_of_several_procedures_asks_which(
    files: tuple[str, ...], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    start = ["--start", "2099-11-28 09:00", "--now", "2099-11-28 10:00"]
    assert main(["timetable", *files, *start, "--done", "2=2099-11-28 09:40"]) == 2
    assert said in capsys.readouterr().err


def test_without_a_start_it_goes_on_from_now_in_the_hours_of_the_day(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["timetable", ONION, "--done", "2=10:40", "--now", "2099-11-28 10:45"]) == 0
    said = capsys.readouterr().out
    assert "Planned again from 10:45 on Saturday 28 November" in said
    assert "Saturday 28 November, open 09:00 to 18:00" in said and "  10:45    3  Simmer" in said


def test_a_point_of_a_drawing_is_whole_dots() -> None:
    """Else a row of dots is lost, through the letters that lie on it (72 points are an inch)."""
    assert _DOTS % 72 == _DOTS_OF_MANY % 72 == 0


def test_somebody_is_busy_where_hands_are_on_something_all_the_time() -> None:
    """Else no cooling is said to go on for longer since somebody has other things to do."""
    made = made_again("first-onion-skins", at(9))
    first, *_, last = made.hands_on
    assert _is_busy(made, first.start, first.end)
    gaps = [(one.end, two.start) for one, two in pairwise(made.hands_on) if one.end < two.start]
    assert gaps and not _is_busy(made, first.start, last.end)
    assert not _is_busy(made, gaps[0][0], gaps[0][1])
