"""What each word of a text is, for its colour: by the same reading as the checker's."""

from __future__ import annotations

from functools import partial
from itertools import chain

from procedure.language import Lines, Token
from procedure.quantity.record import NamedTuple
from procedure.service.spots import Spot, spots

# What editors know words as. A finer name than these would have no colour in most of them.
KINDS = ("comment", "keyword", "function", "string", "number", "variable", "type", "decorator")
_BY_TOKEN = {
    "VERB": "function",
    "STRING": "string",
    "OPEN_STRING": "string",
    "NUMBER": "number",
    "DATE": "number",
    "UNIT": "type",
    "HEAT": "type",
    "WAIT": "type",
    "LOOSE": "type",
    "UNSTATED": "type",
    "ABOUT": "type",
    "BASIS": "type",
    "MANNER": "decorator",
    "LABEL": "variable",
    "NAME": "variable",
    "SECTION": "keyword",
    "PROCEDURE": "keyword",
}
_NO_COLOUR = frozenset(("COMMA", "COLON", "LPAR", "RPAR", "EQUAL", "ODD", "WORD", "RANGE"))


class Coloured(NamedTuple):
    """A stretch of one line and what it is, one of :data:`KINDS`."""

    line: int
    column: int
    to: int
    kind: str


# What the lines of the texts that were asked of last are: a keystroke changes one line.
_KEPT = Lines()


def coloured(text: str) -> tuple[Coloured, ...]:
    """Every word that has a colour, in the order of the text."""
    _KEPT.turn()
    return tuple(
        chain.from_iterable(
            _KEPT.once((one.number, one.raw, one.tokens), partial(_of_line, one))
            for one in spots(text)
        )
    )


def _of_line(line: Spot) -> tuple[Coloured, ...]:
    found = [
        Coloured(line.number, token.column, _end(token), kind)
        for token in line.tokens
        if (kind := _kind(token)) is not None
    ]
    comment = _comment(line)
    if comment:
        found.append(Coloured(line.number, comment, len(line.raw) + 1, "comment"))
    return tuple(found)


def _kind(token: Token) -> str | None:
    if token.kind in _NO_COLOUR:
        return None
    return _BY_TOKEN.get(token.kind, "keyword")


def _end(token: Token) -> int:
    return token.column + len(token.text.rstrip(": \t")) if token.kind == "LABEL" else token.to


def _comment(line: Spot) -> int:
    """The column where a comment begins, or 0: a mark inside quotation marks begins none."""
    start = line.tokens[-1].to - 1 if line.tokens else 0
    at = line.raw.find("#", start)
    return at + 1 if at >= 0 else 0
