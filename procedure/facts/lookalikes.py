"""Plants that a gatherer may take for one another, where one of them harms."""

from __future__ import annotations

from functools import lru_cache

from procedure.model import Material
from procedure.vocabulary import Entry, vocabulary
from procedure.vocabulary.data_files import rows


def lookalikes(entry: Entry) -> list[Entry]:
    """The plants that harm and that a gatherer may take for this one, the deadly ones first."""
    return list(_alike(entry.name, frozenset((entry.name, *entry.words("aliases")))))


def lookalikes_of(material: Material) -> list[Entry]:
    """The same for a material; one that the vocabulary lacks goes by the words about it."""
    if material.entry is not None:
        return lookalikes(material.entry)
    said = " ".join((material.name.text.replace("-", " "), *material.free)).lower()
    harmless = (row["name"] for row in rows("harmless_names"))
    names = [name for name in harmless if name in said and _place_in(name, said) >= 0]
    return list(_alike("", frozenset(names))) if names else []


@lru_cache(maxsize=1024)
def _alike(own: str, names: frozenset[str]) -> tuple[Entry, ...]:
    known = vocabulary().tables["plants_that_harm"]
    plants = {plant.name: plant for plant in known.values()}
    found = {}
    # Whoever gathers hemlock is warned of water hemlock; of yarrow, those who gather yarrow.
    least = max(
        (_GRAVE.index(one.facts["level"]) for one in plants.values() if _is(one, own)), default=0
    )
    for plant in plants.values():
        mine = _is(plant, own)
        for like in plant.words("looks_like"):
            held = [name for name in names if name in like]
            if mine:
                twin = _twin(like)
                if (
                    twin is not None
                    and twin.name not in names
                    and twin.words("harm") != ("allergy",)
                ):
                    found[twin.name] = twin
            elif any(_place_in(name, like) >= 0 for name in held):
                found[plant.name] = plant
    graver = (one for one in found.values() if _GRAVE.index(one.facts["level"]) >= least)
    return tuple(sorted(graver, key=lambda plant: plant.facts["level"] != "deadly"))


_GRAVE = ("harmful", "poisonous", "deadly")


def _is(plant: Entry, own: str) -> bool:
    """Whether a plant that harms is the one of that name in the vocabulary."""
    return own in (plant.name, plant.facts["dyestuff"] or None)


def _twin(like: str) -> Entry | None:
    """The plant that harms with whose name a likeness begins."""
    known = vocabulary().tables["plants_that_harm"]
    begun = (name for name in known if like.startswith(name))
    return next((known[name] for name in begun if _place_in(name, like) == 0), None)


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
