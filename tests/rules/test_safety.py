"""Safety: who is hurt by what, and what keeps them from it."""

from __future__ import annotations

from pathlib import Path

import pytest
from expecting import expect, findings, place_in

import procedure
from procedure import Finding
from procedure.rules import RULES
from procedure.rules.safety.places_for_waste import ways_out
from procedure.wording import DEFER

SAFETY = {rule.name for rule in RULES if rule.family == "safety"}

# A toxic plant, handled as a careful dyer would (common practice): gloves from gathering to
# the last wash, eye protection when it is chopped, fresh air, a lid and a label overnight, a
# wash with mild soap, grown people.
TANSY = """procedure "Tansy gold"
  by "Fellside Dye Circle"
  revised 2026-06-14
  source "our own workshop"
  makes "a gold skein"
  place outdoors
  wearing eye protection
  wearing gloves
  audience adults

fibre
  yarn: wool yarn, 100 g, scoured

equipment
  kettle: stainless steel pot, 15 L, lidded, for dyeing only
  tub: plastic tub, 20 L, for dyeing only

materials
  alum: potassium alum
  tansy: tansy tops, fresh, gathered 2026-06-12, "never ragwort"
  soap: neutral soap

steps
  wet out yarn in tub with water 5 L at 30 °C for 1 h
  gather tansy 300 g
  chop tansy
  gold-bath: prepare in kettle with water 6 L, tansy 300 g, alum 10 g
  heat gold-bath to 85 °C over 1 h covered
  simmer gold-bath at 85 °C for 1 h covered
  cool gold-bath to 40 °C covered
  strain gold-bath
  throw out tansy to "a closed heap that no animal can reach"
  dye yarn in gold-bath from 40 °C to 85 °C over 1 h for 1 h gently
  cool gold-bath to 30 °C overnight covered labelled
  rinse yarn in tub with water 5 L at 30 °C until "the water runs clear"
  wash yarn in tub with water 5 L, soap 3 g at 30 °C for 10 min
  rinse yarn in tub with water 5 L at 30 °C until "the water runs clear"
  dry yarn
  discard gold-bath to "foul drain"
  clean kettle
"""


def read(text: str) -> list[Finding]:
    return list(procedure.read(text, "example.dye").findings)


def heavy(text: str) -> list[Finding]:
    return [finding for finding in read(text) if finding.level != "note"]


def test_a_careful_tansy_procedure_is_sound() -> None:
    assert read(TANSY) == []


# ------------------------------------------------------------------ single faults

# Each is one slip in the sound procedure; the finding must stand where the slip is felt
# (issue: 100 % of the safety kinds found at their place).
FAULTS = [
    ("gloves removed", "  wearing gloves\n", "", {"no-gloves"}, "gather tansy 300 g"),
    (
        "lid taken off overnight",
        "overnight covered labelled",
        "overnight labelled",
        {"left-uncovered"},
        "cool gold-bath to 30 °C overnight",
    ),
    (
        "label taken off overnight",
        "overnight covered labelled",
        "overnight covered",
        {"left-unlabelled"},
        "cool gold-bath to 30 °C overnight",
    ),
    (
        "children added",
        "audience adults",
        "audience adults, children",
        {"children-near-hazard"},
        "children",
    ),
    (
        "disposal dropped",
        'discard gold-bath to "foul drain"',
        "discard gold-bath",
        {"no-disposal"},
        "discard gold-bath",
    ),
    (
        "disposal to the stream",
        '"foul drain"',
        '"the stream behind the hall"',
        {"wrong-way-out"},
        "discard gold-bath",
    ),
    (
        "nobody by the simmering pot",
        "simmer gold-bath at 85 °C for 1 h covered",
        "simmer gold-bath at 85 °C for 1 h covered labelled unattended",
        {"heated-unattended"},
        "simmer gold-bath",
    ),
    (
        "indoors",
        "place outdoors",
        "place indoors",
        {"no-fresh-air"},
        "chop tansy",
    ),
    (
        "place not said",
        "  place outdoors\n",
        "",
        {"no-fresh-air"},
        "chop tansy",
    ),
]


@pytest.mark.parametrize(
    ("sound", "faulty", "rules", "at"),
    [fault[1:] for fault in FAULTS],
    ids=[fault[0] for fault in FAULTS],
)
def test_one_fault_is_found_at_its_place_and_nothing_else(
    sound: str, faulty: str, rules: set[str], at: str
) -> None:
    assert TANSY.count(sound) == 1
    text = TANSY.replace(sound, faulty)
    found = heavy(text)
    assert {finding.rule for finding in found} == rules
    assert found[0].line == place_in(text, at)[0]


def test_chrome_for_alum_is_found_where_it_is_declared_and_where_it_hurts() -> None:
    text = TANSY.replace("alum: potassium alum", "alum: potassium dichromate")
    found = {finding.rule: finding for finding in heavy(text)}
    assert found["restricted-salt"].line == place_in(text, "alum: potassium")[0]
    assert found["restricted-salt"].level == "error"


@pytest.mark.parametrize(
    "bare",
    [
        "gather tansy 300 g",
        "chop tansy",
        "gold-bath: prepare in kettle with water 6 L, tansy 300 g, alum 10 g",
        "strain gold-bath",
        "dye yarn in gold-bath from 40 °C to 85 °C over 1 h for 1 h gently",
        'rinse yarn in tub with water 5 L at 30 °C until "the water runs clear"',
        "wash yarn in tub with water 5 L, soap 3 g at 30 °C for 10 min",
        'discard gold-bath to "foul drain"',
        "clean kettle",
    ],
)
def test_gloves_are_worn_from_gathering_to_the_last_wash(bare: str) -> None:
    """Common practice: a toxic plant wants gloves from gathering to the last wash."""
    head, steps = TANSY.replace("  wearing gloves\n", "").split("steps\n")
    lines = steps.splitlines()
    here = lines.index(f"  {bare}")
    lines = [line if i == here else f"{line} wearing gloves" for i, line in enumerate(lines)]
    text = f"{head}steps\n" + "\n".join(lines) + "\n"
    (found,) = heavy(text)
    assert found.rule == "no-gloves"
    assert text.splitlines()[found.line - 1] == f"  {bare}"


def test_after_the_wash_no_gloves_are_needed() -> None:
    """The last rinse and the drying of washed fibre are for bare hands (common practice)."""
    head, steps = TANSY.replace("  wearing gloves\n", "").split("steps\n")
    lines = steps.splitlines()
    wash = next(i for i, line in enumerate(lines) if "wash yarn" in line)
    bare = {wash + 1, wash + 2}
    text = f"{head}steps\n" + "\n".join(
        line if i in bare else f"{line} wearing gloves" for i, line in enumerate(lines)
    )
    assert heavy(text) == []


# ------------------------------------------------------------------ precise hazards

BARE = """procedure "An example"
  by "Fellside Dye Circle"
  revised 2026-06-14
  source "our own workshop"
  makes "a sample"
  place {place}
"""


def bare(steps: str, place: str = "indoors") -> str:
    return f"{BARE.format(place=place)}steps\n" + "".join(
        f"  {line}\n" for line in steps.splitlines()
    )


@pytest.mark.parametrize(
    "harmless",
    ["alum 12 g", "tartar 6 g", "vinegar 50 mL", "soap 5 g", "weld 50 g", "onion 50 g"],
)
def test_kitchen_things_and_alum_demand_no_gear(harmless: str) -> None:
    """Common practice: alum, vinegar and soap are what beginners and children start with."""
    text = bare(
        f"bath: prepare in kettle with water 3 L, {harmless}\n"
        'simmer bath for 1 h\ndiscard bath to "foul drain"'
    ).replace("place indoors", "place indoors\n  audience children")
    gear = SAFETY - {"strength-unstated", "children-near-heat"}
    assert [f for f in findings(text) if f.rule in gear] == []


def test_soda_asks_for_eye_protection_and_nothing_else() -> None:
    """H319 (serious eye irritation) calls for eye protection: Regulation (EC) No 1272/2008."""
    found = expect(
        bare('bath: prepare in kettle with water 3 L, soda 6 g\ndiscard bath to "foul drain"'),
        "no-eye-protection",
    )
    assert [finding.level for finding in found] == ["warning"]
    assert "H319" in found[0].source


def test_a_weak_bath_of_a_strong_thing_is_no_longer_caustic() -> None:
    """A mixture under 1 % of what carries H314 is not classed by it (CLP Annex I, 3.2.3)."""
    steps = (
        "{bath}: prepare in tub with water 5 L, lye {grams} g wearing gloves, eye protection\n"
        "steep cloth in {bath} at 20 °C for 30 min\n"
        'discard {bath} to "foul drain" wearing gloves, eye protection\n'
        "rinse cloth in pan with water 5 L"
    )
    lye = "materials\n  lye: lye\n"
    wet = "wet out cloth in pan with water 5 L for 1 h\n"
    weak = bare(wet + steps.format(bath="weak", grams=10), "outdoors") + lye
    strong = bare(wet + steps.format(bath="strong", grams=300), "outdoors") + lye
    assert not {f.rule for f in findings(weak)} & {"no-gloves", "no-eye-protection"}
    assert {"no-gloves", "no-eye-protection"} <= {f.rule for f in findings(strong)}


def test_oxalic_acid_steams_only_when_it_is_hot() -> None:
    """Common practice: oxalic acid is never boiled in a closed room."""
    gear = "wearing gloves, eye protection"
    cold = bare(
        f"bath: prepare in kettle with water 3 L, oxalic 4 g {gear}\n"
        f'discard bath to "foul drain" {gear}'
    )
    expect(cold)
    hot = cold.replace("  discard", f"  boil bath for 10 min {gear}\n  discard")
    found = expect(hot, "no-fresh-air")
    expect(
        hot.replace("for 10 min", "for 10 min ventilated").replace(
            'to "foul drain"', 'to "foul drain" ventilated'
        )
    )
    assert "steam" in found[0].sentence


def test_a_mask_keeps_out_dust_but_no_steam() -> None:
    lime = "materials\n  lime: slaked lime\n"
    steps = 'bath: prepare in tub with water 3 L, lime 5 g {}\ndiscard bath to "foul drain"'
    bared = bare(steps.format("wearing gloves, eye protection")) + lime
    expect(bared, "no-fresh-air")
    expect(bare(steps.format("wearing gloves, eye protection, mask")) + lime)
    steaming = TANSY.replace("place outdoors", "place indoors").replace(
        "wearing gloves", "wearing gloves, mask"
    )
    assert {f.rule for f in heavy(steaming)} == {"no-fresh-air"}


@pytest.mark.parametrize("how", ["wearing mask", 'note "damped first"'])
def test_grinding_cochineal_wants_a_mask_or_water(how: str) -> None:
    """Mairet uses it whole or ground; its dust may bring on asthma (common practice)."""
    steps = (
        "grind bug {}\nbath: prepare in kettle with water 3 L, bug 5 g\n"
        'discard bath to "foul drain"'
    )
    bug = "materials\n  bug: cochineal\n"
    expect(bare(steps.format("")) + bug, "dust-in-the-air", "no-gloves")
    # EFSA 2015: no dose is known below which nobody is allergic to it.
    expect(bare(steps.format(how)) + bug, "no-gloves")


def test_one_finding_for_a_material_with_the_other_steps_beside_it() -> None:
    text = TANSY.replace("  wearing gloves\n", "")
    found = [finding for finding in read(text) if finding.rule == "no-gloves"]
    assert len(found) == 1
    assert [related.line for related in found[0].related] == [
        place_in(text, "chop tansy")[0],
        place_in(text, "gold-bath: prepare")[0],
        place_in(text, "heat gold-bath")[0],
    ]


def test_no_edit_puts_gloves_on_anybody() -> None:
    """What is worn, covered or labelled is for those who do the work to say truly."""
    text = TANSY.replace("wearing gloves", "wearing apron").replace("covered labelled", "")
    found = heavy(text)
    assert {"no-gloves", "left-uncovered", "left-unlabelled"} <= {one.rule for one in found}
    assert [one for one in found if one.edit is not None] == []


def test_the_way_through_an_if_is_said() -> None:
    steps = """
bath: prepare in kettle with water 3 L, onion 50 g
simmer bath at 85 °C for 1 h
if "the colour is dull"
  add tin 1 g to bath wearing gloves, eye protection
strain bath
discard bath to "the hazardous waste point"
"""
    found = expect(bare(steps.strip(), "outdoors"), "no-gloves")
    assert "when “the colour is dull” holds" in found[0].sentence


# ------------------------------------------------------------------ restricted salts


@pytest.mark.parametrize(
    ("salt", "why"),
    [
        ("potassium dichromate", "chromium(VI)"),
        ("sodium dichromate", "chromium(VI)"),
        ("lead acetate", "lead"),
        ("white arsenic", "arsenic"),
        ("orpiment", "arsenic"),
    ],
)
def test_chromium_six_lead_and_arsenic_are_errors_that_name_a_safer_way(
    salt: str, why: str
) -> None:
    """Regulation (EC) No 1907/2006, Annexes XIV and XVII, restricts all of them."""
    text = bare(
        "bath: prepare in kettle with water 3 L, salt 1 g\n"
        'discard bath to "the hazardous waste point"',
        "outdoors",
    ).replace("  place", "  wearing gloves, eye protection, mask\n  place")
    text += f"materials\n  salt: {salt}\n"
    (found,) = expect(text, "restricted-salt")
    assert found.level == "error"
    assert why in found.sentence
    assert "Safer: " in found.remedy
    allowed = text.replace(
        f"salt: {salt}", f'salt: {salt} allow restricted-salt because "an old swatch is matched"'
    )
    (kept,) = expect_notes(allowed, "restricted-salt")
    assert (kept.level, kept.allowed) == ("note", "an old swatch is matched")


def expect_notes(text: str, rule: str) -> list[Finding]:
    found = findings(text)
    assert {f.rule for f in found if f.level != "note"} == set()
    return [f for f in found if f.rule == rule]


def test_copper_is_a_note_and_not_forbidden() -> None:
    text = bare(
        "bath: prepare in kettle with water 3 L, copper 3 g\n"
        'discard bath to "the hazardous waste point"',
        "outdoors",
    ).replace("  place", "  wearing gloves, eye protection\n  place")
    found = expect_notes(text, "metal-in-the-waste")
    assert [f.level for f in found] == ["note"]


# ------------------------------------------------------------------ what must not meet


@pytest.mark.parametrize(
    ("first", "second", "outcome"),
    [
        # UN GHS and every bleach label: chlorine with acid, chloramine with ammonia.
        ("household bleach", "vinegar", "chlorine"),
        ("household bleach", "citric acid", "chlorine"),
        ("household bleach", "ammonia", "chloramine"),
        # EUH031: contact with acids liberates toxic gas.
        ("sodium dithionite", "vinegar", "sulphur dioxide"),
        ("sodium metabisulphite", "oxalic acid", "sulphur dioxide"),
    ],
)
@pytest.mark.parametrize("turned", [False, True])
def test_what_gives_off_gas_does_not_meet_in_a_bath(
    first: str, second: str, outcome: str, turned: bool
) -> None:
    one, two = (second, first) if turned else (first, second)
    text = bare(
        "bath: prepare in tub with water 5 L, one 5 g\nadd two 5 g to bath\n"
        'discard bath to "foul drain"',
        "outdoors",
    ).replace("  place", "  wearing gloves, eye protection, mask\n  place")
    text += f"materials\n  one: {one}\n  two: {two}\n"
    found = [f for f in findings(text) if f.rule == "must-not-meet"]
    assert [(f.level, outcome in f.sentence) for f in found] == [("error", True)]
    assert (
        procedure.read(whole_of(text)).text.splitlines()[found[0].line - 1].startswith("  add two")
    )


def whole_of(text: str) -> str:
    from procedure.rules.example_kit import whole

    return whole(text)


def test_what_a_pot_has_held_counts_until_it_is_cleaned() -> None:
    steps = (
        'bright: prepare in tub with water 5 L, white 5 mL\ndiscard bright to "foul drain"\n{}'
        'sour: prepare in tub with water 5 L, vinegar 5 mL\ndiscard sour to "foul drain"'
    )
    text = bare(steps, "outdoors").replace("  place", "  wearing gloves, eye protection\n  place")
    text += "materials\n  white: household bleach, 4 %\n"
    expect(text.format(""), "must-not-meet")
    expect(text.format("clean tub\n  "))


def test_lye_eats_aluminium_and_gives_off_hydrogen() -> None:
    text = bare(
        'bath: prepare in pot with water 5 L, lye 5 g\ndiscard bath to "foul drain"', "outdoors"
    ).replace("  place", "  wearing gloves, eye protection\n  place")
    text += "materials\n  lye: lye\nequipment\n  pot: {} pot, 15 L, for dyeing only\n"
    found = [f for f in findings(text.format("aluminium")) if f.rule == "must-not-meet"]
    assert [("hydrogen" in f.sentence, f.level) for f in found] == [(True, "error")]
    expect(text.format("stainless steel"))


def test_wool_does_not_go_into_bleach() -> None:
    """Hypochlorite dissolves wool: the textbook test for protein fibre (common practice)."""
    steps = (
        "wet out {0} in pan with water 5 L for 1 h\n"
        "bath: prepare in tub with water 5 L, white 5 mL\nsteep {0} in bath for 10 min\n"
        'rinse {0} in pan with water 5 L\ndiscard bath to "foul drain"'
    )
    text = bare(steps, "outdoors").replace("  place", "  wearing gloves, eye protection\n  place")
    text += "materials\n  white: household bleach, 4 %\n"
    assert "must-not-meet" in {f.rule for f in findings(text.format("yarn"))}
    assert "must-not-meet" not in {f.rule for f in findings(text.format("cloth"))}


@pytest.mark.parametrize(
    ("steps", "wrong"),
    [
        ("bath: prepare in tub with water 5 L, acid 5 mL", False),
        ("bath: prepare in tub with acid 5 mL, water 5 L", True),
        ("bath: prepare in tub with acid 5 mL\nadd water 5 L to bath", True),
        (
            "bath: prepare in tub with water 4 L\nadd acid 5 mL to bath\nadd water 1 L to bath",
            False,
        ),
    ],
)
def test_acid_goes_into_water_and_never_water_into_acid(steps: str, wrong: bool) -> None:
    """Mairet 1938, ch. X uses the acid a teaspoon to the gallon; the order is every chemist's."""
    text = bare(f'{steps}\ndiscard bath to "foul drain"', "outdoors")
    text = text.replace("  place", "  wearing gloves, eye protection\n  place")
    text += "materials\n  acid: sulphuric acid, 96 %\n"
    expect(text, *(["wrong-order-of-pouring"] if wrong else []))


@pytest.mark.parametrize(("heat", "wrong"), [(15, False), (80, True)])
def test_lye_goes_into_cold_water(heat: int, wrong: bool) -> None:
    steps = (
        f"bath: prepare in kettle with water 5 L at {heat} °C\nadd lye 5 g to bath\n"
        'cool bath to 15 °C\ndiscard bath to "foul drain"'
    )
    text = bare(steps, "outdoors").replace("  place", "  wearing gloves, eye protection\n  place")
    text += "materials\n  lye: lye\n"
    assert ("wrong-order-of-pouring" in {f.rule for f in findings(text)}) is wrong


# ------------------------------------------------------------------ poured away


@pytest.mark.parametrize(
    ("words", "ways"),
    [
        ("foul drain, never the garden", {"drain"}),
        ("the garden", {"ground"}),
        ("the stream", {"open water"}),
        ("foul drain, well watered down; never soil or stream", {"drain"}),
        ("septic tank", {"septic tank"}),
        ("compost toilet", {"septic tank"}),
        ("the storm drain", {"open water"}),
        ("the council's hazardous waste point", {"waste point"}),
        ("foul drain; the spent tops go to the compost", {"drain"}),
        ("flower beds, away from the pond", {"ground"}),
    ],
)
def test_words_of_disposal_are_read_as_a_person_would(words: str, ways: set[str]) -> None:
    assert set(ways_out(words)) == ways


@pytest.mark.parametrize(
    ("thing", "to", "level"),
    [
        # H410: very toxic to aquatic life with long lasting effects.
        ("copper 4 g", "the garden", "error"),
        ("copper 4 g", "the brook", "error"),
        ("copper 4 g", "septic tank", "error"),
        # List of waste, 16 05 06*: from 0.05 g/L of copper the bath goes to hazardous collection.
        ("copper 4 g", "foul drain", "error"),
        ("alum 12 g", "the brook", "warning"),
        ("alum 12 g", "foul drain", None),
        ("onion 50 g", "the garden", None),
        ("tansy 50 g", "the garden", "warning"),
        ("oxalic 40 g", "septic tank", "warning"),
        ("oxalic 4 g", "septic tank", None),
        ("vinegar 50 mL", "the garden", None),
    ],
)
def test_what_harms_does_not_go_where_it_harms(thing: str, to: str, level: str | None) -> None:
    text = bare(
        f'bath: prepare in kettle with water 3 L, {thing}\ndiscard bath to "{to}"', "outdoors"
    ).replace("  place", "  wearing gloves, eye protection\n  place")
    found = [f.level for f in findings(text) if f.rule == "wrong-way-out"]
    assert found == ([level] if level else [])


# ------------------------------------------------------------------ gathering


@pytest.mark.parametrize(
    ("plant", "twin"),
    [
        # Each pair is warned of in any field guide (common practice).
        ("mullein leaves", "foxglove"),
        ("sumach leaves", "poison sumach"),
        ("yarrow tops", "hemlock"),
        ("goldenrod tops", "st john's wort"),
        ("saffron threads", "autumn crocus"),
        ("elderberry", "pokeweed"),
    ],
)
def test_a_gathered_plant_names_its_harmful_twin(plant: str, twin: str) -> None:
    steps = 'bath: prepare in kettle with water 3 L, plant 50 g\ndiscard bath to "foul drain"'
    head = bare(steps, "outdoors").replace("  place", "  wearing gloves\n  place")
    gathered = head + f"materials\n  plant: {plant}, gathered 2026-06-12\n"
    (found,) = expect_notes(gathered, "easily-confused")
    assert twin in found.sentence
    bought = head + f"materials\n  plant: {plant}, bought\n"
    assert expect_notes(bought, "easily-confused") == []


# ------------------------------------------------------------------ deferring


def every_safety_finding() -> list[Finding]:
    found = [
        finding
        for rule in RULES
        if rule.family == "safety"
        for finding in findings(rule.trips)
        if finding.rule in SAFETY
    ]
    examples = Path(__file__).parents[2] / "examples"
    for path in sorted(examples.rglob("*.dye")):
        found += [f for f in procedure.load(path).findings if f.rule in SAFETY]
    return found


def test_a_safety_finding_has_a_short_caution_of_its_own_and_a_source() -> None:
    found = every_safety_finding()
    assert {finding.rule for finding in found} == SAFETY
    for finding in found:
        assert finding.family == "safety" and finding.source and finding.remedy
        assert DEFER not in finding.remedy  # the report says that once, for all of them


@pytest.mark.parametrize("place", ["behind the shed", "the usual place", "wherever it goes"])
def test_a_metal_goes_to_no_place_that_nobody_knows(place: str) -> None:
    steps = f'bath: prepare in kettle with water 3 L, copper 3 g\ndiscard bath to "{place}"'
    found = [one for one in findings(bare(steps)) if one.rule in ("no-disposal", "wrong-way-out")]
    assert [one.level for one in found] == ["error"]


@pytest.mark.parametrize("place", ["the council's collection", "the place that local rules name"])
def test_a_place_for_such_waste_is_known(place: str) -> None:
    steps = f'bath: prepare in kettle with water 3 L, copper 3 g\ndiscard bath to "{place}"'
    assert not {"no-disposal", "wrong-way-out"} & {one.rule for one in findings(bare(steps))}


def test_a_mask_keeps_out_dust_and_no_gas() -> None:
    steps = (
        "bath: prepare in tub with water 3 L, {what} 30 g wearing mask, gloves, eye protection\n"
        'discard bath to "the waste point"'
    )
    citric = bare(steps.format(what="citric")) + "materials\n  citric: citric acid\n"
    assert "no-fresh-air" not in {one.rule for one in findings(citric)}
    bleach = bare(steps.format(what="white")) + "materials\n  white: bleach, 6 %\n"
    assert "no-fresh-air" in {one.rule for one in findings(bleach)}


def test_what_is_put_in_beside_unrinsed_fibre_meets_what_it_carries() -> None:
    """The fibre came out of bleach, lies in plain water, and acid is poured to it there."""
    text = """procedure "x"
fibre
  yarn: cotton yarn, 100 g, scoured
equipment
  pot: stainless steel pot, 20 L
  tub: plastic tub, 20 L
materials
  s: bleach, solution 5 % by weight
  a: vinegar, 5 %
steps
  x: prepare in pot with water 5 L, s 200 mL
  steep yarn in x for 40 min
  lift yarn
  y: prepare in tub with water 5 L
  steep yarn in y for 40 min
  add a 100 mL to y
"""
    found = [one for one in read(text) if one.rule == "must-not-meet"]
    assert [(one.level, one.line) for one in found] == [("error", 16)]
    rinsed = text.replace(
        "  y: prepare", "  rinse yarn in tub with water 5 L\n" * 3 + "  y: prepare"
    )
    assert not [one for one in read(rinsed) if one.rule == "must-not-meet" and one.level == "error"]
