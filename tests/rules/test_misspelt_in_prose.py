"""Plants that poison, misspelt or in names of things: asked about, and prose raises no alarm.

The measure of false alarms is prose from outside: the two editions of the handbook's public
text are tried by hand (no alarm in 118,000 runs of words), and of the 156,568 words of seven
letters and more in the GNU Collaborative International Dictionary of English (0.48.5) 65 are as
near to a name, most of them names of plants; the everyday ones are in words_like_plants.csv.
"""

from __future__ import annotations

from pathlib import Path

import pytest

import procedure
from procedure.model.harm import misspelt
from procedure.vocabulary.library import rows

ROOT = Path(__file__).parents[2]
RULE = "danger-in-free-words"
TEXT = """procedure "Gold"
  by "Fellside Dye Circle"
  revised 2026-06-14
  source "our own workshop"
  makes "a gold skein"
  place outdoors
  wearing gloves, eye protection
{head}
fibre
  yarn: wool yarn, 100 g, scoured

equipment
  pot: stainless steel pot, 15 L, lidded, for dyeing only
  {bag}: net bag, for dyeing only{of_bag}

materials
  weld: weld tops, dried{of_weld}

steps
  put weld 100 g in {bag}{note}
  {bath}: prepare in pot with water 4 L covered
{step}  discard {bath} to "foul drain"
"""
PLAIN = {
    "head": "",
    "bag": "bag",
    "of_bag": "",
    "of_weld": "",
    "note": "",
    "bath": "gold-bath",
    "step": "",
}


def told(**changed: str) -> list[tuple[str, str, str]]:
    text = TEXT.format(**(PLAIN | changed))
    return [
        (one.rule, one.level, one.sentence)
        for one in procedure.read(text, "gold.dye").findings
        if one.rule in (RULE, "deadly-plant", "which-is-meant")
    ]


@pytest.mark.parametrize(
    ("where", "words", "plant"),
    [
        ("note", ' note "mixed with foxglov leaves"', "foxglove"),
        ("step", '  do "stir in the oleandar twigs"\n', "oleander"),
        ("head", '  note "the bag holds monkshod and weld"', "monkshood"),
        ("of_weld", ', "with some labernum"', "laburnum"),
        ("of_bag", ', "full of rododendron leaves"', "rhododendron"),
        ("bag", "foxglov-bag", "foxglove"),
        ("bag", "foxglove-bag", "foxglove"),
        ("bath", "oleander-bath", "oleander"),
    ],
)
def test_it_is_asked_and_nobody_is_accused(where: str, words: str, plant: str) -> None:
    assert [(rule, level) for rule, level, _ in told(**{where: words})] == [(RULE, "warning")]
    assert plant in told(**{where: words})[0][2]


def test_what_a_bag_is_said_to_hold_counts_as_said() -> None:
    assert ("deadly-plant", "error") in [
        found[:2] for found in told(of_bag=', "full of foxglove leaves"')
    ]


@pytest.mark.parametrize(
    ("where", "words"),
    [
        ("note", ' note "no foxglov is used"'),
        ("note", ' note "grown in Foxgrove Lane"'),
        ("note", ' note "hang it on the bracket"'),
        ("head", '  note "never take monkshod for it"'),
        ("bath", "gold-and-green-bath"),
        ("of_weld", ', "from Foxglove Lane"'),
    ],
)
def test_what_is_denied_or_a_place_is_not_asked_about(where: str, words: str) -> None:
    assert told(**{where: words}) == []


def test_no_example_and_no_recipe_of_the_handbook_is_asked_about() -> None:
    trials = [
        path
        for path in (ROOT / "tests" / "trials").rglob("*")
        if path.suffix in (".txt", ".md", ".dye") and "held_out" not in path.parts
    ]
    texts = [*ROOT.glob("examples/**/*.dye"), *ROOT.glob("grammar/*.md"), ROOT / "README.md"]
    assert len(texts) > 40 and len(trials) > 100
    asked = {
        (path.name, plant.name)
        for path in (*texts, *trials)
        for line in path.read_text("utf-8", errors="replace").splitlines()
        for plant in misspelt(line)
    }
    # The one example whose faults are meant.
    assert {one for one in asked if one != ("safety.dye", "monkshood")} == set()


@pytest.mark.parametrize("row", rows("words_like_plants"), ids=lambda row: str(row["word"]))
def test_everyday_words_are_left_alone(row: dict[str, str]) -> None:
    assert misspelt(f"the {row['word']} of the thing") == ()


@pytest.mark.parametrize(
    ("words", "plant"),
    [
        ("chop the fox glov leaves", "foxglove"),
        ("stir in the lilly of the vallie", "lily of the valley"),
        ("giant hogwed stems go in", "giant hogweed"),
        ("dogs mercry", "dog's mercury"),
        ("cut the poisen ivy", "poison ivy"),
        ("wite bryony roots", "white bryony"),
    ],
)
def test_a_name_of_several_words_has_a_slip_in_each(words: str, plant: str) -> None:
    assert plant in [one.name for one in misspelt(words)]


@pytest.mark.parametrize(
    "words", ["white bread", "the valley of the lily pond", "a fox and a glow"]
)
def test_other_words_side_by_side_are_no_slip(words: str) -> None:
    assert not misspelt(words)
