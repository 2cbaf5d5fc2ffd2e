"""Labels: one for each thing to keep, with its real name, and what the regulation asks for."""

from __future__ import annotations

import io

import pytest
from papers import EXAMPLES, METRIC, in_words, plan_of
from pypdf import PdfReader

import procedure
from procedure.handout.labels import SIZES, labels, paper
from procedure.paper import in_pdf, in_text

VAT = next(path for path in EXAMPLES if path.stem == "indigo-lime-and-copperas-vat")
DAY = next(path for path in EXAMPLES if path.stem == "workshop-day")


def test_the_real_name_is_the_title_and_the_nickname_is_small() -> None:
    made = labels(procedure.load(VAT), METRIC)
    titles = [in_words(one.title) for one in made.labels]
    assert titles == ["quicklime", "ferrous sulphate", "indigo", "sulphuric acid 96 %", "Vat"]
    assert [in_words(one.own) for one in made.labels[:2]] == ["lime", "copperas"]


def test_a_vat_says_what_is_really_in_it() -> None:
    vat = labels(procedure.load(VAT), METRIC).labels[-1]
    said = " ".join(in_words(line) for line in vat.lines)
    for word in ("quicklime", "ferrous sulphate", "indigo"):
        assert word in said


def test_there_is_one_label_for_each_thing_to_keep() -> None:
    # Eight tables wash with the same soap.
    titles = [in_words(one.title) for one in labels(procedure.load(DAY), METRIC).labels]
    assert titles.count("neutral soap") == 1
    assert len(titles) == len(set(titles))


def test_the_strength_stands_with_the_name() -> None:
    plan = plan_of(
        'procedure "x"\nmaterials\n  stock: potassium alum, solution 10 % by volume\nsteps\n'
        "  a: prepare in kettle with water 3 L, stock 10 mL"
    )
    assert in_words(labels(plan, METRIC).labels[0].title) == "potassium alum 10 %"


def test_a_label_has_what_article_17_asks_for() -> None:
    # Regulation (EC) No 1272/2008, Article 17(1): whose, what, pictograms, signal word,
    # hazard statements, precautionary statements.
    said = in_text.printed(paper(labels(procedure.load(VAT), METRIC))).decode()
    at = said.index("quicklime")
    label = said[at : said.index("ferrous sulphate")]
    for part in ("DANGER", "H318", "Eyes: rinse", "Not for food", "Fellside Dye Circle", "____"):
        assert part in label, part
    assert label.index("DANGER") < label.index("H318") < label.index("Eyes:")


@pytest.mark.parametrize("size", sorted(SIZES))
def test_a_sheet_holds_as_many_as_it_says(size: str) -> None:
    made = in_pdf.printed(paper(labels(procedure.load(VAT), METRIC), size))
    assert len(PdfReader(io.BytesIO(made)).pages) == 1
