"""A paper as PDF, set by Typst.

Each look has a layout (``handout.typ``, ``bench.typ``, ...). A layout is given the blocks
as data, so whatever a procedure says is text and never becomes markup. The fonts are those
that the typst wheel carries, and the system's for signs that it lacks.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from procedure.paper.blocks import (
    Block,
    Card,
    Cards,
    Cell,
    Frame,
    Heading,
    Listing,
    Paper,
    Para,
    Picture,
    Recalculator,
    StepCard,
    StepCards,
    Swatch,
    Table,
)
from procedure.paper.letters import readable, set_apart, told
from procedure.paper.pieces import Blank, Figure, Phrase, Words, clean, plain_text
from procedure.paper.printers import NotPrinted

HERE = Path(__file__).parent
SIZES = ("a4", "letter")
# Of a last page with no more lines than these nobody is proud (the project's choice).
FEW_LINES = 16
# How much closer a handout may be set: a little, and as close as is still read at a pot.
CLOSER = (1, 2)
Run = dict[str, str]
Data = dict[str, Any]
# A word longer than this may be broken anywhere, so that it does not leave the page.
_LONG_WORD = re.compile(r"\S{30}(?=\S)")
# No number is parted from its unit where a writer's own words have a plain space there.
_UNIT = re.compile(r"(?<=\d) (?=(?:%|°[CF]|[km]?g|m?L|oz|lb|min|h|d)(?![\w/]))")
_STROKE = re.compile(r"(?<=\b(?:mL|oz)|.\bg)/(?=L\b|US|imp)")


def printed(made: Paper, size: str = "a4", first: int = 0) -> bytes:
    """The paper as PDF on a4 or letter. Raises :class:`NotPrinted`.

    ``first`` is the number of its first page within a book; 0 for a paper by itself.
    """
    data = {**_Printer(made).whole(size), "first": first}
    layout = f"{made.look}.typ"
    done = typeset(layout, data)
    if made.look != "handout" or _pages(done) == 1:
        return done
    if not _ends_nearly_empty(done):  # no table of troubles is torn, where no page more is needed
        whole = typeset(layout, {**data, "whole": True})
        return whole if _pages(whole) == _pages(done) else done
    # A last page with a few lines is set closer, where that spares it.
    for tight in CLOSER:
        closer = typeset(layout, {**data, "tight": tight})
        if _pages(closer) < _pages(done):
            return closer
    # Where it does not, all that comes after the steps fills that page, where it has the room.
    parted = typeset(layout, {**data, "parted": True})
    return parted if _pages(parted) == _pages(done) else done


def _pages(done: bytes) -> int:
    from io import BytesIO

    from pypdf import PdfReader

    return len(PdfReader(BytesIO(done)).pages)


def _ends_nearly_empty(done: bytes) -> bool:
    """True where the last page has only a few lines."""
    from io import BytesIO

    from pypdf import PdfReader

    return len(PdfReader(BytesIO(done)).pages[-1].extract_text().splitlines()) <= FEW_LINES


def page_count(made: Paper, size: str = "a4") -> int:
    """How many pages it takes. Raises :class:`NotPrinted`."""
    return _pages(printed(made, size))


def typeset(layout: str, data: Mapping[str, object]) -> bytes:
    """A PDF of a layout file beside this one and its data. Raises :class:`NotPrinted`.

    Words with letters that no font has are in Latin letters, and a line at its head says so.
    """
    try:
        import typst
    except ImportError:
        raise NotPrinted(
            "the PDF was not made: no Typst was found; “pip install typst” brings it."
        ) from None
    try:
        made = typst.compile(
            str(HERE / layout),
            root=str(HERE),
            format="pdf",
            sys_inputs={"data": json.dumps(_with_fonts(data))},
            timestamp=0,
        )
    except RuntimeError as reason:
        raise NotPrinted(f"the PDF was not made: {str(reason).splitlines()[0]}.") from None
    assert isinstance(made, bytes)
    return made


def _with_fonts(data: Mapping[str, object]) -> Mapping[str, object]:
    """The data of a layout with nothing in it that would be set as a box."""
    said, written = readable(json.dumps(data, ensure_ascii=False))
    if not written:
        return data
    made: Data = json.loads(said)
    note = {"kind": "para", "runs": [text(told(written, on_paper=True))], "tone": "quiet"}
    made["head"] = [*made.get("head", ()), {**note, "opens": False}]
    return made


def text(said: str) -> Run:
    """A piece of text as data for a layout; no unit is parted from its number or its stroke."""
    whole = _UNIT.sub("\u00a0", _STROKE.sub("/\u2060", clean(said)))
    broken = _LONG_WORD.sub(lambda found: found.group() + "\u200b", whole)
    return {"text": set_apart(broken)}


class _Printer:
    """Turns blocks into data for a layout."""

    def __init__(self, made: Paper) -> None:
        self.made = made
        self.voice = made.voice

    def whole(self, size: str) -> Data:
        made = self.made
        return {
            "paper": "us-letter" if size == "letter" else "a4",
            "region": "US" if self.voice.spelling == "us" else "GB",
            "stamp": made.stamp,
            "size": made.size,
            "name": text(plain_text(made.title, self.voice))["text"],
            "title": self.runs(made.title),
            "head": self.blocks(made.head),
            "sections": [
                {
                    "role": section.role,
                    "title": self.runs(section.title),
                    "blocks": self.blocks(section.blocks),
                    "turn": section.on_new_page,
                }
                for section in made.sections
            ],
        }

    def runs(self, said: Phrase) -> list[Run]:
        """A phrase as pieces of text and blanks to write in."""
        made: list[Run] = []
        for piece in said:
            if isinstance(piece, Blank):
                if made and made[-1].get("text", "").endswith(" "):
                    # A blank stays with the word that says what it is for.
                    made[-1] = {"text": f"{made[-1]['text'][:-1]}\u00a0"}
                made.append({"blank": piece.unit, "wide": "yes" if piece.wide else ""})
            elif isinstance(piece, Figure):
                amount = self.voice.amount(piece.kind, piece.low, piece.high, piece.about)
                made.append(text(amount))
            elif isinstance(piece, Words):
                made.append(text(piece.text))
            else:
                made.append(text(self.voice.spelt(piece)))
        return made

    def blocks(self, blocks: Iterable[Block]) -> list[Data]:
        return [data for block in blocks if (data := self.block(block))]

    def block(self, block: Block) -> Data:
        match block:
            case Heading():
                return {"kind": "heading", "runs": self.runs(block.text)}
            case Para():
                runs = self.runs(block.text)
                return {"kind": "para", "runs": runs, "tone": block.tone, "opens": block.opens}
            case Listing():
                items = [self.runs(item) for item in block.items]
                return {"kind": "list", "items": items, "numbered": block.numbered}
            case Table():
                return self.table(block)
            case StepCards():
                return {"kind": "steps", "steps": self.steps(block.cards, 0)}
            case Picture():
                return {**self.picture(block), "kind": block.size}
            case Swatch():
                return {"kind": "swatch", **self.swatch(block)}
            case Cards():
                cards = [self.card(card) for card in block.cards]
                return {"kind": "cards", "across": block.across, "role": block.role, "cards": cards}
            case Frame():
                title = self.runs(block.title)
                return {"kind": "frame", "title": title, "blocks": self.blocks(block.blocks)}
            case Recalculator():
                return {}  # needs a script

    def picture(self, picture: Picture) -> Data:
        says = text(picture.says)["text"]
        return {"svg": picture.svg, "alt": says, "caption": self.runs(picture.caption)}

    def swatch(self, swatch: Swatch) -> Data:
        after = swatch.after or swatch.hex
        return {"hex": swatch.hex, "after": after, "name": self.runs(swatch.name)}

    def table(self, table: Table) -> Data:
        return {
            "kind": "table",
            "role": table.role,
            "caption": self.runs(table.caption),
            "columns": [self.runs(column) for column in table.columns],
            "widths": list(table.widths),
            "rows": [[self.cell(cell) for cell in row] for row in table.rows],
        }

    def cell(self, cell: Cell) -> Data:
        return {
            "lines": [self.runs(line) for line in cell.lines],
            "pictures": [self.picture(one) for one in cell.pictures if one.svg],
            "swatch": self.swatch(cell.swatch) if cell.swatch else None,
        }

    def steps(self, cards: tuple[StepCard, ...], depth: int) -> list[Data]:
        made: list[Data] = []
        for card in cards:
            blanks = [
                {"label": self.voice.spelt(one.what), "unit": one.unit, "wide": one.wide}
                for one in card.blanks
            ]
            made.append(
                {
                    "number": card.number,
                    "depth": depth,
                    "boxes": card.boxes,
                    "runs": self.runs(card.text),
                    "notes": [self.runs(note) for note in card.notes],
                    "signs": [self.picture(one) for one in card.signs if one.svg],
                    "blanks": blanks,
                    "opens": bool(card.inner),
                }
            )
            made += self.steps(card.inner, depth + 1)
        return made

    def card(self, card: Card) -> Data:
        return {
            "role": card.role,
            "title": self.runs(card.title),
            "blocks": self.blocks(card.blocks),
            "box": self.runs(card.box),
            "foot": self.blocks(card.foot),
        }
