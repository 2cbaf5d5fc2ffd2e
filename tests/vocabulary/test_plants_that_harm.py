"""Every plant that harms is a material like any other, with what a careful teacher says of it."""

from __future__ import annotations

import pytest
from data_tables import Row, by_name, rows, words

from procedure.vocabulary import vocabulary

# Swedish Poisons Information Centre and FM 21-76, appendix C: even a little is dangerous.
DEADLY = (
    "foxglove",
    "monkshood",
    "oleander",
    "yew",
    "lily of the valley",
    "hemlock",
    "water hemlock",
    "hemlock water dropwort",
    "deadly nightshade",
    "laburnum",
    "castor bean",
    "autumn crocus",
    "deadly webcap",
    "false hellebore",
)
# What a teacher may hand to beginners: no more than dust at grinding or stained hands.
HARMLESS = {"dust when ground", "stains skin", "allergen"}


@pytest.mark.parametrize("name", DEADLY)
def test_a_plant_that_kills_in_small_amounts_is_deadly_and_refused(name: str) -> None:
    row = by_name("plants_that_harm")[name]
    assert (row["level"], row["refuse"]) == ("deadly", "yes")


def test_a_deadly_plant_is_always_refused_and_is_toxic_in_its_hazards() -> None:
    for row in rows("plants_that_harm"):
        if row["level"] == "deadly":
            assert row["refuse"] == "yes", row["name"]
            assert "toxic plant" in words(row["hazards"]), row["name"]
            assert "swallowed" in words(row["first_aid"]), row["name"]


def test_each_plant_says_its_latin_name_its_care_and_its_first_aid() -> None:
    for row in rows("plants_that_harm"):
        assert row["botanical"][0].isupper(), row["name"]
        assert row["care"], row["name"]
        assert row["first_aid"], row["name"]
        assert row["parts"] or row["dyestuff"], row["name"]


def test_each_hazard_of_a_plant_is_a_known_word() -> None:
    known = set(by_name("hazards")) | set(by_name("ghs"))
    for row in rows("plants_that_harm"):
        assert set(words(row["hazards"])) <= known, row["name"]


def test_what_to_use_instead_is_a_harmless_dyestuff() -> None:
    dyestuffs = by_name("dyestuffs")
    harmful = by_name("plants_that_harm")
    for row in harmful.values():
        instead = dyestuffs[row["instead"]]
        assert instead["name"] not in harmful, row["name"]
        assert instead["name"] not in {one["dyestuff"] for one in harmful.values()}, row["name"]
        assert set(words(instead["hazards"])) <= HARMLESS, (row["name"], instead["name"])


def test_a_plant_and_its_dyestuff_have_one_latin_genus() -> None:
    for row in rows("plants_that_harm"):
        if row["dyestuff"]:
            dyestuff = by_name("dyestuffs")[row["dyestuff"]]
            assert dyestuff["botanical"].split()[0] == row["botanical"].split()[0], row["name"]


def names_and_parts(row: Row) -> list[str]:
    names = [row["name"], *words(row["aliases"])]
    return [*names, *(f"{name} {part}" for name in names for part in words(row["parts"]))]


@pytest.mark.parametrize("row", rows("plants_that_harm"), ids=lambda row: row["name"])
def test_a_plant_that_harms_is_a_material_under_each_name_and_part(row: Row) -> None:
    known = vocabulary()
    for name in names_and_parts(row):
        if row["dyestuff"]:
            continue  # its names and parts are those of the dyestuffs file
        entry = known.material(name)
        assert entry is not None, name
        danger = known.danger(entry)
        assert danger is not None, name
        assert danger.facts["level"] == row["level"], name


def test_no_name_of_a_plant_that_harms_is_that_of_another_material() -> None:
    taken: dict[str, str] = {}
    for table in ("dyestuffs", "mordants", "assistants"):
        for row in rows(table):
            parts = words(row.get("part", ""))
            for name in (row["name"], *words(row["aliases"])):
                taken |= {name: row["name"], **{f"{name} {part}": row["name"] for part in parts}}
    for row in rows("plants_that_harm"):
        own = {row["dyestuff"]} - {""}
        for name in names_and_parts(row):
            assert taken.get(name) in own | {None}, (name, row["name"])


def test_the_danger_of_a_dyestuff_with_a_row_of_its_own_is_found() -> None:
    known = vocabulary()
    for row in rows("plants_that_harm"):
        if row["dyestuff"]:
            entry = known.material(row["dyestuff"])
            assert entry is not None
            danger = known.danger(entry)
            assert danger is not None
            assert danger.name == row["name"]


def test_a_harmless_dyestuff_has_no_danger() -> None:
    known = vocabulary()
    for name in ("weld", "madder", "hemlock bark"):
        entry = known.material(name)
        assert entry is not None
        assert known.danger(entry) is None


def test_hemlock_tops_are_the_herb_and_never_the_tree() -> None:
    entry = vocabulary().material("hemlock tops")
    assert entry is not None
    assert entry.facts["botanical"] == "Conium maculatum"


def test_an_invasive_plant_says_where_and_what_lives() -> None:
    materials = set(by_name("dyestuffs")) | set(by_name("plants_that_harm"))
    for row in rows("invasive_plants"):
        assert row["material"] in materials | {""}, row["name"]
        assert row["where"], row["name"]
        assert row["living_parts"], row["name"]
        assert row["care"], row["name"]
        assert row["botanical"][0].isupper(), row["name"]


def test_no_hazard_of_a_plant_rests_on_memory() -> None:
    for table in ("plants_that_harm", "invasive_plants", "fibres", "water_matters"):
        assert not [row for row in rows(table) if "from memory" in row["source"]], table


def test_the_hazards_of_a_plant_bring_the_first_aid_of_each_of_its_routes() -> None:
    """What the sap does to eyes is told beside eyes: sunlight burns skin and eyes alike."""
    routes: dict[str, set[str]] = {}
    for row in rows("first_aid"):
        routes.setdefault(row["hazard"], set()).add(row["route"])
    known = {row["route"] for row in rows("first_aid_routes")}
    dyestuffs = by_name("dyestuffs")
    for row in rows("plants_that_harm"):
        named = set(words(row["first_aid"])) - {"sun"}
        assert named <= known, row["name"]
        hazards = words(
            dyestuffs[row["dyestuff"]]["hazards"] if row["dyestuff"] else row["hazards"]
        )
        if row["level"] != "harmful":
            hazards = [*hazards, "toxic plant"]
        told = set().union(*(routes.get(hazard, set()) for hazard in hazards))
        assert named <= told, row["name"]
