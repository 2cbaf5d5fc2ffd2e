"""A function that remembers its answers gives the same ones, and keeps only so much."""

from __future__ import annotations

import pytest

from procedure.quantity.kept_answers import LONGEST, Remembered, remembered


def shouting() -> tuple[list[str], Remembered[str]]:
    """A function that notes what it was asked, and its memory of three answers."""
    asked: list[str] = []

    @remembered(3)
    def upper(text: str) -> str:
        asked.append(text)
        return text.upper()

    return asked, upper


def test_an_answer_is_worked_out_once() -> None:
    asked, upper = shouting()
    assert [upper("weld"), upper("weld"), upper("woad")] == ["WELD", "WELD", "WOAD"]
    assert asked == ["weld", "woad"]


def test_so_many_answers_are_kept() -> None:
    asked, upper = shouting()
    for at in range(100):
        assert upper(f"{at}a") == f"{at}A"
        assert len(upper) <= 3
    assert len(asked) == 100


def test_a_long_text_is_answered_and_not_kept() -> None:
    asked, upper = shouting()
    long = "a" * (LONGEST + 1)
    assert upper(long) == upper(long) == long.upper()
    assert asked == [long, long]
    assert not upper


def test_it_can_be_told_to_forget() -> None:
    asked, upper = shouting()
    upper("weld")
    upper.cache_clear()
    upper("weld")
    assert asked == ["weld", "weld"]


def test_what_cannot_be_worked_out_is_not_kept() -> None:
    @remembered(3)
    def number(text: str) -> int:
        return int(text)

    for _ in range(2):
        with pytest.raises(ValueError, match="dozen"):
            number("dozen")
    assert not number
