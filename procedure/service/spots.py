"""A text line by line, as somebody writes it: every line has its words, also those that are faulty.

The tree holds what can be read. Whoever asks what is under the cursor needs the line
that cannot be read yet, so lines are told apart here by indentation and headings alone.
"""

from __future__ import annotations

from functools import lru_cache

from procedure.language import Lines, Token
from procedure.language.words import (
    BLOCK_WORDS,
    SECTIONS,
    declaration_words,
    header_words,
    heading_words,
    step_words,
)
from procedure.quantity.record import NamedTuple

TAB = 4
_SCANNERS = {"procedure": header_words, "steps": step_words}
_OPENS = frozenset(("REPEAT", "IF", "FOR", "EITHER", "OR", "MEANWHILE"))
LONGEST_LINE = 4000


class Spot(NamedTuple):
    """A line of the text: its number from 1, section ('' before any), indentation and words.

    ``head`` is the number of the line that it continues, or its own; ``heading`` holds for
    the line that begins a section; ``opens`` where it begins a block.
    """

    number: int
    raw: str
    section: str
    indent: int
    tokens: tuple[Token, ...]
    head: int
    heading: bool
    opens: bool

    @property
    def blank(self) -> bool:
        """True for an empty line or a comment."""
        return not self.tokens

    def at(self, column: int) -> Token | None:
        """The word at a column, or the one that ends just before it."""
        found = None
        for token in self.tokens:
            if token.column <= column <= token.to:
                found = token
                if column < token.to:
                    break
        return found


# The words of the lines of the texts that were asked of last: a keystroke changes one line.
_KEPT = Lines()


@lru_cache(maxsize=8)
def spots(text: str) -> tuple[Spot, ...]:
    """Every line of a text."""
    _KEPT.turn()
    found: list[Spot] = []
    section = ""
    head, head_indent, before = 0, 0, ()  # type: tuple[int, int, tuple[Token, ...]]
    plain = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
    for number, raw in enumerate(plain.split("\n"), 1):
        stripped = raw.strip()
        margin = raw[: len(raw) - len(raw.lstrip())]
        indent = len(margin.expandtabs(TAB))
        if not stripped or stripped[0] == "#" or len(raw) > LONGEST_LINE:
            found.append(Spot(number, raw, section, indent, (), number, False, False))
            continue
        if indent == 0:
            tokens = _words("", raw, number, ())
            section = _section(tokens) or section
            head, head_indent, before = 0, 0, ()
            found.append(Spot(number, raw, section, 0, tokens, number, True, False))
            continue
        if head and indent > head_indent and not _opens(before):
            tokens = _words(section or "procedure", raw, number, before)
            before = (*before, *tokens)
        else:
            tokens = _words(section or "procedure", raw, number, ())
            head, head_indent, before = number, indent, tokens
        found.append(Spot(number, raw, section, indent, tokens, head, False, _opens(tokens)))
    return tuple(found)


def _words(section: str, raw: str, number: int, before: tuple[Token, ...]) -> tuple[Token, ...]:
    """The words of a line; those of a line that has not changed are kept."""

    def scanned() -> tuple[Token, ...]:
        if not section:
            return tuple(heading_words(raw, number))
        return tuple(_SCANNERS.get(section, declaration_words)(raw, number, list(before)))

    made: tuple[Token, ...] = _KEPT.once((section, raw, number, before), scanned)
    return made


def spot(text: str, line: int) -> Spot:
    """The line of that number; the last one where there are not so many."""
    every = spots(text)
    return every[min(max(line, 1), len(every)) - 1]


def before(text: str, line: int, column: int) -> tuple[Token, ...]:
    """The words of a step or declaration that end before a place, from its first line on."""
    here = spot(text, line)
    every = spots(text)
    taken: list[Token] = []
    for one in every[here.head - 1 : line]:
        if one.head == here.head:
            taken += [t for t in one.tokens if one.number < line or t.to <= column]
    return tuple(taken)


def head_of(tokens: tuple[Token, ...]) -> Token | None:
    """The word that says what a step is: the first, or the first after the label."""
    rest = [token for token in tokens[:2] if token.kind != "LABEL"]
    return rest[0] if rest else None


def _section(tokens: tuple[Token, ...]) -> str:
    word = tokens[0].text.rstrip(":").rstrip() if tokens else ""
    return word if word in ("procedure", *SECTIONS) else ""


def _opens(tokens: tuple[Token, ...]) -> bool:
    first = head_of(tokens)
    return first is not None and first.kind in _OPENS and first.text in BLOCK_WORDS
