"""Amounts in other units: exact where they can be, said where they were rounded."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest
from units_outside import units_of_pint

import procedure
from procedure.language import read
from procedure.model import Quantity, build
from procedure.neaten import Rounded, in_units, neat, other_units
from procedure.neaten.meaning import meaning, much_the_same
from procedure.neaten.other_units import _that_will_do, decimal, rounded_to

EXAMPLES = Path(__file__).parents[2] / "examples"
SOUND = sorted(p for p in EXAMPLES.rglob("*.dye") if "faulty" not in p.parts)
FRAME = 'procedure "x"\n\nfibre\n  yarn: wool yarn, 4 skeins of 100 g\n\nsteps\n'


def step(words: str, system: str) -> str:
    made = in_units(f"{FRAME}  {words}\n", system)
    return made.text.rpartition("\n  ")[2].rstrip("\n")


@pytest.mark.parametrize(
    ("words", "system", "wanted"),
    [
        ("heat bath to 85 °C", "us", "heat bath to 185 °F"),
        ("heat bath to 85 °C", "imperial", "heat bath to 85 °C"),
        ("heat bath from 40 to 85 °C", "us", "heat bath from 104 to 185 °F"),
        ("heat bath to 180 °F", "metric", "heat bath to 82.2 °C"),
        ("heat bath to 185 °F (85 °C)", "metric", "heat bath to 85 °C (185 °F)"),
        ("heat bath to 85 °C", "both", "heat bath to 85 °C (185 °F)"),
        ("heat bath to 85 °C (186 °F)", "both", "heat bath to 85 °C (186 °F)"),
        ("add alum 1 lb 4 oz to bath", "metric", "add alum 567 g to bath"),
        ("add alum 4 oz to 1 lb to bath", "metric", "add alum 113 to 454 g to bath"),
        ("add alum 8 to 10 g to bath", "us", "add alum 0.282 to 0.353 oz to bath"),
        ("add alum about 100 g to bath", "us", "add alum about 3.5 oz to bath"),
        ("add alum at least 1 kg to bath", "us", "add alum at least 2.2 lb to bath"),
        ("add alum 12 % of yarn to bath", "us", "add alum 12 % of yarn to bath"),
        ("add alum 2 g/L to bath", "us", "add alum 2 g/L to bath"),
        ("add alum 1 teaspoon to bath", "us", "add alum 1 teaspoon to bath"),
        ("add alum 4 oz per lb of yarn to bath", "metric", "add alum 4 oz per lb of yarn to bath"),
        ("add water 200 mL to bath", "us", "add water 6.76 US fl oz to bath"),
        ("add water 2 US gal to bath", "imperial", "add water 1.67 imp gal to bath"),
        ("add 5 g of tartar to bath", "both", "add 5 g of tartar (0.176 oz) to bath"),
        ("rest yarn for 2 h", "us", "rest yarn for 2 h"),
    ],
)
def test_a_step_in_other_units(words: str, system: str, wanted: str) -> None:
    assert step(words, system) == wanted


def test_a_gallon_that_says_no_country_stays_and_is_told() -> None:
    made = in_units(FRAME + "  add water 1 gallon to bath\n", "metric")
    assert "1 gallon" in made.text
    (left,) = made.left
    assert (left.line, left.text) == (7, "1 gallon") and "US gal or imp gal" in left.why


def test_what_was_rounded_is_told_with_how_much() -> None:
    made = in_units(FRAME + "  heat bath to 180 °F\n  add alum 5 g to bath\n", "metric")
    assert made.rounded == (Rounded(7, "180 °F", "82.2 °C", Fraction(1, 45)),)
    (first, last) = in_units(FRAME + "  add alum 5 g to bath\n", "us").rounded
    assert (first.was, first.now) == ("100 g", "3.5274 oz") and first.off < Fraction(1, 10_000)
    assert (last.line, last.was, last.now) == (7, "5 g", "0.176 oz")
    # 5 g is 0.17636981 oz (NIST SP 811, B.8: one ounce is 28.349523125 g).
    assert float(last.off) == pytest.approx(1 - 0.176 / 0.17636981, rel=1e-4)


@pytest.mark.parametrize(
    ("words", "system", "unit"),
    [
        ("add alum 37 g to bath", "us", "ounce"),
        ("add alum 3 kg to bath", "imperial", "pound"),
        ("add alum 3 1/2 oz to bath", "metric", "gram"),
        ("add water 7 L to bath", "us", "gallon"),
        ("add water 7 L to bath", "imperial", "imperial_gallon"),
        ("add water 3 imp gal to bath", "metric", "liter"),
    ],
)
def test_amounts_are_those_of_pint(words: str, system: str, unit: str) -> None:
    was = {"g": "gram", "kg": "kilogram", "oz": "ounce", "L": "liter", "gal": "imperial_gallon"}
    number, name = words.removesuffix(" to bath").split(" ", 2)[2].rsplit(" ", 1)
    value = sum(Fraction(part) for part in number.removesuffix(" imp").split())
    exact = units_of_pint().Quantity(float(value), was[name]).to(unit).magnitude
    said = float(step(words, system).split(" ")[2])
    assert said == pytest.approx(exact, rel=5e-3)


def test_rounding_and_writing_out() -> None:
    assert [decimal(rounded_to(Fraction(x), 3)) for x in ("1234.5", "0.0012345", "99.96", "0")] == [
        *("1230", "0.00123", "100", "0")
    ]
    assert decimal(Fraction(-5, 2)) == "-2.5"


@pytest.mark.parametrize("path", SOUND[::6], ids=lambda path: path.name)
@pytest.mark.parametrize("system", ["us", "imperial", "metric", "both"])
def test_a_sound_example_stays_sound(path: Path, system: str) -> None:
    made = in_units(path.read_bytes().decode(), system)
    assert made.left == ()
    assert neat(made.text).same
    found = procedure.read(made.text, path.name, path).findings
    assert [(f.line, f.sentence) for f in found if f.level != "note"] == []


@pytest.mark.exhaustive
@pytest.mark.parametrize("path", SOUND, ids=lambda path: path.name)
@pytest.mark.parametrize("system", ["us", "imperial", "metric", "both"])
def test_every_sound_example_stays_sound(path: Path, system: str) -> None:
    test_a_sound_example_stays_sound(path, system)


def test_there_and_back_gives_the_amounts_again_but_for_rounding() -> None:
    text = (EXAMPLES / "first-onion-skins.dye").read_text("utf-8")
    back = in_units(in_units(text, "us").text, "metric").text
    meant = [meaning(build(read(one), ""), loosely=True) for one in (text, back)]
    assert much_the_same(*meant) and meant[0] != meant[1]


def test_the_few_lines_that_must_stay_are_found_without_reading_for_each() -> None:
    lines = list(range(1000))
    asked: list[int] = []

    def same(changed: list[int]) -> bool:
        asked.append(len(changed))
        return {17, 500, 999}.isdisjoint(changed)

    taken = _that_will_do(lines, [], same)
    assert set(lines) - set(taken) == {17, 500, 999}
    assert len(asked) < 70
    asked.clear()
    assert _that_will_do(lines[1:10], [], same) == lines[1:10]
    assert asked == [9]


def test_an_amount_that_would_be_read_otherwise_stays_and_the_others_do_not(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    text = (EXAMPLES / "first-onion-skins.dye").read_text("utf-8")
    usual = other_units._said_in

    def wrongly(said: Quantity, system: str, figures: int) -> tuple[str, Fraction]:
        return ("7 oz", Fraction(0)) if said.text == "100 g" else usual(said, system, figures)

    monkeypatch.setattr(other_units, "_said_in", wrongly)
    made = in_units(text, "us")
    assert "100 g" in text and "100 g" in made.text and "7 oz" not in made.text
    assert " gal" in made.text
    assert [one.text for one in made.left] == ["100 g"] * text.count("100 g")
