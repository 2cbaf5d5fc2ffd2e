"""Records in ounces, gallons and Fahrenheit, and of lots that are weighed by the piece.

Factors: the pound of 453.59237 g and its sixteenth, and 9/5 of a degree Fahrenheit to one of
Celsius (NIST Special Publication 811, 2008 edition, appendix B.8).
"""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from procedure.batch import read
from procedure.batch.as_done import as_done
from procedure.batch.asked import planned_text
from procedure.batch.changed_since import match
from procedure.batch.deviations import deviations
from procedure.batch.folder import batch_of
from procedure.batch.form import form
from procedure.batch.from_plan import planned_batch
from procedure.batch.held_against_plan import judged_as_done
from procedure.batch.record_words import words_of
from procedure.batch.recorded_amounts import measured
from procedure.batch.telling_check import check_report
from procedure.pipeline import Judged
from procedure.pipeline import read as read_plan
from procedure.trace.amounts import Amount
from procedure.wording.reader import of_system

SKEINS = """\
procedure "Goldenrod, six skeins"
  by "Fellside Dye Circle"
  place outdoors
  wearing gloves, eye protection

fibre
  yarn: wool yarn, 6 skeins of 2 oz, scoured

equipment
  pot: stainless steel pot, 6 US gal, lidded, for dyeing only
  tub: plastic tub, 6 US gal, for dyeing only
  iron-tub: plastic bucket, 3 US gal, for dyeing only
  bag: net bag, for dyeing only

materials
  alum: potassium alum
  goldenrod: goldenrod tops, dried
  iron: ferrous sulphate

steps
  wet out yarn in tub with water 4 US gal at 85 °F for 1 h
  alum-bath: prepare in pot with water 2 1/2 US gal, alum 12 % of yarn at 105 °F
  mordant yarn in alum-bath from 105 °F to 185 °F over 45 min for 1 h
  cool alum-bath to 85 °F overnight covered
  rinse yarn in tub with water 3 US gal at 85 °F until "the water runs clear"
  discard alum-bath to "foul drain, never the garden"
  clean pot
  yellow-bath: prepare in pot with water 2 1/2 US gal, goldenrod 100 % of yarn
  simmer yellow-bath at 185 °F for 1 h covered
  cool yellow-bath to 105 °F
  strain yellow-bath through bag
  dye yarn in yellow-bath from 105 °F to 180 °F over 45 min for 1 h
  cool yellow-bath to 95 °F
  rinse yarn in tub with water 3 US gal at 95 °F until "the water runs clear"
  iron-bath: prepare in iron-tub with water 2 US gal, iron 2 % of yarn at 85 °F
  sadden yarn in iron-bath at 85 °F for 10 min
  rinse yarn in tub with water 3 US gal at 85 °F until "the water runs clear"
  dry yarn
  discard yellow-bath to "foul drain; the spent tops are composted"
  discard iron-bath to "foul drain"
  clean pot, tub, iron-tub, bag
"""


def plan_of(text: str = SKEINS) -> Judged:
    return read_plan(text, "skeins.dye")


def put(text: str, *answers: tuple[str, str]) -> str:
    for blank, answer in answers:
        assert blank in text, blank
        text = text.replace(blank, blank.replace("____", answer), 1)
    return text


def report(folder: Path, *answers: tuple[str, str], of: str = SKEINS) -> str:
    """What ``record --check --all`` prints of the form with these blanks filled in."""
    (folder / "skeins.dye").write_text(of, "utf-8")
    text = put(form(planned_batch(plan_of())), *answers)
    (folder / "skeins.batch").write_text(text, "utf-8")
    judged = judged_as_done(batch_of(folder / "skeins.batch"))
    findings = [one for one in judged.findings if one.level != "note"]
    return " ".join(check_report(judged.batch, judged, findings, small=True).split())


YARN = "yarn: ____ planned 12 oz"
IRON = "with iron ____"


def test_a_lot_in_pieces_keeps_its_whole_weight(tmp_path: Path) -> None:
    out = report(tmp_path, (YARN, "12 oz"))
    assert "Nothing that is written down was done otherwise" in out
    assert "What the rules say" not in out


def test_too_much_iron_is_told_of_a_lot_in_pieces(tmp_path: Path) -> None:
    out = report(tmp_path, (YARN, "12 oz"), (IRON, "6.7 oz"))
    assert "55.8 % of ferrous sulphate on wool is in excess of 5 %" in out


@pytest.mark.parametrize(
    ("lot", "done", "line"),
    [
        ("6 skeins of 2 oz", "12 oz", "6 skeins of 2 oz"),
        ("6 skeins of 2 oz", "9 oz", "6 skeins of 1.5 oz"),
        ("6 skeins of 2 oz", "360 g", "6 skeins of 60 g"),
        ("6 skeins of 2 oz", "1 lb 8 oz", "6 skeins of 0.25 lb"),
        ("6 skeins of 2 oz", "6 skeins of 60 g", "6 skeins of 60 g"),
        ("three hanks, 50 g each", "150 g", "three hanks, 50 g each"),
        ("three hanks, 50 g each", "120 to 150 g", "three hanks, 40 to 50 g each"),
        ("4 skeins, 1 lb", "15 oz", "4 skeins, 15 oz"),
        ("1 lb, 4 skeins", "4 skeins of 100 g", "400 g, 4 skeins"),
    ],
)
def test_what_was_weighed_goes_where_the_weight_is_written(lot: str, done: str, line: str) -> None:
    plan = plan_of(SKEINS.replace("6 skeins of 2 oz", lot))
    record, findings = read(f'batch "x"\nfibre\n  yarn: {done}\n')
    assert findings == ()
    made = as_done(plan, record, match(record, planned_batch(plan)))
    assert f"yarn: wool yarn, {line}, scoured" in made.text
    again = read_plan(made.text, "skeins.dye").model.lots["yarn"].weight
    weighed = record.lots[0].amount
    assert again is not None and not isinstance(weighed, str) and weighed is not None
    assert again.low is not None and weighed.low is not None
    assert abs(again.low - weighed.low) < Fraction(1, 1000)


def test_pieces_of_which_nobody_knows_how_many_are_left_and_told() -> None:
    plan = plan_of(SKEINS.replace("6 skeins of 2 oz", "5 to 6 skeins of 2 oz"))
    record, _ = read('batch "x"\nfibre\n  yarn: 11 oz\n')
    made = as_done(plan, record, match(record, planned_batch(plan)))
    assert "5 to 6 skeins of 2 oz" in made.text
    assert any("left as planned" in one.template for one in made.left_out)


def test_the_form_is_in_the_units_of_its_procedure() -> None:
    text = form(planned_batch(plan_of()))
    for line in (
        YARN,
        "with water ____ planned 2 1/2 US gal",
        "with alum ____ planned 1.4 oz",
        "with iron ____ planned 0.24 oz (6.8 g)",
        "to ____ planned 185 °F",
    ):
        assert line in text
    assert " L\n" not in text and " g\n" not in text


def test_rounding_alone_is_no_difference(tmp_path: Path) -> None:
    """12 oz are 340.2 g, 12 % of them 40.8 g or 1.44 oz, and 4 US gallons 15.14 L."""
    out = report(
        tmp_path,
        (YARN, "340 g"),
        ("with alum ____", "1.44 oz"),
        ("with water ____ planned 4 US gal", "15.1 L"),
        ("to ____ planned 185 °F", "85 °C"),
    )
    assert "Nothing that is written down was done otherwise" in out


@pytest.mark.parametrize(
    ("planned", "done", "by"),
    [("1.4 oz", "1.5 oz", Fraction(1, 10)), ("340 g", "13 oz", None), ("36 g", "37 g", 1)],
)
def test_what_is_more_than_rounding_is_a_difference(
    planned: str, done: str, by: Fraction | None
) -> None:
    found = deviations(read(f'batch "x"\nfibre\n  yarn: {done} planned {planned}\n')[0])
    assert len(found) == 1
    if by is not None:
        assert found[0].by in (by, by * Fraction("28.349523125"))


@pytest.mark.parametrize("system", ["us", "imperial", "metric"])
@pytest.mark.parametrize("kind", ["mass", "volume"])
def test_every_planned_amount_can_be_read_again(system: str, kind: str) -> None:
    reader = of_system(system)
    for tenths in (7, 13, 36, 111, 288, 960, 1234, 3402, 9990, 25_000):
        low = Fraction(tenths, 10) if kind == "mass" else Fraction(tenths, 100)
        text = planned_text(Amount(kind, low, low * 3 / 2), None, reader)
        made = measured(list(words_of(text, 1)[0]))
        assert made.kind == kind and made.low is not None, text
        assert abs(made.low - low) <= low * Fraction(15, 100), text


def test_heats_are_compared_in_the_degrees_of_the_record() -> None:
    text = (
        'batch "x"\nsteps\n  step 1 "dye yarn"\n    from 105 °F planned 105 °F\n'
        "    to 188 °F planned 180 °F\n    over 45 min planned 45 min\n"
        "    heats 09:00 104 °F, 09:10 158 °F, 10:00 194 °F, 10:30 176 °F\n"
    )
    said = [one.sentence for one in deviations(read(text)[0])]
    assert said == [
        "Reached 188 °F, planned 180 °F: 8 °F hotter.",
        "The thermometer reached 194 °F, planned 180 °F at most, and was above that for 43 min.",
        "The heat rose by 5.4 °F a minute at the fastest, planned 1.7 °F a minute.",
    ]
    assert "°C" not in " ".join(said)


def test_a_record_of_another_procedure_is_held_against_nothing(tmp_path: Path) -> None:
    """The steps that any two procedures share (wet out, rinse, clean) prove nothing."""
    other = SKEINS.replace("Goldenrod, six skeins", "Madder, six skeins").replace(
        "goldenrod", "madder"
    )
    out = report(tmp_path, (YARN, "12 oz"), of=other)
    assert "could not be held against its plan" in out
    for word in ("no longer in the procedure", "was done otherwise", "What the rules say"):
        assert word not in out
    renamed = SKEINS.replace("Goldenrod, six skeins", "Goldenrod on six skeins")
    out = report(tmp_path, (YARN, "12 oz"), of=renamed)
    assert "look whether that is the right file" in out and "was done otherwise" in out


SPLIT = (
    SKEINS.replace(
        "  iron-bath: prepare", "  split yarn into gold 6 oz, moss 6 oz\n  iron-bath: prepare"
    )
    .replace("sadden yarn", "sadden moss")
    .replace("  dry yarn", "  dry gold, moss")
)
PARTS = (("with gold ____", "6 oz"), ("with moss ____", "6 oz"))


@pytest.mark.parametrize(("parts", "told"), [((), False), (PARTS, True)])
def test_parts_of_a_lot_that_were_not_weighed_are_no_fault(
    tmp_path: Path, parts: tuple[tuple[str, str], ...], told: bool
) -> None:
    """The yarn weighed 11.5 oz; only who weighed its parts too can have them come to 12 oz."""
    (tmp_path / "skeins.dye").write_text(SPLIT, "utf-8")
    text = put(form(planned_batch(plan_of(SPLIT))), (YARN, "11.5 oz"), *parts)
    (tmp_path / "skeins.batch").write_text(text, "utf-8")
    found = judged_as_done(batch_of(tmp_path / "skeins.batch")).findings
    assert any(one.rule == "split-does-not-add-up" for one in found) is told


@pytest.mark.parametrize(
    ("kept", "said"),
    [
        ("to 180 °F planned 180 °F", "Write it with its unit: 185 °F."),
        ("to 80 °C planned 80 °C", "Write it with its unit: 185 °C."),
    ],
)
def test_what_is_shown_as_an_example_is_in_the_units_of_the_record(kept: str, said: str) -> None:
    text = f'batch "x"\nsteps\n  step 1 "dye yarn"\n    {kept}\n    heats 09:10 185\n'
    (one,) = read(text)[1]
    assert one.remedy == said and one.fact is not None
