"""Drawings as they are reviewed: the SVG of a few examples, without what a machine adds.

Graphviz puts letters a little higher or lower by the fonts that it finds, so the level of
words is rounded; that of lines and symbols is kept as it is.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from procedure import load

EXAMPLES = Path(__file__).parents[2] / "examples"
WHOLE = (
    "first-onion-skins",
    "tansy-gold-and-moss",
    "three-lots-one-bath",
    "plans/greens-and-teals",
)


def settled(svg: str) -> str:
    """An SVG with the levels of its words in whole points."""

    def rounded(found: re.Match[str]) -> str:
        return f'{found[1]}y="{float(found[2]):.0f}"'

    return re.sub(r'(<text [^>]*?)y="([-\d.]+)"', rounded, svg)


@pytest.mark.parametrize("name", WHOLE)
def test_the_drawing_of_an_example(name: str, snapshot) -> None:  # type: ignore[no-untyped-def]
    svg = load(EXAMPLES / f"{name}.dye").chart()
    assert isinstance(svg, str)
    snapshot(f"chart-{name.rsplit('/', 1)[-1]}.svg", settled(svg))


def test_the_overview_of_a_workshop_day(snapshot) -> None:  # type: ignore[no-untyped-def]
    svg = load(EXAMPLES / "plans" / "workshop-day.dye").chart(overview=True)
    assert isinstance(svg, str)
    snapshot("chart-overview-workshop-day.svg", settled(svg))


def test_ids_are_names_and_none_is_used_twice() -> None:
    svg = load(EXAMPLES / "plans" / "six-lots-three-baths.dye").chart()
    assert isinstance(svg, str)
    ids = re.findall(r' id="([^"]+)"', svg)
    assert len(ids) == len(set(ids))
    assert "sheet-1-step-9-words" in ids
    assert not [each for each in ids if re.fullmatch(r"(node|edge)\d+", each)]


def test_the_face_is_one_that_every_machine_has_or_replaces() -> None:
    svg = load(EXAMPLES / "first-onion-skins.dye").chart()
    assert isinstance(svg, str)
    faces = set(re.findall(r'font-family="([^"]+)"', svg))
    assert faces == {"Helvetica,sans-Serif"}
