"""A text all at the margin, without the headings of its sections: one finding, and it is read."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from procedure.pipeline import read

HEADINGS = ("fibre", "equipment", "materials", "steps")
FILES = [
    path
    for path in sorted(Path("examples").glob("*.dye"))
    # A block without its indentation is another matter.
    if not re.search(r"^  (?:repeat|if|either|for|meanwhile)\b", path.read_text("utf-8"), re.M)
]


def at_the_margin(text: str, leave_out: tuple[str, ...]) -> str:
    """The text without its indentation, those headings, and what goes on from line to line."""
    lines = [line.strip() for line in text.split("\n")]
    return "\n".join("" if line in leave_out else line for line in lines)


def followed(text: str, path: Path) -> list[tuple[str, tuple[str, ...], str, str]]:
    moments = read(text, path.name, path).trace.moments
    return [
        (m.step.verb.name if m.step.verb else "", m.node.lots, m.node.bath, m.node.pot)
        for m in moments
    ]


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_every_step_is_read_and_one_finding_says_what_is_missing(path: Path) -> None:
    text = path.read_text("utf-8")
    bare = at_the_margin(text, HEADINGS)
    assert followed(bare, path) == followed(text, path)
    told = [one for one in read(bare, path.name, path).findings if "no heading" in one.sentence]
    assert len(told) == 1
    assert "“steps” each on a line of its own" in told[0].remedy


def test_only_one_heading_is_missing() -> None:
    path = Path("examples/first-onion-skins.dye")
    text = path.read_text("utf-8")
    bare = at_the_margin(text, ("steps",))
    assert followed(bare, path) == followed(text, path)
    assert any("it belongs to “steps”" in one.sentence for one in read(bare).findings)
