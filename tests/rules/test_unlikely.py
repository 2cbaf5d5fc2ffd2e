"""Slips of the pen that read well: the other scale, hours for minutes, kilograms for grams."""

from __future__ import annotations

import pytest
from expecting import expect, findings, plan_of, rules_of

MORDANT = """
wet out yarn in tub with water 5 L at 30 °C for 1 h
alum-bath: prepare in kettle with water 3 L, alum 12 g at 40 °C
mordant yarn in alum-bath {how}
cool alum-bath to 30 °C overnight covered
rinse yarn in tub with water 5 L at 30 °C
discard alum-bath to "foul drain"
"""


@pytest.mark.parametrize(
    ("how", "rules"),
    [
        ("from 40 °C to 85 °C over 45 min for 1 h", ()),
        ("from 40 °C to 180 °F over 45 min for 1 h", ("heat-in-other-scale",)),
        ("from 40 °C to 185 °F (85 °C) over 45 min for 1 h", ()),
        # Mairet 1916, ch. II: half an hour at the boil, or an hour; nobody takes a minute.
        ("from 40 °C to 85 °C over 45 min for 30 min", ()),
        ("from 40 °C to 85 °C over 45 min for 1 min", ("unlikely-time",)),
        ("from 40 °C to 85 °C over 45 h for 1 h", ("unlikely-time", "heated-unattended")),
    ],
)
def test_a_slip_in_a_heat_or_a_time(how: str, rules: tuple[str, ...]) -> None:
    expect(MORDANT.format(how=how), *rules)


def test_a_procedure_all_in_fahrenheit_is_sound() -> None:
    text = MORDANT.format(how="from 105 °F to 185 °F over 45 min for 1 h")
    text = text.replace("40 °C", "105 °F").replace("30 °C", "85 °F")
    assert "heat-in-other-scale" not in rules_of(text)


@pytest.mark.parametrize(
    ("soap", "rules"),
    # Mairet 1916, ch. XI: up to 8 oz of soap to the pound of silk, which is 50 %.
    [("5 g", ()), ("50 g", ()), ("5 kg", ("too-much-of-it",))],
)
def test_soap_is_weighed_in_grams(soap: str, rules: tuple[str, ...]) -> None:
    expect(
        f"""
        wet out silk in tub with water 5 L at 30 °C for 1 h
        wash silk in tub with water 5 L, soap {soap} at 30 °C
        rinse silk in tub with water 5 L at 30 °C
        """,
        *rules,
    )


def test_from_one_heat_to_another_needs_its_unit_once() -> None:
    text = MORDANT.format(how="from 40 to 85 °C (185 °F) over 45 min for 1 h")
    plan = plan_of(text)
    step = next(m.step for m in plan.trace.moments if m.step.effect == "treat")
    assert step.source is not None and step.source.quantity is not None
    assert step.to is not None and step.to.quantity is not None
    assert step.source.quantity.ends == (40, 40)
    assert step.to.quantity.ends == (85, 85)
    assert "readings-disagree" not in {finding.rule for finding in plan.findings}


def test_cooling_from_one_heat_to_another_is_no_range_backwards() -> None:
    text = MORDANT.format(how="from 40 to 85 °C over 45 min for 1 h")
    text = text.replace("cool alum-bath to 30 °C", "cool alum-bath from 85 to 30 °C")
    expect(text)


@pytest.mark.parametrize(
    ("salt", "harms"),
    [
        ("ferrous sulphate", True),
        ("copper sulphate", True),
        ("stannous chloride", True),
        ("caustic soda", True),
        ("potassium alum", False),
        ("cream of tartar", False),
    ],
)
def test_a_spoon_of_what_harms_is_no_safe_measure(salt: str, harms: bool) -> None:
    # Harmful if swallowed (H302) or worse, by the hazards of the vocabulary's own rows.
    text = (
        f"materials\n  salt-x: {salt}\nsteps\n"
        "  salt-bath: prepare in kettle with water 5 L, salt-x 1 metric teaspoon\n"
    )
    (told,) = [one for one in findings(text) if one.rule == "loose-measure"]
    assert ("no safe one" in told.sentence) == ("scale" in told.remedy) == harms
