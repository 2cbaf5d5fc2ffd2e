"""Plants that a gatherer may take for one another, where one of them harms."""

from __future__ import annotations

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
                twin = next((known[n] for n in known if _place_in(n, like) == 0), None)
                if (
                    twin is not None
                    and twin.name not in names
                    and twin.words("harm") != ("allergy",)
                ):
                    found[twin.name] = twin
            elif any(_place_in(name, like) >= 0 for name in names):
                found[plant.name] = plant
    return list(found.values())


def _place_in(name: str, text: str) -> int:
    """Where a name is in a text as words of its own; -1 where it is not.

    A pattern for each of a hundred names would cost more than the whole check.
    """
    at = text.find(name)
    while at >= 0:
        end = at + len(name)
        before, after = text[at - 1 : at], text[end : end + 1]
        if not (before.isalnum() or before == "-") and not after.isalnum():
            return at
        at = text.find(name, at + 1)
    return -1
