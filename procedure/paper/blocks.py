"""What a paper is made of: headings, paragraphs, lists, tables, step cards, pictures.

Text is a :data:`~procedure.paper.pieces.Phrase`, so each printer escapes what the writer
wrote, spells our own words and prints amounts by the paper's own voice. A ``role`` names
what a block is for (cautions, steps, ...): styles go by it, printers never need it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Literal

from procedure.paper.measures import Voice
from procedure.paper.pieces import Blank, Phrase

# How a paragraph or a line of text speaks: in the usual way, with weight, or quietly.
Tone = Literal["", "strong", "quiet", "warning"]


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading within a section; the section's own title is its own."""

    text: Phrase


@dataclass(frozen=True, slots=True)
class Para:
    """A paragraph. ``opens`` keeps it on one page with what follows."""

    text: Phrase
    tone: Tone = ""
    opens: bool = False


@dataclass(frozen=True, slots=True)
class Listing:
    """A list, numbered or not."""

    items: tuple[Phrase, ...]
    numbered: bool = False
    role: str = ""


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing as SVG text. ``says`` is what it shows, in words.

    ``size`` is sign (a hazard symbol), or sheet (as large as the page allows).
    """

    svg: str
    says: str
    size: Literal["sign", "sheet"] = "sign"
    caption: Phrase = ()


@dataclass(frozen=True, slots=True)
class Swatch:
    """A field of a colour that is only approximate: ``hex`` like #c8a232, and its name.

    ``after`` is a second colour, on the right half: the same cloth after light or washing.
    """

    hex: str
    name: Phrase
    after: str = ""


@dataclass(frozen=True, slots=True)
class Cell:
    """A cell of a table: lines of text, and signs below them."""

    lines: tuple[Phrase, ...]
    pictures: tuple[Picture, ...] = ()
    swatch: Swatch | None = None


@dataclass(frozen=True, slots=True)
class Table:
    """A table with a caption. The first cell of a row names the row.

    ``widths`` are the shares of the width that its columns have.
    """

    caption: Phrase
    columns: tuple[Phrase, ...]
    rows: tuple[tuple[Cell, ...], ...]
    widths: tuple[float, ...]
    role: str = ""


@dataclass(frozen=True, slots=True)
class StepCard:
    """A step to follow: its number, what is done, blanks to fill in, boxes to tick.

    ``inner`` are the steps of a block.
    """

    number: str
    text: Phrase
    notes: tuple[Phrase, ...] = ()
    blanks: tuple[Blank, ...] = ()
    boxes: int = 0
    inner: tuple[StepCard, ...] = ()
    signs: tuple[Picture, ...] = ()


@dataclass(frozen=True, slots=True)
class StepCards:
    """Step cards, one below the other."""

    cards: tuple[StepCard, ...]


@dataclass(frozen=True, slots=True)
class Card:
    """Something to cut out or fill in: a label, a sample with its box, a tag.

    ``box`` is what an empty field of the card is for; ``foot`` is at its lower edge.
    """

    title: Phrase
    blocks: tuple[Block, ...]
    role: str = ""
    box: Phrase = ()
    foot: tuple[Para, ...] = ()


@dataclass(frozen=True, slots=True)
class Cards:
    """Cards side by side, ``across`` in a row of a printed page."""

    cards: tuple[Card, ...]
    across: int
    role: str = ""


@dataclass(frozen=True, slots=True)
class Frame:
    """Blocks in a frame that nobody overlooks."""

    title: Phrase
    blocks: tuple[Block, ...]
    role: str = ""


@dataclass(frozen=True, slots=True)
class Recalculator:
    """A box that works the paper's amounts out for another weight of fibre.

    Only a printer whose reader has a script can show it; the others pass it by. ``fibre``
    is in grams as a fraction; ``units`` are offered with grams in each; ``sums`` is what
    the script needs besides, ready for JSON.
    """

    fibre: str
    units: tuple[tuple[str, str], ...]
    sums: dict[str, object] = field(hash=False)


Block = (
    Heading | Para | Listing | Picture | Table | StepCards | Cards | Frame | Recalculator | Swatch
)


@dataclass(frozen=True, slots=True)
class PaperSection:
    """A part of a paper under a title. ``role`` names it for links and styles."""

    role: str
    title: Phrase
    blocks: tuple[Block, ...]
    on_new_page: bool = False


@dataclass(frozen=True, slots=True)
class Paper:
    """A whole paper.

    ``look`` names its style: handout, bench, labels or card. ``stamp`` is a word that
    is on every page (a draft says so); ``head`` is what is under the title.
    ``index`` gives a paper on a screen links to its sections.
    """

    title: Phrase
    voice: Voice
    look: str
    head: tuple[Block, ...]
    sections: tuple[PaperSection, ...]
    stamp: str = ""
    index: bool = False
    size: str = ""

    @property
    def blocks(self) -> Iterator[Block]:
        """Every block at the top of the paper, in order."""
        yield from self.head
        for section in self.sections:
            yield from section.blocks


def table(
    caption: Phrase,
    columns: tuple[Phrase, ...],
    rows: list[tuple[Phrase, ...]],
    widths: tuple[float, ...],
    role: str = "",
) -> Table:
    """A table of plain cells."""
    cells = tuple(tuple(Cell((text,) if text else ()) for text in row) for row in rows)
    return Table(caption, columns, cells, widths, role)
