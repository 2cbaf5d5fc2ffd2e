"""Headings among the steps: told of once, with a comment that says the same; the rest is read."""

from __future__ import annotations

import pytest

from procedure.language import read

START = 'procedure "A"\n\nsteps\n'


def faults(steps: str) -> list[tuple[int, str, str]]:
    from procedure.wording import said

    return [(one.line, said(one.sentence), said(one.remedy)) for one in read(START + steps).faults]


@pytest.mark.parametrize(
    ("steps", "heading"),
    [
        ("  Day 2:\n    strain weld-bath\n    dry yarn\n", "Day 2"),
        ("  day 1\n  strain weld-bath\n  Day 2\n  dry yarn\n", "day 1"),
        (
            "  Part B - dyeing the yarn\n  strain weld-bath\n  dry yarn\n",
            "Part B - dyeing the yarn",
        ),
        ("  Stage two: strain weld-bath\n  dry yarn\n", "Stage two"),
        ("  Mordanting:\n    strain weld-bath\n    dry yarn\n", "Mordanting"),
        ("  Rinsing the yarn:\n  strain weld-bath\n  dry yarn\n", "Rinsing the yarn"),
    ],
)
def test_a_heading_is_told_of_once_and_the_steps_are_read(steps: str, heading: str) -> None:
    ((line, sentence, remedy),) = faults(steps)
    assert (line, sentence) == (4, f"“{heading}” is a heading, and the steps have none.")
    assert f"“# {heading}”" in remedy
    (section,) = [one for one in read(START + steps).sections if one.name == "steps"]
    assert [one.node is not None for one in section.lines] == [True, True]


@pytest.mark.parametrize(
    "steps",
    [
        "  red-bath:\n    prepare in pot with water 4 L\n    at 40 °C\n",
        "  day-two: strain weld-bath\n",
        '  if "pale":\n    dry yarn\n',
        "  repeat 3 times:\n    dry yarn\n    air yarn for 5 min\n",
        "  twice:\n    dry yarn\n    air yarn for 5 min\n",
    ],
)
def test_what_is_no_heading_is_read(steps: str) -> None:
    assert faults(steps) == []


def test_a_number_in_words_before_a_step_is_told_of_once() -> None:
    ((line, _, remedy),) = faults("  Step 1. strain weld-bath\n  Step 2: dry yarn\n")
    assert line == 4
    assert remedy == "Take “Step 1.” away, and so below."
