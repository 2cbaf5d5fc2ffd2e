"""Pieces of a sentence, and how they are put together.

A sentence is kept as pieces, so that a printer can mark its amounts, leave blanks to
write in, and escape what the writer of the procedure wrote. A plain ``str`` is in our
own words (its spelling may be changed); :class:`Words` are the writer's own.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from html import escape
from typing import Protocol
from unicodedata import category


@dataclass(frozen=True, slots=True)
class Words:
    """The writer's own words, printed as they are."""

    text: str


@dataclass(frozen=True, slots=True)
class AsWritten(Words):
    """Words that hold for the weight of fibre as written, and are not worked out for another.

    ``what`` tells the paper's script what they are: makes, or nothing particular.
    """

    what: str = "words"


@dataclass(frozen=True, slots=True)
class Grows:
    """How an amount goes with the fibre: so much, and so much more for each gram of fibre."""

    low: Fraction
    low_each: Fraction
    high: Fraction
    high_each: Fraction

    @property
    def line(self) -> tuple[Fraction, Fraction, Fraction, Fraction]:
        """Its four numbers: the low end and its growth, the high end and its growth."""
        return self.low, self.low_each, self.high, self.high_each

    def at(self, grams: Fraction) -> tuple[Fraction, Fraction]:
        """The amount for so many grams of fibre."""
        return self.low + self.low_each * grams, self.high + self.high_each * grams


@dataclass(frozen=True, slots=True)
class Figure:
    """An amount worked out from the fibre: ``kind`` mass (grams) or volume (litres).

    ``about`` holds where the writer says so; ``low`` and ``high`` are then the ends as
    written, before they are widened. ``grows`` is None where it is not known how the
    amount goes with the fibre.
    """

    kind: str
    low: Fraction
    high: Fraction
    about: bool = False
    grows: Grows | None = None


@dataclass(frozen=True, slots=True)
class Blank:
    """A place to write what the procedure does not say; ``unit`` comes after it.

    ``wide`` gives it the rest of its line. ``planned`` is what the procedure says there, for
    papers that do not print its sentence beside it.
    """

    what: str
    unit: str = ""
    wide: bool = False
    planned: str = ""


class Speaker(Protocol):
    """What puts amounts and our own words as a reader has them."""

    def amount(self, kind: str, low: Fraction, high: Fraction, about: bool = False) -> str:
        """An amount from low to high in words: grams, litres, °C, minutes ... by its kind."""

    def spelt(self, text: str) -> str:
        """Words of our own in the reader's spelling."""


Piece = str | Words | Figure | Blank
Phrase = tuple[Piece, ...]


def phrase(*parts: Piece | Sequence[Piece] | None) -> Phrase:
    """Pieces and phrases put one after another; what is empty falls out."""
    made: list[Piece] = []
    for part in parts:
        for piece in (part,) if isinstance(part, (str, Words, Figure, Blank)) else part or ():
            if piece == "":
                continue
            if isinstance(piece, str) and made and isinstance(made[-1], str):
                made[-1] += piece
            else:
                made.append(piece)
    return tuple(made)


def worded(says: str, what: Phrase) -> Phrase:
    """A verb's own words (``says`` of its row, with ``{it}``) around what it is done to.

    What nobody knows is “it”: no sentence has a gap where a name belongs.
    """
    before, _, after = says.partition("{it}")
    return phrase(before, what or ("it",), after)


def joined(parts: Iterable[Phrase], word: str = "and", between: str = ", ") -> Phrase:
    """A list in words: ``a``, ``a and b``, ``a, b and c``."""
    kept = [part for part in parts if part]
    made: list[Piece] = []
    for i, part in enumerate(kept):
        if i:
            made.append(f" {word} " if i == len(kept) - 1 else between)
        made += part
    return phrase(made)


def sentence(*parts: Piece | Sequence[Piece] | None) -> Phrase:
    """A sentence: a capital at its head and a stop at its foot."""
    made = list(phrase(*parts))
    if not made:
        return ()
    first, last = made[0], made[-1]
    if isinstance(first, str):
        made[0] = first[:1].upper() + first[1:]
    elif isinstance(first, Words):
        made[0] = Words(first.text[:1].upper() + first.text[1:])
    last = made[-1]
    ended = isinstance(last, (str, Words)) and _text(last).rstrip('”’") ')[-1:] in (".", "!", "?")
    return phrase(made, "" if ended else ".")


def _text(piece: str | Words) -> str:
    return piece if isinstance(piece, str) else piece.text


def sentences(*said: Phrase) -> Phrase:
    """Sentences with a space between them."""
    made: list[Piece] = []
    for one in said:
        if one and made:
            made.append(" ")
        made += one
    return phrase(made)


# What no paper should pass on (general categories of Unicode): control characters, changes of
# direction and other marks that nobody sees, halves of characters, what is for private use, and
# what ends a line or a paragraph.
NOT_FOR_PAPER = frozenset(("Cc", "Cf", "Cs", "Co", "Zl", "Zp"))


def clean(text: str) -> str:
    """Text without what no paper should pass on."""
    if text.isprintable():  # nothing of the kind is in it
        return text
    return "".join(
        " " if char in "\t\n\r" else "\ufffd" if category(char) in NOT_FOR_PAPER else char
        for char in text
    )


def in_markup(text: str) -> str:
    """Text as it is written in HTML or SVG, for a paper that is made of strings."""
    return escape(clean(text))


def plain_text(said: Phrase, voice: Speaker) -> str:
    """A phrase as one line of text, its blanks as lines to write on."""
    made: list[str] = []
    for piece in said:
        if isinstance(piece, str):
            made.append(clean(voice.spelt(piece)))
        elif isinstance(piece, Words):
            made.append(clean(piece.text))
        elif isinstance(piece, Figure):
            made.append(voice.amount(piece.kind, piece.low, piece.high, piece.about))
        else:
            made.append(f"____ {piece.unit}".rstrip())
    return "".join(made)


def spaced(name: str) -> str:
    """A name of the procedure as words: ``alum-bath`` is alum bath, ``half.plain`` half plain."""
    return name.replace("-", " ").replace(".", " ")


def is_plural(name: str) -> bool:
    """True for a name that ends as plurals do: skins and scarves, but moss, canvas, iris not."""
    word = name.rsplit(" ", 1)[-1].rsplit("-", 1)[-1].lower()
    return word.endswith("s") and not word.endswith(("ss", "us", "is", "as", "os"))


def article(word: str) -> str:
    """``a`` or ``an`` before a word or figure."""
    first = word[:1].lower()
    spoken = first in "aeiou8" or word[:2] in ("11", "18")
    silent = word.lower().startswith(("uni", "use", "eu", "one"))
    return "an" if spoken and not silent else "a"
