"""What follows from a piece of a line, or from what was made of it, worked out once for that piece.

While somebody types, the lines that they leave alone keep their nodes (see
:class:`procedure.language.Lines`), so what was made of those is still there.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps

from procedure.quantity.record import TYPE_CHECKING

if TYPE_CHECKING:
    from typing import TypeVar

    Piece = TypeVar("Piece")
    Made = TypeVar("Made")

# More pieces than any plan that people write has, of all functions together: a text of 3,000
# lines has 8,700. When so many were met, those are let go that were not met among them.
MOST = 20_000


class _Met:
    """How many pieces were met since some were let go the last time, and how often that was."""

    count = 0
    turn = 0


class _Coming:
    """Whether the nodes of the text that is read may come again in another reading."""

    again = True


def may_come_again(so: bool) -> None:
    """Say of the text that is read now whether its nodes may come again in another reading.

    What was made of a line is asked for once in a reading. Where its nodes never come again, as
    in a long text that nobody is typing, remembering it only takes room.
    """
    _Coming.again = so


def once_for_each_node(make: Callable[[Piece], Made]) -> Callable[[Piece], Made]:
    """The same function, which remembers what it made of the very same node.

    The node may also be what was made of one once, such as a material as it is declared.
    ``make`` must depend on nothing but that and the vocabulary, and what it makes must
    not be changed. Nodes are told apart as objects: comparing them would take longer.
    """
    met: dict[int, tuple[Piece, Made]] = {}
    before: dict[int, tuple[Piece, Made]] = {}
    turn = 0

    @wraps(make)
    def remembered(node: Piece) -> Made:
        nonlocal met, before, turn
        if turn != _Met.turn:
            met, before = {}, met if turn == _Met.turn - 1 else {}
            turn = _Met.turn
        key = id(node)
        found = met.get(key)
        if found is not None and found[0] is node:
            return found[1]
        found = before.get(key)
        if found is None or found[0] is not node:
            found = (node, make(node))
        met[key] = found
        _Met.count += 1
        if _Met.count >= MOST:
            _Met.turn, _Met.count = _Met.turn + 1, 0
        return found[1]

    return remembered


def once_for_each_node_of_a_line(make: Callable[[Piece], Made]) -> Callable[[Piece], Made]:
    """The same for what is asked for once in a reading: see :func:`may_come_again`."""
    remembered = once_for_each_node(make)

    @wraps(make)
    def perhaps(node: Piece) -> Made:
        return remembered(node) if _Coming.again else make(node)

    return perhaps
