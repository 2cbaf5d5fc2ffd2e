"""Every drawing measured: what stands where, how large, and what lies in the way of what."""

from __future__ import annotations

import io
import re
from pathlib import Path

import measures
import pytest
from drawn import Read, dot_of, example, example_drawn, plan
from pypdf import PdfReader
from test_sheets import forty_steps

from procedure import Plan

EXAMPLES = Path(__file__).parents[2] / "examples"
PLANS = sorted((EXAMPLES / "plans").glob("*.dye"))
SINGLE = sorted(EXAMPLES.glob("*.dye"))
SIX = EXAMPLES / "plans" / "six-lots-three-baths.dye"
CARD = EXAMPLES / "plans" / "shade-card-24.dye"

# ISO 216: 210 by 297 mm; ANSI/ASME Y14.1, size A: 8 1/2 by 11 in. 72 points to the inch.
A4 = (210 / 25.4 * 72, 297 / 25.4 * 72)
LETTER = (8.5 * 72, 11 * 72)


def named(path: Path) -> str:
    return path.stem


def pages(made: Plan, **how: str | bool) -> list[tuple[float, float]]:
    """The widths and heights of the pages of a PDF, in points."""
    drawn = made.chart(form="pdf", **how)  # type: ignore[arg-type]
    assert isinstance(drawn, bytes)
    boxes = [page.mediabox for page in PdfReader(io.BytesIO(drawn)).pages]
    return [(float(box.width), float(box.height)) for box in boxes]


def assert_sound(made: Plan, **how: str | bool) -> None:
    """Nothing outside its box or sheet, nothing on anything else, no letter below 7 points."""
    assert_sound_as_drawn(dot_of(made, **how))


def assert_sound_as_drawn(read: Read) -> None:
    """The same of a drawing that was made before."""
    assert measures.outside(read) == []
    assert measures.too_wide(read) == []
    assert measures.overlaps(read) == []
    assert measures.lines_through(read) == []
    assert measures.crossings(read) == 0
    assert measures.smallest(read) >= 7


@pytest.mark.parametrize("path", [*PLANS, *SINGLE], ids=named)
def test_a_drawing_of_an_example_is_sound(path: Path) -> None:
    assert_sound_as_drawn(example_drawn(path))


@pytest.mark.parametrize("lanes", ["lot", "pot", "none"])
@pytest.mark.parametrize("path", [CARD, SIX], ids=named)
def test_it_is_sound_with_other_lanes(path: Path, lanes: str) -> None:
    assert_sound(example(path), lanes=lanes, sheet="letter")


@pytest.mark.parametrize("path", PLANS, ids=named)
def test_it_is_sound_with_its_procedures_opened_and_its_repeats_folded(path: Path) -> None:
    assert_sound_as_drawn(example_drawn(path, opened=True))
    assert_sound(example(path), folded=True, sheet="roll")


@pytest.mark.parametrize("sheet", ["a4", "letter", "roll"])
def test_one_with_findings_is_sound(sheet: str) -> None:
    assert_sound(forty_steps(), sheet=sheet, at_least="note")
    assert_sound(plan(), sheet=sheet)


def test_the_measures_find_what_is_wrong() -> None:
    """A line through words, words on words and small letters are told of."""
    from drawn import read_dot

    from procedure.chart.dot import dot
    from procedure.chart.sheet import BoxedWords, DrawnLine, Sheet

    sheet = Sheet(300, 100)
    sheet.write(BoxedWords("one", 10, 10, 80, ("several words",), 9, drawn_as="note"))
    sheet.write(BoxedWords("two", 30, 12, 80, ("more of them",), 6, drawn_as="note"))
    sheet.write(BoxedWords("three", 200, 40, 20, ("too wide for this",), 9, drawn_as="note"))
    sheet.write(BoxedWords("four", 280, 80, 60, ("over the edge",), 9, drawn_as="note"))
    sheet.points += [("a", (50, 0)), ("b", (50, 90)), ("c", (0, 70)), ("d", (90, 70))]
    sheet.lines.append(DrawnLine("a", "b", "lot", ((50, 0), (50, 90)), ""))
    sheet.lines.append(DrawnLine("c", "d", "lot", ((0, 70), (90, 70)), ""))
    read = read_dot(dot([sheet], "wrong", 0))
    assert ("one", "two") in measures.overlaps(read)
    assert ("a to b (lot)", "one") in measures.lines_through(read)
    assert measures.smallest(read) == 6
    assert "three: too wide for this" in measures.too_wide(read)
    assert "four" in measures.outside(read)
    assert measures.crossings(read) == 1


# ---------------------------------------------------------------- how many sheets, how large


@pytest.mark.parametrize(("sheet", "size"), [("a4", A4), ("letter", LETTER)])
def test_six_lots_in_three_baths_fit_two_sheets(sheet: str, size: tuple[float, float]) -> None:
    made = example(SIX)
    assert len([lot for lot in made.flow.lots if lot not in ("yarn", "ground")]) == 6
    sizes = pages(made, sheet=sheet)
    assert len(sizes) <= 2
    for page in sizes:
        assert page == pytest.approx(size, abs=0.01)


@pytest.mark.parametrize(("sheet", "size"), [("a4", A4), ("letter", LETTER)])
def test_twenty_four_samples_from_one_bath_fit_one_sheet(
    sheet: str, size: tuple[float, float]
) -> None:
    made = example(CARD)
    parents = {part for origin in made.flow.lots.values() for part in origin.parts}
    assert len([lot for lot in made.flow.lots if lot not in parents]) == 24
    assert pages(made, sheet=sheet) == [pytest.approx(size, abs=0.01)]


def eight_lots() -> Plan:
    """Forty steps, each with words of its own, over eight lots and two pots."""
    text = forty_steps().text
    for old, new in (
        ("ash", "ash, alder"), ("beech", "beech, birch"), ("cedar", "cedar, cherry"),
        ("dogwood", "dogwood, damson"),
    ):  # fmt: skip
        steps = text.index("\nsteps")
        body = re.sub(rf"\b{old}\b(?! is)", new, text[steps:])
        body = body.replace(f"of {new}", f"of {old}")
        first = text[:steps].replace(
            f"  {old}: wool yarn, 100 g, 1 skein, scoured\n",
            "".join(f"  {lot}: wool yarn, 100 g, 1 skein, scoured\n" for lot in new.split(", ")),
        )
        text = first + body
    return plan(text)


def test_eight_lots_and_forty_steps_fit_four_sheets() -> None:
    made = eight_lots()
    assert len(made.flow.lots) == 8
    assert sum(node.kind != "end" for node in made.flow.nodes) == 40
    assert len(pages(made)) <= 4
    assert_sound(made)


def test_an_svg_of_one_sheet_is_exactly_as_large_as_the_paper() -> None:
    for sheet, (wide, tall) in (("a4", A4), ("letter", LETTER)):
        svg = plan().chart(sheet=sheet)
        assert isinstance(svg, str)
        found = re.search(r'width="([\d.]+)pt" height="([\d.]+)pt" viewBox="0 0 ([\d. ]+)"', svg)
        assert found is not None
        assert (float(found[1]), float(found[2])) == pytest.approx((wide, tall), abs=0.01)
        assert tuple(map(float, found[3].split())) == pytest.approx((wide, tall), abs=0.01)


@pytest.mark.parametrize("sheet", ["a4", "letter"])
def test_every_page_is_exactly_as_large_as_the_paper(sheet: str) -> None:
    whole = sorted(A4 if sheet == "a4" else LETTER)
    for made in (forty_steps(), example(SIX)):
        for lanes in ("both", "pot", "none"):
            for page in pages(made, sheet=sheet, lanes=lanes):
                assert sorted(page) == pytest.approx(whole, abs=0.01)


@pytest.mark.parametrize(
    ("name", "most"),
    [
        ("greens-and-teals", 0),
        ("shade-card-24", 4),
        ("workshop-day", 10),
        ("madder-walnut-iron", 2),
    ],
)
def test_few_lines_are_reached_over(name: str, most: int) -> None:
    """As few as were found by looking; a change that makes it more is to be looked at again."""
    read = example_drawn(EXAMPLES / "plans" / f"{name}.dye")
    assert measures.crossed(read) <= most
