"""Participants at their own lots, a teacher at the vat; rings, power, the drying line; records."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from itertools import pairwise
from pathlib import Path

import pytest
from verifying import wrongs

import procedure
from procedure.collection.opening_hours import Hours, days_of, times_of
from procedure.command.main import main
from procedure.timetable import Timetable, Work, fitted, reliefs
from procedure.timetable.first_plan import first_plan
from procedure.timetable.from_plans import work_of
from procedure.timetable.participants import NoLotOf, owner_of
from procedure.timetable.planning import shortest_with
from procedure.timetable.terms import Asked

BEGINS = datetime(2099, 11, 28, 9)
EXAMPLES = Path(__file__).parents[2] / "examples"
DAY = EXAMPLES / "plans" / "workshop-day.dye"
TABLES = ("Elder", "Hazel", "Rowan", "Alder", "Birch", "Willow", "Holly", "Thorn")
START = ["--start", "2099-11-28 09:00"]
TWO_POTS = """procedure "Two pots"
  place outdoors
fibre
  yarn: wool yarn, 100 g, scoured, mordanted
equipment
  kettle: stainless steel pot, 10 L, lidded, for dyeing only
  pan: stainless steel pot, 10 L, lidded, for dyeing only
  hob: hotplate, 2 kW
  stove: hotplate, 1 kW
materials
  onion: onion skins, dried
steps
  one: prepare in kettle with water 5 L, onion 50 g
  two: prepare in pan with water 5 L, onion 50 g
  heat one to 80 °C on hob
  heat two to 80 °C on {other}
"""


def work(file: Path, **asked: object) -> Work:
    return work_of([procedure.load(file)], Asked(BEGINS, Hours(), "9:00-18:00", **asked)).work  # type: ignore[arg-type]


def planned(wanted: Work) -> Timetable:
    made = fitted(wanted).made
    assert isinstance(made, Timetable)
    assert wrongs(made.work, {each.key: (each.start, each.end) for each in made.placed}) == []
    return made


def two_pots(folder: Path, other: str) -> Path:
    file = folder / "two.dye"
    file.write_text(TWO_POTS.format(other=other), encoding="utf-8")
    return file


def heatings(made: Timetable) -> list[tuple[int, int]]:
    names = {each.key for each in made.work.activities if each.name.startswith("heat ")}
    return sorted((each.start, each.end) for each in made.placed if each.key in names)


def test_participants_work_at_their_own_lots_and_a_teacher_is_at_the_vat() -> None:
    made = planned(work(DAY, hands=("Teacher",), participants=TABLES))
    known = made.work.activity
    for key, each in known.items():
        people = {need.resource for need in each.hands}
        if each.name.startswith("dip "):
            table = each.lots[0].capitalize()
            assert people == {"hands", f"hands of {table}"}, key
        elif each.name.startswith("rinse elder"):
            assert people == {"hands of Elder"}
    # One teacher: no two are dipped at once.
    dips = sorted((p.start, p.end) for p in made.placed if known[p.key].name.startswith("dip "))
    assert all(a[1] <= b[0] for a, b in pairwise(dips))


@pytest.mark.parametrize(
    ("lot", "participants", "owner"),
    [
        ("ann-marie", ("Ann-Marie",), "Ann-Marie"),
        ("ann-marie", ("Ann", "Ann-Marie"), "Ann-Marie"),
        ("ann-marie.short", ("Ann Marie",), "Ann Marie"),
        ("ann", ("Ann", "Ann-Marie"), "Ann"),
        ("annex", ("Ann",), ""),
        ("marie-ann", ("Ann-Marie",), ""),
        ("elder-sample", ("Hazel", "Elder"), "Elder"),
    ],
)
def test_whose_a_lot_is(lot: str, participants: tuple[str, ...], owner: str) -> None:
    assert owner_of(lot, participants) == owner


def test_a_participant_without_a_lot_is_said_so() -> None:
    with pytest.raises(NoLotOf, match="No lot is Zoe’s"):
        work(DAY, participants=("Zoe",))


def test_participants_whose_lots_are_always_with_others_are_said_to_do_nothing_alone(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "class.dye"
    file.write_text(
        TWO_POTS.split("steps")[0] + "steps\n  split yarn into ash 50 g, elm 50 g\n"
        "  rinse ash, elm in pan with water 5 L\n  rinse elm in pan with water 5 L\n",
        encoding="utf-8",
    )
    given = [str(file), *START, "--hands", "Rowan", "--participants", "Ash,Elm"]
    assert main(["timetable", *given]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert "- Ash does no step alone" in said and "That is planned for Rowan" in said
    assert "Rinse elm in pan, until 09:35 [Elm]" in said
    assert main(["timetable", *given, "--who", "Ash"]) == 2
    assert "Ash does no step alone" in capsys.readouterr().err
    assert main(["timetable", *given, "--who", "Elm"]) == 0
    assert "Rinse elm" in capsys.readouterr().out
    assert main(["timetable", str(file), *START, "--hands", "Rowan", "--who", "Ash"]) == 2
    assert "Nobody in this plan is called Ash; there is Rowan." in capsys.readouterr().err


def test_what_will_not_fit_into_one_day_is_said(capsys: pytest.CaptureFixture[str]) -> None:
    given = ["--hours", "10-16", "--days", "2099-11-28", "--participants", ",".join(TABLES)]
    assert main(["timetable", str(DAY), *START, *given]) == 1
    assert (
        "the place is open from 10:00 to 16:00 on Saturday 28 November only"
        in capsys.readouterr().err
    )


def test_two_pots_on_the_hotplates_that_they_name(tmp_path: Path) -> None:
    apart = heatings(planned(work(two_pots(tmp_path, "stove"), hands=("Ada", "Bo"))))
    assert apart[1][0] < apart[0][1]
    same = heatings(planned(work(two_pots(tmp_path, "hob"), hands=("Ada", "Bo"))))
    assert same[0][1] <= same[1][0]


def test_a_second_plate_makes_no_heating_slower(tmp_path: Path) -> None:
    """A step that names no plate heats as on the weakest there is, and with one alike as before."""
    one = TWO_POTS.replace("  stove: hotplate, 1 kW\n", "").replace(" on {other}", "")
    lengths = []
    for text in (one, one.replace("2 kW\n", "2 kW\n  stove: hotplate, 2 kW\n")):
        file = tmp_path / "plates.dye"
        file.write_text(text.replace(" on hob", ""), encoding="utf-8")
        known = work(file).activities
        lengths.append([each.lasting for each in known if each.name.startswith("heat ")])
    assert len(lengths[0]) == 2 and lengths[0] == lengths[1]
    file.write_text(TWO_POTS.replace(" on {other}", ""), encoding="utf-8")
    drawn = work_of([procedure.load(file)], Asked(BEGINS, Hours(), "9:00-18:00"))
    on_hob, unnamed = (each.lasting for each in drawn.work.activities if "heat " in each.name)
    assert unnamed.least == on_hob.least and unnamed.most > on_hob.most
    assert any("weakest of them, stove" in each for each in drawn.supposed)


@pytest.mark.parametrize(
    ("declared", "at_once"),
    [
        ("hotplate, 2 kW", False),
        ("2 hotplates, 2 kW", True),
        ("two hotplates, 2 kW", True),
        ("gas stove with four burners", True),
        ("stove, 2 rings", True),
        ("stove, 2 kW, 2 rings", False),  # they share its power
    ],
)
def test_as_many_rings_as_are_declared(tmp_path: Path, declared: str, at_once: bool) -> None:
    file = tmp_path / "rings.dye"
    text = TWO_POTS.replace("  stove: hotplate, 1 kW\n", "").replace("hotplate, 2 kW", declared)
    file.write_text(text.format(other="hob"), encoding="utf-8")
    first, second = heatings(planned(work(file, hands=("Ada", "Bo"))))
    assert (second[0] < first[1]) is at_once


def test_the_power_of_the_place_is_shared(tmp_path: Path) -> None:
    file = two_pots(tmp_path, "stove")
    shared = heatings(planned(work(file, hands=("Ada", "Bo"), power=2500)))
    assert shared[0][1] <= shared[1][0]


TWO_RISES = """procedure "Two slow rises"
  place outdoors
fibre
  yarn: wool yarn, 100 g, scoured, mordanted
  cloth: wool cloth, 100 g, scoured, mordanted
equipment
  kettle: stainless steel pot, 8 L, lidded, for dyeing only
  pan: stainless steel pot, 8 L, lidded, for dyeing only
  tub: plastic tub, 20 L, for dyeing only
  {plates}
materials
  onion: onion skins, dried
steps
  wet out yarn, cloth in tub with water 8 L at 30 °C for 1 h
  one: prepare in kettle with water 4 L, onion 50 g at 40 °C
  two: prepare in pan with water 4 L, onion 50 g at 40 °C
  dye yarn in one from 40 °C to 85 °C {over} for 1 h
  dye cloth in two from 40 °C to 85 °C {over} for 1 h
  lift yarn
  lift cloth
  dry yarn, cloth
"""
ONE_PLATE = "hob: hotplate, 2 kW"
TWO_PLATES = "hob: hotplate, 2 kW\n  stove: hotplate, 1 kW"


def rises(folder: Path, plates: str, over: str = "over 45 min", **asked: object) -> Timetable:
    file = folder / "rises.dye"
    file.write_text(TWO_RISES.format(plates=plates, over=over), encoding="utf-8")
    return planned(work(file, hands=("Ada", "Bo"), **asked))


def both_at_once(made: Timetable) -> bool:
    one, two = (made.at[each.key] for each in made.work.activities if each.name[:4] == "dye ")
    return one.start < two.end and two.start < one.end


@pytest.mark.parametrize("plates", (ONE_PLATE, TWO_PLATES))
def test_more_rings_than_plates_are_of_use(tmp_path: Path, plates: str) -> None:
    """A rise that is written to take its time needs little of a plate, so two go on at once."""
    alone = rises(tmp_path, plates, rings=1)
    assert not both_at_once(alone)
    for rings in (2, 3):
        made = rises(tmp_path, plates, rings=rings)
        assert both_at_once(made) and made.finish < alone.finish, rings


def test_more_rings_never_make_it_longer(tmp_path: Path) -> None:
    for over in ("", "over 45 min", "over 10 min"):
        ends = [rises(tmp_path, TWO_PLATES, over, rings=each).finish for each in (1, 2, 3)]
        assert ends == sorted(ends, reverse=True), over


def test_what_wants_all_of_one_plate_is_heated_in_turn_and_that_is_said(tmp_path: Path) -> None:
    assert not both_at_once(rises(tmp_path, ONE_PLATE, "over 10 min", rings=2))
    file = tmp_path / "rises.dye"
    asked = Asked(BEGINS, Hours(), "9:00-18:00", rings=2)
    said = work_of([procedure.load(file)], asked).supposed
    assert any(each.startswith("2 pots at once share the 2000 W of hob") for each in said)
    same = work_of([procedure.load(file)], Asked(BEGINS, Hours(), "9:00-18:00")).supposed
    assert not any("share" in each for each in same)


def test_a_supply_that_is_too_weak_is_helped_by_power_and_not_by_a_plate(tmp_path: Path) -> None:
    made = rises(tmp_path, TWO_PLATES, power=2000)
    assert not both_at_once(made), "a plate is on or off, however slow the rise"
    found = {each.resource.key: each.least for each in reliefs(made)}
    assert found["power"] > 0 and not found.get("rings")


def test_the_line_holds_so_many_kilograms() -> None:
    file = EXAMPLES / "plans" / "workshop-day.dye"
    made = work(file, line=400)
    taken = [n.amount for each in made.activities for n in each.needs if n.resource == "line"]
    assert taken and max(taken) == 50  # a skein of 50 g at each table


def test_the_list_rule_finds_a_plan_of_each_big_one() -> None:
    for name in ("greens-and-teals", "workshop-day", "shade-card-24", "madder-walnut-iron"):
        assert first_plan(work(EXAMPLES / "plans" / f"{name}.dye")) is not None, name
    assert first_plan(work(EXAMPLES / "three-lots-one-bath.dye")) is not None


def test_what_is_longer_than_the_day_is_planned_shorter() -> None:
    found = fitted(work(EXAMPLES / "standard" / "tannin-and-alum.dye"))
    # Tannin for 3 to 12 h covered: 12 h end at night.
    assert found.shortened == (("tan", 12 * 60),)


def test_a_pot_that_its_own_procedure_cleans_is_not_cleaned_again_for_another(
    tmp_path: Path,
) -> None:
    first = two_pots(tmp_path, "hob").read_text(encoding="utf-8")
    names = []
    first += '  discard one to "foul drain"\n  discard two to "foul drain"\n'
    for number, ending in enumerate(("", "  clean kettle\n  clean pan\n")):
        file = tmp_path / f"{number}.dye"
        file.write_text(first + ending, encoding="utf-8")
        names.append(file)
    drawn = work_of([procedure.load(each) for each in names], Asked(BEGINS, Hours(), "9:00-18:00"))
    again = [
        each
        for each in drawn.work.activities
        if any("another procedure uses it" in said for said in each.cautions)
    ]
    assert {each.name for each in again} == {"discard one", "discard two"}
    assert all(each.key.startswith("1: ") for each in again), "the other cleans them itself"


def test_a_batch_record_says_what_is_done(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    record = tmp_path / "today.batch"
    record.write_text(
        'batch "Madder"\n  of "madder-red-wool.dye"\n  day 2099-11-28\n\nsteps\n'
        '  step 1 "wet out yarn in tub"\n    begun 9:10\n    ended 10:20\n'
        '  step 3 "mordant yarn"\n    begun 10:30\n',
        encoding="utf-8",
    )
    plan = str(EXAMPLES / "madder-red-wool.dye")
    assert main(["timetable", plan, "--record", str(record)]) == 0
    said = capsys.readouterr().out.replace("\u202f", " ")
    assert "1  Done by 10:20: wet out yarn in tub." in said
    assert "Mordant yarn in alum-bath: 5 min, then look at it every 10 min until 12:15." in said
    empty = tmp_path / "empty.batch"
    empty.write_text('batch "Madder"\n  day 2099-11-28\n', encoding="utf-8")
    assert main(["timetable", plan, "--record", str(empty)]) == 2
    assert "does not say when any step was begun" in capsys.readouterr().err


def test_what_a_record_says_was_left_out_is_not_planned(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    record = tmp_path / "today.batch"
    record.write_text(
        'batch "Madder"\n  of "madder-red-wool.dye"\n  day 2099-11-28\n\nsteps\n'
        '  step 1 "wet out yarn in tub"\n    skipped "it was wet already"\n'
        '  step 2 "prepare alum-bath"\n    begun 9:10\n    ended 9:30\n',
        encoding="utf-8",
    )
    plan = str(EXAMPLES / "madder-red-wool.dye")
    assert main(["timetable", plan, "--record", str(record)]) == 0
    said = capsys.readouterr().out.replace("\u202f", " ")
    assert "1  Left out: wet out yarn in tub." in said
    assert "2  Done by 09:30: prepare alum-bath" in said
    assert "Wet out yarn" not in said


EIGHT = tuple(name.lower() for name in TABLES)
THREE = ("a", "b", "c")


def class_of_eight(folder: Path) -> Path:
    """Eight skeins, each through one of three pots and then through the one vat."""
    lots = "".join(f"  {each}: wool yarn, 50 g, scoured, mordanted\n" for each in EIGHT)
    pots = "".join(
        f"  pot-{each}: stainless steel pot, 12 L, lidded, for dyeing only\n"
        f"  hob-{each}: hotplate, 2 kW\n"
        for each in THREE
    )
    baths = "".join(
        f"  bath-{each}: prepare in pot-{each} with water 8 L, onion 100 g\n"
        f"  simmer bath-{each} for 30 min\n"
        for each in THREE
    )
    dyed = "".join(
        f"  wet out {each} in tub with water 3 L for 30 min\n"
        f"  dye {each} in bath-{THREE[i % 3]} at 85 °C for 20 min\n"
        for i, each in enumerate(EIGHT)
    )
    dipped = "".join(
        f"  dip {each} in vat at 50 °C for 3 min\n  air {each} for 10 min\n" for each in EIGHT
    )
    file = folder / "eight.dye"
    file.write_text(
        f"""procedure "A class of eight"
  place outdoors
fibre
{lots}equipment
{pots}  vat-pot: stainless steel pot, 15 L, lidded, for dyeing only
  tub: plastic tub, 20 L, for dyeing only
materials
  onion: onion skins, dried
  soda: washing soda
  indigo: indigo
  fructose: fructose
steps
{baths}{dyed}
  vat: prepare in vat-pot with water 12 L, soda 48 g, fructose 48 g, indigo 9 g at 50 °C
  stand vat for 45 min at 50 °C covered
{dipped}  keep vat as class-vat covered labelled
""",
        encoding="utf-8",
    )
    return file


def test_eight_people_one_vat_and_three_pots_go_into_a_day_from_ten_to_four(
    tmp_path: Path,
) -> None:
    day = datetime(2099, 11, 28, 10)
    hours = Hours(times_of("10:00-16:00"), *days_of("2099-11-28"))
    asked = Asked(day, hours, "10:00-16:00", participants=EIGHT)
    made = planned(work_of([procedure.load(class_of_eight(tmp_path))], asked).work)
    assert made.shortest and made.days == 1 and made.finish <= 6 * 60
    dips = [each for each in made.work.activities if each.name.startswith("dip ")]
    assert len(dips) == 8
    assert all({need.resource for need in each.hands} >= {"hands"} for each in dips)
    # Whoever dips has a teacher at the vat, so the turns come one after another.
    turns = sorted((made.at[each.key].start, made.at[each.key].end) for each in dips)
    assert all(before[1] <= after[0] for before, after in pairwise(turns))


def test_with_a_second_pot_of_a_name_two_baths_are_in_them_at_once(tmp_path: Path) -> None:
    file = tmp_path / "one.dye"
    file.write_text(
        TWO_POTS.split("steps")[0]
        + """steps
  one: prepare in kettle with water 5 L, onion 50 g
  heat one to 80 °C
  discard one to "foul drain"
  two: prepare in kettle with water 5 L, onion 50 g
  heat two to 80 °C
  discard two to "foul drain"
""",
        encoding="utf-8",
    )
    alone = planned(work(file))
    both = planned(work(file, pots=(("kettle", 2),)))
    assert both.work.resource["pot kettle"].units == ("kettle 1", "kettle 2")
    assert both.finish < alone.finish
    kettle = next(each for each in reliefs(alone) if each.resource.key == "pot kettle")
    assert kettle.proven and kettle.least == alone.finish - both.finish


def test_a_sink_is_one_persons_at_a_time(tmp_path: Path) -> None:
    made = planned(work(two_pots(tmp_path, "stove"), sinks=1))
    assert "sinks" not in made.work.resource  # nothing is poured away
    made = planned(work(EXAMPLES / "madder-red-wool.dye", sinks=1))
    assert made.work.resource["sinks"].capacity == 1
    at_sink = [
        each.key for each in made.work.activities if "sinks" in {n.resource for n in each.needs}
    ]
    assert len(at_sink) >= 3


def test_what_another_saves_is_known_where_a_vat_is_warmed_for_less_time_by_it() -> None:
    """Warming again is as short as it has to be: that is no step that gives more for it."""
    asked = Asked(BEGINS, Hours(), "9:00-18:00")
    made = fitted(work_of([procedure.load(DAY)], asked).work).made
    assert isinstance(made, Timetable)
    saves = {each.resource.kind: each for each in reliefs(made, whole=shortest_with)}
    two = replace(asked, hands=("Ada", "Bo"))
    other = fitted(work_of([procedure.load(DAY)], two).work).made
    assert isinstance(other, Timetable)
    assert saves["people"].proven and saves["people"].least == made.finish - other.finish > 0
