"""Lines that are written word for word as one before: read once, and only put in their new place.

Many lines of a procedure, and more of those of a folder, are the same: headers, pots, “clean
kettle”. What such a line says depends on its words alone, unless it asks for the names that the
text has made (see :class:`procedure.language.called.Called`); those that did are not kept.
"""

from __future__ import annotations

from procedure.language.kept_lines import Part, Said
from procedure.language.tree import Node, Token
from procedure.quantity.record import NamedTuple

# So much is kept, some six thousand lines, and as much of before; told as :func:`_weight` tells.
MOST = 900_000
A_WORD = 10  # letters: what a word of a line takes beside its letters
# So many lines are known to have been met once.
MOST_MET = 6_000
# The lines of a long text are in no place where another text has them, and most of them are
# nowhere twice: those below are kept from the second time on.
LONG = 400


class Read(NamedTuple):
    """The tokens of a line, and what it says, in one place of a text."""

    tokens: list[Token]
    said: Said


class EqualLines:
    """What lines were read as, by the section's start symbol, their words and their number.

    What nobody has asked for while many others were read is let go.
    """

    __slots__ = ("_count", "_met", "_new", "_old")

    def __init__(self) -> None:
        self.cache_clear()

    def cache_clear(self) -> None:
        """Forget everything, as the other caches do where the vocabulary is read anew."""
        self._new: dict[tuple[str, str], dict[int, Read]] = {}
        self._old: dict[tuple[str, str], dict[int, Read]] = {}
        self._count = 0
        self._met: set[int] = set()

    def at(self, start: str, raw: str, number: int) -> Read | None:
        """What a line was read as, in its place now; None where it is new."""
        key = start, raw
        places = self._new.get(key)
        if places is None:
            places = self._old.get(key)
            if places is None:
                return None
            self._note(key, places)
        read = places.get(number)
        if read is None:
            read = _moved(next(iter(places.values())), number)
            if number < LONG:
                places[number] = read
                self._count += _weight(raw, read)
        return read

    def keep(self, start: str, raw: str, number: int, tokens: list[Token], said: Said) -> None:
        """Note what a line was read as, where it could be read and is nothing out of the way."""
        if said.of_things or any(one.faults or one.node is None for one in said.parts):
            return
        if number >= LONG:
            words = hash(raw)
            if words not in self._met:
                if len(self._met) >= MOST_MET:
                    self._met.clear()
                self._met.add(words)
                return
        self._note((start, raw), {number: Read(tokens, said)})

    def _note(self, key: tuple[str, str], places: dict[int, Read]) -> None:
        if self._count >= MOST:
            self._old, self._new, self._count = self._new, {}, 0
        self._new[key] = places
        self._count += sum([_weight(key[1], one) for one in places.values()])


def _weight(raw: str, read: Read) -> int:
    """How much one reading takes, in letters."""
    return len(raw) + A_WORD * len(read.tokens)


def _moved(read: Read, line: int) -> Read:
    tokens, said = read
    labels = _all_moved(said.labels, line)
    described = _all_moved(said.described, line)
    parts = tuple([_part(one, line) for one in said.parts])
    return Read(list(_all_moved(tokens, line)), Said(parts, labels, described))


def _part(part: Part, line: int) -> Part:
    assert part.node is not None
    first, node = _token(part.first, line), _node(part.node, line)
    return Part(first, part.opens, node, (), part.under, _all_moved(part.said, line))


# Nodes and tokens are plain tuples: made as such, without a call of their class, in half the time.
_new = tuple.__new__


def _all_moved(tokens: list[Token] | tuple[Token, ...], line: int) -> tuple[Token, ...]:
    return tuple([_new(Token, (a, b, line, c, d)) for a, b, _, c, d in tokens]) if tokens else ()


def _token(token: Token, line: int) -> Token:
    kind, text, _, column, meant = token
    return _new(Token, (kind, text, line, column, meant))


def _node(node: Node, line: int) -> Node:
    kind, children = node
    moved = [
        _node(one, line)
        if len(one) == 2  # the two kinds of pieces are told apart by their length, at once
        else _new(Token, (one[0], one[1], line, one[3], one[4]))
        for one in children
    ]
    return _new(Node, (kind, tuple(moved)))
