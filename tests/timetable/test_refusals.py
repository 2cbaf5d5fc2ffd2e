"""A refusal is one short reason with its lines, and what would do: that is planned, and does."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from verifying import wrongs
from verifying_plans import wrongs_of_plan

import procedure
from procedure.collection.opening_hours import Hours, days_of, times_of
from procedure.command.main import main
from procedure.pipeline import Judged
from procedure.timetable import NoPlan, Timetable, fitted
from procedure.timetable.bounding import too_few_hands
from procedure.timetable.from_plans import work_of
from procedure.timetable.planned_words import moment_in_words, span
from procedure.timetable.programme import parts
from procedure.timetable.refused_words import refusal
from procedure.timetable.terms import Asked
from procedure.timetable.work import HANDS, Attendance

EXAMPLES = Path(__file__).parents[2] / "examples"
NINE = datetime(2099, 11, 28, 9)
ONE_DAY = "2099-11-28"
HEAD = """procedure "{}"
  by "Fellside Dye Circle"
  place outdoors
  wearing gloves, eye protection

fibre
  yarn: wool yarn, {}, scoured

equipment
  pot: stainless steel pot, 10 L, lidded, for dyeing only
  tub: plastic tub, 10 L, for dyeing only
  hob: hotplate, 2 kW
  spare: hotplate, 2 kW

materials
  alum: potassium alum
  weld: weld tops, dried

steps
"""
WELD = (
    HEAD.format("Weld", "100 g")
    + """  bath: prepare in pot with water 4 L, weld 50 g
  simmer bath at 85 °C for 3 h
  cool bath to 40 °C
  discard bath to "foul drain"
  clean pot
"""
)
ALUM = (
    HEAD.format("Alum", "100 g")
    + """  wet out yarn in tub with water 4 L at 30 °C for 1 h
  b: prepare in pot with water 4 L, alum 12 g at 40 °C
  mordant yarn in b from 40 °C to 85 °C over 45 min for 2 h
  cool b to 30 °C
  rinse yarn in tub with water 4 L at 30 °C
  dry yarn
  discard b to "foul drain"
  clean pot
"""
)
LONG = (
    HEAD.format("Long", "100 g")
    + """  wet out yarn in tub with water 4 L at 30 °C for 1 h
  b: prepare in pot with water 4 L, alum 12 g at 40 °C
  mordant yarn in b from 40 °C to 85 °C over 45 min for 6 h
  cool b to 30 °C
  rinse yarn in tub with water 4 L at 30 °C for 10 min
  rinse yarn in tub with water 4 L at 30 °C for 10 min
  rinse yarn in tub with water 4 L at 30 °C for 10 min
  dry yarn
  discard b to "foul drain"
"""
)


def made_of(
    texts: list[str], hours: str = "9:00-18:00", days: str = "", **asked: object
) -> tuple[list[Judged], Timetable | NoPlan]:
    plans: list[Judged] = [procedure.read(text, f"{i}.dye") for i, text in enumerate(texts)]
    opening = Hours(times_of(hours), *(days_of(days) if days else ()))
    work = work_of(plans, Asked(NINE, opening, hours, **asked)).work  # type: ignore[arg-type]
    return plans, fitted(work).made


def refused(texts: list[str], hours: str = "9:00-18:00", days: str = "") -> NoPlan:
    _, made = made_of(texts, hours, days)
    assert isinstance(made, NoPlan)
    return made


def sound(plans: list[Judged], made: Timetable | NoPlan) -> Timetable:
    assert isinstance(made, Timetable)
    times = {each.key: (each.start, each.end) for each in made.placed}
    assert wrongs(made.work, times) == []
    for plan in plans if len(plans) == 1 else ():
        assert wrongs_of_plan(plan, made.work, times, loose=True) == []
    return made


@pytest.fixture(scope="module")
def soaks() -> NoPlan:
    """Three hours for soaks one after the other that take a little longer."""
    lengths = (20, 25, 30, 35, 40, 45, 20, 25, 30)
    steps = "".join(
        f"  wet out yarn in tub with water 4 L at 30 °C for {each} min\n" for each in lengths
    )
    return refused([HEAD.format("Soaks", "100 g") + steps], "9-12", ONE_DAY)


def test_many_steps_are_told_in_two_sentences_with_the_lines_of_the_longest(soaks: NoPlan) -> None:
    assert len(soaks.activities) > 4
    said = refusal(soaks).replace("\u202f", " ").splitlines()
    demands = [each for each in said if each.startswith("- ")]
    assert len(demands) <= 4 and len(said) <= 6
    told = re.search(r"(\d+) steps, from “(.+?)” \(\S+, line (\d+)\) to", demands[0])
    assert told is not None
    first = soaks.activities[0]
    assert (first.name, first.place.line) == (told[2], int(told[3]))
    longest = max(soaks.activities, key=lambda each: each.lasting.most)
    lasting = span(longest.lasting.most).replace("\u202f", " ")
    assert f"“{longest.name}” (line {longest.place.line}) {lasting}" in demands[1]


def test_how_long_a_row_of_steps_takes_is_the_sum_of_them(soaks: NoPlan) -> None:
    """Of the last only the minutes count that somebody is there for: it goes on by itself then."""
    *before, last = soaks.activities
    minutes = sum(each.lasting.most for each in before) + last.at_start
    assert minutes > 180, "more than there is"
    assert f"{len(soaks.activities)} steps, from" in refusal(soaks)
    assert f"take {span(minutes)} one after the other." in refusal(soaks)


def test_a_bath_that_is_hot_for_too_long_is_the_whole_reason() -> None:
    """Three hours do not do for an hour and a half in a bath that is hot for long after it."""
    plan = procedure.load(EXAMPLES / "raven-grey.dye")
    asked = Asked(NINE, Hours(times_of("9-12"), *days_of(ONE_DAY)), "9-12")
    made = fitted(work_of([plan], asked).work).made
    assert isinstance(made, NoPlan)
    (hot,) = made.activities
    assert hot.lasting.most + hot.hot_after == 240 and made.smallest
    assert "The longest time that it is open is 3\u202fh." in refusal(made)
    longer = replace(asked, hours=Hours(times_of("9-13"), *days_of(ONE_DAY)))
    assert isinstance(fitted(work_of([plan], longer).work, reasons=False).made, NoPlan)
    assert "would do" not in refusal(made), "an hour more is enough for that step alone"


def test_of_several_files_the_lines_are_told_with_their_files() -> None:
    said = refusal(refused([WELD, ALUM], days=ONE_DAY))
    assert "(0.dye, line" in said and "(1.dye, line" in said
    alone = refusal(refused([LONG], "9-15", ONE_DAY))
    assert alone.count("0.dye") == 1, "the one file there is is named once"


def test_a_second_pot_that_would_do_is_told_and_does() -> None:
    unfit = refused([WELD, ALUM], days=ONE_DAY)
    (way,) = (each for each in unfit.ways_out if each.resource is not None)
    assert f"With a second pot it could be over at {moment_in_words(unfit.work, way.finish)}" in (
        refusal(unfit)
    )
    plans, made = made_of([WELD, ALUM], days=ONE_DAY, pots=(("pot", 2),))
    assert sound(plans, made).finish == way.finish


def test_one_procedure_less_that_would_do_is_told_and_does() -> None:
    unfit = refused([WELD, ALUM], days=ONE_DAY)
    (way,) = (each for each in unfit.ways_out if each.without)
    assert way.without == "Weld" and "Without “Weld” it could be over at" in refusal(unfit)
    plans, made = made_of([ALUM], days=ONE_DAY)
    assert sound(plans, made).finish == way.finish


def test_every_day_and_an_hour_longer_are_told_where_neither_would_do_alone() -> None:
    unfit = refused([LONG], "9-15", ONE_DAY)
    (way,) = unfit.ways_out
    assert way.stay and unfit.finish is None and not unfit.stay
    closes = 15 + way.stay // 60
    assert f"every day and somebody could stay for {span(way.stay)} longer, until {closes}:00" in (
        refusal(unfit)
    )
    plans, made = made_of([LONG], f"9-{closes}")
    assert sound(plans, made).finish == way.finish
    assert isinstance(made_of([LONG], f"9-{closes - 1}")[1], NoPlan), "an hour less does not do"


@pytest.mark.parametrize(
    ("fibre", "line", "room", "hangs"),
    [
        ("4 oz", "1 oz", "1 oz", "4 oz"),
        ("2 lb", "1 lb", "1 lb", "2 lb"),
        ("1 1/2 lb", "1/2 lb", "8 oz", "1.5 lb"),
        ("100 g", "50 g", "50 g", "100 g"),
    ],
)
def test_weights_are_told_in_the_units_of_the_file(
    fibre: str, line: str, room: str, hangs: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = HEAD.format("Dry", fibre) + "  dry yarn\n"
    if "lb" in fibre or "oz" in fibre:
        text = text.replace("10 L", "3 US gal")
    file = tmp_path / "dry.dye"
    file.write_text(text.replace("yarn, " + fibre, "yarn, " + fibre + ", wet"), encoding="utf-8")
    assert main(["timetable", str(file), "--line", line]) == 2
    said = capsys.readouterr().err.replace("\u202f", " ")
    assert f"hangs up {hangs} at once, and the drying line has room for {room}: have" in said


MANY = (
    HEAD.format("Blue", "25 g")
    .replace("yarn:", "ash:")
    .replace(
        "equipment\n",
        "".join(f"  {lot}: wool yarn, 25 g, scoured\n" for lot in ("birch", "cedar", "elder"))
        + "\nequipment\n",
    )
    .replace("alum: potassium alum", "indigo: indigo powder\n  soda: soda ash\n  s: fructose")
    + """  vat: prepare in pot with water 8 L, indigo 8 g, soda 24 g, s 24 g at 50 °C covered fixed
  for each skein in ash, birch, cedar, elder
    repeat 3 times
      dip skein in vat at 50 °C for 5 min
      air skein for 15 min
  keep vat as old-vat labelled
"""
)


def test_of_many_waits_one_of_each_kind_is_told_with_how_many_there_are() -> None:
    """Where no smaller reason was found in the time, nobody reads fifty lines of it."""
    work = work_of([procedure.read(MANY, "blue.dye")], Asked(NINE, Hours(), "9:00-18:00")).work
    dips = {each.key for each in work.activities if each.name.startswith(("dip ", "air "))}
    among = {str(n) for n, lag in enumerate(work.lags) if {lag.before, lag.after} <= dips}
    chosen = [
        part
        for part in parts(work)
        if (part.kind in ("hours", "night") and part.key in dips)
        or (part.kind == "greatest wait" and part.key in among)
    ]
    assert len(chosen) > 20
    said = refusal(NoPlan(work, tuple(chosen), smallest=False)).splitlines()
    waits = [each for each in said if "has to" in each]
    assert 1 < len(waits) <= 4 and len(said) < 12
    assert len({each.split("because ")[1].split(";")[0] for each in waits}) == len(waits)
    told = sum(int(number) for number in re.findall(r"; so do (\d+) more like it", " ".join(waits)))
    assert told > 8


COPPER = ALUM.replace("alum: potassium alum", "alum: copper sulphate")
OPEN = (
    HEAD.format("Open", "100 g").replace("10 L, lidded", "10 L")
    + """  bath: prepare in pot with water 4 L, weld 50 g
  heat bath to 50 °C
  stand bath for 12 h
  discard bath to "foul drain"
"""
)


LEFT = ALUM.replace("cool b to 30 °C\n", "stand b for {} uncovered\n").replace("for 2 h", "for 1 h")


def test_a_bath_off_the_plate_stands_over_a_night_once_it_is_at_least_so_long() -> None:
    """Nobody looks every quarter of an hour, for ten hours, at a bath that cools by itself."""
    unfit = refused([LEFT.format("10 h")])
    assert "write “for at least 10\u202fh” there" in refusal(unfit)
    plans, made = made_of([LEFT.format("at least 10 h")])
    made = sound(plans, made)
    (stood,) = (each for each in made.placed if made.work.activity[each.key].name == "stand b")
    assert stood.end - stood.start >= 600
    (closes,) = (shut for shut, opens in made.work.nights if stood.start < shut < stood.end)
    assert stood.start + made.work.activity[stood.key].hot_for <= closes


@pytest.mark.parametrize(
    ("text", "why"),
    [
        (ALUM.replace("for 2 h", "for 9 h"), "since somebody sees to its heat"),
        (COPPER.replace("for 2 h", "for 3 h"), "since copper in it harms fibre that lies there"),
        (
            OPEN.replace("weld tops, dried", "rhubarb leaves, fresh"),
            "since what is in it can harm whoever comes by, and it has no lid on",
        ),
    ],
)
def test_a_refusal_says_why_a_step_may_not_go_on_at_night(text: str, why: str) -> None:
    assert why in refusal(refused([text], "9:00-15:00")).replace("\u202f", " ")


SUN = (
    HEAD.format("Sun", "100 g")
    + """  wet out yarn in tub with water 4 L at 30 °C for 1 h
  bath: prepare in pot with water 4 L, weld 50 g at 40 °C
  steep yarn in bath for {} covered labelled
  rinse yarn in tub with water 4 L at 30 °C
  dry yarn
  discard bath to "foul drain"
"""
)


def test_days_that_are_written_exactly_may_be_at_least_and_that_does() -> None:
    unfit = refused([SUN.format("10 days")], days="sat,sun")
    told = re.search(
        r"write “for at least (.+?)” there: it could be over at (.+)\.", refusal(unfit)
    )
    assert told is not None
    least = told[1].replace("\u202f", " ")
    plans, made = made_of([SUN.format(f"at least {least}")], days="sat,sun")
    made = sound(plans, made)
    assert moment_in_words(made.work, made.finish) == told[2]


def test_of_a_big_class_the_reason_is_a_few_steps_in_a_row(
    capsys: pytest.CaptureFixture[str],
) -> None:
    """Of eighty steps those nine are told that cannot be over in time, and no pot or plate."""
    file = str(Path(__file__).parents[2] / "examples/plans/workshop-day.dye")
    until = ["--start", "2099-11-28 09:00", "--finish-by", "2099-11-29 18:00"]
    assert main(["timetable", file, *until]) == 1
    said = " ".join(capsys.readouterr().err.split())
    assert "- 9 steps, from “cool bath overnight”" in said and "more steps" not in said
    assert "only one" not in said and "There may be a smaller reason" not in said


ONION = (EXAMPLES / "first-onion-skins.dye").read_text(encoding="utf-8")
SUNDAY_AT_SIX = 33 * 60
"""Minutes from nine on Saturday to six on Sunday."""


def refused_by(text: str, minute: int, hours: str = "9:00-18:00") -> NoPlan:
    """Why work is not over by a minute after nine on the first day."""
    by = NINE + timedelta(minutes=minute)
    _, made = made_of([text], hours, finish_by=by)
    assert isinstance(made, NoPlan)
    return made


def test_a_row_that_is_short_enough_by_itself_says_when_the_hours_let_it_be_over() -> None:
    """The night is over at nine; rinsing takes five minutes at the least, and drying half a day."""
    unfit = refused_by(ONION, SUNDAY_AT_SIX)
    night, rinsing, drying = unfit.activities
    whole = sum(each.lasting.most for each in unfit.activities)
    assert whole < SUNDAY_AT_SIX, "the sum alone would be no reason"
    assert night.overnight and (rinsing.lasting.most, drying.lasting.most) == (5, 12 * 60)
    assert (
        f"One after the other that is {span(whole)}, without any wait; in these hours the last is "
        "over at 21:05 on Sunday 29 November at the soonest." in refusal(unfit)
    )


def test_many_steps_in_a_row_say_so_as_well() -> None:
    unfit = refused_by(ALUM.replace("cool b to 30 °C", "cool b to 30 °C overnight"), 24 * 60 + 180)
    told = refusal(unfit)
    assert re.search(r"one after the other|One after the other", told)
    found = re.search(r"the last is over at (\d\d):(\d\d) on (\w+) (\d+) November", told)
    assert found, told
    hour, minute, _, day = found.groups()
    last = datetime(2099, 11, int(day), int(hour), int(minute))
    assert last > NINE + timedelta(days=1, hours=3)
    # No plan without a limit is over sooner.
    _, made = made_of([ALUM.replace("cool b to 30 °C", "cool b to 30 °C overnight")])
    assert isinstance(made, Timetable)
    assert NINE + timedelta(minutes=made.finish) >= last


def test_what_goes_on_by_itself_at_the_end_may_do_so_later_and_that_does() -> None:
    unfit = refused_by(ONION, SUNDAY_AT_SIX)
    (way,) = (each for each in unfit.ways_out if each.left)
    assert way.finish <= SUNDAY_AT_SIX
    when = moment_in_words(unfit.work, way.finish)
    assert f"All hands-on work can be done by {when}; “dry yarn” then goes on by itself." in (
        refusal(unfit)
    )
    plans, made = made_of([ONION])
    assert max(piece.end for piece in sound(plans, made).to_come) == way.finish


def test_work_that_takes_too_long_by_itself_is_not_told_to_be_done_in_time() -> None:
    unfit = refused_by(ONION, 24 * 60)  # nine on Sunday: the rinsing is not over
    assert not [each for each in unfit.ways_out if each.left]


def lots_by_hand(count: int) -> str:
    """Lots of which each is wetted, tied, rinsed and hung up: 40 minutes of hands for each."""
    names = [f"lot-{chr(97 + i)}" for i in range(count)]
    fibre = "".join(f"  {each}: wool yarn, 50 g, scoured\n" for each in names)
    tubs = "".join(f"  tub-{each}: plastic tub, 5 L, for dyeing only\n" for each in names)
    steps = "".join(
        f"  wet out {each} in tub-{each} with water 2 L at 30 °C for 30 min\n"
        f'  do "tie it" with {each} for 20 min\n'
        f"  rinse {each} in tub-{each} with water 2 L at 30 °C for 10 min\n"
        f"  dry {each}\n"
        for each in names
    )
    return f'procedure "Lots"\n\nfibre\n{fibre}\nequipment\n{tubs}\nsteps\n{steps}'


@pytest.mark.parametrize(
    ("text", "hours", "days", "said"),
    [
        (lots_by_hand(12), "9-11", f"{ONE_DAY}, 2099-11-29", ("8 h", "4 h in all")),
        (lots_by_hand(9), "9-13", ONE_DAY, ("6 h", "4 h in all")),
    ],
)
def test_of_much_hands_on_work_the_hands_alone_are_told(
    text: str, hours: str, days: str, said: tuple[str, str]
) -> None:
    minutes, there = (each.replace(" ", "\u202f", 1) for each in said)
    told = refusal(refused([text], hours, days)).splitlines()
    assert told[1] == (
        f"- There are {minutes} of hands-on work; the place is open for {there}, with one pair of "
        "hands."
    )
    assert len([each for each in told if each.startswith("- ")]) == 2
    assert "smaller reason" not in "\n".join(told)


def test_hands_that_are_wanted_before_all_dries_are_told_with_the_time() -> None:
    """What hangs for a day has to hang by three on Saturday, and all hands are wanted before."""
    unfit = refused_by(lots_by_hand(12), 30 * 60, "9-15")
    assert "- By 15:00 on Saturday 28 November 8\u202fh of hands-on work" in refusal(unfit), (
        refusal(unfit)
    )
    work = unfit.work
    by_hand = sum(
        each.lasting.most if each.attendance is Attendance.WHOLE else each.at_start + each.at_end
        for each in work.activities
    )
    assert by_hand == 8 * 60, "counted anew, step by step"


@pytest.mark.parametrize("hands", [("Ada",), ("Ada", "Bo")])
def test_hands_are_no_reason_where_there_is_a_plan(hands: tuple[str, ...]) -> None:
    """As much work as just goes into the hours, and a little less: nobody is said to be missing."""
    for count in (8, 9, 10):
        plans, made = made_of([lots_by_hand(count)], "9-18", hands=hands)
        work = sound(plans, made).work
        until = replace(work, finish_by=made.finish)
        assert too_few_hands(until, HANDS) is None


def test_what_cannot_begin_before_the_place_closes_for_good_is_the_reason() -> None:
    """Soaked until eleven, dipped five times with airings between: it is not rinsed by half past
    twelve, whatever else there is to do."""
    blue = HEAD.format("Blue", "100 g").replace(
        "  weld: weld tops, dried\n",
        "  indigo: indigo, ground\n  soda: soda ash\n  fructose: fructose\n",
    )
    blue += (
        "  wet out yarn in tub with water 4 L at 30 °C for 2 h\n"
        "  vat: prepare in pot with water 8 L, indigo 8 g, soda 24 g, fructose 24 g at 50 °C "
        "covered fixed\n"
        "  stand vat for 1 h covered\n"
        "  repeat 5 times\n"
        "    dip yarn in vat at 45 °C for 8 min\n"
        "    air yarn for 15 min\n"
        "  rinse yarn in tub with water 4 L at 30 °C\n"
        "  keep vat as old-vat in pot covered labelled\n"
        "  dry yarn\n"
    )
    unfit = refused([blue], "9-12:30", ONE_DAY)
    assert unfit.smallest and not unfit.has("resource")
    names = {each.name.split(" (")[0] for each in unfit.activities}
    assert names <= {"wet out yarn in tub", "dip yarn in vat", "air yarn", "rinse yarn in tub"}
    assert len(refusal(unfit).splitlines()) <= 7


def test_some_minutes_longer_are_asked_for_where_these_will_do() -> None:
    """Three hours of an evening are too short by a quarter of an hour, and not by an hour."""
    plan = procedure.load(Path(__file__).parents[2] / "examples" / "goldenrod-and-olive.dye")
    asked = Asked(datetime(2099, 11, 25, 18), Hours(times_of("18:00-21:00")), "18:00-21:00")
    unfit = fitted(work_of([plan], asked).work).made
    assert isinstance(unfit, NoPlan)
    assert unfit.stay == 20
    assert "If somebody could stay for 20 min longer, until 21:20," in refusal(unfit).replace(
        "\u202f", " "
    )
    asked = replace(asked, hours=Hours(times_of("18:00-21:20")), hours_said="18:00-21:20")
    made = fitted(work_of([plan], asked).work, reasons=False).made
    assert isinstance(made, Timetable)
    assert made.finish == unfit.stayed


def test_minutes_that_would_do_are_told_where_there_is_a_plan_in_such_hours() -> None:
    """An hour and a quarter by itself goes into a day that is a quarter of an hour longer."""
    alone = """procedure "A long look"
  makes "a brown bath"
equipment
  crock: stoneware jar, 15 L, lidded
materials
  hulls: walnut hulls, dried
steps
  brown: prepare in crock with water 8 L, hulls 200 g at cold
  do "watch it" for {minutes} min
"""
    plan = procedure.read(alone.format(minutes=75))
    asked = Asked(NINE, Hours(times_of("9-10"), *days_of("daily")), "9-10")
    work = work_of([plan], asked).work
    unfit = fitted(work).made
    assert isinstance(unfit, NoPlan)
    assert "15\u202fmin more on one day would do" in refusal(unfit)
    longer = replace(asked, hours=Hours(times_of("9-10:15"), *days_of("daily")))
    assert isinstance(fitted(work_of([plan], longer).work, reasons=False).made, Timetable)
