"""One amount, one spelling: every paper of a plan prints them the same way."""

from __future__ import annotations

import csv
import json
import re
from fractions import Fraction
from pathlib import Path

import pytest

import procedure
from procedure import Plan, read
from procedure.command.voice import voice_of
from procedure.handout import (
    as_paper,
    bench,
    contents,
    labels,
    labels_paper,
    record_sheet,
    shade_card,
    short,
)
from procedure.paper import in_markdown, in_text
from procedure.paper.blocks import Paper
from procedure.paper.measures import Voice
from procedure.report import shopping_text, weigh_json, weigh_text
from procedure.weigh.shopping import errands
from procedure.weigh.weighing import weigh
from procedure.wording.reader import of_system

EXAMPLES = Path(__file__).parents[2] / "examples"
METRIC = Voice("metric", "british", of_system("metric"))
ROOM = Path(procedure.__file__).parent
POUNDS = """procedure "Sad shades by the pound"
  by "Ash"
  revised 2026-10-01
  source "common practice"
  makes "two lots"
  place outdoors
  wearing gloves, eye protection

fibre
  yarn: wool yarn, 1 lb, 4 skeins, scoured

equipment
  pot: stainless steel pot, 6 US gal, lidded, for dyeing only
  sad-pot: stainless steel pot, 6 US gal, for dyeing only
  third-pot: stainless steel pot, 6 US gal, for dyeing only
  tub: plastic tub, 6 US gal, for dyeing only
  hob: hotplate, 2 kW
  bag: net bag, for dyeing only
  line: drying rack

materials
  alum: aluminium sulphate
  weld: weld, dried
  iron: ferrous sulphate
  blue-stone: copper sulphate
  soap: neutral soap
  spare: citric acid


steps
  wet out yarn in tub with water 4 US gal at 85 °F for 1 h
  alum-bath: prepare in pot with water 3 1/2 US gal, alum 12 % of yarn at 100 °F
  mordant yarn in alum-bath from 100 °F to 185 °F over 45 min for 1 h
  cool alum-bath to 85 °F overnight covered labelled
  rinse yarn in tub with water 4 US gal at 85 °F until "the water runs clear"
  discard alum-bath to "foul drain"
  clean pot
  bath: prepare in pot with water 3 1/2 US gal, weld 8 oz
  simmer bath at 185 °F for 1 h covered
  cool bath to 100 °F
  strain bath through bag
  dye yarn in bath from 100 °F to 180 °F over 45 min for 45 min
  cool bath to 120 °F
  sad-bath: prepare in sad-pot with water 2 US gal, iron 0.08 oz at 120 °F
  modify yarn in sad-bath at 120 °F for 10 min
  copper-bath: prepare in third-pot with water 2 US gal, blue-stone 2 % of yarn at 120 °F
  modify yarn in copper-bath at 120 °F for 10 min
  wash yarn in tub with water 4 US gal, soap 1/4 oz at 95 °F
  dry yarn
  discard sad-bath to "foul drain, well watered down; never the garden"
  discard copper-bath to "hazardous waste collection"
  discard bath to "foul drain"
  clean pot, sad-pot, third-pot
"""


def british() -> set[str]:
    with (ROOM / "wording" / "spellings.csv").open(encoding="utf-8", newline="") as lines:
        return {row["british"] for row in csv.DictReader(lines)}


def as_text(made: Paper) -> str:
    """A paper as Markdown, without its sources (a title is printed as it is)."""
    text = in_markdown.printed(made).decode().replace("\u00a0", " ")
    return text.split("## Sources")[0]


@pytest.fixture(scope="module")
def pounds() -> Plan:
    return read(POUNDS, "pounds.dye")


@pytest.fixture(scope="module")
def papers(pounds: Plan) -> dict[str, str]:
    voice = voice_of(pounds, None)
    weighing = weigh(pounds)
    estimates = weigh_text.Estimates([], [], [])
    asked = weigh_text.Request((), None, ())
    assert voice.reader is not None
    shop = shopping_text.report(errands(pounds, weighing, {}), "Sad shades", voice)
    sheet = weigh_text.report(weighing, [], estimates, asked, voice.units, reader=voice.reader)
    chart = pounds.chart()
    assert isinstance(chart, str)
    made = {
        "handout": short.paper(pounds, voice),
        "long": as_paper.paper(contents.contents(pounds, voice)),
        "bench": bench.paper(bench.bench(pounds, voice)),
        "record": record_sheet.paper(pounds, voice),
        "labels": labels_paper.paper(labels.labels(pounds, voice)),
        "card": shade_card.paper(pounds, voice),
    }
    plain = {"weigh": sheet, "shop": shop, "chart": re.sub(r"<[^>]+>", " ", chart)}
    return {name: as_text(paper) for name, paper in made.items()} | plain


def test_american_words_in_every_paper_of_a_plan_in_us_units(papers: dict[str, str]) -> None:
    words = british()
    assert {"sulphate", "fibre", "grey", "labelled", "aluminium"} <= words
    for name, text in papers.items():
        found = [word for word in re.findall(r"[^\W\d_]+", text) if word.lower() in words]
        assert found == [], name
    for name in ("handout", "long", "bench", "record", "labels", "weigh", "shop", "chart"):
        assert "sulfate" in papers[name], name


def test_what_the_writer_calls_a_thing_is_not_respelt() -> None:
    text = POUNDS.replace("sad-bath", "grey-bath").replace("sad-pot", "grey-pot")
    made = read(text, "pounds.dye")
    voice = voice_of(made, None)
    told = as_text(short.paper(made, voice))
    assert "grey bath" in told and "gray" not in told
    chart = made.chart()
    assert isinstance(chart, str) and "grey-bath" in chart and "gray" not in chart


def test_a_small_amount_is_the_same_in_every_paper(papers: dict[str, str]) -> None:
    """Two figures of an ounce and the grams beside it: 0.08 oz of iron is 2.3 g (1 oz = 28.35 g,
    NIST SP 811, B.8)."""
    for name in ("handout", "bench", "weigh", "shop"):
        assert "0.08 oz (2.3 g)" in papers[name], name
        assert "0.1 oz" not in papers[name], name


def test_a_weight_is_the_same_in_every_paper(papers: dict[str, str]) -> None:
    """12 % of a pound are 1.92 oz, which a scale in tenths tells as 1.9; 2 % are 0.32 oz."""
    for name in ("handout", "bench", "weigh", "shop"):
        assert "1.9 oz" in papers[name] and "1.92" not in papers[name], name
        assert "0.32 oz (9.1 g)" in papers[name], name


def test_water_in_all_is_what_a_person_would_measure() -> None:
    """Above twenty litres to the half, above a hundred to the whole litre; JSON has it exactly."""
    assert METRIC.amount("volume", Fraction("155.4"), Fraction("155.4")) == "155\u00a0L"
    assert METRIC.amount("volume", Fraction("46.23"), Fraction("46.23")) == "46\u00a0L"
    assert METRIC.amount("volume", Fraction("13.63"), Fraction("13.63")) == "13.6\u00a0L"
    made = procedure.load(EXAMPLES / "plans" / "six-lots-three-baths.dye")
    weighing = weigh(made)
    (water,) = [total for total in weighing.totals if total.how == "draw"]
    assert water.low == water.high == Fraction("155.4")
    told = json.loads(weigh_json.report(weighing, [], weigh_text.Estimates([], [], []),
                                        weigh_text.Request((), None, ())))  # fmt: skip
    (drawn,) = [total for total in told["totals"] if total["how"] == "draw"]
    assert Fraction(drawn["amount"]["low"]) == Fraction("155.4")
    assert drawn["printed"][0]["text"] == "155 L"  # as on the handout


def test_what_is_amiss_with_the_text_alone_is_not_for_who_works_from_it(
    papers: dict[str, str],
) -> None:
    assert "spare" not in papers["handout"].split("## What you need")[0]
    assert "never used" not in papers["handout"]
    assert "The checker has more to say to whoever wrote this method." in papers["handout"]


def test_many_pots_are_a_short_list_those_alike_together(papers: dict[str, str]) -> None:
    said = papers["handout"]
    assert "sad pot and third pot (each: 6 US gal stainless steel pot)" in said
    assert "tub (6 US gal plastic tub)" in said


def test_a_name_with_a_capital_has_it_on_every_paper() -> None:
    plan = procedure.read(
        'procedure "Hedge red"\nfibre\n  yarn: wool yarn, 100 g, scoured\nequipment\n'
        "  kettle: stainless steel pot, 15 L, for dyeing only\nmaterials\n"
        "  wort: st john's wort, dried\nsteps\n"
        "  bath: prepare in kettle with water 5 L, wort 200 g\n  put yarn in bath\n"
        "  lift yarn from bath\n  dry yarn\n",
        "example.dye",
    )
    for said in (
        in_text.page(short.paper(plan, METRIC)),
        in_text.page(bench.paper(bench.bench(plan, METRIC))),
        in_text.page(labels_paper.paper(labels.labels(plan, METRIC))),
        in_text.page(as_paper.paper(contents.contents(plan, METRIC))),
    ):
        assert "St John's wort" in said and "st john" not in said


def test_the_shop_is_told_no_nickname_that_is_the_name() -> None:
    """A hyphen is the language's, not the shop's."""
    text = (
        POUNDS.split("\nfibre")[0]
        + """
fibre
  yarn: wool yarn, 100 g, scoured
equipment
  pot: stainless steel pot, 15 L, lidded, for dyeing only
materials
  copper-sulphate: copper sulphate
  blue-salt: ferrous sulphate
steps
  b: prepare in pot with water 3 L, copper-sulphate 1 g, blue-salt 1 g
"""
    )
    plan = read(text, "salts.dye")
    said = shopping_text.report(errands(plan, weigh(plan), {}), "Salts", Voice("metric"))
    assert "copper sulphate: 1 g" in said
    assert "ferrous sulphate (called blue salt): 1 g" in said
