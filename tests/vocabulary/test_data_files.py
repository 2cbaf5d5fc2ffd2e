"""The shape of the data files: closed sets, unique words, ranges, and a source for each row."""

from __future__ import annotations

import re
from itertools import chain

import pytest
from data_tables import DATA, Row, by_name, rows, words

MATERIALS = ("dyestuffs", "mordants", "assistants")
TABLES = (
    "fibres",
    *MATERIALS,
    "metals",
    "hazards",
    "ghs",
    "meetings",
    "plants_that_harm",
    "tannin_equivalents",
    "sources",
)
LOOKED_UP = ("fibres", *MATERIALS, "metals", "plants_that_harm")

YES = {"yes", ""}
CLOSED = {
    ("fibres", "class"): {
        "protein",
        "cellulose",
        "regenerated cellulose",
        "regenerated protein",
        "synthetic",
        "blend",
    },
    ("fibres", "felts"): {"yes", "little", "no"},
    ("fibres", "alkali"): {"sensitive", "tolerant"},
    ("fibres", "tannin"): {"wanted", "not wanted"},
    ("dyestuffs", "dye_class"): {"mordant", "substantive", "vat", "acid extract"},
    ("dyestuffs", "mordant"): {"needed", "helps", "not needed"},
    ("dyestuffs", "lightfast"): {"good", "fair", "poor", "fugitive"},
    ("dyestuffs", "iron_sensitive"): {"yes", "no"},
    ("mordants", "rinse_first"): {"yes", "no"},
    ("assistants", "strength"): {"mild", "moderate", "strong", ""},
    ("metals", "heatable"): {"yes", "gently", "no"},
    ("metals", "water_bath"): {"yes", ""},
    ("metals", "acts_as"): {"iron", "copper", "tin", "alum", ""},
    ("meetings", "level"): {"error", "warning", "note"},
    ("ghs", "signal"): {"Danger", "Warning", ""},
    ("ghs", "pictogram"): {f"GHS0{n}" for n in range(1, 10)} | {""},
    ("sources", "kind"): {
        "encyclopaedia",
        "flora",
        "government",
        "growers",
        "handbook",
        "package",
        "paper",
        "poisons authority",
        "practice",
        "regulation",
        "standard",
        "trade list",
        "university",
        "unverified",
        "authority",
        "data sheet",
        "leaflet",
    },
    ("plants_that_harm", "level"): {"deadly", "poisonous", "harmful"},
    ("plants_that_harm", "refuse"): {"yes", "no"},
    ("lightfastness", "word"): {
        "good",
        "fair",
        "poor",
        "fugitive",
        "more than others",
        "less than others",
        "below most",
    },
    ("colours", "approximate"): {"yes", "no"},
    ("colours", "family"): {
        "red",
        "pink",
        "orange",
        "yellow",
        "green",
        "blue",
        "purple",
        "brown",
        "grey",
        "black",
    },
    **{
        ("hazards", column): YES
        for column in ("gloves", "eyes", "air", "cover", "extra_wash", "no_children")
    },
    **{("ghs", column): YES for column in ("gloves", "eyes", "air", "children")},
}
ROLES = {
    "acid",
    "alkali",
    "reducer",
    "oxidiser",
    "detergent",
    "salt",
    "leveller",
    "buffer",
    "binder",
    "thickener",
    "solvent",
    "food for ferment",
    "other",
}
MORDANT_ROLES = {"mordant", "modifier", "tannin"}
CLOSED_LISTS = {
    ("assistants", "role"): ROLES,
    ("assistants", "also"): ROLES,
    ("mordants", "role"): MORDANT_ROLES,
    ("mordants", "also"): ROLES,
    ("dyestuffs", "also"): ROLES | MORDANT_ROLES,
    ("metals", "attacked_by"): {"alkali", "acid"},
    ("plants_that_harm", "harm"): {"poison", "sting", "burn in sunlight", "irritate", "allergy"},
    ("plants_that_harm", "first_aid"): {"swallowed", "skin", "eyes", "breathed in", "sun"},
}
NUMBERS = {
    "fibres": ("heat_limit_c", "wetting_min"),
    "dyestuffs": (
        "fresh_low",
        "fresh_high",
        "dried_low",
        "dried_high",
        "heat_limit_c",
        "heat_limit_cellulose_c",
        "minutes_above",
    ),
    "mordants": (
        "protein_low",
        "protein_high",
        "protein_excess",
        "cellulose_low",
        "cellulose_high",
        "cellulose_excess",
        "heat_limit_c",
    ),
    "tannin_equivalents": ("parts",),
}
RANGES = {
    "dyestuffs": (("fresh_low", "fresh_high"), ("dried_low", "dried_high")),
    "mordants": (
        ("protein_low", "protein_high", "protein_excess"),
        ("cellulose_low", "cellulose_high", "cellulose_excess"),
    ),
}


def names_of(row: Row) -> list[str]:
    return [row["name"], *words(row["aliases"])]


def source_keys(cell: str) -> list[str]:
    """The keys of the sources file that a source cell cites.

    A citation is a key, perhaps a place in it after a comma, perhaps in brackets
    what it vouches for.  An unknown citation comes back as it stands.
    """
    known = sorted(by_name("sources"), key=len, reverse=True)
    found = []
    for citation in words(cell):
        bare = re.sub(r" \([^()]*\)$", "", citation)
        key = next((key for key in known if bare == key or bare.startswith(key + ", ")), citation)
        found.append(key)
    return found


@pytest.mark.parametrize("table", TABLES)
def test_a_file_is_utf8_with_unix_line_ends_and_no_stray_spaces(table: str) -> None:
    raw = (DATA / f"{table}.csv").read_bytes()
    assert b"\r" not in raw
    assert raw.decode("utf-8").endswith("\n")
    for row in rows(table):
        for column, cell in row.items():
            assert cell == " ".join(cell.split()), (row, column)


@pytest.mark.parametrize("table", LOOKED_UP)
def test_a_word_that_is_looked_up_is_lower_case_without_underscores(table: str) -> None:
    for name in chain.from_iterable(names_of(row) for row in rows(table)):
        assert name == name.lower()
        assert re.fullmatch(r"[^\W\d_](?:[^\W_]|['() .-])*", name), name


@pytest.mark.parametrize("table", LOOKED_UP)
def test_a_word_means_one_thing_in_its_file(table: str) -> None:
    names = list(chain.from_iterable(names_of(row) for row in rows(table)))
    assert sorted(names) == sorted(set(names))


def test_a_word_means_one_thing_over_all_materials() -> None:
    meaning: dict[str, str] = {}
    for table in MATERIALS:
        for row in rows(table):
            for name in names_of(row):
                assert meaning.setdefault(name, row["name"]) == row["name"], name
    for row in rows("dyestuffs"):
        for name in names_of(row):
            for part in words(row["part"]):
                phrase = f"{name} {part}"
                assert meaning.setdefault(phrase, row["name"]) == row["name"], phrase


@pytest.mark.parametrize(("table", "column"), sorted(CLOSED))
def test_a_cell_of_a_closed_set_holds_one_of_its_words(table: str, column: str) -> None:
    assert {row[column] for row in rows(table)} <= CLOSED[table, column]


@pytest.mark.parametrize(("table", "column"), sorted(CLOSED_LISTS))
def test_a_list_of_a_closed_set_holds_only_its_words(table: str, column: str) -> None:
    for row in rows(table):
        assert set(words(row[column])) <= CLOSED_LISTS[table, column], row


def test_each_assistant_has_one_main_role_and_an_acid_or_alkali_its_strength() -> None:
    for row in rows("assistants"):
        assert row["role"] in ROLES, row["name"]
        if row["role"] in {"acid", "alkali"}:
            assert row["strength"], row["name"]


@pytest.mark.parametrize("table", sorted(NUMBERS))
def test_a_number_is_a_plain_number_above_nought(table: str) -> None:
    for row in rows(table):
        for column in NUMBERS[table]:
            assert re.fullmatch(r"(\d+(\.\d+)?)?", row[column]), (row, column)
            assert row[column] == "" or float(row[column]) > 0, (row, column)


@pytest.mark.parametrize("table", sorted(RANGES))
def test_a_range_runs_upwards_and_has_both_ends(table: str) -> None:
    for row in rows(table):
        for low, high, *excess in RANGES[table]:
            assert bool(row[low]) == bool(row[high]), row["name"]
            figures = [float(row[column]) for column in (low, high, *excess) if row[column]]
            assert figures == sorted(figures), row["name"]
            if row[low]:
                assert float(row[low]) < float(row[high]), row["name"]


def test_a_heat_limit_lies_between_a_warm_bath_and_the_boil() -> None:
    for table in ("fibres", "dyestuffs", "mordants"):
        for row in rows(table):
            if row["heat_limit_c"]:
                assert 30 <= float(row["heat_limit_c"]) <= 100, row["name"]
    for row in rows("fibres"):
        assert row["heat_limit_c"], row["name"]
        assert row["wetting_min"], row["name"]


def test_a_blend_is_as_tender_as_its_tenderest_part() -> None:
    fibres = by_name("fibres")
    for row in fibres.values():
        assert bool(row["made_of"]) == (row["class"] == "blend"), row["name"]
        parts = [fibres[name] for name in words(row["made_of"])]
        if parts:
            limit = min(float(part["heat_limit_c"]) for part in parts)
            assert float(row["heat_limit_c"]) == limit, row["name"]
            wetting = max(float(part["wetting_min"]) for part in parts)
            assert float(row["wetting_min"]) >= wetting, row["name"]
            if any(part["alkali"] == "sensitive" for part in parts):
                assert row["alkali"] == "sensitive", row["name"]


def test_protein_fibre_is_alkali_sensitive_and_cellulose_wants_tannin() -> None:
    for row in rows("fibres"):
        if row["class"] in {"protein", "regenerated protein"}:
            assert (row["alkali"], row["tannin"]) == ("sensitive", "not wanted"), row["name"]
        if row["class"] in {"cellulose", "regenerated cellulose"}:
            assert row["tannin"] == "wanted", row["name"]
            assert row["felts"] == "no", row["name"]


@pytest.mark.parametrize("table", MATERIALS)
def test_each_hazard_is_a_word_or_statement_that_says_what_it_calls_for(table: str) -> None:
    known = set(by_name("hazards")) | set(by_name("ghs"))
    for row in rows(table):
        listed = words(row["hazards"])
        assert set(listed) <= known, row["name"]
        assert len(listed) == len(set(listed)), row["name"]


def test_a_restricted_mordant_has_a_safer_way() -> None:
    restricted = [row for row in rows("mordants") if row["restricted"]]
    assert {row["metal"] for row in restricted} == {"chromium", "lead", "arsenic", "mercury"}
    for row in restricted:
        assert row["safer"], row["name"]
        for code in re.findall(r"H\d{3}", row["restricted"]):
            assert code in words(row["hazards"]), row["name"]


def test_chromium_six_is_restricted_and_called_carcinogenic() -> None:
    for name in ("potassium dichromate", "sodium dichromate"):
        row = by_name("mordants")[name]
        assert "H350" in words(row["hazards"])
        assert row["restricted"].startswith("chromium(VI): carcinogenic (H350)")


def test_things_that_must_not_meet_are_things_the_vocabulary_knows() -> None:
    known = {
        "material": set(chain.from_iterable(by_name(table) for table in MATERIALS)),
        "role": ROLES | {"dyestuff"},
        "mordant metal": {row["metal"] for row in rows("mordants")} - {""},
        "pot": set(by_name("metals")),
        "fibre class": CLOSED["fibres", "class"],
        "water": {"water", "hot water", "a little water", "water poured in"},
        "heater": {"heater"},
    }
    for row in rows("meetings"):
        for side in ("first", "second"):
            assert row[side] in known[row[f"{side}_kind"]], row
        assert row["what"], row
        assert row["remedy"], row


@pytest.mark.parametrize(
    ("first", "second", "gas"),
    [
        ("bleach", "acid", "chlorine"),
        ("bleach", "ammonia", "chloramine"),
        ("sodium dithionite", "acid", "sulphur dioxide"),
        ("lye", "aluminium", "hydrogen"),
        ("acid", "zinc dust", "hydrogen"),
    ],
)
def test_the_worst_meetings_are_errors_or_warnings(first: str, second: str, gas: str) -> None:
    met = [row for row in rows("meetings") if {row["first"], row["second"]} == {first, second}]
    assert any(row["level"] == "error" and gas in row["what"] for row in met)


def test_no_two_meetings_are_of_the_same_two_things() -> None:
    pairs = [
        frozenset((row[f"{side}_kind"], row[side]) for side in ("first", "second"))
        for row in rows("meetings")
    ]
    assert len(pairs) == len(set(pairs))


def test_a_harmful_plant_that_dyes_has_a_hazard_in_the_dyestuffs() -> None:
    dyestuffs = by_name("dyestuffs")
    for row in rows("plants_that_harm"):
        if row["dyestuff"]:
            dyestuff = dyestuffs[row["dyestuff"]]
            assert dyestuff["hazards"], row["name"]
            assert dyestuff["botanical"].split()[0] == row["botanical"].split()[0], row["name"]
        assert row["care"], row["name"]


def test_a_harmful_plant_says_so_where_it_is_also_a_dyestuff() -> None:
    dyestuffs = set(by_name("dyestuffs"))
    for row in rows("plants_that_harm"):
        if row["name"] in dyestuffs:
            assert row["dyestuff"] == row["name"]


def test_tansy_is_a_toxic_plant() -> None:
    assert "toxic plant" in words(by_name("dyestuffs")["tansy"]["hazards"])
    toxic = by_name("hazards")["toxic plant"]
    calls = ("gloves", "air", "cover", "extra_wash", "no_children")
    assert [toxic[column] for column in calls] == ["yes"] * 5


@pytest.mark.parametrize("table", [table for table in TABLES if table != "sources"])
def test_each_row_names_a_source_that_stands_in_the_sources_file(table: str) -> None:
    known = set(by_name("sources"))
    for row in rows(table):
        assert row["source"], row
        assert set(source_keys(row["source"])) <= known, row["source"]


def test_the_other_data_files_cite_known_sources_too() -> None:
    known = set(by_name("sources"))
    others = {path.stem for path in DATA.glob("*.csv")} - set(TABLES)
    for table in others:
        for row in rows(table):
            if "source" in row:
                assert set(source_keys(row["source"])) <= known, (table, row["source"])


def test_no_source_is_listed_that_nothing_cites() -> None:
    cited: set[str] = set()
    for path in DATA.glob("*.csv"):
        if path.stem != "sources":
            for row in rows(path.stem):
                cited.update(source_keys(row.get("source", "")))
    assert set(by_name("sources")) <= cited


@pytest.mark.parametrize(
    ("table", "least"),
    [("fibres", 15), ("dyestuffs", 80), ("plants_that_harm", 30), ("mordants", 20)],
)
def test_there_are_enough_rows_to_be_of_use(table: str, least: int) -> None:
    assert len(rows(table)) >= least


# Where a spoonful is known from food tables: grams, and teaspoons (US, 4.929 mL) of it.
# USDA National Nutrient Database for Standard Reference, Release 28, file ABBREV.
LEVEL_SPOONS = {
    "cream of tartar": (3.0, 1),
    "bicarbonate of soda": (4.6, 1),
    "salt": (6.0, 1),
    "fructose": (4.2, 1),
    "vinegar": (14.9, 3),
}


@pytest.mark.parametrize("name", LEVEL_SPOONS)
def test_a_level_spoon_weighs_what_the_food_tables_have(name: str) -> None:
    grams, spoons = LEVEL_SPOONS[name]
    row = by_name("spoon_weights")[name]
    assert float(row["low"]) <= grams / (spoons * 4.929) <= float(row["high"])


def test_few_rows_rest_on_memory_and_none_that_hurts_or_is_weighed() -> None:
    """Fewer than forty over all data files; no hazard, heat limit or amount of a mordant."""
    files = sorted(DATA.parents[1].glob("**/*.csv"))
    resting = {
        file.stem: [line for line in file.read_text("utf-8").splitlines() if "from memory" in line]
        for file in files
    }
    resting["sources"] = []  # the row that says what the words mean
    counts = {name: len(lines) for name, lines in resting.items() if lines}
    assert sum(counts.values()) < 40, counts
    never = {"mordants", "assistants", "fibres", "ghs", "hazards", "plants_that_harm", "meetings"}
    never |= {"disposal", "first_aid", "mixture_limits", "tannin_equivalents", "precautionary"}
    assert not never & set(counts)
    for line in resting["dyestuffs"]:
        assert "from memory, unverified (amounts)" in line
    assert "ferrous sulphate" not in {row["material"] for row in rows("spoon_weights")}
