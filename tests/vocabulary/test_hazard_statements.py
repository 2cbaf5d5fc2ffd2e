"""GHS statements against ghsystem (wording) and ghs-hazard-pictogram (pictograms)."""

from __future__ import annotations

import re

import ghsystem
import pytest
from data_tables import REFERENCE, Row, by_name, rows, words
from ghs_hazard_pictogram import Hazard

STATEMENTS = {row["code"]: row["statement"] for row in rows("ghsystem_statements", REFERENCE)}

# The package leaves out a space in one statement; Regulation (EC) No 1272/2008, Annex III has it.
MISPRINTS = {"H334": ("orbreathing", "or breathing")}

# Under each code: the hazard classes and categories that may carry it, in the words of the
# pictogram package; each must stand under the pictogram that the data file gives.
CLASSES = {
    "H225": ("Flammable liquids", "2"),
    "H226": ("Flammable liquids", "3"),
    "H250": ("Pyrophoric solids", "1"),
    "H251": ("Self-heating substances and mixtures", "1"),
    "H260": ("Substances and mixtures, which in contact with water", ""),
    "H271": ("Oxidizing solids", "1"),
    "H272": ("Oxidizing solids", "2"),
    "H290": ("Corrosive to metals", "1"),
    "H300": ("Acute toxicity (oral, dermal, inhalation)", "1"),
    "H301": ("Acute toxicity (oral, dermal, inhalation)", "3"),
    "H302": ("Acute toxicity (oral, dermal, inhalation)", "4"),
    "H304": ("Aspiration hazard", "1"),
    "H310": ("Acute toxicity (oral, dermal, inhalation)", "1"),
    "H311": ("Acute toxicity (oral, dermal, inhalation)", "3"),
    "H312": ("Acute toxicity (oral, dermal, inhalation)", "4"),
    "H314": ("Skin corrosion", "1A"),
    "H315": ("Skin irritation", "2"),
    "H317": ("Skin sensitization", "1"),
    "H318": ("Serious eye damage", "1"),
    "H319": ("Eye irritation", "2A"),
    "H330": ("Acute toxicity (oral, dermal, inhalation)", "1"),
    "H331": ("Acute toxicity (oral, dermal, inhalation)", "3"),
    "H332": ("Acute toxicity (oral, dermal, inhalation)", "4"),
    "H334": ("Respiratory sensitization", "1"),
    "H335": ("Specific target organ toxicity following single exposure", "3"),
    "H336": ("Specific target organ toxicity following single exposure", "3"),
    "H340": ("Germ cell mutagenicity", "1A"),
    "H341": ("Germ cell mutagenicity", "2"),
    "H350": ("Carcinogenicity", "1A"),
    "H351": ("Carcinogenicity", "2"),
    "H360": ("Reproductive toxicity", "1A"),
    "H361": ("Reproductive toxicity", "2"),
    "H370": ("Specific target organ toxicity following single exposure", "1"),
    "H371": ("Specific target organ toxicity following single exposure", "2"),
    "H372": ("Specific target organ toxicity following repeated exposure", "1"),
    "H373": ("Specific target organ toxicity following repeated exposure", "2"),
    "H400": ("Acute hazards to the aquatic environment", "1"),
    "H410": ("Chronic hazards to the aquatic environment", "1"),
    "H411": ("Chronic hazards to the aquatic environment", "2"),
}
# No class of these stands in the pictogram package.
UNLISTED = {"H412", "EUH031", "EUH071", "EUH206"}


def coded(row: Row) -> str:
    return row["code"]


@pytest.mark.parametrize("row", rows("ghs"), ids=coded)
def test_a_statement_has_the_wording_of_the_regulation(row: Row) -> None:
    misprint, right = MISPRINTS.get(row["code"], ("", ""))
    assert row["statement"] == STATEMENTS[row["code"]].replace(misprint, right)


def test_the_reference_wording_is_that_of_the_installed_ghsystem() -> None:
    package = ghsystem.installed()
    if package is None:
        pytest.skip("ghsystem (Debian: texlive-science) is not installed")
    assert ghsystem.statements(package.read_text(encoding="utf-8")) == STATEMENTS


def test_the_reader_of_ghsystem_reads_its_notation() -> None:
    text = (
        r"\ghsystem_add_statement:nnn {H} { 272 }"
        "\n  { May~ intensify~ fire;~ oxidiser. }\n"
        r"\ghsystem_add_statement:nnn {H} { 350 }"
        "\n"
        r"  { May~ cause~ cancer. \ghsystem_exposure: }"
        "\n% end\n"
    )
    assert ghsystem.statements(text) == {
        "H272": "May intensify fire; oxidiser",
        "H350": "May cause cancer",
    }


def test_every_code_is_compared_with_the_pictogram_package_or_listed_as_not_there() -> None:
    assert {row["code"] for row in rows("ghs")} == set(CLASSES) | UNLISTED


@pytest.mark.parametrize("code", sorted(CLASSES))
def test_a_statement_has_the_pictogram_of_its_hazard_class(code: str) -> None:
    hazard_class, category = CLASSES[code]
    lines = Hazard(by_name("ghs")[code]["pictogram"]).usage.splitlines()
    carrying = [line for line in lines if hazard_class in line]
    assert any(re.search(rf"\b{category}\b", line) for line in carrying), lines


def test_a_statement_of_danger_calls_for_something_and_has_plain_words() -> None:
    for row in rows("ghs"):
        assert row["plain"], row["code"]
        if row["signal"] == "Danger":
            calls = [row[column] for column in ("gloves", "eyes", "air", "children")]
            assert "yes" in calls, row["code"]


@pytest.mark.parametrize(
    ("code", "calls"),
    [
        ("H314", {"gloves", "eyes"}),
        ("H318", {"eyes"}),
        ("H319", {"eyes"}),
        ("H315", {"gloves"}),
        ("H317", {"gloves"}),
        ("H330", {"air"}),
        ("H331", {"air"}),
        ("H335", {"air"}),
        ("H350", {"gloves", "air", "children"}),
        ("EUH031", {"air"}),
    ],
)
def test_a_statement_calls_for_the_guard_that_its_route_needs(code: str, calls: set[str]) -> None:
    row = by_name("ghs")[code]
    assert {column for column in calls if row[column] == "yes"} == calls


def test_a_plant_hazard_word_is_explained() -> None:
    for row in rows("hazards"):
        assert row["plain"], row["word"]


def test_no_hazard_word_is_listed_that_nothing_uses() -> None:
    used = {
        word
        for table in ("dyestuffs", "mordants", "assistants", "plants_that_harm")
        for row in rows(table)
        for word in words(row["hazards"])
    }
    # The words for how dangerous a plant is come from its level, beside its own hazards.
    levels = {row["level"] for row in rows("plants_that_harm")}
    used |= {row["word"] for row in rows("hazards") if row["plant_level"] in levels}
    assert set(by_name("hazards")) <= used
