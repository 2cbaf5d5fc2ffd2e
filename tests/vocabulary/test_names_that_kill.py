"""No suggestion leads from a harmless word to a thing that harms, nor from one metal to another."""

from __future__ import annotations

import pytest

import procedure
from procedure.rules.example_kit import whole
from procedure.vocabulary import vocabulary
from procedure.vocabulary.library import MATERIAL_TABLES, near
from procedure.vocabulary.suggestions import Suggestion, harms, metal_named, suggestion

TABLES = (*MATERIAL_TABLES, "state", "part")


@pytest.mark.parametrize(
    ("word", "asked"),
    [
        ("hemlock tops", "hemlock"),
        ("hemlok", "hemlock"),
        ("foxglov", "foxglove"),
        ("monkshod leaves", "monkshood"),
    ],
)
def test_a_name_of_a_plant_that_harms_is_asked_about(word: str, asked: str) -> None:
    made = suggestion(word, *TABLES)
    assert made.meant is None
    assert asked in [plant.name for plant in made.ask]


@pytest.mark.parametrize(
    "word", ["lavender", "rosemary", "lupin", "copper", "tin", "mint", "thyme"]
)
def test_a_harmless_word_is_not_turned_into_a_poison_or_another_metal(word: str) -> None:
    made = suggestion(word, *TABLES)
    entry = vocabulary().find(made.meant or "", *TABLES)
    assert not harms(entry, vocabulary())
    metal = metal_named(word, vocabulary())
    assert metal is None or entry is None or entry.facts.get("metal") == metal


def test_over_all_pairs_that_are_near_nothing_harmful_is_offered() -> None:
    """Each known name in turn is taken for unknown; what is offered instead harms nobody."""
    words = vocabulary()
    names = words.names(*MATERIAL_TABLES)
    wrong = []
    for name in names:
        entry = words.find(name, *MATERIAL_TABLES)
        others = [one for one in names if words.find(one, *MATERIAL_TABLES) is not entry]
        meant = near(name, others)
        if meant is None:
            continue
        offered = suggestion(f"{name[:-1]}", *MATERIAL_TABLES)
        found = words.find(offered.meant or "", *MATERIAL_TABLES)
        if found is not None and found is not entry and harms(found, words):
            wrong.append((name, offered.meant))
    assert wrong == []


def test_the_writer_is_asked_for_the_latin_name() -> None:
    example = """materials
  leaves: hemlok, fresh
steps
  gather leaves 100 g
"""
    plan = procedure.read(whole(example))
    (found,) = [one for one in plan.findings if one.rule == "unknown-word"]
    assert found.level == "error"
    assert "Conium maculatum" in found.sentence and "Latin name" in found.remedy


def test_nothing_is_asked_where_no_name_is_near() -> None:
    assert suggestion("quartz sand", *TABLES) == Suggestion(None)
