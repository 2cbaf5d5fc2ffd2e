"""The card: boxes for yarn by mordant, time and after-bath, with readable names."""

from __future__ import annotations

import io
from pathlib import Path

from pypdf import PdfReader

import procedure
from procedure.handout.shade_card import paper
from procedure.paper import in_pdf, in_text
from procedure.paper.blocks import Card, Cards, Paper, Picture, Swatch
from procedure.paper.measures import Voice
from procedure.paper.pieces import plain_text

EXAMPLES = Path(__file__).parents[2] / "examples"
METRIC = Voice("metric")
TWENTY_FOUR = EXAMPLES / "plans" / "shade-card-24.dye"


def samples(made: Paper) -> list[Cards]:
    return [block for block in made.blocks if isinstance(block, Cards) and block.role == "samples"]


def title(card: Card) -> str:
    return plain_text(card.title, METRIC).replace("\u00a0", " ")


def test_three_grounds_two_times_and_four_after_baths_make_the_grid() -> None:
    made = paper(procedure.load(TWENTY_FOUR), METRIC)
    grids = samples(made)
    assert [(grid.across, len(grid.cards)) for grid in grids] == [(4, 8)] * 3
    assert [title(card) for card in grids[1].cards[:4]] == [
        "Onion skins 1 hour",
        "Onion skins 1 hour, then ferrous sulphate 2 %",
        "Onion skins 1 hour, then citric acid",
        "Onion skins 1 hour, then soda ash",
    ]
    said = in_text.printed(made).decode().lower()
    assert "bare.short.plain" not in said and "without a mordant" in said


def test_the_colour_to_expect_is_that_of_the_table() -> None:
    made = paper(procedure.load(EXAMPLES / "shade-card-madder.dye"), METRIC)
    strips = [
        b.hex for card in samples(made)[0].cards for b in card.blocks if isinstance(b, Swatch)
    ]
    # Madder on wool, Mairet 1938: red with alum (ch. VI), brown with iron (ch. VIII).
    assert strips == ["#bc3f4a", "#6f4e37"] * 3


def test_a_code_holds_the_title_and_version_as_text() -> None:
    plan = procedure.load(TWENTY_FOUR)
    made = paper(plan, METRIC, qr=True)
    (code,) = [block for block in made.head if isinstance(block, Picture)]
    assert code.says == "QR code: Shade card: onion skins on three grounds, 2026-09-12"
    assert code.svg.startswith("<?xml") or code.svg.startswith("<svg")
    assert not [block for block in paper(plan, METRIC).head if isinstance(block, Picture)]


def test_a_box_holds_a_knot_of_yarn() -> None:
    # 25 by 40 mm: the narrowest box is a quarter of the page less margins and gaps.
    layout = (Path(in_pdf.__file__).parent / "card.typ").read_text("utf-8")
    assert "height: 27mm" in layout
    assert (210 - 2 * 12 - 3 * 2.5) / 4 - 2 * 2 >= 40
    pages = PdfReader(io.BytesIO(in_pdf.printed(paper(procedure.load(TWENTY_FOUR), METRIC)))).pages
    assert len(pages) <= 4
