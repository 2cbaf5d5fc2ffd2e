"""What a printed PDF really shows: whether signs are missing, whether steps are torn apart."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import Any
from unicodedata import normalize

from papers import in_words
from pypdf import PdfReader
from pypdf.generic import ContentStream

from procedure.batch.asked import SEEN
from procedure.handout.numbered_steps import NumberedStep
from procedure.paper.measures import Voice


def missing_glyphs(read: PdfReader) -> list[str]:
    """Places where glyph 0 of a font is shown, which is the box for a sign that it lacks."""
    found: list[str] = []
    for number, page in enumerate(read.pages, 1):
        fonts = page["/Resources"].get_object().get("/Font", {})  # type: ignore[union-attr]
        two_bytes = {
            name for name, font in fonts.items() if font.get_object()["/Subtype"] == "/Type0"
        }
        stream = page.get_contents()
        if stream is None:
            continue
        font = ""
        for operands, operator in ContentStream(stream, read).operations:
            if operator == b"Tf":
                font = str(operands[0])
            elif operator in (b"Tj", b"TJ") and font in two_bytes:
                found += [f"page {number}, {font}" for text in _strings(operands) if _zero(text)]
    return found


def _strings(operands: list[Any]) -> list[bytes]:
    parts = operands[0] if isinstance(operands[0], list) else [operands[0]]
    made: list[bytes] = []
    for part in parts:
        raw = getattr(part, "original_bytes", part)
        if isinstance(raw, bytes):
            made.append(raw)
    return made


def _zero(text: bytes) -> bool:
    return any(text[i : i + 2] == b"\0\0" for i in range(0, len(text) - 1, 2))


def blanks_apart(read: PdfReader, steps: tuple[NumberedStep, ...], voice: Voice) -> list[str]:
    """The steps whose blanks are on another page than their words."""
    text, pages = "", []
    for number, page in enumerate(read.pages):
        here = _bare(page.extract_text())
        text += here
        pages += [number] * len(here)
    saw = _bare(SEEN)
    apart: list[str] = []
    at = text.index(_bare("The steps"), text.index("Beforeyoustart") + 200)
    for step, asked in _printed(steps, asked=True):
        words = _bare(in_words(step.text, voice))
        start = text.index(words[:18], at)
        at = start + len(words[:18])
        if asked and step.blanks:
            blank = text.index(saw, start)
            if pages[blank] != pages[start]:
                apart.append(step.number)
            at = blank
    return apart


def _printed(steps: Iterable[NumberedStep], asked: bool) -> Iterator[tuple[NumberedStep, bool]]:
    """The steps as they are printed, each with whether its blanks are asked there.

    What is told once for several lots has its blanks behind it, for each lot.
    """
    for step in steps:
        yield step, asked
        yield from _printed(step.inner, asked and not step.turns)
        if asked:
            yield from _printed(step.turns, asked)


def _bare(text: str) -> str:
    """A text without spaces, and with the letters of a ligature (“ﬂeece”) one by one."""
    return re.sub(r"\s", "", normalize("NFKC", text))
