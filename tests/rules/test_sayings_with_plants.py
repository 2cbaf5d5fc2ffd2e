"""Words that sound like a plant that harms, and speak of none."""

import pytest

import procedure

HEAD = """procedure "Sayings"
fibre
  yarn: wool yarn, 100 g, scoured
steps
"""


RULES = ("danger-in-free-words", "deadly-plant", "household-product")


def told(said: str) -> list[str]:
    found = procedure.read(HEAD + f'  do "{said}"\n', "x.dye").findings
    return [one.rule for one in found if one.rule in RULES]


@pytest.mark.parametrize(
    "said",
    [
        "poke the yarn down with the spoon",
        "give it a poke now and then",
        "poke it under",
        "poke holes in the lid",
        "you will rue the day",
        "let Daphne hold the skein",
        "tap water with chlorine is fine",
        "chlorine in tap water does no harm",
    ],
)
def test_no_plant_is_meant(said: str) -> None:
    assert told(said) == []


@pytest.mark.parametrize(
    "said",
    [
        "add poke root to the pot",
        "boil the poke for an hour",
        "add rue to the bath",
        "let daphne steep in the water",
        "let Ivy steep in the pot",
        "add a splash of chlorine",
    ],
)
def test_the_plant_is_meant(said: str) -> None:
    assert told(said)
