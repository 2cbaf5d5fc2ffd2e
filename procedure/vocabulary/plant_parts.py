"""The parts of plants that are worked with: leaves, bark, skins."""

from functools import cache

from procedure.vocabulary.data_files import rows


@cache
def parts_of_plants() -> frozenset[str]:
    """Every word for a part that any plant may have, as ``plant_parts.csv`` has it."""
    return frozenset(row["part"] for row in rows("plant_parts"))
