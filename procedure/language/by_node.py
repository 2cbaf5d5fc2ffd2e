"""What follows from a piece of a line alone, worked out once for that piece.

While somebody types, the lines that they leave alone keep their nodes (see
:class:`procedure.language.Lines`), so what was made of those is still there.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import TypeVar

from procedure.language.tree import Node

Made = TypeVar("Made")
# More pieces than any plan that people write has; then all of them are let go.
MOST = 20_000


def once_for_each_node(make: Callable[[Node], Made]) -> Callable[[Node], Made]:
    """The same function, which remembers what it made of the very same node.

    ``make`` must depend on nothing but the node and the vocabulary, and what it makes must
    not be changed. Nodes are told apart as objects: comparing them would take longer.
    """
    met: dict[int, tuple[Node, Made]] = {}

    @wraps(make)
    def remembered(node: Node) -> Made:
        found = met.get(id(node))
        if found is not None and found[0] is node:
            return found[1]
        made = make(node)
        if len(met) >= MOST:
            met.clear()
        met[id(node)] = (node, made)
        return made

    return remembered
