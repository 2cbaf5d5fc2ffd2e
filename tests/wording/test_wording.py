"""Facts in words: in the units, the spelling and the form of the reader."""

from __future__ import annotations

import re
from fractions import Fraction
from pathlib import Path

import pytest
from expecting import findings, plan_of

import procedure
from procedure.findings import (
    Count,
    Heat,
    InUnit,
    LineNumber,
    Liquor,
    Mass,
    Named,
    Percent,
    Rate,
    Says,
    Several,
    Span,
    Strength,
    Value,
    Volume,
    Way,
    Word,
    listed,
    plainly_said,
    say,
)
from procedure.quantity.interval import ENDLESS
from procedure.rules.example_kit import whole
from procedure.rules.judging import reader_of, timed
from procedure.vocabulary import vocabulary
from procedure.wording import DEFER, Reader, for_reader, of_system, of_units, said
from procedure.wording.told import told

METRIC, US, IMPERIAL = (of_system(system) for system in ("metric", "us", "imperial"))


def f(text: str | int) -> Fraction:
    return Fraction(text)


# Exact factors: NIST SP 811 (2008), appendix B.8, by way of units.csv; °F = °C x 9/5 + 32.
VALUES: list[tuple[Value, str, str, str]] = [
    (Heat(f(85)), "85 °C", "185 °F", "85 °C"),
    (Heat(f(30), f(85)), "30 to 85 °C", "86 to 185 °F", "30 to 85 °C"),
    (Heat(f(0)), "0 °C", "32 °F", "0 °C"),
    (Heat(f(95), f(100)), "the boil", "the boil", "the boil"),
    (Heat(f(80), f(95)), "a simmer", "a simmer", "a simmer"),
    (Heat(f(95), f(100), worded=False), "95 to 100 °C", "203 to 212 °F", "95 to 100 °C"),
    (Heat(f(25), f(38)), "tepid (25 to 38 °C)", "tepid (77 to 100 °F)", "tepid (25 to 38 °C)"),
    (Rate(f(5)), "5 °C a minute", "9 °F a minute", "5 °C a minute"),
    (Mass(f(100)), "100 g", "3.53 oz", "3.53 oz"),
    (Mass(f(1000)), "1 kg", "2.2 lb", "2.2 lb"),
    (Mass(f(50), f(100)), "50 to 100 g", "1.76 to 3.53 oz", "1.76 to 3.53 oz"),
    (Volume(f(10)), "10 L", "2.64 US gal", "2.2 imp gal"),
    (Volume(f("1/10")), "100 mL", "3.38 US fl oz", "3.52 imp fl oz"),
    # 10 L/kg is 10 x 0.45359237 / 3.785411784 US gal to the pound.
    (Liquor(f(10)), "10 L to a kilogram", "1.2 US gal to a pound", "1 imp gal to a pound"),
    (Strength(f(100)), "100 g in each litre", "13.4 oz in each US gal", "16 oz in each imp gal"),
    (Percent(f(12)), "12 %", "12 %", "12 %"),
    (Percent(f(12), f(20)), "12 to 20 %", "12 to 20 %", "12 to 20 %"),
    (Span(f(2)), "2 min", "2 min", "2 min"),
    (Span(f(60)), "1 h", "1 h", "1 h"),
    (Span(f(90)), "90 min", "90 min", "90 min"),
    (Span(f(150)), "2.5 h", "2.5 h", "2.5 h"),
    (Span(f(4320)), "3 d", "3 d", "3 d"),
    (Span(f(0)), "0 min", "0 min", "0 min"),
    (Span(f(60), ENDLESS), "1 h or more", "1 h or more", "1 h or more"),
    (Heat(f(85), ENDLESS), "85 °C or more", "185 °F or more", "85 °C or more"),
    (Count(f(3)), "3", "3", "3"),
    (InUnit(f("22/10"), None, "lb"), "2.2 lb", "2.2 lb", "2.2 lb"),
    (Named("lot", "yarn"), "yarn", "yarn", "yarn"),
    (Named("material", "whitener", "bleach"), *("whitener (bleach)",) * 3),
    (LineNumber(12), "line 12", "line 12", "line 12"),
    (Way(""), "", "", ""),
    (Way("when it is dull"), *(" (when it is dull)",) * 3),
    (listed(()), "", "", ""),
    (listed(("a",)), "a", "a", "a"),
    (listed(("a", "b")), "a and b", "a and b", "a and b"),
    (listed(("a", "b", "c"), last=" or "), *("a, b or c",) * 3),
    (
        Several((LineNumber(1), LineNumber(2), LineNumber(3)), "; ", "; "),
        *("line 1; line 2; line 3",) * 3,
    ),
]


@pytest.mark.parametrize(("value", "metric", "us", "imperial"), VALUES)
def test_a_value_in_the_units_of_its_reader(
    value: Value, metric: str, us: str, imperial: str
) -> None:
    says = say("{it}", it=value)
    assert (said(says, METRIC), said(says, US), said(says, IMPERIAL)) == (metric, us, imperial)


def test_our_own_words_are_spelt_for_the_reader_and_the_writers_are_not() -> None:
    says = say("The colour of {lot} is {shade}.", lot=Named("lot", "colour card"), shade="grey")
    assert said(says, of_system("us", "us")) == "The color of colour card is grey."


def test_what_is_to_be_written_is_not_respelt() -> None:
    says = say("Colour: write “labelled {lot} grey” in grey.", lot="x")
    assert said(says, of_system("us", "us")) == "Color: write “labelled x grey” in gray."


def test_a_field_with_a_capital_begins_a_sentence() -> None:
    assert said(say("{Care}.", care="ask first")) == "Ask first."


def test_on_paper_a_number_is_never_parted_from_its_unit() -> None:
    says = say("at {heat}", heat=Heat(f(85)))
    assert said(says, METRIC._replace(form="paper")) == "at 85\u00a0°C"


def test_a_line_has_no_line_ends() -> None:
    assert said(say("{x}", x="a\n b"), METRIC._replace(form="line")) == "a b"


def test_braces_in_the_words_of_a_writer_are_no_fields() -> None:
    assert said(plainly_said("a {b} c")) == "a {b} c"
    assert said(say("{x}", x="{y}")) == "{y}"
    found = procedure.read('procedure "a"\nsteps\n  {lot} yarn {x}\n  dye {y} in {z}\n').findings
    assert any("{" in finding.sentence for finding in found)


def units(*names: str) -> Reader:
    return of_units(vocabulary().units[name] for name in names)


def test_whose_units_a_file_has() -> None:
    assert units() == METRIC
    assert units("g", "L", "°C") == METRIC
    assert units("oz", "US gal", "°F") == US
    assert units("oz", "imp gal", "°C") == IMPERIAL
    # For each kind by itself: degrees Fahrenheit beside grams and litres.
    assert units("°F", "°F", "g", "L") == Reader("°F", "metric", "metric")
    # A kind that is not written follows the others.
    assert units("oz", "lb", "US gal").heat == "°F"
    assert units("g", "L").heat == "°C"
    # Of two that are equally often written, the metric one.
    assert units("°C", "°F", "g", "oz", "L", "US gal") == METRIC


FAHRENHEIT = """
fibre
  yarn: wool yarn, 4 oz, scoured
equipment
  kettle: stainless steel pot, 5 US gal, for dyeing only
  tub: plastic tub, 5 US gal, for dyeing only
materials
  onion: onion skins, dried
steps
  wet out yarn in tub with water 1 US gal at 86 °F for 1 h
  gold-bath: prepare in kettle with water 1 US gal, onion 2 oz
  dye yarn in gold-bath from 86 °F to 185 °F over 45 min for 1 h
  rinse yarn in tub with water 1 US gal at 50 °F
  discard gold-bath to "foul drain"
"""


def test_a_file_in_fahrenheit_and_gallons_is_spoken_to_in_them() -> None:
    plan = plan_of(FAHRENHEIT)
    assert reader_of(plan.model) == US
    found = {finding.rule: finding for finding in plan.findings}
    shock = found["heat-shock"]
    assert "from 185 °F into liquor at 50 °F" in shock.sentence
    assert shock.fact is not None
    # The fact itself stays in the base units: 185 °F is 85 °C, 50 °F is 10 °C.
    assert shock.fact.values["heat"] == Heat(f(85), f(85))
    assert "from 85 °C into liquor at 10 °C" in for_reader(shock, METRIC).sentence
    for finding in plan.findings:
        assert not re.search(r"\d (°C|L|mL|g|kg)\b", f"{finding.sentence} {finding.remedy}")


def test_what_is_kept_at_the_boil_is_said_to_be() -> None:
    found = findings(
        """
        wet out yarn in tub with water 5 L for 1 h
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        dye yarn in gold-bath from 30 °C to boil over 1 h for 30 min stirring
        rinse yarn in tub with water 5 L
        discard gold-bath to "foul drain"
        """
    )
    moved = next(finding for finding in found if finding.rule == "stirred-hot")
    assert moved.sentence == "yarn is moved about at the boil, and wool felts."


def test_a_finding_can_still_be_compared_and_kept_in_a_set() -> None:
    found = plan_of(FAHRENHEIT).findings
    assert set(found) == set(plan_of(FAHRENHEIT).findings)


def test_a_template_without_its_value_is_refused() -> None:
    with pytest.raises(KeyError):
        said(Says("It is {heat}."))


def test_a_heat_in_the_words_of_a_data_file_is_said_in_the_readers_scale() -> None:
    says = told("kept at 49 to 60 °C, never above 60 °C")
    assert said(says, METRIC) == "kept at 49 to 60 °C, never above 60 °C"
    # 60 x 9/5 + 32 = 140; 49 x 9/5 + 32 = 120.2
    assert said(says, US) == "kept at 120 to 140 °F, never above 140 °F"


def test_words_stay_as_they_are() -> None:
    assert said(say("{x}", x=Word("  as is "))) == "  as is "


def test_each_rule_can_be_timed() -> None:
    from procedure.rules import RULES

    taken = timed(RULES, plan_of(FAHRENHEIT).study)
    assert set(taken) == {rule.name for rule in RULES}
    assert list(taken.values()) == sorted(taken.values(), reverse=True)


def test_the_units_and_the_times_of_a_check(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    from procedure.command.main import main
    from procedure.rules import RULES

    file = tmp_path / "a.dye"
    file.write_text(whole(FAHRENHEIT), encoding="utf-8")
    main(["check", str(file), "--at-least", "note", "--format", "gnu"])
    assert "185 °F" in capsys.readouterr().out
    main(["check", str(file), "--at-least", "note", "--units", "metric", "--rule-times"])
    printed = capsys.readouterr()
    assert "85 °C" in printed.out and "185 °F" not in printed.out
    assert {line.split()[-1] for line in printed.err.splitlines()} == {r.name for r in RULES}


def test_a_report_defers_once_and_only_where_safety_is_in_it() -> None:
    from procedure.report import gnu, json_report, text

    unsafe = findings(
        """
        gold-bath: prepare in kettle with water 3 L, tansy 100 g
        discard gold-bath to "foul drain"
        """
    )
    sound = [finding for finding in unsafe if finding.family != "safety"]
    assert len(sound) < len(unsafe)
    for report in (gnu.report, text.report, lambda them: json_report.report(them, [])):
        assert " ".join(report(unsafe).split()).count(DEFER) == 1
        assert DEFER not in " ".join(report(sound).split())


ODD_LINES = """\
procedure "Gold"

fibre
  yarn: wool yarn, {weight}, scoured

equipment
  pan: stainless steel pan, {room}

steps
  dye-bath: prepare in pan with water {water}
  heat dye-bath to {heat}
  hold dye-bath at very hot heat
  mix alum into dye-bath
  top up dye-bath using water
"""


@pytest.mark.parametrize(
    ("weight", "room", "water", "heat", "shown"),
    [
        ("100 g", "10 L", "4 L", "80 °C", ["85 °C", "12 g", "4 L"]),
        ("4 oz", "3 US gal", "1 US gal", "180 °F", ["185 °F", "1/2 oz", "1 US gal"]),
        ("4 oz", "3 imp gal", "1 imp gal", "80 °C", ["85 °C", "1/2 oz", "1 imp gal"]),
    ],
)
def test_a_line_that_cannot_be_read_is_told_of_in_the_writers_own_measures(
    weight: str, room: str, water: str, heat: str, shown: list[str]
) -> None:
    text = ODD_LINES.format(weight=weight, room=room, water=water, heat=heat)
    found = [one for one in procedure.read(text, "gold.dye").findings if one.rule == "cannot-read"]
    assert len(found) == 3
    for one, amount in zip(found, shown, strict=True):
        assert amount in one.remedy, one
        assert one.fact is not None and one.fact.values


def test_every_amount_of_an_example_is_one_of_the_language() -> None:
    from procedure.wording.samples import SAMPLES

    units = vocabulary().units
    for name, sample in SAMPLES.items():
        for amount in (sample.metric, sample.us, sample.imperial):
            unit = amount.split(" ", 1)[1] if amount[0].isdigit() else amount
            assert units[unit].kind == sample.kind, (name, amount)
            assert not units[unit].vague, (name, amount)


def test_of_very_many_names_the_first_are_told_and_how_many_more() -> None:
    names = [f"m{at}" for at in range(100)]
    short = said(say("{them}.", them=listed(names)))
    assert short.startswith("m0, m1, ") and short.endswith("m19 and 80 more.")
    assert len(listed(names).values) == 100  # the fact has them all
    assert said(say("{them}.", them=listed(names[:21]))).endswith("m19 and m20.")
    assert said(say("{them}.", them=listed(names, last=" or "))).endswith("m98 or m99.")
