"""A pattern that was kept finds what the same pattern finds that Python makes anew."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from procedure.quantity import ready_patterns as under_test
from procedure.quantity.ready_patterns import kept, pattern

PATTERNS = (
    (r"\{(\w+)\}", 0),
    (r"(?P<first>a)(?P<second>b)?|[½⅓⅔–—]+", re.VERBOSE),
    (r"^weld\b.*$", re.MULTILINE | re.IGNORECASE),
    (r"(?i:madder)(?<!x)[^\W\d_]{2,}", 0),
)
TEXT = "Weld, weld ab a {gold} ½–⅓\nweld and MADDERroot xmadder"


@pytest.fixture(autouse=True)
def _nothing_at_hand(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    monkeypatch.setattr(under_test, "at_hand", {})
    monkeypatch.setattr(under_test, "made", {})
    pattern.cache_clear()
    yield
    pattern.cache_clear()


@pytest.mark.parametrize(("text", "flags"), PATTERNS)
def test_a_kept_pattern_is_the_same_as_one_made_anew(text: str, flags: int) -> None:
    anew = re.compile(text, flags)
    under_test.at_hand[text, int(flags)] = kept(text, flags)
    taken = pattern(text, flags)
    assert under_test.made == {} and under_test.at_hand[text, int(flags)]
    assert taken == anew and taken.groupindex == anew.groupindex and taken.flags == anew.flags
    spans = [found.span() for found in anew.finditer(TEXT)]
    assert [found.span() for found in taken.finditer(TEXT)] == spans
    named = [found.groupdict() for found in anew.finditer(TEXT)]
    assert [found.groupdict() for found in taken.finditer(TEXT)] == named


def test_one_that_is_not_at_hand_is_made_and_told() -> None:
    assert pattern("weld").search(TEXT) is not None
    assert list(under_test.made) == [("weld", 0)]


def test_one_that_cannot_be_kept_is_made_each_time_and_not_told_again() -> None:
    under_test.at_hand["weld", 0] = b""
    assert pattern("weld") == re.compile("weld")
    assert under_test.made == {}


def test_where_python_makes_its_patterns_otherwise_none_is_kept(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    from re import _compiler  # type: ignore[attr-defined]

    monkeypatch.setattr(_compiler, "_code", lambda *_: None)
    assert kept("weld", 0) == b""
