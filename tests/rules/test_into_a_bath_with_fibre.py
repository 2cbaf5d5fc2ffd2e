"""What goes into a bath in which fibre lies: iron stains it, and what is in goes in no more."""

import pytest
from expecting import rules_of

import procedure

HEAD = """procedure "Into a bath"
fibre
  yarn: wool yarn, 100 g, scoured
equipment
  pot: stainless steel pot, 12 L, lidded, for dyeing only
materials
  onion: onion skins, dried
  iron: ferrous sulphate
  iron-stock: ferrous sulphate, solution 2 % by weight
  tin: stannous chloride
  alum: potassium alum
  soda: soda ash
steps
  dye-bath: prepare in pot with water 4 L, onion 50 g at 40 °C
"""
DYED = "dye yarn in dye-bath at 80 °C for 1 h"


def rules(*lines: str) -> list[str]:
    text = HEAD + "".join(f"  {line}\n" for line in lines)
    return [one.rule for one in procedure.read(text, "x.dye").findings]


@pytest.mark.parametrize(
    "line",
    [
        "add iron 2 g to dye-bath",
        "add tin 1 g to dye-bath",
        "add iron 2 g, alum 1 g to dye-bath",
        'add iron 2 g to dye-bath note "sprinkle it over the wool"',
    ],
)
def test_what_stains_is_not_thrown_onto_fibre(line: str) -> None:
    assert "iron-onto-fibre" in rules(DYED, line, "lift yarn")
    assert "iron-onto-fibre" not in rules(DYED, "lift yarn", line, "enter yarn in dye-bath")


@pytest.mark.parametrize(
    "line",
    [
        "add alum 12 g to dye-bath",
        "add soda 2 g to dye-bath",
        "add iron-stock 100 mL to dye-bath",
        'add iron 2 g to dye-bath note "dissolved in hot water"',
        'add iron 2 g to dye-bath note "with the wool lifted"',
    ],
)
def test_what_is_dissolved_or_does_not_stain_may_go_in(line: str) -> None:
    assert "iron-onto-fibre" not in rules(DYED, line, "lift yarn")


@pytest.mark.parametrize(
    "lines",
    [
        ("enter yarn in dye-bath", "enter yarn in dye-bath"),
        (DYED, "put yarn back in dye-bath"),
    ],
)
def test_fibre_that_is_in_does_not_go_in_again(lines: tuple[str, ...]) -> None:
    assert "in-it-already" in rules(*lines)


@pytest.mark.parametrize(
    "lines",
    [
        ("enter yarn in dye-bath", "dye yarn in dye-bath at 80 °C for 1 h"),
        (DYED, "lift yarn", "put yarn back in dye-bath"),
        ("repeat 2 times", "  enter yarn in dye-bath", "  lift yarn"),
    ],
)
def test_fibre_that_was_out_goes_in_again(lines: tuple[str, ...]) -> None:
    assert "in-it-already" not in rules(*lines)


@pytest.mark.parametrize(
    "words",
    [
        "sprinkle copperas over the wet yarn",
        "strew ferrous sulphate on the damp skeins",
        "then shake green vitriol over the cloth",
    ],
)
def test_iron_that_words_strew_over_fibre_stains(words: str) -> None:
    # Mairet 1916, ch. II: the copperas is dissolved and mixed before the wool is entered.
    assert "iron-onto-fibre" in rules_of(f'do "{words}" with yarn')


@pytest.mark.parametrize(
    "words",
    [
        "never sprinkle copperas on the yarn",
        "sprinkle salt over the wet yarn",
        "dissolve copperas in a jar of water",
        "sprinkle copperas into the bath",
    ],
)
def test_what_strews_no_iron_over_fibre_says_nothing_of_stains(words: str) -> None:
    assert "iron-onto-fibre" not in rules_of(f'do "{words}" with yarn')
