"""Sentences are built from the model: right words, articles, numbers and places."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from papers import METRIC, in_words, told

import procedure
from procedure.handout.contents import telling_of
from procedure.handout.numbered_steps import tell
from procedure.paper.measures import Voice
from procedure.rules.example_kit import whole
from procedure.wording.reader import of_system

BATH = "a: prepare in kettle with water 3 L\n"

SENTENCES = {
    # fibre
    "wet out yarn in tub with water 5 L at 30 °C for 1 h": (
        "Soak the yarn in 5 L of water in the tub, at 30 °C (86 °F) for 1 hour. "
        "It must be wet through before it goes on."
    ),
    "wet out yarn, silk in tub with water 5 L for 30 min": (
        "Soak the yarn and the silk in 5 L of water in the tub, for 30 minutes. "
        "They must be wet through before they go on."
    ),
    "scour cloth in kettle with water 5 L, soap 2 % of cloth to 95 °C over 1 h for 2 h": (
        "Scour the cloth in 5 L of water with 2 g of neutral soap, in the kettle: bring it to "
        "95 °C (203 °F) over 1 hour, then keep it there for 2 hours."
    ),
    "rinse yarn in tub": "Rinse the yarn in fresh water in the tub.",
    'rinse yarn in tub with water 5 L at 30 °C until "the water runs clear"': (
        "Rinse the yarn in 5 L of water in the tub, at 30 °C (86 °F), until the water runs clear."
    ),
    "wash yarn in tub with water 5 L, soap 3 g, vinegar 20 mL at 35 °C for 10 min": (
        "Wash the yarn in 5 L of water with 3 g of neutral soap and 20 mL of vinegar, in the tub, "
        "at 35 °C (95 °F) for 10 minutes."
    ),
    "lift out madder from yarn": "Lift the madder out of the yarn.",
    "squeeze yarn into tub": "Squeeze the liquor out of the yarn into the tub.",
    "air yarn for 15 min outdoors": (
        "Hang the yarn in the air for 15 minutes. Do this in the open air."
    ),
    "dry yarn, silk": "Leave the yarn and the silk to dry.",
    "rest yarn for 1 to 2 d": "Let the yarn rest for 1 to 2 days.",
    "split yarn into gold 60 g, moss 40 g": (
        "Divide the yarn into two lots: gold, 60 g and moss, 40 g. Tie a tag with its name to each."
    ),
    # treatments in a bath
    BATH + "mordant yarn in a from 40 °C to 85 °C over 45 min for 1 h": (
        "Put the yarn into the a and mordant it: bring the bath from 40 °C (104 °F) to "
        "85 °C (185 °F) over 45 minutes, then keep it there for 1 hour."
    ),
    BATH + "dye yarn in a at 50 °C for about 5 min stirring": (
        "Put the yarn into the a and dye it at 50 °C (122 °F) for about 5 minutes. "
        "Keep the fibre moving all the while."
    ),
    BATH + "modify yarn in a at unstated for 10 to 15 min": (
        "Put the yarn into the a and let it change colour at ____ °C (the source does not say "
        "how hot) for 10 to 15 minutes."
    ),
    BATH + "steep yarn in a overnight covered": (
        "Put the yarn into the a and let it steep overnight (8 to 16 hours). Keep the lid on."
    ),
    BATH + "enter yarn into a": "Put the yarn into the a.",
    BATH + "enter yarn into a\nwork yarn in a for 10 min": (
        "Work the yarn in the a for 10 minutes."
    ),
    BATH + "enter yarn into a\nlift yarn from a": "Lift the yarn out of the a.",
    BATH + "dip yarn in a at cold for 1 min": (
        "Dip the yarn into the a, cold (5 to 25 °C, 41 to 77 °F) for 1 minute, then take it out."
    ),
    # baths
    "alum-bath: prepare in kettle with water 30 : 1 of yarn, alum 12 % of yarn at 40 °C": (
        "Make the alum bath in the kettle: 3 L of water and 12 g of potassium alum. "
        "Have it at 40 °C (104 °F)."
    ),
    "a: prepare in kettle with water unstated, alum a pinch": (
        "Make the a in the kettle: ____ L of water (the source does not say how much) and "
        "0.23 to 0.58 g of potassium alum (a pinch, a loose measure)."
    ),
    "a: prepare in kettle with water about 4 L, alum 8 to 10 % of yarn, soap some": (
        "Make the a in the kettle: about 4 L of water, 8 to 10 g of potassium alum and "
        "some neutral soap."
    ),
    BATH + "add alum 5 g to a stirring": "Add 5 g of potassium alum to the a. Stir all the while.",
    BATH + "heat a to 85 °C over 1 h for 30 min": (
        "Heat the a to 85 °C (185 °F) over 1 hour, then keep it there for 30 minutes."
    ),
    BATH + "simmer a for 1 h": "Simmer the a (80 to 95 °C, 176 to 203 °F) for 1 hour.",
    BATH + "boil a for 20 min": "Boil the a (95 to 100 °C, 203 to 212 °F) for 20 minutes.",
    BATH + "hold a at hand-hot for 90 min": (
        "Keep the a hand-hot (35 to 45 °C, 95 to 113 °F) for 1½ hours."
    ),
    BATH + "enter yarn into a\ncool a to 30 °C overnight covered": (
        "Let the a cool to 30 °C (86 °F) overnight (8 to 16 hours), with the yarn still in it. "
        "Keep it covered."
    ),
    BATH + "stand a until-next-day labelled": (
        "Let the a stand until the next day (12 to 30 hours). "
        "Label it: what it is, the date, and “not for food”."
    ),
    BATH + 'stand a until "it is clear" at 50 to 55 °C': (
        "Let the a stand until it is clear, at 50 to 55 °C (122 to 131 °F)."
    ),
    BATH + "strain a": "Strain the solids out of the a; the liquor stays in the kettle.",
    BATH + "strain a into pan": "Strain the a into the pan, and keep the solids out.",
    BATH + "top up a with water 1 L": "Top up the a with 1 L of water.",
    BATH + 'discard 1/4 of a to "foul drain"': (
        "Drain a quarter of the a, 750 mL, away (foul drain)."
    ),
    BATH + 'discard a to "foul drain"': "Drain the a away (foul drain).",
    BATH + "discard a": (
        "Get rid of the a. The procedure does not say where: ask what your local rules allow."
    ),
    BATH + "keep a as old-vat in jar covered": (
        "Keep the a in the jar, under the name “old vat”. Keep it covered."
    ),
    BATH + "draw off 1/3 of a into jar as b": (
        "Draw off a third of the a, 1 L, into the jar; this is the b from now on."
    ),
    # materials, equipment, free words
    "gather tansy 3 : 1 of yarn wearing gloves, mask": (
        "Gather 300 g of tansy tops. Not to be taken for ragwort (Jacobaea vulgaris), "
        "which harms. Wear gloves and a mask."
    ),
    "grind madder": "Grind the madder fine.",
    "chop onion 50 g": "Chop 50 g of onion skins small.",
    "b: dissolve alum 10 g in jar with water 500 mL at hand-hot": (
        "Dissolve 10 g of potassium alum in 500 mL of water, in the jar, hand-hot "
        "(35 to 45 °C, 95 to 113 °F). This is the b."
    ),
    "clean kettle with soda 20 g": (
        "Clean the kettle with 20 g of soda ash until nothing is left on it."
    ),
    "clean kettle": "Clean the kettle until nothing is left on it.",
    "clean kettle, pan, tub": (
        "Clean the kettle, the pan and the tub until nothing is left on them."
    ),
    BATH + "stand a for 3 d covered stirring now and then": (
        "Let the a stand for 3 days. Keep it covered. Stir it now and then."
    ),
    BATH + "stand a for 3 d covered now and then stirring": (
        "Let the a stand for 3 days. Keep it covered. Stir it now and then."
    ),
    'do "stir the ashes" for 5 min': "Stir the ashes, for 5 minutes.",
}


@pytest.mark.parametrize("lines", SENTENCES)
def test_a_step_is_told_in_full_sentences(lines: str) -> None:
    assert told(lines)[-1] == SENTENCES[lines]


def test_blocks_name_the_steps_that_they_hold() -> None:
    steps = told(
        "v: prepare in kettle with water 3 L\n"
        "repeat 3 times\n  dip yarn in v for 5 min\n  air yarn for 15 min\n"
        'if "it is pale"\n  dip yarn in v for 5 min\n'
        "dry yarn"
    )
    assert steps[1] == "Do steps 3 and 4 three times."
    assert steps[4] == "If it is pale, do step 6. If not, go on to step 7."


def test_a_step_for_each_of_several_is_told_once_where_it_is_alike() -> None:
    steps = told("split yarn into a 50 g, b 50 g\nfor each lot in a, b\n  dry lot for 1 d")
    assert steps[1:] == [
        "Do step 3 for a and b, one after the other.",
        "Leave this lot to dry for 24 hours.",
    ]


def test_a_step_for_each_of_several_is_told_by_itself_where_amounts_differ() -> None:
    steps = told(
        "split yarn into a 40 g, b 60 g\n"
        "for each lot in a, b\n  wash lot in tub with water 5 L, soap 5 % of lot"
    )
    assert [step for step in steps if "soap" in step] == [
        "Wash the a lot in 5 L of water with 2 g of neutral soap, in the tub.",
        "Wash the b lot in 5 L of water with 3 g of neutral soap, in the tub.",
    ]


def test_an_order_by_hand_names_the_step_that_comes_first() -> None:
    steps = told("first: dry yarn\nair silk for 5 min after first")
    assert steps[1] == "Hang the silk in the air for 5 minutes. Begin only when step 1 is done."


def test_a_plural_name_is_spoken_of_as_several() -> None:
    steps = told(
        'procedure "x"\nfibre\n  scarves: silk scarves, 100 g\nsteps\n'
        "  a: prepare in kettle with water 3 L\n  dye scarves in a at 40 °C for 1 h"
    )
    assert steps[1] == "Put the scarves into the a and dye them at 40 °C (104 °F) for 1 hour."


def test_water_boils_cooler_in_the_hills() -> None:
    # Water boils at about 93.3 °C at 2 000 m (standard atmosphere; about 1 K for 300 m).
    steps = told(
        'procedure "x"\n  altitude 2000 m\nsteps\n  a: prepare in kettle with water 3 L\n'
        "  boil a for 1 h"
    )
    assert "(93 °C" in steps[1]


def test_american_spelling_and_units() -> None:
    voice = Voice("us", "us")
    said = told(BATH + "modify yarn in a at 60 °C for 10 min stirring", voice)[-1]
    assert said == (
        "Put the yarn into the a and let it change color at 140 °F (60 °C) for 10 minutes. "
        "Keep the fiber moving all the while."
    )


def test_the_writers_own_words_keep_their_spelling() -> None:
    said = told('rinse yarn in tub until "the grey colour is gone"', Voice("us", "us"))[-1]
    assert said.endswith("until the grey colour is gone.")


def test_a_solution_is_poured_by_the_millilitre() -> None:
    # 10 % of 100 g is 10 g of alum; at 10 g in 100 mL that is 100 mL (common practice).
    steps = told(
        'procedure "x"\nmaterials\n  stock: potassium alum, solution 10 % by volume\nsteps\n'
        "  a: prepare in kettle with water 3 L, stock 10 % of yarn"
    )
    assert steps[0] == "Make the a in the kettle: 3 L of water and 100 mL of potassium alum (10 %)."


def test_a_followed_procedure_is_told_in_its_place(tmp_path: Path) -> None:
    (tmp_path / "alum.dye").write_text(
        whole(
            'procedure "Alum on wool"\nfibre\n  skeins: wool yarn, 40 g\nsteps\n'
            "  a: prepare in kettle with water 3 L, alum 12 % of skeins\n"
            "  mordant skeins in a at 80 °C for 1 h"
        ),
        encoding="utf-8",
    )
    main = tmp_path / "main.dye"
    main.write_text(
        whole('follow "alum.dye" with skeins = yarn, kettle = pan\ndry yarn'), encoding="utf-8"
    )
    steps = [
        in_words(one.text)
        for step in tell(telling_of(procedure.load(main), METRIC))
        for one in step.every()
    ]
    assert steps[:2] == [
        "Now comes “Alum on wool”, with the yarn.",
        # 12 % of the caller's 100 g.
        "Make the a in the pan: 3 L of water and 12 g of potassium alum.",
    ]


@pytest.mark.parametrize(
    ("voice", "water", "vinegar"),
    [
        (METRIC, "L", "mL"),
        (Voice("us", "us", of_system("us")), "US qt", "US fl oz"),
        (Voice("imperial", "british", of_system("imperial")), "imp pt", "imp fl oz"),
    ],
)
def test_a_liquid_of_no_stated_amount_has_a_blank_in_a_unit_of_volume(
    voice: Voice, water: str, vinegar: str
) -> None:
    """What a jug measures is not written down in grams; a salt is."""
    lines = (
        "a: prepare in kettle with alum, water\nmordant yarn in a at 60 °C for 1 h\n"
        "rinse yarn in tub with water, vinegar"
    )
    made, _, rinsed = told(lines, voice)
    assert f"____ {water} of water (no amount is written)" in made
    assert f"____ {voice.mass_unit} of potassium alum" in made
    assert f"____ {water} of water (no amount is written)" in rinsed
    assert f"____ {vinegar} of vinegar (no amount is written)" in rinsed


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("cool a to below 30 °C overnight", "overnight (8 to 16 hours), to 30 °C"),
        ("cool a to at most 30 °C over 2 h", "cool over 2 hours, to 30 °C"),
        ("heat a to at least 30 °C over 30 min", "over 30 minutes, to 30 °C"),
        ("hold a at at most 30 °C for 30 min", "for 30 minutes, at 30 °C"),
        ("steep yarn in a at at most 30 °C overnight", "overnight (8 to 16 hours) at 30 °C"),
        ("dye yarn in a to at most 30 °C over 1 h for 1 h", "over 1 hour, to 30 °C"),
    ],
)
def test_a_bound_of_heat_comes_behind_the_times(line: str, said: str) -> None:
    """“30 °C at the most overnight” reads as if the night were the bound."""
    text = told(f"{BATH}dye yarn in a at 80 °C for 1 h\n{line}")[-1]
    assert said in text
    assert re.search(r"at the (most|least) (overnight|over|for)", text) is None, text
