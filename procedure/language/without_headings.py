"""A text without the headings of its sections: which section a line at the margin belongs to."""

from __future__ import annotations

from itertools import takewhile

from procedure.findings import Says, say
from procedure.language.everyday_order import heads
from procedure.language.tree import Fault, Token
from procedure.language.words import BLOCK_WORDS
from procedure.vocabulary import vocabulary


def section_of(tokens: list[Token]) -> str:
    """The section that a line belongs to by its words; empty where they do not tell."""
    first = tokens[0]
    labelled = first.kind == "LABEL"
    said = [token.word.lower() for token in (tokens[1:] if labelled else tokens)]
    if not said:
        return ""
    two = " ".join(said[:2])
    if said[0] in heads() or two in heads() or (not labelled and said[0] in BLOCK_WORDS):
        return "steps"
    if not labelled:
        return ""
    return _declared_in(list(takewhile(lambda word: word != ",", said)))


def _declared_in(said: list[str]) -> str:
    """The section in which a thing is declared that is described so."""
    words = vocabulary()
    told = [" ".join(said[at : at + many]) for many in (3, 2, 1) for at in range(len(said))]
    if any(words.find(one, "vessel", "tool", "heater") is not None for one in told):
        return "equipment"
    if any(words.find(one, "fibres") is not None for one in told):
        return "fibre"
    a_metal = any(words.find(one, "metals") is not None for one in told)
    return "equipment" if a_metal and words.material(" ".join(said)) is None else "materials"


def no_heading(first: Token, section: str) -> Fault:
    """The fault of the first line whose heading is missing."""
    sentence = say(
        "“{word}” has no heading above it; it belongs to “{section}”.",
        word=first.text.rstrip(": "),
        section=section,
    )
    remedy = Says(
        "Write “fibre”, “equipment”, “materials” and “steps” each on a line of its own at the "
        "margin, and below it what belongs to it, each line with two blanks in front."
    )
    return Fault(first.line, first.column, first.to, sentence, remedy)
