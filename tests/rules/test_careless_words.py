"""Free words that have the work done in a way that hurts, and words of denial that deny nothing.

The plants and the salts stand in the data files with their sources; what is careless is
common practice, and the no eating or drinking P270 of Regulation (EC) No 1272/2008, Annex IV.
"""

from __future__ import annotations

import pytest

import procedure
from procedure import Finding
from procedure.model.harm import plants_named
from procedure.model.substances import put_in

HEAD = """procedure "{title}"
  by "Fellside Dye Circle"
  revised 2026-06-14
  place ventilated
  wearing gloves, eye protection
  note "{note}"

fibre
  yarn: wool yarn, 100 g, scoured

equipment
  pot: stainless steel pot, 8 L, lidded, for dyeing only

materials
  skins: {skins}
  blue:  {blue}

steps
  bath: prepare in pot with water 4 L, skins 50 g, blue 2 g
  do "{do}"
  discard bath to "hazardous waste collection"
"""


def found(
    note: str = "It is a quiet day.",
    do: str = "hang up the apron",
    blue: str = "potassium alum",
    skins: str = "onion skins, dried",
    title: str = "Gold",
) -> list[Finding]:
    text = HEAD.format(note=note, do=do, blue=blue, skins=skins, title=title)
    return list(procedure.read(text, "example.dye").findings)


def level(rule: str, told: list[Finding]) -> str:
    return next((one.level for one in told if one.rule == rule), "")


CARELESS = (
    ("sip a little of the bath: it should be sour", "warning", "error"),
    ("suck up a mouthful of the liquor with a tube", "warning", "error"),
    ("screw the lid down tight on the jar of fermenting urine", "error", "error"),
    ("heat the dye bath in the microwave", "warning", "error"),
    ("use the jam pan for the mordant", "warning", "error"),
    ("fill the rest of the dye into milk bottles", "warning", "error"),
    ("warm the bath on the kitchen stove", "", "error"),
    ("let the little ones stir the bath", "", "error"),
    ("burn off the spirit with a match", "error", "error"),
    ("eat your sandwiches at the dye table", "", "error"),
    ("let the dog drink what is left of the bath", "warning", "error"),
    ("spray the liquor over the cloth", "", "error"),
    ("leave the blue bucket open on the landing", "", "error"),
    ("take your gloves off to feel the fibre", "", "error"),
    ("throw the spent liquor over the nettles", "", "error"),
)


@pytest.mark.parametrize(("words", "plain", "with_copper"), CARELESS)
def test_a_careless_way_is_told_by_what_is_in_the_work(
    words: str, plain: str, with_copper: str
) -> None:
    assert level("careless-way", found(do=words)) == plain
    assert level("careless-way", found(do=words, blue="copper sulphate")) == with_copper


def test_a_nose_over_ammonia_is_told() -> None:
    sniffed = "sniff the bath: it should be strong"
    assert level("careless-way", found(do=sniffed)) == ""
    ammonia = found(do=sniffed, blue="ammonia, solution 10 % by weight")
    assert level("careless-way", ammonia) == "error"


IN_HAND = (
    "carry the greens home in a basket",
    "squeeze the last drops out of the greens",
    "wring out the bag by hand",
    "tear up the foxglove stalks",
)


@pytest.mark.parametrize("words", IN_HAND)
def test_a_plant_in_hand_in_free_words_alone_calls_for_gloves(words: str) -> None:
    bare = in_hand(words)
    assert ("no-gloves", "error", line_of_words(bare)) in bare
    gloved = in_hand(words + '" wearing gloves, eye protection note "done')
    assert not [one for one in gloved if one[0] == "no-gloves"]


def test_a_plant_that_poisons_is_put_by_with_a_label() -> None:
    stored = in_hand("store the greens in a paper bag in the shed")
    assert ("careless-way", "error", line_of_words(stored)) in stored
    labelled = in_hand("store the greens labelled in a locked shed")
    assert "careless-way" not in {rule for rule, _, _ in labelled}


def in_hand(words: str) -> list[tuple[str, str, int]]:
    """Findings on a plan with foxglove where words alone say what is done once it is strained."""
    text = HEAD.format(note="x", do=words, blue="potassium alum", skins="x", title="Gold")
    text = text.replace("  skins: x", "  greens: foxglove leaves, fresh").replace(
        "skins 50 g", "greens 9 g"
    )
    text = text.replace("  wearing gloves, eye protection\n", "")
    text = text.replace("blue 2 g", "blue 2 g wearing gloves, eye protection")
    text = text.replace('collection"', 'collection" wearing gloves, eye protection')
    text = text.replace("materials\n", "  net: net bag, for dyeing only\n\nmaterials\n", 1)
    text = text.replace(
        '  do "', '  strain bath through net wearing gloves, eye protection\n  do "'
    )
    return [(one.rule, one.level, one.line) for one in procedure.read(text, "example.dye").findings]


def line_of_words(told: list[tuple[str, str, int]]) -> int:
    """The line of the step in free words, which is noted as not followed."""
    return next((line for rule, _, line in told if rule == "not-modelled"), 0)


HARMLESS = (
    "make tea for everybody, away from the dye room",
    "drink a cup of tea while the bath cools",
    "stand the closed jar of petals in the sun",
    "nobody tastes the bath, and no child stirs it",
    "keep children away while you stir",
    "wash the jam jars that held the buttons",
    "do not breathe in the steam",
    "wait until the children are at school",
    "draw a straw to see whose skein goes first",
    "let the dog out",
    "set the table for lunch in the garden",
    "sniff the lavender by the door",
    "never work with bare hands",
    "water the tomatoes while the skein soaks",
    "seal the envelope of samples and post it",
    "light the stove for the tea",
)


@pytest.mark.parametrize("words", HARMLESS)
def test_what_harms_nobody_is_not(words: str) -> None:
    assert level("careless-way", found(do=words, note=words, blue="copper sulphate")) == ""


def test_water_is_poured_onto_no_acid_lye_or_quicklime_in_words() -> None:
    """What water is not poured onto stands in meetings.csv."""
    for blue, words in (
        ("quicklime", "pour boiling water onto the blue in the bucket"),
        ("sulphuric acid, solution 30 % by weight", "top up the blue jar with water from the tap"),
    ):
        assert level("careless-way", found(do=words, blue=blue)) == "error"
    into = "pour the blue into plenty of cold water"
    assert level("careless-way", found(do=into, blue="quicklime")) == ""


def test_a_pigment_that_is_a_poison_is_no_dyestuff() -> None:
    for said in ("Paris green", "vermilion", "red lead", "nickel sulphate"):
        told = found(skins=f'dyestuff, "{said}"')
        assert level("household-product", told) == "error", said


PEOPLE = ("Ivy, our founder, wrote this", "Written by Rue and Heather", "Daphne's way is the best")


@pytest.mark.parametrize("words", PEOPLE)
def test_people_have_the_names_of_plants(words: str) -> None:
    assert not plants_named(words)
    assert plants_named("chop Ivy leaves and Rue")


def test_a_title_that_names_a_poison_counts_where_a_material_has_no_name() -> None:
    told = found(title="Oleander yellow", skins="leaves")
    assert level("danger-in-free-words", told) == "error"
    assert level("danger-in-free-words", found(title="Foxglove pink")) == ""


def test_a_part_alone_is_no_slip_of_a_plants_name() -> None:
    remedies = [one.remedy for one in found(skins="leaves") if one.rule == "unknown-word"]
    assert remedies == ["Say of which plant, and declare it by that plant's name."]


# A word that denies, of something else than the plant.
NAMED = (
    "light the fire under the pot with oleander prunings",
    "no gloves are needed for the foxglove",
    "no need to wear gloves for yew",
    "never mind the smell and stir in the yew",
    "without a lid boil the oleander half an hour",
    "use no more than 100 g of oleander",
    "take less than a handful of yew",
    "look for henbane by the wall and pick a basket of it",
    "never boil the pot dry with the yew in it",
    "chop not too finely the foxglove leaves",
    "not only weld but also yew needles go in",
    "beside the weld put in 50 g of foxglove",
    "stir along the side with a stick of oleander",
    "there is no harm in a little yew",
    "no foxglove, oleander in the pot",
    "no bleach, chop the yew",
    "Gloves are not needed for oleander, it is only leaves",
)


@pytest.mark.parametrize("words", NAMED)
def test_what_is_denied_is_something_else(words: str) -> None:
    assert plants_named(words)


DENIED = (
    "do not boil yew",
    "no foxglove, yew or laburnum",
    "no foxglove, yew, laburnum or box is in it",
    "under the old yew tree",
    "gather weld beside the foxgloves",
    "look for hemlock and throw it out",
    "paler than oleander",
    "without using any oleander",
    "Taught at Yew Tree Farm by Hazel",
    "Meet at Old Yew Inn",
)


@pytest.mark.parametrize("words", DENIED)
def test_what_denies_the_plant_names_none(words: str) -> None:
    assert not plants_named(words)


def test_salts_are_denied_as_plants_are() -> None:
    for words in (
        "without gloves add the bleach",
        "under the lid pour bleach",
        "warm the meths over a ring",
        "dip it in the chrome bath",
    ):
        assert put_in(words), words
    for words in (
        "No lead, chrome or arsenic is used here.",
        "never pour in bleach",
        "add no bleach",
        "it heats: thiourea dioxide heats",
    ):
        assert not put_in(words), words


_PUT_BY = """procedure "Put by"
fibre
  yarn: wool yarn, 100 g, scoured
equipment
  kettle: stainless steel pot, 15 L, lidded, for dyeing only
materials
  stuff: {stuff}
steps
  bath: prepare in kettle with water 5 L, stuff 20 g
  do "{words}"
  discard bath to "foul drain"
"""


@pytest.mark.parametrize(
    ("stuff", "words", "level"),
    [
        ("copper sulphate", "store it in a lemonade bottle on the shelf", "error"),
        ("copper sulphate", "pour some into the salad bowl", "error"),
        ("tansy, fresh", "keep the rest in a milk bottle", "error"),
        ("weld, dried", "ladle it into a baby's bottle", "warning"),
        ("copper sulphate", "keep it away from the lemonade bottles", ""),
        ("copper sulphate", "have lunch in the garden with a milk bottle", ""),
        ("copper sulphate", "keep it in the labelled jar", ""),
    ],
)
def test_what_is_put_by_without_its_name_is_no_food(stuff: str, words: str, level: str) -> None:
    """Regulation (EC) No 1272/2008, Annex IV, P270: no eating or drinking with it."""
    text = _PUT_BY.format(stuff=stuff, words=words)
    found = procedure.read(text, "by.dye").findings
    told = [one.level for one in found if one.rule == "careless-way" and one.line == 10]
    assert told == ([level] if level else [])
