"""Amounts, heats and times: units against NIST SP 811, rounding and words."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from procedure.paper.measures import Voice, in_system, minutes, scale_of
from procedure.paper.pieces import article, clean, is_plural, joined, sentence


def plain(text: str) -> str:
    return text.replace("\u00a0", " ")


@pytest.mark.parametrize(
    ("system", "kind", "amount", "said"),
    [
        # 1 lb = 453.59237 g, 1 oz = 28.349523125 g exactly (NIST SP 811, B.8).
        ("imperial", "mass", "453.59237", "1 lb"),
        ("us", "mass", "28.349523125", "1 oz"),
        ("us", "mass", "113.3980925", "4 oz"),
        ("us", "mass", "720", "1 lb 9.4 oz"),
        # 1 US gal = 3.785411784 L, 1 imp gal = 4.54609 L (NIST SP 811, B.8).
        ("us", "volume", "3.785411784", "1 US gal"),
        ("imperial", "volume", "22.73045", "5 imp gal"),
        ("us", "volume", "0.0295735295625", "1 US fl oz"),
        ("metric", "mass", "4.8", "4.8 g"),
        ("metric", "mass", "1000", "1 kg"),
        ("metric", "mass", "999.6", "1 kg"),
        ("metric", "volume", "0.05", "50 mL"),
        ("metric", "volume", "7.2", "7.2 L"),
    ],
)
def test_amounts_in_each_system(system: str, kind: str, amount: str, said: str) -> None:
    value = Fraction(amount)
    assert plain(in_system(system, kind, value, value)) == said


def test_a_range_keeps_both_its_ends() -> None:
    assert plain(in_system("metric", "mass", Fraction(800), Fraction(1200))) == "0.8 to 1.2 kg"
    assert plain(in_system("metric", "mass", Fraction(50), Fraction(100))) == "50 to 100 g"


def test_both_systems_go_with_the_country_of_the_spelling() -> None:
    litres = Fraction(10)
    assert plain(Voice("both").amount("volume", litres, litres)) == "10 L (2.2 imp gal)"
    assert plain(Voice("both", "us").amount("volume", litres, litres)) == "10 L (2.64 US gal)"


@given(
    st.sampled_from(["metric", "us", "imperial"]),
    st.sampled_from(["mass", "volume"]),
    st.fractions(min_value=1, max_value=5000, max_denominator=1000),
)
def test_a_printed_amount_is_near_the_true_one(system: str, kind: str, value: Fraction) -> None:
    """Within one part in twenty (a tenth of a gram in two), whatever the unit."""
    said = plain(in_system(system, kind, value, value))
    holds: dict[str, Fraction | int] = {
        "g": 1, "kg": 1000, "oz": Fraction("28.349523125"), "lb": Fraction("453.59237"),
        "L": 1, "mL": Fraction(1, 1000), "US gal": Fraction("3.785411784"),
        "imp gal": Fraction("4.54609"), "US fl oz": Fraction("0.0295735295625"),
        "imp fl oz": Fraction("0.0284130625"),
    }  # fmt: skip
    words = said.split(" ")
    if "lb" in words and "oz" in words:
        read = Fraction(words[0]) * holds["lb"] + Fraction(words[2]) * holds["oz"]
    else:
        read = Fraction(words[0]) * holds[" ".join(words[1:])]
    assert abs(read - value) <= value / 20


def test_scales_are_rounded_as_the_weigh_sheet_rounds() -> None:
    from procedure.quantity import rounding

    assert scale_of("metric", "mass").steps == rounding.MASS_STEPS
    assert scale_of("us", "mass").steps == rounding.OUNCE_STEPS


@pytest.mark.parametrize(
    ("low", "high", "said"),
    [
        # °F = 1.8 °C + 32 (NIST SP 811).
        (85, 85, "85 °C (185 °F)"),
        (95, 100, "95 to 100 °C (203 to 212 °F)"),
        (-5, -5, "−5 °C (23 °F)"),
        (Fraction(340, 9), Fraction(340, 9), "38 °C (100 °F)"),
    ],
)
def test_heats_in_both_scales(low: Fraction, high: Fraction, said: str) -> None:
    assert plain(Voice().heat(Fraction(low), Fraction(high))) == said


@pytest.mark.parametrize(
    ("low", "high", "said"),
    [
        ("1/3", "1/3", "20 seconds"),
        ("1", "1", "1 minute"),
        ("45", "45", "45 minutes"),
        ("60", "60", "1 hour"),
        ("90", "90", "1½ hours"),
        ("70", "70", "1 hour 10 minutes"),
        ("60", "90", "1 to 1½ hours"),
        ("30", "60", "30 to 60 minutes"),
        ("480", "960", "8 to 16 hours"),
        ("1440", "2880", "1 to 2 days"),
        ("4320", "4320", "3 days"),
        ("1440", "1440", "24 hours"),
    ],
)
def test_times_in_words(low: str, high: str, said: str) -> None:
    assert plain(minutes(Fraction(low), Fraction(high))) == said


def test_lists_articles_and_plurals() -> None:
    assert joined([("a",), ("b",), ("c",)]) == ("a, b and c",)
    assert (article("apron"), article("mask"), article("8"), article("11")) == (
        "an", "a", "an", "an",
    )  # fmt: skip
    assert is_plural("scarves") and is_plural("onion-skins")
    assert not is_plural("moss") and not is_plural("canvas")


def test_a_sentence_has_one_stop() -> None:
    assert sentence("stop.") == ("Stop.",)
    assert sentence("really?") == ("Really?",)
    assert sentence("so") == ("So.",)


def test_signs_that_hide_or_turn_text_round_are_not_passed_on() -> None:
    assert clean("a\u202eb\x07c\nd") == "a\ufffdb\ufffdc d"
