"""The characters of one line of a record to words."""

from __future__ import annotations

import re

from procedure.language import Token

# A comma inside a number belongs to the number, so that the amount is refused as a whole.
_SHAPES = re.compile(
    r"""
    (?P<SPACE>\s+)
  | (?P<COMMENT>\#.*)
  | (?P<STRING>"[^"]*"|“[^”]*”)
  | (?P<OPEN_STRING>["“].*)
  | (?P<DATE>[0-9]{4}-[0-9]{2}-[0-9]{2}(?![0-9-]))
  | (?P<CLOCK>[0-9]{1,2}:[0-9]{2}(?::[0-9]{2})?(?![0-9:]))
  | (?P<BLANK>_+)
  | (?P<LABEL>[^\W\d_][^\W_]*(?:[-.][^\W_]+)*[ \t]*:(?=\s|$))
  | (?P<COMMA>,)
  | (?P<PIECE>[^\s,"“#]+(?:(?<=[0-9]),(?=[0-9])[^\s,"“#]+)*)
    """,
    re.VERBOSE,
)


def words_of(text: str, line: int) -> tuple[tuple[Token, ...], bool]:
    """The words of one line, and whether a comment ended it."""
    found: list[Token] = []
    at = 0
    while at < len(text):
        match = _SHAPES.match(text, at)
        if match is None:  # a lone mark such as a quotation mark that only closes
            found.append(Token("PIECE", text[at], line, at + 1))
            at += 1
            continue
        kind = match.lastgroup or "PIECE"
        if kind == "COMMENT":
            return tuple(found), True
        if kind == "LABEL" and found:  # a label begins a line and nothing else
            kind = "PIECE"
        if kind != "SPACE":
            found.append(Token(kind, match.group(), line, at + 1))
        at = match.end()
    return tuple(found), False


def unquoted(token: Token) -> str:
    """A string without its marks and with single spaces; other words as they stand."""
    text = token.text[1:-1] if token.kind == "STRING" else token.text
    return " ".join(text.split())
