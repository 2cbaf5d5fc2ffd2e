"""Ways of writing that make no difference: line ends, tabs, marks, signs, spellings."""

from __future__ import annotations

from fractions import Fraction

import pytest
from expecting import between
from shapes import all_lines, shape

import procedure
from procedure.language import Tree, read
from procedure.model import Quantity, Step

TEXT = """procedure "Été n° 1 – größer"
  by "Fellside Dye Circle"
fibre
  yarn: wool yarn, 100 g, scoured, "aus dem Tal – grün"
equipment
  tub: plastic tub, 20 L, for dyeing only
steps
  wet out yarn in tub with water 5 L at 30 °C
    for 1 h
  repeat 3 times
    air yarn for 15 min note "wörk gently, 20 °C"
  dry yarn
"""


def shapes(tree: Tree) -> list[str]:
    assert tree.faults == []
    return [shape(line.node) for line in all_lines(tree) if line.node is not None]


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"], ids=["Unix", "Windows", "old Macintosh"])
@pytest.mark.parametrize("mark", ["", "\ufeff"], ids=["", "byte-order mark"])
@pytest.mark.parametrize("last", [True, False], ids=["last newline", "no last newline"])
def test_line_ends_and_marks(end: str, mark: str, last: bool) -> None:
    text = mark + (TEXT if last else TEXT.rstrip("\n")).replace("\n", end)
    assert shapes(read(text)) == shapes(read(TEXT))
    found = [(f.rule, f.line, f.column) for f in procedure.read(text).findings]
    assert found == [(f.rule, f.line, f.column) for f in procedure.read(TEXT).findings]


def test_mixed_line_ends() -> None:
    text = TEXT.replace("\n", "\r\n", 3).replace("\n  dry", "\r  dry")
    assert shapes(read(text)) == shapes(read(TEXT))


def test_tabs_indent_like_spaces() -> None:
    assert shapes(read(TEXT.replace("    ", "\t\t").replace("  ", "\t"))) == shapes(read(TEXT))


def test_spaces_of_other_kinds_part_words() -> None:
    narrow = TEXT.replace("100 g", "100\u202fg").replace("30 °C", "30\u00a0°C")
    assert shapes(read(narrow)) == shapes(read(TEXT))


def test_words_in_quotation_marks_keep_their_letters() -> None:
    model = procedure.read(TEXT).model
    assert model.title is not None and model.title.text == "Été n° 1 – größer"
    assert "aus dem Tal – grün" in model.lots["yarn"].words


def test_curly_quotation_marks_are_quotation_marks() -> None:
    curly = TEXT.replace('by "Fellside Dye Circle"', "by “Fellside Dye Circle”")
    model = procedure.read(curly).model
    assert model.by is not None and model.by.text == "Fellside Dye Circle"


def heat(text: str) -> Quantity:
    step = procedure.read(TEXT.replace("30 °C", text)).model.body[0]
    assert isinstance(step, Step) and step.at is not None and step.at.quantity is not None
    return step.at.quantity


@pytest.mark.parametrize(
    "said", ["30 °C", "30°C", "30 C", "30C", "30 degC", "30 ℃", "30 deg C", "30 celsius"]
)
def test_degrees_celsius(said: str) -> None:
    found = heat(said)
    assert found.kind == "temperature" and found.ends == between(30)


@pytest.mark.parametrize("said", ["86 °F", "86°F", "86 F", "86 degF", "86 ℉", "86 fahrenheit"])
def test_degrees_fahrenheit(said: str) -> None:
    found = heat(said)  # 1.8 x 30 + 32 = 86 (NIST SP 811, B.8)
    assert found.kind == "temperature" and found.ends == between(30)


@pytest.mark.parametrize(
    "said",
    ["30 to 35 °C", "30-35 °C", "30 - 35 °C", "30–35 °C", "30 – 35 °C", "30—35 °C", "30−35 °C"],
)
def test_a_range_may_have_any_dash(said: str) -> None:
    found = heat(said)
    assert found.ends == between(30, 35) and not found.backwards


NUMBERS = {
    "1½": Fraction(3, 2),
    "1 ½": Fraction(3, 2),
    "½": Fraction(1, 2),
    "1 1/2": Fraction(3, 2),
    "1/2": Fraction(1, 2),
    "3/4": Fraction(3, 4),
    "1.5": Fraction(3, 2),
    "⅝": Fraction(5, 8),
    ".5": Fraction(1, 2),
    "012": Fraction(12),
}


@pytest.mark.parametrize(("said", "value"), NUMBERS.items())
def test_numbers(said: str, value: Fraction) -> None:
    lot = procedure.read(TEXT.replace("100 g", f"{said} g")).model.lots["yarn"]
    assert lot.weight is not None and lot.weight.ends == (value, value)


@pytest.mark.parametrize("said", ["1/0", "0/0", "1 1/0"])
@pytest.mark.parametrize("where", ["100 g", "5 L", "1 h"])
def test_a_fraction_with_nothing_below_its_line_is_a_finding(said: str, where: str) -> None:
    unit = where.split()[1]
    plan = procedure.read(TEXT.replace(where, f"{said} {unit}"))
    assert "unknown-unit" in {f.rule for f in plan.findings}


def test_a_second_part_with_nothing_below_its_line_is_a_finding() -> None:
    plan = procedure.read(TEXT.replace("for 1 h", "for 1 h 1/0 min"))
    assert "unknown-unit" in {f.rule for f in plan.findings}


def test_figures_of_other_scripts_are_no_numbers() -> None:
    for odd in ("²", "٣", "-²", "Ⅳ", "-2026-06-14", "-0,5"):
        assert read(TEXT.replace("30 °C", f"{odd} °C")).faults
        plan = procedure.read(TEXT.replace("100 g", f"{odd} g"))
        assert {"cannot-read", "unknown-word"} & {f.rule for f in plan.findings}
        assert plan.model.lots == {} or plan.model.lots["yarn"].weight is None


def test_sections_may_have_a_colon_and_any_order() -> None:
    head, *rest = TEXT.split("\nfibre\n")
    fibre, rest_of = rest[0].split("\nequipment\n")
    equipment, steps = rest_of.split("\nsteps\n")
    turned = f"{head}\nsteps:\n{steps}equipment :\n{equipment}\nfibre:\n{fibre}\n"
    one, other = procedure.read(TEXT), procedure.read(turned)
    assert [f.rule for f in other.findings if f.level != "note"] == [
        f.rule for f in one.findings if f.level != "note"
    ]
    assert list(other.model.lots) == ["yarn"] and len(other.model.body) == 3
