"""Numbers, ranges and lists in words, which every sentence and paper is made of."""

from __future__ import annotations

import re
from fractions import Fraction
from pathlib import Path

import pytest

import procedure
from procedure.quantity import number_words as words
from procedure.quantity.interval import ENDLESS

SOURCES = Path(procedure.__file__).parent


@pytest.mark.parametrize(
    ("value", "said"),
    [
        (Fraction(1, 8), "0.125"),
        (Fraction(3, 2), "1.5"),
        (Fraction(100), "100"),
        (Fraction(1205, 10), "120.5"),
    ],
)
def test_decimals_lose_nothing(value: Fraction, said: str) -> None:
    assert words.decimal(value) == said
    assert Fraction(words.decimal(value)) == value


def test_ranges_lists_and_numbers_as_people_say_them() -> None:
    assert words.ranged("2", "4") == "2 to 4" and words.ranged("2", "2") == "2"
    assert words.between(3, 3) == "3" and words.between(3, ENDLESS) == "3 or more"
    assert words.listed([]) == "" and words.listed(["a"]) == "a"
    assert words.listed(["a", "b"]) == "a and b"
    assert words.listed(["a", "b", "c"], "or") == "a, b or c"
    assert words.in_words(12) == "twelve" and words.in_words(13) == "13"
    assert words.in_turn(1) == "first" and words.in_turn(12) == "twelfth"
    assert words.in_turn(0) == "" == words.in_turn(13)
    assert words.mixed(Fraction(7, 2)) == "3½" and words.mixed(Fraction(0)) == "0"
    assert words.plain(Fraction(20_000)) == "20000" and words.plain(Fraction(1, 3)) == "0.333"


def test_small_units_are_gathered_into_large_ones() -> None:
    units = ("lb", "oz")
    assert words.in_two(Fraction(254, 10), 16, units) == "1 lb 9.4 oz"
    assert words.in_two(Fraction(32), 16, units) == "2 lb"
    assert words.in_two(Fraction(0), 16, units) == "0 oz"


def test_no_other_module_makes_lists_or_fractions_by_itself() -> None:
    """“a, b and c” and ½ are written in one place; the reading of ½ is another matter."""
    by_itself = re.compile(r"\[:-1\]\)[^\n]{0,20}(?:and|or) |Fraction\(1, [248]\): \"")
    made = [
        path.relative_to(SOURCES).as_posix()
        for path in SOURCES.rglob("*.py")
        if by_itself.search(path.read_text("utf-8"))
    ]
    assert made == ["quantity/number_words.py"]


def test_a_weight_told_by_that_of_the_fibre() -> None:
    assert words.by_weight("twice of yarn") == "twice the weight of yarn"
    assert words.by_weight("1.5 times of yarn") == "1.5 times the weight of yarn"
    assert words.by_weight("a third of yarn") == "a third the weight of yarn"
    for other in ("12 % of yarn", "50 : 1 of yarn", "20 g", "twice the weight of yarn"):
        assert words.by_weight(other) == other


def test_a_day_in_minutes_and_words_for_turns_are_written_once() -> None:
    again = {
        re.compile(r"\b(?:24 \* 60|60 \* 24|1440|86_?400)\b"): "quantity/day.py",
        # “second” alone is a time as well, and “third” and the like are parts.
        re.compile(r"\bsecond\W+third\W+fourth\b"): "quantity/number_words.py",
    }
    for pattern, place in again.items():
        made = [
            path.relative_to(SOURCES).as_posix()
            for path in SOURCES.rglob("*.py")
            if pattern.search(path.read_text("utf-8"))
        ]
        assert made == [place]
