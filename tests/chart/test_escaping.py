"""What a writer wrote appears letter for letter, whatever it is."""

from __future__ import annotations

import io
from xml.etree import ElementTree

import pytest
from drawn import HEAD, plan
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader

from procedure.chart.dot import dot, escaped
from procedure.chart.lettering import clean, wrap
from procedure.chart.render import render
from procedure.chart.sheet import BoxedWords, Sheet

SVG = "{http://www.w3.org/2000/svg}"

HOSTILE = [
    '"<b>&\\n\\N',
    "<b>bold</b>",
    "<<b>bold</b>>",
    "\\N\\G\\E\\T\\H\\L\\l\\r\\n",
    "&amp; &lt; &#65; &eacute;",
    'a" ] evil [label="x',
    "a\\",
    'a\\"',
    "</text><script>alert(1)</script>",
    "]]> --> <!-- ${x} {{x}} %s",
    "|a|{b}|<port>",
    "grün 緑 зелёный ½",
]


def svg_texts(words: str) -> list[str]:
    """The texts in an SVG of a sheet that says some words."""
    sheet = Sheet(400, 100)
    sheet.write(BoxedWords("one", 0, 0, 400, (words,), 9))
    drawn = render(dot([sheet], words, 10), "svg")
    return [
        "".join(each.itertext()).replace("\u00a0", " ")
        for each in ElementTree.fromstring(drawn).iter(f"{SVG}text")
    ]


@pytest.mark.parametrize("words", HOSTILE)
def test_svg_shows_the_words_and_nothing_else(words: str) -> None:
    assert svg_texts(words) == [words]


@settings(max_examples=60, deadline=None)
@given(st.text(min_size=1, max_size=40))
def test_svg_shows_any_text(words: str) -> None:
    shown = clean(words)
    if not shown.strip():
        return
    assert svg_texts(words) == [shown.replace("\u00a0", " ")]


@pytest.mark.parametrize("words", [words for words in HOSTILE if words.isascii()])
def test_pdf_shows_the_words(words: str) -> None:
    sheet = Sheet(400, 100)
    sheet.write(BoxedWords("one", 0, 0, 400, (words,), 9))
    pages = PdfReader(io.BytesIO(render(dot([sheet], words, 10), "pdf"))).pages
    said = "".join(page.extract_text() for page in pages)
    assert "".join(words.split()) in "".join(said.split())


@pytest.mark.parametrize("words", HOSTILE)
def test_png_is_drawn(words: str) -> None:
    sheet = Sheet(400, 100)
    sheet.write(BoxedWords("one", 0, 0, 400, (words,), 9))
    assert render(dot([sheet], words, 10), "png", 72).startswith(b"\x89PNG")


def test_a_whole_procedure_of_hostile_words() -> None:
    words = "<b>&\\n\\N</b> &amp; <!-- \\l"
    text = HEAD.format(title=words) + (
        "fibre\n  yarn: wool yarn, 100 g, scoured\n"
        "equipment\n  tub: plastic tub, 20 L, for dyeing only\n"
        f'steps\n  do "{words}" with yarn\n'
        f'  if "{words}"\n    rinse yarn in tub with water 5 L until "{words}"\n'
        f'  dry yarn note "{words}"\n'
    )
    made = plan(text)
    svg = made.chart(form="svg")
    assert isinstance(svg, str)
    root = ElementTree.fromstring(svg)
    assert root.findtext(f"{SVG}title") == words
    assert {each.tag.removeprefix(SVG) for each in root.iter()} <= {
        "svg", "g", "path", "polygon", "polyline", "ellipse", "text", "title", "desc",
    }  # fmt: skip
    said = " ".join("".join(each.itertext()) for each in root.iter(f"{SVG}text"))
    said = " ".join(said.replace("\u00a0", " ").split())
    assert said.count("<b>&\\n\\N</b>") == 5
    for form in ("png", "pdf", "dot"):
        assert made.chart(form=form)


def test_the_graphviz_package_keeps_what_is_escaped() -> None:
    assert escaped("a\\N&b") == "a\\\\N&amp;b"


@pytest.mark.parametrize(
    ("written", "printed"),
    [
        ("a\x00b\x1bc", "a\ufffdb\ufffdc"),
        ("line\nfeed\ttab", "line feed tab"),
        ("safe\u202eevil", "safe\ufffdevil"),
        ("\ufffe", "\ufffd"),
        ("é ½ °C", "é ½ °C"),
    ],
)
def test_what_no_paper_can_carry_becomes_a_mark(written: str, printed: str) -> None:
    assert clean(written) == printed


@given(st.text(max_size=300), st.floats(min_value=20, max_value=300))
def test_wrapping_loses_nothing(text: str, room: float) -> None:
    assert "".join("".join(wrap(text, room, 9)).split()) == "".join(text.split())


def test_a_number_stays_with_its_unit() -> None:
    lines = wrap("water: 30 : 1 of yarn = 7.2 L", 118, 8.5)
    assert len(lines) > 1
    assert any("= 7.2 L" in line for line in lines)
