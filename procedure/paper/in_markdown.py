"""A paper as Markdown: CommonMark alone, which has no tables, so a table is a list of its rows.

Everything that a procedure says is escaped sign by sign, so that it is read as the
letters that it is and never as markup, a link or HTML.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

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
from procedure.paper.pieces import Blank, Figure, Phrase, Words, clean

# A row of more columns says the heads of its cells.
MOST_UNHEADED = 3
RULE = "\\_\\_\\_\\_\\_\\_"
_SIGNS = re.compile(r"([\\`*_{}\[\]<>#|~$^=&])")
# What a renderer may take for an address by itself, and signs that begin a list.
_ADDRESS = re.compile(r"(?i)(?<=[a-z])(:)(?=//|[a-z])|(?<=www)(\.)|(@)")
_AT_START = re.compile(r"^(\s*)(?:([-+])|(\d+)([.)]))")


def escaped(text: str) -> str:
    """A text that shows as it is, wherever it is in a line."""
    text = " ".join(clean(text).split(" "))
    text = _SIGNS.sub(r"\\\1", text)
    text = _ADDRESS.sub(lambda found: "\\" + found.group(), text)
    return _AT_START.sub(_started, text)


def _started(found: re.Match[str]) -> str:
    space, sign, number, stop = found.groups()
    return f"{space}\\{sign}" if sign else f"{space}{number}\\{stop}"


def printed(made: Paper, size: str = "a4") -> bytes:
    """The paper as the bytes of a Markdown file, which has no size."""
    return page(made).encode()


def page(made: Paper) -> str:
    """The whole paper as Markdown text."""
    return _Printer(made).text()


class _Printer:
    def __init__(self, made: Paper) -> None:
        self.made = made
        self.voice = made.voice

    def text(self) -> str:
        made = self.made
        parts = [f"# {self.said(made.title)}"]
        if made.stamp:
            parts.append(f"**{made.stamp}**")
        parts += self.blocks(made.head, 2)
        for section in made.sections:
            mark = f" ({made.stamp})" if made.stamp else ""
            if section.title:
                parts.append(f"## {self.said(section.title)}{mark}")
            parts += self.blocks(section.blocks, 3)
        return "\n\n".join(part for part in parts if part) + "\n"

    def said(self, phrase: Phrase) -> str:
        made: list[str] = []
        for piece in phrase:
            if isinstance(piece, str):
                made.append(escaped(self.voice.spelt(piece)))
            elif isinstance(piece, Words):
                made.append(escaped(piece.text))
            elif isinstance(piece, Figure):
                made.append(self.voice.amount(piece.kind, piece.low, piece.high, piece.about))
            else:
                made.append(self.blank(piece))
        return "".join(made)

    def blank(self, blank: Blank) -> str:
        return f"{RULE}\u00a0{blank.unit}" if blank.unit else RULE

    def blocks(self, blocks: Iterable[Block], level: int) -> list[str]:
        return [text for block in blocks for text in self.block(block, level)]

    def block(self, block: Block, level: int) -> list[str]:
        match block:
            case Heading():
                return [f"{'#' * level} {self.said(block.text)}"]
            case Para():
                return [self.para(block)]
            case Listing():
                return [self.items(block)]
            case Table():
                return self.table(block, level)
            case StepCards():
                return [self.steps(block.cards, 0)]
            case Cards():
                return [text for card in block.cards for text in self.card(card, level)]
            case Frame():
                title = f"{'#' * level} {self.said(block.title)}" if block.title else ""
                return [title, *self.blocks(block.blocks, level + 1)]
            case Swatch():
                return [self.said(block.name)]
            case Picture():
                return [f"*{escaped(block.says)}*"] if block.size == "sign" else []
            case Recalculator():
                return []  # needs a script

    def para(self, para: Para) -> str:
        text = self.said(para.text)
        if not text:
            return ""
        around = {"strong": "**", "warning": "**", "quiet": "*"}.get(para.tone, "")
        return f"{around}{text}{around}"

    def items(self, block: Listing) -> str:
        marks = (f"{i}." if block.numbered else "-" for i in range(1, len(block.items) + 1))
        return "\n".join(
            f"{mark} {self.said(item)}" for mark, item in zip(marks, block.items, strict=True)
        )

    def table(self, table: Table, level: int) -> list[str]:
        """A row is a line of a list: what names it, then its cells, with their heads if many."""
        heads = [self.said(column) for column in table.columns]
        headed = len(heads) > MOST_UNHEADED or table.role == "wrong"
        rows = [self.row(row, heads if headed else []) for row in table.rows]
        title = f"{'#' * level} {self.said(table.caption)}" if table.caption else ""
        # What the parts of a line are: all of them, or what names the line.
        first, *others = [head for head in heads if head] or [""]
        key = first if headed or not others else f"{first}: {'; '.join(others)}"
        return [title, f"*{key}*" if key else "", "\n".join(row for row in rows if row)]

    def row(self, row: tuple[Cell, ...], heads: list[str]) -> str:
        cells = [self.cell(cell) for cell in row]
        if row and row[0].swatch is not None:
            return "\n".join(f"- {cell}" for cell in cells if cell)
        said = f"- **{cells[0]}**" if cells[0] else "-"
        between = ": " if cells[0] else " "
        for at, cell in enumerate(cells[1:], 1):
            if cell:
                head = f"*{heads[at]}:* " if at < len(heads) and heads[at] else ""
                said += f"{between}{head}{cell}"
                between = " " if cell.endswith(".") else "; "
        return said

    def cell(self, cell: Cell) -> str:
        lines = [self.said(line) for line in cell.lines]
        if cell.swatch is not None and not lines:
            lines.append(self.said(cell.swatch.name))
        return " ".join(lines)

    def steps(self, cards: tuple[StepCard, ...], depth: int) -> str:
        pad = "  " * depth
        lines: list[str] = []
        for card in cards:
            boxes = " ".join("☐" for _ in range(card.boxes))
            number = f"**{card.number}** " if card.number else ""
            lines.append(f"{pad}- {number}{boxes}{' ' if boxes else ''}{self.said(card.text)}")
            lines += [f"{pad}  *{self.said(note)}*" for note in card.notes]
            if card.blanks:
                filled = " · ".join(
                    f"{self.said((blank.what,))} {self.blank(blank)}" for blank in card.blanks
                )
                lines.append(f"\n{pad}  {filled}\n")
            if card.inner:
                lines.append(self.steps(card.inner, depth + 1))
        return "\n".join(lines)

    def card(self, card: Card, level: int) -> list[str]:
        return [
            f"{'#' * level} {self.said(card.title)}",
            *self.blocks(card.blocks, level + 1),
            *self.blocks(card.foot, level + 1),
        ]
