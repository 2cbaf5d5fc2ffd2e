"""Hazards of the data files against the harmonised entries of the regulation, cited as facts.

``reference/annex_vi_entries.csv`` holds single entries of Regulation (EC) No 1272/2008, Annex VI,
table 3, as amended up to the 23rd adaptation: index number, name and statements, taken down one
by one. It is no copy of the table.
"""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from data_tables import REFERENCE, Row, by_name, rows, words

from procedure.vocabulary.mixtures import flash_point, hazards_at

ENTRIES = rows("annex_vi_entries", REFERENCE)
SUBSTANCES = by_name("mordants") | by_name("assistants")
# What a graver statement of the same harm says already.
SAID_BY = {"H318": {"H314"}, "H400": {"H410"}}


def numbered(row: Row) -> str:
    return row["index_number"]


def test_an_index_number_has_a_true_check_digit() -> None:
    """Annex VI, part 1: the last figure is the sum of the others, each by its place, modulo 11."""
    for row in ENTRIES:
        figures = row["index_number"].replace("-", "")
        digits, check = figures[:-1], figures[-1]
        total = sum(place * int(digit) for place, digit in enumerate(digits, start=1)) % 11
        assert check == ("X" if total == 10 else str(total)), row


@pytest.mark.parametrize("entry", ENTRIES, ids=numbered)
def test_a_row_has_every_statement_of_its_harmonised_entry(entry: Row) -> None:
    assert entry["rows"]
    for name in words(entry["rows"]):
        substance = SUBSTANCES[name]
        assert entry["index_number"] in substance["source"], name
        listed = set(words(substance["hazards"]))
        for code in words(entry["statements"]):
            assert listed & ({code} | SAID_BY.get(code, set())), (name, code)


def test_an_entry_that_a_row_leans_on_is_taken_down_here() -> None:
    taken_down = {row["index_number"] for row in ENTRIES}
    # A part of another entry, or what is like it, told in words beside the citation.
    by_likeness = {"vinegar", "cleaning vinegar", "stannic chloride", "zinc dust"}
    for name, row in SUBSTANCES.items():
        cited = set(re.findall(r"\d{3}-\d{3}-\d{2}-[\dX]", row["source"]))
        assert name in by_likeness or cited <= taken_down, name


def test_no_hazard_of_a_substance_rests_on_memory() -> None:
    for table in ("mordants", "assistants", "ghs", "hazards", "meetings", "disposal"):
        for row in rows(table):
            assert "from memory" not in row["source"], row


# Strengths and what a mixture of them carries. Annex VI, the special limits of each entry; where
# there is none, Annex I. Ethanol by its flash points.
MIXTURES = [
    ("lye", "5", {"H314"}, {"H315"}),
    ("lye", "2", {"H314"}, set()),
    ("lye", "1", {"H315", "H319"}, {"H314"}),
    ("lye", "0.5", {"H315", "H319"}, {"H314"}),
    ("lye", "0.4", set(), {"H314", "H315", "H319"}),
    ("caustic potash", "1", {"H315", "H319"}, {"H314"}),
    ("formic acid", "10", {"H314"}, {"H226"}),
    ("formic acid", "5", {"H315", "H319"}, {"H314"}),
    ("sulphuric acid", "15", {"H314"}, set()),
    ("sulphuric acid", "10", {"H315", "H319"}, {"H314"}),
    ("hydrochloric acid", "20", {"H315", "H319", "H335"}, {"H314"}),
    ("hydrochloric acid", "9", set(), {"H314", "H335"}),
    ("acetic acid", "60", {"H314"}, {"H226"}),
    ("acetic acid", "12", {"H315", "H319"}, {"H314"}),
    ("acetic acid", "6", set(), {"H314", "H315", "H319"}),
    ("hydrogen peroxide", "60", {"H272", "H314"}, {"H271"}),
    ("hydrogen peroxide", "12", {"H318"}, {"H314", "H315"}),
    ("hydrogen peroxide", "6", {"H319"}, {"H318"}),
    ("hydrogen peroxide", "3", set(), {"H318", "H319", "H271", "H272"}),
    ("ammonia", "10", {"H314", "H335"}, set()),
    ("bleach", "5", {"EUH031", "H314", "H400"}, set()),
    ("bleach", "4", {"H400", "H318"}, {"EUH031", "H314"}),
    ("bleaching powder", "1", {"H315", "H319"}, {"H314"}),
    ("copper sulphate", "10", {"H400", "H411"}, {"H410"}),
    ("copper sulphate", "1", {"H412"}, {"H400", "H410"}),
    ("sodium dichromate", "0.2", {"H317", "H334"}, {"H335"}),
    ("ferrous sulphate", "20", set(), {"H315"}),
    ("methanol", "5", {"H371"}, {"H370"}),
    ("alcohol", "70", {"H225"}, set()),
    ("alcohol", "40", {"H226"}, {"H225"}),
    ("alcohol", "4", set(), {"H225", "H226"}),
]


@pytest.mark.parametrize(("name", "percent", "carried", "not_carried"), MIXTURES)
def test_a_mixture_carries_what_the_regulation_says(
    name: str, percent: str, carried: set[str], not_carried: set[str]
) -> None:
    listed = words(SUBSTANCES[name]["hazards"])
    found = set(hazards_at(name, listed, Fraction(percent)))
    assert carried <= found
    assert not not_carried & found


@pytest.mark.parametrize("percent", [None, Fraction(100)])
def test_a_pure_substance_carries_all_that_it_is_sold_with(percent: Fraction | None) -> None:
    listed = tuple(words(SUBSTANCES["lye"]["hazards"]))
    assert hazards_at("lye", listed, percent) == listed


def test_a_word_that_is_no_statement_holds_at_every_strength() -> None:
    listed = words(SUBSTANCES["copper sulphate"]["hazards"])
    assert "harmful metal" in hazards_at("copper sulphate", listed, Fraction(1, 100))


def test_a_stronger_mixture_is_never_said_to_be_safer() -> None:
    """Whether anything at all is said of it may only grow with the strength."""
    for name, row in SUBSTANCES.items():
        listed = [word for word in words(row["hazards"]) if word.startswith(("H", "EUH"))]
        said = [bool(hazards_at(name, listed, Fraction(tenths, 10))) for tenths in range(1, 1000)]
        assert said == sorted(said), name


def test_limits_name_materials_and_statements_that_are_known() -> None:
    codes = set(by_name("ghs"))
    for row in rows("mixture_limits"):
        assert row["material"] == "" or row["material"] in SUBSTANCES, row
        assert {row["of"], row["carries"]} <= codes, row
        assert 0 <= float(row["from_percent"]) < float(row["below_percent"] or 101), row
        if row["material"]:
            assert row["of"] in words(SUBSTANCES[row["material"]]["hazards"]), row


def test_spirit_in_water_flashes_cooler_the_stronger_it_is() -> None:
    heats = [float(row["flash_point_c"]) for row in rows("flash_points")]
    assert heats == sorted(heats, reverse=True)
    # Engineering ToolBox: 5 % by weight flashes at 62 °C, 10 % at 49 °C, 70 % at 21 °C.
    assert flash_point(Fraction(5)) == 62
    assert flash_point(Fraction(8)) == 49
    assert flash_point(Fraction(70)) == 21
    assert flash_point(Fraction(4)) is None


def test_the_limit_of_flammable_spirit_lies_between_the_flash_points_that_bound_it() -> None:
    # Annex I, table 2.6.1: H225 below 23 °C, H226 from there to 60 °C.
    limits = {
        row["carries"]: Fraction(row["from_percent"])
        for row in rows("mixture_limits")
        if row["material"] == "alcohol"
    }
    table = [(Fraction(r["percent"]), float(r["flash_point_c"])) for r in rows("flash_points")]
    for code, limit in (("H225", 23), ("H226", 60)):
        cooler = min(at for at, heat in table if heat < limit)
        warmer = max(at for at, heat in table if heat >= limit)
        assert warmer <= limits[code] <= cooler


def test_spirit_is_kept_below_sixty_degrees() -> None:
    thresholds = by_name("thresholds")
    assert thresholds["spirit heat"]["value"] == "60"
    assert Fraction(thresholds["spirit that burns"]["value"]) <= 1
