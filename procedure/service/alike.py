"""Whether two readings of a text mean the same, though the text has changed."""

from __future__ import annotations

from procedure.language import Line, Tree


def same_nodes(one: Tree, two: Tree) -> bool:
    """True where all that can be read is the same, in the same places, in both trees.

    Lines that cannot be read count only by the names that they would have declared.
    """
    if one.line_count != two.line_count or len(one.sections) != len(two.sections):
        return False
    if one.said_of != two.said_of:
        return False
    return all(
        a.name == b.name
        and a.heading == b.heading
        and a.title == b.title
        and _same(a.lines, b.lines)
        for a, b in zip(one.sections, two.sections, strict=True)
    )


def _same(one: list[Line], two: list[Line]) -> bool:
    return len(one) == len(two) and all(
        (a.node is b.node or a.node == b.node)
        and (a.first == b.first if a.node is not None else _same_start(a, b))
        and a.opens == b.opens
        and _same(a.block, b.block)
        for a, b in zip(one, two, strict=True)
    )


def _same_start(one: Line, two: Line) -> bool:
    """Of a line that cannot be read the model knows its number and the name that it begins with.

    The name before a colon, or a first word that is none of the language's: see ``model.build``.
    """
    named = not _NAMING.isdisjoint((one.first.kind, two.first.kind))
    return one.first.line == two.first.line and (not named or one.first == two.first)


_NAMING = frozenset(("LABEL", "WORD"))
