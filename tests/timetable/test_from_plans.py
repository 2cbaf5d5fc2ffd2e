"""Examples and plans as work: each timetable is sound, and the command says what it must."""

from __future__ import annotations

import json
import os
import re
import shutil
from datetime import datetime
from itertools import pairwise
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from verifying import to_be_told, wrongs
from verifying_plans import wrongs_of_plan

import procedure
from procedure.collection.opening_hours import Hours
from procedure.command.main import main
from procedure.handout.contents import telling_of
from procedure.handout.numbered_steps import tell
from procedure.paper.measures import Voice
from procedure.rules.example_kit import whole
from procedure.timetable import NoPlan, Timetable, Work, eased, fitted, plan
from procedure.timetable.done_steps import NoSuchStep
from procedure.timetable.from_plans import work_of
from procedure.timetable.slow_coolings import slower
from procedure.timetable.terms import Asked, Happened
from procedure.timetable.work import Attendance

EXAMPLES = Path(__file__).parents[2] / "examples"
ONES = sorted((*EXAMPLES.glob("*.dye"), *EXAMPLES.glob("standard/*.dye")))
PLANS = sorted(EXAMPLES.glob("plans/*.dye"))
BEGINS = datetime(2099, 11, 28, 9, tzinfo=ZoneInfo("Europe/London"))
TANSY = str(EXAMPLES / "tansy-gold-and-moss.dye")
START = ["--start", "2099-11-28 09:00"]
BEGUN = ["--start", "2020-11-28 09:00"]
"""What is done is over: it was begun on a day that has been."""


def work(*files: Path, hours: Hours | None = None) -> Work:
    asked = Asked(BEGINS, hours or Hours(), "9:00-18:00")
    return work_of([procedure.load(file) for file in files], asked).work


def planned(wanted: Work) -> Timetable:
    made = plan(wanted)
    if isinstance(made, NoPlan):
        wanted = eased(wanted)
        made = plan(wanted)
    assert isinstance(made, Timetable)
    assert wrongs(wanted, {each.key: (each.start, each.end) for each in made.placed}) == []
    return made


def planned_as_written(file: Path) -> Timetable:
    """The plan that the command gives, held against its work and against the text."""
    wanted = work(file)
    found = fitted(wanted)
    made = found.made
    assert isinstance(made, Timetable)
    slow = [a.key for a in made.work.activities if a.lasting.most == a.lasting.slowest > 0]
    wanted = slower(wanted, slow)
    times = {each.key: (each.start, each.end) for each in made.placed}
    told = {(lag.before, lag.after) for lag in found.waits}
    assert told == to_be_told(wanted, times)
    if not found.shortened and not found.left:
        own = {each.key for each in wanted.activities}
        assert wrongs(wanted, {key: each for key, each in times.items() if key in own}, told) == []
        assert wrongs(made.work, times, told) == []
    assert wrongs_of_plan(procedure.load(file), made.work, times, bool(found.left)) == []
    return made


@pytest.mark.parametrize("file", ONES, ids=lambda file: file.stem)
def test_an_example_has_a_sound_timetable_proven_shortest(file: Path) -> None:
    assert planned_as_written(file).shortest


@pytest.mark.slow
@pytest.mark.parametrize("file", PLANS, ids=lambda file: file.stem)
def test_a_plan_has_a_sound_timetable_near_the_shortest(file: Path) -> None:
    made = planned_as_written(file)
    # Above a hundred steps a bound is sought for a moment only, so that nobody waits.
    assert made.within <= (0.05 if len(made.work.activities) <= 100 else 0.3)


def test_the_tansy_plan_is_done_as_a_dyer_would() -> None:
    made = planned(work(EXAMPLES / "tansy-gold-and-moss.dye"))
    known = made.work.activity
    # Two baths cool overnight: three days; the skeins dry for a night more.
    assert made.days == 3
    assert [each.key for each in made.work.activities if each.overnight] == ["line 39", "line 52"]
    # The three dips, and the one that may be wanted, each aired at once.
    dips = [each for each in made.placed if known[each.key].name == "dip moss in vat"]
    airs = [each for each in made.placed if known[each.key].name == "air moss"]
    assert len(dips) == len(airs) == 4
    ordered = sorted((*dips, *airs), key=lambda each: each.start)
    assert [each.key in {dip.key for dip in dips} for each in ordered] == [True, False] * 4
    # Nothing that is on the heat is left alone at night.
    for each in made.work.activities:
        if any(need.resource == "rings" for need in each.needs):
            assert each.attendance is not Attendance.NONE and not each.night, each.name


def test_lots_that_air_side_by_side_take_the_time_of_one(tmp_path: Path) -> None:
    steps = (
        "wet out yarn, silk in tub with water 5 L for 30 min\n"
        "air yarn for 30 min\nair silk for 30 min\n"
    )
    file = tmp_path / "airs.dye"
    file.write_text(whole(steps), encoding="utf-8")
    made = planned(work(file))
    known = made.work.activity
    yarn, silk = (
        next(each for each in made.placed if known[each.key].name == name)
        for name in ("air yarn", "air silk")
    )
    # One is hung up after the other, and then both hang at once: not an hour, but half of one.
    assert silk.start < yarn.end and yarn.start < silk.end
    one = yarn.end - yarn.start
    assert max(yarn.end, silk.end) - min(yarn.start, silk.start) < 1.25 * one


@pytest.mark.parametrize("name", ["gall-grey-linen", "cotton-weld-tannin-and-alum"])
def test_a_plate_that_keeps_a_mild_bath_warm_is_looked_at_and_off_at_night(name: str) -> None:
    wanted = work(EXAMPLES / f"{name}.dye")
    kept_warm = [
        each
        for each in wanted.activities
        if each.name.startswith("mordant") and any(need.resource == "rings" for need in each.needs)
    ]
    assert kept_warm
    for each in kept_warm:
        assert each.attendance is Attendance.NOW_AND_THEN
        assert each.in_hours


def test_two_procedures_share_one_kettle_of_one_name() -> None:
    both = work(EXAMPLES / "tansy-gold-and-moss.dye", EXAMPLES / "madder-red-wool.dye")
    alone = [work(EXAMPLES / "tansy-gold-and-moss.dye"), work(EXAMPLES / "madder-red-wool.dye")]
    assert len(both.activities) == sum(len(each.activities) for each in alone)
    assert len(both.resources) < sum(len(each.resources) for each in alone)


def test_a_pot_is_its_bath_s_until_it_is_clean_though_another_procedure_wants_it() -> None:
    made = planned(work(EXAMPLES / "weld-yellow-wool.dye", EXAMPLES / "walnut-brown-wool.dye"))
    held = {hold.first: hold.last for hold in made.work.holds}
    assert held["1: alum-bath"] == "1: line 35"  # clean pot
    assert held["1: weld-bath"] == "1: line 50"  # clean pot, tub, bag
    in_pot = [made.at[key] for key in ("1: alum-bath", "1: weld-bath", "2: brown-bath")]
    in_turn = sorted(in_pot, key=lambda filled: filled.start)
    for one, two in pairwise(in_turn):
        assert made.at[held[one.key]].end <= two.start


def test_a_vat_that_is_to_be_cold_is_not_poured_away_hot() -> None:
    made = work(EXAMPLES / "tansy-gold-and-moss.dye")
    known = made.activity
    assert known["line 68"].name == "discard vat"
    cooling = [lag for lag in made.lags if lag.after == "line 68" and lag.least]
    assert len(cooling) == 1 and 3 * 60 <= cooling[0].least <= 24 * 60
    assert known[cooling[0].before].name.startswith("dip moss")
    assert not known["line 68"].cautions
    assert not known["line 41"].cautions  # discard alum-bath, which has cooled overnight


def test_the_command_prints_a_plan_and_what_was_supposed(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["timetable", TANSY, *START]) == 0
    said = capsys.readouterr().out
    assert said.startswith("Tansy gold and moss green\n")
    assert "No plan with steps and waits as long as here is shorter" in said
    assert "planned as if “the green is too yellow”; it may be left out." in said


def test_the_command_writes_each_form(tmp_path: Path) -> None:
    for form, first in (
        ("ics", b"BEGIN:VCALENDAR"),
        ("csv", b"number,"),
        ("svg", b"<svg "),
        ("json", b"{"),
        ("pdf", b"%PDF"),
        ("png", b"\x89PNG"),
    ):
        out = tmp_path / f"when.{form}"
        assert main(["timetable", TANSY, *START, "--zone", "Europe/London", "-o", str(out)]) == 0
        assert out.read_bytes().startswith(first)
    assert json.loads((tmp_path / "when.json").read_text(encoding="utf-8"))["possible"]


def test_steps_have_the_numbers_of_the_handout_and_their_amounts(
    capsys: pytest.CaptureFixture[str],
) -> None:
    weld = str(EXAMPLES / "weld-yellow-wool.dye")
    told = tell(telling_of(procedure.load(TANSY), Voice("metric")))
    lines = {each.number: each.line for step in told for each in step.every() if each.number}
    assert main(["timetable", TANSY, *START, "--format", "json"]) == 0
    steps = json.loads(capsys.readouterr().out)["steps"]
    assert all(lines[each["printed_number"]] == each["line"] for each in steps)
    amounts = {each["printed_number"]: each["amounts"] for each in steps}
    # Of 240 g of yarn.
    assert amounts["2"] == [
        "water 7.2 L (30 : 1 of yarn)",
        "alum 28.8 g (12 % of yarn)",
        "tartar 14.4 g (6 % of yarn)",
    ]
    assert main(["timetable", TANSY, weld, *START, "--format", "ics"]) == 0
    said = capsys.readouterr().out.replace("\r\n ", "")
    assert "Step A2 of Tansy gold and moss green." in said and "Step B1 of " in said
    assert "Amounts: " in said and ".dye" not in said


def test_what_is_done_is_kept_and_the_rest_planned_again(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["timetable", TANSY, *BEGUN, "--done", "soak=10:40", "--format", "json"]) == 0
    steps = {each["key"]: each for each in json.loads(capsys.readouterr().out)["steps"]}
    assert steps["soak"]["ends"].endswith("T10:40") and steps["soak"]["done"]
    assert steps["line 38"]["starts"] >= steps["soak"]["ends"]


def test_the_rest_begins_no_sooner_than_now(capsys: pytest.CaptureFixture[str]) -> None:
    """What was over at 10:40 is told at 11:13: nothing can begin at 10:40 any more."""
    done = ["--done", "soak=10:40", "--format", "json"]
    assert main(["timetable", TANSY, *BEGUN, *done, "--now", "2020-11-28 11:13"]) == 0
    found = json.loads(capsys.readouterr().out)
    rest = [each["starts"] for each in found["steps"] if not each["done"]]
    assert min(rest) >= "2020-11-28T11:15"
    assert any("Planned again from 11:15 on Saturday 28 November" in n for n in found["notes"])


def test_now_is_the_clock_of_the_machine_where_nothing_is_said(
    capsys: pytest.CaptureFixture[str],
) -> None:
    before = datetime.now()
    assert main(["timetable", TANSY, *BEGUN, "--done", "soak=10:40", "--format", "json"]) == 0
    steps = json.loads(capsys.readouterr().out)["steps"]
    rest = [datetime.fromisoformat(each["starts"]) for each in steps if not each["done"]]
    assert min(rest) >= before


def test_what_is_over_takes_no_hands_and_no_time_any_more(
    capsys: pytest.CaptureFixture[str],
) -> None:
    now = ["--now", "2020-11-28 11:15"]
    assert main(["timetable", TANSY, *BEGUN, "--done", "soak=10:40", *now]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert "someone is there on 3 days, with 6 h 5 min still to do." in said
    assert "Free from 11:15 to " in said and "Free from 09" not in said.split("Sunday")[0]


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ("soak=10:40", "1  Done by 10:40: wet out yarn in tub."),
        ("35=10:40", "1  Done by 10:40: wet out yarn in tub."),  # the line of “soak”
        ("line 36=10:40", "2  Done by 10:40: prepare alum-bath in kettle."),
        ("1=10:40", "1  Done by 10:40: wet out yarn in tub."),  # its printed number
        ("step 2=10:40", "2  Done by 10:40: prepare alum-bath in kettle."),
        ("soak=08:00", "1  Done by 08:00: wet out yarn in tub."),
        ("soak=2020-11-27 17:00", "1  Done by 17:00 on Friday"),
    ],
)
def test_what_is_done_is_said_to_be_done_and_is_not_asked_for_again(
    said: str, told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["timetable", TANSY, *BEGUN, "--done", said]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert sum(line.strip().startswith(told) for line in lines) == 1
    assert not any("Done by" in line and line[2:7].strip() for line in lines)


@pytest.mark.parametrize(
    ("given", "status", "sentence"),
    [
        (["--start", "2020-11-28 09:00"], 2, "has passed"),
        (["--start", "9999-12-31 09:00"], 2, "is not in our time"),
        ([*START, "--finish-by", "0001-01-01 09:00"], 2, "is not in our time"),
        ([*START, "--days", ""], 2, "No days are given"),
        ([*START, "--hours", "0"], 2, "from when to when"),
        ([*START, "--hours", "9-9"], 2, "closes as it opens"),
        ([*START, "--days", "2020-01-01"], 2, "never open"),
        ([*START, "--hands", "0"], 2, "Somebody has to do it"),
        ([*START, "--hands", "1.5"], 2, "is no number of people"),
        ([*START, "--hands", ""], 2, "is no number of people"),
        ([*START, "--hands", "2 to 3"], 2, "is no number of people"),
        ([*START, "--hands", "a few"], 2, "is no number of people"),
        ([*START, "--participants", "1, 2"], 2, "is no number of people"),
        ([*START, "--rings", "0"], 2, "nothing can be heated"),
        ([*START, "--rings", "1.5"], 2, "1.5"),
        ([*START, "--sinks", "a few"], 2, "a few"),
        ([*START, "--zone", "Nowhere"], 2, "no time zone"),
        ([*START, "--finish-by", "2099-11-27 09:00"], 2, "finished before it begins"),
        ([*START, "--finish-by", "2099-11-28 18:00"], 1, "It cannot be over by 18:00"),
        ([*BEGUN, "--done", "nothing=10:40"], 2, "No step is called “nothing”"),
        ([*BEGUN, "--done", "soak"], 2, "which step and when"),
        ([*BEGUN, "--done", "soak="], 2, "which step and when"),
        ([*BEGUN, "--done", "soak=2020-11-28"], 2, "which step and when"),
        ([*BEGUN, "--done", "soak=10:40", "--done", "soak=10:50"], 2, "over at two times"),
        ([*BEGUN, "--done", "99=10:40"], 2, "No step is called “99”"),
        ([*START, "-o", "when.doc"], 2, "does not say what to write"),
        ([*START, "--done", "soak=2099-11-28 10:40"], 2, "that time is still to come"),
        ([*START, "--now", "14:00"], 2, "With --now say what is --done"),
        ([*BEGUN, "--done", "soak=10:40", "--now", "noon"], 2, "is no time of the day"),
        ([*BEGUN, "--done", "soak=10:40", "--now", "2020-11-28 10:00"], 2, "still to come"),
        ([*START, "--pots", ""], 2, "Say of which pot there are several"),
        ([*START, "--who", " "], 2, "Say whose work is asked for"),
        ([*START, "-o", ""], 2, "Say where to write it"),
        ([*START, "--format", "ics", "--who", "Zoe"], 2, "Nobody in this plan is called Zoe"),
    ],
)
def test_what_makes_no_sense_is_refused_in_a_sentence(
    given: list[str], status: int, sentence: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["timetable", TANSY, *given]) == status
    assert sentence in capsys.readouterr().err


@pytest.mark.parametrize(
    ("name", "step", "told"),
    [
        ("plans/six-lots-three-baths", "39", "“39” is a procedure of several steps"),
        ("plans/workshop-day", "17", "say which: “17 elder” (rinse elder in tub)"),
        ("shade-card-madder", "30", "step 30 (discard iron-bath) or line 30 (wet out yarn in tub)"),
        ("plans/workshop-day", "line 52#2", ""),
        ("plans/workshop-day", "2.1", ""),
    ],
)
def test_a_number_that_may_be_several_steps_is_not_guessed(name: str, step: str, told: str) -> None:
    asked = Asked(BEGINS, Hours(), happened=(Happened(step, BEGINS.replace(hour=10)),))
    read = procedure.load(EXAMPLES / f"{name}.dye")
    if not told:
        made = work_of([read], asked).work
        assert step in {made.done[0].key, made.activity[made.done[0].key].printed}
        return
    with pytest.raises(NoSuchStep, match=re.escape(told)):
        work_of([read], asked)


def test_a_verb_that_says_it_by_itself_is_told_as_it_is_written() -> None:
    plan = procedure.read(
        "fibre\n  yarn: wool yarn, 100 g, scoured\n"
        "equipment\n  pot: stainless steel pot, 8 L, lidded, for dyeing only\n"
        "materials\n  iron: ferrous sulfate\n"
        "steps\n  wet out yarn in pot with water 5 L for 1 h\n"
        "  iron-bath: prepare in pot with water 5 L, iron 2 g\n"
        "  sadden yarn in iron-bath for 5 min\n",
        "sad.dye",
    )
    names = [each.name for each in work_of([plan], Asked(BEGINS, Hours())).work.activities]
    assert "sadden yarn in iron-bath" in names and "prepare iron-bath in pot" in names


def test_files_are_told_as_the_first_is_given(tmp_path: Path) -> None:
    """What a plan follows is named by the folder in which the plan was named."""
    shutil.copytree(EXAMPLES, tmp_path / "examples")
    plan = tmp_path / "examples" / "plans" / "shade-card-24.dye"
    for given, folder in ((plan, str(tmp_path)), (Path(os.path.relpath(plan)), "")):
        work = work_of([procedure.load(given)], Asked(BEGINS, Hours())).work
        files = {each.place.file for each in work.activities}
        assert len(files) > 1 and all(Path(each).is_absolute() is bool(folder) for each in files)
        assert {Path(each).resolve() for each in files} <= {*tmp_path.rglob("*.dye")}
