"""What harms is read wherever it is written: under any role, beside a known thing, in a step.

The substances and plants stand in the data files with their sources.
"""

from __future__ import annotations

import pytest

import procedure
from procedure import Finding

HEAD = """procedure "Brown"
  by "Fellside Dye Circle"
  revised 2026-06-14
  place indoors

fibre
  yarn: cotton yarn, 100 g, scoured
  two: cotton yarn, 100 g, scoured

equipment
  pot: stainless steel pot, 20 L, lidded, for dyeing only
  pan: stainless steel pot, 20 L, lidded, for dyeing only
  jar: glass jar, 5 L, for dyeing only
  tub: plastic tub, 20 L, for dyeing only

materials
  s: bleach, solution 5 % by weight
  a: ammonia, solution 25 % by weight
{declared}
steps
{steps}
"""


def found(declared: str = "", steps: str = "") -> list[Finding]:
    lines = [f"  {line}" for line in (declared, *([""] if declared else []))]
    text = HEAD.format(declared="\n".join(lines), steps=steps)
    return list(procedure.read(text, "example.dye").findings)


def errors(rule: str, declared: str = "", steps: str = "") -> list[str]:
    return [f.sentence for f in found(declared, steps) if (f.rule, f.level) == (rule, "error")]


ROLES = ("mordant", "modifier", "tannin", "acid", "alkali", "reducer", "detergent", "salt")
POISONS = ("bleach", "caustic soda", "potassium dichromate", "lead acetate", "foxglove")
USED = "  b: prepare in pot with water 5 L, x 100 g"


@pytest.mark.parametrize("role", (*ROLES, "assistant", "dyestuff"))
def test_a_poison_in_free_words_is_one_under_every_role(role: str) -> None:
    for poison in POISONS:
        told = errors("no-gloves", f'x: {role}, "{poison}"', USED)
        assert any(poison in one or "caustic" in one for one in told), poison


BESIDE = (
    ('x: potassium alum, "half and half with potassium dichromate"', "restricted-salt"),
    ('x: weld, dried, "half foxglove leaves"', "deadly-plant"),
    ('x: weld, dried, "with a handful of oleander"', "deadly-plant"),
    ('x: washing soda, "with a spoon of caustic soda"', "no-gloves"),
    ("x: realgar", "restricted-salt"),
    ('x: mordant, "red lead"', "restricted-salt"),
    ("x: corrosive sublimate", "restricted-salt"),
    ("x: litharge", "restricted-salt"),
)


@pytest.mark.parametrize(("declared", "rule"), BESIDE)
def test_a_poison_beside_a_known_thing_counts(declared: str, rule: str) -> None:
    assert errors(rule, declared, USED)


def test_salts_of_lemon_are_an_oxalate_and_no_juice() -> None:
    told = [f.sentence for f in found("x: salts of lemon", USED) if f.rule == "no-gloves"]
    assert any("oxalate" in one for one in told)


HARMLESS = (
    'x: weld, dried, "not foxglove"',
    'x: weld, dried, "grown beside the foxgloves, looked over leaf by leaf"',
    'x: weld, dried, "free of lead"',
    'x: neutral soap, "takes out bleach"',
    'x: cream of tartar, "kept in a tin"',
    'x: weld, dried, "from under the lime trees"',
    'x: weld, dried, "dried on a copper tray"',
)


@pytest.mark.parametrize("declared", HARMLESS)
def test_what_is_denied_or_taken_away_is_not_in_it(declared: str) -> None:
    named = [f for f in found(declared, USED) if f.rule in ("restricted-salt", "deadly-plant")]
    gloves = [f for f in found(declared, USED) if f.rule == "no-gloves" and " x" in f.sentence]
    assert not named and not gloves


IN_STEPS = (
    '  do "stir in two spoons of lead acetate"',
    '  do "add sulphuric acid from the car battery"',
    '  do "clean the pot with caustic soda"',
    '  steep yarn in b at 20 °C for 1 h until "the ragwort is soft"',
)


@pytest.mark.parametrize("step", IN_STEPS)
def test_a_poison_in_the_words_of_a_step_is_an_error(step: str) -> None:
    assert errors("danger-in-free-words", "", f"  b: prepare in pot with water 5 L\n{step}")


def test_a_note_that_pours_something_in_is_a_warning() -> None:
    steps = '  b: prepare in pot with water 5 L note "then pour in half a bottle of peroxide"'
    told = [f.level for f in found("", steps) if f.rule == "danger-in-free-words"]
    assert told == ["warning"]


def test_a_note_on_how_to_handle_what_is_used_is_none() -> None:
    steps = '  b: prepare in pot with water 5 L, s 20 mL note "add the bleach to the water"'
    assert not [f for f in found("", steps) if f.rule == "danger-in-free-words"]


def test_a_plain_word_that_is_a_metal_too_says_nothing() -> None:
    steps = '  do "add the tin lid"\n  do "put the iron on"\n  do "bleach the cloth in the sun"'
    assert not [f for f in found("", steps) if f.rule == "danger-in-free-words"]


BOTH = """  b: prepare in pot with water 5 L, s 500 mL
  c: prepare in pan with water 5 L, a 500 mL
"""
STEEPED = """  steep yarn in b at 20 °C for 10 min
  steep two in c at 20 °C for 10 min
"""
TOGETHER = {
    "in one tub": ("must-not-meet", STEEPED + "  rinse yarn, two in tub with water 5 L at 20 °C"),
    "joined": ("must-not-meet", STEEPED + "  lift yarn\n  lift two\n  join yarn, two as all"),
    "drawn into one jar": (
        "must-not-meet",
        "  draw off b 1 L into jar\n  draw off c 1 L into jar",
    ),
    "one bucket in other words": (
        "meet-in-the-waste",
        '  discard b to "the slop bucket"\n  discard c to "our slop bucket"',
    ),
    "a pot scrubbed with bleach": (
        "",
        '  discard c to "the council\'s hazardous waste"\n  clean pan with s 50 mL',
    ),
}


@pytest.mark.parametrize("name", [name for name, (rule, _) in TOGETHER.items() if rule])
def test_what_comes_together_wet_meets(name: str) -> None:
    rule, steps = TOGETHER[name]
    told = errors(rule, "", BOTH + steps)
    assert any("chloramine" in one for one in told), told


def test_a_bucket_of_its_own_for_each_is_none() -> None:
    steps = '  discard b to "a bucket of its own"\n  discard c to "another bucket"'
    assert not errors("meet-in-the-waste", "", BOTH + steps)


def test_a_pot_scrubbed_with_bleach_is_told() -> None:
    _, steps = TOGETHER["a pot scrubbed with bleach"]
    told = [f.sentence for f in found("", BOTH + steps) if f.rule == "must-not-meet"]
    assert any("chloramine" in one for one in told)
