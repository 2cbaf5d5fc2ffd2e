"""What a beginner says at the pot: read as it is meant, or told in one sentence that helps."""

from __future__ import annotations

import pytest

from procedure.pipeline import read

HEAD = """procedure "Trying"
  by "Fellside Dye Circle"
  place outdoors
  wearing gloves, eye protection
fibre
  yarn: wool yarn, 100 g, 4 skeins, scoured, mordanted
equipment
  pot: stainless steel pot, 12 L, lidded, for dyeing only
  tub: plastic tub, 20 L, for dyeing only
materials
  madder: madder, dried
  indigo: indigo
  lime: slaked lime
  fructose: fructose
steps
  dye-bath: prepare in pot with water 5 L, madder 50 g at 30 °C
"""
READ = (
    ("keep the dye bath below the boil for 1 h", "hold"),
    ("keep the dye bath at 60 °C for 1 h", "hold"),
    ("pour the used dye bath on the compost", "discard"),
    ("grind the madder to a fine powder", "grind"),
    ("hang the yarn in the air for 15 min", "air"),
    ("dye the yarn again in the same bath for 1 h", "dye"),
    ("feed the dye bath with 5 g fructose", "add"),
    ("keep the yarn under the surface", "press under"),
    ("push the yarn under the liquor", "press under"),
)
TOLD = (
    ("never let it boil", "never above"),
    ("divide the yarn into two lots", "split yarn into"),
    ("put the madder in a muslin bag", "bag: muslin bag, for dyeing only"),
    ("use the bath again for the yarn", "dye yarn in dye-bath"),
    ("make up the green bath with 5 L water", "green-bath: prepare in pot"),
    ("squeeze the yarn as it leaves the vat", "note"),
    ("stir every ten minutes", "note"),
    ("dye the hand-spun yarn in dye-bath", "Leave it out"),
)


@pytest.mark.parametrize(("line", "verb"), READ)
def test_a_phrase_is_read(line: str, verb: str) -> None:
    made = read(HEAD + "  " + line + "\n")
    assert made.trace.moments[-1].step.verb.name == verb  # type: ignore[union-attr]
    last = len(HEAD.splitlines()) + 1
    errors = [one for one in made.findings if one.line == last and one.level == "error"]
    assert [one for one in errors if one.rule != "left-in-bath"] == []


@pytest.mark.parametrize(("line", "remedy"), TOLD)
def test_a_phrase_is_told_of_once(line: str, remedy: str) -> None:
    made = read(HEAD + "  " + line + "\n")
    last = len(HEAD.splitlines()) + 1
    errors = [one for one in made.findings if one.line == last and one.level == "error"]
    assert len(errors) == 1
    assert remedy in errors[0].remedy
