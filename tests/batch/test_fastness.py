"""Light and wash tests: grades from what was measured, and from blue wool beside it."""

from __future__ import annotations

from pathlib import Path

import pytest
from batch_texts import FULL

from procedure.batch import read
from procedure.batch.fastness import blue_wool_bound, blue_wool_grade, stood_light, stood_wash
from procedure.batch.measured_colours import NoColour, colour_of, meter_rows, of_result
from procedure.batch.types import BlueWool
from procedure.colour import Colour, Light


@pytest.mark.parametrize(
    ("change", "references", "grade"),
    [
        ("3", [(3, "2-3"), (4, "3"), (5, "4")], "4"),
        ("3", [(3, "2-3"), (4, "3-4")], "3-4"),
        ("3-4", [(3, "2-3"), (4, "4")], "4"),
        ("4", [(2, "1"), (3, "3"), (4, "4"), (5, "4-5")], "4"),
        ("2", [(3, "3"), (4, "4")], ""),
        ("5", [(3, "3"), (4, "4")], ""),
        ("", [(3, "3")], ""),
        ("3", [], ""),
    ],
)
def test_the_reference_that_changed_alike_gives_the_grade(
    change: str, references: list[tuple[int, str]], grade: str
) -> None:
    # ISO 105-B02: the number of the reference with the nearest contrast; about halfway
    # between two, a half grade.
    assert blue_wool_grade(change, [BlueWool(*one) for one in references]) == grade


def test_where_none_changed_alike_only_a_bound_is_said() -> None:
    references = [BlueWool(3, "3"), BlueWool(4, "4")]
    assert blue_wool_bound("2", references) == "below 3"
    assert blue_wool_bound("5", references) == "above 4"
    assert blue_wool_bound("3-4", references) == ""


def test_the_full_record_s_tests() -> None:
    record, _ = read(FULL)
    (light,) = record.results[0].lights
    assert light.covered and light.exposed
    stood = stood_light(light, colour_of(light.covered), colour_of(light.exposed))
    assert (stood.change, stood.blue_wool, stood.days) == ("3", "3-4", 92)
    assert stood.measured is not None and stood.measured.text in ("3", "3-4", "2-3")
    again = stood_light(light._replace(grade=""), None, None)
    assert (again.blue_wool, again.worked_out) == ("3-4", True)
    (wash,) = record.results[0].washes
    assert stood_wash(wash, None, None).change == "4-5"


def test_colours_in_every_form() -> None:
    record, _ = read(FULL)
    by_form = {one.form: one for one in record.results[0].colours}
    assert colour_of(by_form["Lab"]) == Colour(78.2, 2.1, 64, Light("D65", 10))
    assert colour_of(by_form["hex"]) == colour_of(by_form["sRGB"])
    assert colour_of(by_form["XYZ"]).light == Light("C", 2)
    with pytest.raises(NoColour, match=r"meter\.csv cannot be read"):
        colour_of(by_form["meter"])


def test_the_most_exact_form_is_taken_and_trouble_is_said() -> None:
    record, _ = read(FULL)
    colour, form, trouble = of_result(record.results[0])
    assert (form, colour) == ("Lab", Colour(78.2, 2.1, 64, Light("D65", 10)))
    assert len(trouble) == 1 and "meter.csv" in trouble[0]


METER = """\
Name;L*;a*;b*;Illuminant;Observer
yarn 1;78,0;2,0;64,0;D65;10
yarn 1;78,4;2,2;64,2;D65;10
yarn 2;60;1;30;C;2
broken;x;1;2;D65;10
"""


def test_a_meter_s_file(tmp_path_factory: pytest.TempPathFactory) -> None:
    folder = tmp_path_factory.mktemp("meter")
    (folder / "meter.csv").write_text(METER, encoding="utf-8")
    rows = meter_rows(METER)
    assert [(row.name, row.colour.light.illuminant) for row in rows] == [
        ("yarn 1", "D65"),
        ("yarn 1", "D65"),
        ("yarn 2", "C"),
    ]
    record, _ = read(FULL)
    colour, form, trouble = of_result(record.results[0], folder)
    assert form == "meter" and trouble == ()
    assert colour is not None and colour[:3] == pytest.approx((78.2, 2.1, 64.1))


def test_a_reading_that_a_meter_s_mean_leaves_out_is_said(tmp_path: Path) -> None:
    record, _ = read(FULL)
    (tmp_path / "meter.csv").write_text(METER + "yarn 1;err;2;64;D65;10\n", encoding="utf-8")
    colour, _, trouble = of_result(record.results[0], tmp_path)
    assert colour is not None and colour[:3] == pytest.approx((78.2, 2.1, 64.1))
    assert trouble == (
        "meter.csv: 1 reading is no L*, a* and b*, and left out of the mean of row “yarn 1”.",
    )


@pytest.mark.parametrize("text", ["", "a,b\n1,2\n", "L,a,b\nx,y,z\n", "\x00\n", '"'])
def test_what_is_no_meter_s_file_is_said(text: str) -> None:
    with pytest.raises(ValueError):
        meter_rows(text)
