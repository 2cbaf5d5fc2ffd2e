"""What a tired dyer writes: units in other letters, impossible times, numbers of another scale."""

from __future__ import annotations

import ast
from fractions import Fraction
from pathlib import Path

import pytest

import procedure.batch
from procedure.batch import read, write
from procedure.batch.deviations import deviations
from procedure.batch.folder import Batch
from procedure.batch.held_against_plan import AsJudged
from procedure.batch.telling_check import check_report
from procedure.findings import Finding
from procedure.model import Quantity
from procedure.wording import said


def told(lines: str) -> tuple[Finding, ...]:
    record, findings = read(f'batch "x"\n{lines}')
    again, _ = read(write(record))
    assert write(again) == write(record)  # whatever was amiss, what is kept is kept
    return findings


def step(*lines: str) -> str:
    return 'steps\n  step 8 "dye yarn"\n' + "".join(f"    {line}\n" for line in lines)


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("4 us gal", "4 US gal"),
        ("2 1/2 Us Gal", "2 1/2 US gal"),
        ("4 gals", "4 gal"),
    ],
)
def test_a_unit_in_other_letters_is_asked_about(written: str, meant: str) -> None:
    for lines in (step(f"with water {written}"), f"materials\n  alum: {written}\n"):
        (one,) = told(lines)
        assert one.remedy == f"Did you mean “{meant}”?" and written in one.sentence


@pytest.mark.parametrize(
    ("written", "grams"),
    [
        # NIST SP 811, B.8: an ounce is 28.349523125 g, a pound 453.59237 g.
        ("12 Oz", "340.1942775"),
        ("2 OZ", "56.69904625"),
        ("1 Lb 2 Oz", "510.29141625"),
        ("250 Kg", "250000"),
        ("3 KG", "3000"),
        ("40 G", "40"),
        ("2 LBS", "907.18474"),
    ],
)
def test_a_weight_in_capitals_is_read(written: str, grams: str) -> None:
    record, findings = read(f'batch "x"\nmaterials\n  alum: {written}\n')
    (used,) = record.materials
    assert findings == ()
    assert isinstance(used.amount, Quantity)
    assert (used.amount.kind, used.amount.low) == ("mass", Fraction(grams))


# °C = (°F - 32) / 1.8 (NIST SP 811, B.8).
@pytest.mark.parametrize(
    ("written", "celsius"), [("30 °c", "30"), ("85 ºC", "85"), ("86 °f", "30"), ("212 F", "100")]
)
def test_a_heat_in_other_letters_is_read(written: str, celsius: str) -> None:
    record, findings = read('batch "x"\n' + step(f"at {written}"))
    assert findings == ()
    (heat,) = record.steps[0].answers
    assert isinstance(heat.done, Quantity)
    assert (heat.done.kind, heat.done.low) == ("temperature", Fraction(celsius))


@pytest.mark.parametrize("unit", ["M", "T", "t", "H", "S", "K", "MG", "Mg", "Gal", "Pt", "Cup"])
def test_a_capital_that_may_be_another_unit_is_asked_about(unit: str) -> None:
    """T is a tablespoon and t a teaspoon to some, a tonne to others; Mg is a megagram in the SI."""
    (one,) = told(f"materials\n  alum: 2 {unit}\n")
    assert f"2 {unit}" in one.sentence and one.level == "error"


@pytest.mark.parametrize("written", ["12 xyzzy", "12 Ounsez of", "4 qqq 3"])
def test_nothing_is_guessed_where_nothing_is_near(written: str) -> None:
    assert not any("Did you mean" in one.remedy for one in told(step(f"with water {written}")))


def test_pieces_are_weighed_together() -> None:
    record, findings = read('batch "x"\nfibre\n  yarn: 6 skeins of 60 g planned 360 g\n')
    assert findings == () and deviations(record) == ()
    assert write(record) == 'batch "x"\n\nfibre\n  yarn: 6 skeins of 60 g planned 360 g\n'
    record, _ = read('batch "x"\nfibre\n  yarn: 5 skeins of 60 g planned 360 g\n')
    assert [one.sentence for one in deviations(record)] == [
        "yarn: 5 skeins of 60 g, planned 360 g: 17 % less."
    ]


@pytest.mark.parametrize(
    ("lines", "sentence"),
    [
        (
            ("begun 09:00", "ended 09:30", "for ____ planned 1 h 45 min"),
            "From begun to ended took 30 min, planned 105 min: 75 min shorter.",
        ),
        (
            ("begun 09:00", "ended 12:00", "over ____ planned 45 min", "for ____ planned 1 h"),
            "From begun to ended took 3 h, planned 105 min: 75 min longer.",
        ),
        (
            ("begun 09:00", "ended 09:30", "for 1 h 45 min planned 1 h 45 min"),
            "From begun to ended is 30 min, and the step is said to have taken 105 min.",
        ),
        (
            ("begun 2026-04-18 09:00", "ended 2026-04-20 09:00", "for ____ planned 1 d"),
            "From begun to ended took 2 d, planned 24 h: 24 h longer.",
        ),
    ],
)
def test_the_clock_is_held_against_the_plan(lines: tuple[str, ...], sentence: str) -> None:
    record, findings = read('batch "x"\n' + step(*lines))
    assert findings == ()
    assert [one.sentence for one in deviations(record)] == [sentence]


@pytest.mark.parametrize(
    "lines",
    [
        ("begun 09:00", "ended 10:45", "for ____ planned 1 h 45 min"),
        ("begun 23:00", "ended 00:30", "for ____ planned 1 h 30 min"),
        ("begun 20:00", "ended 08:00", "for ____ planned overnight"),
        # How long the heating takes is not planned.
        ("begun 09:00", "ended 11:00", "to ____ planned 85 °C", "for ____ planned 1 h"),
        ("begun 09:00", "ended ____", "for ____ planned 1 h"),
    ],
)
def test_times_that_are_as_planned(lines: tuple[str, ...]) -> None:
    record, findings = read('batch "x"\n' + step(*lines))
    assert findings == () and deviations(record) == ()


def test_an_end_before_its_beginning_is_told() -> None:
    (one,) = told(step("begun 11:20", "ended 09:10", "for ____ planned 1 h 45 min"))
    assert one.level == "warning" and one.sentence.startswith("The step ends at 09:10, before")
    assert told(step("begun 11:20", "ended 09:10", "for ____ planned 1 d")) == ()
    # With its days there is no doubt, and it is an error.
    (one,) = told(step("begun 2026-04-18 11:20", "ended 2026-04-18 09:10"))
    assert one.level == "error"


@pytest.mark.parametrize(
    ("lines", "sentence"),
    [
        (
            "fibre\n  yarn: 12 oz\nresults\n  yarn\n    weight 192 oz\n",
            "“yarn” weighs 192 oz, 16 times what it weighed before.",
        ),
        (
            "fibre\n  yarn: ____ planned 12 oz\nresults\n  yarn\n    weight 12 g\n",
            "“yarn” weighs 12 g, 0.035 times what it weighed before.",
        ),
        ("  day 2999-04-01\n", "2999-04-01 is no day of our time."),
        ("  day 0026-04-01\n", "0026-04-01 is no day of our time."),
        (
            "  day 2026-04-18\nmaterials\n  weld: 98 g, harvested 2026-07-20\n",
            "“weld” was harvested on 2026-07-20, and the batch was begun on 2026-04-18.",
        ),
        (
            "  day 2026-04-18\nresults\n  yarn\n    light test\n      begun 2026-03-01\n",
            "The light test is of 2026-03-01, and the batch was begun on 2026-04-18.",
        ),
        (
            "  day 2026-04-18\n" + step("begun 2026-04-08 09:00", "ended 2026-04-18 10:00"),
            "The step is on 2026-04-08, and the batch was begun on 2026-04-18.",
        ),
        (
            "results\n  yarn\n    colour Lab 0.78 0.02 0.64 under D65 at 10°\n",
            "Lab has numbers up to 100 here, and these are 1 at most: all but black.",
        ),
        (
            "results\n  yarn\n    colour sRGB 0.82 0.73 0.23\n",
            "sRGB has numbers up to 255 here, and these are 1 at most: all but black.",
        ),
    ],
)
def test_what_can_hardly_be_is_told_and_kept(lines: str, sentence: str) -> None:
    (one,) = told(lines)
    assert (one.level, one.rule, one.sentence) == ("warning", "unlikely", sentence)
    assert one.fact is not None


@pytest.mark.parametrize(
    "lines",
    [
        "fibre\n  yarn: 100 g\nresults\n  yarn\n    weight 104 g\n",
        "fibre\n  fleece: 100 g\nresults\n  fleece\n    weight 45 g\n",  # what the scour takes
        "results\n  yarn\n    colour Lab 1 0 0 under D65 at 10°\n",  # black
        "results\n  yarn\n    colour sRGB 0 0 0\n",
        "  day 1921-04-01\n",
    ],
)
def test_what_can_be_is_no_matter(lines: str) -> None:
    assert told(lines) == ()


def test_a_colour_in_words_and_one_that_nobody_knows() -> None:
    text = 'batch "x"\n\nresults\n  yarn\n    colour "olive"\n  silk\n    colour unstated\n'
    record, findings = read(text)
    assert findings == () and write(record) == text
    assert [one.colours[0].form for one in record.results] == ["words", "unstated"]
    for wrong in ('"#12g"', '"c8a23"', "olive"):
        assert told(f"results\n  yarn\n    colour {wrong}\n"), wrong
    assert 'colour "olive"' in told("results\n  yarn\n    colour olive\n")[0].remedy


def test_what_could_not_be_read_is_not_said_to_have_gone_to_plan() -> None:
    text = 'batch "x"\n  of "weld.dye"\n' + step(
        "to 85 °C planned 85 °C", "for 1 Houurs planned 1 h"
    )
    record, findings = read(text)
    batch = Batch(Path("x.batch"), record, findings, (), deviations(record), (), ())
    out = check_report(batch, AsJudged((), (), "", batch), ())
    assert "Of what could be read, nothing was done otherwise than planned." in out


def test_taken_is_yes_or_no() -> None:
    (one,) = told(step("taken maybe"))
    assert one.sentence == "“maybe” is neither yes nor no."
    assert told(step("taken yes")) == () and told(step("taken unstated")) == ()


def test_a_procedure_is_no_record() -> None:
    (one,) = told_of('# a comment\n\nprocedure "Weld"\n  by "Ash"\nfibre\n  yarn: 100 g\n')
    assert (one.line, one.sentence) == (3, "This is a procedure, and no record of a batch.")


def told_of(text: str) -> tuple[Finding, ...]:
    return read(text)[1]


def test_color_as_american_dyers_spell_it() -> None:
    record, findings = read('batch "x"\nresults\n  yarn\n    color "gold"\n')
    assert findings == () and record.results[0].colours[0].text == "gold"


def test_the_weight_of_a_part_is_held_against_its_part_of_the_split() -> None:
    lines = (
        'steps\n  step 8 "split yarn"\n    with deep 98 g planned 100 g\n'
        "results\n  deep\n    weight 1.02 kg\n"
    )
    (one,) = told(lines)
    assert one.sentence == "“deep” weighs 1.02 kg, 10 times what it weighed before."


ROOM = Path(procedure.batch.__file__).parent
WORDED = (
    "as_done", "changed_since", "deviations", "held_against_plan", "line_values", "record_among",
    "record_lines", "record_reading", "recorded_amounts", "results", "step_answers", "times_taken",
    "unlikely_record",
)  # fmt: skip


@pytest.mark.parametrize("name", WORDED)
def test_what_is_said_of_a_record_is_a_fact(name: str) -> None:
    """Sentences are templates with typed values, which only ``wording`` makes words of."""
    tree = ast.parse((ROOM / f"{name}.py").read_text("utf-8"))
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and ast.unparse(node.func).endswith(("say", "NotAnAmount")):
            made = [one for one in node.args if isinstance(one, ast.JoinedStr)]
            assert not made, f"{name}.py, line {node.lineno}"


def test_each_finding_of_a_record_keeps_its_fact() -> None:
    for one in read('batch "x"\n  day 1.1.\nfibre\n  yarn: 12 Oz\nsteps\n  stp 1\n')[1]:
        assert one.fact is not None and said(one.fact.sentence) == one.sentence
