"""Letters of other scripts on papers: never a box, and never turning the words around them."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path
from xml.etree import ElementTree

import pytest
from pypdf import PdfReader

from procedure import read
from procedure.chart import draw
from procedure.command.main import main
from procedure.paper import in_html, in_pdf, letters
from procedure.paper.blocks import Paper, Para
from procedure.paper.measures import Voice
from procedure.paper.pieces import Words

METRIC = Voice("metric")
HEBREW, KOREAN, ARABIC = "שלום", "염색", "صوف"
# A place that Unicode leaves to private use for ever: no font has a letter there.
NEVER = "\U0010fffd"


def paper(*said: str) -> Paper:
    """A paper with these words of a writer, a line each."""
    head = tuple(Para((Words(one), ": wool, 20 g")) for one in said)
    return Paper((Words("A paper"),), METRIC, "handout", head, (), size="short")


@pytest.fixture
def no_korean(monkeypatch: pytest.MonkeyPatch) -> None:
    """A machine with no font for Korean, whatever the one that runs the tests has."""
    monkeypatch.setattr(
        letters, "without_a_font", lambda text, embedded=True: frozenset(text) & set(KOREAN)
    )


def test_a_letter_that_no_font_has_is_found_and_what_the_wheel_carries_is_not() -> None:
    """The fonts of the typst wheel have Latin and Cyrillic, and Hebrew in Libertinus Serif."""
    assert letters.without_a_font(f"Jürgen, кастрюля, {HEBREW} \ue000{NEVER}") >= {NEVER}
    assert not letters.without_a_font(f"wäscheß кастрюля {HEBREW} ½ “x” °C")


def test_a_word_without_a_font_is_in_latin_letters_and_told(no_korean: None) -> None:
    """Romanised as anyascii does: 염 yeom, 색 saeg (Revised Romanization: saek)."""
    said, written = letters.readable(f"{KOREAN}: weld, {HEBREW}")
    assert said == f"yeomsaeg: weld, {HEBREW}" and written == {KOREAN: "yeomsaeg"}
    told = letters.told(written, on_paper=False)
    assert f"“{KOREAN}” as “yeomsaeg”. The HTML of a paper" in told
    assert KOREAN not in letters.told(written, on_paper=True)


def test_every_word_that_is_written_otherwise_is_listed() -> None:
    """Ten words, and all ten are named: none is “and 6 more”."""
    words = {f"{KOREAN}{number}": f"yeomsaeg{number}" for number in range(10)}
    for on_paper in (True, False):
        said = letters.told(words, on_paper=on_paper)
        assert all(latin in said for latin in words.values()) and "more" not in said


def test_a_pdf_has_it_in_latin_letters_and_says_so(no_korean: None) -> None:
    text = PdfReader(BytesIO(in_pdf.printed(paper(KOREAN)))).pages[0].extract_text()
    assert "yeomsaeg: wool, 20 g" in text.replace("\xa0", " ")
    assert "written in Latin letters: yeomsaeg" in " ".join(text.split())


def test_nothing_that_is_written_instead_breaks_a_file(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(letters, "without_a_font", lambda text, embedded=True: set("〝『"))
    said, _ = letters.readable('"〝『"')
    assert said.count('"') == 2 and "\\" not in said and "<" not in said


def test_words_from_right_to_left_keep_their_place() -> None:
    """The isolates of UAX 9, and the element that HTML has for it."""
    assert letters.set_apart("Soak the wool in 6 L") == "Soak the wool in 6 L"
    assert letters.set_apart(f"{HEBREW}: silk") == f"\u200e\u2068{HEBREW}\u2069: silk"
    two = letters.set_apart(f"{HEBREW} {HEBREW}, {ARABIC}")
    assert two == f"\u200e\u2068{HEBREW} {HEBREW}\u2069, \u2068{ARABIC}\u2069"
    page = in_html.page(paper(HEBREW, "wool"))
    assert f"<bdi>{HEBREW}</bdi>: wool" in page and page.count("<bdi>") == 1


PLAN = f"""procedure "A test"
  by "Fellside Dye Circle"
fibre
  {HEBREW}: wool yarn, 100 g, scoured
equipment
  tub: plastic tub, 20 L
materials
  {KOREAN}: weld, dried
steps
  bath: prepare in tub with water 5 L, {KOREAN} 20 g at 30 °C
  dye {HEBREW} in bath at 30 °C for 1 h
"""


def test_a_chart_keeps_the_order_of_its_words_and_has_no_boxes(no_korean: None) -> None:
    made = read(PLAN, "x.dye")
    svg = draw(made, "svg")
    assert isinstance(svg, str)
    lines = ["".join(one.itertext()) for one in ElementTree.fromstring(svg).iter()]
    assert any(KOREAN in one for one in lines)  # who reads an SVG has fonts of their own
    assert any(f"\u2068{HEBREW}\u2069" in one for one in lines)
    written: dict[str, str] = {}
    pdf = draw(made, "pdf", written=written)
    assert isinstance(pdf, bytes) and written == {KOREAN: "yeomsaeg"}
    text = PdfReader(BytesIO(pdf)).pages[0].extract_text()
    assert "yeomsaeg: 20 g" in text and "written in Latin letters: yeomsaeg" in text


@pytest.mark.parametrize(
    ("command", "out"),
    [("chart", "x.pdf"), ("card", "x.pdf"), ("handout", "x.pdf"), ("chart", "x.svg")],
)
def test_what_is_written_otherwise_is_told_in_one_line(
    command: str,
    out: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    no_korean: None,
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("x.dye").write_text(PLAN, "utf-8")
    main([command, "x.dye", "-o", out])
    error = capsys.readouterr().err
    assert error.count("yeomsaeg") == (0 if out.endswith(".svg") else 1)
    assert "Traceback" not in error
