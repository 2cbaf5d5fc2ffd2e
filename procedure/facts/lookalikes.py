"""Plants that a gatherer may take for one another, where one of them harms."""

from __future__ import annotations

import re

from procedure.vocabulary import Entry, vocabulary


def lookalikes(entry: Entry) -> list[Entry]:
    """The plants that harm and that a gatherer may take for this one."""
    known = vocabulary().tables["plants_that_harm"]
    plants = {plant.name: plant for plant in known.values()}
    names = {entry.name, *entry.words("aliases")}
    found = {}
    for plant in plants.values():
        mine = plant.name == entry.name or plant.facts["dyestuff"] == entry.name
        for like in plant.words("looks_like"):
            if mine:
                twin = next((known[n] for n in known if re.match(rf"{re.escape(n)}\b", like)), None)
                if (
                    twin is not None
                    and twin.name not in names
                    and twin.words("harm") != ("allergy",)
                ):
                    found[twin.name] = twin
            elif any(re.search(rf"(?<![\w-]){re.escape(name)}\b", like) for name in names):
                found[plant.name] = plant
    return list(found.values())
