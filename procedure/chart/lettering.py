"""Letters on paper: how wide words are, where lines break, and what may be printed at all.

Widths are those of a wide sans-serif face, so that what fits here fits in the narrower
ones too; they do not ask which fonts a machine has, and so a chart is the same wherever
it is drawn.
"""

from __future__ import annotations

import contextlib
import csv
import unicodedata
from collections.abc import Iterator
from contextvars import ContextVar
from functools import cache
from pathlib import Path

from procedure.paper.letters import readable
from procedure.paper.pieces import NOT_FOR_PAPER

SMALL = 7.0
HEADING = 9.0
TITLE = 12.0
LEADING = 1.2
"""Height of a line as a share of the size of its letters."""
ROUNDING = 1.03
"""What the whole dots add on which Graphviz sets letters, in the sizes that are used here.

Some sizes between (8 points) are made larger by more than that: measured in its PDF.
"""

LONGEST_UNIT = 5
# After these a line does not end: “= 6 L”, “30 : 1”, “day 3”.
_GO_ON = frozenset(("=", ":", "day", "step", "line"))
_UNIT_STARTS = frozenset("°%gkmLhdslo")


def width(text: str, size: float, bold: bool = False) -> float:
    """How wide a line of text is at most, in points."""
    return sum(map(_widths()[bold].__getitem__, text)) * size * ROUNDING


class _Widths(dict[str, float]):
    """The widths of letters as shares of the size; about that of a letter that has no row."""

    def __init__(self, bold: bool) -> None:
        super().__init__()
        self.bold = bold

    def __missing__(self, letter: str) -> float:
        return _share(letter, self.bold)


def _share(letter: str, bold: bool) -> float:
    """About how wide a letter is that is not in the table, as a share of the size."""
    if unicodedata.combining(letter) or unicodedata.category(letter) == "Cf":
        return 0.0
    if ord(letter) > 0x2E7F or unicodedata.east_asian_width(letter) in ("W", "F"):
        return 1.05
    return (0.75 if letter.isupper() else 0.66) * (1.1 if bold else 1.0)


@cache
def _widths() -> tuple[_Widths, _Widths]:
    """Widths of letters as shares of the size, plain and bold, from ``letter_widths.csv``.

    Those of DejaVu Sans 2.37, the widest of the faces that are used where Helvetica is
    asked for.
    """
    plain, bold = _Widths(False), _Widths(True)
    path = Path(__file__).parent / "letter_widths.csv"
    with path.open(encoding="utf-8", newline="") as table:
        for row in csv.DictReader(table):
            letter = chr(int(row["letter"].removeprefix("U+"), 16))
            plain[letter], bold[letter] = int(row["plain"]) / 1000, int(row["bold"]) / 1000
    return plain, bold


def height(lines: int, size: float) -> float:
    """How high so many lines are, in points."""
    return lines * size * LEADING


def wrap(text: str, room: float, size: float, bold: bool = False) -> list[str]:
    """Break a text into lines no wider than ``room`` points; words break only where they must."""
    lines: list[str] = []
    line = ""
    for word in _units(text):
        longer = f"{line} {word}" if line else word
        if width(longer, size, bold) <= room:
            line = longer
            continue
        if line:
            lines.append(line)
        *full, line = _pieces(word, room, size, bold)
        lines += full
    if line:
        lines.append(line)
    return lines


def at_most(lines: list[str], most: int) -> tuple[str, ...]:
    """The first lines; where there are more, the last of them ends in three dots."""
    if len(lines) > most:
        return (*lines[: most - 1], f"{lines[most - 1][:-1]}…")
    return tuple(lines)


def _units(text: str) -> list[str]:
    """The words of a text; a number stays with its unit, and with what goes before it."""
    words: list[str] = []
    for word in text.split():
        before = words[-1] if words else ""
        number = before[-1:].isdigit() and len(word) <= LONGEST_UNIT and not word[:1].isdigit()
        joined = before.rpartition(" ")[2] in _GO_ON or word == ":"
        if (number and word[:1] in _UNIT_STARTS) or (words and joined):
            words[-1] = f"{before} {word}"
        else:
            words.append(word)
    return words


def _pieces(word: str, room: float, size: float, bold: bool) -> list[str]:
    """A word cut into pieces that fit; after a hyphen where there is one."""
    pieces: list[str] = []
    while width(word, size, bold) > room and len(word) > 1:
        end, used = 0, 0.0
        while end < len(word) and used <= room:
            used += width(word[end], size, bold)
            end += 1
        end = max(1, end - 1)
        hyphen = word.rfind("-", 1, end) + 1
        if hyphen > end // 2:
            end = hyphen
        pieces.append(word[:end])
        word = word[end:]
    return [*pieces, word]


# They join letters or part them, and some scripts and pictures cannot be written without.
_JOINERS = "\u200c\u200d"
UNPRINTABLE = "\ufffd"
# Words in letters that no font has, with what is written for them, while a picture is made: what
# reads the letters of an SVG or a DOT file has fonts of its own.
_HERE: ContextVar[dict[str, str] | None] = ContextVar("words without a font", default=None)


@contextlib.contextmanager
def with_fonts_of_here(written: dict[str, str]) -> Iterator[None]:
    """Within it, words without a font are written in Latin letters, and put into ``written``."""
    before = _HERE.set(written)
    try:
        yield
    finally:
        _HERE.reset(before)


def without_fonts() -> dict[str, str]:
    """The words without a font that have been met so far, each with what is written for it."""
    return _HERE.get() or {}


def clean(text: str) -> str:
    """A text that any paper can carry: control characters and the like become one mark."""
    if text.isascii() and text.isprintable():
        return text
    written = _HERE.get()
    if written is not None:
        text, more = readable(text, embedded=False)
        written.update(more)
    return "".join(map(_printed, text))


def _printed(letter: str) -> str:
    if letter in "\t\n\r":
        return " "
    if letter in _JOINERS:
        return letter
    # XML has no place for what is no character at all (Cn).
    kind = unicodedata.category(letter)
    return UNPRINTABLE if kind in NOT_FOR_PAPER or kind == "Cn" else letter
