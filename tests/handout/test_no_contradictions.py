"""What the papers say of how a step is done does not gainsay the step, or the next one."""

from __future__ import annotations

import re

import pytest

import procedure
from procedure.handout.short import paper
from procedure.paper import in_text
from procedure.paper.measures import Voice
from procedure.wording.reader import of_system

HEAD = """procedure "Gold"
  by "Fellside Dye Circle"
  revised 2026-06-14
  place outdoors
fibre
  yarn: wool yarn, 100 g, scoured
equipment
  pot: stainless steel pot, 12 L, lidded, for dyeing only
  tub: plastic tub, 20 L, for dyeing only
materials
  alum: potassium alum
  weld: weld, dried
steps
  wet out yarn in tub with water 5 L for 1 h
  alum-bath: prepare in pot with water 5 L, alum 12 g
"""
MORDANTED = "enter yarn in alum-bath\nmordant yarn in alum-bath at 80 °C for 1 h\n"


def told(lines: str) -> str:
    """The steps of the short handout, on one line."""
    indented = "\n".join(f"  {line}" for line in lines.splitlines())
    plan = procedure.read(f"{HEAD}{indented}\n", "example.dye")
    text = in_text.printed(paper(plan, Voice("metric", reader=of_system("metric")))).decode()
    steps = text[text.index("THE STEPS") : text.index("IF IT GOES WRONG")]
    return re.sub(r"\s+", " ", steps.replace("\u00a0", " "))


@pytest.mark.parametrize(
    "lines",
    [
        "rinse yarn in tub with water 5 L\ndry yarn",
        "rinse yarn in tub with water 5 L\nsqueeze yarn\ndry yarn",
        "rinse yarn in tub with water 5 L\nclean tub\nrest yarn for 1 h\ndry yarn",
    ],
)
def test_what_is_dried_is_not_to_be_kept_damp(lines: str) -> None:
    assert "damp" not in told(MORDANTED + lines)


def test_what_goes_into_its_next_bath_wet_is_kept_damp() -> None:
    again = "weld-bath: prepare in pot with water 5 L, weld 100 g\ndye yarn in weld-bath at 80 °C\n"
    lines = 'rinse yarn in tub with water 5 L\ndiscard alum-bath to "the drain"\n'
    assert "Keep it damp until its bath is ready" in told(f"{MORDANTED}{lines}{again}dry yarn")


@pytest.mark.parametrize(
    ("line", "says", "never"),
    [
        ("boil alum-bath gently for 10 min", "only just boil", "movement"),
        ("boil alum-bath gently for 10 min stirring", "only just boil", "movement"),
        ("simmer alum-bath gently for 10 min", "only just simmer", "no sudden heat"),
        ("heat alum-bath to 80 °C gently", "slowly", "movement"),
        ("enter yarn in alum-bath\nboil alum-bath gently for 10 min", "only just boil", "gently"),
    ],
)
def test_a_gentle_boil_is_one_that_only_just_boils(line: str, says: str, never: str) -> None:
    said = told(line)
    assert says in said and never not in said


@pytest.mark.parametrize(
    ("line", "says", "never"),
    [
        ("boil alum-bath for 1 h now and then", "Turn the fibre now and then", "Stir it"),
        ("simmer alum-bath for 1 h stirring", "the fibre", "Stir all the while"),
        ("hold alum-bath at 80 °C for 1 h now and then", "Turn the fibre now and then", "Stir it"),
    ],
)
def test_where_fibre_is_in_the_bath_it_is_turned_and_not_stirred(
    line: str, says: str, never: str
) -> None:
    said = told(f"enter yarn in alum-bath\n{line}")
    assert says in said and never not in said
    alone = told(line)
    assert "Stir" in alone and says not in alone
