"""What a step leaves unsaid comes from before it; what is heated, kept, cooled and thrown where."""

import re

import pytest
from papers import METRIC, in_words

import procedure
from procedure.findings import Finding
from procedure.handout.contents import telling_of
from procedure.handout.numbered_steps import tell
from procedure.pipeline import read

FRAME = """procedure "What is before"
fibre
  yarn: wool yarn, 4 skeins of 50 g, scoured
  silk: silk yarn, 50 g, scoured
equipment
  pot: stainless steel pot, 15 L, lidded, for dyeing only
  pan: stainless steel pot, 10 L, lidded, for dyeing only
  crock: stoneware jar, 12 L, lidded, for dyeing only
  tub: plastic tub, 20 L, for dyeing only
  bag: muslin bag, for dyeing only
materials
  onion: onion skins, dried
  madder: madder root, dried
  weld: weld, dried
  alum: potassium alum
  tartar: cream of tartar
  soda: soda ash
steps
"""
FIRST = FRAME.count("\n")
BATH = "dye-bath: prepare in pot with water 8 L, madder 50 g\n"
DYED = BATH + "dye yarn in dye-bath at 60 °C for 1 h\n"


def written(text: str) -> str:
    return FRAME + "".join(f"  {line}\n" for line in text.strip("\n").split("\n"))


def papers(text: str) -> list[str]:
    """What the handout says of each step."""
    steps = tell(telling_of(procedure.read(written(text), "x.dye"), METRIC))
    said = [in_words(one.text) for step in steps for one in step.every()]
    return [re.sub(r", \d+ to \d+ °F| \(\d+ °F\)", "", one) for one in said]


def found(text: str, *rules: str) -> list[Finding]:
    """What some rules find in the text's own lines; any rule where none is named."""
    all_found = read(written(text)).findings
    return [one for one in all_found if one.line > FIRST and (one.rule in rules or not rules)]


def amounts(text: str) -> dict[str, float]:
    """What is weighed of each material and of water, in g and L."""
    made: dict[str, float] = {}
    for moment in read(written(text)).study.moments:
        for thing, _, amount in moment.amounts:
            assert amount is not None, thing
            assert amount.low == amount.high
            made[thing] = made.get(thing, 0) + float(amount.low)
    return made


UNSAID = ("heat-unstated", "time-unstated", "something-missing", "wrong-kind-of-thing")


def test_a_treatment_is_heated_and_kept_hot_by_what_follows_it_in_its_line() -> None:
    line = (
        "mordant yarn in pot with 8 L water and 20 g alum, heat to 85 °C in 1 hour, keep for 1 hour"
    )
    assert papers(line) == [
        "Make a bath in the pot: 8 L of water and 20 g of potassium alum. Put the yarn into this "
        "bath and mordant it: bring the bath to 85 °C over 1 hour, then keep it there for 1 hour."
    ]
    assert found(line, *UNSAID) == []


@pytest.mark.parametrize(
    "line",
    [
        "dye yarn in dye-bath at 50 °C for 1 h, heat to 80 °C, keep for 30 min, lift and rinse",
        "put yarn in dye-bath, bring to 80 °C, keep for 30 min, lift it and rinse it",
        "enter yarn in dye-bath and heat to 80 °C, then keep it at 80 °C for 1 h, lift and rinse",
        "steep yarn in dye-bath for 1 h, heat to 80 °C, hold 30 min, lift and rinse",
    ],
)
def test_the_bath_is_kept_hot_with_the_fibre_in_it_and_the_fibre_comes_out(line: str) -> None:
    said = papers(BATH + line)
    assert "Heat the dye bath to 80 °C, with the yarn still in it." in said
    assert any(one.startswith("Keep the dye bath") for one in said)
    assert not any("teep the yarn in" in one for one in said[2:])
    assert said[-2].startswith("Lift the yarn out of the dye bath")
    assert found(BATH + line, *UNSAID) == []


def test_what_the_lines_behind_say_of_the_bath_is_not_asked_for() -> None:
    mordant = "mordant yarn in pot with 8 L water and 20 g alum\n"
    assert found(mordant + "heat to 85 °C in 1 hour\nkeep for 1 hour", *UNSAID) == []
    unsaid = found(mordant + "lift yarn\nheat pot bath to 85 °C\nhold pot bath for 1 h", *UNSAID)
    assert {one.rule for one in unsaid} == {"heat-unstated", "time-unstated"}


def test_simmering_is_no_keeping_of_another_heat() -> None:
    said = papers(BATH + "dye yarn in dye-bath, heat to 60 °C, simmer for 30 min")
    assert said[1].endswith("dye it: bring the bath to 60 °C.")
    assert said[2].startswith("Simmer the dye bath")


def test_what_a_step_is_done_to_never_comes_from_behind_it() -> None:
    text = BATH + (
        "enter yarn and silk in dye-bath\n"
        "simmer for 20 min, then lift silk\n"
        "heat to 80 °C and lift yarn\n"
    )
    assert papers(text)[2:] == [
        "Simmer the dye bath (80 to 95 °C) for 20 minutes, with the yarn and the silk still in it.",
        "Lift the silk out of the dye bath.",
        "Heat the dye bath to 80 °C, with the yarn still in it.",
        "Lift the yarn out of the dye bath.",
    ]


def test_verbs_beside_each_other_share_the_thing_behind_them() -> None:
    assert papers("wash and rinse yarn in tub with water 5 L")[0].startswith("Wash the yarn")


@pytest.mark.parametrize(
    "line",
    ["leave in pot to cool", "cool in the bath", "turn off the heat and leave yarn in dye-bath"],
)
def test_fibre_that_is_left_to_cool_is_told_to_cool(line: str) -> None:
    cold = "Let the dye bath cool to cold (5 to 25 °C), with the yarn still in it."
    assert papers(DYED + line)[-1] == cold
    (told,) = found(DYED + line, *UNSAID)
    assert told.level == "note"
    assert told.sentence == "It is not said how far to cool, so it is read as cold (5 to 25 °C)."


def test_how_long_and_how_far_it_cools_is_kept() -> None:
    two_hours = "turn off the heat and leave yarn in dye-bath for 2 h"
    with_it = "with the yarn still in it."
    assert papers(DYED + two_hours)[-1] == f"Let the dye bath cool for 2 hours, {with_it}"
    to = DYED.rstrip("\n") + ", cool in the bath to 30 °C"
    assert papers(to)[-1] == f"Let the dye bath cool to 30 °C, {with_it}"


def test_a_bath_is_named_once_more_by_the_bath() -> None:
    line = "dye yarn in dye-bath, heat to 60 °C, hold for 1 h, then cool overnight in the bath"
    assert papers(BATH + line)[-1].startswith("Let the dye bath cool overnight")
    assert found(BATH + line, "clause-out-of-place", *UNSAID) == []


def test_fibre_that_is_not_in_the_bath_is_put_into_it() -> None:
    said = papers(BATH + "cool yarn in dye-bath for 2 h")[-1]
    assert said.startswith("Put the yarn into the dye bath")


def test_a_night_from_hot_to_cold_is_the_cooling() -> None:
    said = papers(DYED + "steep silk in dye-bath from hot to cold overnight")[-1]
    assert said.endswith("to cold (5 to 25 °C) overnight (8 to 16 hours).")


def test_cooling_in_a_plastic_tub_heats_nothing() -> None:
    text = "tannin-bath: prepare in tub with water 10 L, onion 50 g at 60 °C\n"
    assert (
        found(text + "steep silk in tannin-bath from hot to cold overnight", "cannot-be-heated")
        == []
    )
    hotter = found(text + "steep silk in tannin-bath from cold to hot for 1 h", "cannot-be-heated")
    assert len(hotter) == 1


@pytest.mark.parametrize(
    "line",
    [
        "infuse 200 g weld in pot with 5 L boiling water for 1 h",
        "soak 200 g weld in pan with 5 L boiling water overnight",
    ],
)
def test_boiling_water_that_is_poured_on_boils_nothing_for_long(line: str) -> None:
    assert "starting at the boil (95 to 100 °C)" in papers(line)[0]
    assert found(line, "dyestuff-too-hot") == []


def test_a_plant_that_is_boiled_is_still_told_of() -> None:
    assert len(found("boil 200 g weld in pot with 5 L water for 1 h", "dyestuff-too-hot")) == 1


def test_hot_water_may_go_into_stoneware_and_boiling_water_may_not() -> None:
    assert found("put madder 100 g in crock with 5 L hot water", "cannot-be-heated") == []
    assert len(found("put madder 100 g in crock with 5 L boiling water", "cannot-be-heated")) == 1
    heated = found("crock-bath: prepare in crock with water 5 L, madder 50 g at 70 °C for 1 h")
    assert "cannot-be-heated" in {one.rule for one in heated}


def test_what_is_composted_is_told_to_go_to_the_compost() -> None:
    assert papers(DYED + "lift yarn\nstrain dye-bath\ncompost the madder")[-1] == (
        "Throw the madder root out: compost."
    )
    bag = "put madder 50 g in bag\nred-bath: prepare in pot with water 5 L\nput bag in red-bath\n"
    assert papers(bag + "take out bag, compost it")[-1] == "Empty the bag: compost."


def test_a_bag_whose_plants_are_composted_is_no_full_bag() -> None:
    bag = "put madder 50 g in bag\nred-bath: prepare in pot with water 5 L\nput bag in red-bath\n"
    assert found(bag + "take out bag and squeeze it, compost the madder", "bag-left-full") == []
    assert len(found(bag + "take out bag and squeeze it", "bag-left-full")) == 1
    assert len(found(bag + "compost the madder", "bag-left-full")) == 1


@pytest.mark.parametrize(
    "tartar",
    [
        "tartar half as much as alum",
        "1 part tartar to 2 of alum",
        "tartar 1 : 2 of alum",
        "tartar 50 % of alum",
    ],
)
@pytest.mark.parametrize("first", [True, False])
def test_an_amount_by_another_material_is_worked_out(tartar: str, first: bool) -> None:
    both = f"{tartar}, alum 12 % of yarn" if first else f"alum 12 % of yarn, {tartar}"
    line = f"alum-bath: prepare in pot with water 6 L, {both}"
    # 12 % of 200 g of yarn, and half of that.
    assert amounts(line) == {"water": 6, "alum": 24, "tartar": 12}


def test_an_amount_by_what_is_in_the_bath_already() -> None:
    text = (
        "alum-bath: prepare in pot with water 6 L, alum 24 g\nadd tartar 1 : 2 of alum to alum-bath"
    )
    assert amounts(text) == {"water": 6, "alum": 24, "tartar": 12}


@pytest.mark.parametrize(
    "line", ["tartar half of alum", "tartar half of alum, alum twice of tartar"]
)
def test_an_amount_by_what_is_not_there_is_an_error(line: str) -> None:
    told = found(f"alum-bath: prepare in pot with water 6 L, {line}", "amount-unstated")
    assert told[0].level == "error"
    assert "“half of alum” cannot be worked out" in told[0].sentence


def test_water_up_to_a_mark_is_what_is_missing() -> None:
    text = "dye-bath: prepare in pot with water 3 L, madder 50 g\ntop up dye-bath with water to 5 L"
    assert amounts(text) == {"water": 5, "madder": 50}


def test_a_material_of_the_trade_is_taken_for_no_other() -> None:
    told = found("wash yarn in tub with water 5 L, soap 5 g", "not-declared")
    assert [one.remedy for one in told] == ["Write it among the materials: “soap: soap”."]
    slip = found("wash yarn in tub with water 5 L, sodda 5 g", "not-declared")
    assert [one.remedy for one in slip] == ["Did you mean “soda”?"]


def test_a_bag_that_is_put_in_a_pot_with_water_makes_a_bath() -> None:
    said = papers("put madder 50 g in bag\nput bag in pot with 8 L water and leave overnight")
    assert said[1] == "Make the pot bath in the pot: 8 L of water and the bag."
    assert said[2].startswith("Let the pot bath stand overnight")


@pytest.mark.parametrize("verb", ["dump", "throw", "tip"])
def test_what_is_thrown_into_a_bath_is_added(verb: str) -> None:
    said = papers(
        BATH + f"{verb} 50 g of onion into dye-bath\n{verb} 50 g of onion in the dye-bath"
    )
    assert said[1:] == ["Add 50 g of onion skins to the dye bath."] * 2


@pytest.mark.parametrize("verb", ["put", "dump", "throw", "tip"])
def test_what_is_thrown_into_a_pot_and_covered_makes_a_bath(verb: str) -> None:
    text = f"{verb} 50 g of onion in the pot, cover with 4 L of water and leave for 3 days"
    assert amounts(text) == {"water": 4, "onion": 50}
    assert found(text, "used-after-emptied", "clause-out-of-place") == []


def test_fibre_is_dried_on_the_line() -> None:
    assert papers("line dry yarn") == papers("dry yarn on the line")


def test_what_is_brought_in_two_places_is_brought_once() -> None:
    assert amounts("mordant yarn with 20 g alum in pot with 6 litres at 80 °C for 1 h") == {
        "alum": 20,
        "water": 6,
    }


def test_a_heat_before_in_an_hour_is_no_length() -> None:
    told = found(BATH + "heat dye-bath to 85 in 1 hour", "number-without-unit", "wrong-quantity")
    assert [one.sentence for one in told] == ["“85” has no unit."]


def test_several_baths_are_thrown_away_in_one_line() -> None:
    text = BATH + "alum-bath: prepare in pan with water 5 L, alum 20 g\n"
    said = papers(text + 'discard dye-bath, alum-bath to "foul drain"')
    assert said[2:] == [
        "Drain the dye bath away (foul drain).",
        "Drain the alum bath away (foul drain).",
    ]


@pytest.mark.parametrize("parts", ["50 g each", "each 50 g"])
@pytest.mark.parametrize("count", ["", "4: ", "four lots: "])
def test_the_parts_of_a_lot_have_each_their_weight(count: str, parts: str) -> None:
    text = f"split yarn into {count}red, rust, plum and pink, {parts}"
    same = "split yarn into red 50 g, rust 50 g, plum 50 g and pink 50 g"
    assert papers(text) == papers(same)
    assert found(text, "cannot-read") == []


@pytest.mark.parametrize("line", ["take silk out after 20 minutes", "lift silk after 20 min"])
def test_a_time_after_which_is_the_time_of_the_step_before(line: str) -> None:
    told = found(BATH + "enter silk in dye-bath\n" + line, "cannot-read")
    assert len(told) == 1
    assert "says when" in told[0].sentence


def test_no_bag_is_meant_where_none_is_declared() -> None:
    text = written("put rust in").replace("  bag: muslin bag, for dyeing only\n", "")
    told = [one for one in read(text).findings if one.rule == "not-declared"]
    assert "lot of fibre" in told[0].remedy
    assert "bag" not in told[0].remedy


def test_the_other_two_are_asked_about_by_their_words() -> None:
    told = found(DYED + "put the other two back", "cannot-read", "not-declared")
    assert [one.rule for one in told] == ["not-declared"]


def test_many_ways_of_drying_in_one_card_make_a_paper() -> None:
    from procedure.handout.short import paper

    text = written("rinse yarn in tub with water 5 L\ndry yarn\n" + "dry yarn on line\n" * 2)
    assert "Use the " in str(paper(procedure.read(text, "x.dye"), METRIC))
