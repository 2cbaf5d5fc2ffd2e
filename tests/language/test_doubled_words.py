"""A word written twice is one finding at its place, and the line is read as if it were once."""

from __future__ import annotations

from pathlib import Path

import pytest

from procedure.pipeline import read

TEXT = Path("examples/first-onion-skins.dye").read_text("utf-8")
CASES = (
    ("wet out yarn in", "wet out yarn in in", "in"),
    ("wet out yarn in", "wet out the the yarn in", "the"),
    ("wet out yarn", "wet out wet out yarn", "wet out"),
    ("wet out yarn", "wet out yarn yarn", "yarn"),
    (" with water", " with with water", "with"),
    (" L ", " L L ", "L"),
    ("°C", "°C °C", "°C"),
)


@pytest.mark.parametrize(("was", "now", "word"), CASES)
def test_a_doubled_word_is_told_of_and_read_once(was: str, now: str, word: str) -> None:
    at = TEXT.index("wet out yarn")
    once = read(TEXT)
    twice = read(TEXT[:at] + TEXT[at:].replace(was, now, 1))
    before = {(one.rule, one.sentence) for one in once.findings}
    new = [one for one in twice.findings if (one.rule, one.sentence) not in before]
    assert [(one.rule, one.sentence) for one in new] == [
        ("cannot-read", f"“{word}” is written twice.")
    ]
    assert len(twice.trace.moments) == len(once.trace.moments)
    assert [m.minutes for m in twice.trace.moments] == [m.minutes for m in once.trace.moments]


@pytest.mark.parametrize(
    "line",
    [
        'rinse yarn in tub with water 5 L until "that that drips drips no more"',
        "rinse yarn in tub with water 5 L # in in the end",
        "wet out yarn in tub with water 5 L at 30 °C for 1 h until 1 h",
        "wet out yarn in tub with water 1 1/2 L",
    ],
)
def test_nothing_is_told_where_no_word_is_doubled(line: str) -> None:
    made = read(TEXT.rstrip("\n") + "\n  " + line + "\n")
    assert not [
        one for one in made.findings if "twice" in one.sentence and one.rule != "said-twice"
    ]


def test_a_night_that_is_written_twice_is_one_night() -> None:
    text = TEXT.rstrip("\n") + "\n  rest yarn overnight"
    assert read(text + " overnight").trace.moments[-1].minutes == (
        read(text).trace.moments[-1].minutes
    )
