"""A book of procedures: its contents, its pages, and what it never overwrites."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest
from papers import EXAMPLES
from pypdf import PdfReader

from procedure.command.main import main

TANSY = next(path for path in EXAMPLES if path.stem == "tansy-gold-and-moss")
NAMES = ("tansy-gold-and-moss.dye", "madder-red-wool.dye", "shade-card-madder.dye")


@pytest.fixture
def dyes(tmp_path: Path) -> Path:
    folder = tmp_path / "our-dyes"
    folder.mkdir()
    for name in NAMES:
        shutil.copy(TANSY.with_name(name), folder)
    return folder


def test_a_site_is_plain_files_that_lead_to_one_another(dyes: Path, tmp_path: Path) -> None:
    site = tmp_path / "site"
    assert main(["book", str(dyes), "-o", str(site)]) == 0
    pages = {page.name: page.read_text("utf-8") for page in site.iterdir()}
    for text in pages.values():
        assert "http:" not in re.sub(r'xmlns="[^"]*"', "", text) and "https:" not in text
        assert set(re.findall(r'href="([^"#]+)"', text)) <= set(pages)
    index = pages["index.html"]
    # All that one looks for is there: the titles, the plants, the colours, the fibres, the words.
    for said in (
        "Our dyes",
        "Madder red on wool",
        ">tansy<",
        ">red<",
        ">wool<",
        "<dt>mordant</dt>",
    ):
        assert said in index, said
    assert "Mairet" in index and "madder-red-wool.html" in index
    assert main(["book", str(dyes), "-o", str(site)]) == 0  # a new book may take its place


def test_a_folder_with_other_files_is_left_alone(
    dyes: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    mine = tmp_path / "mine"
    mine.mkdir()
    (mine / "index.html").write_text("my own page", "utf-8")
    assert main(["book", str(dyes), "-o", str(mine)]) == 2
    assert "holds other files" in capsys.readouterr().err
    assert (mine / "index.html").read_text("utf-8") == "my own page"


def test_the_contents_of_a_printed_book_give_the_right_pages(dyes: Path, tmp_path: Path) -> None:
    out = tmp_path / "book.pdf"
    assert main(["book", str(dyes), "-o", str(out), "--title", "Our dyes"]) == 0
    pages = [page.extract_text() for page in PdfReader(out).pages]
    contents = " ".join(pages[0].split())
    for title, makes in (
        ("Madder red on wool", "400 g of warm red wool"),
        ("Tansy gold and moss green", "two gold and two moss-green skeins from one tansy pot"),
    ):
        found = re.search(rf"{title} {makes} (\d+)", contents)
        assert found is not None
        assert pages[int(found[1]) - 1].startswith(title)
    bookmarks = [str(one["/Title"]) for one in PdfReader(out).outline if isinstance(one, dict)]
    assert bookmarks[0] == "Contents" and bookmarks[-1] == "Words and sources"


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["nowhere"], "is no folder"),
        (["{}", "-o", "book.doc"], "does not say what to make"),
        (["{}/..", "-o", "{}/{}.pdf"], "cannot be written"),
    ],
)
def test_what_cannot_be_made_is_one_sentence(
    dyes: Path, arguments: list[str], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    given = [one.replace("{}", str(dyes)) for one in arguments]
    assert main(["book", *given]) == 2
    error = capsys.readouterr().err
    assert said in error and error.count("\n") == 1
