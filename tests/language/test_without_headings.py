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


# ------------------------------------------------------------ without names either


BARE = """procedure "Bare"
{lines}
wet out yarn in tub with water 5 L for 1 h
"""


@pytest.mark.parametrize(
    "lines",
    [
        "wool yarn 100 g\npot 10 L\nalum\nweld",
        "100 g wool yarn\na stainless steel pot, 10 L\na plastic tub\npotassium alum 12 g",
        "linen cloth, 1 lb\nenamel pan, 2 imp gal\nmadder root, dried",
    ],
)
def test_things_at_the_margin_without_a_name_are_asked_about_once(lines: str) -> None:
    found = read(BARE.format(lines=lines), "bare.dye").findings
    told = [one.sentence for one in found if one.rule == "cannot-read"]
    assert len(told) == 2
    assert "has no heading above it" in told[0] and "a name and a colon" in told[1]


def test_what_stands_beside_its_heading_is_read_and_told_once() -> None:
    text = (
        'procedure "Beside"\n'
        "Fibre: yarn: wool yarn, 100 g, scoured\n"
        "Equipment: tub: plastic tub, 20 L, for dyeing only\n"
        "Steps: rinse yarn in tub with water 5 L\n"
    )
    plan = read(text, "beside.dye")
    told = [one for one in plan.findings if one.rule == "cannot-read"]
    assert [one.line for one in told] == [2]
    assert "comes below it, not on its line" in told[0].sentence
    assert [moment.step.verb.name for moment in plan.trace.moments if moment.step.verb] == ["rinse"]
