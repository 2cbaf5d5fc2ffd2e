"""Dangers and spoilt fibre that passed without a word: food, tools, bleach, rough hands."""

from __future__ import annotations

import pytest

from procedure import pipeline
from procedure.findings import Finding

FRAME = """procedure "A trial"
  by "Fellside Dye Circle"
  revised 2026-06-14
  source "our own workshop"
  makes "a trial"
  place outdoors
  wearing gloves, eye protection, mask
fibre
  wool: wool yarn, 100 g, scoured
  cloth: cotton cloth, 100 g, scoured
equipment
  pot: stainless steel pot, 12 L, lidded, for dyeing only
  pan: stainless steel pot, 12 L, lidded, for dyeing only
  tub: plastic tub, 20 L, lidded, for dyeing only
  spoon: wooden spoon, for dyeing only
  bag: net bag, for dyeing only
{equipment}
materials
  alum: potassium alum
  weld: weld, dried
  copperas: ferrous sulphate
  bleach: chlorine bleach, 5 %
  vitriol: sulphuric acid, 10 %
  vinegar: vinegar, 5 %
  lye: caustic soda
steps
"""


def found(steps: str, equipment: str = "") -> tuple[Finding, ...]:
    text = FRAME.format(equipment=f"  {equipment}" if equipment else "")
    return pipeline.read(text + "".join(f"  {one}\n" for one in steps.split("\n"))).findings


def rules(steps: str, equipment: str = "") -> set[str]:
    return {one.rule for one in found(steps, equipment)}


WATER = "wet out wool in tub with water 5 L at 30 °C for 1 h"
USED = 'bath: prepare in vessel with water 500 mL, alum 5 g\ndiscard bath to "foul drain"'


@pytest.mark.parametrize(
    ("vessel", "word"),
    [
        ("lemonade bottle, 1 L", "lemonade bottle"),
        ("tea kettle, 2 L", "tea kettle"),
        ("steel milk pan, 2 L", "milk pan"),
        ("pressure cooker, 8 L, lidded", "pressure cooker"),
    ],
)
def test_a_vessel_of_food_is_one_without_quotation_marks_too(vessel: str, word: str) -> None:
    told = found(USED, f"vessel: {vessel}")
    (one,) = [one for one in told if one.rule == "used-for-cooking"]
    assert f"“{word}”" in one.sentence
    assert "unknown-word" not in {one.rule for one in told}


def test_one_that_is_kept_for_dyeing_is_a_vessel_like_any_other() -> None:
    kept = "vessel: tea kettle, 2 L, for dyeing only"
    assert {"used-for-cooking", "unknown-word"}.isdisjoint(rules(USED, kept))


BATH = "weld-bath: prepare in pot with water 5 L, weld 50 g, alum 12 g at 30 °C"


@pytest.mark.parametrize(
    "step",
    [
        "heat weld-bath to 80 °C in the microwave",
        'keep weld-bath as weld-left in "the fridge"',
        'discard weld-bath to "kitchen sink"',
    ],
)
def test_a_step_in_a_place_of_food_is_told_of(step: str) -> None:
    assert "careless-way" in rules(f"{BATH}\n{step}")


@pytest.mark.parametrize("place", ["fridge", "milk bottle"])
def test_nobody_is_asked_to_declare_a_place_of_food(place: str) -> None:
    told = found(f"{BATH}\nkeep weld-bath as weld-left in the {place}")
    (one,) = [one for one in told if "food or drink" in one.sentence]
    assert (
        one.remedy
        == "Use a vessel"
        + (" or a place" if place == "fridge" else "")
        + " that is kept for dyeing only, and declare it so."
    )


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ("let the children stir the hot pot", True),
        ("let the kids stir the boiling bath", True),
        ("never let the children stir the hot pot", False),
        ("let the children choose the colours", False),
    ],
)
def test_children_are_kept_from_what_is_hot(words: str, told: bool) -> None:
    assert ("careless-way" in rules(f'{BATH}\ndo "{words}"')) == told


@pytest.mark.parametrize(
    ("brought", "told"),
    [
        ("bleach 50 mL", True),
        ("vitriol 50 mL", True),
        ("lye 20 g", True),
        ("vinegar 50 mL", False),
    ],
)
def test_what_eats_cloth_does_not_dry_into_it(brought: str, told: bool) -> None:
    bath = "wet out cloth in tub with water 5 L for 1 h\nsteep cloth in pot with water 5 L, "
    assert ("ends-unrinsed" in rules(f"{bath}{brought} for 10 min\ndry cloth")) == told
    rinsed = "rinse cloth in pan with water 5 L\nrinse cloth in pan with water 5 L\ndry cloth"
    assert "ends-unrinsed" not in rules(f"{bath}{brought} for 10 min\n{rinsed}")


IRON = "grey-bath: prepare in pan with water 4 L, copperas 2 g at 30 °C"
DYED = "dye wool in weld-bath from 30 °C to 80 °C over 1 h for 1 h"


def test_a_spoon_carries_iron_from_bath_to_bath_until_it_is_cleaned() -> None:
    steps = [WATER, IRON, "stir grey-bath with spoon", BATH, "stir weld-bath with spoon", DYED]
    assert "iron-on-the-tool" in rules("\n".join(steps))
    assert "iron-on-the-tool" not in rules("\n".join([*steps[:3], "clean spoon", *steps[3:]]))


def test_a_bag_carries_it_too() -> None:
    steps = [
        WATER,
        "put weld 20 g in bag",
        IRON,
        "lower bag into grey-bath",
        "take out bag",
        BATH,
        "lower bag into weld-bath",
        DYED,
    ]
    assert "iron-on-the-tool" in rules("\n".join(steps))


def test_it_harms_nothing_that_has_met_iron_and_no_bath_without_colour() -> None:
    met = [WATER, IRON, "stir grey-bath with spoon", "modify wool in grey-bath for 10 min"]
    assert "iron-on-the-tool" not in rules(
        "\n".join([*met, BATH, "stir weld-bath with spoon", DYED])
    )
    plain = [
        WATER,
        IRON,
        "stir grey-bath with spoon",
        "plain: prepare in pot with water 5 L at 30 °C",
    ]
    assert "iron-on-the-tool" not in rules("\n".join([*plain, "stir plain with spoon"]))


@pytest.mark.parametrize(
    ("step", "told"),
    [
        ("tumble dry wool", True),
        ('dry wool in "the tumble dryer"', True),
        ('rinse wool in tub with water 5 L at 30 °C note "rub it hard"', True),
        ('rinse wool in tub with water 5 L at 30 °C note "do not wring it. rub it hard"', True),
        ('rinse wool in tub with water 5 L at 30 °C note "scrub the dirty fleece"', True),
        ('rinse wool in tub with water 5 L at 30 °C note "do not rub it"', False),
        ('rinse wool in tub with water 5 L at 30 °C note "scrub the tub afterwards"', False),
        ('rinse wool in tub with water 5 L at 30 °C note "rub the soap into the water"', False),
        ("tumble dry cloth", False),
        ('squeeze wool note "in the washing machine"', False),
    ],
)
def test_wool_is_not_handled_roughly(step: str, told: bool) -> None:
    both = "wet out wool, cloth in tub with water 5 L at 30 °C for 1 h"
    assert ("handled-roughly" in rules(f"{both}\n{step}")) == told


def test_wool_is_not_stirred_vigorously_in_a_hot_bath() -> None:
    hot = f"{WATER}\n{BATH}\nenter wool in weld-bath\nheat weld-bath to 85 °C over 1 h\n"
    assert "stirred-hot" in rules(hot + "stir wool vigorously in weld-bath for 5 min")
    assert "stirred-hot" not in rules(hot + "stir wool gently in weld-bath for 5 min")


@pytest.mark.parametrize(
    ("note", "told"),
    [
        ("briskly", True),
        ("stir it hard", True),
        ("not briskly", False),
        ("hard water is best", False),
        ("the colour is fast", False),
    ],
)
def test_how_it_is_stirred_is_no_word_for_water_or_colour(note: str, told: bool) -> None:
    hot = f"{WATER}\n{BATH}\nenter wool in weld-bath\nheat weld-bath to 85 °C over 1 h\n"
    said = rules(f'{hot}stir wool in weld-bath for 5 min note "{note}"')
    assert ("stirred-hot" in said) == told


@pytest.mark.parametrize(
    ("note", "told"),
    [
        ("turn the tap off and leave it simmering all night", True),
        ("leave it simmering overnight and switch off the light", True),
        ("leave it simmering all night and turn it off in the morning", True),
        ("turn the gas off and leave it overnight", False),
        ("switch off the hob and leave it overnight", False),
        ("turn it off, and leave it overnight", False),
    ],
)
def test_it_is_the_heat_that_is_turned_off_and_before_everybody_goes(note: str, told: bool) -> None:
    said = rules(f'{WATER}\n{BATH}\ndye wool in weld-bath at 85 °C for 1 h note "{note}"')
    assert ("heated-unattended" in said) == told


@pytest.mark.parametrize(
    ("litres", "level"),
    [("10 L", "note"), ("100 mL", "error")],
)
def test_acid_that_is_thinned_out_of_its_label_meets_salt_with_a_note(
    litres: str, level: str
) -> None:
    text = FRAME.format(equipment="").replace("sulphuric acid, 10 %", "sulphuric acid")
    text = text.replace("  lye: caustic soda\n", "  salt: common salt\n")
    text += f"  sour: prepare in tub with water {litres}, vitriol 20 g, salt 10 g\n"
    told = [one for one in pipeline.read(text).findings if one.rule == "must-not-meet"]
    assert [one.level for one in told] == [level]


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ("scrub the pot and cook the soup in it", True),
        ("stand the hotplate and its lead in the wet tub", True),
        ("carry the boiling pot to the sink", True),
        ("turn it with your hands in the hot bath", True),
        ("the hotplate stands in the tub", True),
        ("the extension lead lies under the sheet in the water", True),
        ("you can cook in it again", True),
        ("let the wool cook in it for an hour", False),
        ("switch the hotplate off and leave the yarn in the bath", False),
        ("take the pot off the hotplate with the yarn in the bath", False),
        ("put the plug in the tub first", False),
        ("never carry the hot pot", False),
        ("carry the empty pot to the sink", False),
        ("keep the plug dry", False),
        ("turn it with your hands once it is cool", False),
    ],
)
def test_what_may_scald_or_gives_a_shock_and_pots_that_go_back_to_food(
    words: str, told: bool
) -> None:
    assert ("careless-way" in rules(f'{BATH}\ndo "{words}"')) == told


@pytest.mark.parametrize(
    ("audience", "step", "told"),
    [
        ("children", "simmer weld-bath for 1 h", True),
        ("children", "simmer weld-bath for 1 h attended", False),
        ("children, adults", "simmer weld-bath for 1 h", False),
        ("beginners", "simmer weld-bath for 1 h", False),
        ("children", "heat weld-bath to 40 °C", False),
    ],
)
def test_children_are_not_alone_with_a_bath_that_scalds(
    audience: str, step: str, told: bool
) -> None:
    text = FRAME.format(equipment="").replace("fibre\n", f"  audience {audience}\nfibre\n", 1)
    found_there = pipeline.read(f"{text}  {BATH}\n  {step}\n").findings
    assert ("children-near-heat" in {one.rule for one in found_there}) == told


def test_what_a_metal_leaves_is_said_only_where_it_is_used() -> None:
    text = FRAME.format(equipment="").replace("copperas: ferrous", "blue: copper")
    unused = pipeline.read(f"{text}  {BATH}\n").findings
    used = pipeline.read(f"{text}  {BATH}\n  add blue 1 g to weld-bath\n").findings
    assert "metal-in-the-waste" not in {one.rule for one in unused}
    assert "metal-in-the-waste" in {one.rule for one in used}
    unread = pipeline.read(f"{text}  {BATH}\n  zzz blue 1 g, to weld-bath\n").findings
    assert "metal-in-the-waste" in {one.rule for one in unread}


@pytest.mark.parametrize(
    ("line", "rule"),
    [
        ("split wool into pale and dark zzz, then sip the bath", "careless-way"),
        ("split wool into pale and dark zzz, eat the ivy", "danger-in-free-words"),
    ],
)
def test_what_follows_on_a_line_that_parts_a_lot_is_no_name_of_a_lot(line: str, rule: str) -> None:
    assert rule in rules(line)


def test_a_lot_that_is_called_as_a_plant_is_none_on_a_line_unread_either() -> None:
    assert "danger-in-free-words" not in rules("split wool into holly zzz and ivy")
