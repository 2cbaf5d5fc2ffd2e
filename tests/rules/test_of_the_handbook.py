"""False alarms that recipes of the handbook brought, each by its class."""

from __future__ import annotations

import pytest
from expecting import findings, rules_of

COTTON = """fibre
  cotton: cotton yarn, 100 g, scoured
materials
  copper: copper sulphate
  soap: neutral soap
  weld: weld tops, dried
steps
  wet out cotton in tub with water 5 L for 1 h
  copper-bath: prepare in kettle with water 4 L, copper 4 g at 40 °C
  modify cotton in copper-bath at 40 °C for 1 h
  lift cotton
"""
SILK = """fibre
  silk: silk yarn, 100 g, scoured
materials
  alum: potassium alum
  weld: weld tops, dried
steps
  wet out silk in tub with water 5 L for 1 h
"""


@pytest.mark.parametrize("soaped", ["boil", "steep", "work"])
def test_a_bath_of_soap_washes(soaped: str) -> None:
    steps = (
        "  soap-bath: prepare in pan with water 4 L, soap 10 g\n"
        f"  {soaped} cotton in soap-bath for 10 min\n  lift cotton\n"
        "  rinse cotton in tub with water 5 L\n  dry cotton\n"
    )
    if soaped == "work":
        steps = steps.replace("  work", "  enter cotton in soap-bath\n  work")
    assert "poison-not-washed-out" not in rules_of(COTTON + steps)
    without = steps.replace("soap 10 g", "weld 10 g")
    assert "poison-not-washed-out" in rules_of(COTTON + without)


def test_soap_beside_a_dyestuff_is_no_wash() -> None:
    steps = (
        "  soap-bath: prepare in pan with water 4 L, soap 10 g, weld 50 g\n"
        "  boil cotton in soap-bath for 10 min\n  lift cotton\n"
        "  rinse cotton in tub with water 5 L\n  dry cotton\n"
    )
    assert "poison-not-washed-out" in rules_of(COTTON + steps)


def test_a_little_more_of_a_mordant_that_fibre_has_is_an_addition() -> None:
    first = (
        "  alum-bath: prepare in kettle with water 4 L, alum 15 g at 30 °C\n"
        "  mordant silk in alum-bath at 30 °C for 12 h\n  rinse silk in tub with water 5 L\n"
    )
    then = (
        "  weld-bath: prepare in pan with water 4 L, weld 50 g, alum 1 g\n"
        "  dye silk in weld-bath at 60 °C for 30 min\n  rinse silk in tub with water 5 L\n"
    )
    assert "too-little-mordant" not in rules_of(SILK + first + then)
    assert "too-little-mordant" in rules_of(SILK + then)


@pytest.mark.parametrize(
    "line",
    [
        "tie weld 1 to 2 lb in bag",
        "tie weld 40 % of silk in bag",
        "wrap weld 100 g loosely in bag",
        'put silk back in bath until "the colour is right"',
    ],
)
def test_what_a_careful_writer_wrote(line: str) -> None:
    text = SILK.replace("steps\n", "equipment\n  bag: net bag, for dyeing only\nsteps\n") + (
        "  bath: prepare in kettle with water 4 L\n  enter silk in bath\n  lift silk\n"
    )
    told = {one.rule for one in findings(f"{text}  {line}\n", "error")}
    assert not told & {"cannot-read", "clause-out-of-place", "not-declared"}
