"""The shade card as it is printed: room for a knot of yarn, names a person reads."""

from __future__ import annotations

import io
from collections.abc import Iterator
from functools import cache

import pytest
from papers import EXAMPLES, loaded
from pypdf import PdfReader
from pypdf.generic import ContentStream

from procedure.command.voice import voice_of
from procedure.handout import shade_card
from procedure.paper import in_html, in_pdf, in_text

MILLIMETRE = 72 / 25.4
# The issue of the papers asks for this much: a knot of yarn.
LEAST = (25, 40)
PLANS = ("shade-card-24", "shade-card-madder", "six-lots-three-baths", "tansy-gold-and-moss")
SEEN = ("shade-card-24", "tansy-gold-and-moss")


@cache
def printed(name: str, size: str = "a4") -> PdfReader:
    plan = loaded(next(path for path in EXAMPLES if path.stem == name))
    return PdfReader(io.BytesIO(in_pdf.printed(shade_card.paper(plan, voice_of(plan, None)), size)))


def dashed(read: PdfReader) -> Iterator[tuple[float, float]]:
    """The shorter and the longer side of every dashed frame, in millimetres."""
    for page in read.pages:
        stream = page.get_contents()
        assert stream is not None
        matrix, kept = (1.0, 1.0), []
        points: list[tuple[float, float]] = []
        dash: list[float] = []
        for operands, operator in ContentStream(stream, read).operations:
            given = [float(one) for one in operands if isinstance(one, (int, float))]
            if operator == b"q":
                kept.append((matrix, dash))
            elif operator == b"Q":
                matrix, dash = kept.pop()
            elif operator == b"cm":
                assert given[1] == given[2] == 0  # nothing is turned
                matrix = (matrix[0] * given[0], matrix[1] * given[3])
            elif operator == b"d":
                dash = [float(one) for one in operands[0]]
            elif operator in (b"m", b"l"):
                points.append((given[0] * matrix[0], given[1] * matrix[1]))
            elif operator == b"re":
                x, y, wide, tall = given
                points += [(x * matrix[0], y * matrix[1])]
                points += [((x + wide) * matrix[0], (y + tall) * matrix[1])]
            elif operator in (b"S", b"s", b"f", b"n", b"B"):
                # Typst draws the dots of a tag's frame with a dash of no length.
                if operator in (b"S", b"s") and dash and dash[0] > 1 and points:
                    across, up = zip(*points, strict=True)
                    sides = (max(across) - min(across), max(up) - min(up))
                    yield min(sides) / MILLIMETRE, max(sides) / MILLIMETRE
                points = []


@pytest.mark.parametrize("size", ["a4", "letter"])
@pytest.mark.parametrize("name", SEEN)
def test_each_sample_has_room_for_a_knot_of_yarn(name: str, size: str) -> None:
    frames = list(dashed(printed(name, size)))
    samples = 24 if name == "shade-card-24" else 2
    assert len(frames) == samples
    assert all(low >= LEAST[0] and high >= LEAST[1] - 0.01 for low, high in frames), frames


@pytest.mark.exhaustive
@pytest.mark.parametrize("name", PLANS)
def test_every_card_has_it(name: str) -> None:
    frames = list(dashed(printed(name)))
    assert frames and all(low >= LEAST[0] and high >= LEAST[1] - 0.01 for low, high in frames)


def test_no_lot_has_the_name_that_the_program_gives_it() -> None:
    plan = loaded(next(path for path in EXAMPLES if path.stem == "shade-card-24"))
    said = in_text.page(shade_card.paper(plan, voice_of(plan, None)))
    dotted = [lot for lot in plan.flow.lots if "." in lot]
    assert len(dotted) >= 24 and not [lot for lot in dotted if lot in said]
    assert "lot: bare short plain" in said


def test_a_card_of_two_samples_is_one_page_with_its_tags() -> None:
    (page,) = printed("tansy-gold-and-moss").pages
    said = page.extract_text()
    assert "fix it here" in said and "Tags to cut out" in said


def test_the_strip_of_colour_is_right_under_the_box_on_a_page_too() -> None:
    plan = loaded(next(path for path in EXAMPLES if path.stem == "shade-card-madder"))
    page = in_html.page(shade_card.paper(plan, voice_of(plan, None)))
    for box in page.split('<div class="box">')[1:]:
        assert box.split("</div>")[1].startswith('<span class="colour"><svg')


def test_tags_that_fit_a_sheet_are_on_one() -> None:
    for name in SEEN:
        with_tags = [one for one in printed(name).pages if "Tags to cut" in one.extract_text()]
        assert len(with_tags) == 1
