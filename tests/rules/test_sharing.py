"""Sharing: what a stranger must be told."""

from __future__ import annotations

from pathlib import Path

import pytest
from expecting import findings

import procedure
from procedure.rules import RULES

SHARING = {rule.name for rule in RULES if rule.family == "sharing"}

# States all that a stranger needs; nothing is to be said of it.
ALL_SAID = """procedure "Weld and madder"
  by "Fellside Dye Circle"
  revised 2026-06-14
  source "our own workshop"
  makes "a gold skein and a red one"
  place outdoors
  note "Our water is hard tap water."

fibre
  yarn: wool yarn, 100 g, scoured

equipment
  kettle: stainless steel pot, 15 L, lidded, for dyeing only
  tub: plastic tub, 20 L, for dyeing only

materials
  weld: weld tops, dried, gathered 2026-06-12
  walnut: walnut leaves, fresh, gathered 2026-07-12
  madder: madder roots, dried, bought

steps
  wet out yarn in tub with water 5 L at 30 °C for 1 h
  pot: prepare in kettle with water 4 L, weld 50 g, madder 20 g, walnut 100 g wearing gloves
  dye yarn in pot from 30 °C to 70 °C over 1 h for 1 h
  rinse yarn in tub with water 5 L at 60 °C
  discard pot to "foul drain"
"""


def sharing(text: str) -> list[tuple[str, int, str]]:
    found = procedure.read(text, "example.dye").findings
    return [(f.rule, f.line, f.level) for f in found if f.rule in SHARING]


def test_a_procedure_that_states_all_gets_no_note() -> None:
    assert sharing(ALL_SAID) == []


@pytest.mark.parametrize(
    ("said", "unsaid", "rule", "line"),
    [
        ('  by "Fellside Dye Circle"\n', "", "origin-unstated", 1),
        ("  revised 2026-06-14\n", "", "origin-unstated", 1),
        ('  source "our own workshop"\n', "", "origin-unstated", 1),
        ('  makes "a gold skein and a red one"\n', "", "origin-unstated", 1),
        # A fresh plant weighs several times what it weighs dried (common practice).
        ("weld tops, dried,", "weld tops,", "plant-state-unstated", 17),
        # Hulls, leaves and bark of walnut dye differently (common practice).
        ("walnut leaves", "walnut", "plant-part-unstated", 18),
        ("fresh, gathered 2026-07-12", "fresh, gathered", "gathered-without-a-day", 18),
        ("100 g, scoured", "100 g", "clean-or-not-unstated", 10),
    ],
)
def test_what_is_left_unsaid_is_one_note_at_its_place(
    said: str, unsaid: str, rule: str, line: int
) -> None:
    assert ALL_SAID.count(said) == 1
    assert sharing(ALL_SAID.replace(said, unsaid)) == [(rule, line, "note")]


def test_all_that_is_missing_at_the_head_is_one_note() -> None:
    text = ALL_SAID
    for line in ("by ", "revised ", "source ", "makes "):
        text = "".join(x for x in text.splitlines(keepends=True) if not x.startswith(f"  {line}"))
    assert sharing(text) == [("origin-unstated", 1, "note")]


def test_a_version_serves_for_a_date() -> None:
    assert sharing(ALL_SAID.replace("revised 2026-06-14", "version 3")) == []


@pytest.mark.parametrize("way", ['note "soft rainwater"', 'note "the water is chalky"'])
def test_water_is_asked_for_where_the_colour_hangs_on_it(way: str) -> None:
    """Madder wants hard water for its red (common practice)."""
    silent = ALL_SAID.replace('  note "Our water is hard tap water."\n', "")
    assert {rule for rule, _, _ in sharing(silent)} == {"water-kind-unstated"}
    said = silent.replace("walnut 100 g wearing gloves", f"walnut 100 g wearing gloves {way}")
    assert sharing(said) == []


def test_onion_skins_do_not_ask_for_the_kind_of_water() -> None:
    text = 'bath: prepare in kettle with water 3 L, onion 50 g\ndiscard bath to "foul drain"'
    assert [f for f in findings(text) if f.rule in SHARING] == []


def test_sharing_never_spoils_a_check() -> None:
    """Level note: the reader must guess, but nothing is spoilt and nobody hurt (design 5)."""
    assert {rule.level for rule in RULES if rule.family == "sharing"} == {"note"}


def test_the_sound_examples_are_told_little() -> None:
    """At most two notes on sharing for each: notes that are many are not read."""
    examples = Path(__file__).parents[2] / "examples"
    for path in sorted(examples.glob("*.dye")):
        found = [f for f in procedure.load(path).findings if f.rule in SHARING]
        assert len(found) <= 2, (path.name, [f.sentence for f in found])
