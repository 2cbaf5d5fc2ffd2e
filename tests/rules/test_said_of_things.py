"""“The rinsed yarn” is noted where the yarn was never rinsed, and nowhere else."""

from __future__ import annotations

import pytest

from procedure.pipeline import read

HEAD = """procedure "Trying"
  by "Fellside Dye Circle"
  place outdoors
  wearing gloves, eye protection
fibre
  yarn: wool yarn, 100 g, 4 skeins, scoured
  grey: wool yarn, 100 g, scoured, mordanted
equipment
  pot: stainless steel pot, 12 L, lidded, for dyeing only
  jar: glass jar, 2 L, lidded, for dyeing only
  tub: plastic tub, 20 L, for dyeing only
materials
  alum: potassium alum
  madder: madder, dried, powder
steps
"""
MORDANTED = """  wet out yarn in tub with water 5 L at 30 °C for 1 h
  alum-bath: prepare in pot with water 5 L, alum 12 g at 40 °C
  mordant yarn in alum-bath from 40 °C to 85 °C over 45 min for 1 h
"""
RINSED = MORDANTED + "  rinse yarn in tub with water 5 L at 60 °C\n"
NOT_SO = (
    (MORDANTED, "hang the rinsed yarn to dry", "rinsed", "yarn"),
    (MORDANTED, "rinse the dyed yarn in tub with water 5 L", "dyed", "yarn"),
    (MORDANTED, "rinse the cooled yarn in tub with water 5 L", "cooled", "yarn"),
    (MORDANTED, "add melted alum 5 g to alum-bath", "melted", "alum"),
    ("", "rinse the wetted yarn in tub with water 5 L", "wetted", "yarn"),
    ("", "rinse the mordanted yarn in tub with water 5 L", "mordanted", "yarn"),
)
SO = (
    (RINSED, "hang the rinsed yarn to dry"),
    (MORDANTED, "rinse the mordanted yarn in tub with water 5 L"),
    ("", "rinse the mordanted grey in tub with water 5 L"),
    ("", "rinse the scoured yarn in tub with water 5 L"),
    (MORDANTED, "add ground madder 5 g to alum-bath"),
    (MORDANTED, "frobble the rinsed yarn in tub"),
    ("  dissolve alum 5 g in jar with water 1 L\n" + MORDANTED, "add melted alum 5 g to alum-bath"),
)


def told(before: str, line: str) -> list[str]:
    made = read(HEAD + before + "  " + line + "\n")
    return [one.sentence for one in made.findings if one.rule == "said-but-not-so"]


@pytest.mark.parametrize(("before", "line", "word", "thing"), NOT_SO)
def test_what_is_said_and_is_not_so_is_noted(before: str, line: str, word: str, thing: str) -> None:
    assert told(before, line) == [f"“{word}” is said of {thing}, and no step above makes it so."]


@pytest.mark.parametrize(("before", "line"), SO)
def test_what_is_so_or_cannot_be_told_is_not_noted(before: str, line: str) -> None:
    assert told(before, line) == []


def test_a_strength_below_nothing_is_told_and_fails_no_rule() -> None:
    text = HEAD.replace(
        "  alum: potassium alum", "  alum: potassium alum\n  vinegar: white vinegar, -5 %"
    )
    made = read(text + RINSED + "  rinse yarn in tub with water 5 L, vinegar 50 mL\n")
    assert any("nothing" in one.sentence for one in made.findings if one.level == "error")
