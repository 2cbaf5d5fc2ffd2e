"""A number that lost its percent sign is asked about as a number, never as so many pieces."""

import pytest

import procedure

HEAD = """procedure "Signs"
fibre
  yarn: wool yarn, 100 g, scoured
equipment
  pot: stainless steel pot, 12 L, lidded, for dyeing only
materials
  alum: potassium alum
  onion: onion skins, dried
steps
"""


def errors(said: str) -> list[procedure.Finding]:
    text = HEAD + f"  alum-bath: prepare in pot with water 4 L, {said}\n"
    return [one for one in procedure.read(text, "x.dye").findings if one.level == "error"]


@pytest.mark.parametrize(
    ("said", "remedy"),
    [
        ("alum 12 of yarn", "“12 % of yarn”"),
        ("alum 12 yarn", "“12 % of yarn”"),
        ("alum 12 wof", "“12 % wof”"),
        ("12 alum", "“alum 12 % wof”"),
        ("12 of alum", "“alum 12 % wof”"),
    ],
)
def test_the_sign_is_offered(said: str, remedy: str) -> None:
    (found,) = errors(said)
    assert "does not say of what kind the number is" in found.sentence
    assert remedy in found.remedy


def test_plants_may_be_counted() -> None:
    (found,) = errors("12 onion skins")
    assert "is a number of pieces" in found.sentence
