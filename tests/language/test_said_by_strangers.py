"""Ordinary lines of people who met the language for the first time: read whole, or asked about so
that the answer leads on."""

import pytest
from papers import METRIC, in_words

import procedure
from procedure.findings import Finding
from procedure.handout.contents import telling_of
from procedure.handout.numbered_steps import tell
from procedure.model.types import Step

HEAD = """procedure "Said by strangers"
fibre
  yarn: wool yarn, 4 skeins of 25 g, scoured
equipment
  pot: stainless steel pot, 15 L, lidded, for dyeing only
  pan: stainless steel pot, 10 L, lidded, for dyeing only
  tub: plastic tub, 20 L, for dyeing only
materials
  skins: onion skins, dried
  alum: potassium alum
  iron: ferrous sulphate
  vinegar: white vinegar, 5 %
steps
"""
BATH = "skin-bath: prepare in pot with water 5 L, skins 50 g"
BOILED = (BATH, "simmer skin-bath at 85 °C for 1 h")
LOTS = (*BOILED, "split yarn into gold 1 skein, moss 1 skein, straw")
IN = (*BOILED, "dye yarn in skin-bath at 85 °C for 1 h")
WORDS = frozenset(
    ("cannot-read", "not-declared", "something-missing", "wrong-kind-of-thing", "part-of-a-lot")
)


def text(*lines: str) -> str:
    return HEAD + "".join(f"  {line}\n" for line in lines)


def papers(*lines: str) -> list[str]:
    steps = tell(telling_of(procedure.read(text(*lines), "x.dye"), METRIC))
    return [in_words(one.text) for step in steps for one in step.every()]


def asked(*lines: str) -> list[Finding]:
    """What is found of the words of the last line."""
    last = text(*lines).count("\n")
    found = procedure.read(text(*lines)).findings
    return [one for one in found if one.line == last and one.rule in WORDS]


COOLED = "Let the skin bath cool until it is cool."
COLD = "Let the skin bath cool to cold (5 to 25 °C, 41 to 77 °F)."
NOW_AND_THEN = "Stir it now and then."


@pytest.mark.parametrize(
    ("before", "line", "says"),
    [
        (BOILED, "leave the bath to cool", COLD),
        (BOILED, "cool skin-bath", COLD),
        (BOILED, "allow to cool, then strain", COLD),
        (BOILED, "take the pot off the heat and let it cool", COLD),
        (BOILED, "let it cool off", COLD),
        (BOILED, "strain when cool", COOLED),
        (BOILED, "strain skin-bath once it has cooled", COOLED),
        (BOILED, "strain skin-bath when it is cold", COLD),
        (
            IN,
            "lift yarn from skin-bath when cool",
            COOLED.replace(".", ", with the yarn still in it."),
        ),
        (BOILED, "turn the heat off and let it cool overnight", "Let the skin bath cool overnight"),
        (BOILED, "leave it until cool enough to handle", "until it is cool enough to handle"),
        (
            (*LOTS, "lift gold"),
            "put the other two in skin-bath",
            "Put the moss lot and the straw lot",
        ),
        ((*LOTS, "rinse gold, moss in tub"), "rinse the other one in tub", "Rinse the straw lot"),
        (
            (*LOTS, "rinse gold in tub"),
            "rinse the others in tub",
            "Rinse the moss lot and the straw",
        ),
        (BOILED, "transfer it all to pan", "Pour the skin bath into the pan."),
        (BOILED, "stand skin-bath for 7 d, stirring daily", NOW_AND_THEN),
        (BOILED, "stand skin-bath for 7 d, stirring every day", NOW_AND_THEN),
        (BOILED, "stand skin-bath for 1 h stirring every 10 min", NOW_AND_THEN),
        (BOILED, "dissolve 20 g alum in a cup of hot water and add it to the bath", "20 g of pot"),
        (
            BOILED,
            "dissolve alum 20 g in 200 ml hot water, then add to skin-bath",
            "200 mL of hot water",
        ),
        (BOILED, "stir 2 g iron dissolved in a little hot water into skin-bath", "2 g of ferrous"),
        (
            BOILED,
            "add 2 g iron, dissolved in hot water",
            "2 g of ferrous sulphate to the skin bath",
        ),
        (
            (),
            "skin-bath: put 50 g skins and 5 L water in pot",
            "Make the skin bath in the pot: 5 L",
        ),
        ((), "put 50 g skins and 5 L water into the pot", "Make the pot bath in the pot: 5 L"),
        ((), "put the skins (150 g) in the pot and cover with 7 L water", "7 L of water and 150 g"),
        (
            (),
            "half fill the pot with skins and cover with 5 L water",
            "Make the pot bath in the pot",
        ),
        ((*IN, "lift yarn"), "hang yarn up in the air for 15 min", "Hang the yarn in the air"),
        ((BATH, "dip yarn in skin-bath for 5 min"), "hang yarn up for 15 min", "Hang the yarn in"),
        (LOTS, "wash gold and moss separately in tub", "Wash the gold lot and the moss lot in the"),
        (BOILED, "bring back to the heat and simmer for 1 h", "Simmer the skin bath"),
        (BOILED, "pour the leftover dye on the compost", "Get rid of the skin bath (the compost)"),
        (BOILED, "hang yarn in skin-bath", "Put the yarn into the skin bath."),
        (BOILED, "hang yarn in skin-bath for 1 h", "let it steep for 1 hour"),
        (
            BOILED,
            "keep the temperature under 85 °C for 1 h",
            "Keep the skin bath for 1 hour, at 85 °C",
        ),
        (IN, "leave the yarn soaking for 1 h", "yarn"),
        (
            IN,
            "air yarn for 20 min so the colour darkens",
            "Hang the yarn in the air for 20 minutes.",
        ),
        (
            BOILED,
            "add vinegar 10 g to skin-bath because it fizzes",
            "Add 10 g of vinegar (5 %) to the",
        ),
    ],
)
def test_a_line_is_read_whole(before: tuple[str, ...], line: str, says: str) -> None:
    assert asked(*before, line) == []
    assert any(says in one for one in papers(*before, line)), papers(*before, line)


@pytest.mark.parametrize(
    ("before", "line", "remedy"),
    [
        (BOILED, "let skin-bath cool a little", "to hand-hot"),
        (
            BOILED,
            "dye half the yarn in skin-bath at 80 °C for 1 h",
            "split yarn into part-one 1/2 of",
        ),
        (BOILED, "dye the first skein in skin-bath", "split yarn into first-skein 1 skein"),
        (BOILED, "dye the skein in skin-bath", "split yarn into early half of yarn"),
        (IN, "lift some of the yarn", "split yarn into part-one half of yarn"),
        ((*IN, "lift yarn"), "put one skein back", "split yarn into first one skein"),
        (BOILED, "acidify skin-bath until pH 5", "with vinegar"),
        (BOILED, "split the yarn in half", "into part-one half of yarn, part-two"),
        (BOILED, "let it cool until the skin forms", 'until "skin forms"'),
        (BOILED, "wash up all the pots", "pot, pan and tub"),
    ],
)
def test_a_line_is_asked_about_once(before: tuple[str, ...], line: str, remedy: str) -> None:
    (told,) = asked(*before, line)
    assert remedy in told.remedy


@pytest.mark.parametrize("how", ["skein", "first", "light", "separately"])
def test_nobody_is_told_to_leave_out_what_carries_the_meaning(how: str) -> None:
    for line in (f"dye yarn {how} in skin-bath", f"dye the {how} skein in skin-bath"):
        for one in asked(*BOILED, line):
            assert not one.remedy.startswith("Leave it out,")


def test_how_far_a_bath_cools_is_told_where_it_is_supposed() -> None:
    found = procedure.read(text(*BOILED, "leave the bath to cool")).findings
    (told,) = [one for one in found if one.rule == "heat-unstated"]
    assert told.sentence == "It is not said how far to cool, so it is read as cold (5 to 25 °C)."


@pytest.mark.parametrize("until", ["cool", '"you can put your hand in"', '"it has a skin on it"'])
def test_what_cools_until_a_sign_is_no_longer_as_hot(until: str) -> None:
    lines = (*BOILED, f"cool skin-bath until {until}", "enter yarn in skin-bath")
    found = procedure.read(text(*lines, "heat skin-bath slowly from 40 °C to 80 °C")).findings
    wrong = {"bath-still-hot", "heat-shock", "range-backwards", "wrong-way"}
    assert not wrong & {one.rule for one in found}


def test_plants_are_taken_out_of_the_only_bath_that_they_are_in() -> None:
    for line in ("take the skins out", "fish out skins"):
        found = procedure.read(text(*BOILED, line, "dye yarn in skin-bath for 1 h")).findings
        assert "plants-left-loose" not in {one.rule for one in found}


def test_declarations_without_a_name_are_told_once_for_all() -> None:
    whole = HEAD.replace("yarn: wool yarn, 4 skeins of 25 g, scoured", "100 g wool yarn")
    whole = whole.replace("skins: onion skins, dried", "onion skins").replace("alum: ", "20 g ")
    found = [one for one in procedure.read(whole).findings if one.rule == "cannot-read"]
    (told,) = found
    assert told.line == 3
    assert "“yarn: wool yarn, 100 g”" in told.remedy
    assert "in the same way" in told.remedy


def test_a_declaration_without_a_name_is_told_alone() -> None:
    whole = HEAD.replace("skins: onion skins, dried", "onion skins")
    (told,) = [one for one in procedure.read(whole).findings if one.rule == "cannot-read"]
    assert told.remedy == "Write it so: “onion-skins: onion skins”."


@pytest.mark.parametrize(
    ("before", "line", "says"),
    [
        ((BATH, "heat skin-bath to 80 °C"), "leave skin-bath for 1 h", "Keep the skin bath"),
        (
            (BATH, "heat skin-bath to 80 °C", 'do "turn the heat off"'),
            "leave skin-bath for 1 h",
            "Let the skin bath stand for 1 hour",
        ),
        (
            (BATH, "heat skin-bath to 80 °C", "turn down the heat"),
            "leave skin-bath for 1 h",
            "Let the skin bath stand for 1 hour",
        ),
        (
            (BATH, "heat skin-bath to 80 °C"),
            "leave skin-bath unattended for 3 h",
            "Let the skin bath stand for 3 hours",
        ),
        (
            (BATH, "heat skin-bath to 100 °C"),
            "leave skin-bath for 1 h",
            "Let the skin bath stand for 1 hour",
        ),
        (
            (*BOILED, "alum-bath: prepare in pan with water 5 L, alum 10 g"),
            "take pot off the heat and leave it for 1 h",
            "Let the skin bath stand for 1 hour",
        ),
        (IN, "hold skin-bath at 80 °C for at least 1 h but at most 2 h", "for 1 to 2 hours"),
        (IN, "hold skin-bath at 80 °C for at least 1 h but no more than 2 h", "for 1 to 2 hours"),
    ],
)
def test_what_is_left_is_as_hot_as_is_said_and_bounds_have_both_ends(
    before: tuple[str, ...], line: str, says: str
) -> None:
    assert asked(*before, line) == []
    assert any(says in one for one in papers(*before, line))


@pytest.mark.parametrize("lot", ["both skeins", "both of them"])
def test_both_of_three_lots_are_asked_for_by_name(lot: str) -> None:
    (found, *_) = asked(*LOTS, f"rinse {lot} in tub with water 5 L")
    assert "does not say what is meant" in found.sentence
    assert "some of gold, moss and straw" in found.remedy


@pytest.mark.parametrize(
    ("line", "note"),
    [
        ("dissolve 10 g of alum in 100 ml of water, then add to skin-bath", "in the water first"),
        ("dissolve alum 10 g in a cup of hot water and add it to skin-bath", "in the water first"),
        ("add alum 10 g dissolved in boiling water to skin-bath", "in hot or warm water first"),
        ("add alum 10 g, dissolved in a little water, to skin-bath", "in the water first"),
    ],
)
def test_what_is_dissolved_first_is_told_so(line: str, note: str) -> None:
    assert asked(*IN, line) == []
    (*_, last) = procedure.read(text(*IN, line)).model.body
    assert isinstance(last, Step) and f"dissolved {note}" in last.note


@pytest.mark.parametrize(
    "line",
    [
        "dissolve 10 g of lye in 100 ml of hot water, then add to skin-bath",
        "dissolve lye 10 g in hot water and add to skin-bath",
        "add lye 10 g dissolved in boiling water to skin-bath",
        "mix 10 g of lye in a cup of warm water and add it to skin-bath",
    ],
)
def test_lye_that_is_dissolved_hot_first_is_warned_of(line: str) -> None:
    declared = text(BATH, line).replace("steps\n", "  lye: caustic soda\nsteps\n")
    found = procedure.read(declared).findings
    assert any(one.rule == "wrong-order-of-pouring" and one.level == "error" for one in found)


@pytest.mark.parametrize("water", ["a little boiling water", "200 ml of hot water", "hot water"])
def test_what_is_dissolved_hot_heats_no_whole_bath(water: str) -> None:
    line = f"alum-bath: prepare in pan with water 4 L, alum 12 g dissolved in {water}"
    assert asked(BATH, line) == []
    said = " ".join(papers(BATH, line))
    assert "boil" not in said and "°C" not in said


@pytest.mark.parametrize("line", ["for later use", "at that heat", "keeping it at that heat"])
def test_a_line_of_how_alone_is_asked_about(line: str) -> None:
    assert any(one.rule == "cannot-read" for one in asked(BATH, line))


@pytest.mark.parametrize(("water", "told"), [("hot water", True), ("water", False)])
def test_lye_that_is_added_with_hot_water_is_warned_of(water: str, told: bool) -> None:
    line = f"add {water} 1 L, lye 10 g to skin-bath"
    declared = text(BATH, line).replace("steps\n", "  lye: caustic soda\nsteps\n")
    found = {one.rule for one in procedure.read(declared).findings}
    assert ("wrong-order-of-pouring" in found) is told


SHARP = (
    "  lye: caustic soda\n  lime: slaked lime\n  soda: soda ash\n  acid: hydrochloric acid\n"
    "  reducer: fructose\n  indigo: indigo powder\n"
)
VAT = "vat: prepare in pan with water 5 L, indigo 5 g, soda 10 g, reducer 10 g at 50 °C"


@pytest.mark.parametrize(
    ("before", "line", "offered"),
    [
        ((BATH,), "acidify skin-bath", "Say what goes in: “with vinegar”."),
        ((BATH,), "sharpen skin-bath", "Say what goes in: “with vinegar”."),
        ((BATH, VAT), "sharpen vat", "Say what goes in: “with soda”."),
        (
            (BATH,),
            "neutralise skin-bath",
            "Say what goes in: “with vinegar” where it is alkaline, “with soda” where it is sour.",
        ),
    ],
)
def test_no_acid_or_alkali_that_burns_is_offered(
    before: tuple[str, ...], line: str, offered: str
) -> None:
    whole = text(*before, line).replace("steps\n", SHARP + "steps\n")
    last = whole.count("\n")
    found = [one for one in procedure.read(whole).findings if one.line == last]
    assert offered in [one.remedy for one in found]


@pytest.mark.parametrize(
    ("line", "stands"),
    [
        ("leave skin-bath at 60 °C for 45 min", False),
        ("leave skin-bath at 60 °C for 4 h", False),
        ("leave skin-bath at 60 °C overnight", True),
        ("leave skin-bath at 90 °C for 10 h", True),
        ("leave skin-bath at 90 °C for 10 h covered", True),
        ("leave skin-bath at 60 °C outside for 2 h", True),
        ("leave skin-bath outside for 2 h", True),
        ("leave skin-bath in the shade for 2 h", True),
        ("leave skin-bath in the sun for 2 h", True),
    ],
)
@pytest.mark.parametrize("before", [(BATH, "heat skin-bath to 80 °C"), IN])
def test_nobody_keeps_a_plate_on_for_a_night_or_out_of_doors(
    before: tuple[str, ...], line: str, stands: bool
) -> None:
    (*_, last) = procedure.read(text(*before, line)).model.body
    assert isinstance(last, Step) and last.verb is not None
    assert last.verb.name == ("stand" if stands else "hold")


def test_what_is_left_hot_for_a_night_is_cold_by_morning() -> None:
    for before in ((BATH,), IN):
        found = procedure.read(text(*before, "leave skin-bath at 60 °C overnight")).findings
        assert "cold-by-morning" in {one.rule for one in found}


@pytest.mark.parametrize(
    ("said", "metal", "asked_about"),
    [
        ("pot (aluminium with lead lining), 5 L", "aluminium", ["lead", "lining"]),
        ("pot (old brass), 5 L", "brass", []),
        ("enamel pot (chipped to the iron), 5 L", "chipped enamel", []),
        ("enamel pot (chipped), 5 L", "chipped enamel", []),
        ("enamel pot, 5 L, chipped", "chipped enamel", []),
        ("enamel pot (from the old shed), 5 L", "enamel", []),
    ],
)
def test_the_metal_that_is_said_in_brackets_is_read(
    said: str, metal: str, asked_about: list[str]
) -> None:
    plan = procedure.read(
        HEAD.replace("materials", "  old: " + said + "\nmaterials") + '  do "x"\n'
    )
    made = plan.model.equipment["old"].metal
    assert made is not None and made.name == metal
    words = [one.sentence for one in plan.findings if one.rule == "unknown-word"]
    assert words == [f"I do not know the word “{one}”." for one in asked_about]


@pytest.mark.parametrize(
    ("said", "fibre"),
    [
        ("sock yarn (wool and nylon)", "wool-nylon blend"),
        ("yarn (wool from the hill)", "wool"),
        ("thick yarn (silk for the most part)", "silk"),
    ],
)
def test_the_fibre_that_is_said_in_brackets_is_read(said: str, fibre: str) -> None:
    plan = procedure.read(HEAD.replace("wool yarn, 4", said + ", 4") + '  do "x"\n')
    assert [one.name for one in plan.model.lots["yarn"].fibres] == [fibre]


BESIDE = HEAD.replace(
    "equipment", "  silk: silk yarn, 50 g\n  cloth: cotton cloth, 80 g\nequipment"
)
HALVES = (*BOILED, "split yarn into gold half, moss")
AGAIN = (*HALVES, "join gold, moss as both-lots", "split both-lots into gold half, moss")


@pytest.mark.parametrize(
    ("before", "line", "lots"),
    [
        ((*BOILED, "enter yarn, silk in skin-bath"), "lift the other skein", None),
        ((*BOILED, "enter yarn, silk in skin-bath"), "lift the other hank", None),
        ((*BOILED, "enter yarn, silk in skin-bath"), "rinse the other half in tub", None),
        ((*BOILED, "enter cloth in skin-bath"), "rinse the other two skeins in tub", None),
        ((*BOILED, "enter yarn in skin-bath"), "rinse the other skein in tub", {"silk"}),
        ((*BOILED, "enter yarn, silk in skin-bath"), "rinse the other lot in tub", {"cloth"}),
        ((*HALVES, "enter gold in skin-bath"), "rinse the other half in tub", {"moss"}),
        ((*AGAIN, "enter gold in skin-bath"), "rinse the other half in tub", {"moss"}),
        (
            (*AGAIN, "enter gold in skin-bath"),
            "rinse the other two skeins in tub",
            {"moss", "silk"},
        ),
        ((*HALVES, "enter silk in skin-bath"), "rinse the other half in tub", None),
        (
            (*HALVES, "enter gold in skin-bath"),
            "rinse the other two skeins in tub",
            {"moss", "silk"},
        ),
        ((*HALVES, "enter gold in skin-bath"), "rinse the other skein in tub", None),
    ],
)
def test_the_other_skein_is_yarn_and_the_other_half_is_of_what_was_halved(
    before: tuple[str, ...], line: str, lots: set[str] | None
) -> None:
    whole = BESIDE + "".join(f"  {one}\n" for one in (*before, line + " with water 5 L"))
    plan = procedure.read(
        whole.replace(" with water 5 L", "" if "lift" in line else " with water 5 L")
    )
    last = whole.count("\n")
    if lots is None:
        assert any(one.line == last and one.rule in WORDS for one in plan.findings)
        return
    (*_, step) = plan.model.body
    assert isinstance(step, Step)
    assert {item.name.text for item in step.objects if item.name is not None} == lots


@pytest.mark.parametrize(
    "line", ["add vinegar to skin-bath to pH 4", "acidify skin-bath with vinegar to pH 4"]
)
def test_it_is_the_ph_that_says_how_much(line: str) -> None:
    found = procedure.read(text(BATH, line)).findings
    (told,) = [one for one in found if "loose measure" in one.sentence]
    assert "“to pH 4”" in told.sentence


@pytest.mark.parametrize(
    ("declared", "said"),
    [
        ("onion: onion skins", "6 onions"),
        ("onions: onion skins", "6 onion"),
        ("onion: onion skins", "6 onion"),
        ("berry: blackberries", "6 berries"),
        ("leaf: woad leaf", "6 leaves"),
        ("potato: potato peel", "6 potatoes"),
        ("peel: onion skins", "6 skin"),
    ],
)
def test_pieces_of_a_plant_are_counted_by_one_name(declared: str, said: str) -> None:
    whole = text("skin-bath: prepare in pot with water 5 L", f"add {said} to skin-bath")
    whole = whole.replace("  skins: onion skins, dried", f"  {declared}")
    (told,) = [one for one in procedure.read(whole).findings if one.rule == "unknown-unit"]
    assert told.sentence == f"“{said}” is a number of pieces, and no two weigh the same."
    assert f"“{declared.partition(':')[0]} " in told.remedy


def test_how_hot_the_water_is_that_something_is_dissolved_in_is_told() -> None:
    line = "dissolve alum 10 g in 500 ml of boiling water, then add to skin-bath"
    assert asked(BATH, line) == []
    assert any("500 mL" in one and "at the boil" in one for one in papers(BATH, line))


@pytest.mark.parametrize(
    ("note", "kept"),
    [
        ("turn the heat off.", False),
        ("Off the heat, with a lid", False),
        ("OFF", False),
        ("switched off, lid on", False),
        ("skim off the scum", True),
    ],
)
def test_a_note_says_that_the_heat_is_off(note: str, kept: bool) -> None:
    lines = (BATH, "heat skin-bath to 80 °C", f'leave skin-bath for 1 h note "{note}"')
    said = " ".join(papers(*lines))
    assert ("Keep the skin bath" in said) is kept


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("add lye 5 g, water 2 L at 90 °C to skin-bath", True),
        ('add lye 5 g to skin-bath note "never dissolve in hot water"', False),
        ("dissolve lye 5 g in 200 ml of cold water, then add to skin-bath", False),
    ],
)
def test_only_hot_water_is_hot_for_lye(line: str, told: bool) -> None:
    declared = text(BATH, line).replace("steps\n", "  lye: caustic soda\nsteps\n")
    found = {one.rule for one in procedure.read(declared).findings}
    assert ("wrong-order-of-pouring" in found) is told


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("throw in the alum 12 g", "Add 12 g of potassium alum to the skin bath."),
        ("throw in 50 g of alum", "Add 50 g of potassium alum to the skin bath."),
        ("tip 10 g alum in", "Add 10 g of potassium alum to the skin bath."),
        ("dump in the alum 12 g", "Add 12 g of potassium alum to the skin bath."),
        ("throw in the yarn", "Put the yarn into the skin bath."),
        ("throw skins away", "Throw the onion skins out of the skin bath."),
    ],
)
def test_what_is_thrown_in_is_not_thrown_away(line: str, says: str) -> None:
    assert asked(BATH, line) == []
    assert any(says == one for one in papers(BATH, line))


@pytest.mark.parametrize("what", ["2 foxglove leaves", "3 yew twigs", "6 hemlock stems"])
def test_a_plant_that_kills_is_told_by_its_count_too(what: str) -> None:
    found = procedure.read(text(BATH, f"add {what} to skin-bath")).findings
    assert any(one.level == "error" and "deadly" in one.sentence for one in found)


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ('do "drink a mug of the skin bath"', True),
        ("drink a mug of the skin bath", True),
        ('do "touch a drop to the tongue"', True),
        ('do "drink what is left"', True),
        ('do "never drink the bath"', False),
        ('do "have a mug of tea and drink it in the garden"', False),
    ],
)
def test_the_bath_is_not_to_be_drunk_however_it_is_said(line: str, told: bool) -> None:
    found = procedure.read(text(BATH, line)).findings
    assert any("puts the bath to the mouth" in one.sentence for one in found) is told


@pytest.mark.parametrize(
    ("line", "says"),
    [
        (
            "cool skin-bath to within 10 °C of the room",
            "Let the skin bath cool until within 10 °C of room.",
        ),
        (
            "cool down till you can put your finger in",
            "Let the skin bath cool until you can put a finger in it.",
        ),
        (
            "cool skin-bath until you can hold your hand in it",
            "Let the skin bath cool until you can put a hand in it.",
        ),
    ],
)
def test_how_far_a_bath_cools_is_said_by_the_hand_or_the_room(line: str, says: str) -> None:
    assert papers(*BOILED, line)[-1] == says
    assert not asked(*BOILED, line)


def test_all_but_a_litre_is_asked_about_and_not_read_as_a_litre() -> None:
    for line in (
        'discard all but 1 L of skin-bath to "foul drain"',
        "strain all but 1 L of skin-bath",
    ):
        (found,) = asked(*BOILED, line)
        assert "tells what stays" in found.sentence
        assert not any("1 L" in one for one in papers(*BOILED, line))


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("rinse yarn a couple of times in tub with water 4 L at 30 °C", "twice"),
        ("rinse yarn in tub with water 4 L at 30 °C, once", "Rinse the yarn in 4 L"),
    ],
)
def test_how_often_is_read_in_words(line: str, says: str) -> None:
    told = papers(*IN, line)
    assert any(says in one for one in told)
    assert not asked(*IN, line)


@pytest.mark.parametrize(
    ("brings", "says"),
    [
        ("2 L boiling water, 2 L cold vinegar", "Have it at 50 to 63 °C"),
        ("4 L boiling water, 100 mL vinegar", "Have it at the boil"),
        ("4 L hot water, skins 50 g at 60 °C", "Have it at 60 °C"),
    ],
)
def test_much_of_another_liquor_cools_boiling_water(brings: str, says: str) -> None:
    """As two waters mix: 2 L at 95 to 100 °C and 2 L at 5 to 25 °C."""
    assert says in papers(f"sour-bath: prepare in pot with {brings}")[0]


def test_the_rest_of_a_bath_is_called_as_the_bath() -> None:
    line = 'discard half of skin-bath to "foul drain", keep the rest as old-skins in pan labelled'
    (found,) = asked(*BOILED, line)
    assert "write “skin-bath”" in found.remedy
