"""A paper as plain text for a terminal or a message, lines no longer than 80 letters."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator

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
    Steps,
    Swatch,
    Table,
)
from procedure.paper.pieces import Blank, Phrase, phrase, plain_text

WIDTH = 80


def printed(made: Paper, size: str = "a4") -> bytes:
    """The paper as the bytes of a text file, which has no size."""
    return page(made).encode()


def page(made: Paper) -> str:
    """The whole paper as text."""
    printer = _Printer(made)
    return "\n\n".join(part for part in printer.parts() if part) + "\n"


class _Printer:
    def __init__(self, made: Paper) -> None:
        self.made = made

    def said(self, phrase: Phrase) -> str:
        return plain_text(phrase, self.made.voice).replace("\u00a0", " ")

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
            case Table():
                return self.table(block)
            case Steps():
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
        widths = [max(map(len, column)) for column in zip(*every, strict=True)] if every else []
        lines = [
            "  ".join(cell.ljust(wide) for cell, wide in zip(row, widths, strict=True)).rstrip()
            for row in every
        ]
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
            for note in card.notes:
                yield f"{' ' * len(mark)}{self.said(note)}"
            if card.blanks:
                yield self.blanks(card.blanks, " " * len(mark))
            yield from self.steps(card.inner, depth + 1)

    def blanks(self, blanks: Iterable[Blank], indent: str) -> str:
        """What to write down at a step; a word stays on the line of its blank."""
        fields = [
            self.said(phrase(f"{blank.what} " if blank.what else "", blank)).replace(" ", "\u00a0")
            for blank in blanks
        ]
        filled = textwrap.fill(
            "  ".join(fields),
            WIDTH,
            initial_indent=indent,
            subsequent_indent=indent,
            break_long_words=False,
            break_on_hyphens=False,
        )
        return filled.replace("\u00a0", " ")
