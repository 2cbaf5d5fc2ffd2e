"""What a forager and teacher found silent, untrue or a false alarm: each once more.

The facts stand in the data files with their sources; here each text brings what it should.
"""

from __future__ import annotations

import pytest

import procedure
from procedure.rules.safety.food_places import food_in

HEAD = """procedure "A trial"
  by "Fellside Dye Circle"
  revised 2026-06-14
  place outdoors
  wearing gloves, eye protection
  audience {audience}

fibre
  yarn: cotton yarn, 100 g, scoured

equipment
  pot: stainless steel pot, 8 L, lidded, for dyeing only
  tub: plastic tub, 12 L, for dyeing only
  sieve: sieve, for dyeing only

materials
  one: {one}
  two: {two}

steps
  wet out yarn in tub with water 5 L at 30 °C for 1 h
"""


def told(
    steps: str, one: str = "weld tops, dried", two: str = "potassium alum", audience: str = "adults"
) -> list[tuple[str, str]]:
    text = HEAD.format(one=one, two=two, audience=audience) + steps
    return [(f.rule, f.level) for f in procedure.read(text, "example.dye").findings]


SOUR = """  bath: prepare in pot with water 5 L, one 100 g at 20 °C
  steep yarn in bath at 20 °C for 40 min covered
  lift yarn
  sour: prepare in tub with water 5 L, two 50 g at 20 °C
  steep yarn in sour at 20 °C for 40 min
"""


@pytest.mark.parametrize("acid", ["oxalic acid", "citric acid", "acetic acid, 80 %"])
def test_a_sulphide_in_the_yarn_meets_the_acid_that_it_comes_into(acid: str) -> None:
    assert ("must-not-meet", "error") in told(SOUR, "sodium sulphide", acid)


@pytest.mark.parametrize(
    "to", ["the hay for the horses", "the hens", "the sheep as fodder", "hay for the rabbits"]
)
def test_a_poisonous_plant_is_no_fodder(to: str) -> None:
    steps = f'  gather one 300 g\n  throw out one to "{to}"\n'
    found = told(steps, "ragwort tops, fresh, gathered 2026-08-12")
    assert ("plant-thrown-where-it-harms", "error") in found


def test_blue_copperas_is_copper_and_no_iron() -> None:
    steps = '  bath: prepare in pot with water 4 L, one 3 g\n  discard bath to "foul drain"\n'
    assert ("wrong-way-out", "error") in told(steps, "blue copperas")


def test_willowherb_is_no_oleander() -> None:
    found = told("  gather one 300 g\n", 'rosebay willowherb leaves, "Chamaenerion angustifolium"')
    assert "deadly-plant" not in {rule for rule, _ in found}


@pytest.mark.parametrize(
    "note",
    [
        "leave the foxgloves alone: they kill",
        "No foxglove, yew or oleander is used in this class.",
        "if a foxglove leaf has come with it, throw it out",
    ],
)
def test_a_teachers_own_warning_is_no_fault(note: str) -> None:
    found = told(f'  gather one 100 g note "{note}"\n')
    assert "deadly-plant" not in {rule for rule, _ in found}


def test_a_plant_that_is_left_in_the_bath_is_not_denied() -> None:
    found = told('  gather one 100 g note "leave the foxglove in the bath"\n')
    assert ("deadly-plant", "error") in found


def test_what_nobody_knows_is_nothing_for_children() -> None:
    steps = "  bath: prepare in pot with water 4 L, one 100 g\n"
    unknown = 'dyestuff, fresh, "frostberry twigs"'
    assert ("children-near-hazard", "warning") in told(steps, unknown, audience="children")
    assert "children-near-hazard" not in {rule for rule, _ in told(steps, audience="children")}
    assert "children-near-hazard" not in {rule for rule, _ in told(steps, unknown)}


def test_a_bottle_of_weak_peroxide_may_go_down_a_drain() -> None:
    steps = '  bath: prepare in pot with water 5 L, one 200 mL\n  discard bath to "foul drain"\n'
    assert "wrong-way-out" not in {rule for rule, _ in told(steps, "hydrogen peroxide, 3 %")}


@pytest.mark.parametrize("thing", ["potassium permanganate", "caustic soda"])
def test_what_poisons_water_or_eats_pipes_does_not_go_down_a_drain(thing: str) -> None:
    steps = '  bath: prepare in pot with water 5 L, one 50 g\n  discard bath to "foul drain"\n'
    assert ("wrong-way-out", "warning") in told(steps, thing)


WHITER = """  bath: prepare in tub with water 8 L, one 80 mL at 20 °C
  add two 100 mL to bath{allow}
"""
ALLOW = 'allow must-not-meet because "it whitens faster"'


@pytest.mark.parametrize("where", ["  audience", "steps\n"])
def test_a_gas_that_kills_is_allowed_nowhere(where: str) -> None:
    text = HEAD.format(one="chlorine bleach, 5 %", two="vinegar, 5 %", audience="adults")
    before = "" if where == "steps\n" else where
    line = f"  {ALLOW}\n"
    wide = text.replace(where, where + line if not before else line + where)
    found = procedure.read(wide + WHITER.format(allow=""), "example.dye").findings
    said = {(f.rule, f.level) for f in found}
    assert ("must-not-meet", "error") in said
    assert ("nothing-to-allow", "warning") in said
    near = procedure.read(text + WHITER.format(allow=f"\n    {ALLOW}"), "example.dye").findings
    (kept,) = (f for f in near if f.rule == "must-not-meet")
    assert (kept.level, kept.allowed) == ("error", "")  # chlorine kills, whatever the reason
    assert ("nothing-to-allow", "warning") in {(f.rule, f.level) for f in near}


@pytest.mark.parametrize(
    ("thing", "amount", "refused"),
    [
        ("ammonia, 25 %", "500 mL", True),
        ("ammonia, 9 %", "50 mL", False),
        ("acetic acid, 80 %", "500 mL", True),
        ("acetic acid, 5 %", "200 mL", False),
        ("vinegar, 5 %", "200 mL", False),
        ("formic acid, 85 %", "40 mL", True),
        ("formic acid, 85 %", "5 mL", False),
        ("caustic soda", "20 g", True),
        ("caustic soda", "5 g", False),
    ],
)
def test_what_burns_goes_down_a_drain_only_when_there_is_little_of_it(
    thing: str, amount: str, refused: bool
) -> None:
    """40 CFR 403.5 (b)(2): nothing below pH 5; 40 CFR 261.22: corrosive from pH 12.5."""
    bath = f"  bath: prepare in pot with water 5 L, one {amount} at 15 °C\n"
    found = told(bath + '  discard bath to "foul drain"\n', thing)
    assert (("wrong-way-out", "warning") in found) is refused


FOX = "foxglove leaves, dried"
MADE = "  bath: prepare in pot with water 4 L, one 200 g covered\n"
OUT = '  discard bath to "the hazardous waste point"\n'
LID = "  keep bath as spare in tub covered labelled\n"


@pytest.mark.parametrize(
    ("steps", "asked"),
    [
        ("  grind one 200 g\n" + MADE + OUT, "a mask where it is ground"),
        (MADE, "a way out, or a lid and a label, for all of its liquor"),
        (MADE + "  draw off 1 L of bath into tub as spare\n" + OUT, "for all of its liquor"),
        (MADE + "  dye yarn in bath from 40 °C to 85 °C for 1 h\n" + OUT, "a lid"),
    ],
)
def test_what_a_deadly_plant_lacks_is_said(steps: str, asked: str) -> None:
    text = HEAD.format(one=FOX, two="potassium alum", audience="experienced dyers") + steps
    (one,) = (f for f in procedure.read(text, "a.dye").findings if f.rule == "deadly-plant")
    assert one.level == "error"
    assert asked in one.sentence


@pytest.mark.parametrize("end", [LID, OUT])
def test_a_deadly_plant_in_order_lacks_no_mask_and_no_way_out(end: str) -> None:
    steps = "  grind one 200 g wearing mask, gloves, eye protection\n" + MADE + end
    text = HEAD.format(one=FOX, two="potassium alum", audience="experienced dyers") + steps
    (one,) = (f for f in procedure.read(text, "a.dye").findings if f.rule == "deadly-plant")
    assert "mask" not in one.sentence
    assert "liquor" not in one.sentence


KEPT = "  keep bath as gold in tub covered labelled"


@pytest.mark.parametrize(
    ("one", "steps", "level"),
    [
        ("tansy tops, fresh", KEPT + ' note "in the fridge door, in the lemonade bottle"', "error"),
        ("tansy tops, fresh", KEPT + ' note "never in the fridge"', ""),
        ("tansy tops, fresh", KEPT, ""),
        ("copper sulphate", KEPT + ' note "in the kitchen, while the stew is on"', "error"),
        ("weld tops, dried", KEPT + ' note "in the fridge"', ""),
    ],
)
def test_what_harms_is_not_kept_with_food(one: str, steps: str, level: str) -> None:
    found = told(MADE + steps + "\n", one)
    assert [how for rule, how in found if rule == "looks-like-food"] == ([level] if level else [])


def test_a_vessel_of_food_is_none_for_a_poison() -> None:
    text = HEAD.format(one="tansy tops, fresh", two="potassium alum", audience="adults")
    text = text.replace(
        "  tub: plastic tub, 12 L, for dyeing only",
        '  tub: plastic tub, 12 L, for dyeing only, "the old lemonade bottle, in the fridge door"',
    )
    found = procedure.read(text + MADE + KEPT + "\n", "example.dye").findings
    assert ("looks-like-food", "error") in {(f.rule, f.level) for f in found}


@pytest.mark.parametrize(("audience", "level"), [("children", "warning"), ("adults", "note")])
def test_children_are_warned_of_what_a_wild_plant_is_taken_for(audience: str, level: str) -> None:
    carrot = 'carrot tops, fresh, "wild carrot from the river bank"'
    steps = '  gather one 300 g from "the river bank"\n'
    assert ("easily-confused", level) in told(steps, carrot, audience=audience)


def test_caustic_alone_is_caustic_soda() -> None:
    steps = '  bath: prepare in pot with water 4 L, one 50 g\n  discard bath to "foul drain"\n'
    assert ("wrong-way-out", "warning") in told(steps, "caustic")


@pytest.mark.parametrize(
    ("words", "rule", "level"),
    [
        ("boil the oil of vitriol in the kettle", "danger-in-free-words", "error"),
        ("stir arsenic into the pot", "danger-in-free-words", "error"),
        ("stir in the night-shade", "danger-in-free-words", "warning"),
        ("stir in the pokeroot", "danger-in-free-words", "error"),
        ("strew oleanda twigs", "deadly-plant", "error"),
        ("let the chips be boiled an hour", "", ""),
        ("hang up the apron and boil the kettle", "", ""),
        ("say that no arsenic comes into the pot", "", ""),
    ],
)
def test_what_is_done_in_free_words_is_looked_at(words: str, rule: str, level: str) -> None:
    found = told(f'  do "{words}"\n')
    grave = [one for one in found if one[0] in ("danger-in-free-words", "deadly-plant")]
    assert grave == ([(rule, level)] if rule else [])


def test_each_deadly_plant_in_a_sentence_is_named() -> None:
    found = told('  do "lay foxglove and oleander leaves in the pot"\n')
    assert found.count(("deadly-plant", "error")) == 2


@pytest.mark.parametrize(
    ("words", "told_of"),
    [
        ("the old fridge", True),
        ("the breadbin", True),
        ("a drinks bottle", True),
        ("the jam pan", True),
        ("a jam jar of dyer's tin", True),
        ("out of the kitchen cupboard", False),
        ("a bottle from the fridgeless shed", False),
    ],
)
def test_vessels_and_places_of_food_are_read_from_their_list(words: str, told_of: bool) -> None:
    assert bool(food_in(words)) == told_of


BOILED = """  bath: prepare in pot with water 4 L, one 20 g
  boil bath for 1 h covered
  discard bath to "foul drain"
"""


@pytest.mark.parametrize(
    ("one", "audience", "levels"),
    [
        ('dyestuff, fresh, "frostberry tops"', "adults", ["warning"]),
        ('mordant, "frostberry twigs"', "adults", ["note"]),
        ('mordant, "frostberry twigs"', "children", ["warning"]),
        ('dyestuff, "onion skins from the kitchen"', "adults", []),
        ('mordant, "alum from the chemist"', "adults", []),
        ("weld tops, dried", "adults", []),
    ],
)
def test_of_a_plant_that_is_not_known_it_is_said_once(
    one: str, audience: str, levels: list[str]
) -> None:
    found = told(BOILED + BOILED.replace("bath", "other"), one, audience=audience)
    assert [level for rule, level in found if rule == "harm-not-known"] == levels


@pytest.mark.parametrize(
    ("words", "poisons"),
    [("ivy-leaved toadflax", False), ("ivy leaves", True), ("ivy-leaved ragwort tops", True)],
)
def test_a_plant_with_leaves_like_another_is_not_that_other(words: str, poisons: bool) -> None:
    found = told(BOILED, f'dyestuff, fresh, "{words}"', audience="children")
    levels = [level for rule, level in found if rule == "children-near-hazard"]
    assert levels == (["error"] if poisons else ["warning"])
    assert ("which-is-meant", "error") not in found


@pytest.mark.parametrize("role", ["mordant, ", "assistant, ", ""])
@pytest.mark.parametrize(
    ("words", "called", "level"),
    [
        ("tin liquor", "stannous chloride", "error"),
        ("chrome mordant", "potassium dichromate", "error"),
        ("copper liquor", "copper liquor", "error"),
        ("iron liquor", "iron liquor", "warning"),
        ("white spirit", "white spirit", "error"),
        ("formalin", "formaldehyde", "error"),
        ("iodine", "iodine", "warning"),
    ],
)
def test_a_liquor_of_the_trade_or_the_chemist_is_what_it_means(
    role: str, words: str, called: str, level: str
) -> None:
    one = f'{role}"{words}"' if role else words
    text = HEAD.format(one=one, two="potassium alum", audience="adults")
    text = text.replace("  wearing gloves, eye protection\n", "")
    text += "  bath: prepare in pot with water 4 L, one 20 g at 20 °C\n"
    found = procedure.read(text, "example.dye").findings
    gloves = [f for f in found if f.rule == "no-gloves"]
    assert [f.level for f in gloves] == [level]
    assert f"one ({called})" in gloves[0].sentence


@pytest.mark.parametrize("soda", ["washing soda crystals", 'assistant, "washing soda crystals"'])
def test_crystals_of_washing_soda_are_washing_soda(soda: str) -> None:
    text = HEAD.format(one=soda, two="potassium alum", audience="adults")
    text = text.replace("gloves, eye protection", "gloves")
    text += "  bath: prepare in pot with water 4 L, one 20 g at 20 °C\n"
    found = procedure.read(text, "example.dye").findings
    (eyes,) = (f for f in found if f.rule == "no-eye-protection")
    assert "one (washing soda)" in eyes.sentence


@pytest.mark.parametrize("to", ["foul drain", "the garden", "the septic tank", "the stream"])
@pytest.mark.parametrize("what", ["white spirit", "formalin"])
def test_white_spirit_and_formalin_go_down_no_drain(what: str, to: str) -> None:
    steps = "  bath: prepare in pot with water 4 L, one 20 g at 20 °C\n"
    assert ("wrong-way-out", "error") in told(steps + f'  discard bath to "{to}"\n', what)


def _heated(ammonia: str, place: str) -> list[str]:
    text = HEAD.format(one=ammonia, two="potassium alum", audience="adults")
    text = text.replace("place outdoors", f"place {place}")
    text += "  bath: prepare in pot with water 4 L, one {} mL at 20 °C\n  boil bath for 1 h\n"
    millilitres = 500 if "25" in ammonia else 100
    found = procedure.read(text.replace("{}", str(millilitres)), "example.dye").findings
    return [f.level for f in found if f.rule == "no-fresh-air"]


def test_strong_ammonia_boiled_in_a_closed_room_is_an_error() -> None:
    # NIOSH: 300 ppm are dangerous to life; 114 g of the gas in a room of 30 m³ are 5000 ppm.
    assert _heated("ammonia, 25 %", "indoors") == ["error"]
    assert _heated("ammonia, 25 %", "ventilated") == []
    # 5 g of it stay under 300 ppm.
    assert _heated("ammonia, 5 %", "indoors") == ["warning"]


@pytest.mark.parametrize(
    ("words", "speaks"),
    [
        ("heat the tansy in the microwave in the kitchen", True),
        ("simmer the tansy leaves in a jam pan", True),
        ("pour the bleach into a milk bottle", True),
        ("heat the weld in the microwave", False),
        ("heat the tansy far from the kitchen table", False),
        ("wash the kitchen sink; hang up the tansy", False),
    ],
)
def test_what_harms_done_in_free_words_among_food_is_told(words: str, speaks: bool) -> None:
    found = told(f'  do "{words}"\n', "tansy tops, dried", "household bleach")
    assert (("danger-in-free-words", "error") in found) == speaks


def test_sour_and_bleach_down_one_drain_are_told_though_a_rinse_lies_between() -> None:
    # No source names a rinse or a time after which the two are harmless in a trap.
    steps = """  sour: prepare in tub with water 5 L at 20 °C, one 100 mL
  discard sour to "foul drain"
  rinse yarn in tub with water 5 L at 20 °C
  clean tub
  bath: prepare in pot with water 5 L at 20 °C, two 100 mL
  discard bath to "foul drain"
"""
    assert ("meet-in-the-waste", "error") in told(steps, "vinegar, 5 %", "household bleach, 5 %")
