"""PDFs as they are printed: no sign missing, no step torn from its blanks, fonts inside."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from papers import EXAMPLES, loaded, pdf_of, plan_of
from printed import blanks_apart, missing_glyphs
from pypdf import PdfReader
from sampling import sampled

from procedure.command.voice import voice_of
from procedure.handout import labels_paper, short
from procedure.handout.contents import contents
from procedure.handout.labels import labels
from procedure.paper import in_pdf
from procedure.paper.measures import Voice

BOTH = Voice("both")


CASES = sampled([(path, size) for path in EXAMPLES for size in ("a4", "letter")], 16)


@pytest.mark.parametrize(
    ("path", "size"), CASES, ids=lambda given: given.stem if isinstance(given, Path) else given
)
def test_every_example_prints_whole(path: Path, size: str) -> None:
    made = contents(loaded(path), BOTH)
    read = PdfReader(io.BytesIO(pdf_of(made, size)))
    assert missing_glyphs(read) == []
    assert blanks_apart(read, made.work.steps, BOTH) == []
    # A4 is 210 mm by 297 mm (ISO 216), Letter 8.5 in by 11 in (ANSI/ASME Y14.1), at 72 pt an inch.
    wide, tall = {"a4": (595, 842), "letter": (612, 792)}[size]
    assert all(abs(float(page.mediabox.width) - wide) < 1 for page in read.pages)
    assert all(abs(float(page.mediabox.height) - tall) < 1 for page in read.pages)


def test_a_missing_sign_would_be_seen(monkeypatch: pytest.MonkeyPatch) -> None:
    # An unassigned code point, which no font has, where it is not written otherwise before.
    monkeypatch.setattr(in_pdf, "_with_fonts", lambda data: data)
    plan = plan_of('dry yarn note "here \U0003fffd there"')
    made = contents(plan, BOTH)
    assert missing_glyphs(PdfReader(io.BytesIO(pdf_of(made)))) != []


def test_it_is_a_tagged_document_with_a_title_and_a_language() -> None:
    read = PdfReader(io.BytesIO(pdf_of(contents(plan_of("dry yarn"), BOTH))))
    assert read.metadata is not None and read.metadata.title == "An example"
    assert read.trailer["/Root"]["/MarkInfo"]["/Marked"]  # type: ignore[index]
    assert str(read.trailer["/Root"]["/Lang"]).startswith("en")  # type: ignore[index]


def test_labels_say_what_is_in_the_jar_and_not_for_food() -> None:
    plan = plan_of("a: prepare in kettle with water 3 L, tansy 100 g, chrome 3 g")
    text = (
        PdfReader(io.BytesIO(in_pdf.printed(labels_paper.paper(labels(plan, BOTH)))))
        .pages[0]
        .extract_text()
    )
    # On each of them, a label that goes on upon a second counting as two: one for the tops
    # and the bath that holds both, two for the chrome.
    text = " ".join(text.split())
    assert text.count("NOT FOR FOOD") == text.count("Read the supplier's") + 1 == 4
    assert "potassium dichromate" in text and "May cause cancer (H350)" in text


def pages_of(name: str, size: str = "a4") -> list[str]:
    """The words of each page of an example's short handout."""
    plan = loaded(next(path for path in EXAMPLES if path.stem == name))
    made = in_pdf.printed(short.paper(plan, voice_of(plan, None)), size)
    return [page.extract_text() for page in PdfReader(io.BytesIO(made)).pages]


def test_a_few_lines_more_than_a_page_are_set_closer() -> None:
    assert len(pages_of("gall-grey-linen")) == 1


@pytest.mark.parametrize(
    ("name", "size"), [("gall-grey-linen", "letter"), ("workshop-day", "a4"), ("old-gold", "a4")]
)
def test_what_goes_wrong_is_whole_on_one_page(name: str, size: str) -> None:
    # The head of a table that goes on overleaf is printed again.
    pages = pages_of(name, size)
    assert len(pages) > 1
    assert sum(page.count("what to do") for page in pages) == 1
    assert all(len(page.splitlines()) > in_pdf.FEW_LINES for page in pages)
