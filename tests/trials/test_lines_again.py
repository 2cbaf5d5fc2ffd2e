"""Lines as beginners type them: each is read as it means, or asked about once with what is read.

``lines_again.csv`` and ``lines_once_more.csv`` have a line a row, to be put behind the comment
``# part: ...`` of ``first-lines-frame.dye``: what the handout then ``says`` (sentences parted by
`` | ``), or else the
``remedy`` of the one finding as it stands between its quotation marks, and the line as somebody
would ``then`` write it, which holds that remedy and is read. The lines were written before the
reader had seen them, and what each means was worked out by hand.
"""

from __future__ import annotations

import csv

import pytest
from papers import METRIC, in_words
from test_first_lines import about_words, at_its_place, frame
from trial_measures import HERE

import procedure
from procedure.handout.contents import telling_of
from procedure.handout.numbered_steps import tell
from procedure.pipeline import read

TABLES = ("lines_again.csv", "lines_once_more.csv")


def rows(asked: bool) -> list[dict[str, str]]:
    found: list[dict[str, str]] = []
    for table in TABLES:
        with (HERE / table).open(encoding="utf-8", newline="") as lines:
            found += [row for row in csv.DictReader(lines) if bool(row["remedy"]) is asked]
    return found


@pytest.mark.parametrize("row", rows(asked=False), ids=lambda row: row["text"])
def test_a_line_is_read_as_meant(row: dict[str, str]) -> None:
    text = at_its_place(row, row["text"])
    assert [one.sentence for one in about_words(text)] == []
    steps = tell(telling_of(procedure.read(text, "first.dye"), METRIC))
    told = [in_words(one.text) for step in steps for one in step.every()]
    assert row["says"]
    for said in row["says"].split(" | "):
        assert said in told


@pytest.mark.parametrize("row", rows(asked=True), ids=lambda row: row["text"])
def test_a_line_is_asked_about_once_with_what_is_read(row: dict[str, str]) -> None:
    own = {one.sentence for one in read(frame()).findings}
    found = [one for one in read(at_its_place(row, row["text"])).findings if one.level == "error"]
    (told,) = [one for one in found if one.sentence not in own]
    assert f"“{row['remedy']}”" in told.remedy
    assert row["remedy"] in row["then"]
    assert [one.sentence for one in about_words(at_its_place(row, row["then"]))] == []


def test_there_are_lines_of_both_sorts() -> None:
    assert len(rows(asked=False)) > 30
    assert len(rows(asked=True)) > 20
