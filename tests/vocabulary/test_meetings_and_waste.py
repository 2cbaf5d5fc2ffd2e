"""Things that must not meet, and waste, against the regulations and charts that name them."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from data_tables import Row, by_name, rows, words

from procedure.vocabulary import Entry, vocabulary
from procedure.vocabulary.waste import kinds, refusals, ways

MEETINGS = rows("meetings")
PAIRS = {frozenset((row["first"], row["second"])): row for row in MEETINGS}
LEVELS = ("error", "warning", "note")


def entry(name: str) -> Entry:
    found = vocabulary().material(name)
    assert found is not None, name
    return found


def groups(name: str) -> set[tuple[str, str]]:
    """What the data of the meetings may call a material."""
    facts = entry(name).facts
    roles = {*words(facts.get("role", "")), *words(facts.get("also", ""))}
    found = {("material", name)} | {("role", role) for role in roles}
    if facts.get("metal"):
        found.add(("mordant metal", facts["metal"]))
    return found


def worst(one: str, other: str) -> str:
    """The gravest level at which two materials are said not to meet; empty where they may."""
    ones, others = groups(one), groups(other)
    levels = [
        row["level"]
        for row in MEETINGS
        for first, second in (
            ((row["first_kind"], row["first"]), (row["second_kind"], row["second"])),
            ((row["second_kind"], row["second"]), (row["first_kind"], row["first"])),
        )
        if first in ones and second in others
    ]
    return min(levels, key=LEVELS.index, default="")


# The Chlorine Institute's incompatibility chart of sodium hypochlorite: acids and sour salts,
# ammonium salts, organic chemicals, hydrogen peroxide, reducing agents.
CHART = [
    ("sulphuric acid", "error"),
    ("hydrochloric acid", "error"),
    ("vinegar", "error"),
    ("aluminium sulphate", "error"),
    ("potassium alum", "error"),
    ("ferric chloride", "error"),
    ("ferrous sulphate", "error"),
    ("ferric sulphate", "error"),
    ("stannous chloride", "error"),
    ("copper sulphate", "error"),
    ("ammonia", "error"),
    ("ammonium sulphate", "error"),
    ("sal ammoniac", "error"),
    ("methanol", "error"),
    ("alcohol", "error"),
    ("hydrogen peroxide", "error"),
    ("sodium percarbonate", "error"),
    ("sodium dithionite", "error"),
    ("sodium thiosulphate", "warning"),  # the antichlor, weak and after a rinse
    ("sodium metabisulphite", "warning"),
]


@pytest.mark.parametrize(("other", "level"), CHART)
def test_bleach_meets_nothing_that_the_chart_forbids(other: str, level: str) -> None:
    assert worst("bleach", other) == level


# CAMEO Chemicals, reactivity profile of calcium hypochlorite: explosive nitrogen trichloride with
# urea and ammonia, fire with alcohols, oils and other organic matter, chlorine with acids.
@pytest.mark.parametrize(
    "other",
    [
        "urea",
        "ammonia",
        "ammonium sulphate",
        "sal ammoniac",
        "stale urine",
        "ammonium alum",
        "glycerine",
        "olive oil",
        "turkey red oil",
        "sugar",
        "starch",
        "alcohol",
        "isopropyl alcohol",
        "vinegar",
        "potassium alum",
        "hydrogen peroxide",
        "sodium percarbonate",
        "sodium dithionite",
    ],
)
def test_bleaching_powder_meets_nothing_that_its_profile_forbids(other: str) -> None:
    assert worst("bleaching powder", other) == "error"


# 40 CFR 264, Appendix V. Groups 6-A (strong oxidisers) and 6-B (organic acids, strong mineral
# acids, metals of group 2-A, what burns).
@pytest.mark.parametrize("oxidiser", ["bleaching powder", "hydrogen peroxide", "nitric acid"])
@pytest.mark.parametrize(
    "other", ["acetic acid", "formic acid", "sulphuric acid", "zinc dust", "alcohol", "methanol"]
)
def test_a_strong_oxidiser_meets_no_acid_metal_or_spirit(oxidiser: str, other: str) -> None:
    if (oxidiser, other) != ("nitric acid", "sulphuric acid"):
        assert worst(oxidiser, other) == "error"


@pytest.mark.parametrize(
    ("one", "other", "level"),
    [
        # Groups 1-A and 1-B: lye and acid.
        ("lye", "sulphuric acid", "error"),
        ("caustic potash", "hydrochloric acid", "error"),
        ("lye", "acetic acid", "error"),
        # Groups 2-A and 2-B: zinc with acid and with lye.
        ("zinc dust", "vinegar", "error"),
        ("zinc dust", "caustic potash", "error"),
        ("zinc dust", "slaked lime", "error"),  # the old vat of them gives off hydrogen
        # UN Model Regulations, UN 0220: urea nitrate.
        ("nitric acid", "urea", "error"),
        # CAMEO Chemicals, reactivity profile of ammonium sulfide, which the two make.
        ("sodium sulphide", "sal ammoniac", "error"),
        # Encyclopaedia Britannica 1911, Hydrochloric Acid: made of the two.
        ("sulphuric acid", "salt", "error"),
        # Groups 5-A and 5-B: sulphides with acid.
        ("sodium sulphide", "vinegar", "error"),
        ("orpiment", "vinegar", "error"),
        # Groups 6-A and 6-B: permanganate and dichromates with what burns.
        ("potassium permanganate", "glycerine", "error"),
        ("potassium permanganate", "sugar", "error"),
        ("potassium dichromate", "alcohol", "error"),
        ("sodium dichromate", "alcohol", "error"),
        ("sodium dichromate", "hydrochloric acid", "error"),
        # CAMEO Chemicals, reactive groups 2 and 3: carbon monoxide.
        ("sulphuric acid", "formic acid", "error"),
        ("sulphuric acid", "oxalic acid", "error"),
        # CAMEO Chemicals, reactive groups 22 and 38: zinc with ammonium salts.
        ("zinc dust", "sal ammoniac", "error"),
        # Safety data sheets of zinc dust, section 10: arsine and stibine.
        ("white arsenic", "zinc dust", "error"),
        ("tartar emetic", "zinc dust", "error"),
        # ICSC 1031: peracetic acid.
        ("hydrogen peroxide", "vinegar", "error"),
        # Regulation (EC) No 1272/2008: EUH031.
        ("sodium dithionite", "citric acid", "error"),
        ("sodium metabisulphite", "vinegar", "error"),
        # What is done in every dye-house.
        ("potassium alum", "cream of tartar", ""),
        ("stannous chloride", "oxalic acid", ""),
        ("fructose", "slaked lime", ""),
        ("soda ash", "sodium dithionite", ""),
        ("ferrous sulphate", "slaked lime", ""),
    ],
)
def test_two_materials_meet_or_must_not(one: str, other: str, level: str) -> None:
    assert worst(one, other) == level


@pytest.mark.parametrize("alkali", ["lye", "caustic potash"])
@pytest.mark.parametrize("other", ["aluminium", "galvanised steel", "hot water", "zinc dust"])
def test_caustic_potash_is_as_bad_as_lye(alkali: str, other: str) -> None:
    assert PAIRS[frozenset((alkali, other))]["level"] == "error"


@pytest.mark.parametrize("row", [row for row in MEETINGS if row["level"] == "error"])
def test_what_can_hurt_someone_has_a_source_beside_common_practice(row: Row) -> None:
    assert row["source"] not in ("common practice", "from memory, unverified")


def test_what_gives_off_gas_or_fire_is_an_error_but_for_what_is_slow_or_weak() -> None:
    """The mild ones say in their words why they are no worse."""
    told = re.compile(r"\bgas|fume|vapour|hydrogen|peracid|\bfire|spit|\bburns\b")
    mild = re.compile(r"slowly|a little hydrogen|where either is strong|froths")
    weaker = [
        row
        for row in MEETINGS
        if told.search(row["what"]) and row["level"] != "error" and not mild.search(row["what"])
    ]
    assert [(row["first"], row["second"]) for row in weaker] == []


def test_what_kills_explodes_or_burns_is_an_error() -> None:
    told = re.compile(r"kill|explo|chlorine|burns? (skin|the lungs)|nitrogen trichloride")
    weaker = [row for row in MEETINGS if told.search(row["what"]) and row["level"] != "error"]
    assert [(row["first"], row["second"]) for row in weaker] == []


# ---------------------------------------------------------------- waste


def levels(name: str, way: str, grams: int, litres: int) -> set[str]:
    per_litre = Fraction(grams, litres)
    return {one.level for one in refusals(entry(name), way, Fraction(grams), per_litre)}


def test_a_refusal_is_of_a_known_way_at_a_known_level() -> None:
    seen = set()
    for row in rows("disposal"):
        assert row["way"] in ways(), row
        assert row["level"] in LEVELS, row
        assert row["why"] and row["source"], row
        for column in ("least_g_per_l", "least_g"):
            assert re.fullmatch(r"(\d+(\.\d+)?)?", row[column]), row
        assert (row["what"], row["way"]) not in seen, row
        seen.add((row["what"], row["way"]))


def test_a_word_of_disposal_names_one_way() -> None:
    named = [word for row in rows("disposal_ways") for word in words(row["words"])]
    assert len(named) == len(set(named))


@pytest.mark.parametrize(
    ("name", "way", "grams", "litres", "level"),
    [
        # A small lemon or citric bath is no fault anywhere that soaks away.
        ("lemon juice", "soakaway", 50, 5, ""),
        ("citric acid", "soakaway", 10, 5, ""),
        ("citric acid", "ground", 10, 10, ""),
        ("citric acid", "soakaway", 200, 10, "warning"),
        # FAO Irrigation and Drainage Paper 29, table 21: 5 mg/L of iron, 0.2 mg/L of copper.
        ("ferrous sulphate", "ground", 4, 5, "error"),
        ("ferrous sulphate", "septic tank", 4, 5, "error"),
        ("ferrous sulphate", "drain", 4, 5, ""),
        ("copper sulphate", "drain", 4, 5, "error"),
        ("copper sulphate", "ground", 4, 5, "error"),
        ("stannous chloride", "drain", 4, 5, "error"),
        # 40 CFR 261.24: chromium, lead and arsenic are hazardous waste.
        ("potassium dichromate", "drain", 1, 5, "error"),
        ("lead acetate", "drain", 1, 5, "error"),
        ("white arsenic", "compost", 1, 5, "error"),
        # 40 CFR 403.5 (b)(1): nothing that flashes below 60 °C into a sewer.
        ("alcohol", "drain", 500, 2, "error"),
        ("alcohol", "drain", 5, 5, ""),
        ("isopropyl alcohol", "ground", 500, 2, "error"),
        ("methanol", "drain", 1, 5, "error"),
        # 40 CFR 403.5 (b)(2) and 261.22: nothing sour below pH 5, caustic from pH 12.5.
        ("sulphuric acid", "drain", 100, 5, "warning"),
        ("lye", "drain", 100, 5, "warning"),
        ("lye", "drain", 2, 5, ""),
        ("soda ash", "drain", 50, 5, ""),
        # FAO paper 29, table 16: half a milligram of boron in a litre; table 1: salt.
        ("borax", "ground", 10, 5, "warning"),
        ("salt", "ground", 200, 5, "warning"),
        ("salt", "ground", 5, 5, ""),
        ("bleach", "septic tank", 50, 5, "warning"),
        ("bleach", "open water", 50, 5, "error"),
        ("potassium permanganate", "ground", 50, 5, "warning"),
        ("tansy", "compost", 100, 5, "warning"),
        ("tansy", "septic tank", 100, 5, "warning"),
        ("potassium alum", "drain", 20, 5, ""),
        ("potassium alum", "open water", 20, 5, "warning"),
        ("weld", "compost", 100, 5, ""),
    ],
)
def test_waste_is_judged_by_what_is_in_it_and_how_much(
    name: str, way: str, grams: int, litres: int, level: str
) -> None:
    found = levels(name, way, grams, litres)
    assert min(found, key=LEVELS.index, default="") == level


def test_an_amount_that_is_not_known_counts_as_much() -> None:
    assert any(one.level == "error" for one in refusals(entry("alcohol"), "drain"))
    assert refusals(entry("citric acid"), "soakaway")


def test_the_gravest_refusal_comes_first() -> None:
    found = [one.level for one in refusals(entry("copper sulphate"), "drain")]
    assert found == sorted(found, key=LEVELS.index)


def test_every_kind_of_waste_can_be_some_material_or_is_named_as_a_pair() -> None:
    every = {
        kind
        for table in ("dyestuffs", "mordants", "assistants")
        for name in by_name(table)
        for kind in kinds(entry(name))
    }
    # What two baths make in one pipe, and what the tables of plants may come to say.
    others = {
        "oxidiser with acid",
        "oxidiser with ammonia",
        "acid with sulphide or sulphite",
        "invasive plant",
        "deadly plant",
    }
    assert {row["what"] for row in rows("disposal")} <= every | others
