"""Grey-scale grades at the published colour differences of the scales."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

import procedure.colour
from procedure.colour import Colour, change_grade, staining_grade
from procedure.colour.grades import GRADES, change_difference, graded, steps_of

with (Path(procedure.colour.__file__).parent / "grey_scales.csv").open(encoding="utf-8") as lines:
    ROWS = list(csv.DictReader(lines))
CHANGE = [row for row in ROWS if row["scale"] == "change"]
STAINING = [row for row in ROWS if row["scale"] == "staining"]


@pytest.mark.parametrize("row", CHANGE, ids=lambda row: row["grade"])
def test_the_chips_of_the_scale_for_change_get_their_grades(row: dict[str, str]) -> None:
    # ISO 105-A02:1993, 2.4 (EN 20105-A02:1994): CIELAB differences of the pairs of grey chips.
    # The chips differ in lightness alone, so ISO 105-A05 must give each pair its own grade.
    dark = Colour(40, 0, 0)
    grade = change_grade(dark, dark._replace(lightness=40 + float(row["difference"])))
    assert grade.text == row["grade"]
    assert grade.value == pytest.approx(steps_of(row["grade"]), abs=0.05)


@pytest.mark.parametrize("row", CHANGE[1:], ids=lambda row: row["grade"])
def test_a_chip_within_its_tolerance_keeps_its_grade(row: dict[str, str]) -> None:
    middle, allowed = float(row["difference"]), float(row["tolerance"])
    for difference in (middle - allowed, middle + allowed):
        found = change_grade(Colour(40, 0, 0), Colour(40 + difference, 0, 0))
        assert found.text == row["grade"]


@pytest.mark.parametrize("row", STAINING, ids=lambda row: row["grade"])
def test_the_chips_of_the_scale_for_staining_get_their_grades(row: dict[str, str]) -> None:
    # ISO 105-A03:1993: CIELAB differences between the white chip and the grey ones.
    white = Colour(94, 0, 0)
    grade = staining_grade(white, white._replace(lightness=94 - float(row["difference"])))
    assert grade.text == row["grade"]
    assert grade.value == pytest.approx(steps_of(row["grade"]), abs=0.05)


# ISO 105-A05:1996, clause 8: the grade and the differences it reaches from and to.
EDGES = [
    (0.0, 0.39, "5"), (0.40, 1.24, "4-5"), (1.25, 2.09, "4"), (2.10, 2.94, "3-4"),
    (2.95, 4.09, "3"), (4.10, 5.79, "2-3"), (5.80, 8.19, "2"), (8.20, 11.59, "1-2"),
    (11.60, 40.0, "1"),
]  # fmt: skip


@pytest.mark.parametrize(("low", "high", "grade"), EDGES, ids=[edge[2] for edge in EDGES])
def test_the_edges_of_the_grades_for_change(low: float, high: float, grade: str) -> None:
    for difference in (low + 1e-9, high):
        assert change_grade(Colour(30, 0, 0), Colour(30 + difference, 0, 0)).text == grade


def test_a_change_of_strong_colour_weighs_less_than_of_grey() -> None:
    grey = change_difference(Colour(50, 0, 0), Colour(50, 0, 8))
    yellow = change_difference(Colour(70, 5, 60), Colour(70, 5, 68))
    assert yellow < grey / 2


def test_the_formula_for_change_worked_by_hand() -> None:
    # ISO 105-A05:1996, clause 7, worked by hand: hues 90, chroma 50 and 40, the same lightness.
    # CM = 45; D = -10 x 45 x exp(-(190 folded to 170 over 30)^2) / 100, which is next to nothing,
    # so DCF = -10 / (1 + 0.9^2) and DHF = 0.
    found = change_difference(Colour(70, 0, 50), Colour(70, 0, 40))
    assert found == pytest.approx(10 / (1 + 0.9**2), abs=1e-6)


@given(st.floats(0, 100), st.floats(-100, 100), st.floats(-100, 100))
def test_no_change_is_grade_5(lightness: float, a: float, b: float) -> None:
    colour = Colour(lightness, a, b)
    assert change_grade(colour, colour).text == "5"
    assert staining_grade(colour, colour).text == "5"


def test_grades_as_numbers() -> None:
    assert [graded(1 + step / 2) for step in range(9)] == list(GRADES)
    assert steps_of("3-4") == 3.5
    with pytest.raises(ValueError):
        steps_of("6")
