"""What a procedure's writer wrote stays text in every format, whatever it is."""

from __future__ import annotations

import io
import re
from functools import cache
from html.parser import HTMLParser

import pytest
from papers import METRIC, html_of, markdown_of, pdf_of

import procedure
from procedure import Plan
from procedure.handout import bench, labels_paper
from procedure.handout.contents import contents
from procedure.handout.labels import labels
from procedure.paper import in_html, in_pdf
from procedure.paper.in_markdown import escaped

HOSTILE = [
    "<script>window.caught=1</script>",
    "<img src=x onerror=window.caught=1>",
    "</style><svg onload=window.caught=1>",
    "</script><script>window.caught=1//",
    "' onmouseover='window.caught=1",
    "javascript:window.caught=1",
    "[see](file:///etc/passwd) ![x](file:///etc/passwd)",
    "file:///etc/passwd http://an.example www.an.example a@an.example",
    "`code` **bold** _it_ ~~gone~~ | cell | $x$ <!-- -->",
    "# heading",
    "- item",
    "+ item",
    "1. item",
    "#read(sys.inputs.data) #image(bytes(1)) $sum$ @label <label> *b*",
    "\\u{41} \\n &amp; &lt; &#x41;",
    "=1+2",
    "{{7*7}} ${7*7} %s {0}",
    "\u202egnirts\u202c \u2066x\u2069",
]


@cache
def plan_with(text: str) -> Plan:
    """A procedure that says a text wherever free words may stand."""
    text = text.replace('"', "'")
    return procedure.read(
        f'''procedure "{text}"
  by "{text}"
  source "{text}"
  makes "{text}"
  licence "{text}"
  note "{text}"
  place outdoors
  wearing gloves

fibre
  yarn: wool yarn, "{text}", 100 g, scoured

equipment
  pot: steel pot, "{text}", 8 L, lidded, for dyeing only
  tub: plastic tub, 8 L, for dyeing only

materials
  skins: onion skins, dried, "{text}"

steps
  wet out yarn in tub with water 4 L for 1 h note "{text}"
  bath: prepare in pot with water 4 L, skins 50 g
  if "{text}"
    do "{text}" for 5 min
  dye yarn in bath at 80 °C until "{text}"
  rinse yarn in tub with water 4 L until "{text}"
  discard bath to "{text}"
  dry yarn
'''
    )


class _Tags(HTMLParser):
    """The elements and attributes of a page."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.attributes: list[tuple[str, str | None]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.attributes += attrs


def tags_of(page: str) -> _Tags:
    made = _Tags()
    made.feed(page)
    return made


@cache
def _pages(text: str) -> list[str]:
    plan = plan_with(text)
    return [
        html_of(contents(plan, METRIC)),
        in_html.page(bench.paper(bench.bench(plan, METRIC))),
        in_html.page(labels_paper.paper(labels(plan, METRIC))),
    ]


@pytest.mark.parametrize("text", HOSTILE)
def test_html_has_the_same_elements_whatever_is_written(text: str) -> None:
    for one, two in zip(_pages("plain"), _pages(text), strict=True):
        plain, other = tags_of(one), tags_of(two)
        assert other.tags == plain.tags
        for name, value in other.attributes:
            assert not name.startswith("on")
            if name in ("href", "src"):
                assert value is not None and re.match(r"#|data:image/svg\+xml;base64,", value)


@cache
def _tags_of_plain_markdown() -> list[str]:
    from markdown_it import MarkdownIt

    page = markdown_of(contents(plan_with("plain"), METRIC))
    return tags_of(MarkdownIt("gfm-like", {"linkify": False}).render(page)).tags


@pytest.mark.parametrize("text", HOSTILE)
def test_markdown_shows_the_letters_and_nothing_else(text: str) -> None:
    from html import unescape

    markdown_it = pytest.importorskip("markdown_it")
    page = markdown_of(contents(plan_with(text), METRIC))
    made = markdown_it.MarkdownIt("gfm-like", {"linkify": False}).render(page)
    assert tags_of(made).tags == _tags_of_plain_markdown()
    shown = unescape(re.sub(r"<[^>]+>", "", made))
    from procedure.paper.pieces import clean

    wanted = " ".join(clean(text.replace('"', "'")).split())
    assert " ".join(shown.replace("\u200b", "").split()).count(wanted) >= 8


def test_a_bare_address_does_not_become_a_link() -> None:
    markdown_it = pytest.importorskip("markdown_it")
    pytest.importorskip("linkify_it")
    said = escaped("file:///etc/passwd http://an.example www.an.example a@an.example")
    assert "<a" not in markdown_it.MarkdownIt("gfm-like").render(said)


@pytest.mark.parametrize("text", HOSTILE)
def test_pdf_prints_the_letters(text: str) -> None:
    from pypdf import PdfReader

    from procedure.paper.pieces import clean

    read = PdfReader(io.BytesIO(pdf_of(contents(plan_with(text), METRIC))))
    printed = "".join(page.extract_text() for page in read.pages)
    wanted = re.sub(r"\s|\u200b|\ufffd", "", clean(text.replace('"', "'")))
    got = re.sub(r"\s|\u200b|\ufffd", "", printed)
    assert got.count(wanted) >= 6
    annotations = [page.get("/Annots") for page in read.pages]
    assert not any(annotations)


@pytest.mark.parametrize("text", HOSTILE[:4])
def test_bench_sheet_and_labels_take_any_text(text: str) -> None:
    plan = plan_with(text)
    assert in_pdf.printed(bench.paper(bench.bench(plan, METRIC))).startswith(b"%PDF")
    assert in_pdf.printed(labels_paper.paper(labels(plan, METRIC))).startswith(b"%PDF")


def test_a_very_long_word_stays_on_the_page() -> None:
    from pypdf import PdfReader

    plan = plan_with("w" * 2000)
    read = PdfReader(io.BytesIO(pdf_of(contents(plan, METRIC))))
    printed = "".join(page.extract_text() for page in read.pages)
    assert printed.replace("\n", "").replace("\u200b", "").count("w" * 500) >= 1


def test_a_page_asks_for_nothing_from_elsewhere() -> None:
    page = html_of(contents(plan_with("plain"), METRIC))
    assert "default-src 'none'" in page
    assert not re.search(r"""(?:src|href)=["'](?!#|data:)""", page)
    assert "http://" not in page and "https://" not in page
