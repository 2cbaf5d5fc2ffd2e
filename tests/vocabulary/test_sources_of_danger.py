"""What a danger rests on: authorities, papers, floras and data sheets, no general page or shop."""

from __future__ import annotations

import pytest

from procedure.vocabulary.data_files import rows

KINDS = {row["key"]: row["kind"] for row in rows("sources")}
LONGEST_FIRST = sorted(KINDS, key=len, reverse=True)
# What may say that a plant harms people.
OF_PLANTS = frozenset(
    "poisons authority, government, university, authority, regulation, paper, flora".split(", ")
)
# What may say that two things must not meet, or that a bath may not go some way.
OF_CHEMICALS = OF_PLANTS | frozenset("handbook, standard, data sheet".split(", "))


def kinds_of(source: str) -> set[str]:
    """The kinds of the sources that a cell cites."""
    citations = [one.strip() for one in source.split(";")]
    keys = (next((key for key in LONGEST_FIRST if one.startswith(key)), "") for one in citations)
    return {KINDS.get(key, "") for key in keys}


@pytest.mark.parametrize("row", rows("plants_that_harm"), ids=lambda row: str(row["name"]))
def test_a_plant_harms_by_an_authority_a_paper_or_a_flora(row: dict[str, str]) -> None:

    assert kinds_of(row["source"]) & OF_PLANTS, row["source"]


@pytest.mark.parametrize("table", ["meetings", "disposal"])
def test_an_error_rests_on_no_practice_alone(table: str) -> None:
    errors = [row for row in rows(table) if row["level"] == "error"]
    assert errors
    for row in errors:
        # Spent plants are kept from stock as a society of gardeners says.
        gardeners = row["source"].startswith("RHS")
        assert kinds_of(row["source"]) & OF_CHEMICALS or gardeners, row
