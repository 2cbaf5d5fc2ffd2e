"""Dangers in words that nobody had tried: names abroad, bare metals, everyday names, waste.

Each is told at its line, by the rule named; the sound words beside them bring nothing.
"""

from __future__ import annotations

import pytest

import procedure
from procedure import Finding
from procedure.model.harm import plants_named
from procedure.model.worked_plants import worked

FILE = """procedure "Trial"
  by "Fellside Dye Circle"
  revised 2026-06-14
  place outdoors
  wearing gloves, eye protection

equipment
  pot: stainless steel pot, 8 L, lidded, for dyeing only
  tub: plastic tub, 20 L, for dyeing only
  {equipment}

materials
  {materials}

steps
  {steps}
"""


def told(steps: str, materials: str = "", equipment: str = "") -> list[Finding]:
    text = FILE.format(
        steps=steps.replace("\n", "\n  "),
        materials=materials.replace("\n", "\n  "),
        equipment=equipment,
    )
    return list(procedure.read(text, "example.dye").findings)


def of_rule(rule: str, found: list[Finding]) -> list[Finding]:
    return [one for one in found if one.rule == rule]


# What is done in words alone, the rule that tells it, and its level.
IN_WORDS = (
    # a metal or an acid by its bare name
    ("add copper to the pot", "danger-in-free-words", "error"),
    ("throw the copper in", "danger-in-free-words", "error"),
    ("a spoon of copper goes in", "danger-in-free-words", "error"),
    ("put some tin in", "danger-in-free-words", "error"),
    ("simmer it with copper", "danger-in-free-words", "error"),
    ("give it lead", "danger-in-free-words", "error"),
    ("add oxalic", "danger-in-free-words", "error"),
    ("add a glug of sulphuric", "danger-in-free-words", "error"),
    # plants that only upset or irritate
    ("add elder leaves", "danger-in-free-words", "warning"),
    ("boil daffodil heads", "danger-in-free-words", "warning"),
    ("chop rhubarb leaves and boil them", "danger-in-free-words", "warning"),
    ("put in the leaves of the elder", "danger-in-free-words", "warning"),
    ("stir in a handful of lupins", "danger-in-free-words", "warning"),
    ("steep box clippings overnight", "danger-in-free-words", "warning"),
    # plants by their names abroad
    ("Fingerhut Blätter klein hacken", "deadly-plant", "error"),
    ("gather bysedd y cŵn and boil it", "deadly-plant", "error"),
    ("chop the laurier-rose", "deadly-plant", "error"),
    ("bring in the Goldregen twigs", "deadly-plant", "error"),
    ("simmer the tanaisie", "danger-in-free-words", "error"),
    # bleach, chrome and the vat's chemicals by everyday names
    ("whiten the cloth with a capful of thick bleach in the tub", "danger-in-free-words", "error"),
    ("stir in the orange chromate crystals", "household-product", "error"),
    ("keep the chrome in a pickle jar", "danger-in-free-words", "error"),
    ("whiten it with chlorine", "household-product", "error"),
    ("add colour run remover and a cup of lemon juice", "household-product", "error"),
    ("sprinkle a spoon of sink crystals into the vat", "household-product", "error"),
    ("add a mothball to keep the moths off", "household-product", "error"),
    ("drop lead weights in to keep the wool down", "household-product", "error"),
    ("add saltpetre", "household-product", "error"),
    # waste, fire, breath and food
    ("pour the old vat and the acid bath into one drum", "careless-way", "warning"),
    ("tip both mordants together down the sink", "careless-way", "warning"),
    ("throw the alum and copper water on the cabbages", "careless-way", "error"),
    ("pour the copper bath over the lawn", "careless-way", "error"),
    ("pour the dye into the brook", "careless-way", "warning"),
    ("warm the tincture over a candle", "careless-way", "error"),
    ("put a naked flame under the tincture", "careless-way", "error"),
    ("light a barbecue in the shed to heat the pot", "careless-way", "error"),
    ("run the generator indoors for the hob", "careless-way", "error"),
    ("shut the pressure cooker on the silk", "careless-way", "error"),
    ("boil the vat on the kitchen stove", "careless-way", "warning"),
    ("put the dye powder in the coffee grinder", "careless-way", "warning"),
    ("keep the mordant in a jam jar", "careless-way", "warning"),
    ("freeze the rest of the vat in an ice cream tub", "careless-way", "warning"),
    ("wash the pot with the dishes", "careless-way", "warning"),
    ("put the mordant jar on the low shelf by the toys", "careless-way", "warning"),
    ("store the peroxide in a tightly corked bottle", "careless-way", "error"),
    ("grind it dry and blow off the dust", "careless-way", "warning"),
    # old names and names of the shop
    ("mix the two bleaches to make it stronger", "danger-in-free-words", "error"),
    ("add sugar of saturn", "danger-in-free-words", "error"),
    ("add ratsbane", "danger-in-free-words", "error"),
    ("add a little tin spirit", "danger-in-free-words", "error"),
    ("a little killed spirits", "household-product", "error"),
    ("use pool shock to whiten", "household-product", "error"),
    ("add stump remover", "household-product", "error"),
    ("use mould spray on the white skein", "household-product", "error"),
    ("gather kex stalks and boil them", "danger-in-free-words", "warning"),
)


@pytest.mark.parametrize(("words", "rule", "level"), IN_WORDS)
def test_what_words_have_done_is_told(words: str, rule: str, level: str) -> None:
    found = told(f'do "{words}"')
    assert (rule, level) in [(one.rule, one.level) for one in found]


SOUND = (
    "pour in the liquor from the copper pot",
    "fill the copper with water",
    "put the copper on the stove",
    "wash the tin and put the lid on it",
    "tie the skeins with copper wire",
    "lead the yarn slowly through the tub",
    "hang the foxglove-pink skeins on the line",
    "hang the foxglove pink skeins on the line",
    "put the plum and peach skeins in the elder basket",
    "put it in the box and sweep up with the broom",
    "add the elder flowers",
    "put the daffodil yellow skein in the bag",
    "do not add rhubarb leaves",
    "light the camping stove outside the shed",
    "fetch the charcoal from the shed",
    "put both skeins into the vat",
    "hold the tincture away from any open flame",
    "use chlorine-free soap",
    "grind the roots in the coffee grinder kept for dyeing only",
    "wash the jam jar and fill it with marbles for weight",
    "water the garden with the rinse water",
    "pour both rinses down the sink",
    "light the gas ring under the kettle",
    "pin up the photo of the formic ants",
    "keep the skeins away from the toys",
    "wash the dishes after lunch",
    "put the colander with the other tools",
)


@pytest.mark.parametrize("words", SOUND)
def test_sound_words_bring_nothing(words: str) -> None:
    found = [one for one in told(f'do "{words}"') if one.level in ("error", "warning")]
    assert {one.rule for one in found} <= {"never-used"}, found


def test_a_part_of_the_plant_has_no_shade() -> None:
    assert [plant.name for plant, _ in plants_named("boil the foxglove-pink flowers")] == [
        "foxglove"
    ]
    assert not plants_named("boil the foxglove-pink wool")


def test_a_harmful_plant_counts_where_it_is_worked() -> None:
    assert [plant.name for plant in worked("chop the comfrey")] == ["comfrey"]
    assert not worked("stack it by the comfrey bed")


@pytest.mark.parametrize(
    ("name", "plant"),
    [
        ("Fingerhut leaves", "foxglove"),
        ("digitale leaves", "foxglove"),
        ("laurier-rose leaves", "oleander"),
        ("Maiglöckchen", "lily of the valley"),
        ("Herbstzeitlose", "autumn crocus"),
        ("Schierling", "hemlock"),
    ],
)
def test_a_declared_plant_is_known_by_its_name_abroad(name: str, plant: str) -> None:
    found = told(
        'bath: prepare in pot with water 4 L, tops 50 g\ndiscard bath to "a licensed carrier"',
        f"tops: {name}, fresh",
    )
    deadly = of_rule("deadly-plant", found)
    assert deadly and plant in deadly[0].sentence
    assert not of_rule("unknown-word", found)


def test_mercury_leaves_are_asked_about_once() -> None:
    steps = 'bath: prepare in pot with water 4 L, tops 50 g\ndiscard bath to "foul drain"'
    found = told(steps, "tops: mercury leaves")
    assert len(of_rule("which-is-meant", found)) == 1
    assert not of_rule("household-product", found)
    assert of_rule("household-product", told(steps, "tops: mercury"))


@pytest.mark.parametrize("heater", ["gas hotplate", "gas cooker", "gas", "propane burner"])
def test_a_hotplate_of_gas_is_one(heater: str) -> None:
    found = told('do "hang up the apron"', equipment=f"fire: {heater}")
    assert not of_rule("unknown-word", found)


# Two baths in one bucket meet whatever is written beside; a drain may be rinsed between.
WASTE = """acid-bath: prepare in tub with water 3 L, sour 100 mL
bright-bath: prepare in pot with water 3 L, white 100 mL
discard acid-bath to "{way}"
discard bright-bath to "{way}"
  allow meet-in-the-waste because "there is a week between"
"""


@pytest.mark.parametrize(("way", "level"), [("the slop bucket", "error"), ("foul drain", "note")])
def test_an_allow_makes_no_bucket_safe(way: str, level: str) -> None:
    found = told(WASTE.format(way=way), "sour: vinegar, 5 %\nwhite: household bleach, 4 %")
    assert [one.level for one in of_rule("meet-in-the-waste", found)] == [level]
    assert bool(of_rule("nothing-to-allow", found)) == (level == "error")
