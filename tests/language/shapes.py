"""Trees as short text, to write down what a line should be read as."""

from __future__ import annotations

from collections.abc import Iterator

from procedure.language import Line, Node, Section, Token, Tree, read

HEADINGS = {
    "header": 'procedure "x"\n',
    "fibre": "fibre\n",
    "equipment": "equipment\n",
    "materials": "materials\n",
    "steps": "steps\n",
}


def shape(node: Node | Token) -> str:
    """A node as ``kind(child child ...)``, a token as it was written."""
    if isinstance(node, Token):
        return node.text
    return f"{node.kind}({' '.join(shape(child) for child in node.children)})"


def lines_of(lines: list[Line]) -> Iterator[Line]:
    """All lines, those of blocks after the line that opens them."""
    for line in lines:
        yield line
        yield from lines_of(line.block)


def all_lines(tree: Tree) -> Iterator[Line]:
    """All lines of all sections."""
    for section in tree.sections:
        yield from lines_of(section.lines)


def tokens_of(node: Node | Token) -> Iterator[Token]:
    """All tokens below a node, in order."""
    if isinstance(node, Token):
        yield node
        return
    for child in node.children:
        yield from tokens_of(child)


def section_of(heading: str, lines: str) -> Section:
    """The section that those lines make under a heading; they must be without fault."""
    tree = read(HEADINGS[heading] + "".join(f"  {line}\n" for line in lines.split("\n")))
    assert tree.faults == []
    return tree.sections[-1]


def line_shape(heading: str, line: str) -> str:
    """What one line (with its continuation lines) is read as, under a heading."""
    node = section_of(heading, line).lines[0].node
    assert node is not None
    return shape(node)
