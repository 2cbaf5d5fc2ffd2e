"""Amounts on the sheet and the handout keep the measure that the writer has."""

from __future__ import annotations

import re

import pytest

import procedure
from procedure.handout.short import paper
from procedure.paper import in_text
from procedure.paper.measures import Voice
from procedure.report.weigh_text import Estimates, Request, report
from procedure.weigh.weighing import weigh
from procedure.wording.reader import of_system

HEAD = """procedure "Said"
  by "Fellside Dye Circle"
  place outdoors
  wearing gloves
fibre
  yarn: wool yarn, 2 skeins of 100 g, scoured
  cloth: wool cloth, 1 piece of 50 g, scoured
equipment
  pot: stainless steel pot, 8 L, for dyeing only
  tub: plastic tub, 10 L, for dyeing only
materials
  weld: weld, dried
  vinegar: vinegar
  alum: potassium alum
steps
  wet out yarn, cloth in tub with water 5 L at 30 °C for 1 h
  bath: prepare in pot with water 4 L, weld 100 g
"""


def sheet_of(line: str, system: str = "metric") -> str:
    plan = procedure.read(f"{HEAD}  {line}\n", "said.dye")
    made = report(weigh(plan), [], Estimates([], [], []), Request((), None, ()), system)
    return " ".join(made.split())


def handout_of(line: str, system: str = "metric") -> str:
    plan = procedure.read(f"{HEAD}  {line}\n", "said.dye")
    text = in_text.printed(paper(plan, Voice(system, reader=of_system(system)))).decode()
    return re.sub(r"\s+", " ", text.replace("\u00a0", " "))


@pytest.mark.parametrize("system", ["metric", "us", "imperial"])
@pytest.mark.parametrize("spoon", ["1 tablespoon", "1/4 teaspoon", "2 drops", "2 US cups"])
def test_a_liquid_by_the_spoon_is_told_by_the_spoon_too(spoon: str, system: str) -> None:
    line = f"add vinegar {spoon} to bath"
    assert spoon in sheet_of(line, system)
    told = handout_of(line, system)
    assert spoon in told
    assert not re.search(r"(?<![\d.,/])0 (mL|US fl oz|imp fl oz)", told)


def test_pieces_are_what_the_writer_counts() -> None:
    sheet = sheet_of("stir bath")
    assert "yarn: wool, 2 skeins" in sheet and "cloth: wool, 1 piece" in sheet


@pytest.mark.parametrize(
    "line",
    [
        "add half of the alum to bath\n  add the rest of the alum to bath",
        "add alum 10 g, half of vinegar to bath",
    ],
)
def test_a_share_of_a_thing_says_nothing_of_all_of_it(line: str) -> None:
    materials = HEAD.replace("alum: potassium alum", "alum: potassium alum, 20 g")
    plan = procedure.read(f"{materials}  {line}\n", "said.dye")
    text = in_text.printed(paper(plan, Voice("metric", reader=of_system("metric")))).decode()
    listed = text[text.index("WHAT YOU NEED") : text.index("THE STEPS")]
    assert "half" not in listed and "the rest" not in listed
