"""Weights in ounces and pounds as a scale in a kitchen tells them, and the units of blanks."""

from __future__ import annotations

from fractions import Fraction

import pytest

from procedure.paper import kitchen
from procedure.paper.measures import FINE, Voice
from procedure.wording.reader import of_system

# 1 oz = 28.349523125 g, 1 lb = 16 oz (NIST SP 811, B.8).
OUNCE = Fraction("28.349523125")
US = Voice("us", "us", of_system("us", "us"))
IMPERIAL = Voice("imperial", "british", of_system("imperial"))


def said(ounces: str, fine: bool = False) -> str:
    grams = Fraction(ounces) * OUNCE
    return kitchen.mass(grams, grams, fine).replace("\u00a0", " ")


@pytest.mark.parametrize(
    ("ounces", "shown"),
    [
        ("0.75", "¾ oz"),
        ("2.4", "2.4 oz"),
        ("2.42", "2.4 oz"),
        ("3.527", "3½ oz"),  # the nearest tenth is a half
        ("0.625", "⅝ oz"),  # half of 1¼ oz
        ("0.875", "⅞ oz"),
        ("0.62", "0.6 oz"),
        ("16", "1 lb"),
        ("16.93", "1 lb 0.9 oz"),
        ("40", "2½ lb"),
        # Too small for tenths of an ounce: the grams are said.
        ("0.141", "0.14 oz (4 g)"),
        ("0.125", "⅛ oz (3.5 g)"),
        ("0.375", "⅜ oz (10.6 g)"),
        ("0.29", "0.29 oz (8.2 g)"),
        ("0.08", "0.08 oz (2.3 g)"),
        ("0.056", "0.056 oz (1.6 g)"),
        ("0.03", "0.85 g"),
    ],
)
def test_an_amount_is_one_that_a_scale_can_weigh(ounces: str, shown: str) -> None:
    assert said(ounces) == shown


def test_parts_add_up_to_the_whole_as_it_is_printed() -> None:
    # 480 g of yarn are 16.93 oz, parted into 400 g and 80 g, and the 400 g into five.
    whole, ground, skein = (
        US.amount(FINE, Fraction(grams), Fraction(grams)).replace("\u00a0", " ")
        for grams in (480, 400, 80)
    )
    assert (whole, ground, skein) == ("1 lb 0.9 oz", "14.1 oz", "2.82 oz")
    assert round(16 + 0.9, 1) == round(14.1 + 2.82, 1) and round(5 * 2.82, 1) == 14.1


def test_small_parts_of_a_whole_have_their_grams_too() -> None:
    said = [US.amount(FINE, Fraction(g), Fraction(g)).replace("\u00a0", " ") for g in (10, 12, 20)]
    assert said == ["0.35 oz (10 g)", "0.42 oz (12 g)", "0.71 oz"]


def test_many_pints_are_gallons_and_pints() -> None:
    # 1 imp gal = 8 imp pt = 4.54609 L (NIST SP 811, B.8)
    litres = Fraction("17.5") * Fraction("4.54609") / 8
    assert IMPERIAL.amount("volume", litres, litres).replace("\u00a0", " ") == "2 imp gal 1½ pt"


def test_blanks_and_paper_are_those_of_the_reader() -> None:
    assert (US.mass_unit, US.volume_unit, US.heat_unit) == ("oz", "US qt", "°F")
    assert (IMPERIAL.mass_unit, IMPERIAL.volume_unit) == ("oz", "imp pt")
    assert (US.paper_size, IMPERIAL.paper_size, Voice("metric").paper_size) == (
        "letter",
        "a4",
        "a4",
    )
