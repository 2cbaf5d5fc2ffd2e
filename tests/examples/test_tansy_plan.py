"""The tansy plan with one thing wrong in it: the finding is there, and nothing else is said."""

from __future__ import annotations

from pathlib import Path

import pytest

import procedure

PLAN = Path(__file__).parents[2] / "examples" / "tansy-gold-and-moss.dye"
LINES = PLAN.read_text("utf-8").split("\n")


def at(start: str, nth: int = 1) -> int:
    """The number of the nth line that starts so."""
    found = [n for n, line in enumerate(LINES, 1) if line.strip().startswith(start)]
    return found[nth - 1]


def without(number: int) -> list[str]:
    """The plan without a line; an empty line keeps the numbers of the others."""
    return [*LINES[: number - 1], "", *LINES[number:]]


def swapped(one: int, two: int) -> list[str]:
    lines = list(LINES)
    lines[one - 1], lines[two - 1] = lines[two - 1], lines[one - 1]
    return lines


def found(lines: list[str]) -> set[tuple[int, str]]:
    """Errors and warnings, as line and rule."""
    findings = procedure.read("\n".join(lines), "tansy", PLAN).findings
    return {(one.line, one.rule) for one in findings if one.level != "note"}


MORDANT = at("mordant yarn")
DIP = at("dip moss")
DRY = at("dry gold")


def test_the_plan_itself_is_sound() -> None:
    assert found(LINES) == set()


def test_without_the_wetting_out_the_yarn_meets_the_mordant_dry() -> None:
    assert found(without(at("soak:"))) == {(MORDANT, "entered-dry")}


def test_without_the_rinse_after_the_mordant_it_goes_on_into_the_tansy() -> None:
    assert found(without(at("rinse yarn"))) == {
        (at("discard alum-bath"), "fibre-still-in-it"),
        (at("dye yarn"), "mordant-not-rinsed"),
    }


def test_without_the_rinse_after_the_tansy_it_goes_on_into_the_vat() -> None:
    assert found(without(at("rinse yarn", 2))) == {
        (at("discard tansy-bath"), "fibre-still-in-it"),
        (DIP, "dye-carried-over"),
    }


def test_without_the_rinse_after_the_vat_the_blue_comes_off_on_the_gold() -> None:
    assert found(without(at("rinse moss"))) == {(at("wash gold"), "rinsed-together")}


def test_without_the_last_rinse_the_soap_stays_in() -> None:
    assert found(without(at("rinse gold"))) == {(DRY, "ends-unrinsed")}


def test_without_the_wash_the_poison_stays_in() -> None:
    soap = at("soap:")
    assert found(without(at("wash gold"))) == {
        (DRY, "poison-not-washed-out"),
        (soap, "never-used"),
    }


@pytest.mark.parametrize("pot", ["kettle:", "vat-pot:", "tub:"])
def test_a_pot_for_cooking_is_named(pot: str) -> None:
    line = at(pot)
    lines = list(LINES)
    lines[line - 1] = lines[line - 1].replace("for dyeing only", "for cooking")
    # The kettle also holds a plant that poisons, whose tools are kept for dyeing.
    poison = {(at("tansy-bath: prepare"), "tool-not-kept-apart")} if pot == "kettle:" else set()
    assert found(lines) == {(line, "used-for-cooking"), *poison}


@pytest.mark.parametrize(
    ("first", "second", "where", "rule"),
    [
        ("tansy-bath: prepare", "heat tansy-bath", "tansy-bath: prepare", "used-before-made"),
        ("vat: prepare", "stand vat", "vat: prepare", "used-before-made"),
        ("rinse yarn", "discard alum-bath", "rinse yarn", "fibre-still-in-it"),
        ("discard alum-bath", "clean kettle", "discard alum-bath", "pot-not-free"),
        ("discard tansy-bath", "clean kettle, net", "discard tansy-bath", "pot-not-free"),
        ("discard vat", "clean vat-pot", "discard vat", "pot-not-free"),
        ("wash gold", "rinse gold", "dry gold", "ends-unrinsed"),
    ],
)
def test_two_steps_out_of_order_are_found(first: str, second: str, where: str, rule: str) -> None:
    # A vat that does not stand after it is made has no time before its first dip.
    hasty = {(at("dip"), "vat-time-unstated")} if second == "stand vat" else set()
    assert found(swapped(at(first), at(second))) == {(at(where), rule), *hasty}
