"""Handouts for the tests: of examples, and of a few lines."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import procedure
from procedure import Plan
from procedure.handout.as_paper import paper
from procedure.handout.contents import Contents, contents, telling_of
from procedure.handout.numbered_steps import NumberedStep, tell
from procedure.paper import in_html, in_markdown, in_pdf
from procedure.paper.measures import Voice
from procedure.paper.pieces import Blank, Figure, Phrase, Words
from procedure.rules.example_kit import whole

METRIC = Voice("metric")
_EXAMPLES = Path(__file__).parents[1] / "examples"
EXAMPLES = sorted([*_EXAMPLES.glob("*.dye"), *_EXAMPLES.glob("plans/*.dye")])


@cache
def loaded(path: Path) -> Plan:
    """An example, read once for all tests; a plan is never changed."""
    return procedure.load(path)


@cache
def contents_of(path: Path) -> Contents:
    """What the handout of an example says in metric units, made once for all tests."""
    return contents(loaded(path), METRIC)


def plan_of(example: str) -> Plan:
    """A few lines as a whole procedure."""
    return procedure.read(whole(example), "example.dye")


def in_words(said: Phrase, voice: Voice = METRIC) -> str:
    """A phrase as one line, blanks as ____, hard spaces as spaces."""
    made = ""
    for piece in said:
        if isinstance(piece, Words):
            made += piece.text
        elif isinstance(piece, Figure):
            made += voice.amount(piece.kind, piece.low, piece.high, piece.about)
        elif isinstance(piece, Blank):
            made += f"____ {piece.unit}".rstrip()
        else:
            made += voice.spelt(piece)
    return made.replace("\u00a0", " ")


def told(example: str, voice: Voice = METRIC) -> list[str]:
    """The steps of an example as a handout tells them, inner steps after their block."""
    steps: tuple[NumberedStep, ...] = tell(telling_of(plan_of(example), voice))
    return [in_words(one.text, voice) for step in steps for one in step.every()]


def html_of(made: Contents) -> str:
    """The handout as a page."""
    return in_html.page(paper(made))


def markdown_of(made: Contents) -> str:
    """The handout as Markdown."""
    return in_markdown.page(paper(made))


def pdf_of(made: Contents, size: str = "a4") -> bytes:
    """The handout as PDF."""
    return in_pdf.printed(paper(made), size)


def handout(example: str, voice: Voice = METRIC) -> Contents:
    """The contents of a handout of an example."""
    return contents(plan_of(example), voice)
