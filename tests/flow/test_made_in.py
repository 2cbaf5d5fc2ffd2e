"""A lot that comes from another procedure: what was done to it there is on it from the first."""

from __future__ import annotations

from expecting import plan_of, rules_of

THERE = """
# saved as: alum.dye
procedure "Alum"
fibre
  wool: wool yarn, 100 g, scoured
equipment
  pot: stainless steel pot, 12 L, lidded, for dyeing only
materials
  alum: potassium alum
steps
  wet out wool in pot with water 5 L for 1 h
"""
HERE = """fibre
  yarn: wool yarn, 100 g, from "{file}"
steps
  wet out yarn in tub with water 5 L for 1 h
  weld-bath: prepare in pan with water 3 L, weld 100 g at 40 °C
  strain weld-bath
  dye yarn in weld-bath at 40 °C for 1 h
  rinse yarn in tub with water 5 L at 30 °C
  discard weld-bath to "foul drain"
"""
ALUM = (
    "  alum-bath: prepare in pot with water 5 L, alum 12 % of wool\n"
    "  mordant wool in alum-bath at 40 °C for 1 h\n"
)


def test_it_is_mordanted_and_scoured_as_there() -> None:
    text = HERE.format(file="alum.dye") + THERE.lstrip("\n") + ALUM
    plan = plan_of(text)
    told = {one.rule for one in plan.findings}
    assert not {"no-mordant", "clean-or-not-unstated", "scouring-unstated"} & told
    lot = plan.flow.lots["yarn"].declared
    assert lot is not None
    assert [(one.done, one.entry.name) for one in lot.past] == [("mordanted", "potassium alum")]
    assert lot.scoured is True


def test_where_it_was_not_mordanted_there_it_is_not_here() -> None:
    assert "no-mordant" in rules_of(HERE.format(file="alum.dye") + THERE.lstrip("\n"))


def test_a_file_that_is_not_there_is_told() -> None:
    text = HERE.format(file="nowhere.dye") + THERE.lstrip("\n")
    assert "cannot-follow" in rules_of(text)


def test_words_that_name_no_file_are_for_the_reader() -> None:
    lot = plan_of(HERE.format(file="our own flock")).flow.lots["yarn"].declared
    assert lot is not None and lot.made_in is None
    assert "our own flock" in lot.words
