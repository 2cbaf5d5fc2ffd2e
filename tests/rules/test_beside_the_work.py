"""What only stands beside the work, or is called as a plant is, and what is dangerous in it.

The plants are those of ``plants_that_harm.csv``; a plant that is meant is told of all the same.
"""

from __future__ import annotations

import pytest
from expecting import findings

import procedure
from procedure import Finding

HEAD = """procedure "Beside the work"
  by "Fellside Dye Circle"
  revised 2026-06-14
  place outdoors
  wearing gloves, eye protection

fibre
  yarn: wool yarn, 100 g, scoured

equipment
  pot: stainless steel pot, 8 L, lidded, for dyeing only

materials
  skins: onion skins, dried
  blue:  {blue}

steps
  bath: prepare in pot with water 4 L, skins 50 g, blue 2 g
  simmer bath at {heat} for 1 h covered note "{note}"
  do "{do}"
  discard bath to "hazardous waste collection"
"""
NAMED = ("danger-in-free-words", "deadly-plant")


def told(
    do: str = "hang up the apron",
    note: str = "It is a quiet day.",
    blue: str = "potassium alum",
    heat: str = "85 °C",
) -> list[Finding]:
    text = HEAD.format(do=do, note=note, blue=blue, heat=heat)
    return list(procedure.read(text, "example.dye").findings)


def named(**words: str) -> list[str]:
    return [one.rule for one in told(**words) if one.rule in NAMED]


BESIDE = (
    "the wool is from the yew tree farm",
    "draw a foxglove on the label",
    "knit a foxglove pattern into the cuff",
    "stir with the hemlock-handled paddle",
    "hang it on the rack by the laurel hedge",
    "hang it between the cherry laurel and the shed",
    "the line goes past the ivy, across from the foxgloves",
    "privet hedge on the left, the tap is behind it",
    "put the dry yarn in the cedar chest",
    "store it with lavender and cedar against moths",
    "photograph the nightshade-blue sky",
    "the ammonia bottle stays shut on its shelf",
    "keep the bottle of ammonia shut",
)


@pytest.mark.parametrize("words", BESIDE)
def test_what_stands_beside_the_work_is_not_in_it(words: str) -> None:
    assert named(do=words, note=words) == []


PEOPLE = (
    "Daphne stirs the pot and Ivy keeps the time",
    "let Laurel and Hazel wring the skein",
    "phone Lily and Bryony: the yarn is ready",
    "thank Laurel",
    "give Ivy her skeins",
    "hand the paddle to Daphne",
    "Daphne takes it home",
)


@pytest.mark.parametrize("words", PEOPLE)
def test_people_are_called_as_plants_are(words: str) -> None:
    assert named(do=words, note=words) == []


MEANT = (
    "by the yew tree put yew in the pot",
    "paint the yew sap on the label",
    "press a foxglove pattern onto the cloth",
    "boil cedar twigs against moths",
    "put the ivy past the foxglove into the pot",
    "layer it between the yew and the cloth",
    "put nightshade in the blue vat",
    "nightshade-black berries go in",
    "the ammonia bottle stays shut until you pour it in",
    "keep the bottle of ammonia shut, then add some",
    "let Ivy steep",
    "give Ivy a boil",
    "add Daphne to the pot",
    "Ivy keeps the colour fast",
    "let laurel cut the time",
)


@pytest.mark.parametrize("words", MEANT)
def test_what_goes_in_is_told_of_all_the_same(words: str) -> None:
    assert named(do=words)


def careless(**words: str) -> list[str]:
    return [one.level for one in told(**words) if one.rule == "careless-way"]


@pytest.mark.parametrize(
    ("words", "level"),
    [
        ("heap the rags with linseed oil in the corner", ["warning"]),
        ("throw the oily rags in the bin", ["warning"]),
        ("spread the oily rags flat on the grass", []),
        ("put the oil cloth on the table", []),
        ("never leave oily rags in a heap", []),
    ],
)
def test_oily_rags_heat_themselves(words: str, level: list[str]) -> None:
    """29 CFR 1926.252(e): oily rags are kept in fire-resistant covered containers."""
    assert careless(do=words) == level


@pytest.mark.parametrize(
    ("words", "level"),
    [
        ("boil the bath dry and put the crust in the bin", ["error"]),
        ("let the rest of the liquor evaporate to dryness", ["error"]),
        ("never boil the bath dry", []),
        ("top up so that the bath does not boil dry", []),
    ],
)
def test_a_bath_with_metal_is_not_boiled_dry(words: str, level: list[str]) -> None:
    """Regulation (EC) No 1272/2008, Annex IV, P260: no dust or fume is breathed."""
    assert careless(do=words, blue="copper sulphate") == level
    assert careless(do=words) == []


@pytest.mark.parametrize(
    ("words", "level"),
    [
        ("the toddlers may stir", ["warning"]),
        ("pupils can take turns stirring", ["warning"]),
        ("the children gathered the skins", []),
        ("stir while the children sleep", []),
        ("no child stirs here", []),
        ("the children hold the dry skeins meanwhile", []),
        ("our scouts lift the lid and stir in the skins", ["warning"]),
        ("the kids will stir by turns", ["warning"]),
        ("babies and toddlers add to the noise", []),
        ("pupils carry the water beforehand", []),
        ("children may press flowers at the table by the door", []),
        ("the pupils turn up at ten", []),
    ],
)
def test_children_at_a_bath_that_scalds_are_told_of_in_a_note(words: str, level: list[str]) -> None:
    assert careless(note=words) == level
    assert careless(note=words, heat="30 °C") == []


WASHED = """
    wet out yarn in tub with water 5 L at 30 °C for 1 h
    gold-bath: prepare in kettle with water 3 L, onion 50 g at 30 °C
    dye yarn in gold-bath from 30 °C to 85 °C over 45 min for 1 h
    cool gold-bath to 30 °C overnight covered
    wash yarn in kettle with {water}, soap 3 g
    rinse yarn in tub with water 5 L at {rinse}
    discard gold-bath to "foul drain"
"""


@pytest.mark.parametrize(
    ("water", "rinse", "shocks"),
    [
        ("4 L hot water", "hand-hot", 1),
        ("4 L hot water", "cold", 2),
        ("4 L warm water", "hand-hot", 0),
        ("4 L hot water at 40 °C", "hand-hot", 0),
    ],
)
def test_hot_is_hot_for_wool_in_words_too(water: str, rinse: str, shocks: int) -> None:
    """Mairet 1938, ch. V; “hot” is 45 to 80 °C, and its middle counts."""
    told = [
        one for one in findings(WASHED.format(water=water, rinse=rinse)) if one.rule == "heat-shock"
    ]
    assert len(told) == shocks
