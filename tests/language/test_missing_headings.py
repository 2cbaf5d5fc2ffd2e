"""A heading that is missing or of another name: one finding at its place, and an edit of it."""

from __future__ import annotations

from itertools import combinations
from pathlib import Path

import pytest

from procedure.findings import Finding
from procedure.language.words import SECTIONS
from procedure.pipeline import read
from procedure.rework.mend import mend

FIRST = Path("examples/first-onion-skins.dye")
FILES = sorted(Path("examples").glob("*.dye"))
TEXT = FIRST.read_text("utf-8")
TITLE = 'procedure "Golden onion skins"'


def new(text: str, sound: str = TEXT, path: Path = FIRST) -> list[Finding]:
    """What is found in a text and not in the sound one."""
    before = {(one.rule, one.sentence) for one in read(sound, path.name, path).findings}
    found = read(text, path.name, path).findings
    return [one for one in found if (one.rule, one.sentence) not in before]


def unheaded(text: str, *headings: str) -> str:
    return "\n".join(line for line in text.split("\n") if line not in headings)


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_each_missing_heading_is_one_finding_and_the_rest_is_read(path: Path) -> None:
    sound = path.read_text("utf-8")
    for many in (1, 2):
        for headings in combinations([h for h in SECTIONS if f"\n{h}\n" in sound], many):
            found = new(unheaded(sound, *headings), sound, path)
            assert [one.edit and one.edit.text for one in found] == [f"{h}\n" for h in headings]


@pytest.mark.parametrize("heading", SECTIONS)
def test_its_edit_puts_the_heading_back(heading: str) -> None:
    made = mend(read(unheaded(TEXT, heading), FIRST.name, FIRST), FIRST).text
    plain = TEXT.replace("\n\n", "\n")
    assert made.replace("\n\n", "\n") == mend(read(plain, FIRST.name, FIRST), FIRST).text


@pytest.mark.parametrize("heading", SECTIONS[1:])
def test_a_heading_that_is_indented_is_one_finding(heading: str) -> None:
    (told,) = new(TEXT.replace(f"\n{heading}\n", f"\n  {heading}\n"))
    assert told.remedy == "Begin it at the margin."


@pytest.mark.parametrize(
    ("heading", "other"),
    [
        ("materials", "Zutaten"),
        ("materials", "1. Materials"),
        ("materials", "2) The ingredients"),
        ("steps", "4. Steps"),
        ("materials", "what you need"),
        ("equipment", "Pots and pans"),
        ("steps", "What to do"),
        ("steps", "**Steps**"),
        ("steps", "Steps to follow"),
        ("fibre", "The wool"),
    ],
)
def test_a_heading_of_another_name_is_known_by_what_is_below_it(heading: str, other: str) -> None:
    (told,) = new(TEXT.replace(f"\n{heading}\n", f"\n{other}\n"))
    assert told.edit is not None
    assert told.edit.text == heading


@pytest.mark.parametrize(
    ("written", "title"),
    [
        ("My onion dye from last summer", "My onion dye from last summer"),
        ("My onion dye from last summer:", "My onion dye from last summer"),
        ('"Golden onion skins"', "Golden onion skins"),
        ("title: Golden onion skins", "Golden onion skins"),
        ("Recipe: Golden onion skins", "Golden onion skins"),
        ("Grandma's onion dye, 2019", "Grandma's onion dye, 2019"),
        ("=== Onion skins ===", "Onion skins"),
        ('Procedure: "Golden onion skins"', "Golden onion skins"),
        ("procedure Golden onion skins", "Golden onion skins"),
        ("procedure 'Golden onion skins'", "Golden onion skins"),
        ('procedure "Golden" onion skins', "Golden onion skins"),
        ("procedure “Golden onion skins", "Golden onion skins"),
    ],
)
def test_a_title_in_other_words_has_its_edit(written: str, title: str) -> None:
    text = TEXT.replace(TITLE, written)
    (told,) = new(text)
    assert told.edit is not None
    assert told.edit.text == f'procedure "{title}"'
    named = read(text).model.title
    assert named is not None
    assert named.text == title
    assert new(mend(read(text, FIRST.name, FIRST), FIRST).text) == []


def test_a_line_above_the_title_becomes_a_comment() -> None:
    (told,) = new("My onion dye from last summer\n" + TEXT)
    assert told.edit is not None
    assert told.edit.text == "# My onion dye from last summer"


def test_a_first_line_that_is_too_long_for_a_title_is_one_finding() -> None:
    (told,) = new(TEXT.replace(TITLE, "This is how I dye. It works every time, on any wool."))
    assert "title" in told.sentence
    assert told.edit is None


@pytest.mark.parametrize("margin", ["  ", ""])
def test_a_sentence_below_the_title_is_a_note(margin: str) -> None:
    text = TEXT.replace(TITLE, f"{TITLE}\n{margin}This is the dye I made last summer.")
    (told,) = new(text)
    assert told.edit is not None
    assert told.edit.text.lstrip() == 'note "This is the dye I made last summer."'
    assert new(mend(read(text, FIRST.name, FIRST), FIRST).text) == []


@pytest.mark.parametrize(
    "line",
    [
        "  soap: wool wash, 100 mL",
        "  blue: copper sulphate crystals",
        "  tea: used tea bags",
        '  allow never-used because "a list to choose from"',
    ],
)
def test_a_material_that_sounds_of_something_else_stays_one(line: str) -> None:
    text = TEXT.replace("\nmaterials\n", f"\nmaterials\n{line}\n").replace("\nequipment\n", "\n")
    assert [one.edit.text for one in new(text) if one.edit] == ["equipment\n"]
