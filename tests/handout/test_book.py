"""A book of procedures: its contents, its pages, and what it never overwrites."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest
from papers import EXAMPLES, METRIC, loaded
from pypdf import PdfReader

from procedure import read
from procedure.command.main import main
from procedure.handout.book import entry
from procedure.handout.book_words import colours_made, colours_named, sources
from procedure.handout.swatches import shade_of

SAFETY = EXAMPLES[0].parent / "faulty" / "safety.dye"
TANSY = next(path for path in EXAMPLES if path.stem == "tansy-gold-and-moss")


@pytest.fixture(scope="module")
def dyes(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder of two sound procedures and one that has errors; read once for the site."""
    folder = tmp_path_factory.mktemp("dyes") / "our-dyes"
    folder.mkdir()
    for path in (TANSY, TANSY.with_name("first-onion-skins.dye"), SAFETY):
        shutil.copy(path, folder)
    return folder


@pytest.fixture(scope="module")
def site(dyes: Path, tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    """The pages of the site, by their names."""
    out = tmp_path_factory.mktemp("site") / "site"
    assert main(["book", str(dyes), "-o", str(out)]) == 1  # a draft is in it
    return {page.name: page.read_text("utf-8") for page in out.iterdir()}


def test_a_site_is_plain_files_that_lead_to_one_another(site: dict[str, str]) -> None:
    for text in site.values():
        assert "http:" not in re.sub(r'xmlns="[^"]*"', "", text) and "https:" not in text
        assert set(re.findall(r'href="([^"#]+)"', text)) <= set(site)
    index = site["index.html"]
    # All that one looks for is there: the titles, the plants, the colours, the fibres, the words.
    for said in (
        "Our dyes",
        "Tansy gold and moss green",
        ">tansy<",
        ">yellow<",
        ">green<",
        ">wool<",
        "<dt>mordant</dt>",
    ):
        assert said in index, said
    assert "tansy-gold-and-moss-card.html" in index
    assert "Mairet" in site["tansy-gold-and-moss.html"]


def test_a_draft_is_listed_apart_and_in_no_index(site: dict[str, str]) -> None:
    index = site["index.html"]
    drafts = index.index("Drafts with errors: nobody should work from these")
    assert index.index("Faulty safety") > drafts
    assert "Faulty safety" not in index[index.index("By plant") : index.index("Words of the trade")]


def test_a_new_book_may_take_the_place_of_an_older_one_only(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder, out = tmp_path / "dyes", tmp_path / "site"
    folder.mkdir()
    shutil.copy(TANSY.with_name("scour-fleece.dye"), folder)
    assert main(["book", str(folder), "-o", str(out)]) == 0
    assert main(["book", str(folder), "-o", str(out)]) == 0
    (out / "index.html").write_text("my own page", "utf-8")
    capsys.readouterr()
    assert main(["book", str(folder), "-o", str(out)]) == 2
    assert "holds other files" in capsys.readouterr().err
    assert (out / "index.html").read_text("utf-8") == "my own page"


def test_the_contents_of_a_printed_book_give_the_right_pages(dyes: Path, tmp_path: Path) -> None:
    out = tmp_path / "book.pdf"
    assert main(["book", str(dyes), "-o", str(out), "--title", "Our dyes"]) == 1
    read = PdfReader(out)
    pages = [page.extract_text() for page in read.pages]
    contents = " ".join(pages[0].split())
    for title, makes in (
        ("Golden onion skins", "a skein of golden brown wool"),
        ("Tansy gold and moss green", "two gold and two moss-green skeins from one tansy pot"),
    ):
        found = re.search(rf"{title} {makes} (\d+)", contents)
        assert found is not None
        assert pages[int(found[1]) - 1].startswith(title)
        assert f"{title}, {found[1]}" in contents  # in the indexes too
    marks = [
        (str(one["/Title"]), read.get_destination_page_number(one) or 0)
        for one in read.outline
        if not isinstance(one, list)
    ]
    assert marks[0] == ("Contents", 0) and marks[-1][0] == "Words and sources"
    tansy = dict(marks)["Tansy gold and moss green"]
    assert tansy and pages[tansy].startswith("Tansy gold and moss green")
    assert pages[-1].split()[-1] == str(len(pages))
    last = " ".join(" ".join(pages).split("Words of the trade")[-1].split())
    # The words are those of the papers ("discard" is none of them).
    assert "mordant a salt that ties a dye to the fibre" in last
    assert "foul drain the drain that leads" in last and "discard" not in last
    assert last.count("Project Gutenberg 50079") == 1


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["nowhere"], "is no folder"),
        (["{}", "-o", "book.doc"], "does not say what to make"),
        (["{}", "-o", "{}/nowhere/book.pdf"], "cannot be written"),
    ],
)
def test_what_cannot_be_made_is_one_sentence(
    dyes: Path, arguments: list[str], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    given = [one.replace("{}", str(dyes)) for one in arguments]
    assert main(["book", *given]) == 2
    error = capsys.readouterr().err
    assert said in error and error.count("\n") == 1


def test_a_source_of_several_methods_is_told_once() -> None:
    paths = [path for path in EXAMPLES if path.stem in ("first-onion-skins", "walnut-brown-wool")]
    said = sources([loaded(path) for path in paths])
    assert said[0] == "Common practice (Golden onion skins; Walnut brown on wool)"


@pytest.mark.parametrize(
    ("text", "colours"),
    [
        ("Tansy gold and moss-green wool", ("green", "yellow")),
        ("Gall and iron gray on linen", ("grey",)),
        ("Raven grey", ("grey",)),
        ("Madder orange in the hills", ("orange",)),
        ("odd wool in browns that go together", ("brown",)),
        ("Black walnut skeins, beside red onion and orange cosmos", ()),
        ("Degum silk", ()),
    ],
)
def test_a_text_names_its_colours(text: str, colours: tuple[str, ...]) -> None:
    assert colours_named(text) == colours


@pytest.mark.parametrize(
    ("makes", "colours"),
    [
        ("six skeins for the Green Lane dyers, in blue", ("blue",)),
        ("Green Lane skeins", ()),
        ("Green and gold skeins", ("green", "yellow")),
        ("Moss And Gold", ("green", "yellow")),
        ("a scarf. Brown at its ends", ("brown",)),
        ("plum bark on wool", ()),
        ("heather purple wool", ("purple",)),
    ],
)
def test_no_name_of_a_place_or_of_a_plant_is_a_colour(makes: str, colours: tuple[str, ...]) -> None:
    assert colours_made(makes, ("plum", "heather")) == colours


def test_the_index_by_colour_goes_by_what_is_made_and_not_by_a_title() -> None:
    """A walnut bath on wool is brown by the vocabulary, whatever its title names."""
    path = next(path for path in EXAMPLES if path.stem == "walnut-brown-wool")
    text = path.read_text("utf-8").replace("Walnut brown on wool", "Black walnut, Green Lane")
    made = entry(read(text.replace("a deep brown", "skeins"), "x.dye"), "x", METRIC)
    assert "Black walnut" in made.title and made.colours == ("brown",)


def test_an_estimate_is_among_the_colours_that_it_looks_like() -> None:
    made = loaded(next(path for path in EXAMPLES if path.stem == "six-lots-three-baths"))
    shade = shade_of(made, "plum")
    assert shade is not None and shade.estimate and shade.family == "purple"
