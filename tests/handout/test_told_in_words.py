"""What papers warn of where only free words, or a name that nobody knows, tell of a plant."""

from __future__ import annotations

import pytest

import procedure
from procedure import Plan
from procedure.facts.handling import deadly_words
from procedure.handout.cautions import NOBODY_KNOWS, cautions
from procedure.handout.first_aid import what_to_do_first
from procedure.handout.short import dangers, paper
from procedure.paper import in_markdown
from procedure.paper.measures import Voice

HEAD = """procedure "Gold"
  by "Fellside Dye Circle"
  revised 2026-06-14
  place outdoors

equipment
  pot: stainless steel pot, 8 L, lidded, for dyeing only

materials
  tops: {tops}

steps
  bath: prepare in pot with water 4 L, tops 50 g
  do "{do}"
  discard bath to "hazardous waste collection"
"""


def plan_of(do: str = "hang up the apron", tops: str = "weld tops, dried") -> Plan:
    return procedure.read(HEAD.format(do=do, tops=tops), "example.dye")


@pytest.mark.parametrize(
    ("do", "thing"),
    [
        ("do not forget to add the foxglove", "foxglove"),
        ("squeeze the pokeberries", "pokeweed"),
        ("mix bleach with vinegar and pour it in", "chlorine bleach"),
    ],
)
def test_what_free_words_put_in_is_among_the_dangers(do: str, thing: str) -> None:
    plan = plan_of(do)
    assert [one.called for one in dangers(plan)] == [thing]
    assert [one.called for one in cautions(plan).dangers] == [thing]
    assert what_to_do_first(plan)
    assert bool(deadly_words(plan.study)) == (thing == "foxglove")


@pytest.mark.parametrize("do", ["hang up the apron", "no foxglove goes in", "pick out the yew"])
def test_of_what_is_not_there_no_paper_warns(do: str) -> None:
    plan = plan_of(do)
    assert not list(dangers(plan)) and not what_to_do_first(plan)
    assert not deadly_words(plan.study)


def test_a_plant_that_nobody_knows_is_among_the_dangers() -> None:
    (one,) = dangers(plan_of(tops='dyestuff, fresh, "frostberry tops"'))
    assert one.plain == (NOBODY_KNOWS,)


def test_how_a_thing_dissolves_is_no_danger() -> None:
    plan = procedure.read(
        HEAD.format(do="stir", tops="slaked lime").replace("50 g", "5 g"), "example.dye"
    )
    (lime,) = dangers(plan)
    assert "can blind" in lime.plain
    assert not any("dissolves" in said for said in (*lime.plain, *lime.remarks))


@pytest.mark.parametrize(
    "line",
    [
        "splosh it with 10 g of bluestone quickly three times round the pot",
        "bung 10 g bluestone in somehow",
    ],
)
def test_of_a_line_that_was_not_read_all_words_count(line: str) -> None:
    text = HEAD.format(do="stir", tops="weld tops, dried")
    plan = procedure.read(text.replace('do "stir"', line), "example.dye")
    assert [one.called for one in dangers(plan)] == ["copper sulphate"]
    assert what_to_do_first(plan)
    assert "- **copper sulphate**: ______ g; in the words of a step alone" in " ".join(
        read_of(plan).split()
    )
    assert not list(dangers(procedure.read(text.replace('do "stir"', "splosh it"), "example.dye")))


def test_a_poison_in_a_declaration_that_was_not_read_counts_too() -> None:
    text = HEAD.format(do="stir", tops="weld tops, dried\n  blue: bluestone 10 g = 20 g crystals")
    assert [one.called for one in dangers(procedure.read(text, "example.dye"))] == [
        "copper sulphate"
    ]


def read_of(plan: Plan) -> str:
    return in_markdown.page(paper(plan, Voice("metric"))).replace("\\_", "_")
