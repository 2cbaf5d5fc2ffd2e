"""What lines were read as, kept from one reading of a text to the next."""

from __future__ import annotations

from collections.abc import Callable, Hashable

from procedure.language.tree import Fault, Node, SaidOf, Token
from procedure.quantity.record import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from typing import Any


class Lines:
    """What lines were read as, so that a text of which little has changed is read sooner.

    A line is known by its words, its number and the kind of word that it continues. What
    the last reading did not meet is let go with :meth:`turn`.
    """

    __slots__ = ("_met", "_old")

    def __init__(self) -> None:
        self._old: dict[Hashable, Any] = {}
        self._met: dict[Hashable, Any] = {}

    def turn(self) -> None:
        """A new reading begins: what the last one met is kept, and nothing older."""
        self._old, self._met = self._met, {}

    def once(self, key: Hashable, make: Callable[[], Any]) -> Any:
        """What was made of a line, made now where it is new."""
        found = self._met.get(key)
        if found is None:
            found = self._old.get(key)
            self._met[key] = found = make() if found is None else found
        return found


class Part(NamedTuple):
    """A step or declaration that a line says; one as a rule.

    ``node`` is None where it could not be read; ``faults`` are those of its words. ``under`` is
    the number, among the parts, of that whose block it is in, or -1. ``said`` are the words of a
    step alone, in plain order, where its line says several; ``names`` what a part that could
    not be read names, and ``written`` all of it.
    """

    first: Token
    opens: str
    node: Node | None
    faults: tuple[Fault, ...]
    under: int = -1
    said: tuple[Token, ...] = ()
    names: tuple[str, ...] = ()
    written: str = ""


class Said(NamedTuple):
    """What a line says: its parts, and the labels that it makes, in their order.

    ``of_things`` is what it says of things and orders nothing.
    """

    parts: tuple[Part, ...]
    labels: tuple[Token, ...] = ()
    described: tuple[Token, ...] = ()
    of_things: tuple[SaidOf, ...] = ()


class Held:
    """What is kept of one line: what it said when the names above it were those of ``names``.

    ``made`` is what was made of each of its readings, so that its nodes stay the same where
    the names above change and what it says does not.
    """

    __slots__ = ("made", "names", "said")

    def __init__(self) -> None:
        self.names: object = None
        self.said: Said | None = None
        self.made: dict[Hashable, Node | Fault] = {}
