"""What stands at a heat for days: somebody sees to it each day, and every paper says so."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from ical.calendar_stream import IcsCalendarStream

import procedure
from procedure.collection.opening_hours import Hours, days_of
from procedure.command.main import main
from procedure.timetable import Agenda, Timetable, agenda, fitted
from procedure.timetable.days_in_words import day_in_words
from procedure.timetable.drawing import draw
from procedure.timetable.from_plans import work_of
from procedure.timetable.icalendar_file import calendar
from procedure.timetable.seen_daily import closed_days, looks_on_closed_days
from procedure.timetable.taking import DayTaken, LeftGoing, Taking
from procedure.timetable.terms import Asked
from procedure.timetable.work import SEE_TO_ITS_HEAT

VAT = Path(__file__).parents[2] / "examples" / "indigo-madder-bran-vat.dye"
SATURDAY = datetime(2099, 11, 28, 9)


def facts(days: str = "daily", hands: tuple[str, ...] = ("you",)) -> Agenda:
    asked = Asked(SATURDAY, Hours(Hours().times, *days_of(days)), days, hands=hands)
    made = fitted(work_of([procedure.load(VAT)], asked).work, reasons=False).made
    assert isinstance(made, Timetable)
    return agenda(made)


@pytest.fixture(scope="module")
def every_day() -> Agenda:
    return facts()


def test_each_look_is_an_event_with_an_alarm(every_day: Agenda) -> None:
    for who in ("", "you"):
        written = calendar(every_day, datetime.now().astimezone(), who)
        events = IcsCalendarStream.calendar_from_ics(written.decode()).events
        looks = [each for each in events if (each.summary or "").startswith("See to “stand vat”")]
        assert len(looks) == len(every_day.made.seen_to) == 7
        assert all(each.alarm and len(each.alarm) == 1 for each in looks)
        assert {each.alarm[0].trigger for each in looks} == {timedelta(minutes=-10)}


def test_the_drawing_says_so_beside_the_step(every_day: Agenda) -> None:
    words = " ".join(part.split("<")[0] for sheet in draw(every_day) for part in sheet.split(">"))
    assert "stand vat; every day: see to it and to its" in words


def test_where_the_place_is_open_each_day_nothing_stands_in_the_way(every_day: Agenda) -> None:
    assert closed_days(every_day.made) == {}
    assert looks_on_closed_days(every_day.made) == []


def test_on_days_when_the_place_is_closed_somebody_must_look_in() -> None:
    made = facts("sat, sun").made
    (days,) = closed_days(made).values()
    assert days == [2, 3, 4, 5, 6]
    (said,) = looks_on_closed_days(made)
    assert (
        "“stand vat” (2) and its heat have to be seen to every day, and the place is closed from "
        "Monday 30 November to Friday 4 December: somebody must look in on these days too" in said
    )


def test_the_command_says_that_too(capsys: pytest.CaptureFixture[str]) -> None:
    asked = ["timetable", str(VAT), "--start", "2099-11-28 09:00", "--days", "sat,sun,mon-thu"]
    assert main(asked) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert "the place is closed on Friday 4 December: somebody must look in on that day too" in said


@pytest.mark.parametrize(
    ("closed", "more"),
    [(False, ""), (True, "; somebody must look in while the place is closed too")],
)
def test_papers_say_it_day_by_day(closed: bool, more: str) -> None:
    left = LeftGoing(0, "goes on", 9, daily=SEE_TO_ITS_HEAT, closed=closed)
    day = DayTaken(1, 540, 720, 60, (0,), (left,))
    taken = Taking(0, 0, 0, (day,), 9, {0: (1, 540)}, "9:00-18:00", 1, True, ())
    assert day_in_words(taken, day, {0: "1"}, {}) == (
        "Day 1, 9:00 to 12:00: step 1; step 1 left going until day 9 "
        f"(each day: see to it and to its heat{more})."
    )


def test_handout_and_bench_sheet_say_it(tmp_path: Path) -> None:
    (tmp_path / VAT.name).write_text(VAT.read_text(encoding="utf-8"), encoding="utf-8")
    (tmp_path / "vatwright.toml").write_text('[workshop]\ndays = "sat, sun"\n', encoding="utf-8")
    for kind in ((), ("--bench",)):
        out = tmp_path / "paper.txt"
        asked = ["handout", str(tmp_path / VAT.name), *kind, "-o", str(out), "--overwrite"]
        assert main(asked) == 0
        said = " ".join(out.read_text(encoding="utf-8").split())
        assert "each day: see to it and to its heat; somebody must look in while the" in said, kind


STIRRED = """procedure "Crottle"
  makes "a brown skein"
fibre
  yarn: wool yarn, 100 g, scoured
equipment
  crock: stoneware jar, 15 L, lidded
materials
  hulls: walnut hulls, dried
steps
  brown: prepare in crock with water 8 L, hulls 200 g at cold
  stand brown for {stands} covered labelled now and then stirring
  {after}
"""


@pytest.mark.parametrize(
    ("after", "words"),
    [
        ("dry yarn", {"stand brown": "stir it"}),
        (
            "steep yarn in brown at cold for 3 d covered now and then",
            {"stand brown": "stir it", "steep yarn in brown": "turn the fibre in it"},
        ),
    ],
)
def test_what_stands_for_days_and_is_stirred_now_and_then_is_visited_each_day(
    after: str, words: dict[str, str]
) -> None:
    text = STIRRED.format(stands="7 d", after=after)
    asked = Asked(SATURDAY, Hours(), "9:00-18:00")
    made = fitted(work_of([procedure.read(text)], asked).work, reasons=False).made
    assert isinstance(made, Timetable)
    daily = {made.work.activity[key].name for key, _ in made.seen_to}
    assert daily == set(words)
    for each in made.work.activities:
        assert each.daily == words.get(each.name, "")
        assert not each.daily or each.daily in " ".join(each.cautions).lower()
    stand = next(each for each in made.work.activities if each.name == "stand brown")
    assert [key for key, _ in made.seen_to].count(stand.key) == 6
    if "steep" in after:
        return  # fibre is not left in it while nobody is there to turn it
    weekends = replace(asked, hours=Hours(Hours().times, *days_of("sat, sun")))
    closed = fitted(work_of([procedure.read(text)], weekends).work, reasons=False).made
    assert "“stand brown” (2) has to be seen to (stir it) every day" in " ".join(
        looks_on_closed_days(closed)
    )
