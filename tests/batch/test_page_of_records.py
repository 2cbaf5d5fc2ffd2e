"""The page of the language of records, grammar/batch.md: every example is read."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from procedure.batch import read, write
from procedure.batch.line_values import FORMS
from procedure.batch.record_lines import SECTIONS
from procedure.batch.results import _LIGHT, _WASH
from procedure.batch.results import _LINES as RESULTS
from procedure.batch.step_answers import _LINES as STEPS
from procedure.batch.step_answers import CLAUSES
from procedure.colour.space import white_points

ROOT = Path(__file__).parents[2]
PAGE = (ROOT / "grammar" / "batch.md").read_text("utf-8")
SNIPPETS = [
    (PAGE.count("\n", 0, found.start()) + 1, found.group(1))
    for found in re.finditer(r"^```batch\n(.*?)^```$", PAGE, re.MULTILINE | re.DOTALL)
]


@pytest.mark.parametrize(("line", "snippet"), SNIPPETS, ids=[f"line {n}" for n, _ in SNIPPETS])
def test_an_example_of_the_page_is_read_without_a_finding(line: int, snippet: str) -> None:
    record, findings = read(snippet)
    assert findings == (), f"the example at line {line} of grammar/batch.md"
    assert write(read(write(record))[0]) == write(record)


def test_the_page_shows_every_line_of_the_language() -> None:
    shown = "\n".join(snippet for _, snippet in SNIPPETS)
    words = {*SECTIONS, *CLAUSES, *STEPS, *RESULTS, *_LIGHT, *_WASH, "step", "added"}
    missing = [
        word for word in sorted(words) if not re.search(rf"^\s*{word}\b", shown, re.MULTILINE)
    ]
    assert missing == []
    assert [form for form in FORMS if f"colour {form} " not in shown] == []


def test_the_page_names_every_light() -> None:
    sentence = next(line for line in PAGE.split("\n") if "illuminants are" in line)
    assert [
        one for one in {light.illuminant for light in white_points()} if one not in sentence
    ] == []


RECORDS = sorted((ROOT / "examples" / "records").glob("*.batch"))


@pytest.mark.parametrize("path", RECORDS, ids=lambda path: path.stem)
def test_an_example_record_is_read_without_a_finding_and_says_that_it_is_invented(
    path: Path,
) -> None:
    text = path.read_text("utf-8")
    record, findings = read(text, path.name)
    assert findings == ()
    assert "invented" in text.split("\n")[0]
    assert (path.parent / record.of).resolve().is_file()


def test_there_are_eight_batches_by_four_people() -> None:
    people = {read(path.read_text("utf-8"))[0].by for path in RECORDS}
    assert (len(RECORDS), len(people)) == (8, 4)
