"""The handout, the bench sheet and the labels as PDF, set by Typst.

The layouts are ``paper.typ``, ``bench.typ`` and ``labels.typ``. They are given what is
to be printed as data, so whatever a procedure says is text and never becomes markup.
The fonts are those that the typst wheel carries, and the system's for signs that it lacks.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from procedure.handout.measures import Voice
from procedure.handout.sentences import Blank, Figure, Phrase, Words, clean

HERE = Path(__file__).parent
PAPERS = ("a4", "letter")
Run = dict[str, str]
Data = dict[str, Any]
# A word longer than this may be broken anywhere, so that it does not leave the page.
_LONG_WORD = re.compile(r"\S{30}(?=\S)")


class NotSet(Exception):
    """The PDF could not be set; the text says why."""


def text(said: str) -> Run:
    """A piece of text as data for a layout."""
    return {"text": _LONG_WORD.sub(lambda found: found.group() + "\u200b", clean(said))}


def runs(voice: Voice, said: Phrase) -> list[Run]:
    """A phrase as data for a layout: pieces of text and blanks to write in."""
    made: list[Run] = []
    for piece in said:
        if isinstance(piece, Blank):
            made.append({"blank": piece.unit})
        elif isinstance(piece, Figure):
            made.append(text(voice.amount(piece.kind, piece.low, piece.high, piece.about)))
        elif isinstance(piece, Words):
            made.append(text(piece.text))
        else:
            made.append(text(voice.spelt(piece)))
    return made


def typeset(layout: str, data: Mapping[str, object]) -> bytes:
    """A PDF of a layout file beside this one and its data. Raises :class:`NotSet`."""
    try:
        import typst
    except ImportError:
        raise NotSet("no Typst was found; “pip install typst” brings it") from None
    try:
        made = typst.compile(
            (HERE / layout).read_bytes(),
            format="pdf",
            sys_inputs={"data": json.dumps(data)},
            timestamp=0,
        )
    except RuntimeError as reason:
        raise NotSet(str(reason).splitlines()[0]) from None
    assert isinstance(made, bytes)
    return made
