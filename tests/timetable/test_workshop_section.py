"""What a workshop file states of hours, people and room, and what is wrong with it."""

from __future__ import annotations

import re
import shutil
from datetime import time
from pathlib import Path

import pytest

import procedure
from procedure.collection.nearest import workshop_of
from procedure.collection.opening import line_of, people_of
from procedure.collection.opening_hours import BadHours
from procedure.command.main import main

EXAMPLE = Path(__file__).parents[2] / "examples" / "madder-red-wool.dye"
STATED = """[workshop]
hours = "10 to 16"
days = "sat-tue"
people = ["Ada", "Bo"]
rings = 2
power = "3 kW"
line = "2 kg"
zone = "Europe/London"
pots = { alum-pot = 2 }
sinks = 1
"""


def in_workshop(folder: Path, text: str) -> Path:
    """The example in a collection of its own with that workshop file."""
    (folder / "vatwright.toml").write_text(text, encoding="utf-8")
    return Path(shutil.copy(EXAMPLE, folder))


def test_all_that_can_be_stated_is_read(tmp_path: Path) -> None:
    made = workshop_of(in_workshop(tmp_path, STATED))
    assert made is not None and made.faults == ()
    opened = made.opening
    assert opened.hours is not None
    assert opened.hours.times == ((time(10), time(16)),)
    assert opened.hours.weekdays == {5, 6, 0, 1}
    assert opened[1:] == (
        *("10 to 16, sat-tue", ("Ada", "Bo"), 2, 3000, 2000, "Europe/London"),
        *((("alum-pot", 2),), 1),
    )


@pytest.mark.parametrize(
    "names", ["A, B", "An, Bo", "Penny Few", "A1, A2", "Éva", "Ann o' the Hill"]
)
def test_a_name_may_be_a_letter_or_a_word_beside_a_number(names: str) -> None:
    assert people_of(names) == tuple(names.split(", "))


@pytest.mark.parametrize(
    "said",
    ["a few", "A Couple", "two", "two or three", "as, 2", "no hands", "at least 2", "the two"],
)
def test_words_that_say_how_many_are_nobody_s_name(said: str) -> None:
    with pytest.raises(BadHours, match="is no number of people, nor their names"):
        people_of(said)


@pytest.mark.parametrize(
    ("said", "grams"),
    [("1/2 lb", 227), ("1 1/2 lb", 680), ("2 kg", 2000), (".5 kg", 500), ("1.5 lb", 680)],
)
def test_the_drying_line_takes_fractions_as_a_procedure_does(said: str, grams: int) -> None:
    assert line_of(said) == grams


@pytest.mark.parametrize("said", ["1/0 lb", "1/2", "lb", "1/2/3 lb", "0/3 kg"])
def test_what_is_no_weight_of_the_drying_line_is_told_in_a_sentence(said: str) -> None:
    with pytest.raises(BadHours, match=re.escape(f"“{said}”")):
        line_of(said)


def test_nothing_is_stated_where_the_section_is_missing(tmp_path: Path) -> None:
    made = workshop_of(in_workshop(tmp_path, ""))
    assert made is not None and made.opening.hours is None and made.opening.people == ()


@pytest.mark.parametrize(
    ("line", "sentence"),
    [
        ('hours = "9-9"', "closes as it opens"),
        ('hours = "always"', "does not say from when to when"),
        ("hours = 9", "is not text"),
        ('days = "someday"', "is no day"),
        ('days = "2020-01-01"', "never open"),
        ('days = ""', "No days are given"),
        ("people = 0", "Somebody has to do it"),
        ("people = true", "no number of people"),
        ("rings = 0", "no number of rings"),
        ("pots = { kettle = 0 }", "Of “kettle” there can be from 1 to 50"),
        ('pots = "kettle"', "Of “kettle” there can be"),
        ("pots = 2", "does not say how many there are of which pot"),
        ("sinks = 0", "no number of sinks"),
        ('power = "3 kg"', "no power that I can read"),
        ("line = 2", "no mass that I can read"),
        ('line = "0 kg"', "nothing at all"),
        ('zone = "Nowhere"', "no time zone"),
        ('hour = "9-18"', "means nothing here"),
    ],
)
def test_what_cannot_be_followed_is_a_finding_at_its_line(
    line: str, sentence: str, tmp_path: Path
) -> None:
    plan = procedure.load(in_workshop(tmp_path, f"[workshop]\n{line}\n"))
    found = [each for each in plan.findings if each.rule == "faulty-workshop-file"]
    assert len(found) == 1
    assert found[0].line == 2
    assert sentence in str(found[0].sentence)


def test_the_timetable_goes_by_the_workshop_and_the_command_has_the_last_word(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = str(in_workshop(tmp_path, STATED))
    # 28 November 2099 is a Saturday.
    assert main(["timetable", file, "--start", "2099-11-28 09:00"]) == 0
    said = capsys.readouterr().out
    assert "Saturday 28 November, open 10:00 to 16:00" in said
    assert "Ada" in said
    start = ["--start", "2099-11-28 09:00"]
    assert main(["timetable", file, *start, "--hours", "8-18", "--hands", "Cy"]) == 0
    said = capsys.readouterr().out
    assert "Saturday 28 November, open 09:00 to 18:00" in said and "Ada" not in said
    # On Saturdays alone there is no night at all, for the alum bath first.
    assert main(["timetable", file, *start, "--days", "sat"]) == 1
    refused = capsys.readouterr().err
    assert "“cool alum-bath overnight” goes on overnight, from the evening" in refused
    assert "the place is open 10 to 16, sat." in refused


def test_days_of_the_week_and_dates_are_both_days_of_the_workshop(tmp_path: Path) -> None:
    text = '[workshop]\ndays = "sat, sun, 2099-11-30"\n'  # a Monday
    file = in_workshop(tmp_path, text)
    made = workshop_of(file)
    assert made is not None and made.faults == () and made.opening.hours is not None
    assert made.opening.hours.weekdays == {5, 6} and len(made.opening.hours.dates) == 1
    assert "no-such-night" not in {each.rule for each in procedure.load(file).findings}
    passed = '[workshop]\ndays = "sat, sun, 2000-11-27"\n'
    (tmp_path / "vatwright.toml").write_text(passed, encoding="utf-8")
    made = workshop_of(file)
    assert made is not None and made.faults == ()


def test_a_date_beside_days_of_the_week_may_make_the_night_that_is_wanted(tmp_path: Path) -> None:
    for days, noted in (("sat", True), ("sat, 2099-11-25", True), ("sat, 2099-11-29", False)):
        (tmp_path / "vatwright.toml").write_text(f'[workshop]\ndays = "{days}"\n', encoding="utf-8")
        shutil.copy(EXAMPLE, tmp_path)
        found = {each.rule for each in procedure.load(tmp_path / EXAMPLE.name).findings}
        assert ("no-such-night" in found) is noted, days


def test_papers_are_planned_for_the_days_and_dates_that_are_stated(tmp_path: Path) -> None:
    from procedure.timetable.taking import Taking, time_taken

    found = {}
    for days in ("sat, sun", "sat, sun, 2099-11-30", "2099-11-28, 2099-11-29, 2099-11-30"):
        taken = time_taken(procedure.load(in_workshop(tmp_path, f'[workshop]\ndays = "{days}"\n')))
        assert isinstance(taken, Taking) and taken.refused == "", taken
        found[days] = taken.calendar_days
    assert found["sat, sun, 2099-11-30"] == found["2099-11-28, 2099-11-29, 2099-11-30"] == 4
    assert found["sat, sun"] == 10  # another weekend
