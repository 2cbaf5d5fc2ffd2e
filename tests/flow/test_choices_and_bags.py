"""Choices exclude each other; bags and their plants are followed; fibre brings its past."""

from fractions import Fraction
from pathlib import Path

import pytest

from procedure.pipeline import Judged, read
from procedure.quantity.interval import Interval
from procedure.trace.heat import mixed
from procedure.weigh.weighing import weigh

ROOT = Path(__file__).parents[2]
FRAME = (ROOT / "tests" / "trials" / "phrases-frame.dye").read_text("utf-8")


def judged(steps: str, **changes: str) -> Judged:
    text = FRAME
    for part, lines in changes.items():
        text = text.replace(f"  # part: {part}\n", f"  # part: {part}\n  {lines}\n")
    return read(text + "".join(f"  {line}\n" for line in steps.split("\n")), "x.dye")


EITHER = """either "a warm grey"
  add copperas 2 g to dye-bath
or "a cool grey"
  add copperas 3 g to dye-bath
or "no grey at all"
  rinse yarn in tub with water 5 L at 30 °C"""


def test_nothing_adds_up_across_the_ways_of_a_choice() -> None:
    plan = judged(EITHER)
    total = weigh(plan).total("copperas", "mass")
    assert total is not None and total.high == 3  # never 2 g and 3 g together


def test_what_every_way_takes_is_sure() -> None:
    plan = judged("either\n  add galls 2 g to dye-bath\nor\n  add galls 3 g to dye-bath")
    assert weigh(plan).total("galls", "mass") == Interval(Fraction(2), Fraction(3))


def test_each_way_begins_where_the_choice_began() -> None:
    plan = judged(
        'either "one"\n  discard dye-bath to "foul drain"\nor "two"\n'
        '  dye yarn in dye-bath at 60 °C for 1 h\n  discard dye-bath to "foul drain"'
    )
    assert not [one for one in plan.findings if one.rule == "used-after-emptied"]
    assert not [
        one for one in plan.findings if one.rule == "bath-left-over" and "dye-bath" in one.sentence
    ]


def test_or_in_a_line_is_a_choice_of_steps() -> None:
    plan = judged("add tannin 5 g or galls 10 g to dye-bath")
    found = plan.trace.final.baths["dye-bath"].contents
    assert found["tannin"].path and found["galls"].path
    assert found["tannin"].path != found["galls"].path


def test_an_or_without_an_either_is_told() -> None:
    plan = judged('or "a cool grey"\n  add galls 5 g to dye-bath')
    assert [one for one in plan.findings if one.rule == "or-without-either"]


def test_a_bag_is_followed_into_the_bath_and_out() -> None:
    steps = "put madder 50 g in bag\nput bag into dye-bath\nhold dye-bath at 60 °C for 1 h"
    inside = judged(steps).trace.final
    assert inside.baths["dye-bath"].contents["madder"].bag == "bag"
    assert inside.pots["bag"].matter == {"madder": Interval(Fraction(50), Fraction(50))}
    out = judged(f"{steps}\ntake bag out of dye-bath").trace.final
    assert not out.baths["dye-bath"].contents["madder"].solid  # its colour stays
    assert not out.pots["bag"].within
    away = judged(f"{steps}\ntake bag out of dye-bath\nempty bag to “compost”").trace.final
    assert not away.pots["bag"].matter


def test_a_bag_that_is_never_emptied_is_told() -> None:
    plan = judged("put madder 50 g in bag\nput bag into dye-bath\ntake bag out of dye-bath")
    assert [one for one in plan.findings if one.rule == "bag-left-full"]


def test_fibre_brings_what_was_done_before() -> None:
    plan = judged(
        "rest yarn in bag for 2 d",
        fibre="pale: wool yarn, 4 skeins of 25 g, scoured, mordanted with alum 10 %, dry",
    )
    (taken,) = plan.trace.final.lots["pale"].mordants.values()
    assert taken.grams == Interval(Fraction(10), Fraction(10))  # 10 % of 4 times 25 g
    assert not [one for one in plan.findings if one.line == 14 and one.level == "error"]


def test_boiling_liquor_added_to_a_cold_bath_gives_the_mixed_heat() -> None:
    # 3 gal at 100 °C into 5 gal at 14 °C: (3 x 100 + 5 x 14) / 8 = 46.25 °C.
    heat = mixed(
        Interval(Fraction(14), Fraction(14)),
        Interval(Fraction(5), Fraction(5)),
        Interval(Fraction(100), Fraction(100)),
        Interval(Fraction(3), Fraction(3)),
    )
    assert heat == Interval(Fraction(185, 4), Fraction(185, 4))


def test_the_session_with_a_bag_is_sound() -> None:
    path = ROOT / "examples" / "tansy-on-two-mordants.dye"
    plan = read(path.read_text("utf-8"), path.name, path)
    assert {one.level for one in plan.findings} <= {"note"}
    total = weigh(plan).total("tansy", "mass")
    assert total == Interval(Fraction(800), Fraction(800))  # 4 to 1 of both lots, 100 g each
    assert not plan.trace.final.pots["bag"].matter


@pytest.mark.parametrize(
    "poured",
    [
        "add boiling water 3 gal (imp) to dye-bath",
        "add water 3 gal (imp) to dye-bath at 100 °C",
        "top up dye-bath with water 3 gal (imp) at 100 °C",
    ],
)
def test_boiling_water_warms_the_bath_that_it_goes_into(poured: str) -> None:
    made = "cold-bath: prepare in tub with water 5 gal (imp) at 14 °C"
    plan = judged(f"{made}\n{poured}".replace("dye-bath", "cold-bath"))
    heat = plan.trace.final.baths["cold-bath"].heat
    assert heat is not None
    # (3 x 100 + 5 x 14) / 8 = 46.25 °C; what boils is 95 °C at least.
    assert Fraction(355, 8) <= heat.low <= heat.high == Fraction(185, 4)


def test_boiling_liquor_strained_into_a_cold_bath_warms_it() -> None:
    plan = judged(
        "cold-bath: prepare in tub with water 5 gal (imp) at 14 °C\n"
        "liquor: prepare in kettle with water 3 gal (imp) at 100 °C\npour liquor into cold-bath"
    )
    heat = plan.trace.final.baths["cold-bath"].heat
    assert heat is not None and heat.high == Fraction(185, 4)  # about 46 °C


def test_from_hot_to_cold_overnight_is_cooling() -> None:
    plan = judged("simmer dye-bath for 1 h\ncool dye-bath from hot to cold overnight covered")
    moment = plan.trace.moments[-1]
    before, after = moment.bath_before, moment.bath_after
    assert before is not None and before.heat is not None and before.heat.low >= 80
    assert after is not None and after.heat is not None and after.heat.high <= 25
    wrong = {"heat-backwards", "cannot-be", "cannot-read", "heat-shock"}
    told = [one for one in plan.findings if one.line == moment.step.verb_place.line]
    assert not wrong & {one.rule for one in told}
    assert {one.level for one in told} <= {"note"}


def test_so_much_longer_is_added_to_the_time_before() -> None:
    plan = judged("dye yarn in dye-bath at 60 °C for 1 h\nsimmer dye-bath 30 min longer")
    minutes = [one.minutes for one in plan.trace.moments[-2:]]
    assert minutes == [Interval(Fraction(60), Fraction(60)), Interval(Fraction(30), Fraction(30))]


def test_the_rest_of_a_bath_is_what_is_left_of_it() -> None:
    plan = judged(
        "discard 1/3 of dye-bath to “foul drain”\nkeep the rest of dye-bath as second in tub"
    )
    left = plan.trace.final.baths["dye-bath"].volume
    assert left == Interval(Fraction(4), Fraction(4))  # of 6 L


@pytest.mark.parametrize("said", ["the rest of the alum", "all of the alum", "all the alum"])
def test_the_rest_of_a_material_is_asked_for_at_its_name(said: str) -> None:
    plan = judged(f"add {said} to dye-bath")
    (found,) = [one for one in plan.findings if one.rule == "amount-unstated"]
    line = plan.text.splitlines()[found.line - 1]
    assert line[found.column - 1 : found.to - 1] in ("alum", "rest of the alum") and said in line


@pytest.mark.parametrize("said", ["all the yarn", "the remaining yarn", "the rest of the yarn"])
def test_all_of_a_lot_is_the_lot(said: str) -> None:
    plan = judged(f"dye {said} in dye-bath at 40 °C for 1 h\nlift yarn")
    moment = plan.trace.moments[-2]
    assert moment.node.lots == ("yarn",)
    line = moment.step.verb_place.line
    assert "cannot-read" not in {one.rule for one in plan.findings if one.line == line}


def test_more_of_a_material_is_added_to_what_is_there() -> None:
    plan = judged("add alum 2 g to dye-bath\nadd more alum 3 g to dye-bath")
    grams = plan.trace.final.baths["dye-bath"].contents["alum"].grams
    assert grams == Interval(Fraction(5), Fraction(5))
