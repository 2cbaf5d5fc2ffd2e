"""A danger is told wherever it is, and an ``allow`` counts for its own step alone.

What meets is in ``meetings.csv`` with its sources; the language reference says how far an
``allow`` reaches.
"""

from __future__ import annotations

import procedure

HEAD = """procedure "Bleach and vinegar"
  by "Fellside Dye Circle"
  revised 2026-06-14
  place outdoors
  {wearing}

fibre
  yarn: cotton yarn, 100 g, scoured

equipment
  pot: stainless steel pot, 20 L, lidded, for dyeing only
  pan: stainless steel pot, 20 L, lidded, for dyeing only
  hob: hotplate, 2 kW

materials
  s: bleach, solution 5 % by weight
  a: vinegar, 5 %
  l: lye
  spirit: alcohol, 96 %
  copper: copper sulphate
  iron: ferrous sulphate
  tin: stannous chloride

steps
"""
WORN = "wearing gloves, eye protection"


def told(steps: str, rule: str, wearing: str = WORN) -> list[tuple[int, str]]:
    """The lines of the steps (from 1) at which a rule speaks, with its level there."""
    text = HEAD.format(wearing=wearing) + steps
    before = text.index("steps\n")
    first = text.count("\n", 0, before) + 1
    found = procedure.read(text, "example.dye").findings
    return [(one.line - first, one.level) for one in found if one.rule == rule]


POT_THEN_POURED = """  x: prepare in pot with water 5 L, s 20 mL
  discard x to "foul drain"
  y: prepare in pot with water 5 L, a 20 mL{allow}
  discard y to "hazardous waste collection"
  q: prepare in pan with water 1 L, s 500 mL
  add a 500 mL to q
"""
ALLOWED = '\n    allow must-not-meet because "the pot is rinsed well"'


def test_a_meeting_in_a_pot_does_not_hide_a_later_one() -> None:
    assert told(POT_THEN_POURED.format(allow=""), "must-not-meet") == [(3, "error"), (6, "error")]


def test_an_allowed_meeting_does_not_reach_a_later_one() -> None:
    found = sorted(told(POT_THEN_POURED.format(allow=ALLOWED), "must-not-meet"))
    assert found == [(3, "note"), (7, "error")]


def test_an_allowed_error_stays_a_note_and_the_next_an_error() -> None:
    steps = f"""  q: prepare in pan with water 1 L, s 100 mL
  add spirit 100 mL to q{ALLOWED}
  clean pot
  r: prepare in pot with water 1 L, s 300 mL
  add spirit 300 mL to r
"""
    assert sorted(told(steps, "must-not-meet")) == [(2, "note"), (6, "error")]


def test_what_kills_stays_an_error_at_the_very_step_that_allows_it() -> None:
    steps = f"""  q: prepare in pan with water 1 L, s 100 mL
  add a 100 mL to q{ALLOWED}
"""
    assert told(steps, "must-not-meet") == [(2, "error")]
    assert told(steps, "nothing-to-allow") == [(3, "warning")]


def test_unrinsed_fibre_is_told_though_the_pot_is_not_clean_either() -> None:
    steps = """  x: prepare in pot with water 5 L, s 50 mL
  steep yarn in x at 20 °C for 10 min
  lift yarn from x
  discard x to "foul drain"
  y: prepare in pot with water 5 L, a 500 mL
  steep yarn in y at 20 °C for 10 min
"""
    assert (6, "error") in told(steps, "must-not-meet")


def test_an_allow_of_bare_hands_counts_for_its_step() -> None:
    steps = """  b: prepare in pot with water 5 L, l 5 g
    allow no-gloves because "a trace of it"
    allow no-eye-protection because "a trace of it"
  discard b to "hazardous waste collection"
  c: prepare in pan with water 1 L, l 300 g
"""
    for rule in ("no-gloves", "no-eye-protection"):
        levels = [level for _, level in told(steps, rule, "")]
        assert "error" in levels and "note" in levels, rule


def test_an_allow_of_warm_spirit_counts_for_its_step() -> None:
    steps = """  x: prepare in pot with water 1 L, spirit 1 L
  heat x to 30 °C on hob
    allow spirit-on-the-heat because "just warm"
  heat x to 70 °C on hob
"""
    assert sorted(told(steps, "spirit-on-the-heat")) == [(2, "note"), (4, "error")]


def test_a_discard_names_every_content_that_may_not_go_there() -> None:
    steps = """  x: prepare in pot with water 5 L, copper 5 g, iron 5 g, tin 5 g
  discard x to "the garden"
"""
    text = HEAD.format(wearing=WORN) + steps
    told = [
        (one.level, one.sentence)
        for one in procedure.read(text, "example.dye").findings
        if one.rule == "wrong-way-out"
    ]
    assert [level for level, _ in told] == ["error", "error"]
    # The two metals that stay are told together, the iron by itself.
    assert "copper sulphate and tin (stannous chloride)" in told[0][1]
    assert "ferrous sulphate" in told[1][1]


def test_what_harms_is_told_by_its_full_name_in_every_rule() -> None:
    """Two blues and greens of the writer's are copper and iron, and are told apart."""
    steps = """  m: prepare in pot with water 5 L, copper 2 g, iron 2 g
  modify yarn in m at 30 °C for 10 min
  discard m to "the hazardous waste point"
"""
    text = HEAD.format(wearing=WORN).replace("copper:", "blue:").replace("iron:", "green:")
    text += steps.replace("copper 2", "blue 2").replace("iron 2", "green 2")
    said = [one.sentence for one in procedure.read(text, "example.dye").findings]
    loose = next(one for one in said if "not rinsed out" in one)
    assert "blue (copper sulphate)" in loose
    assert "green (ferrous sulphate)" in loose
