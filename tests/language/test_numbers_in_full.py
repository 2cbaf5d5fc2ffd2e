"""Numbers written as words come to what they say, in every form that English has."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

import pytest

from procedure.language.numbers_in_full import number_said
from procedure.pipeline import read

ONES = " one two three four five six seven eight nine ten eleven twelve thirteen fourteen".split(
    " "
)
ONES += "fifteen sixteen seventeen eighteen nineteen".split()
TENS = "  twenty thirty forty fifty sixty seventy eighty ninety".split(" ")


def spelt(number: int, joined: str = " and ", hyphen: str = "-") -> str:
    """A number below ten thousand in words, by the school's rules for English numerals."""
    if number < 20:
        return ONES[number]
    if number < 100:
        return TENS[number // 10] + (hyphen + ONES[number % 10] if number % 10 else "")
    group, name = (1000, "thousand") if number >= 1000 else (100, "hundred")
    whole, rest = divmod(number, group)
    between = " " if rest >= 100 else joined
    behind = between + spelt(rest, joined, hyphen) if rest else ""
    return f"{spelt(whole)} {name}{behind}"


def numbers() -> Iterator[int]:
    yield from range(1, 1200)
    yield from range(1200, 10_000, 37)


@pytest.mark.parametrize(("joined", "hyphen"), [(" and ", "-"), (" ", " "), (" and ", " ")])
def test_every_number_is_what_it_says(joined: str, hyphen: str) -> None:
    wrong = [n for n in numbers() if number_said(spelt(n, joined, hyphen)) != n]
    assert wrong == []


def test_a_part_is_added_to_what_is_whole() -> None:
    assert number_said("one and a quarter") == Fraction(5, 4)
    assert number_said("a hundred and twenty and a half") == Fraction(241, 2)
    assert number_said("two and three quarters") == Fraction(11, 4)


@pytest.mark.parametrize(
    "text", ["hundred", "and", "five and", "a and b", "12", "tub", "and a half"]
)
def test_what_is_no_number_in_words_is_none(text: str) -> None:
    assert number_said(text) is None


def amounts(line: str) -> list[tuple[object, object]]:
    """The amounts of a step: in grams, millilitres, minutes and degrees Celsius."""
    text = (
        'procedure "Numbers"\nfibre\n  yarn: wool yarn, 100 g, scoured\nequipment\n'
        "  pot: stainless steel pot, 12 L, lidded, for dyeing only\nmaterials\n"
        f"  skins: onion skins, dried\nsteps\n  dye-bath: prepare in pot with {line}\n"
    )
    judged = read(text)
    assert [one.sentence for one in judged.findings if one.rule == "cannot-read"] == []
    written = [one.quantity for one in judged.model.written]
    here = sorted((one.place, one.low, one.high) for one in written)
    return [(low, high) for place, low, high in here if place.line == text.count("\n")]


@pytest.mark.parametrize(
    ("said", "low", "high"),
    [
        ("skins one hundred and twenty g", 120, 120),
        ("a hundred and fifty grams of skins", 150, 150),
        ("skins two or three hundred grams", 200, 300),
        ("2 or 3 hundred grams skins", 200, 300),
        ("skins one-hundred grams", 100, 100),
        ("skins 2 hundred g", 200, 200),
        ("skins a hundred to a hundred and fifty g", 100, 150),
        ("skins fifty to two hundred g", 50, 200),
        ("skins 1 kg and 50 g", 1050, 1050),
        ("a kilo and a half of skins", 1500, 1500),
        ("skins two kilos and a half", 2500, 2500),
        ("skins 3 and a half g", Fraction(7, 2), Fraction(7, 2)),
    ],
)
def test_a_weight_is_what_it_says(said: str, low: Fraction, high: Fraction) -> None:
    assert amounts(said) == [(low, high)]


def test_two_amounts_of_two_things_stay_two() -> None:
    assert amounts("water 2 L and 50 g skins") == [(2, 2), (50, 50)]


@pytest.mark.parametrize(
    ("said", "low", "high"),
    [
        ("two hours and a half", 150, 150),
        ("three hours and a quarter", 195, 195),
        ("1 h and 30 min", 90, 90),
        ("1 hour, 30 minutes", 90, 90),
        ("one and a half hours", 90, 90),
        ("one hour to one and a half hours", 60, 90),
    ],
)
def test_a_time_is_what_it_says(said: str, low: int, high: int) -> None:
    assert amounts(f"skins 50 g for {said}") == [(50, 50), (low, high)]
