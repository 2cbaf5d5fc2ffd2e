"""Long plans are folded onto sheets of A4 on which every word can be read."""

from __future__ import annotations

import io
import re

import pytest
from drawn import HEAD, bare, dot_of, plan
from pypdf import PdfReader

from procedure import Plan


def forty_steps() -> Plan:
    """Forty steps over four lots, with a vat, two loops and a choice."""
    lots = ("ash", "beech", "cedar", "dogwood")
    every = ", ".join(lots)
    lines = [
        f"wet out {every} in tub with water 15 L at 30 °C for 1 h",
        "alum-bath: prepare in kettle with water 12 L, alum 12 % of ash",
        f"mordant {every} in alum-bath from 40 °C to 85 °C over 45 min for 1 h",
        "cool alum-bath to 30 °C overnight covered",
        *[f'rinse {lot} in tub with water 8 L until "the water runs clear"' for lot in lots],
        'discard alum-bath to "foul drain, never the garden"',
        "clean kettle",
        "weld-bath: prepare in kettle with water 12 L, weld 50 % of ash",
        "heat weld-bath to 80 °C over 1 h",
        "hold weld-bath for 1 h",
        "strain weld-bath",
        "cool weld-bath to 40 °C",
        "dye ash, beech in weld-bath from 40 °C to 80 °C over 1 h for 1 h",
        "cool weld-bath to 35 °C",
        'rinse ash, beech in tub with water 8 L until "the water runs clear"',
        "dye cedar in weld-bath from 35 °C to 80 °C over 45 min for 45 min",
        "cool weld-bath to 35 °C overnight",
        'rinse cedar in tub with water 8 L until "the water runs clear"',
        "repeat 4 times",
        "  dip dogwood, cedar in vat at 50 °C for 10 min",
        "  air dogwood, cedar for 15 min",
        "repeat 2 times",
        "  dip beech in vat at 50 °C for 10 min",
        "  air beech for 15 min",
        'if "the ash is pale"',
        "  steep ash in weld-bath overnight",
        "  rinse ash in tub with water 8 L",
        'rinse beech, cedar, dogwood in tub with water 8 L until "the water runs clear"',
        "keep vat as old-vat",
        'discard weld-bath to "compost"',
        "clean kettle",
        *[f"wash {lot} in tub with water 8 L" for lot in lots[:2]],
        "wash cedar, dogwood in tub with water 8 L",
        f'rinse {every} in tub with water 12 L until "the water runs clear"',
        f"squeeze {every}",
        f"dry {every}",
    ]
    fibre = "".join(f"  {lot}: wool yarn, 100 g, 1 skein, scoured\n" for lot in lots)
    return plan(
        HEAD.format(title="Forty steps over four lots")
        + f"fibre\n{fibre}"
        + "equipment\n  kettle: stainless steel pot, 15 L, lidded, for dyeing only\n"
        + "  tub: plastic tub, 20 L, for dyeing only\n"
        + "materials\n  alum: potassium alum\n  weld: weld, dried\n  vat: bath\n"
        + "steps\n"
        + "".join(f"  {line}\n" for line in lines)
    )


def pages_of(made: Plan, **how: str) -> list[tuple[float, float]]:
    """The sizes of the pages of a PDF, in points."""
    drawn = made.chart(form="pdf", **how)  # type: ignore[arg-type]
    assert isinstance(drawn, bytes)
    pages = PdfReader(io.BytesIO(drawn)).pages
    return [(float(page.mediabox.width), float(page.mediabox.height)) for page in pages]


@pytest.mark.parametrize("lanes", ["lot", "pot", "none"])
def test_forty_steps_on_a4(lanes: str) -> None:
    """A4 is 210 mm by 297 mm (ISO 216), 595.3 by 841.9 points; upright or on its side."""
    made = forty_steps()
    assert sum(node.kind != "end" for node in made.flow.nodes) == 40
    sizes = pages_of(made, lanes=lanes)
    assert 3 <= len(sizes) <= 9
    for size in sizes:
        assert sorted(size) == pytest.approx([595.3, 841.9], abs=1.5)


def test_letter_paper() -> None:
    """8 1/2 in by 11 in, 612 by 792 points."""
    for size in pages_of(plan(), sheet="letter"):
        assert sorted(size) == pytest.approx([612, 792], abs=1.5)


def test_a_roll_is_one_sheet() -> None:
    assert len(pages_of(forty_steps(), sheet="roll")) == 1


@pytest.mark.parametrize("lanes", ["lot", "pot", "none"])
def test_no_letter_is_smaller_than_eight_points(lanes: str) -> None:
    for node in dot_of(forty_steps(), lanes=lanes).nodes:
        if node.says:
            assert float(node.attributes["fontsize"]) >= 8


@pytest.mark.parametrize("lanes", ["lot", "pot", "none"])
def test_each_connector_has_its_other_half(lanes: str) -> None:
    drawn = dot_of(forty_steps(), lanes=lanes)
    halves: dict[str, set[str]] = {}
    for node in drawn.nodes:
        found = re.search(r"connector (\w+) (in|out)$", node.name)
        if found:
            halves.setdefault(found[1], set()).add(found[2])
            assert node.says == found[1]
    assert halves
    assert all(half == {"in", "out"} for half in halves.values())


def test_a_connector_says_where_the_line_goes() -> None:
    drawn = dot_of(forty_steps())
    for node in drawn.nodes:
        sheet = re.match(r"sheet (\d+) connector (\w+) out$", node.name)
        if not sheet:
            continue
        words = drawn.says(f"{bare(node.name)} words")
        said = re.search(r"to (?:step |end of )?([\d.]+|the end), sheet (\d+)$", words)
        assert said, words
        assert drawn.node(f"connector {sheet[2]} in").name.startswith(f"sheet {said[2]} ")


def boxes_of(words: list[tuple[float, float, float, float]]) -> list[tuple[int, int]]:
    """Which pairs of boxes lie on each other by more than the air around their letters."""
    return [
        (i, j)
        for i, (a, b, c, d) in enumerate(words)
        for j, (e, f, g, h) in enumerate(words[:i])
        if min(c, g) - max(a, e) > 3 and min(d, h) - max(b, f) > 3
    ]


@pytest.mark.parametrize("lanes", ["lot", "pot", "none"])
def test_no_words_lie_on_other_words(lanes: str) -> None:
    drawn = dot_of(forty_steps(), lanes=lanes)
    boxes = [node.box for node in drawn.nodes if node.says and node.symbol != "label"]
    assert boxes_of(boxes) == []


@pytest.mark.parametrize("lanes", ["lot", "pot", "none"])
def test_nothing_stands_outside_the_paper(lanes: str) -> None:
    drawn = dot_of(forty_steps(), lanes=lanes)
    for node in drawn.nodes:
        left, bottom, right, top = node.box
        assert min(left, bottom) >= -1, node
        assert right <= drawn.right + 1, node
        assert top <= drawn.top + 1, node


def test_the_sheets_are_numbered() -> None:
    drawn = dot_of(forty_steps())
    said = drawn.labels("note")
    count = len(pages_of(forty_steps()))
    for number in range(1, count + 1):
        assert f"sheet {number} of {count}" in said


def test_the_same_plan_gives_the_same_chart() -> None:
    for form in ("dot", "svg", "png", "pdf"):
        assert forty_steps().chart(form=form) == forty_steps().chart(form=form)
