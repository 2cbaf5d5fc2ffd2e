"""Characters that a terminal, a log or a spreadsheet would act upon, shown instead.

What a person wrote (a name, words in quotation marks, the name of a file) may hold an escape
that clears the screen, a mark that turns the direction of the words around it, or a line end
that makes one finding look like two. Such a character is shown as ``<U+001B>``, its number in
Unicode; a byte of a file name that is not UTF-8 as ``<byte FF>``.
"""

from __future__ import annotations

import codecs
import re
from functools import cache

# Unicode 15: the control characters (category Cc) without line feed and tab, the separators of
# lines and paragraphs (Zl, Zp), what is not seen and turns or joins words (Cf; the two joiners of
# scripts and emoji are left, as they are needed to write), and halves of characters (Cs).
_RAW = (
    "\x00-\x08\x0b-\x1f\x7f-\x9f\u061c\u180e\u200b\u200e\u200f\u2028-\u202e\u2060-\u206f\ufeff"
    "\ufff9-\ufffb\U000e0001-\U000e007f\ud800-\udfff"
)
# How a byte of a file's name that is not UTF-8 is kept in a string (PEP 383).
_BYTES = range(0xDC80, 0xDD00)
# A spreadsheet takes a cell that begins so for a formula (OWASP, CSV Injection).
_FORMULA = ("=", "+", "-", "@", "\t", "\r")
# Marks of ours that a terminal of another character set lacks, and what is written there instead.
_PLAIN = {
    "“": '"', "”": '"', "‘": "'", "’": "'", "–": "-", "—": "-", "−": "-", "…": "...",
    "×": "x", "½": " 1/2", "¼": " 1/4", "¾": " 3/4", "µ": "u", "℃": " C", "℉": " F", "•": "*",
    "→": "->", "≤": "<=", "≥": ">=", "°": " deg ", "\u00a0": " ", "\u202f": " ", "\u2009": " ",
}  # fmt: skip


@cache
def raw_characters(also: str = "") -> re.Pattern[str]:
    """What finds a raw character, or one of ``also``: slow to build, and seldom needed."""
    return re.compile(f"[{also}{_RAW}]")


def visible(text: str) -> str:
    """A text of several lines with nothing raw in it."""
    # What Python calls printable is never raw: most text needs no closer look.
    if all(line.isprintable() for line in text.split("\n")):
        return text
    return raw_characters().sub(_shown, text)


def one_line(text: str) -> str:
    """A name or a sentence with nothing raw in it, line ends and tabs neither."""
    return text if text.isprintable() else raw_characters("\n\t").sub(_shown, text)


def cell(value: object) -> object:
    """A cell of a table: nothing raw in it, and never a formula."""
    if not isinstance(value, str):
        return value
    return f"'{one_line(value)}" if value.startswith(_FORMULA) else one_line(value)


def escaped(json: str) -> str:
    """JSON that means the same, with what is raw in its strings written as ``\\uXXXX``."""
    if all(line.isprintable() for line in json.split("\n")):
        return json
    return raw_characters().sub(_as_json, json)


def _shown(found: re.Match[str]) -> str:
    number = ord(found.group())
    if number in _BYTES:
        return f"<byte {number - 0xDC00:02X}>"
    return f"<U+{number:04X}>"


def _as_json(found: re.Match[str]) -> str:
    units = found.group().encode("utf-16-be", "surrogatepass")
    return "".join(f"\\u{units[at : at + 2].hex()}" for at in range(0, len(units), 2))


def _plainer(error: UnicodeError) -> tuple[str, int]:
    """What is written in place of characters that a terminal's character set lacks."""
    if not isinstance(error, UnicodeEncodeError):
        raise error
    lacking = error.object[error.start : error.end]
    return "".join(_PLAIN.get(one, f"<U+{ord(one):04X}>") for one in lacking), error.end


codecs.register_error("plainer", _plainer)
