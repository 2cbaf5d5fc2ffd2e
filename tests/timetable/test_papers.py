"""The timetable as text, CSV, JSON and drawing: complete, legible, by the schema."""

from __future__ import annotations

import csv
import io
import json
import re
from dataclasses import replace
from datetime import datetime
from itertools import combinations, pairwise
from pathlib import Path
from xml.etree import ElementTree

import jsonschema
import pytest
from example_work import day_of_eight, weekend

import procedure
from procedure.chart.lettering import width
from procedure.collection.opening_hours import Hours, times_of
from procedure.timetable import (
    Agenda,
    NoPlan,
    Timetable,
    Work,
    agenda,
    as_json,
    fitted,
    plan,
    reliefs,
    searching,
)
from procedure.timetable import rows_by_start as as_table
from procedure.timetable.by_day import report
from procedure.timetable.drawing import PAPERS, draw
from procedure.timetable.drawn_papers import finished
from procedure.timetable.from_plans import work_of
from procedure.timetable.planned_words import how_good
from procedure.timetable.terms import Asked

EXAMPLES = Path(__file__).parents[2] / "examples"
SVG = "{http://www.w3.org/2000/svg}"
SCHEMA = Path(as_json.__file__).with_name("timetable.schema.json")
LEAST_LETTERS = 7.0


def facts(work: Work) -> Agenda:
    made = plan(work)
    assert isinstance(made, Timetable)
    return agenda(made)


@pytest.fixture(scope="module")
def eight() -> Agenda:
    return facts(day_of_eight())


@pytest.fixture(scope="module")
def two() -> Agenda:
    return facts(weekend(pots=("kettle", "pot")))


def test_the_text_tells_each_step_once_and_each_night(two: Agenda) -> None:
    said = report(two)
    begun = re.findall(r"^  \d\d:\d\d +(\d+)  (?!over)", said, re.MULTILINE)
    assert set(begun) == {str(number) for number in two.numbers.values()}
    assert "Saturday 28 November, open 09:00 to 18:00" in said
    assert "Goes on when the place is closed: “let the alum bath cool overnight”" in said
    assert re.search(r"Be back at 09:0\d on Sunday", said)
    assert all(len(line) <= 92 for line in said.splitlines())


def test_the_table_has_a_row_for_each_step(eight: Agenda) -> None:
    rows = list(csv.DictReader(io.StringIO(as_table.report(eight))))
    assert [int(row["number"]) for row in rows] == list(range(1, len(rows) + 1))
    assert len(rows) == len(eight.made.work.activities)
    for row in rows:
        starts, ends = (datetime.fromisoformat(row[column]) for column in ("starts", "ends"))
        assert (ends - starts).total_seconds() == 60 * int(row["minutes"])


def test_json_keeps_to_its_schema(two: Agenda) -> None:
    schema = json.loads(SCHEMA.read_text(encoding="utf-8"))
    jsonschema.Draft202012Validator.check_schema(schema)
    told = json.loads(as_json.report(two, reliefs(two.made)))
    jsonschema.validate(told, schema)
    assert len(told["steps"]) == len(two.made.work.activities)
    refused = plan(weekend(finish_by="2026-11-29 18:00"))
    assert isinstance(refused, NoPlan)
    jsonschema.validate(json.loads(as_json.refused(refused)), schema)
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate({**told, "possible": False}, schema)


def letters(sheet: str) -> list[tuple[float, float, float, float, str]]:
    """The texts of a sheet with the boxes that they take: left, top, right, bottom."""
    found = []
    for text in ElementTree.fromstring(sheet).iter(f"{SVG}text"):
        size, said = float(text.get("font-size", "0")), text.text or ""
        x, y = float(text.get("x", "0")), float(text.get("y", "0"))
        long = width(said, size, text.get("font-weight") == "bold")
        left = {"start": x, "middle": x - long / 2, "end": x - long}[text.get("text-anchor", "")]
        found.append((left, y - 0.75 * size, left + long, y + 0.2 * size, said))
        assert size >= LEAST_LETTERS, said
    return found


@pytest.mark.parametrize("paper", sorted(PAPERS))
def test_the_drawing_of_eighty_steps_is_legible(eight: Agenda, paper: str) -> None:
    wide, high = PAPERS[paper]
    numbers = set()
    for sheet in draw(eight, paper):
        boxes = letters(sheet)
        for left, top, right, bottom, said in boxes:
            assert left >= 0 and top >= 0 and right <= wide and bottom <= high, said
            numbers.update(re.findall(r"^\d+$", said))
        for one, other in combinations(boxes, 2):
            apart = (
                one[2] <= other[0] + 1.5
                or other[2] <= one[0] + 1.5
                or one[3] <= other[1] + 1.5
                or other[3] <= one[1] + 1.5
            )
            assert apart, (one, other)
    assert numbers == {str(number) for number in eight.numbers.values()}


def test_the_drawing_has_a_row_for_each_pot_ring_and_person_and_folds_nights(two: Agenda) -> None:
    sheets = draw(two)
    said = [text[4] for sheet in sheets for text in letters(sheet)]
    for name in ("Kettle", "Pot", "Tub", "Ring", "Person", "Drying line"):
        assert name in said
    assert "night" in said
    for day in ("Saturday 28 November", "Sunday 29 November", "Monday 30 November"):
        assert day in said
    for how in ("worked at by hand", "looked at now and then", "goes on by itself"):
        assert how in said
    root = ElementTree.fromstring(sheets[0])
    assert root.find(f"{SVG}title") is not None and root.find(f"{SVG}desc") is not None
    assert {each.get("id") for each in root.iter(f"{SVG}pattern")} >= {"watched", "alone", "closed"}


WEEK = """procedure "A week's crock"

fibre
  yarn: wool yarn, 100 g, scoured

equipment
  crock: stainless steel pot, 20 L, lidded, for dyeing only
  tub: plastic tub, 15 L, for dyeing only
  hob: hotplate, 2 kW

materials
  indigo: natural indigo, powder
  soda: soda ash
  bran: wheat bran

steps
  wet out yarn in tub with water 6 L at 35 °C for 1 h
  vat: prepare in crock with water 12 L, soda 6 g/L, bran 60 g, indigo 24 g at 45 °C stirring
  stand vat at 38 to 45 °C for 6 d covered labelled now and then
  dip yarn in vat at 45 °C for 20 min
  air yarn for 20 min
  rinse yarn in tub with water 6 L at 35 °C for 10 min
  dry yarn
  keep vat as bran-vat covered labelled
"""


def test_nights_that_are_folded_together_are_counted_and_heads_keep_apart(tmp_path: Path) -> None:
    file = tmp_path / "week.dye"
    file.write_text(WEEK, encoding="utf-8")
    hours = Hours(times_of("9:00-12:00"))
    read = procedure.load(file)
    made = facts(work_of([read], Asked(datetime(2099, 11, 28, 9), hours)).work)
    boxes = [box for sheet in draw(made) for box in letters(sheet)]
    said = [box[4] for box in boxes]
    days = [day.number for day in made.days]
    apart = [later - day for day, later in pairwise(days)]
    assert max(apart) > 2, "the bath stands for days in which nobody works"
    folded = [each for each in said if each.endswith(" nights")]
    assert sorted(folded) == sorted(f"{each} nights" for each in apart if each > 1)
    heads = [box for box in boxes if re.search(r" (November|December)$", box[4])]
    assert len(heads) == len(days)
    for one, other in combinations(heads, 2):
        assert one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1], (one, other)


def test_the_drawing_tells_who_has_to_stay_near(two: Agenda) -> None:
    near = [
        entry for day in two.days for entry in day.entries if entry.kind == "free" and entry.watched
    ]
    assert near
    thin = [
        each
        for sheet in draw(two)
        for each in ElementTree.fromstring(sheet).iter(f"{SVG}rect")
        if each.get("fill") == "url(#watched)" and float(each.get("height", "0")) < 5
    ]
    people = sum(row.resource.kind == "people" for row in two.rows)
    assert len(thin) == len(near) * people


def test_the_steps_of_the_days_are_beneath_their_rows_and_what_dries_is_seen() -> None:
    read = procedure.load(EXAMPLES / "plans" / "greens-and-teals.dye")
    sheets = draw(facts(work_of([read], Asked(datetime(2099, 11, 28, 9), Hours())).work))
    assert len(sheets) == 2  # of the fifth day, when the last yarn only dries, there is none
    for sheet in sheets:
        boxes = letters(sheet)
        rows = max(top for _, top, _, _, said in boxes if said in ("You", "Air, rest, dry"))
        listed = [top for _, top, _, _, said in boxes if re.match(r"\d\d:\d\d .*to\b", said)]
        assert listed and min(listed) > rows
    hung = [said for *_, said in letters(sheets[1]) if said.endswith("dry sea")]
    assert any("on Wednesday" in said for said in hung)


@pytest.mark.parametrize("hours", ["9:00-18:00", "10:00-16:00", "9:30-17:15"])
def test_nothing_of_a_drawing_runs_over_its_edge_or_into_what_is_beside_it(hours: str) -> None:
    """How good the plan is goes to the foot where the line beneath the title has no room for it."""
    read = procedure.load(EXAMPLES / "tansy-gold-and-moss.dye")
    asked = Asked(datetime(2099, 11, 28, 9), Hours(times_of(hours)), hours)
    found = fitted(work_of([read], asked).work).made
    assert isinstance(found, Timetable)
    made = agenda(found)
    for paper, (wide, _) in PAPERS.items():
        for sheet in draw(made, paper):
            boxes = letters(sheet)
            assert max(right for _, _, right, _, _ in boxes) <= wide
            times = [each for each in boxes if re.fullmatch(r"\d\d:\d\d", each[4])]
            for a, b in combinations(times, 2):
                assert a[1] != b[1] or a[2] < b[0] or b[2] < a[0], (a, b)
            said = " ".join(each[4] for each in boxes)
            assert how_good(made.made) in said


def test_no_note_at_the_foot_of_a_drawing_is_cut(two: Agenda) -> None:
    """What there is no room for is counted, and what is there is there to its last word."""
    long = [f"Note {i} says {'what has to be known of the plan and ' * 8}ends." for i in range(4)]
    work = replace(two.made.work, notes=tuple(long))
    for sheet in draw(replace(two, made=replace(two.made, work=work))):
        foot = [(y, text) for _, y, _, _, text in letters(sheet)]
        said = " ".join(text for _, text in sorted(foot, key=lambda each: each[0]))
        assert said.count("ends.") == said.count("Note ") == 2
        assert "2 more notes are in the timetable as text." in said


def test_the_drawing_is_made_as_picture_and_paper(two: Agenda) -> None:
    from pypdf import PdfReader

    sheets = draw(two)
    assert finished(sheets, "png", "Gold").startswith(b"\x89PNG\r\n")
    read = PdfReader(io.BytesIO(finished(sheets, "pdf", "Gold")))
    assert len(read.pages) == len(sheets)
    assert read.metadata is not None and read.metadata.title == "Gold"
    box = read.pages[0].mediabox
    assert (round(box.width), round(box.height)) == (842, 595)
    ElementTree.fromstring(finished(sheets, "svg", "Gold"))


def test_a_search_that_the_clock_ended_says_so(
    two: Agenda, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert not two.made.cut_short
    assert "clock ended" not in report(two)
    monkeypatch.setattr(searching, "_CLOCK_A_SECOND", 0.0)
    monkeypatch.setattr(searching, "_CLOCK_AT_LEAST", 1e-6)
    hurried = facts(weekend(pots=("kettle", "pot")))
    assert hurried.made.cut_short
    assert "the clock ended it" in " ".join(report(hurried).split())
    assert json.loads(as_json.report(hurried))["cut_short"] is True
