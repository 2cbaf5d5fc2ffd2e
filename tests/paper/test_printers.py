"""A paper with every kind of block, in every form: none is lost, and no name gets out."""

from __future__ import annotations

from fractions import Fraction

import pytest

from procedure.handout.lots_paper import paper as lots_paper
from procedure.paper.blocks import (
    Block,
    Card,
    Cards,
    Frame,
    Heading,
    Listing,
    Paper,
    PaperSection,
    Para,
    Picture,
    StepCard,
    StepCards,
    Swatch,
    table,
)
from procedure.paper.measures import Voice
from procedure.paper.pieces import Blank, Figure, Words
from procedure.paper.printers import FORMS, printed
from procedure.plan import read
from procedure.wording.reader import of_system

MARK = "\u202eweld <b>&amp; *tansy*\x1b[2J"  # a name that turns lines round, and is no mark-up
BLOCKS: tuple[Block, ...] = (
    Heading(("a heading",)),
    Para(("a warning",), tone="warning"),
    Listing((("one item",), ("another item",)), numbered=True),
    table(("a caption",), (("first column",), ("second",)), [(("a row",), ("its cell",))], (1, 1)),
    StepCards(
        (
            StepCard(
                "1",
                ("put in ", Figure("mass", Fraction(454), Fraction(454))),
                notes=(("a note",),),
                blanks=(Blank("heat", "°C"),),
                inner=(StepCard("a", ("an inner step",)),),
            ),
        )
    ),
    Cards((Card(("a card",), (Para(("on the card",)),), foot=(Para(("at its foot",)),)),), 2),
    Frame(("a frame",), (Para(("in the frame",)),)),
    Swatch("#c8a232", ("a shade",)),
    Picture('<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"/>', "a picture"),
)
SAID = (
    *("a heading", "a warning", "one item", "another item", "a caption", "first column"),
    *("a row", "its cell", "a note", "an inner step", "a card", "on the card", "at its foot"),
    *("a frame", "in the frame", "a shade"),
)


def made(units: str = "metric") -> Paper:
    voice = Voice(units, reader=of_system(units))
    section = PaperSection("steps", ("a section",), BLOCKS)
    return Paper((Words(MARK),), voice, "handout", (Para(("at the head",)),), (section,))


@pytest.mark.parametrize("form", [form for form in FORMS if form != ".pdf"])
def test_every_block_is_printed(form: str) -> None:
    text = printed(made(), form).decode().replace("\u00a0", " ")
    low = text.lower()  # a section of plain text is told by capitals
    missing = [one for one in (*SAID, "at the head", "a section", "454 g") if one not in low]
    assert not missing
    assert [low.index(one) for one in SAID[:4]] == sorted(low.index(one) for one in SAID[:4])


@pytest.mark.parametrize("form", [form for form in FORMS if form != ".pdf"])
def test_a_name_stays_a_name(form: str) -> None:
    text = printed(made(), form).decode()
    assert "\x1b" not in text and "\u202e" not in text
    assert "weld" in text
    if form == ".html":
        assert "<b>" not in text and "&lt;b&gt;" in text


def test_the_pdf_is_one() -> None:
    assert printed(made(), ".pdf").startswith(b"%PDF-")


def test_the_reader_has_their_own_units() -> None:
    assert "1 lb" in printed(made("us"), ".txt").decode().replace("\u00a0", " ")


def test_lots_are_told_in_the_units_of_the_reader() -> None:
    plan = read("""procedure "x"
fibre
  yarn: wool yarn, 454 g, scoured
equipment
  tub: plastic tub, 20 L, for dyeing only
steps
  wet out yarn in tub with water 10 L at 30 °C for 1 h
  dry yarn
""")
    for system, weight, heat in (("metric", "454 g", "30 °C"), ("us", "1 lb", "86 °F")):
        voice = Voice(system, reader=of_system(system))
        text = printed(lots_paper(plan, voice), ".txt").decode()
        assert f"Went in: yarn {weight}." in text
        assert f"wetted out at {heat} for 60 min" in text
