"""Timetables as a dyer would do them: what may lie, what may not, what comes before what."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime
from itertools import pairwise
from pathlib import Path

import pytest
from verifying import to_be_told, wrongs
from verifying_plans import wrongs_of_plan

import procedure
from procedure.collection.opening_hours import Hours, days_of, times_of
from procedure.command.main import main
from procedure.pipeline import Judged
from procedure.timetable import Fitted, NoPlan, Timetable, agenda, fitted, noted, planning
from procedure.timetable.agenda import Day
from procedure.timetable.by_day import report
from procedure.timetable.from_plans import work_of
from procedure.timetable.planned_words import numbered
from procedure.timetable.refused_words import refusal
from procedure.timetable.relief import Relief
from procedure.timetable.shared_out import elsewhere
from procedure.timetable.terms import Asked
from procedure.timetable.told_first import _all_of, shortened
from procedure.timetable.unsure import cautions_at
from procedure.timetable.work import Attendance

EXAMPLES = Path(__file__).parents[2] / "examples"
SATURDAY = datetime(2099, 11, 28, 9)
HEAD = """procedure "A day at the Fellside Dye Circle"
  by "Fellside Dye Circle"
  place outdoors
  wearing gloves, eye protection
  audience adults

fibre
  yarn: wool yarn, 100 g, scoured

equipment
  pot: stainless steel pot, 10 L, lidded, for dyeing only
  tub: plastic tub, 10 L, for dyeing only
  bag: net bag, for dyeing only
  hob: hotplate, 2 kW

materials
  alum: potassium alum
  copperas: ferrous sulphate
  weld: weld tops, dried
  soap: neutral soap

steps
"""
JAR = HEAD.replace("  tub:", "  jar: stoneware jar, 6 L, lidded, for dyeing only\n  tub:")


def read(steps: str) -> Judged:
    lines = (f"  {line.strip()}" if line[:1] != " " else f"  {line}" for line in steps.splitlines())
    return procedure.read(HEAD + "\n".join(lines) + "\n", "day.dye")


def found(
    plan: Judged, days: str = "", hours: str = "9:00-18:00", begins: datetime = SATURDAY,
    finish_by: datetime | None = None,
) -> Fitted:  # fmt: skip
    opening = Hours(times_of(hours), *(days_of(days) if days else ()))
    asked = Asked(begins, opening, f"{hours}, {days}".strip(", "), finish_by)
    work = work_of([plan], asked).work
    made = fitted(work)
    if isinstance(made.made, Timetable):
        assert wrongs(made.made.work, times_in(made.made)) == []
        told = {(lag.before, lag.after) for lag in made.waits}
        assert told == to_be_told(work, times_in(made.made))
    return made


def times_in(made: Timetable) -> dict[str, tuple[int, int]]:
    """When each step goes on, as the verifiers want it."""
    return {each.key: (each.start, each.end) for each in made.placed}


def planned(plan: Judged, **asked: str) -> Timetable:
    made = found(plan, **asked).made  # type: ignore[arg-type]
    assert isinstance(made, Timetable), refusal(made)
    assert wrongs_of_plan(plan, made.work, times_in(made)) == []
    return made


def span(made: Timetable, name: str) -> tuple[int, int]:
    """From when to when the one step of this name goes on."""
    keys = [each.key for each in made.work.activities if each.name.startswith(name)]
    assert len(keys) == 1, (name, [each.name for each in made.work.activities])
    return made.at[keys[0]].start, made.at[keys[0]].end


# ------------------------------------------------------------------ fibre in its bath


@pytest.mark.parametrize("days", ["", "sat, sun", "mon, wed"])
@pytest.mark.parametrize("example", ["raven-grey", "goldenrod-and-olive", "catechu-brown"])
def test_wool_is_out_of_the_iron_before_anybody_goes_home(example: str, days: str) -> None:
    plan = procedure.load(EXAMPLES / f"{example}.dye")
    result = found(plan, days=days)
    made = result.made
    if isinstance(made, NoPlan):
        assert "overnight" in refusal(made)  # mon, wed: there is no night of 16 hours
        return
    # What else may lie in its bath over a night is told.
    assert wrongs_of_plan(plan, made.work, times_in(made), loose=bool(result.left)) == []


IRON = """b: prepare in pot with water 4 L, copperas 4 g at 40 °C
modify yarn in b at 40 °C for 10 min
lift yarn from b
rest yarn for 5 h
rinse yarn in tub with water 4 L at 30 °C
dry yarn
discard b to "foul drain"
"""


def test_wool_with_iron_in_it_is_rinsed_the_same_day_though_the_week_is_closed() -> None:
    plan = read(IRON)
    made = found(plan, days="sat, sun", begins=datetime(2099, 11, 29, 13)).made
    assert isinstance(made, Timetable)
    assert span(made, "rinse yarn")[0] - span(made, "modify yarn")[1] <= 24 * 60
    assert wrongs_of_plan(plan, made.work, times_in(made)) == []


NIGHT = """b: prepare in pot with water 4 L, alum 12 g at 40 °C
wet out yarn in tub with water 4 L at 30 °C for 1 h
mordant yarn in b at 40 °C overnight
rinse yarn in tub with water 4 L at 30 °C
dry yarn
discard b to "foul drain"
"""


def test_overnight_is_from_the_evening_to_the_morning() -> None:
    start, end = span(planned(read(NIGHT)), "mordant yarn")
    assert 15 * 60 <= end - start <= 17 * 60
    assert start >= 7 * 60 and end >= 24 * 60  # from four o'clock to nine, or a little later


@pytest.mark.parametrize(
    ("hours", "closed"),
    [("10:00-16:00", 18), ("9-13,14-19", 14), ("8:00-20:00", 12), ("12-13", 23)],
)
def test_overnight_is_as_long_as_the_night_of_these_hours(hours: str, closed: int) -> None:
    """From the last two hours of a day to the first of the next, and nothing is a fault."""
    plan = read(NIGHT)
    result = found(plan, hours=hours, begins=datetime(2099, 11, 28, 10))
    start, end = span(planned(plan, hours=hours), "mordant yarn")
    assert closed * 60 <= end - start <= max(16, closed + 2) * 60
    may_be = ("Goes on for longer", "“Overnight” is until")
    told = [each for each in shortened(result) if each.startswith(may_be)]
    assert result.left == () and shortened(result) == told
    assert bool(told) == (closed > 17), "that a night is 8 to 16 hours is what is written"


def test_a_night_that_is_too_long_for_what_spoils_fibre_is_refused() -> None:
    iron = read(NIGHT.replace("alum 12 g", "copperas 2 g"))
    made = found(iron, hours="10:00-16:00", begins=datetime(2099, 11, 28, 10)).made
    assert isinstance(made, NoPlan)
    said = "goes on overnight, from the evening to the morning, for 16\u202fh at the most"
    assert said in refusal(made)


def test_fibre_wetted_for_a_bath_lies_in_its_water_until_then() -> None:
    made = planned(read(NIGHT))
    assert span(made, "mordant yarn")[0] - span(made, "wet out yarn")[1] <= 30


def test_clean_fibre_is_hung_up_the_same_day() -> None:
    for name in ("workshop-day", "goldenrod-and-olive"):
        file = next(EXAMPLES.rglob(f"{name}.dye"))
        made = found(procedure.load(file)).made
        assert isinstance(made, Timetable)
        for lag in made.work.lags:
            if made.work.activity[lag.after].name.startswith("dry "):
                before = made.work.activity[lag.before].name
                if before.startswith(("rinse", "wash")):
                    assert made.at[lag.after].start - made.at[lag.before].end <= 120


def test_what_is_lifted_out_rests_from_then_on_and_begins_by_day() -> None:
    made = planned(procedure.load(EXAMPLES / "raven-grey.dye"))
    known = made.work.activity
    rests = [each for each in made.placed if known[each.key].name.startswith("rest ")]
    lifts = {each.end for each in made.placed if known[each.key].name.startswith("lift ")}
    assert len(rests) == 2 and all(each.start in lifts for each in rests)
    # “until it is as cool as the hand”: that is no matter of hours.
    assert all(each.end - each.start <= 45 for each in rests)


# ------------------------------------------------------------------ the order of the text


def test_a_bag_is_filled_before_it_is_lowered_and_emptied_after_it_is_out() -> None:
    made = planned(procedure.load(EXAMPLES / "tansy-on-two-mordants.dye"))
    steps = ("chop tansy", "fill bag", "lower bag into tansy-bath", "take out bag", "empty bag")
    starts = [
        min(made.at[a.key].start for a in made.work.activities if a.name.startswith(step))
        for step in steps
    ]
    assert starts == sorted(starts)


def test_steps_in_free_words_stay_where_they_are_written() -> None:
    steps = """b: prepare in pot with water 4 L, weld 50 g
heat b to 80 °C over 45 min
hold b at 80 °C for 45 min
do "put the lid on the jar and shake it"
do "read the label aloud"
cool b to 40 °C
do "write down the colour of b"
discard b to "foul drain"
clean pot
"""
    made = planned(read(steps))
    names = [each.name for each in sorted(made.work.activities, key=lambda a: made.at[a.key].start)]
    assert names == [each.name for each in made.work.activities]
    assert span(made, "put the lid")[0] >= span(made, "hold b")[1]
    assert span(made, "write down")[0] >= span(made, "cool b")[1]


def test_steps_are_begun_as_they_are_written_where_nothing_is_lost() -> None:
    made = planned(procedure.load(EXAMPLES / "weld-yellow-wool.dye"))
    starts = [made.at[each.key].start for each in made.work.activities]
    assert starts == sorted(starts)


# ------------------------------------------------------------------ names, rounds, plates


def test_a_part_of_a_bath_is_told_as_a_part() -> None:
    made = planned(procedure.load(EXAMPLES / "jade-green.dye"))
    said = report(agenda(made))
    assert "Discard 1/4 of jade-bath" in said
    assert said.count("Discard jade-bath") == 1  # the rest of it, at the end


@pytest.mark.parametrize(("rounds", "hours"), [(13, 2.2), (50, 8.3), (500, 83.3)])
def test_every_round_of_a_repeat_counts(rounds: int, hours: float) -> None:
    steps = f"""b: prepare in pot with water 4 L, weld 50 g
repeat {rounds} times
  dip yarn in b at 20 °C for 5 min
  air yarn for 5 min
discard b to "foul drain"
"""
    result = found(read(steps))
    made = result.made
    assert isinstance(made, Timetable)
    pieces = [each for each in made.work.activities if each.name.startswith("dip yarn")]
    took = sum(made.at[each.key].end - made.at[each.key].start for each in pieces)
    assert took == pytest.approx(hours * 60, abs=len(pieces) + 2)
    assert pieces[-1].name.endswith(f"to {rounds} of {rounds}")
    assert all(each.attendance is Attendance.WHOLE for each in pieces)


def test_too_many_rounds_are_refused_in_a_sentence(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    steps = "  repeat 100000 times\n    rinse yarn in tub with water 4 L for 10 min\n"
    file = tmp_path / "many.dye"
    file.write_text(HEAD + steps, encoding="utf-8")
    assert main(["timetable", str(file), "--start", "2099-11-28 09:00"]) == 2
    assert "100,000 rounds take 16,667 hours" in capsys.readouterr().err


def test_rounds_by_the_clock_begin_by_it() -> None:
    steps = """b: prepare in pot with water 4 L, weld 50 g
repeat 4 times every 1 h
  dip yarn in b at 20 °C for 5 min
  air yarn for 5 min
discard b to "foul drain"
"""
    made = planned(read(steps))
    dips = sorted(made.at[a.key].start for a in made.work.activities if a.name.startswith("dip"))
    assert all(60 <= b - a <= 75 for a, b in pairwise(dips))


def test_a_plate_that_is_on_is_not_left_whatever_is_written() -> None:
    made = planned(read(NIGHT.replace("40 °C overnight", "85 °C for 1 h unattended")))
    mordant = next(a for a in made.work.activities if a.name.startswith("mordant"))
    assert mordant.attendance is Attendance.NOW_AND_THEN
    assert mordant.ending == "turn the plate off"
    assert "somebody stays near" in mordant.cautions[0]
    for name in ("raven-grey", "jade-green"):  # “at unstated”, to be raised slowly
        work = found(procedure.load(EXAMPLES / f"{name}.dye")).made.work
        unstated = [a for a in work.activities if a.name.startswith(("mordant", "modify"))]
        assert unstated and all(a.attendance is Attendance.NOW_AND_THEN for a in unstated)
        assert all(a.ending == "turn the plate off" for a in unstated)


def test_what_is_written_attended_is_attended_or_that_is_said() -> None:
    steps = """b: prepare in pot with water 4 L, weld 50 g
stand b for {time} attended
discard b to "foul drain"
"""
    short = planned(read(steps.format(time="4 h")))
    stand = next(a for a in short.work.activities if a.name.startswith("stand"))
    assert stand.attendance is Attendance.NOW_AND_THEN
    long = found(read(steps.format(time="24 h")))
    assert long.left and "have somebody within call" in shortened(long)[0]


# ------------------------------------------------------------------ an end that is asked for


def test_with_an_end_asked_for_as_few_steps_as_can_be_are_short() -> None:
    plan = procedure.load(EXAMPLES / "first-onion-skins.dye")
    free = found(plan).made
    assert isinstance(free, Timetable)
    by = datetime(2099, 11, 30, 8)
    result = found(plan, finish_by=by)
    made = result.made
    assert isinstance(made, Timetable) and made.to_the_limit
    assert made.finish <= (by - SATURDAY).total_seconds() // 60
    assert [made.work.activity[key].name for key, _ in result.shortened] == ["dry yarn"]
    said = report(agenda(noted(made, shortened(result))))
    head = said[: said.index("Saturday 28")]
    assert "may take 24\u202fh: if it does, the plan does not hold" in head.replace("\n    ", " ")
    assert "proven" not in head


# ------------------------------------------------------------------ faulty files


@pytest.mark.parametrize(
    ("steps", "sentence"),
    [
        ("b: prepare in pot with water 4 L, weld 50 g\nsimmer b for 2 houres\n", "houres"),
        (
            "b: prepare in pot with water 4 L, weld 50 g\nsimmer b for 2 h\n"
            "c: prepare in pot with water 4 L, weld 50 g\n",
            "still holds another bath",
        ),
        ('follow "day.dye" with yarn, pot, tub\n', "go round in a circle: day.dye"),
    ],
)
def test_a_text_in_doubt_has_no_timetable(
    steps: str, sentence: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "day.dye"
    indented = "".join(f"  {line}\n" for line in steps.splitlines())
    file.write_text(HEAD + indented, encoding="utf-8")
    assert main(["timetable", str(file), "--start", "2099-11-28 09:00"]) == 2
    said = capsys.readouterr().err
    assert "There is no timetable until this is put right" in said
    assert sentence in said and "line 2" in said


def test_a_text_with_another_error_has_a_draft(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "day.dye"
    steps = "".join(f"  {line}\n" for line in IRON.replace("foul drain", "the river").splitlines())
    file.write_text(HEAD + steps, encoding="utf-8")
    assert main(["timetable", str(file), "--start", "2099-11-28 09:00"]) == 0
    head = " ".join(capsys.readouterr().out.partition("Saturday 28 November, open")[0].split())
    assert "This is a draft" in head and "line 29" in head


# ------------------------------------------------------------------ several files


def test_pots_of_one_name_are_one_only_where_they_are_alike(tmp_path: Path) -> None:
    files = []
    for number, size in enumerate(("10 L", "5 L", "10 L")):
        file = tmp_path / f"{number}.dye"
        steps = "".join(f"  {line}\n" for line in IRON.splitlines())
        text = HEAD.replace("pot, 10 L", f"pot, {size}").replace("A day", f"Day {number}")
        file.write_text(text + steps, encoding="utf-8")
        files.append(procedure.load(file))
    drawn = work_of(files, Asked(SATURDAY, Hours(), "9:00-18:00"))
    pots = [each.key for each in drawn.work.resources if each.kind == "pot"]
    assert len(pots) == 2
    assert any("declared otherwise" in each and "Day 1" in each for each in drawn.supposed)
    tubs = [each.key for each in drawn.work.resources if each.kind == "tub"]
    assert len(tubs) == 1


# ------------------------------------------------------------------ baths that cool


COOLED = """b: prepare in pot with water 6 L, weld 50 g
simmer b at 85 °C for 1 h
cool b to 40 °C
strain b through bag
do "see to the garden" {when}
dye yarn in b from 40 °C to 75 °C over 45 min for 45 min
lift yarn from b
rinse yarn in tub with water 4 L at 40 °C
dry yarn
discard b to "foul drain"
clean pot
"""


def test_a_bath_that_has_stood_is_warmed_again_and_that_takes_time() -> None:
    short = planned(read(COOLED.format(when="")))
    long = planned(read(COOLED.format(when="for 4 h")))
    one, two = span(short, "dye yarn"), span(long, "dye yarn")
    # 6 L by some 20 °C are 0.5 MJ, of which a plate of 1 to 2 kW gives half to four fifths.
    more = two[1] - two[0] - (one[1] - one[0])
    assert 10 <= more <= 20
    dye = next(a for a in long.work.activities if a.name.startswith("dye yarn"))
    said = " ".join(dye.cautions).replace("\u202f", " ")
    assert f"the first {more} min are for warming it again" in said


def test_soap_does_not_stay_in_for_the_night() -> None:
    made = found(procedure.load(EXAMPLES / "plans" / "workshop-day.dye")).made
    assert isinstance(made, Timetable)
    waits = [
        made.at[lag.after].start - made.at[lag.before].end
        for lag in made.work.lags
        if made.work.activity[lag.before].name.startswith("wash ")
        and made.work.activity[lag.after].name.startswith("rinse ")
    ]
    assert len(waits) >= 6 and max(waits) <= 60


def test_a_hot_bath_cools_before_it_is_poured_away_where_nothing_else_wants_the_pot() -> None:
    steps = """b: prepare in pot with water 6 L, weld 50 g
simmer b at 85 °C for 1 h
discard b to "foul drain"
{more}
"""
    leisure = planned(read(steps.format(more="clean pot")))
    assert span(leisure, "discard b")[0] - span(leisure, "simmer b")[1] >= 60
    haste = planned(
        read(steps.format(more='c: prepare in pot with water 6 L\ndiscard c to "foul drain"'))
    )
    assert span(haste, "discard b")[0] - span(haste, "simmer b")[1] < 30
    hot = next(a for a in haste.work.activities if a.name.startswith("discard b"))
    assert "hot still" in cautions_at(haste, hot.key)[0]


VAT = """b: prepare in pot with water 6 L, weld 50 g
stand b at 50 °C for 30 min
dip yarn in b at 50 °C for 5 min
rinse yarn in tub with water 4 L at 30 °C
a: prepare in jar with water 4 L, alum 12 g
mordant yarn in a at 20 °C overnight covered
rinse yarn in tub with water 4 L at 30 °C
dry yarn
discard b to "foul drain{note}"
"""


@pytest.mark.parametrize(("note", "least", "most"), [("", 15, 239), (", when cold", 240, 1440)])
def test_a_warm_vat_cools_before_it_is_poured_away_whatever_is_written_between(
    note: str, least: int, most: int
) -> None:
    made = planned(procedure.read(JAR + VAT.format(note=note), "day.dye"))
    lag = [each for each in made.work.lags if each.why.startswith("it is poured away")]
    assert [(each.before, each.after) for each in lag] == [("line 26", "line 32")]
    assert least <= lag[0].least <= most


def test_work_of_odd_minutes_is_planned_to_full_fives_and_told_as_it_is_written() -> None:
    steps = "rinse yarn in tub with water 4 L at 30 °C for 2 min\nsqueeze yarn\ndry yarn\n"
    made = planned(read(steps))
    assert span(made, "rinse yarn") == (0, 5)
    assert "Rinse yarn in tub for 2\u202fmin, with all that goes with it, until 09:05." in report(
        agenda(made)
    )
    assert all(each.start % 5 == each.end % 5 == 0 for each in made.placed)


def test_a_night_is_begun_by_somebody_who_has_just_made_the_bath_up() -> None:
    made = planned(procedure.load(EXAMPLES / "madder-in-the-hills.dye"))
    prepared, stood = span(made, "prepare madder"), span(made, "stand madder")
    assert stood[0] - prepared[1] <= 15
    assert any(piece.start == stood[0] for piece in made.hands_on)  # to put the lid on


def test_why_a_night_begins_no_sooner_and_until_when_a_bath_is_hot_are_told() -> None:
    made = planned(procedure.load(EXAMPLES / "madder-in-the-hills.dye"))
    nothing = Relief(made.work.resources[0], 1, 0, 0, 0)
    said = " ".join(report(agenda(made), (nothing,)).split())
    # It is open 9 to 18, and a night is 17 h at the most: from four in the afternoon, when
    # the bath, off the heat for 50 min, may be left.
    night = (
        "“cool madder-bath overnight” (13), line 42, goes on until the next morning, for 17 h "
        "50 min at the most, so"
    )
    assert f"{night} it begins from 15:10 on. What is done before it need not be begun" in said
    # Mordanted at the simmer until five, and an hour to stay for.
    hot = "“cool alum-bath overnight” (4), line 32: its bath is hotter than 60 °C until about"
    assert f"{hot} 18:00. Somebody stays until then and measures it" in said
    assert said.count("is hotter than") == 2


ROUNDS = """b: prepare in pot with water 4 L, weld 50 g at 40 °C
simmer b for 1 h
strain b
cool b to 40 °C
wet out yarn in tub with water 4 L at 30 °C for 1 h
split yarn into one 50 g, two 50 g
for each skein in one, two
  dye skein in b from 40 °C to 70 °C over 30 min for 30 min
  cool b to 40 °C
  rinse skein in tub with water 4 L at 30 °C
dry one, two
discard b to "foul drain"
"""


def test_a_refusal_promises_the_plan_that_is_made_without_the_last_hour() -> None:
    """A bath that has stood for a night takes its time to be warmed again."""
    head = HEAD.replace(
        "  tub:", "  pan: stainless steel pot, 10 L, lidded, for dyeing only\n  tub:"
    )
    steps = """wet out yarn in tub with water 5 L at 30 °C for 1 h
a: prepare in pot with water 5 L, alum 12 g at 40 °C
mordant yarn in a from 40 °C to 85 °C over 45 min for 1 h
cool a to 30 °C overnight covered labelled
rinse yarn in tub with water 8 L at 30 °C
b: prepare in pan with water 5 L, weld 50 g
simmer b at 85 °C for 1 h
strain b
cool b to 40 °C
dye yarn in b from 40 °C to 85 °C over 45 min for 1 h
cool b to 30 °C
rinse yarn in tub with water 8 L at 30 °C
dry yarn
discard a, b to "foul drain"
"""
    text = head + "".join(f"  {line}\n" for line in steps.splitlines())
    plan = procedure.read(text, "day.dye")
    made, refused = planned(plan), found(plan, finish_by=SATURDAY.replace(hour=18)).made
    assert any("has cooled down" in c for a in made.work.activities for c in a.cautions)
    assert isinstance(refused, NoPlan) and refused.finish == made.finish


def test_of_a_bath_that_is_hot_after_work_one_time_is_told() -> None:
    made = planned(read(ROUNDS))
    said = report(agenda(made)).splitlines()
    heads = [i for i, line in enumerate(said) if line.startswith("---")]
    days = ["\n".join(said[a:b]) for a, b in pairwise([*heads, len(said)])]
    assert sum("is hotter than" in day for day in days) >= 1
    assert all(day.count("is hotter than") <= 1 for day in days)


def test_what_can_give_tells_one_round_from_another() -> None:
    said = " ".join(report(agenda(planned(read(ROUNDS)))).partition("What can give")[2].split())
    told = re.findall(r"“cool b”( of \d\d:\d\d on \w+ \d+ \w+)?", said)
    assert len(told) == len(set(told)) == 3 and told.count("") == 1, "step 4 is alone of its number"


def test_more_days_are_offered_only_where_there_are_days_between() -> None:
    said = {}
    for days in ("", "sat, sun"):
        made = planned(read(NIGHT), days=days)
        nothing = Relief(made.work.resources[0], 1, 0, 0, 0)
        said[days] = " ".join(report(agenda(made), (nothing,)).split())
    assert "Longer hours may save time." in said[""]
    assert "Longer hours, or more days, may save time." in said["sat, sun"]


def test_a_step_planned_shorter_is_told_by_how_often() -> None:
    made = found(read(NIGHT)).made
    assert isinstance(made, Timetable)
    wet = next(each for each in made.work.activities if each.name.startswith("wet out"))
    assert _all_of([wet]) == numbered(wet)
    assert _all_of([wet, wet]) == f"{numbered(wet)}, 2 times,"
    other = replace(wet, name="heat b")
    assert _all_of([wet, other]) == "each of “wet out yarn in tub” and 1 more of step 2"


def test_nothing_too_hot_is_alone_whatever_the_hours() -> None:
    plan = procedure.load(EXAMPLES / "weld-yellow-wool.dye")
    for hours, days in (("9-18", ""), ("9-13,14-19", ""), ("8-17", "weekdays")):
        made = found(plan, days=days, hours=hours).made
        assert isinstance(made, Timetable)
        assert made.hot
        for each in made.hot:
            windows = made.work.windows
            assert any(w.opens <= each.start and each.end <= w.closes for w in windows)
    # Simmered for 2 h, and too hot for more than half an hour after it.
    simmered = read(
        "gold-bath: prepare in pot with water 5 L, weld 50 g\n"
        "simmer gold-bath at 85 °C over 10 min\n"
        "hold gold-bath at 85 °C for 2 h\n"
        "strain gold-bath through bag\n"
        'discard gold-bath to "foul drain"'
    )
    made = found(simmered, hours="10:00-12:30").made
    assert isinstance(made, NoPlan) and "is hotter than 60" in _plain(refusal(made))
    assert isinstance(found(simmered, hours="10:00-14:00").made, Timetable)


def test_a_bath_is_made_and_used_within_a_weekend_and_what_is_mordanted_hangs_until_then() -> None:
    """Nobody leaves a weld bath standing from one Sunday to the next Saturday."""
    plan = procedure.load(EXAMPLES / "weld-yellow-wool.dye")
    opening = Hours(times_of("9:00-18:00"), *days_of("sat,sun"))
    made = fitted(work_of([plan], Asked(SATURDAY, opening)).work, 0.05)
    assert isinstance(made.made, Timetable) and not made.shortened
    assert [made.made.work.activity[lag.after].name for lag in made.waits] == [
        "dye yarn in weld-bath"
    ]
    assert span(made.made, "dye yarn")[0] - span(made.made, "prepare weld-bath")[0] < 9 * 60
    assert span(made.made, "discard weld")[0] - span(made.made, "dye yarn")[1] < 24 * 60
    said = " ".join(report(agenda(made.made)).split())
    assert "Hang yarn up to dry" in said and "Wet yarn out again" in said
    assert "Waits wet then: yarn" not in said and "Nothing is done to" not in said
    wetted, mordanted = span(made.made, "wet out yarn"), span(made.made, "mordant yarn")
    assert mordanted[0] - wetted[1] <= 30


def test_what_waits_wet_over_a_night_and_how_long_a_cooling_may_be_are_told() -> None:
    said = " ".join(
        report(agenda(planned(procedure.load(EXAMPLES / "weld-yellow-wool.dye")))).split()
    )
    assert "Waits wet then: yarn; squeezed out and covered, in the cool." in said
    assert "later: how long it takes is estimated." in said


def test_what_waits_wet_after_a_parting_are_the_parts_and_after_a_joining_the_whole() -> None:
    steps = """
        wet out yarn in tub with water 4 L at 30 °C for 1 h
        split yarn into pale 50 g, deep 50 g
        a: prepare in pot with water 4 L, weld 20 g
        dye pale in a at 80 °C for 3 h
        lift pale from a
        discard a to "foul drain"
        join pale, deep into all
        b: prepare in pot with water 4 L, weld 50 g
        dye all in b at 80 °C for 3 h
        rinse all in tub with water 4 L at 30 °C
        discard b to "foul drain"
    """
    made = found(read(steps), hours="9-14").made
    assert isinstance(made, Timetable)
    wet = [set(dict(day.wet)) for day in agenda(made).days if day.wet]
    assert wet and all(each in ({"pale", "deep"}, {"deep"}, {"all"}) for each in wet), wet
    assert {"all"} in wet


@pytest.mark.parametrize("name", ["three-lots-one-bath", "goldenrod-and-olive"])
def test_every_lot_that_waits_wet_over_a_night_is_told(
    name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Held against the trace: what is wet after its last step of the day, and has another.

    That is of a plan in which no fibre lies in a bath that cools over a night.
    """
    monkeypatch.setattr(planning, "may_be_much_sooner", lambda *_: False)
    _waits_wet_as_told(procedure.load(EXAMPLES / f"{name}.dye"))


def test_a_lot_that_waits_wet_for_a_vat_that_is_warmed_first_is_told() -> None:
    """The wait is over with the heating of the vat, which is nothing that is done to the lot."""
    days = _waits_wet_as_told(procedure.read(WAITS_FOR_A_VAT, "waits.dye"))
    assert any(day.wet for day in days)


WAITS_FOR_A_VAT = """procedure "Waits for a vat"
fibre
  yarn: wool yarn, 200 g, scoured
equipment
  crock: stainless steel pot, 15 L, lidded, for dyeing only
  tub: plastic tub, 20 L, for dyeing only
  hob: hotplate, 2 kW
materials
  indigo: natural indigo, powder
  soda: soda ash
  madder: madder root, dried
  soap: neutral soap
steps
  wash yarn in tub with water 10 L, soap 5 g at 40 °C
  rinsed: rinse yarn in tub with water 10 L at 40 °C
  vat: prepare in crock with water 10 L, soda 60 g, madder 30 g, indigo 30 g at 45 °C after rinsed
  stand vat at 45 °C for 30 h covered labelled
  dip yarn in vat at 45 °C for 10 min
  air yarn for 20 min
  rinse yarn in tub with water 10 L at 30 °C
  dry yarn
  keep vat as ferment-vat covered labelled
"""


def _waits_wet_as_told(plan: Judged) -> tuple[Day, ...]:
    made = planned(plan)
    at = {made.work.activity[each.key].place.line: each for each in made.placed}
    for day in agenda(made).days:
        closes, told = day.windows[-1].closes, set()
        for lot in plan.flow.lots:
            steps = [
                (at[moment.step.place.line], moment)
                for moment in plan.trace.moments
                if lot in (*moment.node.lots, *moment.node.makes)
            ]
            before = max((each for each in steps if each[0].start <= closes),
                         key=lambda each: each[0].end, default=None)  # fmt: skip
            if before is None or before[0].end > closes:
                continue
            state = before[1].after.lots.get(lot)
            later = any(each[0].start > closes for each in steps)
            wet = state is not None and state.possibly("dry") != "" and not state.bath
            if wet and later:
                told.add(plan.study.called(lot))
        assert told == set(dict(day.wet)), day.number
    return agenda(made).days


def test_what_airs_and_dries_is_drawn_when_it_does() -> None:
    """A short airing while another lot dries takes no more than its own time in the drawing."""
    made = planned(procedure.load(EXAMPLES / "indigo-fructose-lime-cotton.dye"))
    row = elsewhere(made)
    assert row is not None and len(row.bars) >= 3
    for bar in row.bars:
        assert made.at[bar.key].start <= bar.start and bar.end <= made.at[bar.key].end


@pytest.mark.parametrize(
    ("pot", "told", "side_by_side"),
    [
        ("2 stainless steel pots, 10 L, lidded, for dyeing only", "each bath is in one", True),
        ("2 large stainless steel pots, 8 L each, lidded, for dyeing only", "is in one", True),
        ("2 stainless steel pots, 3 L each, lidded, for dyeing only", "--pots pot=2", False),
    ],
)
def test_pots_of_which_there_are_several_are_used_side_by_side(
    pot: str, told: str, side_by_side: bool
) -> None:
    head = HEAD.replace("stainless steel pot, 10 L, lidded, for dyeing only", pot)
    steps = "".join(
        f"  {name}: prepare in pot with water 4 L, {what} at 40 °C\n  stand {name} for 2 h\n"
        f'  discard {name} to "foul drain"\n'
        for name, what in (("a", "alum 12 g"), ("b", "weld 50 g"))
    )
    drawn = work_of([procedure.read(head + steps, "day.dye")], Asked(SATURDAY, Hours()))
    assert any(told in each for each in drawn.supposed)
    made = fitted(drawn.work).made
    assert isinstance(made, Timetable)
    first, second = span(made, "stand a"), span(made, "stand b")
    assert (first[0] < second[1] and second[0] < first[1]) is side_by_side


KEPT = """wet out yarn in tub with water 4 L at 30 °C for 1 h
a: prepare in pot with water 4 L, alum 12 g at 40 °C
mordant yarn in a at 85 °C for 1 h
cool a to 30 °C overnight covered
rinse yarn in tub with water 4 L at 30 °C
keep a as old in jar labelled
clean pot
b: prepare in pot with water 4 L, weld 50 g
dye yarn in b from 30 °C to 80 °C over 45 min for 30 min {how}
hold b at 80 °C for 20 min
rinse yarn in tub with water 4 L at 30 °C
dry yarn
discard b to "foul drain"
"""


def kept(how: str = "") -> Timetable:
    lines = "".join(f"  {line}\n" for line in KEPT.format(how=how).splitlines())
    plan = procedure.read(JAR + lines, "kept.dye")
    opening = Hours(times_of("9:00-18:00"))
    made = fitted(work_of([plan], Asked(SATURDAY, opening, "9-18", hands=("Ada", "Bo"))).work).made
    assert isinstance(made, Timetable)
    return made


def test_a_pot_is_cleaned_when_its_bath_has_gone_into_the_jar() -> None:
    made = kept()
    assert span(made, "clean pot")[0] >= span(made, "keep a")[1]
    assert span(made, "prepare b")[0] >= span(made, "clean pot")[1]


def test_a_plate_stays_on_where_the_next_step_wants_the_heat() -> None:
    made = kept()
    dye = next(each for each in made.work.activities if each.name.startswith("dye yarn"))
    hold = next(each for each in made.work.activities if each.name.startswith("hold b"))
    assert dye.ending == "" and hold.ending == "turn the plate off"


def test_somebody_turns_the_plate_on_where_it_is_not_on_already() -> None:
    named = 0
    for file in sorted(EXAMPLES.glob("*.dye")):
        work = work_of([procedure.load(file)], Asked(SATURDAY, Hours())).work
        on_plate = {a.key for a in work.activities if any(n.resource == "rings" for n in a.needs)}
        for hold in work.holds:
            inside = [key for key in hold.inside if "lift" not in work.activity[key].name]
            for before, key in pairwise(["", *inside]):
                each = work.activity[key]
                if key in on_plate and before not in on_plate:
                    named += 1
                    by_hand = each.attendance is Attendance.WHOLE or each.at_start >= 5
                    assert by_hand, (file.name, each.name)
    assert named > 30
    steps = """
        b: prepare in pot with water 4 L, weld 50 g
        heat b to 80 °C
        hold b at 80 °C for 45 min
        cool b
        simmer b at 85 °C for 30 min
    """
    work = work_of([read(steps)], Asked(SATURDAY, Hours())).work
    hands = {each.name: each.at_start for each in work.activities}
    assert (hands["heat b"], hands["hold b"], hands["simmer b"]) == (5, 0, 5)


def test_fibre_that_is_kept_moving_has_somebody_at_it_all_the_while() -> None:
    made = kept("stirring")
    dye = next(each for each in made.work.activities if each.name.startswith("dye yarn"))
    assert dye.attendance is Attendance.WHOLE
    assert dye.key in {piece.key for piece in made.hands_on if piece.end - piece.start >= 75}


def test_baths_that_stand_for_the_night_are_named() -> None:
    assert "Stands there then: a in the pot; covered and labelled." in " ".join(
        report(agenda(kept())).split()
    )


STANDING = {
    "it is only poured away": """b: prepare in pot with water 4 L, alum 12 g at 40 °C
do "talk about it" for 7 h 30 min with b
do "talk more" for 2 h with b
discard b to "foul drain"
""",
    "it is only moved": """b: prepare in pot with water 4 L, weld 50 g
do "talk about it" for 7 h 30 min with b
do "talk more" for 2 h with b
strain b into tub
discard b to "foul drain"
""",
}


@pytest.mark.parametrize("steps", STANDING.values(), ids=STANDING)
def test_a_bath_stands_there_until_its_last_step_has_taken_it_out_of_the_pot(steps: str) -> None:
    made = planned(read(steps))
    closes = made.work.windows[0].closes
    assert span(made, "prepare b")[0] < closes < span(made, "discard b")[0]
    said = " ".join(report(agenda(made)).split())
    assert "Stands there then: b in the pot; covered and labelled." in said


def test_a_pot_that_only_waits_to_be_cleaned_has_no_bath_in_it() -> None:
    made = planned(
        read(
            """b: prepare in pot with water 4 L, alum 12 g at 40 °C
do "talk about it" for 8 h 10 min with b
e: discard b to "foul drain"
do "talk more" for 8 h after e
clean pot
"""
        )
    )
    assert span(made, "clean pot")[0] > made.work.windows[0].closes
    assert "Stands there then" not in report(agenda(made))


def test_water_that_plants_were_soaked_in_has_nothing_to_do_with_water_for_a_rinse() -> None:
    plan = procedure.read(
        JAR
        + """  b: soak weld 50 g in jar with water 4 L, alum 5 g for 3 d covered
  strain b into pot
  boil b for 1 h covered
  wet out yarn in tub with water 4 L at 30 °C for 1 h
  dye yarn in b from 40 °C to 85 °C over 1 h for 1 h
  cool b until-next-day covered
  rinse yarn in tub with water 4 L, alum 5 g
  discard b to "foul drain"
""",
        "day.dye",
    )
    made = planned(plan)
    soaked = {each.key for each in made.work.activities if each.name.startswith("soak")}
    after = {made.work.activity[lag.after].name for lag in made.work.lags if lag.before in soaked}
    assert {name for name in after if name.split()[0] not in ("strain", "discard")} == set()


def test_a_pot_is_cleaned_before_another_procedure_uses_it() -> None:
    plans = [
        procedure.read(HEAD.replace("A day", name) + f"  {steps}\n", f"{name}.dye")
        for name, steps in (
            (
                "One",
                'b: prepare in pot with water 4 L, copperas 4 g\n  discard b to "foul drain"',
            ),
            ("Two", 'c: prepare in pot with water 4 L, weld 50 g\n  discard c to "compost"'),
        )
    ]
    asked = Asked(SATURDAY, Hours(times_of("9:00-18:00")), "9-18")
    work = work_of(plans, asked).work
    ends = [each for each in work.activities if each.name.startswith("discard")]
    assert all("Then clean pot" in each.cautions[-1] for each in ends)
    assert [each.lasting.most for each in ends] == [20, 20]
    alone = work_of(plans[:1], asked).work
    assert alone.activities[-1].lasting.most == 10


def test_yarn_is_wetted_in_time_for_its_bath_and_not_hours_before() -> None:
    made = found(procedure.load(EXAMPLES / "first-onion-skins.dye")).made
    assert isinstance(made, Timetable)
    start, end = span(made, "wet out yarn")
    assert end - start == 60 and span(made, "dye yarn")[0] - end <= 30
    in_the_hills = planned(procedure.load(EXAMPLES / "madder-in-the-hills.dye"))
    assert "begun sooner, with waits like these, it would be over no sooner" in report(
        agenda(in_the_hills)
    )


def test_a_lift_out_of_a_series_is_not_added_to_the_time_of_the_others() -> None:
    """As the example is named: 15, 30 and 60 min at the heat, after an hour of rise."""
    made = found(procedure.load(EXAMPLES / "shade-card-madder.dye")).made
    assert isinstance(made, Timetable)
    dyed = next(made.at[a.key] for a in made.work.activities if a.name.startswith("dye "))
    lifts = [made.at[a.key] for a in made.work.activities if a.name.startswith("lift ")]
    assert [lift.start - dyed.start - 60 for lift in lifts] == [15, 30, 60]


def test_what_was_not_found_out_is_said_in_one_sentence() -> None:
    made = kept()
    pot, hands = (made.work.resource[key] for key in ("pot pot", "hands"))
    unknown = tuple(Relief(each, 1, 0, 3000, made.finish) for each in (pot, hands))
    tub = Relief(made.work.resource["pot tub"], 1, 60, 60, made.finish)
    said = " ".join(report(agenda(made), (tub, *unknown)).split())
    assert "A second tub would save 1 h. What a second pot or one more pair of" in said
    assert "pair of hands would save was not found out in the time." in said


# ------------------------------------------------------------------ reasons


def _plain(said: str) -> str:
    return said.replace("\u202f", " ")


def test_a_night_that_is_too_long_says_by_how_much() -> None:
    steps = """
        wet out yarn in tub with water 2 L at 30 °C for 1 h
        bath: prepare in pot with water 4 L, copperas 2 g at 40 °C
        modify yarn in bath at 40 °C overnight
        rinse yarn in tub with water 2 L at 30 °C
        discard bath
    """
    plan, ten = read(steps), SATURDAY.replace(hour=10)
    # Closed from 16:00 to 10:00, 18 h; overnight is 16 h at the most, and iron hardens wool.
    made = found(plan, days="sat,sun", hours="10-16", begins=ten).made
    assert isinstance(made, NoPlan)
    # Two hours make the night 16 h, but somebody puts the yarn in and takes it out besides.
    assert "closed for 18 h at the least.\n" in _plain(refusal(made))
    assert "stay for 2 h 10 min longer, until 18:10" in _plain(refusal(made))
    longer = found(plan, days="sat,sun", hours="10-18:10", begins=ten).made
    assert isinstance(longer, Timetable)
    assert isinstance(found(plan, hours="9-18", begins=ten).made, Timetable)


def test_a_reason_that_takes_long_to_find_is_told_as_far_as_it_is_known(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Nobody waits for minutes to be told no: so many questions are asked, and no more."""
    steps = """
        wet out yarn in tub with water 2 L at 30 °C for 1 h
        bath: prepare in pot with water 4 L, weld 50 g
        simmer bath at 85 °C for 7 h
    """
    monkeypatch.setattr("procedure.timetable.reasons._EFFORT_ALTOGETHER", 0.001)
    made = found(read(steps), hours="10-16", begins=SATURDAY.replace(hour=10)).made
    assert isinstance(made, NoPlan) and not made.smallest
    said = _plain(refusal(made))
    assert "takes 7 h" in said and "the place is open" in said
    assert "There may be a smaller reason than this; it was not found in the time." in said


def test_weekends_far_apart_have_a_plan_in_which_yarn_dries_between() -> None:
    """On short Saturdays and Sundays mordanted yarn would be damp for longer than it keeps."""
    plan, ten = procedure.load(EXAMPLES / "weld-yellow-wool.dye"), SATURDAY.replace(hour=10)
    wide = found(plan, days="sat,sun", hours="10-16", begins=ten)
    assert isinstance(wide.made, Timetable)
    told = _plain(" ".join(shortened(wide)))
    assert "Hang yarn up to dry, and wet out again for the next step: from “rinse yarn" in told
    assert len(shortened(wide)) <= 4, "a few lines at the head"


TWO_SKEINS = """wet out yarn in tub with water 5 L at 30 °C for 1 h
first-bath: prepare in pot with water 4 L, weld 30 g at 40 °C
dye green in first-bath from 40 °C to 85 °C over 45 min for 45 min
cool first-bath to 40 °C
wash green in tub with water 4 L, soap 2 g at 40 °C for 5 min
rinse green in tub with water 4 L at 40 °C
discard first-bath
clean pot
second-bath: prepare in pot with water 4 L, weld 30 g at 40 °C
dye red in second-bath from 40 °C to 85 °C over 45 min for 45 min
cool second-bath to 40 °C
wash red in tub with water 4 L, soap 2 g at 40 °C for 5 min
rinse red in tub with water 4 L at 40 °C
dry red, green
discard second-bath"""


def test_a_skein_that_is_dried_with_another_may_wait_damp_for_it() -> None:
    """One pot for two baths: the first skein is rinsed long before the second."""
    head = HEAD.replace("  yarn: wool yarn, 100 g", "  red: wool yarn, 50 g, scoured\n"
                        "  green: wool yarn, 50 g")  # fmt: skip
    steps = TWO_SKEINS.replace("wet out yarn", "wet out red, green").splitlines()
    plan = procedure.read(head + "".join(f"  {line}\n" for line in steps), "two.dye")
    made = found(plan)
    assert isinstance(made.made, Timetable) and not made.shortened
    (told,) = shortened(made)
    assert told.startswith(
        "Hang green up now, or keep damp, squeezed out and covered: from “rinse green"
    )
    assert (
        "to “dry red and green” (14) it is 21\u202fh 25\u202fmin." in told and "ine 2" not in told
    )
    at = {made.made.work.activity[each.key].name: each for each in made.made.placed}
    # Soap is rinsed out at once all the same.
    assert at["rinse green in tub"].start - at["wash green in tub"].end <= 15


def test_a_wait_is_as_it_is_wished_where_that_costs_no_night() -> None:
    """Clean fibre is hung up at once, and nothing is told, where there is time for that."""
    made = found(procedure.load(EXAMPLES / "weld-yellow-wool.dye"))
    assert isinstance(made.made, Timetable) and not made.waits


def test_what_takes_longer_than_any_day_says_by_how_much() -> None:
    steps = """
        bath: prepare in pot with water 4 L, weld 50 g
        simmer bath at 85 °C for 7 h
    """
    made = found(read(steps), hours="10-16", begins=SATURDAY.replace(hour=10)).made
    assert isinstance(made, NoPlan)
    # An hour and ten minutes more would do for the step, but not for its bath, which is hot after.
    assert "The longest time that it is open is 6 h.\n" in _plain(refusal(made))
    assert "stay for 2 h 5 min longer, until 18:05" in _plain(refusal(made))
    longer = found(read(steps), hours="10-18:05", begins=SATURDAY.replace(hour=10)).made
    assert isinstance(longer, Timetable)


def test_work_is_done_in_the_morning_where_that_makes_nothing_longer(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(planning, "may_be_much_sooner", lambda *_: False)
    made = planned(procedure.load(EXAMPLES / "three-lots-one-bath.dye"))
    deep = next(each for each in made.work.activities if each.name == "dye deep in orange-bath")
    # A day of its own, for the bath cools in it: it begins with the day, and deep is rinsed early.
    assert (made.at[deep.key].start + 9 * 60) % 1440 <= 9 * 60 + 30


def test_lifted_yarn_is_rinsed_before_it_lies_all_morning() -> None:
    steps = """
        wet out yarn in tub with water 2 L at 30 °C for 1 h
        bath: prepare in pot with water 4 L, alum 12 g at 40 °C
        mordant yarn in bath at 40 °C for 1 h
        lift yarn from bath
        rinse yarn in tub with water 2 L at 30 °C
        rest yarn for 20 h
        dry yarn
        discard bath
    """
    made = planned(read(steps))
    (_, lifted), (rinsed, _) = span(made, "lift yarn"), span(made, "rinse yarn")
    assert rinsed - lifted <= 15


POISON = HEAD.replace(
    "  weld:", "  tansy: tansy tops, dried\n  fox: foxglove leaves, dried\n  weld:"
)
STRAINED = """
  bath: prepare in pot with water 5 L, {plant} 100 g covered
  simmer bath at 85 °C for 1 h covered
  cool bath to 40 °C covered
  strain bath
  throw out {plant} to "a closed heap, out of reach of children and animals"
  dye yarn in bath at 40 °C for 1 h covered
"""


def poisoned(plant: str) -> Judged:
    return procedure.read(POISON + STRAINED.format(plant=plant), "day.dye")


def test_a_plant_is_thrown_out_when_it_is_out_of_its_bath() -> None:
    made = planned(poisoned("tansy"))
    names = {each.key: each.name for each in made.work.activities}
    after = {names[lag.after] for lag in made.work.lags if names[lag.before] == "strain bath"}
    assert "throw out tansy" in after


def test_a_plant_that_harms_is_out_of_its_bath_before_the_night() -> None:
    """Begun so late that it cannot cool before six, it is made the next morning instead."""
    made = planned(poisoned("tansy"), begins=datetime(2099, 11, 28, 15))  # type: ignore[arg-type]
    at = {made.work.activity[key].name: place for key, place in made.at.items()}
    first, last = at["prepare bath in pot"].start, at["strain bath"].end
    assert not any(first < opens and closes < last for closes, opens in made.work.nights)


@pytest.mark.parametrize("plant", ["tansy", "fox"])
def test_in_hours_that_are_too_short_a_plant_stays_in_and_it_is_told_but_none_that_kills(
    plant: str,
) -> None:
    found_so = found(poisoned(plant), hours="9:00-11:30")
    if plant == "fox":
        assert isinstance(found_so.made, NoPlan)
        return
    assert any("Strain it before you go" in one for one in shortened(found_so))


def test_what_is_hot_at_closing_is_told_on_the_scale_of_the_file() -> None:
    text = POISON + STRAINED.format(plant="weld") + "  cool bath to 86 °F overnight covered\n"
    text = text.replace("85 °C", "185 °F").replace("40 °C", "104 °F")
    text = text.replace("dye yarn in bath at 104 °F", "dye yarn in bath at 185 °F")
    plan = procedure.read(text, "day.dye")
    opening = Hours(times_of("9:00-18:00"))
    made = fitted(work_of([plan], Asked(SATURDAY, opening, "")).work).made
    assert isinstance(made, Timetable)
    told = report(agenda(made))
    assert "hotter than 140 °F" in told and "°C" not in told


def test_a_vat_is_woken_on_the_day_on_which_it_is_used() -> None:
    """The workshop's vat is kept, fed with fructose in line 58 and heated after that."""
    plan = procedure.load(EXAMPLES / "plans" / "workshop-day.dye")
    work = work_of([plan], Asked(SATURDAY, Hours())).work
    line = {each.key: each.place.line for each in work.activities}
    (lag,) = (lag for lag in work.lags if (line[lag.before], line[lag.after]) == (58, 59))
    assert lag.most == 480 and lag.why == "the vat loses its reducer"


def test_a_night_in_a_place_that_is_open_once_a_week_is_refused_in_one_sentence() -> None:
    made = found(procedure.load(EXAMPLES / "first-onion-skins.dye"), days="sat").made
    assert isinstance(made, NoPlan)
    said = refusal(made)
    assert "It is never open on two days running" in said and "longer on one evening" not in said


def test_a_hot_bath_of_iron_that_cools_overnight_has_a_plan_in_usual_hours() -> None:
    """From nine to six the night is 15 h, and the bath is hot for an hour and more before it."""
    plan = read(
        """wet out yarn in tub with water 3 L at 30 °C for 1 h
           iron-bath: prepare in pot with water 8 L, copperas 2 g at 40 °C
           modify yarn in iron-bath from 40 °C to 85 °C over 30 min for 15 min
           cool iron-bath to 30 °C overnight covered
           rinse yarn in tub with water 3 L at 30 °C
           dry yarn"""
    )
    made = found(plan)
    assert isinstance(made.made, Timetable)
    (number,) = (a.printed for a in made.made.work.activities if a.overnight)
    assert any(f"Step {number}: " in said and "longer than a night" in said
               for said in shortened(made))  # fmt: skip


def test_what_lay_in_a_bath_that_is_poured_away_is_rinsed_lot_by_lot() -> None:
    """One tub rinses three lots one after the other: none of them lies in copper meanwhile."""
    plan = read(
        """wet out yarn in tub with water 3 L at 30 °C for 1 h
           split yarn into plain 40 g, pale 30 g, deep 30 g
           iron-bath: prepare in pot with water 3 L, copperas 2 g at 40 °C
           modify plain, pale, deep in iron-bath at 40 °C for 10 min
           discard iron-bath to "foul drain"
           rinse plain in tub with water 3 L at 30 °C
           rinse pale in tub with water 3 L at 30 °C
           rinse deep in tub with water 3 L at 30 °C
           dry plain, pale, deep"""
    )
    assert isinstance(found(plan).made, Timetable)
