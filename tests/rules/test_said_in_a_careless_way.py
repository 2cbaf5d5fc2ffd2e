"""What is said in free words and in notes of how the work is done, harmful and harmless alike."""

import pytest

import procedure

KNOWN = {
    "chrome": "potassium dichromate",
    "copper": "copper sulphate",
    "onion": "onion skins, dried",
    "poke": "pokeberries",
    "tansy": "tansy tops, fresh",
    "tin": "stannous chloride",
}
HEAD = """procedure "Said so"
  place ventilated
  wearing gloves, eye protection
fibre
  yarn: wool yarn, 100 g, scoured
equipment
  pot: stainless steel pot, 12 L, lidded, for dyeing only
  tub: plastic tub, 20 L, for dyeing only
materials
{materials}
steps
  wet out yarn in tub with water 5 L at 30 °C for 1 h
  dye-bath: prepare in pot with water 4 L, {brought}{note}
{more}"""
HARM = frozenset(("careless-way", "handled-roughly", "among-food", "children-near-hazard"))


def told(said: str, material: str, note: bool) -> list[str]:
    """The rules that speak of words beside a bath that holds a material."""
    name = material or "onion"
    text = HEAD.format(
        materials=f"  {name}: {KNOWN[name]}",
        brought=f"{name} 3 g",
        note=f' note "{said}"' if note else "",
        more="" if note else f'  do "{said}"\n',
    )
    last = text.rstrip().count("\n") + 1
    found = procedure.read(text, "x.dye").findings
    return [one.rule for one in found if one.line == last and one.rule in HARM]


# What is said, the material in the bath where it matters, and whether a note says it.
HARMFUL = [
    ("let a child stir the hot pot", "", False),
    ("let a child pour the boiling bath before lunch", "", False),
    ("the toddlers may stir the simmering pot", "", False),
    ("the six-year-olds take turns stirring the boiling pot on a stool", "", False),
    ("start the siphon by sucking at the hose", "", False),
    ("taste a few of the elderberries raw while you pick", "", False),
    ("taste a spoonful: it should be bitter", "", True),
    ("eat your sandwich beside the pots while you weigh the copperas", "", False),
    ("stir with the wooden spoon that we cook the porridge with", "", False),
    (
        "fill the rest of the dye into lemonade bottles, in the fridge beside the milk",
        "",
        False,
    ),
    ("heat the wet yarn for 3 minutes in the kitchen microwave, then warm up lunch", "", False),
    ("measure the copper with a teacup from the kitchen and put the cup back", "copper", False),
    ("the expecting mother may stir the tansy pot", "tansy", False),
    ("let the children mash the pokeberries with their bare feet", "poke", False),
    ("give the boiled onion skins to the dog", "", False),
    ("give the cooled dye bath to the hens to drink", "", False),
    ("tip the chrome powder out dry and blow what is spilt off the table", "chrome", False),
    ("set the cold glass jar straight on the red-hot hob", "", False),
    ("pull the plug of the hotplate with dripping hands", "", False),
    ("shut all the windows and doors so that the steam stays in", "", False),
    ("carry the lit charcoal burner into the kitchen and set the kettle on it", "", False),
    ("We boil over charcoal in the closed tent.", "", True),
    ("rub the skein hard against itself in hot soapy water", "", False),
    ("tumble the yarn dry on the hottest setting", "", False),
    ("scrape all the lichen off the churchyard wall and the old oaks", "", False),
    ("put the rest of the tartar back on the baking shelf", "", True),
    ("in the coffee mill", "", True),
    ("the pasta pot does well, wash it afterwards", "", True),
    ("through the kitchen colander", "", True),
    ("in the fridge next to the milk", "", True),
    ("any jam jar will do", "", True),
    ("dust it on with the fingers", "tin", True),
    ("sweep up the dust with a broom", "", False),
    ("slake the quicklime in the jar and screw the lid down", "", False),
]
HARMLESS = [
    ("let a child choose the colour before the bath is hot", "", False),
    ("children may stir it before it gets hot", "", False),
    ("let the children rinse it in cold water, nothing hot", "", False),
    ("the toddlers nap while the pot simmers next door", "", False),
    ("keep the kids away from the simmering pot", "", False),
    ("siphon the clear liquor off through a hose", "", False),
    ("run the bath out through the tube", "", False),
    ("suck the crumbs up with the vacuum cleaner", "", False),
    ("the straw in the bath is picked out by hand", "", False),
    ("a pipe runs along the wall by the hose", "", False),
    ("pick the elderberries into a bucket", "", False),
    ("strip the leaves and weigh them", "", False),
    ("the colour is a matter of taste", "", False),
    ("never taste the berries", "", False),
    ("the birds eat a few berries and we take the rest", "", False),
    ("eat lunch when all is weighed", "", False),
    ("have lunch in the kitchen while the yarn soaks", "", False),
    ("drink tea in the garden afterwards", "", False),
    ("the sandwich boxes stay in the car", "", False),
    ("eat the cake when the pots are clean", "", False),
    ("stir with a spoon that is kept for dyeing", "", False),
    ("the spoon we cook with stays in the kitchen", "", False),
    ("cooking pots stay out of the dye shed", "", False),
    ("use a jug, never one that we drink from", "", False),
    ("the soup pot is for soup", "", False),
    ("write the label in the kitchen, then carry it out", "", False),
    ("stand the pot beside the fridge", "", False),
    ("keep the yarn away from the kitchen", "", False),
    ("hang the yarn over the sink", "", False),
    ("the yarn is as white as milk in a jug", "", False),
    ("the colour of strong tea in a milk jug", "", True),
    ("have tea from the flask meanwhile", "", True),
    ("eat the biscuits from the biscuit tin while it simmers", "", True),
    ("the colour of a jam jar of honey", "", True),
    ("like weak coffee in a coffee cup", "", True),
    ("the expecting mother stays at home today", "tansy", False),
    ("expect the bath to turn gold and stir it", "tansy", False),
    ("pregnant women keep away from the tansy", "tansy", False),
    ("the children may watch from the door", "poke", False),
    ("give the skins a stir", "", False),
    ("give the dog a bath another day", "", False),
    ("give water to the hens before you begin", "", False),
    ("throw the skins on the compost", "", False),
    ("the dog sleeps by the door", "", False),
    ("feed the fire with the wood", "", False),
    ("blow on the yarn to cool it", "", False),
    ("blow the seeds off the petals", "", False),
    ("sweep up the dust with a damp cloth, never dry", "", False),
    ("sweep the floor before you begin", "", False),
    ("set the glass jar in a pan of water on the stove", "", False),
    ("a glass lid lies straight on the pot", "", False),
    ("cool the jar, then set it directly on the shelf", "", False),
    ("pull the plug of the sink with dripping hands", "", False),
    ("dry your hands, then pull the plug", "", False),
    ("shut the windows at night so that the rain stays out", "", False),
    ("close the doors against the wind", "", False),
    ("open all the windows so that the steam goes out", "", False),
    ("close the windows when the bath no longer steams", "", False),
    ("keep the bag of charcoal in the shed", "", False),
    ("draw the pattern with charcoal in the house", "", False),
    ("put charcoal dust in the garden", "", False),
    ("set up the gas ring outdoors, away from the tent", "", False),
    ("sleep in the tent after dyeing", "", False),
    ("the gas ring stands on the bench under the roof", "", False),
    ("We dye beside the tent, over charcoal.", "", True),
    ("rub the stain off the table", "", False),
    ("rub your hands with cream", "", False),
    ("rub the soap into the water", "", False),
    ("tumble the bobbins into a basket", "", False),
    ("turn the yarn gently, never rub it", "", False),
    ("scrape the lichen that the storm brought down off the path", "", False),
    ("leave all the lichen on the oaks", "", False),
    ("put the tartar back on the dye shelf", "", False),
    ("put the scissors back in the drawer", "", False),
    ("dust the shelf before you begin", "", False),
    ("shake the powder jar, lid on, to loosen it", "", False),
    ("the quicklime lies in a dry bucket", "", False),
    ("the jar for lemonade stays in the kitchen", "", False),
    ("good for soup spoons", "", False),
    ("the best pots are good for dyeing again", "", False),
    ("cook the soup in another pot", "", False),
    ("let the pot cool before you lift it", "", False),
    ("do not let the children stir the hot pot", "", False),
]


@pytest.mark.parametrize(("said", "material", "note"), HARMFUL)
def test_what_harms_is_told(said: str, material: str, note: bool) -> None:
    assert told(said, material, note)


@pytest.mark.parametrize(("said", "material", "note"), HARMLESS)
def test_what_harms_nobody_is_not(said: str, material: str, note: bool) -> None:
    assert told(said, material, note) == []
