"""Slips and dangers of strangers who had the language reference alone, with the whole remedy."""

from __future__ import annotations

import pytest

from procedure import pipeline
from procedure.findings import Finding, at_least

SOUND = """\
procedure "Golden onion skins"
  by "Fellside Dye Circle"
  revised 2026-06-14
  source "common practice"
  makes "a skein of golden brown wool"
  place ventilated
  wearing gloves

fibre
  yarn: wool yarn, 100 g, scoured

equipment
  pot: stainless steel pot, 8 L, lidded, for dyeing only
  bucket: plastic bucket, 10 L, for dyeing only
  hob: hotplate, 2 kW

materials
  skins: onion skins, dried

steps
  wet out yarn in bucket with water 4 L at 30 °C for 1 h
  gold-bath: prepare in pot with water 4 L, skins 50 g
  simmer gold-bath at 85 °C for 1 h covered on hob
  cool gold-bath to 40 °C
  strain gold-bath
  dye yarn in gold-bath from 40 °C to 85 °C over 45 min for 1 h
  cool gold-bath to 30 °C overnight covered labelled
  rinse yarn in bucket with water 4 L at 30 °C until "the water runs clear"
  discard gold-bath to "foul drain"
  dry yarn
"""


def _found(old: str, new: str) -> tuple[int, list[Finding]]:
    """The line that is changed, and what is found of the changed text."""
    assert SOUND.count(old) == 1
    line = SOUND[: SOUND.index(old)].count("\n") + 1
    found = pipeline.read(SOUND.replace(old, new)).findings
    return line, [one for one in found if at_least(one.level, "warning")]


def test_the_text_that_is_changed_is_sound() -> None:
    assert not [one for one in pipeline.read(SOUND).findings if at_least(one.level, "warning")]


@pytest.mark.parametrize(
    ("old", "new", "said", "remedy"),
    [
        ("2026-06-14", "14.6.2026", "“14.6.2026” does not begin with the year.", "the year first"),
        ("2026-06-14", "06/14/2026", "“06/14/2026” does not begin with", "the year first"),
        ("2026-06-14", "6/5/2026", "“6/5/2026” can be read as two days.", "the year first"),
        ("skins 50 g", "skins 50 gr", "“gr” is not a unit", "Did you mean “g”?"),
        ("over 45 min", "over 45 minuts", "“minuts” is not a unit", "Did you mean “minutes”?"),
        ("strain gold-bath", "strain gold-bath through cloth", "called “cloth”", "equipment"),
    ],
)
def test_a_slip_is_told_once_with_what_is_true(old: str, new: str, said: str, remedy: str) -> None:
    line, found = _found(old, new)
    assert [one.line for one in found] == [line]
    assert said in found[0].sentence and remedy in found[0].remedy


def test_a_bath_without_its_colon() -> None:
    line, found = _found("gold-bath: prepare", "gold-bath prepare")
    assert (found[0].line, found[0].remedy) == (
        line,
        "Write a colon after the name: “gold-bath: prepare”.",
    )


@pytest.mark.parametrize("use", ["for food", "used for food", "also for food", "for cooking"])
def test_a_pot_for_food_in_any_words(use: str) -> None:
    line, found = _found("8 L, lidded, for dyeing only", f"8 L, lidded, {use}")
    assert [(one.line, one.rule) for one in found] == [(line, "used-for-cooking")]


@pytest.mark.parametrize("heat", ["50 °C", "85 °C"])
def test_a_bath_on_a_hotplate_is_not_left_alone(heat: str) -> None:
    """A hotplate that is on all night is no less a fire where the bath is only warm."""
    line, found = _found(
        "  strain gold-bath\n",
        f"  strain gold-bath\n  hold gold-bath at {heat} overnight covered unattended on hob\n",
    )
    assert "heated-unattended" in [one.rule for one in found if one.line == line + 1]
    _, found = _found(
        "  strain gold-bath\n",
        f"  strain gold-bath\n  hold gold-bath at {heat} for 1 h covered on hob\n",
    )
    assert "heated-unattended" not in [one.rule for one in found]
