"""Plants that lay in copper, tin or chrome are no compost and no feed, whatever plants they are."""

import pytest

import procedure

HEAD = """procedure "Where plants go"
fibre
  yarn: wool yarn, 100 g, scoured
equipment
  pot: stainless steel pot, 12 L, lidded, for dyeing only
  bag: net bag, for dyeing only
materials
  onion: onion skins, dried
  copper: copper sulphate
  tin: stannous chloride
  alum: potassium alum
steps
"""


def found(*lines: str) -> list[str]:
    text = HEAD + "".join(f"  {line}\n" for line in lines)
    findings = procedure.read(text, "x.dye").findings
    return [one.sentence for one in findings if one.rule == "plant-thrown-where-it-harms"]


BATH = "dye-bath: prepare in pot with water 4 L, onion 50 g, {} 3 g"
IN_A_BAG = ("put onion 50 g in bag", "dye-bath: prepare in pot with water 4 L, {} 3 g")


@pytest.mark.parametrize("metal", ["copper", "tin"])
@pytest.mark.parametrize(
    "last",
    [
        'throw out onion to "compost"',
        "compost the onion",
        'lift out onion from dye-bath to "the vegetable bed"',
        'throw out onion to "the hen house"',
    ],
)
def test_what_lay_in_a_metal_goes_to_no_heap_and_to_no_animal(metal: str, last: str) -> None:
    (sentence,) = found(BATH.format(metal), last)
    assert "after it lay in" in sentence


def test_nor_does_what_lay_in_it_in_a_bag() -> None:
    plant, bath = IN_A_BAG
    lines = (plant, bath.format("copper"), "put bag into dye-bath", "take bag out of dye-bath")
    (sentence,) = found(*lines, 'empty bag to "the compost"')
    assert "after it lay in" in sentence


@pytest.mark.parametrize(
    "lines",
    [
        (BATH.format("alum"), 'throw out onion to "compost"'),
        (BATH.format("copper"), 'throw out onion to "the hazardous waste point"'),
        (BATH.format("alum"), "strain dye-bath", 'throw out onion to "compost"', "add copper 1 g"),
    ],
)
def test_what_lay_in_none_goes_on_the_compost(lines: tuple[str, ...]) -> None:
    assert found(*lines) == []


@pytest.mark.parametrize("animal", ["the dog bowl", "the rabbit hutch", "the duck pond"])
def test_no_dyestuff_is_feed(animal: str) -> None:
    (sentence,) = found(BATH.format("alum"), f'throw out onion to "{animal}"')
    assert "no feed and no drink" in sentence
