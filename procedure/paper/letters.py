"""Letters of other scripts: those that no font has, and those that run from right to left.

A font draws a box for a letter that it lacks, and whoever reads the paper never learns what
was there: it is written in Latin letters instead, those of the anyascii package (ISC licence).
Hebrew and Arabic words are set apart, so that they do not turn the words around them.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from functools import cache
from typing import Any

from procedure.quantity.number_words import listed

# What the fonts of the typst wheel have, and those of any system: Latin, Greek, Cyrillic, and
# the signs of print. Whatever else a text has is looked up.
_ELSE = re.compile(r"[^\x00-\u052f\u1e00-\u22ff\ufb00-\ufb06]+")
# No font has a letter at the last place of Unicode that is left to private use.
_NO_LETTER = "\U0010fffd"
_PAGES = (
    "#set page(width: auto, height: auto, margin: 0pt, fill: none)\n"
    '#set text(font: "Libertinus Serif")\n'
    "#for c in json(bytes(sys.inputs.data)) { page(c) }"
)
_TO_THE_LEFT = "[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufeff]+"
_ASIDE = re.compile(f"{_TO_THE_LEFT}(?:[ '\"\u05be-]*{_TO_THE_LEFT})*")
# UAX 9: a mark from left to right, and what opens and closes an isolate.
_LEFT_TO_RIGHT, _OPENS, _CLOSES = "\u200e", "\u2068", "\u2069"


def without_a_font(text: str, embedded: bool = True) -> frozenset[str]:
    """Those letters of the text that no font on this machine has.

    ``embedded`` counts the fonts that the typst wheel carries, which only Typst can use.
    None where Typst is not there to ask.
    """
    odd = set("".join(_ELSE.findall(text)))
    if not odd:
        return frozenset()
    known = _asked(embedded)
    more = sorted(odd - known.keys())
    if more:
        drawn = _drawn(more, embedded)
        known.update(zip(more, drawn, strict=True))
    return frozenset(letter for letter in odd if not known[letter])


@cache
def _asked(embedded: bool) -> dict[str, bool]:
    """Which letters have been asked for, and whether a font has them; filled in as they come."""
    del embedded
    return {}


@cache
def _fonts(embedded: bool) -> Any:
    import typst

    return typst.Fonts(include_embedded_fonts=embedded)


def _drawn(letters: list[str], embedded: bool) -> list[bool]:
    """Whether a font draws each letter: set on pages of their own, beside what is no letter."""
    try:
        import typst
    except ImportError:
        return [True] * len(letters)
    asked = (_NO_LETTER, *letters)
    try:
        made = typst.compile(
            _PAGES.encode(),
            format="svg",
            sys_inputs={"data": json.dumps(asked)},
            font_paths=_fonts(embedded),
            timestamp=0,
        )
    except RuntimeError:  # they are set as they are; Typst says elsewhere what is amiss
        return [True] * len(letters)
    pages: list[bytes] = made if isinstance(made, list) else []
    found = [re.findall(r"<(?:use|image)\b[^>]*", page.decode()) for page in pages if page]
    if len(found) != len(asked):
        return [True] * len(letters)
    none, *each = found
    return [bool(one) and one != none for one in each]


def readable(text: str, embedded: bool = True) -> tuple[str, dict[str, str]]:
    """The text with each word that has letters without a font in Latin letters instead.

    Gives also which words those are, each with what is written for it.
    """
    lacking = without_a_font(text, embedded)
    if not lacking:
        return text, {}
    written: dict[str, str] = {}

    def latin(found: re.Match[str]) -> str:
        word = found.group()
        if lacking.isdisjoint(word):
            return word
        return written.setdefault(word, _in_latin(word))

    return _ELSE.sub(latin, text), written


# Hangul syllables: their romanisation begins each with a capital, which parts no words.
_SYLLABLE = re.compile("[\uac00-\ud7a3]")


def _in_latin(word: str) -> str:
    from anyascii import anyascii

    said = "".join(_of_letter(letter, anyascii(letter)) for letter in word)
    return re.sub(r"""[<>&"'\\]""", "’", said).strip()  # none of it means anything to a printer


def _of_letter(letter: str, latin: str) -> str:
    return (latin.lower() if _SYLLABLE.match(letter) else latin) or f"[U+{ord(letter):04X}]"


def told(written: Mapping[str, str], *, on_paper: bool) -> str:
    """A sentence on the words that are written otherwise; on paper they cannot be shown."""
    pairs = [latin if on_paper else f"“{word}” as “{latin}”" for word, latin in written.items()]
    return (
        "No font here has all the letters of the file, so these words are written in Latin "
        f"letters: {listed(list(dict.fromkeys(pairs)))}. The HTML of a paper and the SVG of a "
        "chart have the real letters."
    )


def runs_to_the_left(text: str) -> bool:
    """True where a text has letters that run from right to left."""
    return _ASIDE.search(text) is not None


def set_apart(text: str) -> str:
    """A line of ours that keeps its order, whatever words from right to left are in it.

    By the isolates of the Unicode Bidirectional Algorithm (UAX 9, section 2.4).
    """
    if text.isascii() or not runs_to_the_left(text):
        return text
    return _LEFT_TO_RIGHT + _ASIDE.sub(lambda found: _OPENS + found.group() + _CLOSES, text)
