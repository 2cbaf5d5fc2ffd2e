"""What was made of a piece is kept while it is asked for, and no longer."""

from __future__ import annotations

import weakref
from unittest.mock import patch

from procedure.language import by_node
from procedure.language.by_node import once_for_each_node


class Piece:
    """A piece of a line that can be watched as it goes."""


def test_what_is_asked_for_again_and_again_is_worked_out_once() -> None:
    worked_out: list[object] = []
    once = once_for_each_node(worked_out.append)
    piece = Piece()
    with patch.object(by_node, "MOST", 20):
        for _ in range(100):
            once(piece)
            once(Piece())
    assert worked_out.count(piece) == 1


def test_pieces_of_texts_that_are_gone_are_let_go_whatever_they_are_asked() -> None:
    ones = [once_for_each_node(lambda piece: [piece]) for _ in range(10)]
    alive: weakref.WeakSet[Piece] = weakref.WeakSet()
    with patch.object(by_node, "MOST", 50):
        for number in range(1000):
            piece = Piece()
            alive.add(piece)
            assert ones[number % 10](piece) == [piece]
        del piece
        assert len(alive) <= 2 * 50
