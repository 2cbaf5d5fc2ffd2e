"""What is nearly a time, a day or a number of people: a sentence, and a remedy that is taken."""

from __future__ import annotations

import re
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from procedure.collection.opening_hours import BadHours
from procedure.command.main import main
from procedure.command.when_asked import _next_five
from procedure.timetable.hours import comes_twice, moment_of

TEXT = """procedure "One lot"
fibre
  hazel: wool yarn, 100 g, scoured
  elder: wool yarn, 100 g, scoured
equipment
  tub: plastic tub, 20 L, for dyeing only
steps
  soak: wet out hazel in tub with water 10 L at 30 °C for 1 h
  dry hazel
  wash elder in tub with water 10 L at 30 °C
  dry elder
"""
START = ("--start", "2099-11-28 09:00")
BEGUN = ("--start", "2020-11-28 09:00")
DONE = ("--done", "soak=10:40")
NOT_UNDERSTOOD = [
    *[("--start", said) for said in (
        "9:3", "2099-11-28 9:3", "2099-11-28 25:00", "2099-02-30 09:00", "28.11.2099 9:00",
        "next saturday", "2099-11-28T", "", "09:00", "2099/11/28 09:00", "2020-11-28 09:00",
        "2099-11-28 13 pm",
    )],
    *[("--now", said) for said in (
        "9:3", "14.3", "24:30", "noon", "2020-11-28 9:3", "2020-11-28", "14:30:", "now", " ", "14h",
        "half past two", "2:30 in the afternoon",
    )],
    *[("--done", said) for said in (
        "soak", "soak=", "=10:40", "soak=9:3", "soak=25:00", "soak 10:40", "soak=2020-11-28",
        "soak=28.11. 10:40", "soak==", "soak=soon", "soak=2999-11-28 10:40", "1=9:3",
        "1=2", "soak=9", "1 =23",
    )],
    *[("--hours", said) for said in (
        "9", "9-", "-18", "9-25", "18-9-12", "9:3-18", "9-9", "nine to five", "9-12,11-18", "",
        "9-18-20", "25-26",
    )],
    *[("--days", said) for said in (
        "", "s", "sat;;sunn", "someday", "2099-13-01", "28.11.", "t", "20", "sat-", "-sun",
        "2099-02-30", "weekday s",
    )],
    *[("--finish-by", said) for said in (
        "9:3", "2099-11-30", "2099-11-30 9:3", "2099-11-28 09:00", "2099-11-27 09:00", "monday",
        "", "18:00", "2099-11-31 18:00", "in two days", "2099-11-30 24:30", "30.11.2099 18:00",
    )],
    *[("--hands", said) for said in (
        "0", "-1", "1.5", "51", "a few", "2 people", "", ",", "Ada,Ada", "two", "1/2", "2 to 3",
    )],
    *[("--participants", said) for said in (
        "0", "-1", "1.5", "51", "a few", "3 people", "", ",", "Elder,Elder", "two", "1, 2", "½",
    )],
]  # fmt: skip


def _given(option: str, said: str) -> list[str]:
    if option in ("--done", "--now"):
        return [*BEGUN, f"{option}={said}", *(DONE if option == "--now" else ())]
    return [*([] if option == "--start" else START), f"{option}={said}"]


@pytest.mark.parametrize(("option", "said"), NOT_UNDERSTOOD)
def test_a_near_miss_is_quoted_and_its_remedy_is_taken(
    option: str, said: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "lot.dye"
    file.write_text(TEXT, encoding="utf-8")
    assert main(["timetable", str(file), *_given(option, said)]) == 2
    told = capsys.readouterr().err
    assert told.count("\n") == 1 and "Traceback" not in told
    remedy = re.search(rf'write {option} (?:"([^"]+)"|(\S+?)), say\.$', told.strip())
    assert remedy is not None, told
    quoted = re.findall(r"“([^”]*)”", told)
    words = said.strip()
    assert not words or any(one and one in said for one in quoted) or option in _WITHOUT, told
    assert all(one in said or one in (remedy[1], "") for one in quoted), told
    again = _given(option, remedy[1] or remedy[2])
    if option == "--done":
        again += ["--now", "2020-11-28 23:00"] if "2999" not in said else []
    assert main(["timetable", str(file), *again]) in (0, 1), told
    assert "write" not in capsys.readouterr().err


def test_of_two_steps_it_is_spoken_only_where_there_are_as_many(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "lot.dye"
    file.write_text(TEXT, encoding="utf-8")
    for said, steps in (("1=3", True), ("3=17", False)):
        assert main(["timetable", str(file), *_given("--done", said)]) == 2
        assert ("two steps" in capsys.readouterr().err) == steps


_WITHOUT = ("--hands", "--participants")
"""Of which the sentence may say what is wrong without the words: nobody is there."""


@pytest.mark.parametrize(
    ("said", "found"),
    [
        ("2099-11-28 09:00", (28, 9, 0)),
        ("2099-11-28T09:00", (28, 9, 0)),
        ("2099-11-28 9:05", (28, 9, 5)),
        ("2099-11-28 9.05", (28, 9, 5)),
        ("2099-11-28 5 pm", (28, 17, 0)),
        ("2099-11-28", (28, 0, 0)),
        ("2099-11-28 09:00:30", (28, 9, 0)),
    ],
)
def test_a_moment_may_be_written_so(said: str, found: tuple[int, int, int]) -> None:
    moment = moment_of(said, datetime(2099, 1, 1))
    assert (moment.day, moment.hour, moment.minute) == found


@pytest.mark.parametrize("said", ["9:05", "9.05", "09:05", "9:05 am", "9h05"])
def test_a_time_alone_is_of_the_day_that_is_meant(said: str) -> None:
    like = datetime(2099, 11, 28, 14)
    assert moment_of(said, like, like.date()) == datetime(2099, 11, 28, 9, 5)
    with pytest.raises(BadHours):
        moment_of(said, like)


LONDON = ZoneInfo("Europe/London")


@pytest.mark.parametrize(
    "said", ["2099-10-25 01:30", "2099-10-25 01:30:20", "2099-10-25T01:30:00", "2099-10-25T01:30"]
)
def test_of_an_hour_that_comes_twice_an_offset_says_which(said: str) -> None:
    """The clocks go back on 25 October 2099 at 2:00 (The Summer Time Order 2002)."""
    like = datetime(2099, 10, 24, 9, tzinfo=LONDON)
    first = moment_of(said, like)
    told = comes_twice(said, first)
    assert first.utcoffset() != moment_of(f"{said}+00:00", like).utcoffset()
    remedy = re.search(r"write (.+)\.$", told)
    assert remedy is not None
    second = moment_of(remedy[1], like)
    assert second.timestamp() - first.timestamp() == 3600
    assert comes_twice(remedy[1], second) == "" == comes_twice("2099-10-26 01:30", like)
    alone = moment_of("01:30+00:00", like, datetime(2099, 10, 25).date())
    assert alone == second.replace(second=0)


def test_the_command_says_which_is_taken(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "lot.dye"
    file.write_text(TEXT, encoding="utf-8")
    zoned = ["timetable", str(file), "--zone", "Europe/London", "--start", "2020-10-24 09:00"]
    done = ["--done", "soak=2020-10-25 01:10+00:00", "--hours", "0-23"]
    assert main([*zoned, *done, "--now", "2020-10-25 01:30"]) == 2
    assert "still to come" in capsys.readouterr().err, "the first half past one is before it"
    assert main([*zoned, *done, "--now", "2020-10-25 01:30+00:00"]) == 0
    assert "comes twice" not in capsys.readouterr().out
    earlier = ["--done", "soak=2020-10-24 10:10", "--hours", "0-23"]
    assert main([*zoned, *earlier, "--now", "2020-10-25 01:30"]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert "“2020-10-25 01:30” comes twice; the first is taken." in said


def test_the_next_five_minutes_are_those_of_the_second_hour() -> None:
    second = datetime(2026, 10, 25, 1, 32, 10, tzinfo=LONDON, fold=1)
    found = _next_five(second)
    assert (found.minute, found.fold) == (35, 1)
    assert 0 < found.timestamp() - second.timestamp() < 300


@pytest.mark.parametrize(
    ("start", "when", "told"),
    [
        ("2099-12-05 09:00", "00:00", True),
        ("2099-12-05 09:00", "2020-12-05 00:00", False),
        ("2020-12-05 09:00", "2020-12-05 10:10", False),
    ],
)
def test_a_time_without_a_day_before_a_start_to_come_is_told_as_of_which_day_it_is(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], start: str, when: str, told: bool
) -> None:
    file = tmp_path / "lot.dye"
    file.write_text(TEXT, encoding="utf-8")
    assert main(["timetable", str(file), "--start", start, "--done", f"soak={when}"]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert ("since --start is still to come" in said) == told
    if told:
        assert f"--done soak={when}" in said and f"“2099-12-05 {when}”" in said
