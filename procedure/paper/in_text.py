"""A paper as plain text for a terminal or a message, lines no longer than 80 letters."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterable, Iterator
from itertools import zip_longest

from procedure.paper.blocks import (
    Block,
    Cards,
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
from procedure.paper.pieces import Blank, Phrase, phrase, plain_text

WIDTH = 80
# Between the columns of a table, and the least that one is narrowed to.
GAP = "  "
LEAST_COLUMN = 14
# What no line end parts: a number and its unit, and the number of a line.
_TOGETHER = re.compile(
    r"(?<=\d) (?=(?:°[CF]|%|min\b|h\b|k?g\b|m?L\b|oz\b|lb\b))|(?<=\bline) (?=\d)"
)


def printed(made: Paper, size: str = "a4") -> bytes:
    """The paper as the bytes of a text file, which has no size."""
    return page(made).encode()


def page(made: Paper) -> str:
    """The whole paper as text."""
    printer = _Printer(made)
    # What keeps a number with its unit has done so when the lines are broken.
    return "\n\n".join(part for part in printer.parts() if part).replace("\u00a0", " ") + "\n"


class _Printer:
    def __init__(self, made: Paper) -> None:
        self.made = made

    def said(self, phrase: Phrase) -> str:
        return _TOGETHER.sub("\u00a0", plain_text(phrase, self.made.voice))

    def parts(self) -> Iterator[str]:
        if self.made.title:
            yield self.said(self.made.title)
        if self.made.stamp:
            yield self.made.stamp
        yield from self.blocks(self.made.head)
        for section in self.made.sections:
            if section.title:
                yield self.said(section.title).upper()
            yield from self.blocks(section.blocks)

    def blocks(self, blocks: Iterable[Block]) -> Iterator[str]:
        for block in blocks:
            yield self.block(block)

    def block(self, block: Block) -> str:
        match block:
            case Heading():
                return self.said(block.text)
            case Para():
                return textwrap.fill(self.said(block.text), WIDTH)
            case Listing():
                return self.items(block)
            case Table(role="colours"):
                named = [cell.swatch.name for r in block.rows for cell in r if cell.swatch]
                return self.items(Listing(tuple(named)))
            case Table():
                return self.table(block)
            case StepCards():
                return "\n".join(self.steps(block.cards, 0))
            case Cards():
                return "\n\n".join(
                    part
                    for card in block.cards
                    for part in (self.said(card.title), *self.blocks((*card.blocks, *card.foot)))
                )
            case Frame():
                return "\n\n".join((self.said(block.title), *self.blocks(block.blocks)))
            case Swatch():
                return self.said(block.name)
            case Picture() | Recalculator():
                return ""

    def items(self, block: Listing) -> str:
        width = len(str(len(block.items)))
        lines = []
        for number, item in enumerate(block.items, 1):
            mark = f"{number:>{width + 2}}  " if block.numbered else "  - "
            lines.append(
                textwrap.fill(
                    self.said(item),
                    WIDTH,
                    initial_indent=mark,
                    subsequent_indent=" " * len(mark),
                    break_long_words=False,
                    break_on_hyphens=False,
                )
            )
        return "\n".join(lines)

    def table(self, table: Table) -> str:
        rows = [
            [" ".join(self.said(line) for line in cell.lines) for cell in r] for r in table.rows
        ]
        heads = [self.said(column) for column in table.columns]
        every = [heads, *rows] if any(heads) else rows
        widths = _widths(every)
        lines = [line for row in every for line in _row(row, widths)]
        caption = self.said(table.caption)
        return "\n".join([*([caption] if caption else []), *lines])

    def steps(self, cards: tuple[StepCard, ...], depth: int) -> Iterator[str]:
        for card in cards:
            mark = f"{'  ' * depth}{card.number:>3}  "
            yield textwrap.fill(
                self.said(card.text),
                WIDTH,
                initial_indent=mark,
                subsequent_indent=" " * len(mark),
            )
            indent = " " * len(mark)
            for note in card.notes:
                yield textwrap.fill(
                    self.said(note), WIDTH, initial_indent=indent, subsequent_indent=indent
                )
            if card.blanks:
                yield self.blanks(card.blanks, " " * len(mark))
            yield from self.steps(card.inner, depth + 1)

    def blanks(self, blanks: Iterable[Blank], indent: str) -> str:
        """What to write down at a step; a word stays on the line of its blank."""
        fields = [
            self.said(phrase(f"{blank.what} " if blank.what else "", blank)).replace(" ", "\u00a0")
            for blank in blanks
        ]
        return textwrap.fill(
            "  ".join(fields),
            WIDTH,
            initial_indent=indent,
            subsequent_indent=indent,
            break_long_words=False,
            break_on_hyphens=False,
        )


def _widths(rows: list[list[str]]) -> list[int]:
    """How wide each column of a table is, so that a line is no longer than :data:`WIDTH` where
    that can be: what the narrow columns leave is shared by the wide ones."""
    if not rows:
        return []
    widest = [max(1, *map(len, column)) for column in zip(*rows, strict=True)]
    room = WIDTH - len(GAP) * (len(widest) - 1)
    widths = list(widest)
    while sum(widths) > room and max(widths) > LEAST_COLUMN:
        widths[widths.index(max(widths))] -= 1
    return widths


def _row(cells: list[str], widths: list[int]) -> Iterator[str]:
    """The lines of one row, each cell broken to the width of its column."""
    broken = [
        textwrap.wrap(cell, wide, break_long_words=False, break_on_hyphens=False) or [""]
        for cell, wide in zip(cells, widths, strict=True)
    ]
    for line in zip_longest(*broken, fillvalue=""):
        pairs = zip(line, widths, strict=True)
        yield GAP.join(part.ljust(wide) for part, wide in pairs).rstrip()
