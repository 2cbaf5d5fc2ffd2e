"""A record is read whatever it says, and written as it was read."""

from __future__ import annotations

from datetime import date, time
from fractions import Fraction

import pytest
from batch_texts import FULL, spoilt, texts
from hypothesis import given, settings
from hypothesis import strategies as st

from procedure.batch import read, write
from procedure.batch.recorded_amounts import hardness
from procedure.batch.types import HeatReading, Record
from procedure.colour.space import Light
from procedure.model.quantity import Quantity


def test_the_full_record_is_read_without_a_finding() -> None:
    record, findings = read(FULL)
    assert findings == ()
    assert record.title == "Spring gold" and record.by == ("Ash", "Rowan")
    assert (record.begun, record.ended) == (date(2026, 4, 18), date(2026, 4, 19))
    assert record.edition == "2026-07-05"
    assert [used.name for used in record.materials] == ["weld", "alum"]
    weld = record.materials[0]
    assert isinstance(weld.amount, Quantity) and weld.amount.low == 98
    assert weld.harvested == date(2025, 7, 20) and weld.age == "nine months"


def test_water_is_told_in_one_unit() -> None:
    # A German degree is 10 mg of CaO in a litre, a French one 10 mg of CaCO3, an English one a
    # grain (64.79891 mg) of CaCO3 in an imperial gallon (4.54609 L; both NIST SP 811, B.8).
    # Molar masses by the molmass package, from the weights of CIAAW.
    molmass = pytest.importorskip("molmass")
    lime, chalk = molmass.Formula("CaO").mass, molmass.Formula("CaCO3").mass
    record, _ = read(FULL)
    assert record.water.hardness is not None and record.water.acidity == Fraction(36, 5)
    assert float(record.water.hardness) == pytest.approx(40 / lime * chalk, rel=1e-4)
    assert float(hardness("1 °fH")) == 10
    assert float(hardness("1 °e")) == pytest.approx(64.79891 / 4.54609, rel=1e-5)
    assert float(hardness("1 mmol/L")) == pytest.approx(chalk, rel=1e-4)


def test_steps_hold_what_was_done_beside_what_was_planned() -> None:
    record, _ = read(FULL)
    mordant = record.steps[1]
    reached = mordant.answer("to")
    assert reached is not None
    assert isinstance(reached.done, Quantity) and reached.done.low == 92
    assert isinstance(reached.planned, Quantity) and reached.planned.high == 85
    assert mordant.answer("with", "alum") is not None
    assert mordant.ended == (date(2026, 4, 19), time(1, 40))
    assert record.steps[4].skipped == "no time"
    assert record.steps[5].added


def test_a_series_runs_over_midnight() -> None:
    record, _ = read(FULL)
    assert record.steps[1].heats == (
        HeatReading(Fraction(1430), Fraction(40)),
        HeatReading(Fraction(1475), Fraction(85)),
        HeatReading(Fraction(1535), Fraction(92)),
    )


def test_results_hold_colours_and_tests() -> None:
    record, _ = read(FULL)
    (yarn,) = record.results
    assert [one.form for one in yarn.colours] == ["Lab", "hex", "sRGB", "XYZ", "Munsell", "meter"]
    assert yarn.colours[0].light == Light("D65", 10)
    assert yarn.colours[3].light == Light("C", 2)
    (light,) = yarn.lights
    assert light.sun_hours == 310 and light.grade == "3-4"
    assert [(one.number, one.change) for one in light.references] == [(3, "2-3"), (4, "3-4")]
    (wash,) = yarn.washes
    assert wash.staining == (("cotton", "4"),)


def test_blanks_are_counted() -> None:
    record, _ = read(FULL)
    assert [(one.word, one.done) for one in record.open_answers] == [("at", None)]


@pytest.mark.parametrize("ends", ["\r\n", "\r"], ids=["Windows", "old Macintosh"])
def test_line_ends_and_a_mark_of_byte_order_make_no_difference(ends: str) -> None:
    assert read("\ufeff" + FULL.replace("\n", ends)) == read(FULL)


def test_a_heat_that_no_bath_has_is_said() -> None:
    record, (finding,) = read('batch "x"\nsteps\n  step 1 "dye yarn"\n    at 2025 °C\n')
    assert finding.sentence == "“2025 °C” is hotter than any dye bath."
    assert record.steps[0].answers[0].done is None
    assert read('batch "x"\nsteps\n  step 1 "dye yarn"\n    at 212 °F\n')[1] == ()


def test_a_step_whose_number_is_open_keeps_its_words() -> None:
    record, (finding,) = read('batch "x"\nsteps\n  step ____ "dye yarn"\n    for 1 h\n')
    assert record.steps[0].words == "dye yarn" and "number of the step" in finding.sentence


@given(st.one_of(texts, spoilt()))
@settings(max_examples=150)
def test_any_text_gives_a_record_or_findings(text: str) -> None:
    record, findings = read(text)
    assert isinstance(record, Record)
    lines = text.replace("\r\n", "\n").replace("\r", "\n").count("\n") + 1
    for one in findings:
        assert one.sentence and one.remedy
        assert 1 <= one.line <= lines and 1 <= one.column < one.to
    if text.strip() and record == Record(record.file) and not text.lstrip().startswith("#"):
        assert findings, "nothing was read, and nothing was said of it"


@given(st.one_of(texts, spoilt()))
@settings(max_examples=150)
def test_what_is_written_is_read_as_the_same(text: str) -> None:
    record, _ = read(text)
    once = write(record)
    again, findings = read(once)
    assert write(again) == once
    assert bare(again) == bare(record)
    # What was said of the meaning of a line may be said again; of its form there is nothing.
    meaning = (
        "not what was planned",
        "twice",
        "before",
        "is not what",
        "title",
        "number of the step",
        "name after with",
    )
    assert [
        one.sentence
        for one in findings
        if one.level == "error" and not any(word in one.sentence for word in meaning)
    ] == []


def bare(record: Record) -> str:
    """What a record says, without the places where it says it."""
    import re

    return re.sub(r"Place\([^)]*\)", "", repr(record))


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('batch "Spring gold"', "batch", "no title"),
        ("pH 7.2", "pH 72", "from 0 to 14"),
        ("hardness 4 °dH", "hardness 4", "no hardness"),
        ("for 1 h 10 min planned", "for 70 planned", "has no unit"),
        ("to 92 °C planned", "to 92 planned", "has no unit"),
        ("to 92 °C planned", "to 92,5 °C planned", "comma"),
        ("to 92 °C planned", "to 92 min planned", "not what"),
        ("with alum 14.4 g planned", "with alum 14.4 planned", "its unit"),
        ("98 g planned", "98 mL planned", "not what was planned"),
        ("with alum 14.4 g planned", "with 14.4 g planned", "name after with"),
        ("98 g planned", "98 flurbs planned", "unit"),
        ("2026-04-18 to", "2026-04-31 to", "no day"),
        ("2026-04-18 to", "2026-04-20 to", "before the first"),
        ("  seen", "  sean", "do not know the line"),
        ("steps\n", "stepps\n", "at the margin"),
        ("change 3\n", "change 7\n", "no grade"),
        ("grade 3-4", "grade 9", "no grade"),
        ("Lab 78.2 2.1 64 under D65 at 10°\n    colour hex", "Lab 78 2\n    colour hex", "three"),
        ("under C at 2°", "under moonlight at 2°", "moonlight"),
        ('hex "#d2bb3a"', "hex #d2bb3a", "comment"),
        ('hex "#d2bb3a"', 'hex "#d2bb3"', "not a colour"),
        ("Munsell 5Y 7.5/9", "Munsell 5Q 7.5/9", "Munsell notation"),
        ("sRGB 210 187 58", "sRGB 210 187 580", "0 to 255"),
        ("Lab 78.2 2.1 64", "Lab 78.2 21000 64", "-200 to 200"),
        ("XYZ 50 54 12", "XYZ 50 -54 12", "0 to 200"),
        ("alum: 14.4 g", "alum: -14.4 g", "less than nothing"),
        ("for 1 h planned", "for -1 h planned", "less than nothing"),
        ("    times 4", "    times -4", "less than nothing"),
        ("    weight 101 g", "    weight 101 g\n  yarn", "twice"),
        ('    hand "soft"', '    hand "soft"\n    hand "harsh"', "hand is there twice"),
        ("      grade 3-4", "      grade 3-4\n      grade 4", "grade is there twice"),
        ("reference 4 change", "reference 3 change", "reference 3 is there twice"),
        ("      change 4-5", "      change 4-5\n      change 3", "change is there twice"),
        (
            "  step 7 ",
            '  step 9 "rinse"\n    begun 2026-04-19 09:00\n    ended 2026-04-19 08:00\n  step 7 ',
            "ends before",
        ),
        ("    to 92 °C", "    to 60 °C\n    to 92 °C", "to is there twice"),
        ("  pH 7.2", "  pH 7.2\n  pH 6", "pH is there twice"),
        ("  edition 2026-07-05", "  edition 2026-07-05\n  edition 2", "edition is there twice"),
        ("00:35 85 °C", "23:50 85 °C", "23:50 is there twice"),
        ("23:50 40 °C, 00:35", "23:50 40 °C 00:35", "comma is missing before 00:35"),
        ("reference 3 change 2-3", "reference 9 change 2-3", "blue wool"),
        ("heats 23:50 40 °C", "heats 23:70 40 °C", "no time of day"),
        ('seen "froth"', 'seen "froth', "Close the quotation mark"),
        ('seen "froth"', "seen froth", "quotation marks"),
        ("step 1 ", "step ", "number of the step"),
        ("    times 4", "    times some", "a number"),
        ("alum: 14.4 g", "weld: 14.4 g", "twice"),
        ("sun 310 h", "sun 310 L", "hours of sun"),
        ("day 2026-04-18", "day 18.4.2026", "2026-04-18."),
        ("day 2026-04-18", "day 2026/04/08", "2026-04-08."),
        ("pH 7.2", "pH 7,2", "pH 7.2"),
        ("alum: 14.4 g", "alum: 14.4", "the plan says 15 g"),
        ("heats 23:50 40 °C", "heats 23:50 40", "Write it with its unit: 40 °C"),
        ('seen "froth"', "seen some froth", 'seen "some froth"'),
    ],
)
def test_a_slip_is_told_at_its_place(old: str, new: str, said: str) -> None:
    assert old in FULL
    text = FULL.replace(old, new, 1)
    _, findings = read(text)
    line = FULL[: FULL.index(old)].count("\n") + 1
    told = [one for one in findings if line <= one.line <= line + 1]
    assert any(said in f"{one.sentence} {one.remedy}" for one in told), findings


def test_a_light_that_is_not_said_is_a_note() -> None:
    text = FULL.replace("colour Lab 78.2 2.1 64 under D65 at 10°", "colour Lab 78.2 2.1 64", 1)
    _, findings = read(text)
    assert [(one.rule, one.level) for one in findings] == [("light-unstated", "note")]
