"""First lines of people who had read the page of ten minutes: read as meant, or asked about once.

``first_lines.csv`` has a line a row, to be put behind the comment ``# part: ...`` of
``first-lines-frame.dye``: what the handout then ``says``, or else the ``remedy`` of the one
finding, and the line as somebody would ``then`` write it, which is read.
"""

from __future__ import annotations

import csv
from collections import Counter
from functools import cache

import pytest
from papers import METRIC, in_words
from trial_measures import ABOUT_WORDS, HERE

import procedure
from procedure.findings import Finding
from procedure.handout.contents import telling_of
from procedure.handout.numbered_steps import tell
from procedure.pipeline import read


@cache
def frame() -> str:
    return (HERE / "first-lines-frame.dye").read_text("utf-8")


def rows() -> list[dict[str, str]]:
    with (HERE / "first_lines.csv").open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(lines))


def at_its_place(row: dict[str, str], line: str) -> str:
    mark = f"  # part: {row['part']}\n"
    said = "".join(f"  {one}\n" for one in line.split("\n"))
    return frame().replace(mark, mark + said)


def about_words(text: str) -> list[Finding]:
    """What is found in a text of its words and names, beside what the frame brings."""
    own = Counter(one.sentence for one in read(frame()).findings)
    found = [one for one in read(text).findings if one.rule in ABOUT_WORDS]
    return [one for one in found if not own[one.sentence]]


@pytest.mark.parametrize("row", [row for row in rows() if row["says"]], ids=lambda row: row["text"])
def test_a_line_is_read_as_meant(row: dict[str, str]) -> None:
    text = at_its_place(row, row["text"])
    assert [one.sentence for one in about_words(text)] == []
    steps = tell(telling_of(procedure.read(text, "first.dye"), METRIC))
    assert row["says"] in [in_words(one.text) for step in steps for one in step.every()]


@pytest.mark.parametrize(
    "row", [row for row in rows() if not row["says"]], ids=lambda row: row["text"]
)
def test_a_line_is_asked_about_once(row: dict[str, str]) -> None:
    text = at_its_place(row, row["text"])
    own = {one.sentence for one in read(frame()).findings}
    found = [one for one in read(text).findings if one.level == "error"]
    (told,) = [one for one in found if one.sentence not in own]
    assert row["remedy"] in told.remedy
    if row["then"]:
        assert [one.sentence for one in about_words(at_its_place(row, row["then"]))] == []
