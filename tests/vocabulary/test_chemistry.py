"""CAS numbers and formulas against the chemicals and molmass packages."""

from __future__ import annotations

from collections import Counter

import pytest
from chemicals import check_CAS, simple_formula_parser
from chemicals.identifiers import search_chemical
from data_tables import Row, by_name, rows, words
from molmass import Formula

CHECKED = "CAS and formula: chemicals package"
RELATED = "formula of a related salt: chemicals package"

SUBSTANCES = [row for table in ("mordants", "assistants") for row in rows(table)]
WITH_FORMULA = [row for row in SUBSTANCES if row["formula"]]
VOUCHED = [row for row in SUBSTANCES if CHECKED in words(row["source"])]

WATER = Counter({"H": 2, "O": 1})

# Rows whose own entry in the package is missing or wrong: each has a test below that builds
# its formula from an entry that is right.
BUILT_BELOW = {
    "potassium alum",
    "stannous chloride",
    "orpiment",
    "cream of tartar",
    "aluminium acetate",
    "potassium titanium oxalate",
}


def named(row: Row) -> str:
    return row["name"]


def trade_formula(text: str) -> Counter[str]:
    """How many atoms of each element a formula of the data files holds (molmass)."""
    total: Counter[str] = Counter()
    for part in text.split("·"):
        bare = part.lstrip("0123456789")
        times = int(part.removesuffix(bare) or 1)
        for symbol, item in Formula(bare).composition().items():
            total[symbol] += times * item.count
    return total


def formula_weight(text: str) -> float:
    """Weight of one formula unit of the data files, in g/mol (molmass)."""
    total = 0.0
    for part in text.split("·"):
        bare = part.lstrip("0123456789")
        total += int(part.removesuffix(bare) or 1) * float(Formula(bare).mass)
    return total


def package_formula(cas: str) -> Counter[str]:
    """The same from the chemicals package's entry for that CAS number."""
    found = search_chemical(cas)
    assert cas == found.CASs, f"the package takes {cas} for {found.CASs}"
    return Counter(
        {symbol: int(count) for symbol, count in simple_formula_parser(found.formula).items()}
    )


def test_enough_substances_are_vouched_for() -> None:
    assert len(VOUCHED) >= 50


@pytest.mark.parametrize("row", VOUCHED, ids=named)
def test_cas_and_formula_are_those_of_the_chemicals_package(row: Row) -> None:
    assert trade_formula(row["formula"]) == package_formula(row["cas"])


@pytest.mark.parametrize("row", [row for row in SUBSTANCES if row["cas"]], ids=named)
def test_a_cas_number_has_a_true_check_digit(row: Row) -> None:
    assert check_CAS(row["cas"])


@pytest.mark.parametrize("row", WITH_FORMULA, ids=named)
def test_a_formula_is_that_of_the_package_or_built_from_a_related_one(row: Row) -> None:
    assert row["cas"]
    if row not in VOUCHED:
        assert RELATED in row["source"]
        assert row["name"] in BUILT_BELOW


def test_a_cas_number_stands_for_one_substance() -> None:
    numbers = [row["cas"] for row in SUBSTANCES if row["cas"]]
    assert len(numbers) == len(set(numbers))


@pytest.mark.parametrize(
    ("name", "dry", "parts_of_water"),
    [("potassium alum", "10043-67-1", 12), ("stannous chloride", "7772-99-8", 2)],
)
def test_a_trade_salt_is_the_dry_salt_and_its_water(
    name: str, dry: str, parts_of_water: int
) -> None:
    """The package's own entries for these two hydrates lack atoms."""
    salt = by_name("mordants")[name]
    assert RELATED in salt["source"]
    atoms = package_formula(dry)
    for _ in range(parts_of_water):
        atoms += WATER
    assert trade_formula(salt["formula"]) == atoms


def test_orpiment_is_half_the_package_s_arsenic_sulphide() -> None:
    """The package writes orpiment as the doubled As4S6."""
    orpiment = by_name("mordants")["orpiment"]
    assert RELATED in orpiment["source"]
    half = trade_formula(orpiment["formula"])
    assert half + half == package_formula(orpiment["cas"])


def test_cream_of_tartar_is_tartaric_acid_with_one_hydrogen_made_potassium() -> None:
    acid = trade_formula(by_name("assistants")["tartaric acid"]["formula"])
    acid.subtract({"H": 1})
    acid.update({"K": 1})
    assert trade_formula(by_name("assistants")["cream of tartar"]["formula"]) == acid


def test_basic_aluminium_acetate_has_one_acetate_of_three_made_hydroxide() -> None:
    salt = package_formula("139-12-8")
    salt.subtract({"C": 2, "H": 3, "O": 2})
    salt.update({"O": 1, "H": 1})
    basic = by_name("mordants")["aluminium acetate"]
    assert RELATED in basic["source"]
    assert trade_formula(basic["formula"]) == +salt


def test_titanium_oxalate_is_two_of_oxalic_acid_with_titanyl_and_potassium() -> None:
    acid = trade_formula(by_name("assistants")["oxalic acid"]["formula"])
    acid.subtract({"H": 4, "O": 2})  # without the water of its crystals
    made = acid + acid
    made.subtract({"H": 4})
    made.update({"K": 2, "Ti": 1, "O": 1})
    made += WATER + WATER
    salt = by_name("mordants")["potassium titanium oxalate"]
    assert RELATED in salt["source"]
    assert trade_formula(salt["formula"]) == made


@pytest.mark.parametrize(
    ("one", "other", "metal"),
    [
        ("potassium alum", "ammonium alum", "Al"),
        ("potassium alum", "aluminium sulphate", "Al"),
        ("aluminium acetate", "aluminium triacetate", "Al"),
        ("ferrous sulphate", "ferrous acetate", "Fe"),
        ("copper sulphate", "copper acetate", "Cu"),
        ("potassium dichromate", "sodium dichromate", "Cr"),
    ],
)
def test_amounts_worked_out_by_the_metal_come_out_again(one: str, other: str, metal: str) -> None:
    """To half a per cent or a tenth of the figure, whichever is more: they are rounded."""
    mordants = by_name("mordants")
    as_sold = {row["name"]: row["formula"] for row in rows("salts_as_sold")}
    formulas = [as_sold.get(name, mordants[name]["formula"]) for name in (one, other)]
    per_metal = [formula_weight(text) / trade_formula(text)[metal] for text in formulas]
    kind = "cellulose" if mordants[one]["protein_low"] == "" else "protein"
    assert f"computed, from {one} " in mordants[other]["source"]
    for column in (f"{kind}_low", f"{kind}_high"):
        made = float(mordants[one][column]) * per_metal[1] / per_metal[0]
        assert float(mordants[other][column]) == pytest.approx(made, rel=0.1, abs=0.5)


@pytest.mark.parametrize(
    ("metal", "symbol"),
    [
        ("aluminium", "Al"),
        ("iron", "Fe"),
        ("copper", "Cu"),
        ("tin", "Sn"),
        ("chromium", "Cr"),
        ("titanium", "Ti"),
        ("lead", "Pb"),
        ("arsenic", "As"),
        ("antimony", "Sb"),
        ("zinc", "Zn"),
    ],
)
def test_a_mordant_holds_the_metal_that_it_is_listed_under(metal: str, symbol: str) -> None:
    listed = [row for row in rows("mordants") if row["metal"] == metal and row["formula"]]
    assert listed
    for row in listed:
        assert trade_formula(row["formula"])[symbol] > 0, row["name"]
