"""Steps that differ from one before in their numbers, and in the names of the text, alone.

Everyday words are put into those of the grammar by looking for them in tables. An amount plays
no part in that, nor does a name that people made with a hyphen, such as ``lot-12`` or
``gold-skein``, but for what is behind its last one. So where a step had nothing that is said
otherwise, nothing is looked for in another step of the same shape.
"""

from __future__ import annotations

from procedure.language.tree import Token
from procedure.quantity.ready_patterns import pattern
from procedure.quantity.record import TYPE_CHECKING
from procedure.vocabulary.data_files import as_text, kept_of_tables, tables

if TYPE_CHECKING:
    from collections.abc import Container

    Shape = tuple[str, ...]

# Shapes of so many letters are kept; a text with more of them has few that are alike.
MOST = 1_000_000


class PlainShapes:
    """The shapes of steps that say nothing in everyday words."""

    __slots__ = ("_known", "_size")

    def __init__(self) -> None:
        self.cache_clear()

    def cache_clear(self) -> None:
        """Forget everything, as the other caches do where the vocabulary is read anew."""
        self._known: set[Shape] = set()
        self._size = 0

    def __contains__(self, shape: object) -> bool:
        return shape in self._known

    def add(self, shape: Shape) -> None:
        """Note the shape of a step that was not changed."""
        if shape in self._known:
            return
        if self._size >= MOST:
            self.cache_clear()
        self._known.add(shape)
        self._size += sum(map(len, shape))


def shape_of(tokens: list[Token], sorts: Container[str]) -> Shape:
    """The kinds and words of a step, without its numbers and with the ends of made-up names.

    ``sorts`` are the words that the text itself gives a meaning; the shape of a step with one of
    them is empty.
    """
    shape: list[str] = []
    add = shape.append
    in_tables = _with_a_hyphen()
    for kind, text, _, _, meant in tokens:
        word = meant or text
        if word in sorts:
            return ()
        add(kind)
        if kind == "NUMBER":
            # “3 times the weight” and “1.5 times the weight” are turned to parts, “1 1/2 times”
            # to a share, and so each is told from the others.
            plain = text is word and text[0].isdecimal()
            add(_sort_of_number(text) if plain else word)
        elif "-" in word and (kind == "NAME" or kind == "LABEL") and word not in in_tables:
            end = word[word.rindex("-") :].rstrip(": ")
            before_number = end.rstrip("0123456789")
            ends = end if before_number == end else before_number + "0"
            add(ends if word[0] != "x" and word.islower() else word)
        else:
            add(word)
    return tuple(shape)


def _sort_of_number(text: str) -> str:
    if text.isdigit():
        return "0"
    return "0.5" if text.replace(".", "", 1).isdigit() else "1/2"


@kept_of_tables
def _with_a_hyphen() -> frozenset[str]:
    """All words with a hyphen of all tables, in small letters."""
    found: set[str] = set()
    for table in tables():
        found.update(pattern(r"[^\s;,/_()“”\"]*-[^\s;,/_()“”\"]*").findall(as_text(table).lower()))
    return frozenset(found)
