"""The comments of a draft are for whoever checks it: no paper takes one for a heading."""

from __future__ import annotations

import pytest
from papers import METRIC

import procedure
from procedure.draft import drafted
from procedure.handout import as_paper, bench, short
from procedure.handout.contents import contents
from procedure.language.draft_comments import DRAFTED, is_of_a_draft, not_checked
from procedure.paper import in_text

LETTER = """Dear Jo,
I mordanted 100 g of wool with 12 g of alum in 4 litres of water at 85 C for an hour.
Next morning I chopped 100 g of onion skins, boiled them in 4 litres of water for an hour
and hung the lantern up. Then I dyed the wool in it for 45 minutes and the blorks came to 7 kg.
Love, Meg
"""
UNCHECKED = "This is a draft from prose, and nobody has checked it against the prose yet"


def text_of(draft: str, kind: str) -> str:
    """A paper of a draft as plain text in one line."""
    plan = procedure.read(draft, "letter.dye")
    if kind == "long":
        paper = as_paper.paper(contents(plan, METRIC))
    elif kind == "short":
        paper = short.paper(plan, METRIC)
    else:
        paper = bench.paper(bench.bench(plan, METRIC))
    return " ".join(in_text.page(paper).split())


@pytest.fixture(scope="module")
def letter() -> str:
    return drafted(LETTER).text


def test_every_comment_of_a_draft_is_known_again(letter: str) -> None:
    comments = [line.strip()[1:] for line in letter.split("\n") if line.strip()[:1] == "#"]
    assert len(comments) >= 8
    assert [one for one in comments if not is_of_a_draft(one)] == []
    assert {"not placed", "not read"} <= {one.strip().partition(":")[0] for one in comments}


@pytest.mark.parametrize(
    "comment",
    ["Mordant: it ties the colour", "not read yet by Ann", 'the "gold" lot', "not placed: the lid"],
)
def test_what_a_person_writes_is_a_heading_still(comment: str) -> None:
    assert not is_of_a_draft(comment)


@pytest.mark.parametrize("kind", ["long", "short", "bench"])
def test_no_paper_has_them_and_each_says_that_it_is_not_checked(letter: str, kind: str) -> None:
    said = text_of(letter, kind)
    assert UNCHECKED in said and "DRAFT" in said
    for words in ("not placed:", "not read:", "Sentences understood", "Love", "blorks"):
        assert words not in said


@pytest.mark.parametrize("kind", ["short", "bench"])
def test_whoever_has_checked_it_takes_the_head_away(letter: str, kind: str) -> None:
    checked = "\n".join(line for line in letter.split("\n") if DRAFTED not in line)
    own = checked.replace("steps\n", "steps\n  # The gold half\n", 1)
    said = text_of(own, kind)
    assert UNCHECKED not in said and "not read" not in said
    assert "gold half" in said.lower()


def test_it_is_counted_how_many_places_are_left() -> None:
    head = f"# {DRAFTED} Each comment\n"
    assert not_checked(head) == f"{UNCHECKED}."
    assert not_checked('# not read: "a"\n') == ""
    assert not_checked(f'{head}# not placed: "3 g"\n # not read: "a", "b"\n# not read: "c"\n') == (
        f"{UNCHECKED}. Of the prose, words were not placed in 1 place and not read in 2 places."
    )
